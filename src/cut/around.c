/* SPDX-License-Identifier: GPL-3.0-or-later
 * around.c - the torch's way from one cut to the next, round what may have tipped up.
 *
 *               .-o-.
 *          from o   o          the way goes along the hull of from, to and what is in the way, on
 *          ---/  XXX  \---     its shorter side; each piece of it is looked at again
 *              \XXXXX/   to
 *
 * Limits: convex hulls stand for what tipped; where the torch starts or ends within one, in the
 * bay of a C, only what tipped itself counts, and is not gone round. At most DEEPEST turns for each
 * piece, and the way is the shorter side each time, not the shortest of all.
 */
#include "cut/plan-private.h"
#include "geom/hull.h"

enum { DEEPEST = 6 };
#define CLEAR_MM 1.0 /* from the hull: it is the torch's middle that is led */

typedef struct {
  const GPtrArray *tipped;
  GArray *way;
} Go;

static int
compare_shares(gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* Is the middle of a-b, or any of it, inside the convex ring? Touching is not. */
static gboolean
cuts_hull(const HfRing *hull, HfPoint a, HfPoint b)
{
  double from = 0, to = 1;
  HfPoint along = hf_point_sub(b, a);
  for (guint v = 0; v < hull->n; v++) {
    HfPoint p = hf_grid_point(hull->at[v]);
    HfPoint side = hf_point_sub(hf_grid_point(hull->at[v + 1 < hull->n ? v + 1 : 0]), p);
    double start = hf_point_cross(side, hf_point_sub(a, p)), by = hf_point_cross(side, along);
    if (by == 0 && start <= 0)
      return FALSE;
    if (by > 0)
      from = fmax(from, -start / by);
    else if (by < 0)
      to = fmin(to, -start / by);
  }
  return to - from > 1e-9;
}

static gboolean
is_in_hull(const HfRing *hull, HfPoint p)
{
  return cuts_hull(hull, p, hf_point_add(p, hf_point(1e-3, 0))) &&
         cuts_hull(hull, p, hf_point_sub(p, hf_point(1e-3, 0)));
}

/* Does a-b go through the inside of the ring? By its pieces between the edges that it crosses. */
static gboolean
cuts_ring(const HfRing *ring, HfPoint a, HfPoint b)
{
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(double));
  double ends[] = {0, 1};
  g_array_append_vals(at, ends, 2);
  HfPoint along = hf_point_sub(b, a);
  for (guint v = 0; v < ring->n; v++) {
    HfPoint p = hf_grid_point(ring->at[v]);
    HfPoint side = hf_point_sub(hf_grid_point(ring->at[v + 1 < ring->n ? v + 1 : 0]), p);
    double across = hf_point_cross(along, side), from = hf_point_cross(hf_point_sub(p, a), side);
    double s = hf_point_cross(hf_point_sub(p, a), along) / across, t = from / across;
    if (across != 0 && s >= 0 && s <= 1 && t > 0 && t < 1)
      g_array_append_val(at, t);
  }
  g_array_sort(at, compare_shares);
  double length = hf_point_length(along);
  for (guint i = 0; i + 1 < at->len; i++) {
    double from = g_array_index(at, double, i), to = g_array_index(at, double, i + 1);
    if ((to - from) * length > CLEAR_MM && hf_ring_holds(ring, hf_point_mix(a, b, (from + to) / 2)))
      return TRUE;
  }
  return FALSE;
}

/* Is it in the way from @a to @b? */
static gboolean
is_met(const HfPlanJob *job, HfPoint a, HfPoint b)
{
  if (hf_region_is_empty(job->hull) || hf_region_is_empty(job->region))
    return FALSE;
  const HfRing *hull = hf_region_ring(job->hull, 0);
  if (!cuts_hull(hull, a, b))
    return FALSE;
  return !(is_in_hull(hull, a) || is_in_hull(hull, b)) ||
         cuts_ring(hf_region_ring(job->region, 0), a, b);
}

