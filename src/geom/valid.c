/* SPDX-License-Identifier: GPL-3.0-or-later
 * valid.c - does a region keep the promise of region.h? And making it so.
 *
 * Exact: all tests are integer arithmetic on the grid (products stay below 2^63).
 */
#include "geom/index.h"
#include "geom/rings-private.h"

typedef struct {
  HfGrid a, b;
} Segment;

static Segment
segment_of(const HfRegion *region, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(region, id.ring);
  return (Segment){ring->at[id.vertex], ring->at[(id.vertex + 1) % ring->n]};
}

static gint64
side(Segment s, HfGrid p)
{
  return (gint64)(s.b.x - s.a.x) * (p.y - s.a.y) - (gint64)(s.b.y - s.a.y) * (p.x - s.a.x);
}

/* p lies on s but is neither of its ends */
static gboolean
is_within(Segment s, HfGrid p)
{
  if (hf_grid_equal(p, s.a) || hf_grid_equal(p, s.b) || side(s, p) != 0)
    return FALSE;
  return p.x >= MIN(s.a.x, s.b.x) && p.x <= MAX(s.a.x, s.b.x) && p.y >= MIN(s.a.y, s.b.y) &&
         p.y <= MAX(s.a.y, s.b.y);
}

static int
sign(gint64 v)
{
  return (v > 0) - (v < 0);
}

static gboolean
are_apart(Segment s, Segment t)
{
  return MAX(s.a.x, s.b.x) < MIN(t.a.x, t.b.x) || MAX(t.a.x, t.b.x) < MIN(s.a.x, s.b.x) ||
         MAX(s.a.y, s.b.y) < MIN(t.a.y, t.b.y) || MAX(t.a.y, t.b.y) < MIN(s.a.y, s.b.y);
}

/* They share more than ends: cross, or one's end lies within the other, or they are the same. */
static gboolean
clash(Segment s, Segment t)
{
  if (are_apart(s, t)) /* most of them */
    return FALSE;
  if (is_within(s, t.a) || is_within(s, t.b) || is_within(t, s.a) || is_within(t, s.b))
    return TRUE;
  if ((hf_grid_equal(s.a, t.a) && hf_grid_equal(s.b, t.b)) ||
      (hf_grid_equal(s.a, t.b) && hf_grid_equal(s.b, t.a)))
    return TRUE;
  return sign(side(s, t.a)) * sign(side(s, t.b)) < 0 && sign(side(t, s.a)) * sign(side(t, s.b)) < 0;
}

static HfBox
segment_box(Segment s)
{
  return hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, hf_grid_point(s.a)), hf_grid_point(s.b));
}

static double
usual_edge(const HfRegion *region)
{
  return MAX(0.2, 1.5 * hf_region_perimeter(region) / (hf_region_n_edges(region) + 1));
}

static gboolean
edges_are_apart(const HfRegion *region, HfPoint *ret_at)
{
  g_autoptr(HfIndex) index = hf_index_new(region, usual_edge(region));
  g_autoptr(GArray) near = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      Segment s = segment_of(region, (HfEdgeId){r, v});
      hf_index_query(index, segment_box(s), near);
      for (guint i = 0; i < near->len; i++) {
        HfEdgeId id = g_array_index(near, HfEdgeId, i);
        gboolean later = id.ring > r || (id.ring == r && id.vertex > v);
        if (later && clash(s, segment_of(region, id))) {
          *ret_at = hf_grid_point(s.a);
          return FALSE;
        }
      }
    }
  return TRUE;
}

static gboolean
rings_are_in_order(const HfRegion *region, HfPoint *ret_at)
{
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    *ret_at = ring->n > 0 ? hf_grid_point(ring->at[0]) : hf_point(0, 0);
    if (ring->n < 3)
      return FALSE;
    double area = hf_ring_area(ring);
    gboolean outer = ring->parent < 0;
    if (area == 0 || outer != (area > 0))
      return FALSE;
    if (!outer && ((guint)ring->parent >= region->rings->len ||
                   hf_region_ring(region, (guint)ring->parent)->parent >= 0))
      return FALSE;
  }
  return TRUE;
}

gboolean
hf_region_is_valid(const HfRegion *region, HfPoint *ret_at)
{
  HfPoint ignored;
  if (ret_at == NULL)
    ret_at = &ignored;
  return rings_are_in_order(region, ret_at) && edges_are_apart(region, ret_at);
}

/* ---- repair -------------------------------------------------------------------------------- */

/* A vertex that lies on the inside of edge `on`, at `along` squared from its start. */
typedef struct {
  HfEdgeId on;
  double along;
  HfGrid at;
} Stop;

