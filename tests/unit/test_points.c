/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_points.c - outer points on either side of 60 degrees and of 2 mm radius (handbook 3.1,
 * common practice, no source), and strips on either side of 27 K.
 */
#include "hold-fixture.h"

#define DEG (G_PI / 180)

/* A tip of @angle degrees rounded to @radius, on a plate. The tip of the unrounded corner is at
 * (0, 100); the arc touches both sides at r / tan(angle / 2) from there. */
static Sign *
tip(double angle, double radius)
{
  Sign *sign = sign_new(3, 1.5);
  double half = angle / 2 * DEG, foot = 100 * tan(half);
  HfOutline *outline = hf_outline_new();
  hf_outline_begin(outline, hf_point(-foot, 0));
  hf_outline_line_to(outline, hf_point(-foot, -50));
  hf_outline_line_to(outline, hf_point(foot, -50));
  hf_outline_line_to(outline, hf_point(foot, 0));
  if (radius > 0) {
    double back = radius / tan(half);
    HfPoint from = hf_point(back * sin(half), 100 - back * cos(half));
    HfPoint to = hf_point(-from.x, from.y);
    hf_outline_line_to(outline, from);
    hf_outline_arc_to(outline, hf_point(0, 100 - radius / sin(half)), G_PI - angle * DEG, to);
  } else {
    hf_outline_line_to(outline, hf_point(0, 100));
  }
  hf_outline_close(outline);
  sign_add(sign, HF_ENTRY_PLATE, "roof", outline, FALSE);
  return sign;
}

static void
test_limits(void)
{
  const struct {
    double angle, radius;
    gboolean found;
  } cases[] = {
      {59, 0, TRUE},    {61, 0, FALSE},   {30, 0.5, TRUE}, {30, 0.05, TRUE},
      {30, 1.9, TRUE},  {30, 2.1, FALSE}, {58, 1.9, TRUE}, {58, 2.1, FALSE},
      {61, 1.0, FALSE}, {90, 0, FALSE},   {5, 0.3, TRUE},  {5, 3, FALSE},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = tip(cases[i].angle, cases[i].radius);
    const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_SHARP_POINT);
    g_test_message("%g degrees, radius %g", cases[i].angle, cases[i].radius);
    g_assert_cmpint(finding != NULL, ==, cases[i].found);
    if (finding == NULL)
      continue;
    g_assert_cmpuint(finding->count, ==, 1);
    g_assert_cmpint(finding->gravity, ==, HF_CAUTION);
    g_assert_cmpfloat_with_epsilon(finding->measured, cases[i].angle, 3);
    g_assert_cmpfloat(fabs(finding->at.x), <, 1);
  }
}

static void
test_within_reach(void)
{
  g_autoptr(Sign) sign = tip(40, 0.5);
  sign->recipe.within_reach = TRUE;
  const HfHold *hold = sign_check(sign);
  g_assert_cmpint(sign_find(hold, HF_LAW_SHARP_POINT)->gravity, ==, HF_STOP);
  g_assert_false(hold->whole);
}

/* A five-pointed star has five points of 36 degrees, its inner corners are none. */
static void
test_star(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  HfPoint points[10];
  for (guint i = 0; i < 10; i++)
    points[i] = hf_point_polar(hf_point(0, 0), i % 2 ? 38.1966 : 100, G_PI / 2 + i * 36 * DEG);
  sign_add_polygon(sign, "star", points, 10);
  const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_SHARP_POINT);
  g_assert_nonnull(finding);
  g_assert_cmpuint(finding->count, ==, 5);
  g_assert_cmpuint(finding->places->len, ==, 5);
  g_assert_cmpfloat_with_epsilon(finding->measured, 36, 0.01);
  g_assert_true(
      g_str_has_prefix(finding->text, "plate \"star\", and 4 more places: outer point of"));
}

/* Square ends are two right angles, not a point; a round end of a 6 mm stroke has 3 mm radius; an
 * opening's corners point inward. */
static void
test_no_points(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", -100, -50, 100, 50);
  sign_add_box(sign, "prong", -1.5, 49, 1.5, 90);
  HfOutline *round = hf_outline_new();
  hf_outline_begin(round, hf_point(27, 49));
  hf_outline_line_to(round, hf_point(33, 49));
  hf_outline_line_to(round, hf_point(33, 90));
  hf_outline_arc_to(round, hf_point(30, 90), G_PI, hf_point(27, 90));
  hf_outline_close(round);
  sign_add(sign, HF_ENTRY_PLATE, "finger", round, FALSE);
  const HfPoint wedge[] = {{-60, -20}, {-40, -20}, {-50, 20}};
  guint hole = sign_add_polygon(sign, "wedge", wedge, 3);
  sign_shape(sign, hole)->opening = TRUE;
  g_assert_null(sign_find(sign_check(sign), HF_LAW_SHARP_POINT));
}

/* A round end of a 3 mm stroke has 1.5 mm radius and parallel sides. */
static void
test_thin_round_end(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1);
  sign_add_box(sign, "board", -100, -50, 100, 50);
  HfOutline *round = hf_outline_new();
  hf_outline_begin(round, hf_point(-1.5, 49));
  hf_outline_line_to(round, hf_point(1.5, 49));
  hf_outline_line_to(round, hf_point(1.5, 70));
  hf_outline_arc_to(round, hf_point(0, 70), G_PI, hf_point(-1.5, 70));
  hf_outline_close(round);
  sign_add(sign, HF_ENTRY_PLATE, "prong", round, FALSE);
  const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_SHARP_POINT);
  g_assert_nonnull(finding);
  g_assert_cmpuint(finding->count, ==, 1);
}

