/* SPDX-License-Identifier: GPL-3.0-or-later
 * Ears, feet, stakes, holes and ties: joined over their whole width, recorded to hang by.
 */
#include "layout-help.h"

/* Each stands on its carrier in one piece, wherever it is put. */
static void
test_joined(void)
{
  static const char *const carriers[] = {
      "bar: {name: c, length: 300 mm, height: 20 mm}",
      "bar: {name: c, length: 300 mm, height: 20 mm, corner: 8 mm, turn: 7 deg}",
      "ring: {name: c, outer: 300 mm, width: 16 mm}",
      "plate: {name: c, shape: round, diameter: 300 mm}",
      "plate: {name: c, shape: oval, width: 300 mm, height: 200 mm}",
      "plate: {name: c, shape: rounded, width: 300 mm, height: 200 mm, corner: 25 mm}",
      "plate: {name: c, shape: arch-topped, width: 300 mm, height: 200 mm, rise: 90 mm}",
      "plate: {name: c, shape: shield, width: 300 mm, height: 360 mm}",
      "plate: {name: c, shape: polygon, sides: 6, diameter: 300 mm}",
  };
  static const char *const fixtures[] = {
      "ear: {hole: 8 mm, on: c, at: [left end, right end]}",
      "ear: {hole: 8 mm, on: c, at: top}",
      "ear: {hole: 8 mm, on: c, at: [160 deg, 20 deg]}",
      "foot: {width: 20 mm, height: 30 mm, on: c, at: bottom}",
      "stake: {width: 16 mm, length: 150 mm, on: c, at: bottom}",
      "foot: {width: 20 mm, height: 90 mm, on: c, at: [260 deg, 280 deg]}",
  };
  for (guint c = 0; c < G_N_ELEMENTS(carriers); c++)
    for (guint f = 0; f < G_N_ELEMENTS(fixtures); f++) {
      g_autofree char *entries = g_strdup_printf("  - %s\n  - %s\n", carriers[c], fixtures[f]);
      g_test_message("%s", entries);
      g_autoptr(HfLayout) layout = help_layout(entries);
      g_assert_cmpuint(help_pieces(layout), ==, 1);
      g_assert_cmpuint(layout->hangs->len, >=, 1);
      /* the neck is metal across its width, 1 um in from both sides, from edge to 1 mm below */
      g_autoptr(GError) error = NULL;
      g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
      g_assert_no_error(error);
      guint openings = 0;
      for (guint i = 0; i < metal->region->rings->len; i++)
        openings += hf_region_ring(metal->region, i)->parent >= 0;
      guint wanted = c == 2 ? 1 : 0;
      for (guint i = 0; i < layout->shapes->len; i++)
        wanted += hf_layout_shape(layout, i)->opening;
      g_assert_cmpuint(openings, ==, wanted); /* no slit between root and carrier */
    }
}

static void
test_ear(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - bar: {name: rail, length: 1200 mm, height: 20 mm}\n"
                  "  - ear: {hole: 8 mm, on: rail, at: [left end, right end]}\n");
  g_assert_cmpuint(layout->shapes->len, ==, 5);
  /* width 8 + 2 * max(6, 4.5) = 20, so the hole's middle is 10 above the edge, 10 from the end */
  const HfHang *left = &g_array_index(layout->hangs, HfHang, 0);
  const HfHang *right = &g_array_index(layout->hangs, HfHang, 1);
  assert_near(left->at.x, -590, 1e-9);
  assert_near(left->at.y, 20, 1e-9);
  assert_near(right->at.x, 590, 1e-9);
  assert_near(left->diameter, 8, 1e-9);
  g_assert_cmpuint(left->shape, ==, 1);
  g_assert_cmpuint(right->shape, ==, 3);
  assert_near(help_box(layout, 1).min.x, -600, 1e-9); /* flush with the end */
  assert_near(help_box(layout, 1).max.y, 30, 1e-9);
  g_assert_true(hf_layout_shape(layout, 2)->opening);
}

