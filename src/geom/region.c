/* SPDX-License-Identifier: GPL-3.0-or-later
 * region.c - rings on the grid: life, flattening, booleans, measures.
 */
#include "geom/region.h"
#include "geom/clip-private.h"
#include "geom/overlay-private.h"
#include "geom/rings-private.h"
#include "geom/trace.h"
#include <string.h>

static void
ring_clear(gpointer data)
{
  HfRing *ring = data;
  g_free(ring->at);
  g_free(ring->from);
}

HfRegion *
hf_region_new(void)
{
  HfRegion *region = g_new(HfRegion, 1);
  region->rings = g_array_new(FALSE, FALSE, sizeof(HfRing));
  g_array_set_clear_func(region->rings, ring_clear);
  return region;
}

void
hf_region_free(HfRegion *region)
{
  if (region == NULL)
    return;
  g_array_unref(region->rings);
  g_free(region);
}

static void
add_ring(HfRegion *region, const HfGrid *at, const HfEdge *from, guint n, gint parent)
{
  HfRing ring = {.n = n, .parent = parent};
  ring.at = g_memdup2(at, n * sizeof(HfGrid));
  ring.from = from == NULL ? NULL : g_memdup2(from, n * sizeof(HfEdge));
  g_array_append_val(region->rings, ring);
}

void
hf_region_add_ring(HfRegion *region, const HfGrid *at, const HfEdge *from, guint n)
{
  add_ring(region, at, from, n, -1);
}

HfRegion *
hf_region_copy(const HfRegion *region)
{
  HfRegion *copy = hf_region_new();
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    add_ring(copy, ring->at, ring->from, ring->n, ring->parent);
  }
  return copy;
}

/* ---- flattening ---------------------------------------------------------------------------- */

/* Neighbouring points that fall on the same grid point are one; its edge spans both pieces. */
static void
push_point(GArray *at, GArray *from, HfPoint p, HfEdge edge)
{
  HfGrid g = hf_grid_snap(p);
  if (at->len > 0) {
    HfGrid last = g_array_index(at, HfGrid, at->len - 1);
    if (last.x == g.x && last.y == g.y) {
      g_array_index(from, HfEdge, from->len - 1) = edge;
      return;
    }
  }
  g_array_append_val(at, g);
  g_array_append_val(from, edge);
}

static void
flatten_curve(const HfCurve *curve, guint32 shape, guint32 index, double tolerance, GArray *at,
              GArray *from)
{
  guint steps = hf_curve_steps(curve, tolerance);
  for (guint i = 0; i < steps; i++) {
    double t0 = i / (double)steps, t1 = (i + 1) / (double)steps;
    push_point(at, from, hf_curve_point(curve, t0), (HfEdge){shape, index, t0, t1});
  }
}

void
hf_region_flatten(HfRegion *region, const HfOutline *outline, guint32 shape, double tolerance)
{
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  g_autoptr(GArray) from = g_array_new(FALSE, FALSE, sizeof(HfEdge));
  /* half a grid unit is spent on rounding */
  double chord = tolerance - 0.75 / HF_GRID_PER_MM;
  g_return_if_fail(chord > 0);
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n, first = g_array_index(outline->starts, guint, i);
    const HfCurve *curve = hf_outline_contour(outline, i, &n);
    g_array_set_size(at, 0);
    g_array_set_size(from, 0);
    for (guint j = 0; j < n; j++)
      flatten_curve(&curve[j], shape, first + j, chord, at, from);
    while (at->len > 1 && memcmp(&g_array_index(at, HfGrid, 0),
                                 &g_array_index(at, HfGrid, at->len - 1), sizeof(HfGrid)) == 0) {
      g_array_set_size(at, at->len - 1);
      g_array_set_size(from, from->len - 1);
    }
    if (at->len >= 3)
      hf_region_add_ring(region, (HfGrid *)(void *)at->data, (HfEdge *)(void *)from->data, at->len);
  }
}

/* ---- booleans ------------------------------------------------------------------------------ */