/* (nullable) the first of them that is met. */
static const HfPlanJob *
first_met(const GPtrArray *tipped, HfPoint a, HfPoint b)
{
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
  const HfPlanJob *first = NULL;
  double nearest = INFINITY;
  for (guint i = 0; i < tipped->len; i++) {
    const HfPlanJob *job = tipped->pdata[i];
    if (!hf_box_overlaps(box, job->box) || !is_met(job, a, b))
      continue;
    HfPoint middle = hf_point_mix(job->box.min, job->box.max, 0.5);
    if (hf_point_distance(a, middle) < nearest) {
      nearest = hf_point_distance(a, middle);
      first = job;
    }
  }
  return first;
}

/* The points of @ring from vertex @from to @to, both not, @step either way; how long that is. */
static double
side_of(const HfRing *ring, guint from, guint to, guint step, GArray *side)
{
  double length = 0;
  HfPoint last = hf_grid_point(ring->at[from]);
  for (guint v = (from + step) % ring->n;; v = (v + step) % ring->n) {
    HfPoint p = hf_grid_point(ring->at[v]);
    length += hf_point_distance(last, p);
    last = p;
    if (v == to)
      return length;
    g_array_append_val(side, p);
  }
}

static gint
vertex_at(const HfRing *ring, HfPoint p)
{
  HfGrid g = hf_grid_snap(p);
  for (guint v = 0; v < ring->n; v++)
    if (hf_grid_equal(ring->at[v], g))
      return (gint)v;
  return -1;
}

/* The shorter side of the hull of all three; %FALSE: an end is within it. */
static gboolean
find_side(const HfPlanJob *job, HfPoint from, HfPoint to, GArray *side)
{
  g_autoptr(HfRegion) wide = hf_region_offset(job->hull, CLEAR_MM, CLEAR_MM / 4);
  const HfRing *ring = hf_region_ring(wide, 0);
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  g_array_append_vals(points, ring->at, ring->n);
  HfGrid ends[] = {hf_grid_snap(from), hf_grid_snap(to)};
  g_array_append_vals(points, ends, 2);
  g_autoptr(HfRegion) hull = hf_hull_of((const HfGrid *)(void *)points->data, points->len);
  gint a = vertex_at(hf_region_ring(hull, 0), from), b = vertex_at(hf_region_ring(hull, 0), to);
  if (a < 0 || b < 0)
    return FALSE;
  const HfRing *round = hf_region_ring(hull, 0);
  g_autoptr(GArray) other = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  double left = side_of(round, (guint)a, (guint)b, 1, side);
  double right = side_of(round, (guint)a, (guint)b, round->n - 1, other);
  if (right < left) {
    g_array_set_size(side, 0);
    g_array_append_vals(side, other->data, other->len);
  }
  return TRUE;
}

static gboolean
go_on(Go *go, HfPoint from, HfPoint to, guint depth)
{
  const HfPlanJob *met = first_met(go->tipped, from, to);
  if (met == NULL) {
    g_array_append_val(go->way, to);
    return TRUE;
  }
  g_autoptr(GArray) side = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  if (depth == DEEPEST || !find_side(met, from, to, side) || side->len == 0)
    return FALSE;
  HfPoint last = from;
  for (guint i = 0; i <= side->len; i++) {
    HfPoint next = i < side->len ? g_array_index(side, HfPoint, i) : to;
    if (!go_on(go, last, next, depth + 1))
      return FALSE;
    last = next;
  }
  return TRUE;
}

gboolean
hf_plan_go(const GPtrArray *tipped, HfPoint from, HfPoint to, GArray *vias)
{
  Go go = {tipped, g_array_new(FALSE, FALSE, sizeof(HfPoint))};
  gboolean found = go_on(&go, from, to, 0);
  if (found && go.way->len > 1)
    g_array_append_vals(vias, go.way->data, go.way->len - 1);
  g_array_free(go.way, TRUE);
  return found;
}
