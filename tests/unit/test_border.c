/* SPDX-License-Identifier: GPL-3.0-or-later
 * Borders: what is cut is in closed form where the plate allows it; on every shape of plate every
 * form leaves one piece of metal; what can't be is refused.
 */
#include "layout-help.h"
#include <math.h>
#include <string.h>

static const char *const plates[] = {
    "round, diameter: 300 mm",
    "oval, width: 400 mm, height: 280 mm",
    "rectangle, width: 400 mm, height: 260 mm",
    "rounded, width: 400 mm, height: 260 mm, corner: 20 mm",
    "arch-topped, width: 400 mm, height: 300 mm, rise: 80 mm",
    "shield, width: 300 mm, height: 360 mm",
    "polygon, sides: 6, diameter: 340 mm",
    "banner, width: 500 mm, height: 240 mm, depth: 60 mm",
    "ticket, width: 400 mm, height: 260 mm",
    "badge, diameter: 340 mm",
    "arrow, width: 400 mm, height: 240 mm",
    "speech, width: 400 mm, height: 300 mm",
    "heart, width: 340 mm, height: 320 mm",
    "hexagon row, diameter: 240 mm, count: 3",
    "tabbed, width: 500 mm, height: 240 mm",
};

static char *
entries_of(const char *plate, const char *border)
{
  return g_strdup_printf("  - plate: {name: board, shape: %s}\n  - border: {on: board, %s}\n",
                         plate, border);
}

static double
cut_by(const char *plate, const char *border)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *entries = entries_of(plate, border);
  g_autoptr(HfLayout) layout = help_layout(entries);
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
  g_assert_no_error(error);
  return fabs(hf_outline_area(hf_layout_shape(layout, 0)->outline)) - hf_region_area(metal->region);
}

/* Whatever the border, what it goes round is held: one piece. */
static void
test_one_piece(void)
{
  static const char *const borders[] = {
      "form: plain, inset: 14 mm, width: 5 mm",
      "form: double, inset: 12 mm, width: 4 mm",
      "form: dashed, inset: 14 mm, width: 5 mm",
      "form: rope, inset: 12 mm, width: 14 mm",
      "form: scallop, inset: 14 mm, width: 9 mm",
      "form: ornaments, of: heart, inset: 14 mm, width: 20 mm",
      "form: ornaments, of: crescent, inset: 16 mm, width: 22 mm"};
  for (guint p = 0; p < G_N_ELEMENTS(plates); p++)
    for (guint b = 0; b < G_N_ELEMENTS(borders); b++) {
      g_autofree char *entries = entries_of(plates[p], borders[b]);
      g_test_message("%s", entries);
      g_autoptr(HfLayout) layout = help_layout(entries);
      g_assert_cmpuint(help_pieces(layout), ==, 1);
    }
}

/* A strip w wide, i inside a rectangle, less its ties: 2 w (W + H - 4 i - 2 w) - n w tie. Sides of
 * 367 and 227 mm, 150 mm from tie to tie at the most: three and two ties each. */
static void
test_plain(void)
{
  double w = 5, i = 14, tie = 1.25 * 3;
  double strip = 2 * w * (400 + 260 - 4 * i - 2 * w);
  double cut =
      cut_by("rectangle, width: 400 mm, height: 260 mm", "form: plain, inset: 14 mm, width: 5 mm");
  assert_near(cut, strip - 10 * w * tie, 0.01);
  double wider = cut_by("rectangle, width: 400 mm, height: 260 mm",
                        "form: plain, inset: 14 mm, width: 5 mm, ties: 8 mm");
  assert_near(cut - wider, 10 * w * (8 - tie), 0.01);
}

/* Half moons of radius w round a circle, as many as their chords and ties allow on the inner line.
 */
static void
test_scallop(void)
{
  double w = 9, inner = 150 - 14 - w;
  int n = (int)floor(2 * G_PI * inner / (2 * w + 1.1 * 1.25 * 3));
  double cut = cut_by("round, diameter: 300 mm", "form: scallop, inset: 14 mm, width: 9 mm");
  assert_near(cut, n * G_PI * w * w / 2, 0.05 * n);
}

static void
test_corners(void)
{
  for (guint i = 0; i < 2; i++) {
    const char *form = i == 0 ? "notched corners" : "corner scrolls";
    g_autofree char *border = g_strdup_printf("form: %s, inset: 14 mm, width: 5 mm", form);
    g_autofree char *entries = entries_of("rectangle, width: 400 mm, height: 260 mm", border);
    g_autoptr(HfLayout) layout = help_layout(entries);
    g_assert_cmpuint(help_pieces(layout), ==, 1);
    g_autofree char *round = entries_of("round, diameter: 300 mm", border);
    g_autofree char *refused = help_refused(round);
    g_assert_nonnull(strstr(refused, "this plate has no corners"));
  }
}

static void
test_refused(void)
{
  g_autofree char *deep = entries_of("rectangle, width: 400 mm, height: 60 mm",
                                     "form: plain, inset: 28 mm, width: 5 mm");
  g_autofree char *refused = help_refused(deep);
  g_assert_nonnull(strstr(refused, "no room for a border so far inside the edge"));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/border/one-piece", test_one_piece);
  g_test_add_func("/border/plain", test_plain);
  g_test_add_func("/border/scallop", test_scallop);
  g_test_add_func("/border/corners", test_corners);
  g_test_add_func("/border/refused", test_refused);
  return g_test_run();
}
