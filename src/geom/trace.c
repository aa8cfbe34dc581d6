/* SPDX-License-Identifier: GPL-3.0-or-later
 * trace.c - edges looked up among those of the input.
 *
 * The clipper rounds crossings to the grid, so an edge that came out of a boolean lies within about
 * one grid unit of the edge it came from; an edge of an offset lies at the distance, less the
 * height of its chords, from what it runs beside. Invariant: a source is only given where the input
 * edge passes this test at both ends or, for an edge that spans several in line, in the middle.
 */
#include "geom/trace.h"

/* Tried in turn: the usual case, then crossings that were rounded more than once. Grid units. */
static const double REACH[] = {1.5, 4, 20};

struct HfTrace {
  const HfRegion *input;
  HfIndex *index;
  GArray *near; /* HfEdgeId, used again and again */
};

HfTrace *
hf_trace_new(const HfRegion *input, double cell)
{
  HfTrace *trace = g_new0(HfTrace, 1);
  trace->input = input;
  trace->index = hf_index_new(input, cell);
  trace->near = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  return trace;
}

void
hf_trace_free(HfTrace *trace)
{
  if (trace == NULL)
    return;
  hf_index_free(trace->index);
  g_array_unref(trace->near);
  g_free(trace);
}

static const HfEdge *
source_of(const HfTrace *trace, HfEdgeId id)
{
  return &hf_region_ring(trace->input, id.ring)->from[id.vertex];
}

static void
query(HfTrace *trace, HfPoint p, double reach)
{
  hf_index_query(trace->index, hf_box_grow((HfBox){p, p}, reach), trace->near);
}

/* ---- booleans -------------------------------------------------------------------------------- */

/* Certainly farther than @reach from the segment a-b: most are. */
static gboolean
is_beyond(HfPoint p, HfPoint a, HfPoint b, double reach)
{
  reach *= 1 + 1e-9;
  return p.x < hf_lesser(a.x, b.x) - reach || p.x > hf_larger(a.x, b.x) + reach ||
         p.y < hf_lesser(a.y, b.y) - reach || p.y > hf_larger(a.y, b.y) + reach;
}

/* Largest distance of the ends of a-b from the input edge, mm; INFINITY when over @reach. */
static double
misfit(const HfTrace *trace, HfEdgeId id, HfPoint a, HfPoint b, double reach)
{
  HfPoint p = hf_edge_start(trace->input, id), q = hf_edge_end(trace->input, id);
  if (is_beyond(a, p, q, reach) || is_beyond(b, p, q, reach))
    return INFINITY;
  double from_a = hf_point_distance(a, hf_segment_nearest(p, q, a, NULL));
  if (from_a > reach)
    return INFINITY;
  double from_b = hf_point_distance(b, hf_segment_nearest(p, q, b, NULL));
  return from_b > reach ? INFINITY : MAX(from_a, from_b);
}

