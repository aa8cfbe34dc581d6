/* SPDX-License-Identifier: GPL-3.0-or-later
 * course-lines.c - the lines that a recipe says: ellipse, wave, the edge of something, a smooth
 * curve through points.
 *
 * The curve through points is the natural cubic spline: of all curves through them that bend
 * without a jump, the one with the least square of its second derivative (C. de Boor, A Practical
 * Guide to Splines, ch. V; from memory). Its parameter grows by the root of the distance from point
 * to point, centripetal (E. Lee, Choosing nodes in parametric curve interpolation, CAD 21, 1989;
 * from memory), so that it makes no loops between points that lie close together.
 */
#include "layout/course-private.h"

HfCourse *
hf_course_ellipse(double wide, double high, gboolean inward)
{
  HfCourse *course = hf_course_new();
  double turn =
      inward ? G_PI / 2 : -G_PI / 2; /* outward: clockwise, so that tops are to the left */
  for (int quarter = 0; quarter < 4; quarter++)
    hf_course_add_ellipse(course, wide / 2, high / 2, G_PI + quarter * turn,
                          G_PI + (quarter + 1) * turn);
  hf_course_close(course);
  return course;
}

HfCourse *
hf_course_wave(double high, double length, double reach)
{
  HfCourse *course = hf_course_new();
  int quarters = (int)ceil(reach / (length / 4));
  for (int i = -quarters; i < quarters; i++)
    hf_course_add_wave(course, high / 2, 2 * G_PI / length, i * length / 4, (i + 1) * length / 4);
  return course;
}

HfCourse *
hf_course_contour(const HfOutline *outline, guint contour, gboolean inward)
{
  HfCourse *course = hf_course_new();
  guint n;
  const HfCurve *curve = hf_outline_contour(outline, contour, &n);
  for (guint i = 0; i < n; i++) {
    HfCurve own = inward ? curve[i] : hf_curve_between(&curve[n - 1 - i], 1, 0);
    hf_course_add_curve(course, &own);
  }
  hf_course_close(course);
  return course;
}

/* ---- through points ------------------------------------------------------------------------- */

/* Second derivatives M at the points: h[i-1] M[i-1] + 2 (h[i-1] + h[i]) M[i] + h[i] M[i+1] =
 * 6 (slope[i] - slope[i-1]), none at the ends; three diagonals, solved from the one end and back.
 */
static void
solve_bends(const HfPoint *points, const double *h, guint n, HfPoint *bends)
{
  g_autofree double *upper = g_new0(double, n);
  bends[0] = bends[n - 1] = hf_point(0, 0);
  for (guint i = 1; i + 1 < n; i++) {
    HfPoint in = hf_point_scale(hf_point_sub(points[i], points[i - 1]), 1 / h[i - 1]);
    HfPoint out = hf_point_scale(hf_point_sub(points[i + 1], points[i]), 1 / h[i]);
    HfPoint right = hf_point_scale(hf_point_sub(out, in), 6);
    double diagonal = 2 * (h[i - 1] + h[i]) - h[i - 1] * upper[i - 1];
    upper[i] = h[i] / diagonal;
    right = hf_point_sub(right, hf_point_scale(bends[i - 1], h[i - 1]));
    bends[i] = hf_point_scale(right, 1 / diagonal);
  }
  for (guint i = n - 1; i-- > 1;)
    bends[i] = hf_point_sub(bends[i], hf_point_scale(bends[i + 1], upper[i]));
}

/* The cubic between two points as a Bezier: its handles are a third of the end derivatives. */
static HfCurve
piece(HfPoint p, HfPoint q, HfPoint m, HfPoint next_m, double h)
{
  HfPoint step = hf_point_sub(q, p);
  HfPoint out = hf_point_scale(hf_point_add(hf_point_scale(m, 2), next_m), h * h / 18);
  HfPoint in = hf_point_scale(hf_point_add(m, hf_point_scale(next_m, 2)), h * h / 18);
  HfPoint third = hf_point_scale(step, 1.0 / 3);
  return (HfCurve){.kind = HF_CURVE_CUBIC,
                   .p0 = p,
                   .p1 = q,
                   .c0 = hf_point_sub(hf_point_add(p, third), out),
                   .c1 = hf_point_sub(hf_point_sub(q, third), in)};
}

HfCourse *
hf_course_through(const HfPoint *points, guint n)
{
  HfCourse *course = hf_course_new();
  g_autofree double *h = g_new0(double, n);
  g_autofree HfPoint *bends = g_new0(HfPoint, n);
  for (guint i = 0; i + 1 < n; i++)
    h[i] = sqrt(hf_point_distance(points[i], points[i + 1]));
  solve_bends(points, h, n, bends);
  for (guint i = 0; i + 1 < n; i++) {
    HfCurve curve = piece(points[i], points[i + 1], bends[i], bends[i + 1], h[i]);
    hf_course_add_curve(course, &curve);
  }
  return course;
}
