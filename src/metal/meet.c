/* SPDX-License-Identifier: GPL-3.0-or-later
 * meet.c - shapes that meet edge to edge.
 *
 *      |  a  |                 The ends of a shared edge are rounded to the grid by themselves:
 *   p  +-----+--+  q           turned by some angle, p and q lie a last bit off the line from r to
 *   ---+-----+--+---           s, and whether a union leaves a slit, a seam or nothing is chance.
 *   r     b         s          Here r-s gets the vertices p and q: both edges are the same then.
 *
 * Invariant: what two edges of different regions that meet (their metal on opposite sides, or
 * an opening along the edge of metal) have within HF_MEET_MM along LEAST or more is one edge of
 * both afterwards, whether there was a gap, a bite or nothing between them. Vertices nearer than
 * HF_MEET_MM become the one that comes first. All else stays to the bit. Accuracy: a vertex moves
 * by HF_MEET_MM, by more only in a chain of them. Degenerate: a region that is thinner than that
 * may vanish.
 */
#include "geom/forest.h"
#include "geom/index.h"
#include "metal/meet-private.h"
#include <stdlib.h>
#include <string.h>

#define LEAST 0.01 /* mm along each other: less is a point where they touch or cross */

/* A vertex that edge `on` gets, at `along` 0..1. */
typedef struct {
  HfEdgeId on, vertex;
  double along;
} Stop;

typedef struct {
  HfRegion all;            /* rings borrowed */
  const gboolean *opening; /* of each region */
  guint *region;           /* of each ring: the number of its region */
  guint *first;            /* of each ring: the number of its first vertex */
  guint *head;             /* a forest of the vertices: which become one */
  HfIndex *index;
  GArray *near;     /* HfEdgeId, used again and again */
  GArray *stops;    /* Stop */
  GArray *meetings; /* HfMeeting, one for each stretch */
  gboolean moved;
  gboolean up; /* rays go up: the short way */
} Work;

/* ---- one vertex of several ------------------------------------------------------------------- */

static guint
number_of(const Work *work, HfEdgeId vertex)
{
  return work->first[vertex.ring] + vertex.vertex;
}

static void
make_one(Work *work, HfEdgeId p, HfEdgeId q)
{
  hf_forest_join(work->head, number_of(work, p), number_of(work, q));
  work->moved = TRUE;
}

static HfEdgeId
after(const Work *work, HfEdgeId id)
{
  return (HfEdgeId){id.ring, (id.vertex + 1) % hf_region_ring(&work->all, id.ring)->n};
}

/* Vertex @v lies beside edge @on: it is one of its ends, or becomes a vertex of it. */
static void
put_on(Work *work, HfEdgeId on, HfEdgeId v)
{
  HfPoint a = hf_edge_start(&work->all, on), b = hf_edge_end(&work->all, on);
  HfPoint p = hf_edge_start(&work->all, v);
  Stop stop = {on, v, 0};
  if (hf_point_distance(a, p) <= HF_MEET_MM)
    make_one(work, on, v);
  else if (hf_point_distance(b, p) <= HF_MEET_MM)
    make_one(work, after(work, on), v);
  else if (hf_point_distance(hf_segment_nearest(a, b, p, &stop.along), p) <= HF_MEET_MM)
    g_array_append_val(work->stops, stop);
}

/* ---- stretches ------------------------------------------------------------------------------- */

/* The stretch of a-b, in mm from a, beside which c-d runs, either way, within HF_MEET_MM. */
static gboolean
run_together(HfPoint a, HfPoint b, HfPoint c, HfPoint d, double *ret_from, double *ret_to)
{
  double length = hf_point_distance(a, b);
  HfPoint way = hf_point_scale(hf_point_sub(b, a), 1 / length);
  double at_c = hf_point_dot(hf_point_sub(c, a), way), at_d = hf_point_dot(hf_point_sub(d, a), way);
  double from = fmax(0, fmin(at_c, at_d)), to = fmin(length, fmax(at_c, at_d));
  if (!(to - from >= LEAST))
    return FALSE;
  double off_c = hf_point_cross(way, hf_point_sub(c, a));
  double slope = (off_c - hf_point_cross(way, hf_point_sub(d, a))) / (at_c - at_d);
  if (fabs(off_c + slope * (from - at_c)) > HF_MEET_MM ||
      fabs(off_c + slope * (to - at_c)) > HF_MEET_MM)
    return FALSE;
  *ret_from = from;
  *ret_to = to;
  return TRUE;
}

static void
compare_edges(Work *work, HfEdgeId e, HfEdgeId f)
{
  HfPoint a = hf_edge_start(&work->all, e), b = hf_edge_end(&work->all, e);
  HfPoint c = hf_edge_start(&work->all, f), d = hf_edge_end(&work->all, f);
  guint i = work->region[e.ring], j = work->region[f.ring];
  gboolean alike = hf_point_dot(hf_point_sub(b, a), hf_point_sub(d, c)) > 0;
  double from, to;
  if (alike != (work->opening[i] != work->opening[j]) || !run_together(a, b, c, d, &from, &to))
    return;
  put_on(work, e, f);
  put_on(work, e, after(work, f));
  put_on(work, f, e);
  put_on(work, f, after(work, e));
  HfMeeting one = {MIN(i, j), MAX(i, j),
                   hf_point_mix(a, b, (from + to) / 2 / hf_point_distance(a, b)), to - from,
                   to - from};
  g_array_append_val(work->meetings, one);
}

