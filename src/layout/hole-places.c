/* SPDX-License-Identifier: GPL-3.0-or-later
 * hole-places.c - holes in the corners of a plate, or evenly round its edge.
 *
 *      +------------------+      corner: where two sides meet at the angle a, the middle lies on
 * its | o   <- d       o |      bisector, d / sin(a / 2) from it, so d from both. A rounded corner
 *      |                  |      counts as the sharp one that it rounds off
 *      | o              o |
 *      +------------------+      edge: equal lengths along the edge moved d inside, from the top on
 *
 * docs/maths.md#holes-in-corners
 */
#include "base/text.h"
#include "geom/clear.h"
#include "layout/hole-private.h"
#include "layout/plate-private.h"

#define CORNER (20 * G_PI / 180) /* a turn by less is none; ours */
#define CLOSE  1e-6              /* mm */
enum { ROUNDS = 40 };

/* The plate or bar with its corners sharp, about its own middle. (transfer full) (nullable) */
static HfOutline *
sharp_outline(HfLaying *laying, guint on, GError **error)
{
  const HfEntry *ground = hf_lay_entry(laying, on);
  g_autoptr(HfOutline) own = hf_outline_new();
  if (ground->kind == HF_ENTRY_BAR || ground->kind == HF_ENTRY_PLATE) {
    HfBox box = laying->laid[on].own;
    HfPlateEntry plate = ground->plate;
    if (ground->kind == HF_ENTRY_BAR || plate.shape == HF_PLATE_RECTANGLE ||
        plate.shape == HF_PLATE_ROUNDED) {
      hf_outline_add_rectangle(own, box, 0);
      return g_steal_pointer(&own);
    }
    plate.corner = NAN;
    plate.width = isnan(plate.width) ? hf_box_width(box) : plate.width;
    plate.height = isnan(plate.height) ? hf_box_height(box) : plate.height;
    gboolean sized = plate.shape != HF_PLATE_OUTLINE &&
                     (plate.shape != HF_PLATE_POLYGON || !isnan(plate.diameter));
    if (sized && !hf_plate_draw(laying, on, &plate, own, error))
      return NULL;
  }
  return g_steal_pointer(&own);
}

static double
turn_between(const HfCurve *in, const HfCurve *out)
{
  HfPoint a = hf_curve_derivative(in, 1), b = hf_curve_derivative(out, 0);
  return atan2(hf_point_cross(a, b), hf_point_dot(a, b));
}

/* Along the bisector, so far that the nearest edge is @inset away: at once where both sides are
 * straight. */
static HfPoint
inside_corner(const HfClear *edge, HfPoint corner, HfPoint inward, double far, double inset)
{
  HfPoint at = corner;
  for (int i = 0; i < ROUNDS; i++) {
    at = hf_point_add(corner, hf_point_scale(inward, far));
    double clear = hf_clear_point(edge, at);
    if (!(clear > 0) || fabs(clear - inset) < CLOSE)
      break;
    far *= inset / clear;
  }
  return at;
}

/* Curves that rounding has left between two others have no direction. */
static GArray *
curves_of(const HfOutline *sharp)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  for (guint i = 0; i < sharp->curves->len; i++) {
    const HfCurve *curve = &g_array_index(sharp->curves, HfCurve, i);
    if (curve->kind != HF_CURVE_LINE || hf_point_distance(curve->p0, curve->p1) > CLOSE)
      g_array_append_val(all, *curve);
  }
  return all;
}

/* Every corner that points outward. */
static void
add_corners(const HfOutline *sharp, double inset, GArray *points)
{
  g_autoptr(GArray) curves = curves_of(sharp);
  g_autoptr(HfClear) edge = hf_clear_new(sharp);
  for (guint i = 0; i < curves->len; i++) {
    const HfCurve *in = &g_array_index(curves, HfCurve, i);
    const HfCurve *out = &g_array_index(curves, HfCurve, (i + 1) % curves->len);
    double turn = turn_between(in, out);
    if (turn < CORNER)
      continue;
    HfPoint back = hf_curve_derivative(in, 1), on = hf_curve_derivative(out, 0);
    HfPoint inward = hf_point_sub(hf_point_scale(on, 1 / hf_point_length(on)),
                                  hf_point_scale(back, 1 / hf_point_length(back)));
    inward = hf_point_scale(inward, 1 / hf_point_length(inward));
    /* half the angle inside is (pi - turn) / 2 */
    HfPoint at = inside_corner(edge, out->p0, inward, inset / cos(turn / 2), inset);
    g_array_append_val(points, at);
  }
}

/* ---- round the edge
 * ------------------------------------------------------------------------------ */