/* Steps of the clipper. Below AT_ONCE it is called once for all; above IN_HALVES a union is made of
 * two unions, so that what lies inside is gone before much comes together. */
static const double AT_ONCE = 5e4, IN_HALVES = 4e7;

/* (nullable: stopped) Our bug if the clipper fails: coordinates are capped long before they reach
 * its range. */
static HfRegion *
clip(const HfOverlay *overlay, const HfCancel *cancel)
{
  g_autoptr(HfRegion) result = hf_region_new();
  if (!hf_cancel_check(cancel, NULL))
    return NULL;
  if (hf_overlay_work(overlay) < AT_ONCE) {
    gboolean done = hf_clip(overlay->kind, overlay->subject, overlay->n_subject, overlay->clip,
                            overlay->n_clip, result);
    g_assert(done);
  } else if (!hf_overlay_run(overlay, result, cancel)) {
    return NULL;
  }
  hf_rings_settle(result);
  return g_steal_pointer(&result);
}

/* Its rings may cross themselves: they are no pieces. */
HfRegion *
hf_region_clean(const HfRegion *region)
{
  HfRegion *result = hf_region_new();
  gboolean done = hf_clip(HF_CLIP_UNION, &region, 1, NULL, 0, result);
  g_assert(done);
  hf_rings_settle(result);
  return result;
}

HfRegion *
hf_region_clean_even_odd(const HfRegion *region)
{
  HfRegion *result = hf_region_new();
  gboolean done = hf_clip_even_odd(region, result);
  g_assert(done);
  hf_rings_settle(result);
  return result;
}

HfRegion *
hf_region_union_until(const HfRegion *const *regions, guint n, const HfCancel *cancel)
{
  HfOverlay all = {.kind = HF_CLIP_UNION, .subject = regions, .n_subject = n};
  if (n <= 2 || hf_overlay_work(&all) < IN_HALVES)
    return clip(&all, cancel);
  g_autoptr(HfRegion) first = hf_region_union_until(regions, n / 2, cancel);
  g_autoptr(HfRegion) rest =
      first != NULL ? hf_region_union_until(regions + n / 2, n - n / 2, cancel) : NULL;
  const HfRegion *both[] = {first, rest};
  return rest != NULL ? hf_region_union_until(both, G_N_ELEMENTS(both), cancel) : NULL;
}

HfRegion *
hf_region_union(const HfRegion *const *regions, guint n)
{
  return hf_region_union_until(regions, n, NULL);
}

HfRegion *
hf_region_subtract_until(const HfRegion *from, const HfRegion *what, const HfCancel *cancel)
{
  return clip(&(HfOverlay){HF_CLIP_SUBTRACT, &from, 1, &what, 1}, cancel);
}

HfRegion *
hf_region_subtract(const HfRegion *from, const HfRegion *what)
{
  return hf_region_subtract_until(from, what, NULL);
}

HfRegion *
hf_region_of_outline(const HfOutline *outline, guint shape, double tolerance)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, shape, tolerance);
  return hf_region_clean(raw);
}

void
hf_ring_add_chords(const HfRing *ring, HfOutline *to)
{
  hf_outline_begin(to, hf_grid_point(ring->at[0]));
  for (guint v = 1; v < ring->n; v++)
    hf_outline_line_to(to, hf_grid_point(ring->at[v]));
  hf_outline_close(to);
}

HfOutline *
hf_region_chords(const HfRegion *region)
{
  HfOutline *outline = hf_outline_new();
  for (guint r = 0; r < region->rings->len; r++)
    hf_ring_add_chords(hf_region_ring(region, r), outline);
  return outline;
}

HfRegion *
hf_region_intersect(const HfRegion *a, const HfRegion *b)
{
  return clip(&(HfOverlay){HF_CLIP_INTERSECT, &a, 1, &b, 1}, NULL);
}

