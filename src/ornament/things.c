/* SPDX-License-Identifier: GPL-3.0-or-later
 * things.c - horseshoe, key, crown, gear.
 */
#include "ornament/kit-private.h"

/* Nail holes only as metal: cut out, their middles would fall. */
static void
draw_horseshoe(HfPen *pen)
{
  static const HfStep half[] = {{'M', {0, 1.0}},
                                {'C', {0.56, 1.0, 0.98, 0.58, 0.98, 0.06}},
                                {'C', {0.98, -0.30, 0.84, -0.62, 0.72, -0.88}},
                                {'L', {0.74, -1.0}},
                                {'L', {0.42, -1.0}},
                                {'C', {0.42, -0.80, 0.62, -0.36, 0.62, 0.02}},
                                {'C', {0.62, 0.38, 0.36, 0.64, 0, 0.64}},
                                {0}};
  hf_kit_half(pen->own, half);
  if (pen->opening)
    return;
  static const double nail[][3] = {
      {0.36, 0.745, -0.50}, {0.655, 0.50, -0.95}, {0.80, 0.12, -1.50}, {0.775, -0.26, -1.75}};
  for (guint i = 0; i < G_N_ELEMENTS(nail); i++)
    for (int side = -1; side <= 1; side += 2) {
      HfPoint at = {side * nail[i][0], nail[i][1]};
      double way = side > 0 ? nail[i][2] : G_PI - nail[i][2];
      hf_kit_rod(pen->cuts, hf_point_polar(at, -0.045, way), hf_point_polar(at, 0.045, way), 0.10);
    }
}

const HfOrnamentDrawn hf_ornament_horseshoe = {
    {0, 0, 0, {0.0667, INFINITY, 0.0245}, {0.5033, INFINITY, 0.0914}}, draw_horseshoe};

/* Bow to the left, three rings; bit to the right, hanging. */
static void
draw_key(HfPen *pen)
{
  static const HfPoint bow[] = {{-1.44, 0}, {-1.09, 0.25}, {-1.09, -0.25}};
  static const HfPoint bit[] = {{0.78, 0},     {0.78, -0.50}, {0.94, -0.50}, {0.94, -0.36},
                                {1.02, -0.36}, {1.02, -0.50}, {1.20, -0.50}, {1.20, 0}};
  for (guint i = 0; i < 3; i++)
    hf_kit_circle(pen->own, bow[i].x, bow[i].y, 0.27);
  hf_kit_circle(pen->own, -1.20, 0, 0.14);
  hf_kit_bar(pen->own, hf_point(-1.1, 0), hf_point(1.28, 0), 0.16);
  hf_kit_rod(pen->own, hf_point(-0.66, -0.13), hf_point(-0.66, 0.13), 0.13);
  hf_kit_rod(pen->own, hf_point(-0.45, -0.09), hf_point(-0.45, 0.09), 0.13);
  hf_kit_circle(pen->own, 1.30, 0, 0.11);
  hf_kit_polygon(pen->own, bit, 8, 0.02);
  for (guint i = 0; i < 3; i++) {
    if (!pen->opening) {
      hf_kit_circle(pen->cuts, bow[i].x, bow[i].y, 0.125);
      continue;
    }
    double out = hf_angle_of(hf_point_sub(bow[i], hf_point(-1.20, 0)));
    hf_kit_circle(pen->bars, bow[i].x, bow[i].y, 0.125);
    hf_kit_bar(pen->bars, bow[i], hf_point_polar(bow[i], 0.4, out), 0.11);
  }
}

const HfOrnamentDrawn hf_ornament_key = {
    {0, 0, 0, {0.1373, 0.1069, 0.0731}, {0.1248, 0.1391, INFINITY}}, draw_key};

