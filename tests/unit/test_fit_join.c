/* SPDX-License-Identifier: GPL-3.0-or-later
 * Pieces of a contour put together, against closed forms: arcs of one circle, lines in line, pieces
 * too short to cut.
 */
#include "metal/fit-private.h"

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

static const HfCurve *
curve(const HfOutline *outline, guint i)
{
  return &g_array_index(outline->curves, HfCurve, i);
}

static double
length_of(const HfCurve *c)
{
  return c->kind == HF_CURVE_ARC ? hf_curve_radius(c) * fabs(c->sweep)
                                 : hf_point_distance(c->p0, c->p1);
}

static void
check_lengths(const HfOutline *outline)
{
  for (guint i = 0; i < outline->curves->len; i++)
    g_assert_cmpfloat(length_of(curve(outline, i)), >=, 0.02);
}

/* A circle in @n arcs, the way of @sign, becomes one full circle. */
static void
test_circle(void)
{
  for (int n = 2; n < 12; n++)
    for (int sign = -1; sign <= 1; sign += 2) {
      HfPoint centre = {31.25, -7}, start = hf_point_polar(centre, 40, 0.3);
      g_autoptr(HfOutline) round = hf_outline_new();
      hf_outline_begin(round, start);
      for (int i = 1; i <= n; i++)
        hf_outline_arc_to(round, centre, sign * 2 * G_PI / n,
                          i < n ? hf_point_polar(centre, 40, 0.3 + sign * 2 * G_PI * i / n)
                                : start);
      hf_outline_close(round);
      hf_fit_join(round, NULL, 0);
      g_assert_cmpuint(round->curves->len, ==, 1);
      near(fabs(curve(round, 0)->sweep), 2 * G_PI, 1e-12);
      near(hf_outline_area(round), sign * G_PI * 1600, 1e-9);
    }
}

/* A bar with round ends: each end drawn as three arcs, the sides as two lines. */
static void
test_bar(void)
{
  g_autoptr(HfOutline) bar = hf_outline_new();
  hf_outline_begin(bar, hf_point(0, -5));
  hf_outline_line_to(bar, hf_point(20, -5));
  hf_outline_line_to(bar, hf_point(60, -5));
  for (int end = 0; end < 2; end++) {
    HfPoint centre = {end == 0 ? 60 : 0, 0};
    for (int i = 1; i <= 3; i++)
      hf_outline_arc_to(bar, centre, G_PI / 3,
                        hf_point_polar(centre, 5, -G_PI_2 + end * G_PI + i * G_PI / 3));
    if (end == 0)
      hf_outline_line_to(bar, hf_point(0, 5));
  }
  hf_outline_close(bar);
  double area = hf_outline_area(bar);
  hf_fit_join(bar, NULL, 0);
  g_assert_cmpuint(bar->curves->len, ==, 4);
  near(hf_outline_area(bar), area, 1e-9);
}

/* Neighbours that only look alike stay two: other radius, other centre, other sense. */
static void
test_stays(void)
{
  g_autoptr(HfOutline) lens = hf_outline_new();
  hf_outline_begin(lens, hf_point(-3, 0));
  hf_outline_arc_to(lens, hf_point(0, 4), 2 * atan2(3, 4), hf_point(3, 0));
  hf_outline_arc_to(lens, hf_point(0, -4), 2 * atan2(3, 4), hf_point(-3, 0));
  hf_outline_close(lens);
  hf_fit_join(lens, NULL, 0);
  g_assert_cmpuint(lens->curves->len, ==, 2);
  g_autoptr(HfOutline) egg = hf_outline_new();
  hf_outline_begin(egg, hf_point(5, 0));
  hf_outline_arc_to(egg, hf_point(0, 0), G_PI_2, hf_point(0, 5));
  hf_outline_arc_to(egg, hf_point(0, -0.01), G_PI_2, hf_point(-5.01, -0.01));
  hf_outline_line_to(egg, hf_point(5, -4));
  hf_outline_close(egg);
  hf_fit_join(egg, NULL, 0);
  g_assert_cmpuint(egg->curves->len, ==, 4);
}

/* A square whose corner is cut off by a hair is a square: the sides meet in the old corner. */
static void
test_short_corner(void)
{
  g_autoptr(HfOutline) square = hf_outline_new();
  const HfPoint points[] = {{0, 0}, {9.99, 0}, {10, 0.01}, {10, 10}, {0, 10}};
  hf_outline_add_polygon(square, points, G_N_ELEMENTS(points));
  hf_fit_join(square, NULL, 0);
  g_assert_cmpuint(square->curves->len, ==, 4);
  near(hf_outline_area(square), 100, 1e-12);
}

/* Two circles that cross, the crossing nicked: both keep centre and radius. */
static void
test_short_crossing(void)
{
  const double r = 8, apart = 5, at = acos(apart / r);
  HfPoint left = {-apart, 0}, right = {apart, 0};
  g_autoptr(HfOutline) two = hf_outline_new();
  const double nick = 0.006 / r;
  HfPoint first = hf_point_polar(right, r, G_PI + at + nick);
  hf_outline_begin(two, first);
  hf_outline_arc_to(two, right, 2 * (G_PI - at) - 2 * nick,
                    hf_point_polar(right, r, G_PI - at - nick));
  hf_outline_line_to(two, hf_point_polar(left, r, at + nick));
  hf_outline_arc_to(two, left, 2 * (G_PI - at) - 2 * nick, hf_point_polar(left, r, -at - nick));
  hf_outline_close(two);
  hf_fit_join(two, NULL, 0);
  g_assert_cmpuint(two->curves->len, ==, 2);
  for (guint i = 0; i < 2; i++) {
    near(hf_curve_radius(curve(two, i)), r, 1e-9);
    near(fabs(curve(two, i)->c0.x), apart, 1e-12);
  }
  /* the union of two discs: circles less the lens between them */
  double lens = 2 * r * r * at - 2 * apart * sqrt(r * r - apart * apart);
  near(hf_outline_area(two), 2 * G_PI * r * r - lens, 1e-6);
}

