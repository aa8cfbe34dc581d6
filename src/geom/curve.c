/* SPDX-License-Identifier: GPL-3.0-or-later
 * curve.c - one true curve: points, boxes, pieces, and how finely to flatten it.
 *
 *   flattening      chord          sagitta of an arc:  r (1 - cos (step / 2)) <= tolerance
 *            p0 o-----------o p1   of a cubic:         |B''| / (8 n^2)       <= tolerance
 *                 `-.___.-'
 *
 * |B''| of a cubic is linear in t, so it is largest at an end: 6 |p0 - 2 c0 + c1| or
 * 6 |c0 - 2 c1 + p1| (chord error of a twice differentiable curve, any book on splines; from
 * memory). Boxes are exact up to rounding: ends and the places where a coordinate stands still,
 * roots of a quadratic by the form that does not cancel. Pieces of a cubic by its blossom.
 *
 * Limits: an arc smaller than the tolerance is one chord, but a turn of a third or more never is;
 * a curve of no length has one step and the box of its point.
 */
#include "geom/outline.h"

enum { MOST_STEPS = 4096 };

double
hf_curve_radius(const HfCurve *arc)
{
  return hf_point_distance(arc->p0, arc->c0);
}

static double
arc_angle(const HfCurve *arc, double t)
{
  return hf_angle_of(hf_point_sub(arc->p0, arc->c0)) + arc->sweep * t;
}

HfPoint
hf_curve_point(const HfCurve *c, double t)
{
  if (t <= 0)
    return c->p0;
  if (t >= 1)
    return c->p1;
  switch (c->kind) {
  case HF_CURVE_LINE:
    return hf_point_mix(c->p0, c->p1, t);
  case HF_CURVE_ARC:
    return hf_point_polar(c->c0, hf_curve_radius(c), arc_angle(c, t));
  case HF_CURVE_CUBIC: {
    double u = 1 - t, a = u * u * u, b = 3 * u * u * t, d = 3 * u * t * t, e = t * t * t;
    return hf_point(a * c->p0.x + b * c->c0.x + d * c->c1.x + e * c->p1.x,
                    a * c->p0.y + b * c->c0.y + d * c->c1.y + e * c->p1.y);
  }
  }
  g_assert_not_reached();
}

HfPoint
hf_curve_derivative(const HfCurve *c, double t)
{
  switch (c->kind) {
  case HF_CURVE_LINE:
    return hf_point_sub(c->p1, c->p0);
  case HF_CURVE_ARC: {
    double a = arc_angle(c, t), r = hf_curve_radius(c);
    return hf_point(-r * sin(a) * c->sweep, r * cos(a) * c->sweep);
  }
  case HF_CURVE_CUBIC: {
    double u = 1 - t;
    HfPoint d0 = hf_point_sub(c->c0, c->p0), d1 = hf_point_sub(c->c1, c->c0),
            d2 = hf_point_sub(c->p1, c->c1);
    return hf_point(3 * (u * u * d0.x + 2 * u * t * d1.x + t * t * d2.x),
                    3 * (u * u * d0.y + 2 * u * t * d1.y + t * t * d2.y));
  }
  }
  g_assert_not_reached();
}

HfPoint
hf_curve_second_derivative(const HfCurve *c, double t)
{
  if (c->kind == HF_CURVE_LINE)
    return hf_point(0, 0);
  if (c->kind == HF_CURVE_ARC) {
    HfPoint r = hf_point_sub(hf_curve_point(c, t), c->c0);
    return hf_point_scale(r, -c->sweep * c->sweep);
  }
  HfPoint a = hf_point_add(hf_point_sub(c->p0, hf_point_scale(c->c0, 2)), c->c1);
  HfPoint b = hf_point_add(hf_point_sub(c->c0, hf_point_scale(c->c1, 2)), c->p1);
  return hf_point_scale(hf_point_mix(a, b, t), 6);
}

