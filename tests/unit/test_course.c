/* SPDX-License-Identifier: GPL-3.0-or-later
 * Lines that words follow: lengths and places against closed forms; letters that stand on them,
 * bent to them, or refused by them; words drawn out to a shape.
 */
#include "layout-help.h"
#include "layout/follow-private.h"
#include "layout/shaped-private.h"
#include <string.h>

#define TIGHT 1e-9

/* ---- lengths -------------------------------------------------------------------------------- */

/* Perimeter 4 a E(m), m = 1 - (b / a)^2. E(0.75) = 1.2110560275684594 (A. Cayley's complete
 * elliptic integral of the second kind; scipy.special.ellipe(0.75)). Circle: 2 pi r. */
static void
test_ellipse(void)
{
  g_autoptr(HfCourse) circle = hf_course_ellipse(200, 200, FALSE);
  assert_near(circle->length, 200 * G_PI, 1e-8);
  g_autoptr(HfCourse) ellipse = hf_course_ellipse(400, 200, FALSE);
  assert_near(ellipse->length, 4 * 200 * 1.2110560275684594, 1e-8);
  g_assert_true(ellipse->closed);
  g_assert_cmpuint(ellipse->turns->len, ==, 0);
  /* a quarter of the length from the left end, clockwise, is the top; its bend there b / a^2 */
  HfCoursePoint top = hf_course_at(ellipse, ellipse->length / 4);
  assert_near(top.at.x, 0, 1e-8);
  assert_near(top.at.y, 100, TIGHT);
  assert_near(top.way.x, 1, TIGHT);
  assert_near(top.bend, -100.0 / (200 * 200), TIGHT);
  assert_near(hf_course_toward(ellipse, hf_point(0, 0), G_PI_2), ellipse->length / 4, 1e-8);
}

/* One crest to the next of a sin (k x): (4 / k) sqrt (1 + (a k)^2) E(m), m = (a k)^2 / (1 + (a
 * k)^2). With a k = 1: E(0.5) = 1.3506438810476755. */
static void
test_wave(void)
{
  double length = 300, a = length / (2 * G_PI);
  g_autoptr(HfCourse) wave = hf_course_wave(2 * a, length, length / 2);
  assert_near(wave->length, 4 * a * sqrt(2) * 1.3506438810476755, 1e-8);
  HfCoursePoint middle = hf_course_at(wave, wave->length / 2);
  assert_near(middle.at.x, 0, 1e-8);
  assert_near(middle.way.y, sqrt(0.5), TIGHT);
  HfCoursePoint crest = hf_course_at(wave, wave->length * 3 / 4);
  assert_near(crest.at.x, length / 4, 1e-7);
  assert_near(crest.at.y, a, TIGHT);
  /* beyond its end it goes on straight */
  HfCoursePoint beyond = hf_course_at(wave, wave->length + 10);
  assert_near(beyond.at.x, length / 2 + 10 * sqrt(0.5), 1e-7);
  assert_near(beyond.at.y, -10 * sqrt(0.5), 1e-7);
}

/* Two points: a straight line. Points of a circle, close together: nearly that circle. No loop. */
static void
test_through(void)
{
  HfPoint two[] = {{0, 0}, {30, 40}};
  g_autoptr(HfCourse) line = hf_course_through(two, 2);
  assert_near(line->length, 50, TIGHT);
  assert_near(hf_course_at(line, 20).at.x, 12, TIGHT);
  HfPoint round[19];
  for (guint i = 0; i < G_N_ELEMENTS(round); i++)
    round[i] = hf_point_polar(hf_point(0, 0), 100, i * G_PI / 18);
  g_autoptr(HfCourse) arc = hf_course_through(round, G_N_ELEMENTS(round));
  assert_near(arc->length, 100 * G_PI, 0.05);
  double h =
      G_PI / 18; /* from knot to knot: its second derivative is (1 + h^2 / 12) times too large */
  assert_near(hf_course_at(arc, arc->length / 2).bend, 0.01 * (1 + h * h / 12), 1e-6);
  g_assert_cmpuint(arc->joins->len + arc->turns->len, ==, 0);
}

