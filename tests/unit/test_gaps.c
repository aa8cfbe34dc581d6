/* SPDX-License-Identifier: GPL-3.0-or-later
 * Gaps, openings and lost detail against closed forms, and lost detail against opening the cut by
 * the kerf's radius (two offsets).
 *
 * Limits used: t = 2, k = 1: gap 1 (stop) and 3 (caution) mm; pierce radius 1.5 (stop) and 2.5;
 * round hole 4.5 (stop) and 6 mm across (handbook 3.1).
 */
#include "sign.h"
#include "thin/thin.h"
#include <string.h>

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

static HfBox
box(double x0, double y0, double x1, double y1)
{
  return (HfBox){{x0, y0}, {x1, y1}};
}

static void
bar(Sign *sign, const char *name, HfBox b, gboolean opening)
{
  hf_outline_add_rectangle(sign_add(sign, HF_ENTRY_BAR, name, opening), b, 0);
}

static guint
count(const Sign *sign, HfLawKind kind)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *f = sign->hold->findings->pdata[i];
    n += f->kind == kind ? f->count : 0;
  }
  return n;
}

/* A comb: two teeth on a rail, the gap between them open at the top. */
static void
test_open_gap(void)
{
  static const struct {
    double gap;
    guint found;
    HfGravity gravity;
  } cases[] = {{0.9, 1, HF_STOP}, {1.05, 1, HF_CAUTION}, {2.9, 1, HF_CAUTION}, {3, 0}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    Sign *sign = sign_new(2, 1);
    bar(sign, "rail", box(0, 0, 60, 10), FALSE);
    bar(sign, "left", box(10, 5, 25, 40), FALSE);
    bar(sign, "right", box(25 + cases[i].gap, 5, 45, 40), FALSE);
    sign_check(sign);
    g_assert_cmpuint(count(sign, HF_LAW_NARROW_GAP), ==, cases[i].found);
    g_assert_cmpuint(count(sign, HF_LAW_RUN_TOGETHER), ==, 0);
    const HfFinding *f = sign_finding(sign, HF_LAW_NARROW_GAP);
    if (f != NULL) {
      near(f->measured, cases[i].gap, 0.001);
      g_assert_cmpint(f->gravity, ==, cases[i].gravity);
      g_assert_cmpstr(f->form, ==, "open");
      g_assert_nonnull(strstr(f->text, "left"));
      g_assert_nonnull(strstr(f->text, "right"));
    }
    sign_free(sign);
  }
}

/* Two round letters on a rail, nearest to each other halfway up: one finding, as letters. */
static void
test_letters(void)
{
  Sign *sign = sign_new(2, 1);
  bar(sign, "rail", box(0, 0, 100, 10), FALSE);
  HfOutline *o = sign_add(sign, HF_ENTRY_WORDS, "oo", FALSE);
  ((HfShape *)sign->layout.shapes->pdata[1])->letter = 0;
  hf_outline_add_circle(o, hf_point(30, 28), 20);
  hf_outline_add_circle(sign_add_letter(sign, "o"), hf_point(30 + 40.7, 28), 20);
  sign_check(sign);
  g_assert_cmpuint(count(sign, HF_LAW_RUN_TOGETHER), ==, 1);
  g_assert_cmpuint(count(sign, HF_LAW_NARROW_GAP), ==, 0);
  const HfFinding *f = sign_finding(sign, HF_LAW_RUN_TOGETHER);
  near(f->measured, 0.7, 0.01);
  g_assert_cmpint(f->gravity, ==, HF_STOP);
  sign_free(sign);
}

/* A notch that tapers to a point is no gap, whatever its angle; a saw cut is. */
static void
test_notch(void)
{
  for (int saw = 0; saw < 2; saw++)
    for (int angle = 4; angle <= 60; angle += 14) {
      double half = 20 * tan(angle * G_PI / 360), floor = saw ? half : 0;
      HfPoint points[] = {{0, 0},           {100, 0},         {100, 40},       {50 + half, 40},
                          {50 + floor, 20}, {50 - floor, 20}, {50 - half, 40}, {0, 40}};
      Sign *sign = sign_new(2, 1);
      hf_outline_add_polygon(sign_add(sign, HF_ENTRY_PLATE, "plate", FALSE), points, 8);
      sign_check(sign);
      g_assert_true((count(sign, HF_LAW_NARROW_GAP) > 0) == (saw && 2 * half < 2.99));
      sign_free(sign);
    }
}

