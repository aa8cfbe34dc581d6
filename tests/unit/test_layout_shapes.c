/* SPDX-License-Identifier: GPL-3.0-or-later
 * Rings, plates, arches, separators and patterns against closed forms of plane geometry.
 */
#include "layout-help.h"

#include "geom/index.h"

static double
area_of(const HfLayout *layout, guint shape)
{
  return hf_outline_area(hf_layout_shape(layout, shape)->outline);
}

/* Area of the segment of a circle of radius r that a chord cuts off at half angle a. */
static double
segment(double r, double a)
{
  return r * r * (a - sin(a) * cos(a));
}

/* area, and box: both exact on true curves */
static void
test_plates(void)
{
  double r_arch = (150.0 * 150 + 80 * 80) / 160, r_shield = (150.0 * 150 + 270 * 270) / 300;
  double r_tab = 100 / 3.0, h = G_PI / 12, q_badge = 100 / (cos(h) + sin(h) / sqrt(3));
  struct {
    const char *plate;
    double area, width, height;
  } cases[] = {
      {"round, diameter: 200 mm", G_PI * 1e4, 200, 200},
      {"rectangle, width: 300 mm, height: 200 mm", 6e4, 300, 200},
      {"rounded, width: 300 mm, height: 200 mm, corner: 20 mm", 6e4 - (4 - G_PI) * 400, 300, 200},
      {"oval, width: 300 mm, height: 200 mm", G_PI * 150 * 100, 300, 200},
      {"arch-topped, width: 300 mm, height: 200 mm, rise: 80 mm",
       300 * 120 + segment(r_arch, asin(150 / r_arch)), 300, 200},
      {"shield, width: 300 mm, height: 360 mm",
       300 * 90 +
           2 * (r_shield * r_shield * atan2(270, r_shield - 150) / 2 - (r_shield - 150) * 270 / 2),
       300, 360},
      {"polygon, sides: 6, diameter: 200 mm", 6 * 0.5 * 1e4 * sin(G_PI / 3), 200,
       200 * cos(G_PI / 6)},
      {"polygon, sides: 8, diameter: 200 mm", 8 * 0.5 * 1e4 * sin(G_PI / 4), 200 * cos(G_PI / 8),
       200 * cos(G_PI / 8)},
      /* a corner radius c takes (n tan(pi/n) - pi) c^2 off a polygon */
      {"polygon, sides: 3, diameter: 200 mm, corner: 10 mm",
       3 * 0.5 * 1e4 * sin(2 * G_PI / 3) - (3 * tan(G_PI / 3) - G_PI) * 100, NAN, NAN},
      {"banner, width: 400 mm, height: 100 mm, depth: 30 mm", 4e4 - 100 * 30, 400, 100},
      {"ticket, width: 400 mm, height: 200 mm, depth: 25 mm", 8e4 - G_PI * 625, 400, 200},
      {"arrow, width: 400 mm, height: 100 mm, depth: 60 mm", 4e4 - 60 * 50, 400, 100},
      {"hexagon row, diameter: 100 mm, count: 4", 4 * 6 * 0.5 * 2500 * sin(G_PI / 3),
       4 * 100 * cos(G_PI / 6), 100},
      /* two tabs 40 mm long, each half a circle of radius 33.33 mm and a strip */
      {"tabbed, width: 400 mm, height: 100 mm, depth: 40 mm",
       320 * 100 + 2 * (G_PI * r_tab * r_tab / 2 + 2 * r_tab * (40 - r_tab)), 400, 100},
      /* n lobes on the chords of a polygon, each the segment of a third of a circle */
      {"badge, diameter: 200 mm, sides: 12",
       12 * 0.5 * q_badge * q_badge * sin(G_PI / 6) +
           12 * segment(2 * q_badge * sin(G_PI / 12) / sqrt(3), G_PI / 3),
       200, 200},
      /* the bubble, its corners, and the tail, as wide at the bubble as it is long */
      {"speech, width: 300 mm, height: 200 mm, depth: 40 mm, corner: 20 mm",
       300 * 160 - (4 - G_PI) * 400 + 40 * 40 / 2.0, 300, 200},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *entries = g_strdup_printf("  - plate: {shape: %s}\n", cases[i].plate);
    g_autoptr(HfLayout) layout = help_layout(entries);
    HfBox box = help_box(layout, 0);
    g_test_message("%s: %.9g", cases[i].plate, area_of(layout, 0));
    assert_near(area_of(layout, 0) / cases[i].area, 1, 2e-6);
    if (!isnan(cases[i].width)) {
      assert_near(hf_box_width(box), cases[i].width, 1e-3);
      assert_near(hf_box_height(box), cases[i].height, 1e-3);
    }
  }
}

