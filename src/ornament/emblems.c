/* SPDX-License-Identifier: GPL-3.0-or-later
 * emblems.c - heart, paw, crescent, cross, arrow, star, sun.
 */
#include "ornament/kit-private.h"

static void
draw_heart(HfPen *pen)
{
  static const HfStep half[] = {{'M', {0, -1}},
                                {'C', {0.30, -0.62, 1.03, -0.24, 1.03, 0.36}},
                                {'C', {1.03, 0.74, 0.78, 0.97, 0.50, 0.97}},
                                {'C', {0.28, 0.97, 0.09, 0.83, 0, 0.58}},
                                {0}};
  hf_kit_half(pen->own, half);
}

const HfOrnamentDrawn hf_ornament_heart = {
    {0, 0, 0, {0.6378, INFINITY, INFINITY}, {INFINITY, INFINITY, 0.3329}}, draw_heart};

/* Four toes round a pad. As metal each is joined to it by a web; as an opening they are apart. */
static void
draw_paw(HfPen *pen)
{
  static const HfStep pad[] = {{'M', {0, -0.90}},
                               {'C', {0.18, -0.90, 0.28, -1.0, 0.44, -1.0}},
                               {'C', {0.70, -1.0, 0.80, -0.76, 0.70, -0.52}},
                               {'C', {0.64, -0.34, 0.59, -0.26, 0.50, -0.06}},
                               {'C', {0.41, 0.13, 0.22, 0.20, 0, 0.20}},
                               {0}};
  static const struct {
    HfPoint at, root; /* root: where its web ends in the pad */
    double a, b, turn;
  } toes[] = {{{0.81, 0.08}, {0.42, -0.34}, 0.30, 0.205, 1.12},
              {{0.315, 0.61}, {0.22, -0.1}, 0.36, 0.23, 1.43}};
  hf_kit_half(pen->own, pad);
  for (guint i = 0; i < G_N_ELEMENTS(toes); i++)
    for (int side = -1; side <= 1; side += 2) {
      double away = pen->opening ? 1.07 : 1; /* of metal the webs are the shorter the better */
      HfPoint at = hf_point(side * away * toes[i].at.x, away * toes[i].at.y);
      double turn = side > 0 ? toes[i].turn : G_PI - toes[i].turn;
      hf_kit_ellipse(pen->own, at, toes[i].a, toes[i].b, turn);
      if (!pen->opening)
        hf_kit_bar(pen->own, at, hf_point(side * toes[i].root.x, toes[i].root.y), 0.17);
    }
}

const HfOrnamentDrawn hf_ornament_paw = {
    {0, 0, 0, {0.1019, 0.0822, INFINITY}, {0.0753, INFINITY, 0.1011}}, draw_paw};

/* Two circles; the horns are rounded where a small circle touches both from within. */
static void
draw_crescent(HfPen *pen)
{
  const double big = 1, small = 0.78, off = 0.40, horn = 0.035;
  double a = big - horn, b = small + horn; /* from either middle to the horn's */
  double x = (a * a - b * b + off * off) / (2 * off), y = sqrt(a * a - x * x);
  HfPoint middle = hf_point(0, 0), other = hf_point(off, 0);
  HfPoint top = hf_point(x, y), foot = hf_point(x, -y);
  double outer = atan2(y, x), inner = atan2(y, x - off);
  HfPoint out_top = hf_point_polar(middle, big, outer),
          out_foot = hf_point_polar(middle, big, -outer);
  HfPoint in_top = hf_point_polar(other, small, inner),
          in_foot = hf_point_polar(other, small, -inner);
  const HfStep steps[] = {{'M', {out_top.x, out_top.y}},
                          {'A', {0, 0, 1, out_foot.x, out_foot.y}},
                          {'A', {foot.x, foot.y, 1, in_foot.x, in_foot.y}},
                          {'A', {off, 0, -1, in_top.x, in_top.y}},
                          {'A', {top.x, top.y, 1, out_top.x, out_top.y}},
                          {0}};
  hf_kit_path(pen->own, steps);
}

const HfOrnamentDrawn hf_ornament_crescent = {
    {0, 0, 0, {0.2322, INFINITY, INFINITY}, {INFINITY, 0.2304, 0.1544}}, draw_crescent};

static void
draw_cross(HfPen *pen)
{
  static const HfStep half[] = {{'M', {0, -1.04}},
                                {'C', {0.08, -1.04, 0.16, -1.07, 0.24, -1.10}},
                                {'C', {0.15, -0.80, 0.115, -0.50, 0.11, 0.13}},
                                {'C', {0.34, 0.125, 0.50, 0.10, 0.66, 0.02}},
                                {'C', {0.62, 0.10, 0.60, 0.17, 0.60, 0.24}},
                                {'C', {0.60, 0.31, 0.62, 0.38, 0.66, 0.46}},
                                {'C', {0.50, 0.38, 0.34, 0.355, 0.11, 0.35}},
                                {'C', {0.115, 0.58, 0.14, 0.74, 0.22, 0.90}},
                                {'C', {0.15, 0.86, 0.08, 0.84, 0, 0.84}},
                                {0}};
  hf_kit_half(pen->own, half);
}

