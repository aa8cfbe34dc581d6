/* SPDX-License-Identifier: GPL-3.0-or-later
 * splice.h - cuts a region along chords of its largest circles; places where rings touch.
 *
 *     ___________a________          rings are led across every chord: at a to b, at b to a
 *    |           |        |
 *    |___________b________|         such chords never cross each other (docs/maths.md#cuts)
 */
#pragma once
#include "geom/index.h"

typedef struct {
  HfPoint a, b;            /* feet */
  HfEdgeId site_a, site_b; /* the edges that they lie on, or whose start they are */
} HfCut;

/** hf_region_splice: (transfer full) @region cut along all @cuts (element-type HfCut). Sources are
 *  kept; the cut's own edges have none. */
HfRegion *hf_region_splice(const HfRegion *region, const GArray *cuts);

/* What a cut between two feet on one ring divides off. */
typedef struct {
  double area; /* mm2, openings taken off */
  HfPoint centroid;
  double reach; /* mm from the middle of the cut to its farthest metal */
  HfBox box;
} HfBeyond;

/* What is known of a region's rings, for many cuts. */
typedef struct HfSides HfSides;
/** hf_sides_new: @region: (borrowed). Cost O(n). */
HfSides *hf_sides_new(const HfRegion *region);
/** hf_sides_free: frees it and all that it owns; %NULL: nothing. */
void hf_sides_free(HfSides *sides);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfSides, hf_sides_free)

/** hf_sides_beyond: the smaller side of @cut, whose sites lie on one ring. Cost: the vertices of
 *  that side, and a box for each opening of the part. */
HfBeyond hf_sides_beyond(const HfSides *sides, const HfCut *cut);

/* Two rings that share a vertex. */
typedef struct {
  HfEdgeId a, b; /* the edges that begin there; a.ring < b.ring */
  HfPoint at;
} HfTouch;

/** hf_region_touches: (transfer full) (element-type HfTouch) every shared vertex, pair by pair. */
GArray *hf_region_touches(const HfRegion *region);

/** hf_region_root: the outer ring of ring @r. */
static inline guint
hf_region_root(const HfRegion *region, guint r)
{
  gint parent = hf_region_ring(region, r)->parent;
  return parent < 0 ? r : (guint)parent;
}
