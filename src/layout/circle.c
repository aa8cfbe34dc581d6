/* SPDX-License-Identifier: GPL-3.0-or-later
 * circle.c - the smallest circle round true curves.
 *
 *        .--o--.       Smallest circle of a few points (incremental, after Welzl, Smallest
 * enclosing o  letter \     disks, LNCS 555, 1991); then the point of every curve that is farthest
 * from \       o      its centre; those that lie outside join the points; until none does. Each
 *        '-----'       round the circle grows, and only points that lie outside are added, so it
 *                      ends within 1e-9 of the smallest circle of the curves themselves.
 *
 * Its contacts never lie within one half of it: otherwise it could be moved towards them and
 * shrunk. docs/maths.md#fill-the-window
 */
#include "layout/initial-private.h"

enum { PIECES = 12, ROUNDS = 100, HALVINGS = 50 };

static const double OUTSIDE = 1e-9; /* of the radius */

typedef struct {
  HfPoint centre;
  double radius;
} Circle;

static gboolean
holds(const Circle *circle, HfPoint p)
{
  return hf_point_distance(circle->centre, p) <= circle->radius * (1 + OUTSIDE / 4);
}

static Circle
of_two(HfPoint a, HfPoint b)
{
  return (Circle){hf_point_mix(a, b, 0.5), hf_point_distance(a, b) / 2};
}

static Circle
of_three(HfPoint a, HfPoint b, HfPoint c)
{
  HfPoint ab = hf_point_sub(b, a), ac = hf_point_sub(c, a);
  double det = 2 * hf_point_cross(ab, ac), bb = hf_point_dot(ab, ab), cc = hf_point_dot(ac, ac);
  if (det == 0) { /* in line: the two farthest apart */
    Circle best = of_two(a, b), ac_circle = of_two(a, c), bc_circle = of_two(b, c);
    best = ac_circle.radius > best.radius ? ac_circle : best;
    return bc_circle.radius > best.radius ? bc_circle : best;
  }
  HfPoint centre = {(ac.y * bb - ab.y * cc) / det, (ab.x * cc - ac.x * bb) / det};
  return (Circle){hf_point_add(a, centre), hf_point_length(centre)};
}

static HfPoint
nth(const GArray *points, guint i)
{
  return g_array_index(points, HfPoint, i);
}

static Circle
through_two(const GArray *points, guint n, HfPoint p, HfPoint q)
{
  Circle circle = of_two(p, q);
  for (guint i = 0; i < n; i++)
    if (!holds(&circle, nth(points, i)))
      circle = of_three(p, q, nth(points, i));
  return circle;
}

static Circle
through_one(const GArray *points, guint n, HfPoint p)
{
  Circle circle = {p, 0};
  for (guint i = 0; i < n; i++)
    if (!holds(&circle, nth(points, i)))
      circle = through_two(points, i, p, nth(points, i));
  return circle;
}

static Circle
of_points(const GArray *points)
{
  Circle circle = {nth(points, 0), 0};
  for (guint i = 1; i < points->len; i++)
    if (!holds(&circle, nth(points, i)))
      circle = through_one(points, i, nth(points, i));
  return circle;
}

/* ---- the farthest point of a curve ---------------------------------------------------------- */

static double
leaving(const HfCurve *curve, HfPoint from, double t)
{
  return hf_point_dot(hf_point_sub(hf_curve_point(curve, t), from), hf_curve_derivative(curve, t));
}

static HfPoint
farthest_in(const HfCurve *curve, HfPoint from, double a, double b)
{
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (a + b) / 2;
    if (leaving(curve, from, middle) > 0)
      a = middle;
    else
      b = middle;
  }
  return hf_curve_point(curve, (a + b) / 2);
}

/* Adds those points of @curve that are farthest from the centre and lie outside. */
static guint
add_outside(GArray *points, const Circle *circle, const HfCurve *curve)
{
  guint before = points->len;
  if (!holds(circle, curve->p0))
    g_array_append_val(points, curve->p0);
  if (curve->kind == HF_CURVE_LINE)
    return points->len - before;
  for (int i = 0; i < PIECES; i++) {
    double a = (double)i / PIECES, b = (i + 1.0) / PIECES;
    if (leaving(curve, circle->centre, a) <= 0 || leaving(curve, circle->centre, b) >= 0)
      continue;
    HfPoint p = farthest_in(curve, circle->centre, a, b);
    if (!holds(circle, p))
      g_array_append_val(points, p);
  }
  return points->len - before;
}

static guint
add_all_outside(GArray *points, const Circle *circle, const GPtrArray *shapes)
{
  guint added = 0;
  for (guint i = 0; i < shapes->len; i++) {
    const GArray *curves = ((const HfShape *)g_ptr_array_index(shapes, i))->outline->curves;
    for (guint k = 0; k < curves->len; k++)
      added += add_outside(points, circle, &g_array_index(curves, HfCurve, k));
  }
  return added;
}

static gboolean
first_point(const GPtrArray *shapes, HfPoint *ret_point)
{
  for (guint i = 0; i < shapes->len; i++) {
    const GArray *curves = ((const HfShape *)g_ptr_array_index(shapes, i))->outline->curves;
    if (curves->len == 0)
      continue;
    *ret_point = g_array_index(curves, HfCurve, 0).p0;
    return TRUE;
  }
  return FALSE;
}

double
hf_smallest_circle(const GPtrArray *shapes, HfPoint *ret_centre)
{
  HfPoint first;
  *ret_centre = hf_point(0, 0);
  if (!first_point(shapes, &first))
    return 0;
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  g_array_append_val(points, first);
  Circle circle = of_points(points);
  for (int i = 0; i < ROUNDS && add_all_outside(points, &circle, shapes) > 0; i++)
    circle = of_points(points);
  *ret_centre = circle.centre;
  return circle.radius;
}