const HfOrnamentDrawn hf_ornament_cross = {
    {0, 0, 0, {0.1274, INFINITY, INFINITY}, {INFINITY, 0.1091, 0.0877}}, draw_cross};

/* Head, shaft and two pairs of feathers, swept back. */
static void
draw_arrow(HfPen *pen)
{
  static const HfStep head[] = {{'M', {1.5, 0}},
                                {'C', {1.24, 0.10, 1.02, 0.22, 0.84, 0.40}},
                                {'C', {0.90, 0.26, 0.94, 0.14, 0.95, 0}},
                                {'C', {0.94, -0.14, 0.90, -0.26, 0.84, -0.40}},
                                {'C', {1.02, -0.22, 1.24, -0.10, 1.5, 0}},
                                {0}};
  hf_kit_path(pen->own, head);
  hf_kit_bar(pen->own, hf_point(-1.62, 0), hf_point(1.1, 0), 0.13);
  for (int side = -1; side <= 1; side += 2)
    for (int i = 0; i < 3; i++) {
      double x = -1.02 - 0.24 * i, s = side;
      HfPoint feather[] = {
          {x + 0.03, 0}, {x - 0.24, s * 0.34}, {x - 0.40, s * 0.34}, {x - 0.13, 0}};
      hf_kit_radii(pen->own, feather, (const double[]){0, 0.03, 0.03, 0}, 4);
    }
}

const HfOrnamentDrawn hf_ornament_arrow = {
    {0, 0, 0, {0.1459, 0.0774, INFINITY}, {0.0769, INFINITY, INFINITY}}, draw_arrow};

static void
draw_star(HfPen *pen)
{
  guint n = 2 * (guint)pen->points;
  double inner = n < 10 ? 0.36 : cos(4 * G_PI / n) / cos(2 * G_PI / n);
  g_autofree HfPoint *corners = g_new(HfPoint, n);
  for (guint i = 0; i < n; i++)
    corners[i] = hf_point_polar(hf_point(0, 0), i % 2 == 0 ? 1 : inner, G_PI_2 + 2 * G_PI * i / n);
  g_autofree double *radii = g_new(double, n);
  for (guint i = 0; i < n; i++)
    radii[i] = i % 2 == 0 ? 0.02 : 0;
  hf_kit_radii(pen->own, corners, radii, n);
}

const HfOrnamentDrawn hf_ornament_star = {
    {5, 3, 30, {0.3479, INFINITY, INFINITY}, {INFINITY, INFINITY, 0.2178}}, draw_star};

/* A ray with hollow sides, from radius @from, @half (rad) to either side there, to radius @to. */
static void
ray(HfOutline *own, double angle, double from, double half, double to)
{
  HfPoint o = {0, 0}, tip = hf_point_polar(o, to, angle);
  HfPoint a = hf_point_polar(o, from, angle - half), b = hf_point_polar(o, from, angle + half);
  HfPoint in_a = hf_point_polar(o, from + 0.4 * (to - from), angle - half * 0.34);
  HfPoint in_b = hf_point_polar(o, from + 0.4 * (to - from), angle + half * 0.34);
  const HfStep steps[] = {{'M', {a.x, a.y}},
                          {'C', {in_a.x, in_a.y, tip.x, tip.y, tip.x, tip.y}},
                          {'C', {tip.x, tip.y, in_b.x, in_b.y, b.x, b.y}},
                          {0}};
  hf_kit_path(own, steps);
}

/* A piece of a flat ring. */
static void
ring_piece(HfOutline *own, double inner, double outer, double from, double to)
{
  HfPoint o = {0, 0}, a = hf_point_polar(o, inner, from), b = hf_point_polar(o, outer, from);
  HfPoint c = hf_point_polar(o, outer, to), d = hf_point_polar(o, inner, to);
  const HfStep steps[] = {{'M', {a.x, a.y}},           {'L', {b.x, b.y}},
                          {'A', {0, 0, 1, c.x, c.y}},  {'L', {d.x, d.y}},
                          {'A', {0, 0, -1, a.x, a.y}}, {0}};
  hf_kit_path(own, steps);
}

/* Long and short rays in turn round a disc. Cut through, they are apart; as metal a ring of slits
 * parts them, and webs between the slits hold the disc. */
static void
draw_sun(HfPen *pen)
{
  enum { SLITS = 4 };
  guint n = (guint)pen->points;
  double from = pen->opening ? 0.60 : 0.52, step = G_PI / n,
         half = step * (pen->opening ? 0.31 : 0.98);
  hf_kit_circle(pen->own, 0, 0, pen->opening ? 0.47 : 0.60);
  for (guint i = 0; i < 2 * n; i++)
    ray(pen->own, G_PI_2 + i * step, from, half, i % 2 == 0 ? 1.04 : 0.84);
  for (int i = 0; i < SLITS && !pen->opening; i++) {
    double a = G_PI_4 + i * G_PI_2, web = 0.07 / 0.47;
    ring_piece(pen->cuts, 0.405, 0.515, a + web, a + G_PI_2 - web);
  }
}

const HfOrnamentDrawn hf_ornament_sun = {
    {8, 4, 16, {0.0681, INFINITY, 0.0261}, {0.0509, 0.0374, 0.0240}}, draw_sun};
