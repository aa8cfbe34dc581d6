/* SPDX-License-Identifier: GPL-3.0-or-later
 * offset.h - the true curves of a region's edge, moved outward or inward.
 *
 *   edge      ----.          Lines and arcs stay lines and arcs, an outer corner becomes an arc
 * about moved   -------`-.       it, cubics are fitted again. Where chords were all that was known
 * they )  |      stay chords.
 */
#pragma once
#include "geom/region.h"

/* Returns: (transfer none) (nullable) the curve that @from names, of its shape's outline. */
typedef const HfCurve *(*HfCurveOf)(const HfEdge *from, gconstpointer data);

/**
 * hf_region_offset_true:
 * @region: clean, every ring with sources (hf_trace_boolean())
 * @by: mm, > 0 adds metal, < 0 removes it
 * @tolerance: mm, > 0: how far the region's chords are off its curves, at most
 * Returns: (transfer full) the edge of hf_region_offset() on true curves, within about @tolerance
 * of it; outer contours counter-clockwise and openings clockwise, none crossing; no contour when
 *   nothing is left. Cost about that of two booleans. docs/maths.md#bolder
 */
HfOutline *hf_region_offset_true(const HfRegion *region, double by, double tolerance,
                                 HfCurveOf curve_of, gconstpointer data);
