/* SPDX-License-Identifier: GPL-3.0-or-later
 * scrolls.c - scroll, flourish and a corner: lines whose bend grows evenly (clothoids).
 */
#include "ornament/kit-private.h"

/* An S: the line bends one way, then the other, ever tighter, and ends in a ball on either side. */
static void
draw_scroll(HfPen *pen)
{
  for (int side = 0; side < 2; side++) {
    HfSpiral arm = {{0, 0}, side == 0 ? 0.5 : 0.5 + G_PI, 2.62, 0, -5.15, 0.12, 0.06};
    HfPoint end = hf_kit_spiral(pen->own, &arm);
    hf_kit_circle(pen->own, end.x, end.y, 0.105);
  }
}

const HfOrnamentDrawn hf_ornament_scroll = {
    {0, 0, 0, {0.1099, 0.0390, INFINITY}, {0.0471, INFINITY, INFINITY}}, draw_scroll};

/* Two scrolls from a middle leaf, each with a smaller one that leaves it, and a bud. */
static void
draw_flourish(HfPen *pen)
{
  g_autoptr(HfOutline) right = hf_outline_new();
  const HfSpiral stem = {{0, -0.02}, 0.75, 1.75, -1.75, 1.05, 0.075, 0.062};
  HfStroke line = {hf_kit_spiral_at, hf_kit_spiral_half, &stem, 10};
  hf_kit_stroke(right, &line);
  HfPoint end = hf_kit_spiral_at(1, &stem);
  HfSpiral curl = {end, hf_kit_stroke_way(&line, 1), 1.95, 1.05, 5.6, 0.062, 0.05};
  HfPoint eye = hf_kit_spiral(right, &curl);
  hf_kit_circle(right, eye.x, eye.y, 0.085);
  HfSpiral lower = {hf_kit_spiral_at(0.42, &stem),
                    hf_kit_stroke_way(&line, 0.42) - 0.3,
                    1.35,
                    -2.0,
                    -6.6,
                    0.06,
                    0.048};
  eye = hf_kit_spiral(right, &lower);
  hf_kit_circle(right, eye.x, eye.y, 0.08);
  hf_kit_leaf(right, hf_kit_spiral_at(0.62, &stem), hf_kit_stroke_way(&line, 0.62) + 0.95, 0.50,
              0.19, 0.10, -0.05);
  hf_kit_both(pen->own, right);
  hf_kit_leaf(pen->own, hf_point(0, -0.10), G_PI_2, 0.86, 0.32, 0.16, 0);
  hf_kit_circle(pen->own, 0, -0.13, 0.15);
}

const HfOrnamentDrawn hf_ornament_flourish = {
    {0, 0, 0, {0.0733, 0.0607, INFINITY}, {0.0723, INFINITY, INFINITY}}, draw_flourish};

/* From the apex one scroll along either side, and a leaf between them. */
HfOutline *
hf_ornament_corner(void)
{
  const HfMatrix across = {0, -1, -1, 0, 0, 0}; /* mirrored in the bisector */
  g_autoptr(HfOutline) arm = hf_outline_new();
  const HfSpiral scroll = {{0.05, -0.05}, -0.30, 1.50, 2.2, -9.3, 0.042, 0.034};
  HfPoint eye = hf_kit_spiral(arm, &scroll);
  hf_kit_circle(arm, eye.x, eye.y, 0.058);
  HfOutline *corner = hf_outline_copy(arm);
  hf_outline_reverse(arm);
  hf_outline_append(corner, arm, across);
  hf_kit_leaf(corner, hf_point(0.06, -0.06), -G_PI_4, 0.46, 0.17, 0.10, 0);
  return corner;
}