/* Every point of the oval's cubics lies on the ellipse to 1e-6 of its size. */
static void
test_oval(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - plate: {shape: oval, width: 500 mm, height: 180 mm}\n");
  const HfOutline *outline = hf_layout_shape(layout, 0)->outline;
  double worst = 0;
  for (guint i = 0; i < outline->curves->len; i++)
    for (int k = 0; k <= 50; k++) {
      HfPoint p = hf_curve_point(&g_array_index(outline->curves, HfCurve, i), k / 50.0);
      worst = MAX(worst, fabs(hypot(p.x / 250, p.y / 90) - 1));
    }
  g_test_message("worst %g", worst);
  g_assert_cmpfloat(worst, <, 1e-6);
}

/* Rounded corners are smooth: tangents run on at every joint. */
static void
test_smooth(void)
{
  static const char *const plates[] = {
      "rounded, width: 300 mm, height: 200 mm, corner: 20 mm",
      "arch-topped, width: 300 mm, height: 200 mm, rise: 80 mm, corner: 15 mm",
      "arch-topped, width: 300 mm, height: 200 mm, rise: 150 mm, corner: 15 mm",
      "shield, width: 300 mm, height: 360 mm, corner: 12 mm",
      "polygon, sides: 7, diameter: 200 mm, corner: 10 mm",
      "oval, width: 300 mm, height: 200 mm",
  };
  for (guint i = 0; i < G_N_ELEMENTS(plates); i++) {
    g_autofree char *entries = g_strdup_printf("  - plate: {shape: %s}\n", plates[i]);
    g_autoptr(HfLayout) layout = help_layout(entries);
    guint n;
    const HfCurve *curves = hf_outline_contour(hf_layout_shape(layout, 0)->outline, 0, &n);
    for (guint k = 0; k < n; k++) {
      HfPoint out = hf_curve_derivative(&curves[k], 1);
      HfPoint in = hf_curve_derivative(&curves[(k + 1) % n], 0);
      double turn = atan2(hf_point_cross(out, in), hf_point_dot(out, in));
      g_test_message("%s: joint %u turns by %g", plates[i], k, turn);
      assert_near(turn, 0, 1e-6);
      assert_near(hf_point_distance(curves[k].p1, curves[(k + 1) % n].p0), 0, 1e-9);
      if (curves[k].kind == HF_CURVE_ARC)
        assert_near(hf_point_distance(curves[k].p1, curves[k].c0),
                    hf_point_distance(curves[k].p0, curves[k].c0), 1e-9);
    }
  }
}

static void
test_ring(void)
{
  g_autoptr(HfLayout) layout = help_layout("  - ring: {outer: 804 mm, inner: 760 mm}\n");
  assert_near(area_of(layout, 0), G_PI * (402.0 * 402 - 380 * 380), 1e-6);
  guint n;
  g_assert_cmpuint(hf_outline_n_contours(hf_layout_shape(layout, 0)->outline), ==, 2);
  hf_outline_contour(hf_layout_shape(layout, 0)->outline, 0, &n);
  g_assert_cmpuint(n, ==, 1); /* a full circle is one arc */
}