/* Five points with balls on a band; the band's upper edge and its stones are cut as metal. */
static void
draw_crown(HfPen *pen)
{
  static const HfStep half[] = {{'M', {0, -0.62}},
                                {'C', {0.34, -0.62, 0.64, -0.59, 0.90, -0.54}},
                                {'L', {0.94, -0.26}},
                                {'C', {0.98, 0.02, 1.08, 0.22, 1.19, 0.40}},
                                {'L', {1.09, 0.44}},
                                {'C', {0.96, 0.28, 0.86, 0.12, 0.76, -0.02}},
                                {'C', {0.72, 0.18, 0.68, 0.38, 0.655, 0.60}},
                                {'L', {0.555, 0.61}},
                                {'C', {0.48, 0.40, 0.36, 0.22, 0.26, 0.02}},
                                {'C', {0.20, 0.26, 0.11, 0.50, 0.055, 0.76}},
                                {'L', {0, 0.76}},
                                {0}};
  static const double ball[][3] = {{1.155, 0.48, 0.115}, {0.605, 0.68, 0.12}, {0, 0.85, 0.135}};
  hf_kit_half(pen->own, half);
  for (guint i = 0; i < 3; i++) {
    hf_kit_circle(pen->own, ball[i][0], ball[i][1], ball[i][2]);
    if (ball[i][0] > 0)
      hf_kit_circle(pen->own, -ball[i][0], ball[i][1], ball[i][2]);
  }
  if (pen->opening) {
    const HfSpiral edge = {{-1.10, -0.215}, -0.18, 2.23, 0.16, 0.16, 0.055, 0.055};
    hf_kit_spiral(pen->bars, &edge);
    return;
  }
  for (int side = -1; side <= 1; side += 2) {
    const HfSpiral edge = {{side * 0.09, -0.32},
                           side > 0 ? 0.01 : G_PI - 0.01,
                           0.66,
                           side * 0.17,
                           side * 0.17,
                           0.03,
                           0.03};
    hf_kit_spiral(pen->cuts, &edge);
    hf_kit_circle(pen->cuts, side * 0.58, 0.02, 0.062);
  }
  hf_kit_circle(pen->cuts, 0, 0.10, 0.075);
}

const HfOrnamentDrawn hf_ornament_crown = {
    {0, 0, 0, {0.0784, INFINITY, 0.0185}, {0.0676, INFINITY, 0.0763}}, draw_crown};

/* Teeth on a rim; hub and spokes between openings. Cut out, the hub is held by three bars. */
static void
draw_gear(HfPen *pen)
{
  guint n = (guint)pen->points;
  double step = 2 * G_PI / n, root = 1 - 3.4 / (n + 2.0), tip = 1;
  g_autofree HfPoint *at = g_new(HfPoint, 4 * n);
  g_autofree double *radii = g_new(double, 4 * n);
  HfPoint o = {0, 0};
  for (guint i = 0; i < n; i++) {
    double a = G_PI_2 + (i + (pen->opening ? 0.5 : 0)) * step;
    at[4 * i] = hf_point_polar(o, root, a - 0.31 * step);
    at[4 * i + 1] = hf_point_polar(o, tip, a - 0.17 * step);
    at[4 * i + 2] = hf_point_polar(o, tip, a + 0.17 * step);
    at[4 * i + 3] = hf_point_polar(o, root, a + 0.31 * step);
    radii[4 * i] = radii[4 * i + 3] = 0.05 * step;
    radii[4 * i + 1] = radii[4 * i + 2] = 0.06 * step;
  }
  hf_kit_radii(pen->own, at, radii, 4 * n);
  if (pen->opening) {
    hf_kit_circle(pen->bars, 0, 0, 0.34);
    guint bars = n % 4 == 0 ? 4 : 3;
    for (guint i = 0; i < bars; i++) { /* between two teeth */
      guint tooth = i * n / bars;      /* the whole one before */
      double way = G_PI_2 + tooth * step;
      hf_kit_bar(pen->bars, o, hf_point_polar(o, 1.08, way), 0.15);
    }
    return;
  }
  double rim = root - 0.19;
  hf_kit_circle(pen->cuts, 0, 0, 0.17);
  for (int i = 0; i < 5; i++) { /* between two spokes, 0.15 wide */
    double a = G_PI_2 + i * 2 * G_PI / 5, b = a + 2 * G_PI / 5, hub = 0.36;
    double in = asin(0.075 / hub), out = asin(0.075 / rim);
    HfPoint p = hf_point_polar(o, hub, a + in), q = hf_point_polar(o, rim, a + out);
    HfPoint r = hf_point_polar(o, rim, b - out), s = hf_point_polar(o, hub, b - in);
    const HfStep window[] = {{'M', {p.x, p.y}},           {'L', {q.x, q.y}},
                             {'A', {0, 0, 1, r.x, r.y}},  {'L', {s.x, s.y}},
                             {'A', {0, 0, -1, p.x, p.y}}, {0}};
    hf_kit_path(pen->cuts, window);
  }
}

const HfOrnamentDrawn hf_ornament_gear = {
    {12, 8, 36, {0.0886, INFINITY, 0.0518}, {0.0764, INFINITY, INFINITY}}, draw_gear};