/* Adds the points where one coordinate's derivative a t^2 + b t + c vanishes. */
static HfBox
add_extrema(HfBox box, const HfCurve *curve, double a, double b, double c)
{
  double root[2];
  int n = 0;
  if (fabs(a) < 1e-12 * (fabs(b) + fabs(c))) {
    if (b != 0)
      root[n++] = -c / b;
  } else if (b * b - 4 * a * c >= 0) {
    double q = -0.5 * (b + copysign(sqrt(b * b - 4 * a * c), b));
    root[n++] = q / a;
    if (q != 0)
      root[n++] = c / q;
  }
  for (int i = 0; i < n; i++)
    if (root[i] > 0 && root[i] < 1)
      box = hf_box_add_point(box, hf_curve_point(curve, root[i]));
  return box;
}

static HfBox
arc_box(const HfCurve *c, HfBox box)
{
  double from = arc_angle(c, 0), r = hf_curve_radius(c);
  for (int quarter = 0; quarter < 4; quarter++) {
    double turn = fmod(quarter * G_PI_2 - from, 2 * G_PI);
    if (c->sweep > 0 && turn < 0)
      turn += 2 * G_PI;
    if (c->sweep < 0 && turn > 0)
      turn -= 2 * G_PI;
    static const HfPoint out[4] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    if (fabs(turn) < fabs(c->sweep))
      box = hf_box_add_point(box, hf_point_add(c->c0, hf_point_scale(out[quarter], r)));
  }
  return box;
}

HfBox
hf_curve_box(const HfCurve *c)
{
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, c->p0), c->p1);
  if (c->kind == HF_CURVE_ARC)
    return arc_box(c, box);
  if (c->kind == HF_CURVE_LINE)
    return box;
  HfPoint d0 = hf_point_sub(c->c0, c->p0), d1 = hf_point_sub(c->c1, c->c0),
          d2 = hf_point_sub(c->p1, c->c1);
  box = add_extrema(box, c, d0.x - 2 * d1.x + d2.x, 2 * (d1.x - d0.x), d0.x);
  return add_extrema(box, c, d0.y - 2 * d1.y + d2.y, 2 * (d1.y - d0.y), d0.y);
}

/* de Casteljau's blossom: the control point of the piece for arguments a, b, c. */
static HfPoint
blossom(const HfCurve *q, double a, double b, double c)
{
  HfPoint p01 = hf_point_mix(q->p0, q->c0, a), p12 = hf_point_mix(q->c0, q->c1, a),
          p23 = hf_point_mix(q->c1, q->p1, a);
  return hf_point_mix(hf_point_mix(p01, p12, b), hf_point_mix(p12, p23, b), c);
}

HfCurve
hf_curve_between(const HfCurve *curve, double t0, double t1)
{
  HfCurve piece = *curve;
  piece.p0 = hf_curve_point(curve, t0);
  piece.p1 = hf_curve_point(curve, t1);
  switch (curve->kind) {
  case HF_CURVE_LINE:
    piece.c0 = piece.c1 = piece.p1;
    break;
  case HF_CURVE_ARC:
    piece.sweep = curve->sweep * (t1 - t0);
    break;
  case HF_CURVE_CUBIC:
    piece.c0 = blossom(curve, t0, t0, t1);
    piece.c1 = blossom(curve, t0, t1, t1);
    break;
  }
  return piece;
}

guint
hf_curve_steps(const HfCurve *c, double tolerance)
{
  g_assert(tolerance > 0);
  double n = 1;
  if (c->kind == HF_CURVE_ARC) {
    double r = hf_curve_radius(c);
    if (r > tolerance)
      n = ceil(fabs(c->sweep) / (2 * acos(1 - tolerance / r)));
    n = MAX(n, ceil(fabs(c->sweep) / (2 * G_PI / 3))); /* never less than a triangle */
  } else if (c->kind == HF_CURVE_CUBIC) {
    HfPoint a = hf_point_sub(hf_point_add(c->p0, c->c1), hf_point_scale(c->c0, 2));
    HfPoint b = hf_point_sub(hf_point_add(c->c0, c->p1), hf_point_scale(c->c1, 2));
    double bend = 6 * MAX(hf_point_length(a), hf_point_length(b));
    n = ceil(sqrt(bend / (8 * tolerance)));
  }
  return (guint)CLAMP(n, 1, MOST_STEPS);
}