/* Strips. Steel, t 3, L 300: 27.4 K by pi^2 t^2 / (3 a L^2), a = 12e-6 (handbook 3.7 gives 27 K).
 */

/* Two posts of 40 mm with a rail of 12 mm between them, free over @length. */
static Sign *
rail(double thickness, double length, double height)
{
  Sign *sign = sign_new(thickness, 1.5);
  sign_add_box(sign, "left", -40, -100, 0, 100);
  sign_add_box(sign, "right", length, -100, length + 40, 100);
  sign_add_box(sign, "rail", -1, -height / 2, length + 1, height / 2);
  return sign;
}

static void
test_strip(void)
{
  const struct {
    double thickness, length, height;
    gboolean found;
  } cases[] = {
      {3, 295, 12, FALSE}, {3, 310, 12, TRUE},   {1.5, 145, 12, FALSE}, {1.5, 160, 12, TRUE},
      {3, 1200, 29, TRUE}, {3, 1200, 31, FALSE}, /* wider than 10 t is no strip */
      {3, 600, 6, TRUE},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = rail(cases[i].thickness, cases[i].length, cases[i].height);
    const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_BOWING_STRIP);
    g_test_message("t %g, %g x %g", cases[i].thickness, cases[i].length, cases[i].height);
    g_assert_cmpint(finding != NULL, ==, cases[i].found);
    if (finding == NULL)
      continue;
    double heat = pow(G_PI * cases[i].thickness / cases[i].length, 2) / (3 * 12e-6);
    g_assert_cmpuint(finding->count, ==, 1);
    g_assert_cmpint(finding->gravity, ==, HF_CAUTION);
    g_assert_cmpfloat_with_epsilon(finding->measured, heat, 0.03 * heat);
    g_assert_cmpfloat_with_epsilon(finding->reach, cases[i].length, 3);
  }
}

/* A tie in the middle makes two strips of half the length; a free end makes none. */
static void
test_strip_tied(void)
{
  g_autoptr(Sign) sign = rail(3, 500, 12);
  sign_add_box(sign, "arm", -40, 90, 540, 160);
  sign_add_box(sign, "tie", 248, 5, 252, 91);
  g_assert_null(sign_find(sign_check(sign), HF_LAW_BOWING_STRIP));
  g_autoptr(Sign) loose = rail(3, 500, 12);
  g_ptr_array_remove_index(loose->layout.shapes, 1);
  g_assert_null(sign_find(sign_check(loose), HF_LAW_BOWING_STRIP));
}

static HfOutline *
ring(double inner, double outer)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(0, 0), inner);
  hf_outline_reverse(outline);
  hf_outline_add_circle(outline, hf_point(0, 0), outer);
  return outline;
}

/* A ring of 20 mm about radius 200 held at 9 and 3 o'clock: two strips of half its length,
 * pi x 200 = 628, less the joints; alone it is free to grow. */
static void
test_strip_of_ring(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add(sign, HF_ENTRY_RING, "hoop", ring(190, 210), FALSE);
  g_assert_null(sign_find(sign_check(sign), HF_LAW_BOWING_STRIP));
  sign_add_box(sign, "bar", -200, -20, 200, 20);
  const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_BOWING_STRIP);
  g_assert_nonnull(finding);
  g_assert_cmpuint(finding->count, ==, 2);
  g_assert_cmpfloat_with_epsilon(finding->reach, 628 - 42, 6);
  g_assert_cmpstr(finding->names->pdata[0], ==, "ring \"hoop\"");
}

/* A shelf across a frame: every look round either opening sees a strip, and corners part them.
 * Shelf 860 between the sides, frame top and bottom 860, sides 224: too short. */
static void
test_strip_of_frame(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "frame", -450, -250, 450, 250);
  sign_cut_box(sign, "window", -430, -230, 430, 230);
  sign_add_box(sign, "shelf", -440, -6, 440, 6);
  const HfHold *hold = sign_check(sign);
  guint places = 0;
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = hold->findings->pdata[i];
    if (finding->kind != HF_LAW_BOWING_STRIP)
      continue;
    places += finding->count;
    g_assert_cmpfloat_with_epsilon(finding->reach, 860, 8);
  }
  g_assert_cmpuint(places, ==, 3);
}

/* Two rails of 12 mm, 20 mm from each other, are two strips. */
static void
test_two_rails(void)
{
  g_autoptr(Sign) sign = rail(3, 800, 12);
  sign_add_box(sign, "second", -1, 26, 801, 38);
  const HfHold *hold = sign_check(sign);
  guint places = 0;
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = hold->findings->pdata[i];
    places += finding->kind == HF_LAW_BOWING_STRIP ? finding->count : 0;
  }
  g_assert_cmpuint(places, ==, 2);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/points/limits", test_limits);
  g_test_add_func("/points/within-reach", test_within_reach);
  g_test_add_func("/points/star", test_star);
  g_test_add_func("/points/none", test_no_points);
  g_test_add_func("/points/thin-round-end", test_thin_round_end);
  g_test_add_func("/strips/limit", test_strip);
  g_test_add_func("/strips/tied", test_strip_tied);
  g_test_add_func("/strips/ring", test_strip_of_ring);
  g_test_add_func("/strips/frame", test_strip_of_frame);
  g_test_add_func("/strips/two-rails", test_two_rails);
  return g_test_run();
}