/* Of a rounded rectangle: its corners are smooth, its bend jumps eight times. */
static void
test_contour(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{-100, -50}, {100, 50}}, 20);
  g_autoptr(HfCourse) course = hf_course_contour(outline, 0, FALSE);
  assert_near(course->length, 2 * (160 + 60) + 40 * G_PI, TIGHT);
  g_assert_cmpuint(course->turns->len, ==, 0);
  g_assert_cmpuint(course->joins->len, ==, 8);
  double top = hf_course_toward(course, hf_point(0, 0), G_PI_2);
  assert_near(hf_course_at(course, top).at.y, 50, TIGHT);
  assert_near(hf_course_at(course, top).way.x, 1, TIGHT);
  assert_near(hf_course_at(course, top + course->length).at.x, hf_course_at(course, top).at.x,
              1e-8);
  g_autoptr(HfOutline) sharp = hf_outline_new();
  hf_outline_add_rectangle(sharp, (HfBox){{-100, -50}, {100, 50}}, 0);
  g_autoptr(HfCourse) inward = hf_course_contour(sharp, 0, TRUE);
  g_assert_cmpuint(inward->turns->len, ==, 4);
}

/* An arc of length L and half angle a has radius L / 2 a and rises by R (1 - cos a). */
static void
test_arch_angle(void)
{
  for (double a = 0.05; a < 2.3; a += 0.25) {
    double radius = 300 / (2 * a), rise = radius * (1 - cos(a));
    assert_near(hf_arch_half_angle(300, rise), a, 1e-9);
  }
  g_assert_true(isnan(hf_arch_half_angle(300, 110)));
}

/* ---- letters -------------------------------------------------------------------------------- */

#define FONT "font: Bebas Neue"

static HfLayout *
layout_or_not(const char *entries, GError **error)
{
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(HfRecipe) recipe = help_recipe(entries);
  return hf_layout_new(recipe, fonts, 3, NULL, error);
}

static HfLayout *
layout_of(const char *entries)
{
  g_autoptr(GError) error = NULL;
  HfLayout *layout = layout_or_not(entries, &error);
  g_assert_no_error(error);
  return layout;
}

static char *
refused_by(const char *entries)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfLayout) layout = layout_or_not(entries, &error);
  g_assert_null(layout);
  return g_strdup(error->message);
}

/* Along an ellipse that is a circle words stand as on an arc of its radius, rigid and bent. */
static void
test_as_on_a_circle(void)
{
  static const char *const forms[] = {"rigid", "bent"};
  for (guint f = 0; f < G_N_ELEMENTS(forms); f++) {
    g_autofree char *round = g_strdup_printf("  - words: {text: HIVH, " FONT
                                             ", height: 40 mm, arc radius: 150 mm, letters: %s}\n",
                                             forms[f]);
    g_autofree char *along = g_strdup_printf("  - words: {text: HIVH, " FONT
                                             ", height: 40 mm, ellipse: [300 mm, 300 mm], "
                                             "letters: %s}\n",
                                             forms[f]);
    g_autoptr(HfLayout) a = layout_of(round), b = layout_of(along);
    g_assert_cmpuint(a->shapes->len, ==, b->shapes->len);
    /* centred by the ink's angle the one, by its length the other: the first letter says how far */
    HfMatrix first = hf_layout_shape(a, 0)->em, other = hf_layout_shape(b, 0)->em;
    double turn = atan2(first.yx, first.xx) - atan2(other.yx, other.xx);
    for (guint i = 0; i < a->shapes->len; i++) {
      g_autoptr(HfOutline) turned = hf_outline_new();
      hf_outline_append(turned, hf_layout_shape(b, i)->outline, hf_matrix_turn(turn));
      HfBox p = hf_outline_box(hf_layout_shape(a, i)->outline), q = hf_outline_box(turned);
      assert_near(p.min.x, q.min.x, 0.002);
      assert_near(p.max.y, q.max.y, 0.002);
      assert_near(fabs(hf_outline_area(hf_layout_shape(a, i)->outline)),
                  fabs(hf_outline_area(turned)), 0.05);
    }
  }
}

/* Bent letters keep their feet on the line: every letter reaches down to it, none below. */
static void
test_bent_feet(void)
{
  g_autoptr(HfLayout) layout =
      layout_of("  - words: {text: HIH, " FONT
                ", height: 40 mm, wave: 40 mm, wave length: 300 mm, letters: bent}\n");
  g_autoptr(HfCourse) wave = hf_course_wave(40, 300, 200);
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfOutline *outline = hf_layout_shape(layout, i)->outline;
    double lowest = INFINITY;
    for (guint k = 0; k < outline->curves->len; k++) {
      const HfCurve *curve = &g_array_index(outline->curves, HfCurve, k);
      for (int u = 0; u <= 8; u++) {
        HfPoint p = hf_curve_point(curve, u / 8.0);
        p.y += 20; /* the middle of the capitals is on the wave's own middle */
        double least = INFINITY;
        for (double s = 0; s < wave->length; s += 0.25)
          least = fmin(least, hf_point_distance(p, hf_course_at(wave, s).at));
        lowest = fmin(lowest, least);
      }
    }
    g_assert_cmpfloat(lowest, <, 0.13); /* half a step of s */
  }
}