enum { STEP_UM = 12 };

/* As in a letter B: two bowls that end @step apart. */
static HfOutline *
two_bowls(void)
{
  const double step = STEP_UM * 1e-3;
  HfOutline *bowls = hf_outline_new();
  hf_outline_begin(bowls, hf_point(0, -4));
  hf_outline_arc_to(bowls, hf_point(0, -2), G_PI, hf_point(0, 0));
  hf_outline_line_to(bowls, hf_point(0, step));
  hf_outline_arc_to(bowls, hf_point(0, step + 1.9), G_PI, hf_point(0, step + 3.8));
  hf_outline_line_to(bowls, hf_point(-5, step + 3.8));
  hf_outline_line_to(bowls, hf_point(-5, -4));
  hf_outline_close(bowls);
  return bowls;
}

static double
most_off(HfFitEdges *edges, const HfOutline *outline)
{
  double off = 0;
  for (guint i = 0; i < outline->curves->len; i++)
    off = MAX(off, hf_fit_off(edges, curve(outline, i), 0.1));
  return off;
}

/* One end is led over to the other, which is too far off; both to the middle are not. */
static void
test_short_waist(void)
{
  const double most = 0.007;
  g_autoptr(HfOutline) free = two_bowls();
  g_autoptr(HfOutline) bowls = two_bowls();
  g_autoptr(HfRegion) ring = hf_region_new();
  hf_region_flatten(ring, bowls, 0, 0.0005);
  g_autoptr(HfFitEdges) edges = hf_fit_edges_new(hf_region_ring(ring, 0));
  hf_fit_join(free, NULL, 0);
  g_assert_cmpfloat(most_off(edges, free), >, most);
  g_assert_true(hf_fit_join(bowls, hf_region_ring(ring, 0), most));
  g_assert_cmpuint(bowls->curves->len, ==, 5);
  check_lengths(bowls);
  g_assert_cmpfloat(most_off(edges, bowls), <=, most);
}

/* From a point to an arc: to its circle beside it, else to the nearer end. */
static void
test_gap(void)
{
  g_autoptr(HfOutline) one = hf_outline_new();
  hf_outline_begin(one, hf_point(5, 0));
  hf_outline_arc_to(one, hf_point(0, 0), G_PI_2, hf_point(0, 5));
  hf_outline_line_to(one, hf_point(0, 0));
  hf_outline_close(one);
  near(hf_fit_gap(curve(one, 0), hf_point(3, 3)), 5 - sqrt(18), 1e-12);
  near(hf_fit_gap(curve(one, 0), hf_point(-3, 9)), 5, 1e-12);
  near(hf_fit_gap(curve(one, 1), hf_point(4, 8)), 5, 1e-12);
}

/* Whatever is drawn: nothing too short is left, and the outline stays where it was. */
static void
test_random(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(5);
  for (int round = 0; round < 200; round++) {
    g_autoptr(HfOutline) blob = hf_outline_new();
    double angle = 0, r = g_rand_double_range(rand, 3, 30);
    hf_outline_begin(blob, hf_point(r, 0));
    for (;;) {
      gboolean tiny = g_rand_int_range(rand, 0, 3) == 0;
      angle +=
          (tiny ? g_rand_double_range(rand, 0.001, 0.03) : g_rand_double_range(rand, 0.3, 4)) / r;
      if (angle > 6.2)
        break;
      HfPoint pen = g_array_index(blob->curves, HfCurve, blob->curves->len - 1).p1;
      hf_fit_arc_to(blob, pen, hf_point_polar(hf_point(0, 0), r, angle),
                    g_rand_double_range(rand, -0.2, 0.3));
    }
    hf_outline_close(blob);
    double before = hf_outline_area(blob), most = 0;
    for (guint i = 0; i < blob->curves->len; i++)
      most += length_of(curve(blob, i)) * 0.01;
    hf_fit_join(blob, NULL, 0);
    check_lengths(blob);
    g_assert_cmpfloat(fabs(hf_outline_area(blob) - before), <, most);
    for (guint i = 0; i < blob->curves->len; i++) {
      HfPoint end = curve(blob, i)->p1, next = curve(blob, (i + 1) % blob->curves->len)->p0;
      g_assert_true(end.x == next.x && end.y == next.y);
    }
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/fit-join/circle", test_circle);
  g_test_add_func("/fit-join/bar", test_bar);
  g_test_add_func("/fit-join/stays", test_stays);
  g_test_add_func("/fit-join/short-corner", test_short_corner);
  g_test_add_func("/fit-join/short-crossing", test_short_crossing);
  g_test_add_func("/fit-join/short-waist", test_short_waist);
  g_test_add_func("/fit-join/gap", test_gap);
  g_test_add_func("/fit-join/random", test_random);
  return g_test_run();
}
