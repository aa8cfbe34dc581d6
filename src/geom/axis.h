/* SPDX-License-Identifier: GPL-3.0-or-later
 * axis.h - the medial axis: centres of the largest circles that fit, with their radii.
 *
 *     ________________________
 *    | \                    / |      each axis point x: circle of radius r about x lies in the
 *    |   >----------------<   |      region and touches its boundary at two or more places
 *    |_/____________________\_|
 *
 * From the Voronoi diagram of the edges (Boost.Polygon, behind voronoi-private.h). Crossing input
 * gives garbage there, so only regions that came out of a boolean are taken.
 */
#pragma once
#include "base/cancel.h"
#include "geom/index.h"

/* One edge of the axis, inside the region, sampled so that its chord error stays below 2 um. */
typedef struct {
  HfPoint at;
  double radius;  /* mm */
  HfPoint foot_a; /* where the circle touches: on the boundary, to the left of the way along */
  HfPoint foot_b; /* and to the right */
} HfAxisPoint;

typedef struct {
  guint node_a, node_b;    /* ends: indices into HfAxis.nodes */
  HfEdgeId site_a, site_b; /* the boundary edges (or the edge that begins at the boundary vertex) */
  guint first, n;          /* its points in HfAxis.points, from node_a to node_b; n >= 2 */
} HfAxisEdge;

typedef struct {
  HfPoint at;
  double radius;
  guint degree;
} HfAxisNode;

typedef struct {
  GArray *nodes;  /* HfAxisNode */
  GArray *edges;  /* HfAxisEdge */
  GArray *points; /* HfAxisPoint */
} HfAxis;

/* Units of work (base/cancel.h) for each edge of an axis. */
#define HF_AXIS_WORK 25

/**
 * hf_axis_new:
 * @edges: (nullable) (element-type HfEdgeId) only these edges take part: the axis is then exact
 *   wherever no other edge is nearer. %NULL: all of them.
 * Returns: (transfer full), and empty when stopped by @cancel (nullable). Cost 7 to 10 us an edge.
 */
HfAxis *hf_axis_new(const HfRegion *region, const GArray *edges, const HfCancel *cancel);

/* What lies nearest to which edge, on either side of them all: two axes of one boundary, that of
 * the metal and that of what is not metal, are had for the price of one. */
typedef struct HfDiagram HfDiagram;

/** hf_diagram_new: (transfer full) of @edges as of hf_axis_new(), which is this and the next. */
HfDiagram *hf_diagram_new(const HfRegion *region, const GArray *edges, const HfCancel *cancel);
/** hf_diagram_free: frees it and all that it owns; %NULL: nothing. */
void hf_diagram_free(HfDiagram *diagram);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfDiagram, hf_diagram_free)

typedef struct {
  const HfRegion *region; /* that of the diagram, or (@turned) it as hf_region_turned() gives it */
  gboolean turned;
  double most; /* mm of radius that anyone asks for: what is wider all along is left out, and
                  farther out than one sample over it an edge is a single chord */
  const guint8
      *flags; /* (nullable) of each edge of it, ring after ring: with @flag it takes part */
  guint8 flag;
  const guint *first; /* with @flags: of each ring where its edges begin; one more */
} HfAxisOf;

/** hf_axis_of: (transfer full) the axis on one side of @diagram; empty of one that was stopped. */
HfAxis *hf_axis_of(const HfDiagram *diagram, const HfAxisOf *of);

/** hf_axis_free: frees it and all that it owns; %NULL: nothing. */
void hf_axis_free(HfAxis *axis);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfAxis, hf_axis_free)

/** hf_region_inscribed: radius and centre of the largest circle in outer ring @outer of @region
 *  (its openings taken off), to within @accuracy mm. */
double hf_region_inscribed(const HfRegion *region, guint outer, double accuracy,
                           HfPoint *ret_centre);
/** hf_region_inscribed_until: the same, but the first circle found of radius @enough mm or more
 *  will do. */
double hf_region_inscribed_until(const HfRegion *region, guint outer, double accuracy,
                                 double enough, HfPoint *ret_centre);