void
hf_region_add_rings(HfRegion *region, const HfRegion *from)
{
  for (guint r = 0; r < from->rings->len; r++)
    hf_region_add_ring(region, hf_region_ring(from, r)->at, NULL, hf_region_ring(from, r)->n);
}

HfPoint
hf_ring_beside(const HfRing *ring, double by)
{
  HfPoint from = {0, 0}, to = {0, 0};
  double longest = -1;
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    if (hf_point_distance(a, b) <= longest)
      continue;
    longest = hf_point_distance(a, b);
    from = a;
    to = b;
  }
  HfPoint along = hf_point_scale(hf_point_sub(to, from), by / longest);
  return hf_point_add(hf_point_mix(from, to, 0.5), hf_point(-along.y, along.x));
}

HfRegion *
hf_region_offset_chords(const HfRegion *region, double distance, double tolerance)
{
  g_assert(tolerance > 0);
  HfRegion *result = hf_region_new();
  /* the clipper overruns its own arc tolerance by up to 2.25 (docs/maths.md#offset) */
  gboolean done = hf_clip_offset(region, distance * HF_GRID_PER_MM,
                                 MAX(tolerance * HF_GRID_PER_MM / 2.25, 0.5), result);
  g_assert(done);
  hf_rings_settle(result);
  return result;
}

static gboolean
has_sources(const HfRegion *region)
{
  for (guint i = 0; i < region->rings->len; i++)
    if (hf_region_ring(region, i)->from == NULL)
      return FALSE;
  return region->rings->len > 0;
}

HfRegion *
hf_region_offset(const HfRegion *region, double distance, double tolerance)
{
  HfRegion *result = hf_region_offset_chords(region, distance, tolerance);
  if (has_sources(region)) {
    g_autoptr(HfTrace) trace = hf_trace_new(region, MAX(fabs(distance), 0.2));
    hf_trace_offset(trace, result, distance, tolerance);
  }
  return result;
}

/* ---- measures ------------------------------------------------------------------------------ */

gboolean
hf_region_is_empty(const HfRegion *region)
{
  return region->rings->len == 0;
}

guint
hf_region_n_edges(const HfRegion *region)
{
  guint n = 0;
  for (guint i = 0; i < region->rings->len; i++)
    n += hf_region_ring(region, i)->n;
  return n;
}

HfBox
hf_ring_box(const HfRing *ring)
{
  if (ring->n == 0)
    return HF_BOX_EMPTY;
  HfGrid min = ring->at[0], max = min;
  for (guint i = 1; i < ring->n; i++) {
    min.x = MIN(min.x, ring->at[i].x);
    min.y = MIN(min.y, ring->at[i].y);
    max.x = MAX(max.x, ring->at[i].x);
    max.y = MAX(max.y, ring->at[i].y);
  }
  return (HfBox){hf_grid_point(min), hf_grid_point(max)};
}

HfBox
hf_region_box(const HfRegion *region)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < region->rings->len; i++)
    box = hf_box_union(box, hf_ring_box(hf_region_ring(region, i)));
  return box;
}

/* Twice the area and six times the moment about the first vertex, in mm. */
static double
ring_moments(const HfRing *ring, HfPoint *ret_moment)
{
  HfPoint o = hf_grid_point(ring->at[0]), moment = {0, 0};
  double twice = 0;
  for (guint i = 1; i + 1 < ring->n; i++) {
    HfPoint a = hf_point_sub(hf_grid_point(ring->at[i]), o),
            b = hf_point_sub(hf_grid_point(ring->at[i + 1]), o);
    double w = hf_point_cross(a, b);
    twice += w;
    moment = hf_point_add(moment, hf_point_scale(hf_point_add(a, b), w));
  }
  *ret_moment = hf_point_add(moment, hf_point_scale(o, 3 * twice));
  return twice;
}

double
hf_ring_area(const HfRing *ring)
{
  HfPoint moment;
  return ring_moments(ring, &moment) / 2;
}