/* The input edge that carries a-b, else %FALSE. A later shape wins at equal fit. */
static gboolean
find_carrier(HfTrace *trace, HfPoint a, HfPoint b, double reach, HfEdgeId *ret_id)
{
  query(trace, hf_point_mix(a, b, 0.5), reach); /* the edge that carries a-b passes there */
  double best = INFINITY;
  guint32 best_shape = 0;
  const double even = 0.5 / HF_GRID_PER_MM;
  for (guint i = 0; i < trace->near->len; i++) {
    HfEdgeId id = g_array_index(trace->near, HfEdgeId, i);
    double fit = misfit(trace, id, a, b, reach);
    guint32 shape = source_of(trace, id)->shape;
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

static double
foot_on(const HfTrace *trace, HfEdgeId id, HfPoint p, double *ret_away)
{
  const HfEdge *edge = source_of(trace, id);
  double s;
  HfPoint at =
      hf_segment_nearest(hf_edge_start(trace->input, id), hf_edge_end(trace->input, id), p, &s);
  *ret_away = hf_point_distance(at, p);
  return edge->t0 + (edge->t1 - edge->t0) * s;
}

/* Where p lies on the source curve of `like`: on another input edge of the same curve when that is
 * nearer than `best`, which is at @parameter. */
static double
parameter_at(HfTrace *trace, HfEdgeId like, HfPoint p, double reach, double best, double parameter)
{
  const HfEdge *want = source_of(trace, like);
  query(trace, p, reach);
  for (guint i = 0; i < trace->near->len; i++) {
    HfEdgeId id = g_array_index(trace->near, HfEdgeId, i);
    const HfEdge *edge = source_of(trace, id);
    if (edge->shape != want->shape || edge->curve != want->curve)
      continue;
    double away, at = foot_on(trace, id, p, &away);
    if (away < best) {
      best = away;
      parameter = at;
    }
  }
  double away, at = foot_on(trace, like, p, &away);
  return away < best ? at : parameter;
}

/* The stretch of one input edge from the foot of a to that of b. */
static HfEdge
stretch_of(const HfTrace *trace, HfEdgeId id, HfPoint a, HfPoint b)
{
  HfPoint p = hf_edge_start(trace->input, id), q = hf_edge_end(trace->input, id);
  HfEdge edge = *source_of(trace, id);
  double s0, s1, t0 = edge.t0, whole = edge.t1 - edge.t0;
  hf_segment_nearest(p, q, a, &s0);
  hf_segment_nearest(p, q, b, &s1);
  edge.t0 = t0 + whole * s0;
  edge.t1 = t0 + whole * s1;
  return edge;
}

static HfEdge
trace_carried(HfTrace *trace, HfPoint a, HfPoint b)
{
  HfEdgeId id = {0, 0};
  gboolean found = find_carrier(trace, a, b, REACH[0] / HF_GRID_PER_MM, &id);
  /* an edge that spans several input edges in line is found by its middle */
  HfPoint middle = hf_point_mix(a, b, 0.5);
  for (guint i = 0; i < G_N_ELEMENTS(REACH) && !found; i++)
    found = find_carrier(trace, middle, middle, REACH[i] / HF_GRID_PER_MM, &id);
  if (!found)
    return (HfEdge){HF_NO_SHAPE, 0, 0, 0};
  if (!isinf(misfit(trace, id, a, b, REACH[1] / HF_GRID_PER_MM)))
    return stretch_of(trace, id, a, b);
  HfEdge edge = *source_of(trace, id);
  double t0 = edge.t0;
  edge.t0 = parameter_at(trace, id, a, REACH[1] / HF_GRID_PER_MM, INFINITY, t0);
  edge.t1 = parameter_at(trace, id, b, REACH[1] / HF_GRID_PER_MM, INFINITY, t0);
  return edge;
}

static HfEdge
trace_closest(HfTrace *trace, HfPoint a, HfPoint b)
{
  double least = REACH[G_N_ELEMENTS(REACH) - 1] / HF_GRID_PER_MM;
  HfEdgeId best = {0, 0};
  gboolean found = FALSE;
  query(trace, hf_point_mix(a, b, 0.5), least);
  for (guint i = 0; i < trace->near->len; i++) {
    HfEdgeId id = g_array_index(trace->near, HfEdgeId, i);
    double fit = misfit(trace, id, a, b, least);
    if (fit >= least)
      continue;
    least = fit;
    best = id;
    found = TRUE;
  }
  return found ? stretch_of(trace, best, a, b) : (HfEdge){HF_NO_SHAPE, 0, 0, 0};
}

/* ---- offsets --------------------------------------------------------------------------------- */

gboolean
hf_trace_nearest(HfTrace *trace, HfPoint p, double reach, HfEdgeId *ret_id, double *ret_share,
                 double *ret_away)
{
  double least = INFINITY;
  query(trace, p, reach);
  for (guint i = 0; i < trace->near->len; i++) {
    HfEdgeId id = g_array_index(trace->near, HfEdgeId, i);
    double u;
    HfPoint q =
        hf_segment_nearest(hf_edge_start(trace->input, id), hf_edge_end(trace->input, id), p, &u);
    double away = hf_point_distance(p, q);
    if (away < least) {
      least = away;
      *ret_id = id;
      *ret_share = u;
    }
  }
  *ret_away = least;
  return least <= reach;
}

/* Chords of the input and of the offset are both a little off. */
static HfEdge
trace_beside(HfTrace *trace, HfPoint a, HfPoint b, double distance, double slack)
{
  HfEdgeId id = {0, 0};
  double share, away, reach = fabs(distance) + slack;
  if (!hf_trace_nearest(trace, hf_point_mix(a, b, 0.5), reach, &id, &share, &away) ||
      away < fabs(distance) - slack)
    return (HfEdge){HF_NO_SHAPE, 0, 0, 0};
  HfEdge edge = stretch_of(trace, id, a, b), all = edge;
  double from_a, from_b;
  foot_on(trace, id, a, &from_a);
  foot_on(trace, id, b, &from_b);
  /* beyond that input edge the curve goes on, but not past the place where a circle begins again */
  all.t0 = parameter_at(trace, id, a, reach, from_a - 1e-9, edge.t0);
  all.t1 = parameter_at(trace, id, b, reach, from_b - 1e-9, edge.t1);
  return fabs(all.t1 - all.t0) < 0.5 ? all : edge;
}

/* ---- the rings of a region ------------------------------------------------------------------- */

static HfEdge *
fresh_sources(HfRing *ring)
{
  g_free(ring->from);
  return ring->from = g_new(HfEdge, ring->n);
}

void
hf_trace_ring(HfTrace *trace, HfRing *ring, HfTraceRule rule)
{
  HfEdge *from = fresh_sources(ring);
  for (guint v = 0; v < ring->n; v++)
    from[v] = (rule == HF_TRACE_LATER ? trace_carried : trace_closest)(
        trace, hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]));
}