/* On a ring the root follows the ring: same depth everywhere, nothing in the window. */
static void
test_ear_on_ring(void)
{
  g_autoptr(HfLayout) layout = help_layout("  - ring: {name: r, outer: 200 mm, width: 8 mm}\n"
                                           "  - ear: {hole: 10 mm, on: r, at: 1 o'clock}\n");
  const HfOutline *ear = hf_layout_shape(layout, 1)->outline;
  const HfCurve *root = &g_array_index(ear->curves, HfCurve, 0);
  g_assert_cmpint(root->kind, ==, HF_CURVE_ARC);
  for (int i = 0; i <= 10; i++) {
    HfPoint p = hf_curve_point(root, i / 10.0);
    assert_near(hf_point_length(p), 100 - 3.75, 1e-9);
  }
  const HfHang *hang = &g_array_index(layout->hangs, HfHang, 0);
  assert_near(atan2(hang->at.y, hang->at.x), G_PI / 3, 1e-12);
}

static void
test_feet(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - gate arch: {name: g, chord: 1000 mm, rise: 250 mm, legs: 100 mm, "
                  "width: 30 mm}\n"
                  "  - foot: {width: 80 mm, height: 8 mm, on: g, at: [left end, right end]}\n");
  g_assert_cmpuint(help_pieces(layout), ==, 1);
  const HfHang *foot = &g_array_index(layout->hangs, HfHang, 1);
  g_assert_cmpint(foot->kind, ==, HF_HANG_FOOT);
  assert_near(foot->at.x, 515, 1e-9);
  assert_near(foot->at.y, -108, 1e-9);
}

static void
test_stake(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - plate: {name: p, shape: oval, width: 300 mm, height: 200 mm}\n"
                  "  - stake: {width: 16 mm, length: 250 mm, point: 40 mm, on: p, at: bottom}\n");
  const HfHang *tip = &g_array_index(layout->hangs, HfHang, 0);
  g_assert_cmpint(tip->kind, ==, HF_HANG_STAKE);
  assert_near(tip->at.x, 0, 1e-6);
  assert_near(tip->at.y, -350, 1e-3);
}

/* A hole at an end of a bar keeps in from it; it counts to hang by unless it says no. */
static void
test_holes(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - bar: {name: b, length: 300 mm, height: 30 mm}\n"
                  "  - hole: {diameter: 8 mm, on: b, at: [left end, right end]}\n"
                  "  - hole: {diameter: 8 mm, on: b, at: centre, hanging: no}\n");
  g_assert_cmpuint(layout->hangs->len, ==, 2);
  /* in from the end: half the hole, and as much metal as the hole is wide */
  assert_near(g_array_index(layout->hangs, HfHang, 0).at.x, -150 + 4 + 8, 1e-9);
}

/* Two bars 20 mm apart and a ring round them; a tie in the gap. */
#define LADDER                                                                                     \
  "  - ring: {name: r, outer: 300 mm, width: 20 mm}\n"                                             \
  "  - bar: {name: a, length: 270 mm, height: 10 mm, shift: [0 mm, 15 mm]}\n"                      \
  "  - bar: {name: b, length: 270 mm, height: 10 mm, shift: [0 mm, -15 mm]}\n"

static void
test_tie(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - tie: {of: a, em: [5, -12], direction: top, width: 6 mm}\n" LADDER);
  g_assert_cmpuint(layout->missed->len, ==, 0);
  HfBox tie = help_box(layout, 0);
  /* bites each bar by the joint limit, 3 mm */
  assert_near(tie.min.x, 2, 1e-6);
  assert_near(tie.max.x, 8, 1e-6);
  assert_near(tie.min.y, -13, 1e-3);
  assert_near(tie.max.y, 13, 1e-3);
}

/* Aslant, the corner of the tie that is met last decides. */
static void
test_tie_aslant(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - tie: {of: a, em: [0, -15], direction: 45 deg, width: 6 mm}\n" LADDER);
  g_assert_cmpuint(layout->missed->len, ==, 0);
  guint n;
  const HfCurve *bar = hf_outline_contour(hf_layout_shape(layout, 0)->outline, 0, &n);
  double along = 0;
  for (guint i = 0; i < n; i++)
    along = MAX(along, (bar[i].p0.x + bar[i].p0.y) / sqrt(2));
  assert_near(along, 10 * sqrt(2) + 3 + 3, 1e-3); /* 10 sqrt 2 to the edge, half the width, bite */
}

