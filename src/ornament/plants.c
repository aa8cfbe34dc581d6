/* SPDX-License-Identifier: GPL-3.0-or-later
 * plants.c - leaf, branch, conifer, broad-leaved tree, laurel.
 */
#include "ornament/kit-private.h"

/* One large leaf on its stalk. Its midrib is cut as metal, and stays as metal in an opening, where
 * it parts the leaf in two. */
static void
draw_leaf(HfPen *pen)
{
  static const HfStep blade[] = {{'M', {0, -0.62}},
                                 {'C', {0.20, -0.62, 0.56, -0.42, 0.56, 0.02}},
                                 {'C', {0.56, 0.42, 0.24, 0.74, 0, 1.06}},
                                 {0}};
  static const HfSpiral stalk = {{0, -0.5}, -G_PI_2, 0.62, 0, 0.9, 0.065, 0.05};
  static const HfStep vein[] = {{'M', {0, -0.36}}, {'C', {0.05, -0.36, 0.05, 0.2, 0, 0.66}}, {0}};
  static const HfStep rib[] = {{'M', {0, -0.40}},
                               {'C', {0.035, -0.40, 0.045, -0.2, 0.055, 0.3}},
                               {'L', {0.06, 1.16}},
                               {'L', {0, 1.16}},
                               {0}};
  hf_kit_half(pen->own, blade);
  hf_kit_spiral(pen->own, &stalk);
  if (pen->opening) {
    hf_kit_half(pen->bars, rib);
    for (int side = -1; side <= 1; side += 2)
      for (int i = 0; i < 2; i++)
        hf_kit_leaf(pen->bars, hf_point(0, -0.14 + 0.34 * i), G_PI_2 - side * 0.80, 0.42 - 0.08 * i,
                    0.10, 0.08, 0);
    return;
  }
  hf_kit_half(pen->cuts, vein);
  for (int side = -1; side <= 1; side += 2)
    for (int i = 0; i < 3; i++) {
      double y = -0.26 + 0.27 * i, l = 0.30 - 0.05 * i;
      hf_kit_leaf(pen->cuts, hf_point(side * 0.005, y), G_PI_2 - side * 0.85, l, 0.085, 0.05, 0);
    }
}

const HfOrnamentDrawn hf_ornament_leaf = {
    {0, 0, 0, {0.0502, 0.0270, 0.0261}, {0.0308, INFINITY, INFINITY}}, draw_leaf};

/* The mean line of a twig: an arc that is a little straighter towards its tip. */
typedef struct {
  HfSpiral line;
  guint pairs;
  double leaf, wide, lean; /* of leaves: length, width, angle off the twig */
  double inside;           /* width of the left ones against the right ones */
  double first, last;      /* from, to t */
} Twig;

static void
twig(HfOutline *own, const Twig *t)
{
  HfStroke stroke = {hf_kit_spiral_at, hf_kit_spiral_half, &t->line, 8};
  hf_kit_stroke(own, &stroke);
  for (guint i = 0; i < t->pairs; i++)
    for (int side = -1; side <= 1; side += 2) {
      double share = (i + (side > 0 ? 0.42 : 0)) / (t->pairs - 0.58);
      double at = t->first + (t->last - t->first) * share, size = 1 - 0.35 * share;
      double wide = t->wide * size * (side > 0 ? t->inside : 1);
      double way = hf_kit_stroke_way(&stroke, at) + side * t->lean;
      HfPoint foot = hf_point_polar(hf_kit_spiral_at(at, &t->line), -0.02, way);
      hf_kit_leaf(own, foot, way, t->leaf * size, wide, 0.07, side * -0.06);
    }
  HfPoint end = hf_kit_spiral_at(1, &t->line);
  double way = hf_kit_stroke_way(&stroke, 1);
  hf_kit_leaf(own, hf_point_polar(end, -0.06, way), way, t->leaf * 0.80, t->wide * 0.72, 0.07, 0);
}

static void
draw_branch(HfPen *pen)
{
  const Twig branch = {{{0, 0}, 0.55, 2.45, -0.70, 0.05, 0.062, 0.045},
                       (guint)pen->points,
                       0.66,
                       0.25,
                       0.86,
                       1,
                       0.22,
                       0.88};
  twig(pen->own, &branch);
}