/* Chord c and rise h: R = (c^2/4 + h^2) / 2h; the strip's area by segments. */
static void
test_arch(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - gate arch: {chord: 1100 mm, rise: 300 mm, legs: 150 mm, width: 25 mm}\n");
  double r = (550.0 * 550 + 300 * 300) / 600, low = 300 - r;
  double high = low + sqrt((r + 25) * (r + 25) - 575.0 * 575);
  double area = segment(r + 25, asin(575 / (r + 25))) + 2 * 575 * high - segment(r, asin(550 / r)) +
                2 * 25 * 150;
  assert_near(area_of(layout, 0), area, 1e-6);
  HfBox box = help_box(layout, 0);
  assert_near(box.max.y, 325, 1e-9);
  assert_near(box.min.y, -150, 1e-9);
  assert_near(hf_box_width(box), 1150, 1e-9);
  /* without legs: a piece of a ring */
  g_autoptr(HfLayout) bare =
      help_layout("  - gate arch: {chord: 1100 mm, rise: 300 mm, width: 25 mm}\n");
  assert_near(area_of(bare, 0), asin(550 / r) * ((r + 25) * (r + 25) - r * r), 1e-6);
}

/* One that runs round another: same centre, same feet, the same distance along curve and legs. */
static void
test_arch_over(void)
{
  g_autoptr(HfLayout) layout = help_layout(
      "  - gate arch: {name: low, chord: 1100 mm, rise: 300 mm, legs: 150 mm, width: 25 mm, "
      "shift: [7 mm, 9 mm], turn: 3 deg}\n"
      "  - gate arch: {name: mid, over: low, clear: 80 mm, width: 20 mm}\n"
      "  - gate arch: {over: mid, clear: 30 mm, width: 20 mm}\n"
      "  - foot: {width: 90 mm, height: 9 mm, on: mid, at: [left end, right end]}\n");
  double r = (550.0 * 550 + 300 * 300) / 600;
  const double inner[] = {r, r + 105, r + 155}, half[] = {550, 655, 705};
  HfPoint centre = {NAN, NAN};
  for (guint i = 0; i < 3; i++) {
    const HfOutline *outline = hf_layout_shape(layout, i)->outline;
    for (guint k = 0; k < outline->curves->len; k++) {
      const HfCurve *curve = &g_array_index(outline->curves, HfCurve, k);
      if (curve->kind != HF_CURVE_ARC)
        continue;
      centre = isnan(centre.x) ? curve->c0 : centre;
      assert_near(hf_point_distance(curve->c0, centre), 0, 1e-9);
      double radius = curve->sweep > 0 ? inner[i] + (i == 0 ? 25 : 20) : inner[i];
      assert_near(hf_curve_radius(curve), radius, 1e-9);
    }
    /* the feet, turned back, lie at one height, and the legs where they should */
    HfMatrix back = hf_matrix_then(hf_matrix_move(-7, -9), hf_matrix_turn(-3 * G_PI / 180));
    HfPoint foot = hf_matrix_apply(back, g_array_index(outline->curves, HfCurve, 0).p0);
    assert_near(foot.x, half[i], 1e-9);
    assert_near(foot.y, -150, 1e-9);
  }
  g_assert_cmpuint(layout->hangs->len, ==, 2);
}