/* Along the edge of a plate with straight sides letters stand level, their tops the inset inside.
 */
static void
test_edge(void)
{
  g_autoptr(HfLayout) layout = layout_of(
      "  - plate: {name: board, shape: rectangle, width: 500 mm, height: 300 mm}\n"
      "  - words: {text: HEH, " FONT ", height: 40 mm, edge of: board, inset: 15 mm}\n"
      "  - words: {text: HEH, " FONT ", height: 40 mm, edge of: board, inset: 15 mm, at: bottom}\n"
      "  - words: {text: HEH, " FONT ", height: 40 mm, edge of: board, inset: 15 mm, at: left}\n");
  assert_near(help_box(layout, 1).max.y, 150 - 15, 0.002);
  assert_near(help_box(layout, 4).min.y, -150 + 15, 0.002);
  assert_near(help_box(layout, 7).min.x, -250 + 15, 0.002);
  assert_near(help_box(layout, 1).min.x, -help_box(layout, 3).max.x, 1e-6);
}

/* An arch keeps the words' own length and hangs where its rise is below 0. */
static void
test_arch(void)
{
  g_autoptr(HfLayout) up =
      layout_of("  - words: {text: IIIII, " FONT ", width: 300 mm, height: 40 mm, arch: 40 mm, "
                "letters: bent}\n");
  g_autoptr(HfLayout) down =
      layout_of("  - words: {text: IIIII, " FONT ", width: 300 mm, height: 40 mm, arch: -40 mm}\n");
  HfBox first = help_box(up, 0), middle = help_box(up, 2), last = help_box(up, 4);
  assert_near(first.min.x, -last.max.x, 1e-6);
  g_assert_cmpfloat(middle.max.y, >, first.max.y + 25);
  g_assert_cmpfloat(help_box(down, 2).min.y, <, help_box(down, 0).min.y - 25);
  const HfSolved *solved = NULL;
  for (guint i = 0; i < up->solved->len; i++)
    if (g_array_index(up->solved, HfSolved, i).what == HF_SOLVED_BASELINE_RADIUS)
      solved = &g_array_index(up->solved, HfSolved, i);
  g_assert_nonnull(solved);
  double half = 300 / (2 * solved->value);
  assert_near(solved->value * (1 - cos(half)), 40, 1e-6);
}

/* A plate is as large as what stands on it asks for; words along its edge come afterwards, wherever
 * the recipe has them. That it goes round them is a circle. */
static void
test_edge_of_what_follows(void)
{
  g_autoptr(HfLayout) layout = layout_of(
      "  - words: {text: HEH, " FONT ", height: 40 mm, edge of: board, inset: 15 mm, as: opening}\n"
      "  - plate: {name: board, shape: rectangle, margin: 70 mm}\n"
      "  - words: {text: HEH, " FONT ", height: 80 mm, on: board, as: opening}\n");
  HfBox board = help_box(layout, 3);
  assert_near(hf_box_height(board), 80 + 2 * 70, 0.01);
  assert_near(board.max.y - help_box(layout, 0).max.y, 15, 0.002);
  g_autofree char *circle = refused_by(
      "  - plate: {name: board, shape: rectangle, margin: 70 mm, around: [a]}\n"
      "  - words: {name: a, text: HEH, " FONT ", height: 40 mm, edge of: board, inset: 15 mm}\n");
  g_assert_nonnull(strstr(circle, "in a circle"));
}

