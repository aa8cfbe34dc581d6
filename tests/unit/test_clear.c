/* SPDX-License-Identifier: GPL-3.0-or-later
 * Distances of outlines from edges against closed forms (textbook geometry), and the solver of one
 * unknown against functions whose root is known.
 */
#include "geom/clear.h"
#include "layout/solve-private.h"

#define CLOSE 1e-6

static HfOutline *
rectangle(double x, double y, double w, double h)
{
  HfOutline *box = hf_outline_new();
  hf_outline_add_rectangle(box, (HfBox){{x, y}, {x + w, y + h}}, 0);
  return box;
}

static HfOutline *
circle(double x, double y, double r)
{
  HfOutline *round = hf_outline_new();
  hf_outline_add_circle(round, hf_point(x, y), r);
  return round;
}

static void
expect(const HfOutline *edge, const HfOutline *ink, double least)
{
  g_autoptr(HfClear) clear = hf_clear_new(edge);
  g_assert_cmpfloat_with_epsilon(hf_clear_least(clear, ink, INFINITY), least, CLOSE);
}

static void
test_rectangle(void)
{
  g_autoptr(HfOutline) board = rectangle(0, 0, 100, 60);
  g_autoptr(HfOutline) in = rectangle(7, 20, 30, 12), out = rectangle(95, 20, 30, 12);
  expect(board, in, 7);
  expect(board, out, -25);
  g_autoptr(HfOutline) dot = circle(50, 22, 15);
  expect(board, dot, 7);
}

/* A corner (x, y) of a box in a circle is R - hypot(x, y) from it. */
static void
test_round(void)
{
  g_autoptr(HfOutline) board = circle(3, -2, 50);
  g_autoptr(HfOutline) box = rectangle(3 - 20, -2 - 15, 40, 30);
  expect(board, box, 50 - hypot(20, 15));
  g_autoptr(HfOutline) off = circle(3 + 12, -2 + 5, 30);
  expect(board, off, 50 - 30 - 13);
  hf_outline_reverse(board);
  expect(board, off, 50 - 30 - 13);
}

/* Apart: on either side of an edge, which may be open; circles beside each other by their radii. */
static void
test_apart(void)
{
  g_autoptr(HfOutline) one = circle(0, 0, 20), other = circle(60, 80, 30);
  g_autoptr(HfClear) clear = hf_clear_new(one);
  g_assert_cmpfloat_with_epsilon(hf_clear_apart(clear, other, INFINITY), 100 - 50, CLOSE);
  g_assert_cmpfloat(hf_clear_apart(clear, other, 7), ==, 7);
  g_autoptr(HfOutline) within = circle(3, 4, 5), open = hf_outline_new();
  g_assert_cmpfloat_with_epsilon(hf_clear_apart(clear, within, INFINITY), 20 - 5 - 5, CLOSE);
  HfCurve half = hf_curve_between(&g_array_index(one->curves, HfCurve, 0), 0, 0.5);
  g_array_append_val(open->curves, half);
  g_autoptr(HfClear) upper = hf_clear_new(open);
  g_autoptr(HfOutline) below = rectangle(-2, -40, 4, 10);
  /* the ends of the upper half, (20, 0) and (-20, 0), are nearest to its upper corners */
  g_assert_cmpfloat_with_epsilon(hf_clear_apart(upper, below, INFINITY), hypot(18, 30), CLOSE);
}

/* The foot of (0, y) on the ellipse x^2/a^2 + y^2/b^2 = 1 lies at y' = b^2 y / (b^2 - a^2), where
 * that is on it: its distance squared is a^2 (1 - y^2 / (a^2 - b^2)), wide ellipses excluded. */
static void
test_oval(void)
{
  const double a = 30, b = 80;
  g_autoptr(HfOutline) unit = circle(0, 0, 1), oval = hf_outline_new();
  hf_outline_append(oval, unit, hf_matrix_scale(a, b));
  g_autoptr(HfClear) clear = hf_clear_new(oval);
  for (double y = -40; y <= 40; y += 8) {
    double far = sqrt(a * a * (1 + y * y / (a * a - b * b)));
    g_assert_cmpfloat_with_epsilon(hf_clear_point(clear, hf_point(0, y)), far, 1e-4);
  }
  g_assert_cmpfloat_with_epsilon(hf_clear_point(clear, hf_point(0, 81)), -1, 1e-4);
}

/* A spike of the edge that points at the middle of a long straight line. */
static void
test_spike(void)
{
  static const HfPoint corners[] = {{0, 0},    {200, 0}, {200, 50}, {103, 50},
                                    {100, 14}, {97, 50}, {0, 50}};
  g_autoptr(HfOutline) edge = hf_outline_new();
  hf_outline_add_polygon(edge, corners, G_N_ELEMENTS(corners));
  g_autoptr(HfOutline) line = rectangle(20, 6, 160, 3);
  expect(edge, line, 5);
}

static void
test_at_most(void)
{
  g_autoptr(HfOutline) board = circle(0, 0, 50), dot = circle(0, 0, 10), none = hf_outline_new();
  g_autoptr(HfClear) clear = hf_clear_new(board);
  g_assert_cmpfloat(hf_clear_least(clear, dot, 12), ==, 12);
  g_assert_cmpfloat(hf_clear_least(clear, none, 12), ==, 12);
}

static double
square_less_two(double x, gpointer asked)
{
  ++*(guint *)asked;
  return x * x - 2;
}

static double
not_beyond_one(double x, gpointer asked)
{
  ++*(guint *)asked;
  return x > 1 ? NAN : x - 0.5;
}

static void
test_solve(void)
{
  guint asked = 0;
  double x = hf_solve_most(square_less_two, &asked, 0, 4, 1e-12, NULL);
  g_assert_cmpfloat_with_epsilon(x, G_SQRT2, 1e-11);
  g_assert_cmpfloat(x * x, <=, 2);
  g_assert_cmpuint(asked, <, 30);
  for (double guess = 1e-3; guess < 1e4; guess *= 7)
    g_assert_cmpfloat_with_epsilon(hf_solve_size(square_less_two, &asked, guess, 1e9, 1e-12, NULL),
                                   G_SQRT2, 1e-11);
  g_assert_cmpfloat(hf_solve_size(square_less_two, &asked, 1, 1.25, 1e-12, NULL), ==, 1.25);
  g_assert_cmpfloat_with_epsilon(hf_solve_most(not_beyond_one, &asked, 0, 8, 1e-9, NULL), 0.5,
                                 1e-8);
}

static double
never(double x, gpointer asked)
{
  (void)x;
  ++*(guint *)asked;
  return 1;
}

static void
test_no_room(void)
{
  guint asked = 0;
  g_assert_true(isnan(hf_solve_size(never, &asked, 10, 100, 1e-9, NULL)));
  g_assert_cmpuint(asked, <, 40);
}

int
main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/clear/rectangle", test_rectangle);
  g_test_add_func("/clear/round", test_round);
  g_test_add_func("/clear/apart", test_apart);
  g_test_add_func("/clear/oval", test_oval);
  g_test_add_func("/clear/spike", test_spike);
  g_test_add_func("/clear/at-most", test_at_most);
  g_test_add_func("/solve/root", test_solve);
  g_test_add_func("/solve/no-room", test_no_room);
  return g_test_run();
}
