/* SPDX-License-Identifier: GPL-3.0-or-later
 * settle-private.h - outlines that overlap, by either fill rule, cut by others: as outlines that do
 * not cross, on the same true curves.
 */
#pragma once
#include "geom/region.h"

#define HF_SETTLE_MM 0.002 /* chords in which booleans are worked out */

/** hf_settle_region: (transfer full) what @outline covers, clean; @even_odd: by that rule. %NULL:
 * its lines cross so often (hf_settle_is_tangled()) that it would take for ever. */
HfRegion *hf_settle_region(const HfOutline *outline, gboolean even_odd);

/** hf_settle_is_tangled: do more than 300,000 pairs of edges of @raw cross? O(edges) for one that
 *  is not. */
gboolean hf_settle_is_tangled(const HfRegion *raw);

/** hf_settle_curves: (transfer full) the edge of @region, which booleans made of @sources (n of
 *  them), on their curves: outer contours counter-clockwise, openings clockwise, none crossing.
 *  Cost O(n log n). */
HfOutline *hf_settle_curves(HfRegion *region, const HfOutline *const *sources, guint n);
