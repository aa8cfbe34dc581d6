/* SPDX-License-Identifier: GPL-3.0-or-later
 * names.c - edges looked up among the flattened input edges.
 *
 *      input edge   o-----------------------o      s0, s1: where the metal's edge begins and ends
 *      metal's edge       x---------->x            on it; a metal edge that runs against its
 *                         s0          s1           input edge has t0 > t1
 *
 * The clipper rounds crossings to the grid, so a metal edge lies within about one grid unit of the
 * edge it came from. Of several input edges at the same place the later entry wins.
 */
#include "geom/index.h"
#include "metal/names-private.h"

/* Tried in turn: the usual case, then crossings that were rounded more than once. Grid units. */
static const double REACH[] = {1.5, 4, 20};

typedef struct {
  HfRegion *input;
  HfIndex *index;
  GArray *near;
} Finder;

/* Largest distance of the ends of a-b from the input edge, mm; INFINITY when over @reach. */
static double
misfit(const HfRegion *input, HfEdgeId id, HfPoint a, HfPoint b, double reach)
{
  HfPoint p = hf_edge_start(input, id), q = hf_edge_end(input, id);
  double from_a = hf_point_distance(a, hf_segment_nearest(p, q, a, NULL));
  if (from_a > reach)
    return INFINITY;
  double from_b = hf_point_distance(b, hf_segment_nearest(p, q, b, NULL));
  return from_b > reach ? INFINITY : MAX(from_a, from_b);
}

static const HfEdge *
source_of(const HfRegion *input, HfEdgeId id)
{
  return &hf_region_ring(input, id.ring)->from[id.vertex];
}

/* The input edge that carries a-b, else %FALSE. A later shape wins at equal fit. */
static gboolean
find_edge(Finder *finder, HfPoint a, HfPoint b, double reach, HfEdgeId *ret_id)
{
  HfPoint middle = hf_point_mix(a, b, 0.5); /* the edge that carries a-b passes there */
  hf_index_query(finder->index, hf_box_grow((HfBox){middle, middle}, reach), finder->near);
  double best = INFINITY;
  guint32 best_shape = 0;
  const double even = 0.5 / HF_GRID_PER_MM;
  for (guint i = 0; i < finder->near->len; i++) {
    HfEdgeId id = g_array_index(finder->near, HfEdgeId, i);
    double fit = misfit(finder->input, id, a, b, reach);
    guint32 shape = source_of(finder->input, id)->shape;
    if (fit > MIN(reach, best + even))
      continue;
    if (fit < best - even || shape >= best_shape) {
      best = MIN(best, fit);
      best_shape = shape;
      *ret_id = id;
    }
  }
  return best <= reach;
}

/* Where p lies on the source curve of `like`: on that input edge or on another of the same curve.
 */
static double
parameter_at(Finder *finder, HfEdgeId like, HfPoint p)
{
  const HfEdge *want = source_of(finder->input, like);
  HfBox box = hf_box_grow((HfBox){p, p}, REACH[1] / HF_GRID_PER_MM);
  hf_index_query(finder->index, box, finder->near);
  g_array_append_val(finder->near, like);
  double best = INFINITY, parameter = want->t0;
  for (guint i = 0; i < finder->near->len; i++) {
    HfEdgeId id = g_array_index(finder->near, HfEdgeId, i);
    const HfEdge *edge = source_of(finder->input, id);
    if (edge->shape != want->shape || edge->curve != want->curve)
      continue;
    double s;
    HfPoint at =
        hf_segment_nearest(hf_edge_start(finder->input, id), hf_edge_end(finder->input, id), p, &s);
    double away = hf_point_distance(at, p);
    if (away < best) {
      best = away;
      parameter = edge->t0 + (edge->t1 - edge->t0) * s;
    }
  }
  return parameter;
}

static gboolean
on_edge(const Finder *finder, HfEdgeId id, HfPoint a, HfPoint b, double *ret_t0, double *ret_t1)
{
  HfPoint p = hf_edge_start(finder->input, id), q = hf_edge_end(finder->input, id);
  if (isinf(misfit(finder->input, id, a, b, REACH[1] / HF_GRID_PER_MM)))
    return FALSE;
  const HfEdge *edge = source_of(finder->input, id);
  double s0, s1;
  hf_segment_nearest(p, q, a, &s0);
  hf_segment_nearest(p, q, b, &s1);
  *ret_t0 = edge->t0 + (edge->t1 - edge->t0) * s0;
  *ret_t1 = edge->t0 + (edge->t1 - edge->t0) * s1;
  return TRUE;
}

static HfEdge
name_edge(Finder *finder, HfPoint a, HfPoint b)
{
  HfEdgeId id = {0, 0};
  gboolean found = find_edge(finder, a, b, REACH[0] / HF_GRID_PER_MM, &id);
  /* an edge that spans several input edges in line is found by its middle */
  HfPoint middle = hf_point_mix(a, b, 0.5);
  for (guint i = 0; i < G_N_ELEMENTS(REACH) && !found; i++)
    found = find_edge(finder, middle, middle, REACH[i] / HF_GRID_PER_MM, &id);
  if (!found)
    return (HfEdge){HF_NO_SHAPE, 0, 0, 0};
  HfEdge edge = *source_of(finder->input, id);
  if (!on_edge(finder, id, a, b, &edge.t0, &edge.t1)) {
    edge.t0 = parameter_at(finder, id, a);
    edge.t1 = parameter_at(finder, id, b);
  }
  return edge;
}

void
hf_metal_name_edges(HfRegion *region, const HfLayout *layout)
{
  g_autoptr(HfRegion) input = hf_region_new();
  for (guint i = 0; i < layout->shapes->len; i++)
    hf_region_flatten(input, hf_layout_shape(layout, i)->outline, i, HF_FLATTEN_MM);
  double usual = hf_region_perimeter(input) / (hf_region_n_edges(input) + 1);
  g_autoptr(HfIndex) index = hf_index_new(input, MAX(0.2, usual));
  g_autoptr(GArray) near = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  Finder finder = {input, index, near};
  for (guint r = 0; r < region->rings->len; r++) {
    HfRing *ring = hf_region_ring(region, r);
    g_free(ring->from);
    ring->from = g_new(HfEdge, ring->n);
    for (guint v = 0; v < ring->n; v++)
      ring->from[v] = name_edge(&finder, hf_grid_point(ring->at[v]),
                                hf_grid_point(ring->at[(v + 1) % ring->n]));
  }
}
