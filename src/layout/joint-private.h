/* SPDX-License-Identifier: GPL-3.0-or-later
 * joint-private.h - how wide the metal is where two letters run into each other.
 *
 *          A's edge \   / B's edge
 *                    \ /                  c1, c2: where the outlines cross. The joint width is the
 *      A    ~~~~~~~c1 x ~~~~~~   B        least distance between the outline of the union on the
 * one
 *      _____________c2x__________         side of the mouth c1-c2 and that on the other, looked at
 *                    / \                  up to `reach` away from the crossings
 *                   /   \
 *
 * Each stretch of the one outline inside the other is a mouth. A piece of the overlap is joined to
 * the rest of A through mouths on B's outline and to the rest of B through mouths on A's: it is as
 * wide as the narrower of the widest of either kind. Of several pieces the widest counts.
 * docs/maths.md#joint-width.
 */
#pragma once
#include "geom/outline.h"

/* A letter as polygons, metal on the left of each edge. */
typedef struct {
  GArray *points; /* HfPoint */
  GArray *starts; /* guint: first point of each contour */
  HfBox box;
} HfPolygons;

/** hf_polygons_new: @outline under @matrix, within @tolerance mm. */
HfPolygons *hf_polygons_new(const HfOutline *outline, HfMatrix matrix, double tolerance);
/** hf_polygons_free: frees it and all that it owns; %NULL: nothing. */
void hf_polygons_free(HfPolygons *polygons);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPolygons, hf_polygons_free)

/** hf_polygons_moved: sets @to to @from under the rigid motion @matrix, reusing its memory. */
void hf_polygons_moved(HfPolygons *to, const HfPolygons *from, HfMatrix matrix);

/** hf_joint_width: mm; 0: they do not cross. @ret_at (nullable): half way across its narrowest
 *  place. Cost: edges of the one near the other times edges of the other near the one. */
double hf_joint_width(const HfPolygons *a, const HfPolygons *b, double reach, HfPoint *ret_at);
