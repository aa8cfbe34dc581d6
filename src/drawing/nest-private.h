/* SPDX-License-Identifier: GPL-3.0-or-later
 * nest-private.h - closed outlines within each other.
 *
 *    .--------------.      by the even-odd rule what lies in none, in two ... is metal, what lies
 * in | 0  .----.    |      one, in three ... an opening of that it lies in |    | 1  |    |
 *    `--------------'
 */
#pragma once
#include "geom/region.h"

typedef struct {
  guint depth; /* outlines that hold it */
  int parent;  /* the innermost of them; -1: none */
} HfNest;

#define HF_NEST_MM 0.002 /* chords by which it is seen */

/**
 * hf_nest:
 * @loops: one outline a contour, which do not cross; within #HF_REGION_LIMIT_MM
 * Returns: (transfer full) (element-type HfNest) one a contour. One too small for the grid lies in
 *   none and holds none. O(n log n) for outlines that lie about evenly.
 */
GArray *hf_nest(const HfOutline *loops);

/** hf_nest_crossings: (transfer full) (element-type HfPoint) at most @most places where contours of
 *  @loops cross each other or themselves; touching is no crossing. O(n log n + crossings). */
GArray *hf_nest_crossings(const HfOutline *loops, guint most);
