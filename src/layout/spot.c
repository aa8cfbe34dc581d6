/* SPDX-License-Identifier: GPL-3.0-or-later
 * spot.c - a named place on an entry: its middle, an end, or where a direction leaves it.
 *
 *          ___^___            a ray from the middle is followed to the last curve that it meets;
 *         /   |   \           there the edge's own normal leads outward
 *        |    +----+->
 */
#include "base/text.h"
#include "layout/layout-private.h"

enum { RAY_PIECES = 24, HALVINGS = 60 };

/* Where the ray leaves the last of the curves met so far. */
typedef struct {
  HfPoint from, way; /* way: of length 1 */
  double reach;      /* mm along the ray; < 0: nothing met */
  double outward;
} Ray;

static double
side_of(const Ray *ray, HfPoint p)
{
  return hf_point_cross(ray->way, hf_point_sub(p, ray->from));
}

static void
ray_meets(Ray *ray, const HfCurve *curve, double t)
{
  double reach = hf_point_dot(ray->way, hf_point_sub(hf_curve_point(curve, t), ray->from));
  if (reach <= ray->reach)
    return;
  HfPoint along = hf_curve_derivative(curve, t);
  HfPoint normal = hf_point(along.y, -along.x);
  if (hf_point_dot(normal, ray->way) < 0)
    normal = hf_point_scale(normal, -1);
  ray->reach = reach;
  ray->outward = hf_point_length(normal) > 0 ? hf_angle_of(normal) : hf_angle_of(ray->way);
}

/* Between a and b the curve changes sides: halves down to the crossing. */
static double
crossing(const Ray *ray, const HfCurve *curve, double a, double b)
{
  double side_a = side_of(ray, hf_curve_point(curve, a));
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (a + b) / 2, side = side_of(ray, hf_curve_point(curve, middle));
    if ((side > 0) == (side_a > 0))
      a = middle;
    else
      b = middle;
  }
  return (a + b) / 2;
}

static void
ray_follow(Ray *ray, const HfCurve *curve)
{
  int n = curve->kind == HF_CURVE_LINE ? 1 : RAY_PIECES;
  for (int i = 0; i < n; i++) {
    double a = (double)i / n, b = (i + 1.0) / n;
    double side_a = side_of(ray, hf_curve_point(curve, a));
    double side_b = side_of(ray, hf_curve_point(curve, b));
    if ((side_a > 0) != (side_b > 0))
      ray_meets(ray, curve, crossing(ray, curve, a, b));
  }
}

static HfLaidSpot
edge_at(const HfLaid *laid, HfPoint from, double angle)
{
  Ray ray = {from, hf_point_polar(hf_point(0, 0), 1, angle), -1, angle};
  for (guint i = 0; i < laid->shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(laid->shapes, i);
    if (shape->copy != 0)
      continue;
    for (guint k = 0; k < shape->outline->curves->len; k++)
      ray_follow(&ray, &g_array_index(shape->outline->curves, HfCurve, k));
  }
  return (HfLaidSpot){hf_point_add(from, hf_point_scale(ray.way, MAX(ray.reach, 0))), ray.outward};
}

static double
frame_angle(HfMatrix frame)
{
  return atan2(frame.yx, frame.xx);
}

static HfLaidSpot
arch_end(const HfLaid *laid, HfMatrix frame, gboolean left)
{
  double side = left ? -1 : 1, strip = laid->outer - laid->inner;
  HfPoint end = hf_point(side * (laid->inner * sin(laid->span) + strip / 2), -laid->legs);
  double outward = -G_PI_2;
  if (laid->legs <= 0) { /* the strip ends square to its own curve */
    HfPoint centre = hf_point(0, -laid->inner * cos(laid->span));
    end = hf_point_polar(centre, (laid->inner + laid->outer) / 2, G_PI_2 - side * laid->span);
    outward = left ? G_PI + laid->span : -laid->span;
  }
  return (HfLaidSpot){hf_matrix_apply(frame, end), outward + frame_angle(frame)};
}

static HfLaidSpot
end_of(const HfLaying *laying, guint on, HfMatrix frame, gboolean left)
{
  const HfEntry *entry = hf_lay_entry(laying, on);
  const HfLaid *laid = &laying->laid[on];
  double outward = (left ? G_PI : 0) + frame_angle(frame);
  if (entry->kind == HF_ENTRY_ARCH)
    return arch_end(laid, frame, left);
  if (entry->kind == HF_ENTRY_BAR) {
    HfPoint end = hf_point(left ? laid->own.min.x : laid->own.max.x, hf_box_centre(laid->own).y);
    return (HfLaidSpot){hf_matrix_apply(frame, end), outward};
  }
  return edge_at(laid, laid->centre, outward);
}

static HfLaidSpot
towards(const HfLaying *laying, guint on, double angle, HfSpotOn where)
{
  const HfEntry *entry = hf_lay_entry(laying, on);
  const HfLaid *laid = &laying->laid[on];
  gboolean is_strip = entry->kind == HF_ENTRY_RING || entry->kind == HF_ENTRY_ARCH;
  if (entry->kind == HF_ENTRY_RING || laid->outer > 0) {
    double r =
        is_strip && where == HF_SPOT_ON_MIDDLE ? (laid->inner + laid->outer) / 2 : laid->outer;
    return (HfLaidSpot){hf_point_polar(laid->centre, r, angle), angle};
  }
  return edge_at(laid, laid->centre, angle);
}

HfLaidSpot
hf_lay_spot(const HfLaying *laying, guint on, HfSpot spot, HfSpotOn where)
{
  const HfLaid *laid = &laying->laid[on];
  HfMatrix frame = laid->frames->len > 0 ? g_array_index(laid->frames, HfMatrix, 0)
                                         : hf_matrix_move(laid->centre.x, laid->centre.y);
  HfPoint origin = hf_matrix_apply(frame, hf_point(0, 0));
  switch (spot.kind) {
  case HF_SPOT_POINT:
    return (HfLaidSpot){hf_matrix_apply(frame, spot.point), G_PI_2};
  case HF_SPOT_DIRECTION:
    return towards(laying, on, spot.angle, where);
  case HF_SPOT_LEFT_END:
  case HF_SPOT_RIGHT_END:
    return end_of(laying, on, frame, spot.kind == HF_SPOT_LEFT_END);
  default:
    return (HfLaidSpot){origin, G_PI_2};
  }
}

gboolean
hf_lay_has_spot(const HfLaying *laying, guint entry, guint on, HfSpot spot, GError **error)
{
  const HfLaid *laid = &laying->laid[on];
  if (spot.kind != HF_SPOT_DIRECTION || laid->span <= 0 || laid->frames->len == 0)
    return TRUE;
  double middle = G_PI_2 + frame_angle(g_array_index(laid->frames, HfMatrix, 0));
  if (fabs(remainder(spot.angle - middle, 2 * G_PI)) <= laid->span)
    return TRUE;
  g_autofree char *from = hf_text_number((middle - laid->span) * 180 / G_PI, 1);
  g_autofree char *to = hf_text_number((middle + laid->span) * 180 / G_PI, 1);
  g_autofree char *fix =
      g_strdup_printf("choose one between %s and %s deg, or 'left end', 'right end'", from, to);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                       "the strip of \"%s\" does not run in that direction",
                       hf_lay_entry(laying, on)->name);
}
