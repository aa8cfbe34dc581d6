/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit-off.c - how far a line or arc runs from the ring that it was fitted to.
 *
 *        _____          What takes the place of a piece too short to stay may be led off its
 *      _/     \___      ring by more than the fit was: the neighbours are bent towards each other.
 *     o-------o---o     So it is measured again, from eight places of each to the nearest edge.
 *
 * Accuracy: between two places a line or arc is off by no more than at them and 1/64 of its own
 * height over its chord there.
 */
#include "geom/index.h"
#include "metal/fit-private.h"

enum { PLACES = 8 };

struct HfFitEdges {
  HfRegion one; /* the ring, borrowed */
  HfIndex *index;
  GArray *found;
};

HfFitEdges *
hf_fit_edges_new(const HfRing *ring)
{
  HfFitEdges *edges = g_new0(HfFitEdges, 1);
  edges->one.rings = g_array_new(FALSE, FALSE, sizeof(HfRing)); /* nothing to clear */
  g_array_append_vals(edges->one.rings, ring, 1);
  edges->index = hf_index_new(&edges->one, hf_index_cell(&edges->one));
  edges->found = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  return edges;
}

void
hf_fit_edges_free(HfFitEdges *edges)
{
  if (edges == NULL)
    return;
  hf_index_free(edges->index);
  g_array_unref(edges->one.rings);
  g_array_unref(edges->found);
  g_free(edges);
}

/* From @p to the nearest edge, where that is within @reach. */
static double
off_edges(HfFitEdges *edges, HfPoint p, double reach)
{
  double off = INFINITY;
  hf_index_query(edges->index, hf_box_grow((HfBox){p, p}, reach), edges->found);
  for (guint i = 0; i < edges->found->len; i++) {
    HfEdgeId id = g_array_index(edges->found, HfEdgeId, i);
    HfPoint a = hf_edge_start(&edges->one, id), b = hf_edge_end(&edges->one, id);
    off = fmin(off, hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)));
  }
  return off;
}

double
hf_fit_off(HfFitEdges *edges, const HfCurve *curve, double reach)
{
  double off = 0;
  for (int k = 0; k <= PLACES; k++)
    off = fmax(off, off_edges(edges, hf_curve_point(curve, k / (double)PLACES), reach));
  return off;
}

double
hf_fit_gap(const HfCurve *c, HfPoint p)
{
  if (c->kind == HF_CURVE_LINE)
    return hf_point_distance(p, hf_segment_nearest(c->p0, c->p1, p, NULL));
  double turn = hf_fit_angle(hf_point_sub(c->p0, c->c0), hf_point_sub(p, c->c0));
  turn = c->sweep < 0 ? -turn : turn;
  if ((turn < 0 ? turn + 2 * G_PI : turn) < fabs(c->sweep))
    return fabs(hf_point_distance(p, c->c0) - hf_curve_radius(c));
  return fmin(hf_point_distance(p, c->p0), hf_point_distance(p, c->p1));
}