/* A rectangle grown by d: a b + 2 (a + b) d + pi d^2, of eight curves; a filled ring grown. */
static void
test_outline_plate(void)
{
  g_autoptr(HfLayout) layout = help_layout("  - plate: {name: p, shape: outline, grow: 15 mm}\n"
                                           "  - bar: {length: 200 mm, height: 40 mm, on: p}\n");
  double area = 200 * 40 + 2 * 240 * 15 + G_PI * 225;
  assert_near(area_of(layout, 0), area, 240 * 0.01);
  const HfOutline *outline = hf_layout_shape(layout, 0)->outline;
  g_assert_cmpuint(outline->curves->len, ==, 8);
  guint arcs = 0;
  for (guint i = 0; i < 8; i++) {
    const HfCurve *curve = &g_array_index(outline->curves, HfCurve, i);
    arcs += curve->kind == HF_CURVE_ARC;
    if (curve->kind == HF_CURVE_ARC)
      assert_near(hf_curve_radius(curve), 15, 0.02);
  }
  g_assert_cmpuint(arcs, ==, 4);
  HfBox box = help_box(layout, 0);
  assert_near(hf_box_width(box), 230, 0.01);
  assert_near(hf_box_height(box), 70, 0.01);

  g_autoptr(HfLayout) round =
      help_layout("  - ring: {name: r, outer: 200 mm, width: 10 mm, shift: [20 mm, 0 mm]}\n"
                  "  - plate: {shape: outline, grow: 10 mm, around: [r]}\n");
  assert_near(area_of(round, 1), G_PI * 110 * 110, 700 * 0.01);
  g_assert_cmpuint(hf_layout_shape(round, 1)->outline->curves->len, <=, 4);
  assert_near(hf_box_centre(help_box(round, 1)).x, 20, 0.01);
}

/* Round letters: every point of the outline lies at the distance from the nearest letter, within
 * 0.01 mm, and it is made of few curves. */
static void
test_outline_round_letters(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(HfRecipe) recipe = help_recipe(
      "  - plate: {shape: outline, grow: 12 mm, around: [w]}\n"
      "  - words: {name: w, text: Swell, font: {family: Lobster Two, style: Bold}, height: 90 mm, "
      "as: opening}\n");
  g_autoptr(HfLayout) layout = hf_layout_new(recipe, fonts, 3, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(HfRegion) letters = hf_region_new();
  for (guint i = 1; i < layout->shapes->len; i++)
    hf_region_flatten(letters, hf_layout_shape(layout, i)->outline, i, 0.0005);
  const HfOutline *outline = hf_layout_shape(layout, 0)->outline;
  double worst = 0;
  for (guint k = 0; k < outline->curves->len; k++)
    for (double t = 0.1; t < 1; t += 0.2) {
      HfPoint p = hf_curve_point(&g_array_index(outline->curves, HfCurve, k), t);
      double nearest = INFINITY;
      for (guint r = 0; r < letters->rings->len; r++)
        for (guint v = 0; v < hf_region_ring(letters, r)->n; v++) {
          HfEdgeId id = {r, v};
          HfPoint on =
              hf_segment_nearest(hf_edge_start(letters, id), hf_edge_end(letters, id), p, NULL);
          nearest = MIN(nearest, hf_point_distance(on, p));
        }
      worst = MAX(worst, fabs(nearest - 12));
    }
  g_test_message("%u curves, worst %g", outline->curves->len, worst);
  g_assert_cmpfloat(worst, <, 0.01);
  g_assert_cmpuint(outline->curves->len, <, 160);
}

/* A separator in a band bites both rings by what makes the joint 1.25 limits (3.75 mm) wide: the
 * shape's breadth where it crosses the ring's edge. */
static void
test_separators_reach(void)
{
  static const char *const kinds[] = {"dot: {", "diamond: {", "star: {",
                                      "star: {points: 6, depth: 60 %,"};
  for (guint i = 0; i < G_N_ELEMENTS(kinds); i++) {
    g_autofree char *entries =
        g_strdup_printf("  - ring: {name: a, outer: 300 mm, width: 24 mm}\n"
                        "  - ring: {name: b, outer: 180 mm, width: 24 mm}\n"
                        "  - %s band: [a, b], at: [top, bottom, left, 4 o'clock]}\n",
                        kinds[i]);
    g_autoptr(HfLayout) layout = help_layout(entries);
    g_assert_cmpuint(layout->shapes->len, ==, 6);
    g_assert_cmpuint(help_pieces(layout), ==, 1);
    HfBox top = help_box(layout, 2);
    g_test_message("%s: %g to %g", kinds[i], top.min.y, top.max.y);
    g_assert_cmpfloat(top.max.y, >, 126 + 1);
    g_assert_cmpfloat(top.max.y, <, 150); /* nothing shows on the far side */
    g_assert_cmpfloat(top.min.y, <, 90 - 1);
    g_assert_cmpfloat(top.min.y, >, 66);
    /* the region of the separator in the band: its boundary on each ring's edge is the joint */
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, hf_layout_shape(layout, 2)->outline, 0, 0.001);
    g_autoptr(HfRegion) shape = hf_region_clean(raw);
    for (guint side = 0; side < 2; side++) {
      double r = side == 0 ? 126 : 90, first = NAN, widest = 0;
      for (double a = -0.3; a < 0.3; a += 1e-5) {
        gboolean in = hf_box_contains(top, hf_point_polar(hf_point(0, 0), r, G_PI / 2 - a)) &&
                      hf_region_contains(shape, hf_point_polar(hf_point(0, 0), r, G_PI / 2 - a));
        if (in && isnan(first))
          first = a;
        if (!in && !isnan(first)) {
          widest = MAX(widest, 2 * r * sin((a - first) / 2));
          first = NAN;
        }
      }
      g_test_message("joint %g", widest);
      g_assert_cmpfloat(widest, >, 3.75 - 0.02);
    }
  }
}