void
hf_trace_boolean(HfTrace *trace, HfRegion *region, HfTraceRule rule)
{
  for (guint r = 0; r < region->rings->len; r++)
    hf_trace_ring(trace, hf_region_ring(region, r), rule);
}

void
hf_trace_offset(HfTrace *trace, HfRegion *region, double distance, double tolerance)
{
  double slack = tolerance + HF_FLATTEN_MM + 2.0 / HF_GRID_PER_MM;
  for (guint r = 0; r < region->rings->len; r++) {
    HfRing *ring = hf_region_ring(region, r);
    HfEdge *from = fresh_sources(ring);
    for (guint v = 0; v < ring->n; v++)
      from[v] = trace_beside(trace, hf_grid_point(ring->at[v]),
                             hf_grid_point(ring->at[(v + 1) % ring->n]), distance, slack);
  }
}

/* ---- vertices that went -----------------------------------------------------------------------
 */

typedef struct {
  double along; /* 0..1 of the edge */
  HfGrid at;
} Passed;

static gint
nearer_first(gconstpointer a, gconstpointer b)
{
  const Passed *p = a, *q = b;
  return p->along < q->along ? -1 : p->along > q->along;
}

/* The vertices of the input that a-b runs over between its ends, or beside at @distance, in order;
 * their feet on it. */
static void
passed_vertices(HfTrace *trace, HfPoint a, HfPoint b, double distance, double reach, GArray *passed)
{
  g_array_set_size(passed, 0);
  hf_index_query(trace->index, hf_box_grow(hf_box_add_point((HfBox){a, a}, b), distance + reach),
                 trace->near);
  for (guint i = 0; i < trace->near->len; i++) {
    HfEdgeId id = g_array_index(trace->near, HfEdgeId, i);
    HfPoint p = hf_edge_start(trace->input, id);
    Passed one;
    HfPoint foot = hf_segment_nearest(a, b, p, &one.along);
    one.at = hf_grid_snap(foot);
    if (fabs(hf_point_distance(foot, p) - distance) < reach &&
        hf_point_distance(foot, a) > 2 * reach && hf_point_distance(foot, b) > 2 * reach)
      g_array_append_val(passed, one);
  }
  g_array_sort(passed, nearer_first);
}

/* Cuts the edges that are at least @least long, or that have no source, at what they run over or
 * beside. */
static gboolean
cut_at_passed(HfTrace *trace, HfRing *ring, double distance, double reach, double least)
{
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  g_autoptr(GArray) passed = g_array_new(FALSE, FALSE, sizeof(Passed));
  for (guint v = 0; v < ring->n; v++) {
    HfGrid last = ring->at[v];
    g_array_append_val(at, last);
    HfPoint a = hf_grid_point(last), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    if (ring->from != NULL ? ring->from[v].shape != HF_NO_SHAPE : hf_point_distance(a, b) < least)
      continue;
    passed_vertices(trace, a, b, distance, reach, passed);
    for (guint i = 0; i < passed->len; i++) {
      HfGrid next = g_array_index(passed, Passed, i).at;
      if (hf_point_distance(hf_grid_point(next), hf_grid_point(last)) <= 2 * reach)
        continue;
      g_array_append_val(at, next);
      last = next;
    }
  }
  if (at->len == ring->n)
    return FALSE;
  g_free(ring->at);
  ring->n = at->len;
  ring->at = (HfGrid *)(void *)g_array_free(g_steal_pointer(&at), FALSE);
  g_clear_pointer(&ring->from, g_free);
  return TRUE;
}

void
hf_trace_whole(HfTrace *trace, HfRegion *region, HfTraceRule rule)
{
  hf_trace_boolean(trace, region, rule);
  for (guint r = 0; r < region->rings->len; r++)
    if (cut_at_passed(trace, hf_region_ring(region, r), 0, 1.0 / HF_GRID_PER_MM, 0))
      hf_trace_ring(trace, hf_region_ring(region, r), rule);
}

void
hf_trace_cut_beside(HfTrace *trace, HfRing *ring, double distance, double tolerance, double least)
{
  g_assert(ring->from == NULL);
  cut_at_passed(trace, ring, fabs(distance), tolerance, least);
}