const HfOrnamentDrawn hf_ornament_branch = {
    {4, 3, 10, {0.1055, 0.0967, INFINITY}, {0.0999, 0.0875, INFINITY}}, draw_branch};

/* Two sprays that cross at the foot and bend round towards each other. */
static void
draw_laurel(HfPen *pen)
{
  const Twig right = {{{0.0, -1.06}, 0.10, 2.46, 0.50, 1.38, 0.055, 0.042},
                      (guint)pen->points,
                      0.46,
                      0.175,
                      0.80,
                      0.74,
                      0.17,
                      0.94};
  g_autoptr(HfOutline) spray = hf_outline_new();
  twig(spray, &right);
  hf_kit_both(pen->own, spray);
  hf_kit_circle(pen->own, 0, -1.06, 0.11);
}

const HfOrnamentDrawn hf_ornament_laurel = {
    {7, 4, 12, {0.0499, 0.0345, INFINITY}, {0.0327, INFINITY, INFINITY}}, draw_laurel};

/* Three tiers of hanging boughs on a trunk. */
static void
draw_conifer(HfPen *pen)
{
  static const HfStep half[] = {{'M', {0, 0}},
                                {'L', {0.09, 0}},
                                {'C', {0.08, 0.06, 0.075, 0.12, 0.075, 0.20}},
                                {'C', {0.24, 0.17, 0.42, 0.17, 0.60, 0.12}},
                                {'C', {0.48, 0.22, 0.34, 0.36, 0.25, 0.52}},
                                {'C', {0.33, 0.52, 0.41, 0.50, 0.49, 0.46}},
                                {'C', {0.38, 0.57, 0.27, 0.71, 0.19, 0.86}},
                                {'C', {0.25, 0.86, 0.31, 0.84, 0.37, 0.81}},
                                {'C', {0.25, 0.95, 0.12, 1.17, 0.03, 1.44}},
                                {'C', {0.022, 1.465, 0.01, 1.47, 0, 1.47}},
                                {0}};
  hf_kit_half(pen->own, half);
}

const HfOrnamentDrawn hf_ornament_conifer = {
    {0, 0, 0, {0.1216, INFINITY, INFINITY}, {INFINITY, 0.1006, 0.1853}}, draw_conifer};

/* A crown of round lobes on a trunk that forks; the light between the boughs only as metal. */
static void
draw_tree(HfPen *pen)
{
  static const double lobe[][3] = {{0, 0.94, 0.34},    {0.40, 0.80, 0.31}, {0.66, 0.47, 0.30},
                                   {0.60, 0.12, 0.27}, {0.24, 0.06, 0.25}, {0, 0.42, 0.56}};
  static const HfStep trunk[] = {{'M', {0, -0.74}},
                                 {'C', {0.12, -0.74, 0.26, -0.76, 0.40, -0.80}},
                                 {'C', {0.22, -0.70, 0.12, -0.58, 0.11, -0.36}},
                                 {'C', {0.105, -0.20, 0.12, -0.1, 0.15, 0.1}},
                                 {'L', {0, 0.1}},
                                 {0}};
  for (guint i = 0; i < G_N_ELEMENTS(lobe); i++) {
    hf_kit_circle(pen->own, lobe[i][0], lobe[i][1], lobe[i][2]);
    if (lobe[i][0] > 0)
      hf_kit_circle(pen->own, -lobe[i][0], lobe[i][1], lobe[i][2]);
  }
  hf_kit_half(pen->own, trunk);
  if (pen->opening)
    return;
  for (int side = -1; side <= 1; side += 2) {
    double s = side;
    hf_kit_leaf(pen->cuts, hf_point(s * 0.09, 0.02), G_PI_2 - s * 0.72, 0.46, 0.13, 0.06, s * 0.06);
    hf_kit_leaf(pen->cuts, hf_point(s * 0.075, 0.36), G_PI_2 - s * 0.52, 0.44, 0.12, 0.06,
                s * 0.06);
  }
}

const HfOrnamentDrawn hf_ornament_tree = {
    {0, 0, 0, {0.0556, INFINITY, 0.0283}, {INFINITY, 0.1047, 0.3199}}, draw_tree};