/* The largest ring of the plate's region moved inward; %NULL: nothing is left of it. */
static const HfRing *
largest_ring(const HfRegion *region)
{
  const HfRing *best = NULL;
  for (guint i = 0; i < region->rings->len; i++)
    if (best == NULL || hf_ring_area(hf_region_ring(region, i)) > hf_ring_area(best))
      best = hf_region_ring(region, i);
  return best;
}

/* The vertex that lies highest, and of those nearest to the middle. */
static HfPoint
top_of(const HfRing *ring, guint *ret_edge)
{
  HfBox box = hf_ring_box(ring);
  double middle = hf_box_centre(box).x, highest = -INFINITY;
  HfPoint top = {0, 0};
  for (guint i = 0; i < ring->n; i++) {
    HfPoint a = hf_grid_point(ring->at[i]), b = hf_grid_point(ring->at[(i + 1) % ring->n]);
    if ((a.x > middle) == (b.x > middle))
      continue;
    double t = (middle - a.x) / (b.x - a.x), y = a.y + t * (b.y - a.y);
    if (y > highest) {
      highest = y;
      top = hf_point(middle, y);
      *ret_edge = i;
    }
  }
  return top;
}

/* @count points, equal lengths apart, clockwise from the top. */
static void
add_round(const HfRing *ring, int count, GArray *points)
{
  guint edge = 0;
  HfPoint at = top_of(ring, &edge);
  double step = hf_ring_perimeter(ring) / count, left = 0;
  g_array_append_val(points, at);
  for (int i = 1; i < count; i++) {
    left = step;
    for (;;) { /* the ring runs counter-clockwise: backwards along it */
      HfPoint next = hf_grid_point(ring->at[edge]);
      double length = hf_point_distance(at, next);
      if (length >= left && length > 0) {
        at = hf_point_mix(at, next, left / length);
        break;
      }
      left -= length;
      at = next;
      edge = (edge + ring->n - 1) % ring->n;
    }
    g_array_append_val(points, at);
  }
}

static gboolean
find_round(HfLaying *laying, guint entry, guint on, GArray *points, GError **error)
{
  const HfHoleEntry *hole = &hf_lay_entry(laying, entry)->hole;
  const HfLaid *ground = &laying->laid[on];
  g_autoptr(HfOutline) edge = hf_outline_new();
  for (guint i = 0; i < ground->shapes->len; i++)
    hf_outline_append(edge, ((const HfShape *)g_ptr_array_index(ground->shapes, i))->outline,
                      HF_MATRIX_IDENTITY);
  g_autoptr(HfRegion) region = hf_region_of_outline(edge, HF_NO_SHAPE, HF_FLATTEN_MM);
  g_autoptr(HfRegion) inside = hf_region_offset(region, -hole->edge, HF_FLATTEN_MM);
  const HfRing *ring = largest_ring(inside);
  if (ring == NULL)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM, "take them nearer to the edge",
                         "so far inside the edge of \"%s\" there is nothing left of it",
                         hf_lay_entry(laying, on)->name);
  add_round(ring, hole->count, points);
  return TRUE;
}

/* ---- the entry
 * ------------------------------------------------------------------------------------ */

gboolean
hf_hole_has_pattern(const HfHoleEntry *hole)
{
  return !isnan(hole->corners) || !isnan(hole->edge);
}

static gboolean
find_corners(HfLaying *laying, guint entry, guint on, GArray *points, GError **error)
{
  const HfLaid *ground = &laying->laid[on];
  g_autoptr(HfOutline) sharp = sharp_outline(laying, on, error);
  if (sharp == NULL)
    return FALSE;
  add_corners(sharp, hf_lay_entry(laying, entry)->hole.corners, points);
  if (points->len == 0)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "say where with 'at', or 'from edge: 20 mm, count: 4'",
                         "\"%s\" has no corners", hf_lay_entry(laying, on)->name);
  for (guint i = 0; i < points->len; i++) {
    HfPoint *at = &g_array_index(points, HfPoint, i);
    *at = hf_matrix_apply(g_array_index(ground->frames, HfMatrix, 0), *at);
  }
  return TRUE;
}

gboolean
hf_hole_frames(HfLaying *laying, guint entry, HfBox own, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  HfLaid *laid = &laying->laid[entry];
  guint on;
  hf_lay_named(laying, e->place.on, &on);
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  if (!(isnan(e->hole.corners) ? find_round(laying, entry, on, points, error)
                               : find_corners(laying, entry, on, points, error)))
    return FALSE;
  for (guint i = 0; i < points->len; i++) {
    HfPoint at = hf_point_add(g_array_index(points, HfPoint, i), hf_place_shift(&e->place));
    HfMatrix frame = hf_matrix_move(at.x, at.y);
    g_array_append_val(laid->frames, frame);
  }
  laid->own = own;
  laid->centre = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, 0), hf_point(0, 0));
  return TRUE;
}
