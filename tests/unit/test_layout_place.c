/* SPDX-License-Identifier: GPL-3.0-or-later
 * Where entries go: on, at, beside, shifted, turned; the order of laying; names in sentences.
 */
#include "layout-help.h"

static void
test_beside(void)
{
  static const struct {
    const char *place;
    double x, y; /* middle of a plate of 40 x 20 beside a bar of 100 x 10 about 0, 0 */
  } cases[] = {
      {"above: rail", 0, 15},
      {"above: rail, gap: -3 mm", 0, 12},
      {"below: rail, gap: 4 mm", 0, -19},
      {"left of: rail, gap: 1 mm", -71, 0},
      {"right of: rail", 70, 0},
      {"above: rail, right of: rail", 70, 15},
      {"above: rail, shift: [7 mm, -2 mm]", 7, 13},
      {"above: rail, turn: 90 deg", 0, 25},
      {"on: rail, at: left end", -50, 0},
      {"on: rail, at: top", 0, 5},
      {"on: rail, at: [10 mm, 20 mm]", 10, 20},
      {"on: rail, at: left end, above: rail", -50, 15},
      {"at: [3 mm, 4 mm]", 3, 4},
      {"shift: [3 mm, 4 mm]", 3, 4},
      {"name: x", 0, 0},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *entries =
        g_strdup_printf("  - plate: {shape: rectangle, width: 40 mm, height: 20 mm, %s}\n"
                        "  - bar: {name: rail, length: 100 mm, height: 10 mm}\n",
                        cases[i].place);
    g_autoptr(HfLayout) layout = help_layout(entries);
    HfPoint middle = hf_box_centre(help_box(layout, 0));
    g_test_message("%s", cases[i].place);
    assert_near(middle.x, cases[i].x, 1e-9);
    assert_near(middle.y, cases[i].y, 1e-9);
  }
}

/* A turned bar takes with it what is placed on its ends. */
static void
test_on_turned(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - bar: {name: rail, length: 100 mm, height: 10 mm, turn: 30 deg}\n"
                  "  - dot: {diameter: 8 mm, on: rail, at: [left end, right end]}\n");
  for (guint i = 0; i < 2; i++) {
    HfPoint middle = hf_box_centre(help_box(layout, 1 + i));
    double way = i == 0 ? -1 : 1;
    assert_near(middle.x, way * 50 * cos(G_PI / 6), 1e-9);
    assert_near(middle.y, way * 50 * sin(G_PI / 6), 1e-9);
  }
}

static void
test_on_ring(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - ring: {name: r, outer: 200 mm, width: 20 mm, shift: [5 mm, 6 mm]}\n"
                  "  - dot: {diameter: 4 mm, on: r, at: [top, 3 o'clock, 8 o'clock]}\n");
  const double angles[] = {90, 0, 210};
  for (guint i = 0; i < 3; i++) {
    HfPoint middle = hf_box_centre(help_box(layout, 1 + i));
    assert_near(middle.x, 5 + 90 * cos(angles[i] * G_PI / 180), 1e-9);
    assert_near(middle.y, 6 + 90 * sin(angles[i] * G_PI / 180), 1e-9);
  }
}

/* At a direction the edge itself is found: an oval's by its equation. */
static void
test_on_oval(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - plate: {name: p, shape: oval, width: 300 mm, height: 200 mm}\n"
                  "  - dot: {diameter: 4 mm, on: p, at: [top, 30 deg, 200 deg, 3 o'clock]}\n");
  for (guint i = 1; i < 5; i++) {
    HfPoint p = hf_box_centre(help_box(layout, i));
    assert_near(p.x * p.x / (150 * 150) + p.y * p.y / (100 * 100), 1, 4e-6);
  }
  HfPoint second = hf_box_centre(help_box(layout, 2));
  assert_near(atan2(second.y, second.x), G_PI / 6, 1e-9);
}

static void
test_stars_look(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - ring: {name: r, outer: 200 mm, width: 20 mm}\n"
                  "  - star: {diameter: 20 mm, on: r, at: [top, bottom, left]}\n");
  /* a star of five points reaches 10 up, 10 cos 36 down: never on its head */
  HfBox top = help_box(layout, 1), bottom = help_box(layout, 2), left = help_box(layout, 3);
  assert_near(top.max.y, 90 + 10, 1e-9);
  assert_near(bottom.max.y, -90 + 10, 1e-9);
  assert_near(left.min.x, -90 - 10, 1e-9);
}

