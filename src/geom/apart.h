/* SPDX-License-Identifier: GPL-3.0-or-later
 * apart.h - how far a region must go along a straight way until it lies clear of another.
 *
 *          __                 Seen across the way, the two are strips between the heights of their
 *   [M]-->|  |  |F|           corners; in each strip both are trapezoids, and what a trapezoid of
 *         |F |  '-'           the one must go to be within one of the other is an interval. The
 *         '--'                union of all intervals is where they have something in common; what
 *   t:  0 -[====]-[==]->      is left of the way is clear.
 *
 * Exact but for rounding; a touch is clear. No source: it follows from the definition.
 */
#pragma once
#include "geom/region.h"

/* From where to where along the way the two have something in common, mm. */
typedef struct {
  double from, to;
} HfBlocked;

/**
 * hf_apart_blocked:
 * @moving, @fixed: valid regions, both borrowed
 * @way: of length 1
 * Returns: (transfer full) (element-type HfBlocked) every stretch of distances, also below 0, at
 *   which @moving, moved along @way, overlaps @fixed: in order, none touches the next. Empty: it
 *   passes by. Cost O(corners * edges of both).
 */
GArray *hf_apart_blocked(const HfRegion *moving, const HfRegion *fixed, HfPoint way);

/** hf_apart_from: the least distance >= @from that lies in none of @blocked. O(n). */
double hf_apart_from(const GArray *blocked, double from);
