/* SPDX-License-Identifier: GPL-3.0-or-later
 * kit.c - rounded polygons, paths from tables, strips: what the drawings are put together from.
 */
#include "ornament/kit-private.h"

/* Adds the one contour that @own holds to @to, counter-clockwise; clockwise when it is a hole. */
static void
add_wound(HfOutline *to, HfOutline *own, gboolean hole)
{
  if ((hf_outline_area(own) < 0) != hole)
    hf_outline_reverse(own);
  hf_outline_append(to, own, HF_MATRIX_IDENTITY);
}

/* ---- paths ---------------------------------------------------------------------------------- */

static double
arc_sweep(HfPoint from, HfPoint centre, HfPoint to, double way)
{
  double sweep = hf_angle_of(hf_point_sub(to, centre)) - hf_angle_of(hf_point_sub(from, centre));
  while (way > 0 && sweep <= 0)
    sweep += 2 * G_PI;
  while (way < 0 && sweep >= 0)
    sweep -= 2 * G_PI;
  return sweep;
}

static HfPoint
run_path(HfOutline *own, const HfStep *steps)
{
  HfPoint pen = {0, 0};
  for (; steps->how != 0; steps++) {
    const double *x = steps->x;
    HfPoint to = {x[0], x[1]};
    if (steps->how == 'M') {
      hf_outline_begin(own, to);
    } else if (steps->how == 'L') {
      hf_outline_line_to(own, to);
    } else if (steps->how == 'C') {
      to = hf_point(x[4], x[5]);
      hf_outline_cubic_to(own, hf_point(x[0], x[1]), hf_point(x[2], x[3]), to);
    } else {
      HfPoint centre = to;
      to = hf_point(x[3], x[4]);
      hf_outline_arc_to(own, centre, arc_sweep(pen, centre, to, x[2]), to);
    }
    pen = to;
  }
  return pen;
}

void
hf_kit_path(HfOutline *own, const HfStep *steps)
{
  g_autoptr(HfOutline) contour = hf_outline_new();
  run_path(contour, steps);
  hf_outline_close(contour);
  add_wound(own, contour, FALSE);
}

/* The curve mirrored and run the other way. */
static void
mirror_back(HfOutline *own, const HfCurve *curve)
{
  HfPoint to = hf_point(-curve->p0.x, curve->p0.y);
  HfPoint c0 = hf_point(-curve->c0.x, curve->c0.y), c1 = hf_point(-curve->c1.x, curve->c1.y);
  if (curve->kind == HF_CURVE_CUBIC)
    hf_outline_cubic_to(own, c1, c0, to);
  else if (curve->kind == HF_CURVE_ARC)
    hf_outline_arc_to(own, c0, curve->sweep, to);
  else
    hf_outline_line_to(own, to);
}

void
hf_kit_half(HfOutline *own, const HfStep *steps)
{
  g_autoptr(HfOutline) contour = hf_outline_new();
  run_path(contour, steps);
  guint n = contour->curves->len;
  for (guint i = n; i > 0; i--) {
    HfCurve curve = g_array_index(contour->curves, HfCurve, i - 1);
    mirror_back(contour, &curve);
  }
  hf_outline_close(contour);
  add_wound(own, contour, FALSE);
}

void
hf_kit_both(HfOutline *own, HfOutline *half)
{
  hf_outline_append(own, half, HF_MATRIX_IDENTITY);
  hf_outline_reverse(half);
  hf_outline_append(own, half, hf_matrix_scale(-1, 1));
}

/* ---- polygons ------------------------------------------------------------------------------- */

static HfPoint
unit(HfPoint from, HfPoint to)
{
  HfPoint way = hf_point_sub(to, from);
  double length = hf_point_length(way);
  return length > 0 ? hf_point_scale(way, 1 / length) : hf_point(0, 0);
}

/* A corner with as much of @radius as half its shorter side allows. */
static void
corner(HfOutline *own, HfPoint before, HfPoint at, HfPoint after, double radius, gboolean first)
{
  HfPoint in = unit(before, at), out = unit(at, after);
  double turn = atan2(hf_point_cross(in, out), hf_point_dot(in, out)), half = tan(fabs(turn) / 2);
  double most = 0.5 * MIN(hf_point_distance(before, at), hf_point_distance(at, after));
  double back = MIN(radius * half, most), r = half > 1e-9 ? back / half : 0;
  HfPoint from = hf_point_sub(at, hf_point_scale(in, back));
  HfPoint to = hf_point_add(at, hf_point_scale(out, back));
  if (first)
    hf_outline_begin(own, from);
  else
    hf_outline_line_to(own, from);
  if (r <= 0)
    return;
  double side = turn > 0 ? 1 : -1;
  HfPoint centre = hf_point_add(from, hf_point_scale(hf_point(-in.y, in.x), side * r));
  hf_outline_arc_to(own, centre, turn, to);
}