static void
test_refused(void)
{
  static const struct {
    const char *entry, *said;
  } rows[] = {
      {"text: FAR TOO LONG, " FONT ", height: 60 mm, ellipse: [100 mm, 60 mm]", "the line has"},
      {"text: LONG WORDS, " FONT ", height: 60 mm, through: [[0 mm, 0 mm], [90 mm, 10 mm]]",
       "letters, which fit"},
      {"text: LONG WORDS, " FONT ", width: 300 mm, through: [[0 mm, 0 mm], [90 mm, 10 mm]]",
       "take a width of 90 mm"},
      {"text: WWWWWW, " FONT ", height: 60 mm, wave: 80 mm, wave length: 120 mm, letters: bent",
       "can't be bent round that"},
      {"text: UP, " FONT ", height: 40 mm, arch: 90 mm", "no arch of that length rises"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autofree char *entry = g_strdup_printf("  - words: {%s}\n", rows[i].entry);
    g_autofree char *refused = refused_by(entry);
    g_test_message("%s", refused);
    g_assert_nonnull(strstr(refused, rows[i].said));
  }
  g_autofree char *corner =
      refused_by("  - plate: {name: board, shape: rectangle, width: 200 mm, height: 200 mm}\n"
                 "  - words: {text: WWWWWWWW, " FONT
                 ", height: 40 mm, edge of: board, inset: 15 mm, letters: bent}\n");
  g_assert_nonnull(strstr(corner, "the line has a corner under"));
}

/* ---- shaped --------------------------------------------------------------------------------- */

/* The lines at the middle and at the ends of 400 x 100, curved by 30: from the forms' drawings. */
static void
test_lines_of_shapes(void)
{
  static const struct {
    HfWordsShape form;
    double depth, bottom, top, left_bottom, left_top, right_top;
  } rows[] = {
      {HF_SHAPE_OVAL, 30, -50, 50, -20, 20, 20},    {HF_SHAPE_OVAL, -30, -20, 20, -50, 50, 50},
      {HF_SHAPE_ARCH, 30, -50, 50, -50, 20, 20},    {HF_SHAPE_BANNER, 30, -20, 50, -50, 20, 20},
      {HF_SHAPE_BANNER, -30, -50, 20, -20, 50, 50}, {HF_SHAPE_RISING, 30, -50, 35, -50, 20, 50},
      {HF_SHAPE_DIAMOND, 30, -50, 50, -20, 20, 20},
  };
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    HfShaping shaping = {rows[i].form, 400, 100, rows[i].depth};
    HfShapingAt middle = hf_shaping_at(&shaping, 0), left = hf_shaping_at(&shaping, -200);
    assert_near(middle.bottom, rows[i].bottom, TIGHT);
    assert_near(middle.top, rows[i].top, TIGHT);
    assert_near(left.bottom, rows[i].left_bottom, TIGHT);
    assert_near(left.top, rows[i].left_top, TIGHT);
    assert_near(hf_shaping_at(&shaping, 200).top, rows[i].right_top, TIGHT);
    for (double x = -180; x <= 180; x += 40) { /* slopes against differences */
      double h = 1e-4;
      double rise = hf_shaping_at(&shaping, x + h).top - hf_shaping_at(&shaping, x - h).top;
      assert_near(hf_shaping_at(&shaping, x).top_slope, rise / (2 * h), 1e-7);
    }
  }
}

/* Whatever the shape, the ink is as wide as the box, and reaches no line but is not beyond it. */
static void
test_fills(void)
{
  static const char *const forms[] = {"oval", "arch-topped", "banner", "rising", "diamond"};
  static const char *const more[] = {"", ", depth: -35 mm", ", spacing: 4 mm", ", spacing: 5 %",
                                     ", bolder: 0.6 mm"};
  for (guint f = 0; f < G_N_ELEMENTS(forms); f++)
    for (guint m = 0; m < G_N_ELEMENTS(more); m++) {
      g_autofree char *entry = g_strdup_printf("  - words: {text: HIPEH, " FONT
                                               ", shaped: %s, box: [400 mm, 100 mm]%s}\n",
                                               forms[f], more[m]);
      g_test_message("%s", entry);
      g_autoptr(HfLayout) layout = layout_of(entry);
      HfBox box = HF_BOX_EMPTY;
      for (guint i = 0; i < layout->shapes->len; i++)
        box = hf_box_union(box, help_box(layout, i));
      assert_near(box.min.x, -200, 1e-5);
      assert_near(box.max.x, 200, 1e-5);
      g_assert_cmpfloat(box.max.y, <=, 50 + 1e-5);
      g_assert_cmpfloat(box.min.y, >=, -50 - 1e-5);
      g_assert_cmpfloat(hf_box_height(box), >, 60);
    }
}

/* A stem 12 wide: 12. Two stems with a waist between: the waist. A wedge runs out: its wide stem.
 */
