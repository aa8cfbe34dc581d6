/* SPDX-License-Identifier: GPL-3.0-or-later
 * hull.h - the convex hull of a ring, and what reaches into one.
 *
 *        .____
 *       /  .__|      Andrew's monotone chain: the points from left to right, then back, and of each
 *      |  /          way only those that turn left.
 *       \ \__.
 *        '---'       Source: A. M. Andrew, Another efficient algorithm for convex hulls in two
 *                    dimensions, 1979 (from memory). test_geom.c has it beside the definition.
 */
#pragma once
#include "geom/region.h"

/** hf_hull_of: (transfer full) one counter-clockwise ring without sources, no three vertices in
 *  line; empty when all of the @n points (nullable when 0) lie in one line. O(n log n). */
HfRegion *hf_hull_of(const HfGrid *at, guint n);

/**
 * hf_hull_is_reached:
 * @hull: one convex ring, counter-clockwise; @region: rings in either winding
 * @slack: mm, >= 0; nearer to the hull than that is in it
 * Is there an edge of @region in the hull, or one of its rings all about it? Never a wrong no.
 * Cost O(edges * edges of the hull).
 */
gboolean hf_hull_is_reached(const HfRing *hull, const HfRegion *region, double slack);
