/* SPDX-License-Identifier: GPL-3.0-or-later
 * clear.h - how far an outline lies from the edge of another one, on the true curves of both.
 *
 *      ,------- edge -------.      the least distance of any point of the one from the other's
 *     (    I N K   <- d ->   )     curves; > 0 inside the edge, < 0 where it sticks out
 *      `--------------------'
 *
 * A curve of the ink is looked at in steps; about each step that is nearer than both its neighbours
 * the least distance is found by golden section, and the foot of each distance on the edge's own
 * curve (line and arc in closed form, cubic by Newton). docs/maths.md#clear
 */
#pragma once
#include "geom/outline.h"

typedef struct HfClear HfClear;

/** hf_clear_new: (transfer full) for questions about @edge, which must outlive it. Inside is where
 * an odd number of its contours is. O(curves). */
HfClear *hf_clear_new(const HfOutline *edge);
/** hf_clear_free: frees it; %NULL: nothing. */
void hf_clear_free(HfClear *clear);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfClear, hf_clear_free)

/** hf_clear_point: mm from @p to the nearest point of the edge; < 0 outside. INFINITY: no edge. */
double hf_clear_point(const HfClear *clear, HfPoint p);

/**
 * hf_clear_least:
 * @at_most: mm; what lies farther is not worked out
 * Returns: the least of hf_clear_point() over all curves of @ink, true to 1e-6 mm, or @at_most when
 *   it is that or more, or @ink is empty. Cost O(steps near the edge * curves of the edge).
 */
double hf_clear_least(const HfClear *clear, const HfOutline *ink, double at_most);

/** hf_clear_apart: the same, on whichever side of the edge: how far the curves of both are apart,
 * >= 0. Neither needs to be closed. */
double hf_clear_apart(const HfClear *clear, const HfOutline *ink, double at_most);