static void
test_separator_no_room(void)
{
  g_autofree char *message = help_refused("  - ring: {name: a, outer: 300 mm, width: 4 mm}\n"
                                          "  - ring: {name: b, outer: 180 mm, width: 24 mm}\n"
                                          "  - star: {band: [a, b], at: top}\n");
  g_test_message("%s", message);
  g_assert_nonnull(strstr(message, "whose strip is 4 mm wide"));
}

static void
test_patterns(void)
{
  g_autoptr(HfLayout) layout = help_layout(
      "  - hole pattern: {diameter: 5 mm, columns: 4, rows: 3, pitch: 20 mm, staggered: yes}\n");
  g_assert_cmpuint(layout->shapes->len, ==, 4 + 3 + 4);
  HfPoint first = hf_box_centre(help_box(layout, 0)), fifth = hf_box_centre(help_box(layout, 4));
  assert_near(first.x, -30, 1e-9);
  assert_near(first.y, 20 * sin(G_PI / 3), 1e-9);
  assert_near(hf_point_distance(first, fifth), 20, 1e-9); /* every neighbour one pitch away */
  g_assert_true(hf_layout_shape(layout, 0)->opening);
  g_autoptr(HfLayout) round =
      help_layout("  - hole pattern: {diameter: 5 mm, count: 8, circle: 100 mm}\n");
  HfPoint second = hf_box_centre(help_box(round, 1));
  assert_near(second.x, 50 * sin(G_PI / 4), 1e-9);
  assert_near(second.y, 50 * cos(G_PI / 4), 1e-9);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/layout/shapes/plates", test_plates);
  g_test_add_func("/layout/shapes/oval", test_oval);
  g_test_add_func("/layout/shapes/smooth", test_smooth);
  g_test_add_func("/layout/shapes/ring", test_ring);
  g_test_add_func("/layout/shapes/arch", test_arch);
  g_test_add_func("/layout/shapes/arch-over", test_arch_over);
  g_test_add_func("/layout/shapes/outline-plate", test_outline_plate);
  g_test_add_func("/layout/shapes/outline-round-letters", test_outline_round_letters);
  g_test_add_func("/layout/shapes/separators-reach", test_separators_reach);
  g_test_add_func("/layout/shapes/separator-no-room", test_separator_no_room);
  g_test_add_func("/layout/shapes/patterns", test_patterns);
  return g_test_run();
}