static gint
compare_stops(gconstpointer a, gconstpointer b)
{
  const Stop *s = a, *t = b;
  if (s->on.ring != t->on.ring)
    return s->on.ring < t->on.ring ? -1 : 1;
  if (s->on.vertex != t->on.vertex)
    return s->on.vertex < t->on.vertex ? -1 : 1;
  return (s->along > t->along) - (s->along < t->along);
}

static void
add_stop(GArray *stops, HfEdgeId on, Segment s, HfGrid p)
{
  if (!is_within(s, p))
    return;
  double dx = (double)p.x - s.a.x, dy = (double)p.y - s.a.y;
  Stop stop = {on, dx * dx + dy * dy, p};
  g_array_append_val(stops, stop);
}

/* Where two edges cross, rounded: a vertex for each that does not end there. Without it the clipper
 * may round the crossing to an end of one of them and leave the other as it is. */
static void
add_crossing(GArray *stops, HfEdgeId me, Segment s, HfEdgeId other, Segment t)
{
  double from = (double)side(t, s.a), to = (double)side(t, s.b), share = from / (from - to);
  HfGrid p = {s.a.x + (gint32)lrint(share * ((double)s.b.x - s.a.x)),
              s.a.y + (gint32)lrint(share * ((double)s.b.y - s.a.y))};
  Segment both[2] = {s, t};
  HfEdgeId ids[2] = {me, other};
  for (int k = 0; k < 2; k++) {
    if (hf_grid_equal(p, both[k].a) || hf_grid_equal(p, both[k].b))
      continue;
    double dx = (double)p.x - both[k].a.x, dy = (double)p.y - both[k].a.y;
    Stop stop = {ids[k], dx * dx + dy * dy, p};
    g_array_append_val(stops, stop);
  }
}

/* Finds vertices on edges; %TRUE when edges cross or coincide besides. */
static gboolean
find_stops(const HfRegion *region, GArray *stops)
{
  gboolean crossing = FALSE;
  g_autoptr(HfIndex) index = hf_index_new(region, usual_edge(region));
  g_autoptr(GArray) near = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      HfEdgeId me = {r, v};
      Segment s = segment_of(region, me);
      hf_index_query(index, segment_box(s), near);
      for (guint i = 0; i < near->len; i++) {
        HfEdgeId id = g_array_index(near, HfEdgeId, i);
        if (id.ring < r || (id.ring == r && id.vertex <= v))
          continue;
        Segment t = segment_of(region, id);
        if (!clash(s, t))
          continue;
        guint before = stops->len;
        add_stop(stops, me, s, t.a);
        add_stop(stops, me, s, t.b);
        add_stop(stops, id, t, s.a);
        add_stop(stops, id, t, s.b);
        if (stops->len > before)
          continue;
        crossing = TRUE;
        if (!hf_grid_equal(s.a, t.a) && !hf_grid_equal(s.a, t.b) && !hf_grid_equal(s.b, t.a) &&
            !hf_grid_equal(s.b, t.b))
          add_crossing(stops, me, s, id, t);
      }
    }
  return crossing;
}

static void
insert_stops(HfRegion *region, GArray *stops)
{
  g_array_sort(stops, compare_stops);
  guint next = 0;
  for (guint r = 0; r < region->rings->len; r++) {
    HfRing *ring = hf_region_ring(region, r);
    GArray *at = g_array_sized_new(FALSE, FALSE, sizeof(HfGrid), ring->n + 4);
    for (guint v = 0; v < ring->n; v++) {
      g_array_append_val(at, ring->at[v]);
      for (; next < stops->len; next++) {
        const Stop *stop = &g_array_index(stops, Stop, next);
        if (stop->on.ring != r || stop->on.vertex != v)
          break;
        g_array_append_val(at, stop->at);
      }
    }
    g_free(ring->at);
    ring->n = at->len;
    ring->at = (HfGrid *)(void *)g_array_free(at, FALSE);
  }
}

gboolean
hf_region_repair(HfRegion *region)
{
  hf_rings_nest(region);
  for (guint round = 0; round < 8; round++) {
    g_autoptr(GArray) stops = g_array_new(FALSE, FALSE, sizeof(Stop));
    gboolean crossing = find_stops(region, stops);
    if (stops->len == 0 && !crossing)
      return rings_are_in_order(region, &(HfPoint){0, 0});
    insert_stops(region, stops);
    if (crossing) {
      HfRegion *again = hf_region_clean(region);
      GArray *rings = region->rings;
      region->rings = again->rings;
      again->rings = rings;
      hf_region_free(again);
    } else {
      hf_rings_settle(region);
    }
  }
  return FALSE;
}
