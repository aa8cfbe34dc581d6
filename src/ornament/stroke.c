/* SPDX-License-Identifier: GPL-3.0-or-later
 * stroke.c - a line with a width that changes along it, as an outline of cubics.
 *
 *     left side  .-----.            Each side is the line moved by its half width; between
 *   (    o---o---o---o    )         points of it a cubic with the side's own direction and speed
 *     right side `-----'            at both ends (Hermite), so that pieces meet smoothly.
 */
#include "ornament/kit-private.h"

#define STEP 1e-5 /* of t: for differences */

static HfPoint
line_speed(const HfStroke *stroke, double t)
{
  HfPoint a = stroke->at(t - STEP, stroke->data), b = stroke->at(t + STEP, stroke->data);
  return hf_point_scale(hf_point_sub(b, a), 1 / (2 * STEP));
}

double
hf_kit_stroke_way(const HfStroke *stroke, double t)
{
  return hf_angle_of(line_speed(stroke, t));
}

static HfPoint
side_at(const HfStroke *stroke, double t, double side)
{
  HfPoint way = line_speed(stroke, t);
  double by = side * stroke->half(t, stroke->data) / hf_point_length(way);
  return hf_point_add(stroke->at(t, stroke->data), hf_point(-way.y * by, way.x * by));
}

static HfPoint
side_speed(const HfStroke *stroke, double t, double side)
{
  const double step = 1e-4;
  HfPoint a = side_at(stroke, t - step, side), b = side_at(stroke, t + step, side);
  return hf_point_scale(hf_point_sub(b, a), 1 / (2 * step));
}

/* Runs along one side; @side +1 is the left one. From the pen, which is at t = from. */
static void
run_side(HfOutline *own, const HfStroke *stroke, double from, double to, double side)
{
  double h = (to - from) / stroke->pieces;
  for (guint i = 0; i < stroke->pieces; i++) {
    double a = from + h * i, b = from + h * (i + 1);
    HfPoint p0 = side_at(stroke, a, side), p1 = side_at(stroke, b, side);
    HfPoint d0 = hf_point_scale(side_speed(stroke, a, side), h / 3);
    HfPoint d1 = hf_point_scale(side_speed(stroke, b, side), h / 3);
    hf_outline_cubic_to(own, hf_point_add(p0, d0), hf_point_sub(p1, d1), p1);
  }
}

static void
add_counter_clockwise(HfOutline *to, HfOutline *own)
{
  if (hf_outline_area(own) < 0)
    hf_outline_reverse(own);
  hf_outline_append(to, own, HF_MATRIX_IDENTITY);
}

void
hf_kit_stroke(HfOutline *own, const HfStroke *stroke)
{
  g_autoptr(HfOutline) contour = hf_outline_new();
  HfPoint end = stroke->at(1, stroke->data), start = stroke->at(0, stroke->data);
  hf_outline_begin(contour, side_at(stroke, 0, -1));
  run_side(contour, stroke, 0, 1, -1);
  hf_outline_arc_to(contour, end, G_PI, side_at(stroke, 1, 1));
  run_side(contour, stroke, 1, 0, 1);
  hf_outline_arc_to(contour, start, G_PI, side_at(stroke, 0, -1));
  hf_outline_close(contour);
  add_counter_clockwise(own, contour);
}

/* ---- spirals -------------------------------------------------------------------------------- */

/* Gauss-Legendre, 5 points on -1..1 (Abramowitz and Stegun, table 25.4). */
static const double node[] = {-0.906179845938664, -0.538469310105683, 0, 0.538469310105683,
                              0.906179845938664};
static const double weight[] = {0.236926885056189, 0.478628670499366, 0.568888888888889,
                                0.478628670499366, 0.236926885056189};
enum { PANELS = 12 };

/* The direction after s is way + k0 s + (k1 - k0) s^2 / (2 length); its place the integral. */
HfPoint
hf_kit_spiral_at(double t, gconstpointer data)
{
  const HfSpiral *spiral = (const HfSpiral *)data;
  double panel = t * spiral->length / PANELS;
  HfPoint sum = {0, 0};
  for (int i = 0; i < PANELS; i++)
    for (int k = 0; k < 5; k++) {
      double s = panel * (i + (node[k] + 1) / 2);
      double way =
          spiral->way + spiral->k0 * s + (spiral->k1 - spiral->k0) * s * s / (2 * spiral->length);
      sum.x += weight[k] * cos(way);
      sum.y += weight[k] * sin(way);
    }
  return hf_point_add(spiral->from, hf_point_scale(sum, panel / 2));
}

double
hf_kit_spiral_half(double t, gconstpointer data)
{
  const HfSpiral *spiral = (const HfSpiral *)data;
  double share = t * t * (3 - 2 * t);
  return spiral->half0 + (spiral->half1 - spiral->half0) * share;
}

HfPoint
hf_kit_spiral(HfOutline *own, const HfSpiral *spiral)
{
  double turn = fabs(spiral->k0 + spiral->k1) / 2 * spiral->length;
  HfStroke stroke = {hf_kit_spiral_at, hf_kit_spiral_half, spiral, 4 + (guint)(turn * 3)};
  hf_kit_stroke(own, &stroke);
  return hf_kit_spiral_at(1, spiral);
}