static void
test_thinnest(void)
{
  g_autoptr(HfOutline) stem = hf_outline_new();
  hf_outline_add_rectangle(stem, (HfBox){{0, 0}, {12, 80}}, 0);
  assert_near(hf_thinnest_stroke(stem, NULL), 12, 0.001);
  HfPoint waist[] = {{0, 0},   {20, 0}, {20, 30}, {12, 40}, {20, 50},
                     {20, 80}, {0, 80}, {0, 50},  {8, 40},  {0, 30}};
  g_autoptr(HfOutline) two = hf_outline_new();
  hf_outline_add_polygon(two, waist, G_N_ELEMENTS(waist));
  assert_near(hf_thinnest_stroke(two, NULL), 4, 0.001);
  HfPoint tip[] = {{0, 0}, {10, 0}, {10, 50}, {5, 80}, {0, 50}};
  g_autoptr(HfOutline) point = hf_outline_new();
  hf_outline_add_polygon(point, tip, G_N_ELEMENTS(tip));
  assert_near(hf_thinnest_stroke(point, NULL), 10, 0.001);
  /* an annulus of 7 */
  g_autoptr(HfOutline) ring = hf_outline_new();
  hf_outline_add_circle(ring, hf_point(0, 0), 40);
  g_autoptr(HfOutline) inner = hf_outline_new();
  hf_outline_add_circle(inner, hf_point(0, 0), 33);
  hf_outline_reverse(inner);
  hf_outline_append(ring, inner, HF_MATRIX_IDENTITY);
  assert_near(hf_thinnest_stroke(ring, NULL), 7, 0.04);
}

/* Bebas Neue's I is a stem: drawn out half as wide as it would be it is half as thick. */
static void
test_strokes_told(void)
{
  double told[2];
  for (guint k = 0; k < 2; k++) {
    g_autofree char *entry = g_strdup_printf(
        "  - words: {text: I, " FONT ", shaped: rising, box: [%u mm, 100 mm], depth: 10 mm}\n",
        20 * (k + 1));
    g_autoptr(HfLayout) layout = layout_of(entry);
    const HfSolved *last = &g_array_index(layout->solved, HfSolved, layout->solved->len - 1);
    g_assert_cmpint(last->what, ==, HF_SOLVED_THINNEST_STROKE);
    told[k] = last->value;
  }
  assert_near(told[0], 20, 0.2);
  assert_near(told[1], 40, 0.2);
}

/* In a row words along a line are a box; their own size has to be said. */
static void
test_in_groups(void)
{
  g_autoptr(HfLayout) layout =
      layout_of("  - row: {of: [a, b], gap between: 10 mm, align: feet}\n"
                "  - words: {name: a, text: HIH, " FONT ", height: 40 mm, arch: 15 mm}\n"
                "  - words: {name: b, text: HIH, " FONT ", shaped: oval, box: [200 mm, 80 mm]}\n");
  HfBox a = HF_BOX_EMPTY, b = HF_BOX_EMPTY;
  for (guint i = 0; i < layout->shapes->len; i++)
    *(hf_layout_shape(layout, i)->entry == 1 ? &a : &b) =
        hf_box_union(hf_layout_shape(layout, i)->entry == 1 ? a : b, help_box(layout, i));
  assert_near(b.min.x - a.max.x, 10, 1e-6);
  assert_near(a.min.y, b.min.y, 1e-6);
  const char *entries =
      "entries:\n  - stack: {of: [a], width: 400 mm}\n"
      "  - words: {name: a, text: HIH, " FONT ", wave: 20 mm, wave length: 90 mm}\n";
  g_autofree char *text =
      g_strconcat("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\n", entries, NULL);
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_recipe_read(text, strlen(text), "t.yaml", &error));
  g_assert_nonnull(strstr(error->message, "words along a line need a height of their own"));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/course/ellipse", test_ellipse);
  g_test_add_func("/course/wave", test_wave);
  g_test_add_func("/course/through", test_through);
  g_test_add_func("/course/contour", test_contour);
  g_test_add_func("/course/arch-angle", test_arch_angle);
  g_test_add_func("/course/as-on-a-circle", test_as_on_a_circle);
  g_test_add_func("/course/bent-feet", test_bent_feet);
  g_test_add_func("/course/edge", test_edge);
  g_test_add_func("/course/edge-of-what-follows", test_edge_of_what_follows);
  g_test_add_func("/course/arch", test_arch);
  g_test_add_func("/course/refused", test_refused);
  g_test_add_func("/shaped/lines", test_lines_of_shapes);
  g_test_add_func("/shaped/fills", test_fills);
  g_test_add_func("/shaped/thinnest", test_thinnest);
  g_test_add_func("/shaped/strokes-told", test_strokes_told);
  g_test_add_func("/course/in-groups", test_in_groups);
  return g_test_run();
}