/* An opening with a waist: enclosed. */
static void
test_enclosed(void)
{
  Sign *sign = sign_new(2, 1);
  bar(sign, "plate", box(0, 0, 100, 60), FALSE);
  HfOutline *o = sign_add(sign, HF_ENTRY_PLATE, "cut", TRUE);
  hf_outline_add_circle(o, hf_point(30, 30), 12);
  hf_outline_add_circle(o, hf_point(70, 30), 12);
  hf_outline_add_rectangle(o, box(30, 29.6, 70, 30.4), 0);
  sign_check(sign);
  const HfFinding *f = sign_finding(sign, HF_LAW_NARROW_GAP);
  g_assert_nonnull(f);
  near(f->measured, 0.8, 0.001);
  g_assert_cmpstr(f->form, ==, "enclosed");
  g_assert_cmpuint(count(sign, HF_LAW_SMALL_OPENING), ==, 0);
  sign_free(sign);
}

/* Openings: an ellipse has the inscribed radius b, a square half its side; an island counts. */
static void
test_openings(void)
{
  static const double side[] = {2.9, 4.9, 5.1};
  for (guint i = 0; i < G_N_ELEMENTS(side); i++) {
    Sign *sign = sign_new(2, 1);
    bar(sign, "plate", box(0, 0, 100, 60), FALSE);
    bar(sign, "slot", box(30, 20, 60, 20 + side[i]), TRUE);
    sign_check(sign);
    const HfFinding *f = sign_finding(sign, HF_LAW_SMALL_OPENING);
    g_assert_true((f != NULL) == (i < 2));
    if (f != NULL) {
      near(f->measured, side[i] / 2, 0.01);
      g_assert_cmpint(f->gravity, ==, i == 0 ? HF_STOP : HF_CAUTION);
    }
    sign_free(sign);
  }
  Sign *sign = sign_new(2, 1); /* a frame of 3.4 round an island */
  bar(sign, "plate", box(0, 0, 100, 60), FALSE);
  bar(sign, "cut", box(30, 10, 60, 40), TRUE);
  bar(sign, "island", box(33.4, 13.4, 56.6, 36.6), FALSE);
  sign_check(sign);
  const HfFinding *f = sign_finding(sign, HF_LAW_SMALL_OPENING);
  g_assert_nonnull(f);
  /* in the frame's corner, between two walls and the island's corner: (3.4 - r) sqrt 2 = r */
  near(f->measured, 3.4 * G_SQRT2 / (1 + G_SQRT2), 0.01);
  sign_free(sign);
}

/* A disc in a round opening, off its middle: on the far side (R - r + d) / 2, plane geometry; the
 * search over the chords comes as near as these let it. */
static void
test_round_room(void)
{
  Sign *sign = sign_new(2, 1);
  bar(sign, "plate", box(0, 0, 100, 60), FALSE);
  hf_outline_add_circle(sign_add(sign, HF_ENTRY_HOLE, "cut", TRUE), hf_point(50, 30), 20);
  hf_outline_add_circle(sign_add(sign, HF_ENTRY_PLATE, "disc", FALSE), hf_point(50.3, 30.4), 18.5);
  sign_check(sign);
  const HfFinding *f = sign_finding(sign, HF_LAW_SMALL_OPENING);
  g_assert_nonnull(f);
  near(f->measured, 1, 1e-9);
  near(f->at.x, 50.3 - 0.6 * (18.5 + 20.5) / 2, 1e-9);
  near(f->at.y, 30.4 - 0.8 * (18.5 + 20.5) / 2, 1e-9);
  HfPoint centre;
  g_autoptr(HfRegion) turned = hf_region_turned(sign->metal->region);
  guint cut = 0;
  while (hf_ring_area(hf_region_ring(turned, cut)) < 0)
    cut++;
  for (guint r = 0; r < turned->rings->len; r++)
    if (hf_ring_area(hf_region_ring(turned, r)) > -1200) /* the disc, and not the plate */
      hf_region_ring(turned, r)->parent = r == cut ? -1 : (gint)cut;
  near(hf_region_inscribed(turned, cut, 0.001, &centre), 1, 0.006);
  sign_free(sign);
}