double
hf_ring_perimeter(const HfRing *ring)
{
  double length = 0;
  for (guint i = 0; i < ring->n; i++)
    length +=
        hf_point_distance(hf_grid_point(ring->at[i]), hf_grid_point(ring->at[(i + 1) % ring->n]));
  return length;
}

double
hf_region_area(const HfRegion *region)
{
  double area = 0;
  for (guint i = 0; i < region->rings->len; i++)
    area += hf_ring_area(hf_region_ring(region, i));
  return area;
}

double
hf_region_perimeter(const HfRegion *region)
{
  double length = 0;
  for (guint i = 0; i < region->rings->len; i++)
    length += hf_ring_perimeter(hf_region_ring(region, i));
  return length;
}

HfPoint
hf_region_centroid(const HfRegion *region)
{
  HfPoint sum = {0, 0};
  double twice = 0;
  for (guint i = 0; i < region->rings->len; i++) {
    HfPoint moment;
    twice += ring_moments(hf_region_ring(region, i), &moment);
    sum = hf_point_add(sum, moment);
  }
  return twice == 0 ? hf_point(NAN, NAN) : hf_point_scale(sum, 1 / (3 * twice));
}

/* Winding number of the ring about p, by counting signed crossings of the ray to the right. */
/* Whole grid units round a height: an edge with both ends above, or both below, does not cross it,
 * which most don't; so they need not be divided into mm. */
typedef struct {
  double low, high;
} Level;

static Level
level_of(double y)
{
  return (Level){floor(y * HF_GRID_PER_MM) - 1, ceil(y * HF_GRID_PER_MM) + 1};
}

static gboolean
is_off(Level level, HfGrid a, HfGrid b)
{
  return (a.y > level.high && b.y > level.high) || (a.y < level.low && b.y < level.low);
}

static int
ring_winding(const HfRing *ring, HfPoint p)
{
  int winding = 0;
  Level level = level_of(p.y);
  for (guint i = 0; i < ring->n; i++) {
    guint next = i + 1 < ring->n ? i + 1 : 0;
    if (is_off(level, ring->at[i], ring->at[next]))
      continue;
    HfPoint a = hf_grid_point(ring->at[i]), b = hf_grid_point(ring->at[next]);
    if ((a.y <= p.y) == (b.y <= p.y))
      continue;
    double side = hf_point_cross(hf_point_sub(b, a), hf_point_sub(p, a));
    if (b.y > a.y && side > 0)
      winding++;
    else if (b.y < a.y && side < 0)
      winding--;
  }
  return winding;
}

gboolean
hf_region_contains(const HfRegion *region, HfPoint p)
{
  int winding = 0;
  for (guint i = 0; i < region->rings->len; i++)
    winding += ring_winding(hf_region_ring(region, i), p);
  return winding != 0;
}

HfRegion *
hf_region_part(const HfRegion *region, guint outer)
{
  HfRegion *part = hf_region_new();
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (i == outer)
      add_ring(part, ring->at, ring->from, ring->n, -1);
  }
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (ring->parent == (gint)outer)
      add_ring(part, ring->at, ring->from, ring->n, 0);
  }
  return part;
}

gboolean
hf_ring_holds(const HfRing *ring, HfPoint p)
{
  gboolean inside = FALSE;
  Level level = level_of(p.y);
  HfGrid before = ring->at[ring->n - 1];
  for (guint v = 0; v < ring->n; v++) {
    HfGrid here = ring->at[v];
    if (!is_off(level, before, here)) {
      HfPoint a = hf_grid_point(before), b = hf_grid_point(here);
      if ((a.y > p.y) != (b.y > p.y) && p.x - a.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
        inside = !inside;
    }
    before = here;
  }
  return inside;
}

HfRegion *
hf_region_turned(const HfRegion *region)
{
  HfRegion *turned = hf_region_new();
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    g_autofree HfGrid *at = g_new(HfGrid, ring->n);
    for (guint v = 0; v < ring->n; v++)
      at[v] = ring->at[ring->n - 1 - v];
    hf_region_add_ring(turned, at, NULL, ring->n);
  }
  return turned;
}