static void
polygon(HfOutline *own, const HfPoint *at, const double *radii, double radius, guint n)
{
  g_autoptr(HfOutline) contour = hf_outline_new();
  for (guint i = 0; i < n; i++)
    corner(contour, at[(i + n - 1) % n], at[i], at[(i + 1) % n], radii != NULL ? radii[i] : radius,
           i == 0);
  hf_outline_close(contour);
  add_wound(own, contour, FALSE);
}

void
hf_kit_polygon(HfOutline *own, const HfPoint *at, guint n, double radius)
{
  polygon(own, at, NULL, radius, n);
}

void
hf_kit_radii(HfOutline *own, const HfPoint *at, const double *radii, guint n)
{
  polygon(own, at, radii, 0, n);
}

/* ---- round and straight things ----------------------------------------------------------------
 */

void
hf_kit_circle(HfOutline *own, double x, double y, double radius)
{
  hf_outline_add_circle(own, hf_point(x, y), radius);
}

void
hf_kit_circle_hole(HfOutline *own, double x, double y, double radius)
{
  g_autoptr(HfOutline) circle = hf_outline_new();
  hf_outline_add_circle(circle, hf_point(x, y), radius);
  add_wound(own, circle, TRUE);
}

void
hf_kit_bar(HfOutline *own, HfPoint from, HfPoint to, double width)
{
  HfPoint way = unit(from, to), side = hf_point_scale(hf_point(-way.y, way.x), width / 2);
  HfPoint corners[] = {hf_point_sub(from, side), hf_point_sub(to, side), hf_point_add(to, side),
                       hf_point_add(from, side)};
  hf_outline_add_polygon(own, corners, 4);
}

void
hf_kit_rod(HfOutline *own, HfPoint from, HfPoint to, double width)
{
  HfPoint way = unit(from, to), side = hf_point_scale(hf_point(-way.y, way.x), width / 2);
  hf_outline_begin(own, hf_point_sub(from, side));
  hf_outline_line_to(own, hf_point_sub(to, side));
  hf_outline_arc_to(own, to, G_PI, hf_point_add(to, side));
  hf_outline_line_to(own, hf_point_add(from, side));
  hf_outline_arc_to(own, from, G_PI, hf_point_sub(from, side));
  hf_outline_close(own);
}

void
hf_kit_ellipse(HfOutline *own, HfPoint middle, double a, double b, double angle)
{
  g_autoptr(HfOutline) circle = hf_outline_new();
  hf_outline_add_circle(circle, hf_point(0, 0), 1);
  HfMatrix m = hf_matrix_then(hf_matrix_scale(a, b), hf_matrix_turn(angle));
  hf_outline_append(own, circle, hf_matrix_then(m, hf_matrix_move(middle.x, middle.y)));
}

/* From foot to tip two S-shaped sides: they leave the neck slowly, are widest at four tenths, and
 * meet in the tip. In the leaf's own frame x runs from foot (0) to tip (1). */
void
hf_kit_leaf(HfOutline *own, HfPoint foot, double angle, double length, double wide, double neck,
            double bend)
{
  double w = wide / length / 2, k = neck / length / 2, b = bend;
  const HfStep steps[] = {{'M', {0, -k}},
                          {'C', {0.10, -k, 0.18, -w + b * 0.7, 0.42, -w + b}},
                          {'C', {0.66, -w + b, 0.86, -0.2 * w + b * 0.6, 1, 0}},
                          {'C', {0.86, 0.2 * w + b * 0.8, 0.66, w + b, 0.42, w + b}},
                          {'C', {0.18, w + b * 0.7, 0.10, k, 0, k}},
                          {0}};
  g_autoptr(HfOutline) leaf = hf_outline_new();
  hf_kit_path(leaf, steps);
  HfMatrix m = hf_matrix_then(hf_matrix_scale(length, length), hf_matrix_turn(angle));
  hf_outline_append(own, leaf, hf_matrix_then(m, hf_matrix_move(foot.x, foot.y)));
}