static void
test_tie_missed(void)
{
  static const struct {
    const char *tie, *why;
  } cases[] = {
      {"{of: a, em: [0, 0], direction: top}", "there is metal now"},
      {"{of: a, em: [0, 200], direction: top}", "does not meet metal"},
      {"{of: b, em: [0, -20], direction: top, width: 20 mm}", "does not meet metal"},
      {"{of: r, opening: 2, em: [0, 0], direction: top}", "has 1 opening"},
  };
  /* the third is wider than the dot under it, and would run on past it */
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *entries = g_strdup_printf(
        "%s  - dot: {diameter: 6 mm, shift: [0 mm, -60 mm]}\n  - tie: %s\n", LADDER, cases[i].tie);
    g_autoptr(HfLayout) layout = help_layout(entries);
    g_assert_cmpuint(layout->shapes->len, ==, 4);
    g_assert_cmpuint(layout->missed->len, ==, 1);
    const HfMissed *missed = &g_array_index(layout->missed, HfMissed, 0);
    g_test_message("%s", missed->why);
    g_assert_nonnull(strstr(missed->why, cases[i].why));
    g_assert_cmpuint(missed->entry, ==, 4);
  }
}

/* Letters: by number, by character, by opening; a counter of a cut-through letter is held. */
#define BOARD                                                                                      \
  "  - plate: {shape: rectangle, width: 400 mm, height: 120 mm}\n"                                 \
  "  - words: {name: w, text: AHA, font: Bebas Neue, height: 80 mm, spacing: 10 mm, as: "          \
  "opening}\n"

static HfLayout *
letters_layout(HfFonts *fonts, const char *entries)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = help_recipe(entries);
  HfLayout *layout = hf_layout_new(recipe, fonts, 3, NULL, &error);
  g_assert_no_error(error);
  return layout;
}

static void
test_tie_of_letters(void)
{
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(HfLayout) loose = letters_layout(fonts, BOARD);
  g_assert_cmpuint(help_pieces(loose), ==, 3);
  /* where the A's counter ends below: its bar, the middle of it is the place to pin */
  static const struct {
    const char *ties;
    guint pieces, missed;
    const char *why;
  } cases[] = {
      {"  - tie: {of: letter 1 of w, opening: 1, em: [0.193, 0.15]}\n", 2, 0, NULL},
      {"  - tie: {of: 1st A of w, opening: 1, em: [0.193, 0.15]}\n"
       "  - tie: {of: 2nd A of w, opening: 1, em: [0.193, 0.15], width: 5 mm}\n",
       1, 0, NULL},
      {"  - tie: {of: A of w, em: [0.193, 0.15], direction: bottom}\n", 2, 0, NULL},
      {"  - tie: {of: A of w, opening: 2, em: [0.193, 0.15]}\n", 3, 1, "has 1 opening, not 2"},
      {"  - tie: {of: 2nd H of w, em: [0.2, 0.15]}\n", 3, 1, "no \"2nd H of w\""},
      {"  - tie: {of: letter 9 of w, em: [0.2, 0.15]}\n", 3, 1, "no \"letter 9 of w\""},
      {"  - tie: {of: H of w, opening: 1, em: [0.05, 0.1], direction: left}\n", 3, 1,
       "has 0 openings"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *entries = g_strconcat(BOARD, cases[i].ties, NULL);
    g_autoptr(HfLayout) layout = letters_layout(fonts, entries);
    g_test_message("%s", cases[i].ties);
    for (guint k = 0; k < layout->missed->len; k++)
      g_test_message("%s", g_array_index(layout->missed, HfMissed, k).why);
    g_assert_cmpuint(layout->missed->len, ==, cases[i].missed);
    if (cases[i].why != NULL)
      g_assert_nonnull(strstr(g_array_index(layout->missed, HfMissed, 0).why, cases[i].why));
    g_assert_cmpuint(help_pieces(layout), ==, cases[i].pieces);
  }
  g_autoptr(HfLayout) early =
      letters_layout(fonts, "  - tie: {of: A of w, opening: 1, em: [0.193, 0.15]}\n" BOARD);
  g_assert_cmpuint(early->missed->len, ==, 1);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/layout/fixtures/joined", test_joined);
  g_test_add_func("/layout/fixtures/ear", test_ear);
  g_test_add_func("/layout/fixtures/ear-on-ring", test_ear_on_ring);
  g_test_add_func("/layout/fixtures/feet", test_feet);
  g_test_add_func("/layout/fixtures/stake", test_stake);
  g_test_add_func("/layout/fixtures/holes", test_holes);
  g_test_add_func("/layout/fixtures/tie", test_tie);
  g_test_add_func("/layout/fixtures/tie-aslant", test_tie_aslant);
  g_test_add_func("/layout/fixtures/tie-missed", test_tie_missed);
  g_test_add_func("/layout/fixtures/tie-of-letters", test_tie_of_letters);
  return g_test_run();
}
