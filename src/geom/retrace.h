/* SPDX-License-Identifier: GPL-3.0-or-later
 * retrace.h - a region's edge as the true curves that its edges came from.
 */
#pragma once
#include "geom/offset.h"

/**
 * hf_region_curves:
 * @region: clean; rings with sources where they are known (hf_trace_whole())
 * @curve_of: %NULL for an edge whose curve is not known, which stays a line
 * Returns: (transfer full) one contour for each ring, in ring order: consecutive edges of one curve
 *   are that stretch of it; ends lie on the ring's vertices, an arc's on its circle. O(vertices).
 */
HfOutline *hf_region_curves(const HfRegion *region, HfCurveOf curve_of, gconstpointer data);

/** hf_region_curves_of: (transfer full) the same of @region, whose edges came, as far as that is to
 *  be known, from @outline (flattened within @tolerance mm); its sources become those. */
HfOutline *hf_region_curves_of(HfRegion *region, const HfOutline *outline, double tolerance);