/* The index says what may be near: half of it is not. */
static gboolean
is_near(const Work *work, HfBox near, HfEdgeId f)
{
  HfPoint c = hf_edge_start(&work->all, f), d = hf_edge_end(&work->all, f);
  return (c.x < d.x ? c.x : d.x) <= near.max.x && (c.x > d.x ? c.x : d.x) >= near.min.x &&
         (c.y < d.y ? c.y : d.y) <= near.max.y && (c.y > d.y ? c.y : d.y) >= near.min.y;
}

static gboolean
compare_all(Work *work, const HfCancel *cancel)
{
  for (guint r = 0; r < work->all.rings->len; r++) {
    if (!hf_cancel_check(cancel, NULL))
      return FALSE;
    if (hf_index_is_alone(work->index, r, 2 * HF_MEET_MM, work->near))
      continue;
    for (guint v = 0; v < hf_region_ring(&work->all, r)->n; v++) {
      HfEdgeId e = {r, v};
      HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, hf_edge_start(&work->all, e)),
                                   hf_edge_end(&work->all, e));
      if (fmax(hf_box_width(box), hf_box_height(box)) < LEAST / 2)
        continue;
      HfBox near = hf_box_grow(box, 2 * HF_MEET_MM); /* a hair more than what can meet */
      hf_index_query(work->index, hf_box_grow(box, HF_MEET_MM), work->near);
      for (guint i = 0; i < work->near->len; i++) {
        HfEdgeId f = g_array_index(work->near, HfEdgeId, i);
        if (f.ring > r && work->region[f.ring] != work->region[r] && is_near(work, near, f))
          compare_edges(work, e, f);
      }
    }
  }
  return hf_cancel_check(cancel, NULL);
}

/* ---- new rings ------------------------------------------------------------------------------- */

static gint
compare_stops(gconstpointer p, gconstpointer q)
{
  const Stop *s = p, *t = q;
  if (s->on.ring != t->on.ring)
    return s->on.ring < t->on.ring ? -1 : 1;
  if (s->on.vertex != t->on.vertex)
    return s->on.vertex < t->on.vertex ? -1 : 1;
  if (s->along != t->along)
    return s->along < t->along ? -1 : 1;
  if (s->vertex.ring != t->vertex.ring)
    return s->vertex.ring < t->vertex.ring ? -1 : 1;
  return (s->vertex.vertex > t->vertex.vertex) - (s->vertex.vertex < t->vertex.vertex);
}

static void
put(GArray *at, HfGrid p)
{
  if (at->len == 0 || !hf_grid_equal(g_array_index(at, HfGrid, at->len - 1), p))
    g_array_append_val(at, p);
}

/* (nullable: as it was) The vertices of ring @r, its stops from number *next on among them. */
static GArray *
ring_anew(Work *work, const HfGrid *places, guint r, guint *next)
{
  guint n = hf_region_ring(&work->all, r)->n, was = *next;
  gboolean moved = FALSE;
  GArray *at = g_array_sized_new(FALSE, FALSE, sizeof(HfGrid), n + 4);
  for (guint v = 0; v < n; v++) {
    guint number = work->first[r] + v, head = hf_forest_root(work->head, number);
    moved |= head != number;
    put(at, places[head]);
    for (; *next < work->stops->len; (*next)++) {
      const Stop *stop = &g_array_index(work->stops, Stop, *next);
      if (stop->on.ring != r || stop->on.vertex != v)
        break;
      put(at, places[hf_forest_root(work->head, number_of(work, stop->vertex))]);
    }
  }
  if (moved || *next > was)
    return at;
  g_array_unref(at);
  return NULL;
}

static HfGrid *
all_places(const Work *work)
{
  guint last = work->all.rings->len;
  HfGrid *places = g_new(HfGrid, work->first[last] + 1);
  for (guint r = 0; r < last; r++) {
    const HfRing *ring = hf_region_ring(&work->all, r);
    memcpy(places + work->first[r], ring->at, ring->n * sizeof(HfGrid));
  }
  return places;
}

static void
rebuild(Work *work, HfRegion *const *regions, guint n)
{
  g_array_sort(work->stops, compare_stops);
  g_autofree HfGrid *places = all_places(work);
  guint next = 0, number = 0;
  for (guint i = 0; i < n; i++)
    for (guint r = 0; r < regions[i]->rings->len; r++) {
      GArray *at = ring_anew(work, places, number++, &next);
      HfRing *ring = hf_region_ring(regions[i], r);
      if (at == NULL)
        continue;
      g_free(ring->at);
      ring->n = at->len;
      ring->at = (HfGrid *)(void *)g_array_free(at, FALSE);
    }
}