static void
test_labels(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - ring: {name: outer, outer: 200 mm, width: 20 mm}\n"
                  "  - ring: {outer: 100 mm, width: 20 mm}\n"
                  "  - hole: {name: h, diameter: 6 mm, on: outer, at: [top, 8 o'clock, 17 deg]}\n"
                  "  - ear: {hole: 8 mm, on: outer, at: top}\n"
                  "  - hole pattern: {name: p, diameter: 5 mm, count: 3, circle: 50 mm}\n");
  static const char *const labels[] = {
      "ring \"outer\"",      "ring 2", "hole \"h\" (top)", "hole \"h\" (8 o'clock)",
      "hole \"h\" (17 deg)", "ear 1",  "hole of ear 1",    "hole 1 of hole pattern \"p\"",
  };
  for (guint i = 0; i < G_N_ELEMENTS(labels); i++)
    g_assert_cmpstr(hf_layout_shape(layout, i)->label, ==, labels[i]);
}

/* Shapes come in recipe order, whatever the order of laying; hangs point at the right ones. */
static void
test_order(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - ear: {hole: 8 mm, on: b, at: [left end, right end]}\n"
                  "  - plate: {name: p, shape: round, diameter: 50 mm, above: b}\n"
                  "  - bar: {name: b, length: 200 mm, height: 20 mm, below: r}\n"
                  "  - ring: {name: r, outer: 90 mm, width: 9 mm}\n");
  g_assert_cmpuint(layout->shapes->len, ==, 7);
  for (guint i = 0; i + 1 < 7; i++)
    g_assert_cmpuint(hf_layout_shape(layout, i)->entry, <=, hf_layout_shape(layout, i + 1)->entry);
  g_assert_cmpuint(layout->hangs->len, ==, 2);
  g_assert_cmpuint(g_array_index(layout->hangs, HfHang, 1).shape, ==, 2);
}

/* The outline plate comes after what stands on it, so this circle can't be laid. */
static void
test_circle(void)
{
  g_autofree char *message =
      help_refused("  - plate: {name: p, shape: outline, grow: 5 mm, around: [d]}\n"
                   "  - dot: {name: d, diameter: 20 mm, above: p}\n");
  g_assert_nonnull(strstr(message, "in a circle"));
}

static void
test_refused(void)
{
  static const struct {
    const char *entries, *says;
  } cases[] = {
      {"  - dot: {diameter: 9 mm, at: top}\n", "on: NAME"},
      {"  - gate arch: {name: g, chord: 200 mm, rise: 50 mm, width: 9 mm}\n"
       "  - ear: {hole: 6 mm, on: g, at: 3 o'clock}\n",
       "between 36.9 and 143.1 deg"},
      {"  - gate arch: {chord: 100 mm, rise: 60 mm, width: 5 mm}\n", "at most 50 mm"},
      {"  - plate: {shape: arch-topped, width: 100 mm, height: 80 mm, rise: 51 mm}\n",
       "at most 50 mm"},
      {"  - plate: {shape: shield, width: 300 mm, height: 100 mm}\n", "at least 200 mm high"},
      {"  - plate: {name: p, shape: outline, grow: 5 mm}\n", "around"},
      {"  - bar: {name: b, length: 200 mm, height: 20 mm}\n"
       "  - tie: {name: t, of: b}\n  - dot: {diameter: 9 mm, above: t}\n",
       "\"t\" is laid last of all"},
      {"  - bar: {name: b, length: 200 mm, height: 20 mm}\n"
       "  - ear: {hole: 8 mm, width: 10 mm, on: b, at: left end}\n",
       "at least 14 mm wide"},
      {"  - ring: {name: r, outer: 100 mm, width: 5 mm}\n"
       "  - foot: {width: 90 mm, height: 10 mm, on: r, at: 7 o'clock}\n",
       "narrower"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *message = help_refused(cases[i].entries);
    g_test_message("%s", message);
    g_assert_true(g_str_has_prefix(message, "test.yaml:"));
    g_assert_nonnull(strstr(message, cases[i].says));
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/layout/place/beside", test_beside);
  g_test_add_func("/layout/place/on-turned", test_on_turned);
  g_test_add_func("/layout/place/on-ring", test_on_ring);
  g_test_add_func("/layout/place/on-oval", test_on_oval);
  g_test_add_func("/layout/place/stars-look", test_stars_look);
  g_test_add_func("/layout/place/labels", test_labels);
  g_test_add_func("/layout/place/order", test_order);
  g_test_add_func("/layout/place/circle", test_circle);
  g_test_add_func("/layout/place/refused", test_refused);
  return g_test_run();
}