static void
test_round_holes(void)
{
  static const double diameter[] = {4.4, 5.9, 6.1};
  for (guint i = 0; i < G_N_ELEMENTS(diameter); i++) {
    Sign *sign = sign_new(2, 1);
    bar(sign, "plate", box(0, 0, 100, 60), FALSE);
    hf_outline_add_circle(sign_add(sign, HF_ENTRY_HOLE, "bolt", TRUE), hf_point(50, 30),
                          diameter[i] / 2);
    sign_check(sign);
    const HfFinding *f = sign_finding(sign, HF_LAW_SMALL_HOLE);
    g_assert_true((f != NULL) == (i < 2));
    if (f != NULL) {
      near(f->measured, diameter[i], 1e-9);
      g_assert_cmpint(f->gravity, ==, i == 0 ? HF_STOP : HF_CAUTION);
    }
    g_assert_cmpuint(count(sign, HF_LAW_SMALL_OPENING) + count(sign, HF_LAW_NARROW_GAP), ==, 0);
    sign_free(sign);
  }
}

/* An inside corner that turns by T loses r^2 (tan(T/2) - T/2): a cross has four of 90 degrees. */
static void
test_lost_corner(void)
{
  Sign *sign = sign_new(2, 1);
  HfOutline *cross = sign_add(sign, HF_ENTRY_WORDS, "x", FALSE);
  ((HfShape *)sign->layout.shapes->pdata[0])->letter = 0;
  hf_outline_add_rectangle(cross, box(-15, -4, 15, 4), 0);
  hf_outline_add_rectangle(cross, box(-4, -15, 4, 15), 0);
  sign_check(sign);
  const HfFinding *f = sign_finding(sign, HF_LAW_LOST_DETAIL);
  g_assert_nonnull(f);
  near(f->area, 4 * 0.25 * (1 - G_PI / 4), 1e-3);
  g_assert_cmpint(f->gravity, ==, HF_NOTE);
  sign_free(sign);
}

/* Random stars as letters: what is lost against the metal closed by the kerf's radius. */
static void
test_lost_against_offset(void)
{
  for (guint seed = 1; seed <= 40; seed++) {
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    Sign *sign = sign_new(2, 1);
    HfOutline *star = sign_add(sign, HF_ENTRY_WORDS, "star", FALSE);
    ((HfShape *)sign->layout.shapes->pdata[0])->letter = 0;
    HfPoint p[14];
    for (int i = 0; i < 14; i++)
      p[i] = hf_point_polar(hf_point(0, 0),
                            i % 2 ? g_rand_double_range(rand, 8, 16)
                                  : g_rand_double_range(rand, 20, 40),
                            i * G_PI / 7);
    hf_outline_add_polygon(star, p, 14);
    sign_check(sign);
    const HfRegion *region = sign->metal->region;
    g_autoptr(HfRegion) grown = hf_region_offset(region, 0.5, 1e-4);
    g_autoptr(HfRegion) closed = hf_region_offset(grown, -0.5, 1e-4);
    const HfFinding *f = sign_finding(sign, HF_LAW_LOST_DETAIL);
    g_assert_nonnull(f);
    near(f->area, hf_region_area(closed) - hf_region_area(region), 0.03);
    sign_free(sign);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/gaps/open", test_open_gap);
  g_test_add_func("/gaps/letters", test_letters);
  g_test_add_func("/gaps/notch", test_notch);
  g_test_add_func("/gaps/enclosed", test_enclosed);
  g_test_add_func("/gaps/openings", test_openings);
  g_test_add_func("/gaps/round-room", test_round_room);
  g_test_add_func("/gaps/round-holes", test_round_holes);
  g_test_add_func("/gaps/lost-corner", test_lost_corner);
  g_test_add_func("/gaps/lost-against-offset", test_lost_against_offset);
  return g_test_run();
}