/* ---- all of it ------------------------------------------------------------------------------- */

static gint
compare_meetings(gconstpointer p, gconstpointer q)
{
  const HfMeeting *s = p, *t = q;
  if (s->a != t->a)
    return s->a < t->a ? -1 : 1;
  if (s->b != t->b)
    return s->b < t->b ? -1 : 1;
  if (s->longest != t->longest)
    return s->longest > t->longest ? -1 : 1;
  if (s->at.x != t->at.x)
    return s->at.x < t->at.x ? -1 : 1;
  return (s->at.y > t->at.y) - (s->at.y < t->at.y);
}

/* Does a third region, that does what one of them does, cover the middle of the longest stretch?
 * Then it is no end of the metal. */
static gboolean
is_covered(Work *work, const HfMeeting *meeting)
{
  int round = 0;
  hf_index_crossed(work->index, meeting->at, work->up, work->near);
  for (guint i = 0; i < work->near->len; i++) {
    HfEdgeId id = g_array_index(work->near, HfEdgeId, i);
    guint region = work->region[id.ring];
    gboolean of_kind = work->opening[region] == work->opening[meeting->a] ||
                       work->opening[region] == work->opening[meeting->b];
    if (region == meeting->a || region == meeting->b || !of_kind)
      continue;
    HfPoint d = hf_point_sub(hf_edge_end(&work->all, id), hf_edge_start(&work->all, id));
    round += (work->up ? d.x < 0 : d.y > 0) ? 1 : -1;
  }
  return round != 0;
}

/* They came in order of their first region. */
static void
sort_meetings(GArray *meetings)
{
  HfMeeting *all = (HfMeeting *)(void *)meetings->data;
  for (guint first = 0, end; first < meetings->len; first = end) {
    for (end = first + 1; end < meetings->len && all[end].a == all[first].a;)
      end++;
    qsort(all + first, end - first, sizeof *all, compare_meetings);
  }
}

/* One for each two regions, from its longest stretch. */
static void
gather(Work *work)
{
  GArray *meetings = work->meetings;
  guint kept = 0;
  sort_meetings(meetings);
  for (guint i = 0; i < meetings->len; i++) {
    HfMeeting one = g_array_index(meetings, HfMeeting, i);
    HfMeeting *last = kept > 0 ? &g_array_index(meetings, HfMeeting, kept - 1) : NULL;
    if (last != NULL && last->a == one.a && last->b == one.b)
      last->length += one.length;
    else
      g_array_index(meetings, HfMeeting, kept++) = one;
  }
  g_array_set_size(meetings, kept);
  for (guint i = kept; i-- > 0;)
    if (is_covered(work, &g_array_index(meetings, HfMeeting, i)))
      g_array_remove_index(meetings, i);
}

static void
work_init(Work *work, HfRegion *const *regions, guint n)
{
  guint rings = 0, edges = 0;
  double length = 0;
  for (guint i = 0; i < n; i++)
    rings += regions[i]->rings->len;
  work->all.rings = g_array_sized_new(FALSE, FALSE, sizeof(HfRing), rings); /* borrowed */
  work->region = g_new(guint, rings + 1);
  work->first = g_new(guint, rings + 1);
  for (guint i = 0, number = 0; i < n; i++) {
    length += hf_region_perimeter(regions[i]);
    for (guint r = 0; r < regions[i]->rings->len; r++) {
      const HfRing *ring = hf_region_ring(regions[i], r);
      g_array_append_vals(work->all.rings, ring, 1);
      work->region[number] = i;
      work->first[number++] = edges;
      edges += ring->n;
    }
  }
  work->first[rings] = edges;
  work->head = hf_forest_new(edges);
  work->index = hf_index_new(&work->all, fmax(0.2, length / (edges + 1)));
  HfBox box = hf_region_box(&work->all);
  work->up = hf_box_height(box) < hf_box_width(box);
  work->near = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  work->stops = g_array_new(FALSE, FALSE, sizeof(Stop));
  work->meetings = g_array_new(FALSE, FALSE, sizeof(HfMeeting));
}

static void
work_clear(Work *work)
{
  g_array_unref(work->all.rings);
  g_free(work->region);
  g_free(work->first);
  g_free(work->head);
  hf_index_free(work->index);
  g_array_unref(work->near);
  g_array_unref(work->stops);
}

GArray *
hf_regions_meet(HfRegion *const *regions, const gboolean *opening, guint n, const HfCancel *cancel)
{
  Work work = {.opening = opening};
  work_init(&work, regions, n);
  if (compare_all(&work, cancel)) {
    gather(&work); /* before any ring changes */
    if (work.moved || work.stops->len > 0)
      rebuild(&work, regions, n);
  } else {
    g_clear_pointer(&work.meetings, g_array_unref);
  }
  work_clear(&work);
  return work.meetings;
}
