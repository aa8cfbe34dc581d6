/* SPDX-License-Identifier: GPL-3.0-or-later
 * Contours as SVG path data, read back as W3C SVG 2 says (9.3, B.2.4: from ends and radius to the
 * centre; B.2.5: a radius too small is scaled up) and held against the true curves.
 */
#include "enough.h"
#include "out/path-private.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS = 3000 };

/* A path that was read: fine points, y up again. */
typedef struct {
  GArray *points; /* HfPoint */
  guint arcs, lines, cubics;
} Read;

static void
read_clear(Read *read)
{
  g_array_unref(read->points);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Read, read_clear)

static void
put(Read *read, double x, double y)
{
  HfPoint p = {x, -y};
  g_array_append_val(read->points, p);
}

static void
read_arc(Read *read, const double *v, double x0, double y0)
{
  double dx = v[5] - x0, dy = v[6] - y0, d = hypot(dx, dy), r = fmax(v[0], d / 2);
  g_assert_cmpfloat(v[0], ==, v[1]);
  g_assert_true(v[2] == 0 && v[3] == 0); /* no turn of the axes; never more than half a turn */
  double h = sqrt(fmax(0, r * r - d * d / 4)), side = v[4] != 0 ? 1 : -1;
  double cx = (x0 + v[5]) / 2 - side * h * dy / d, cy = (y0 + v[6]) / 2 + side * h * dx / d;
  double from = atan2(y0 - cy, x0 - cx), sweep = side * 2 * asin(fmin(1, d / 2 / r));
  for (int i = 1; i <= STEPS; i++)
    put(read, cx + r * cos(from + sweep * i / STEPS), cy + r * sin(from + sweep * i / STEPS));
  read->arcs++;
}

static void
read_cubic(Read *read, const double *v, double x0, double y0)
{
  for (int i = 1; i <= STEPS; i++) {
    double t = i / (double)STEPS, s = 1 - t;
    put(read, s * s * s * x0 + 3 * s * s * t * v[0] + 3 * s * t * t * v[2] + t * t * t * v[4],
        s * s * s * y0 + 3 * s * s * t * v[1] + 3 * s * t * t * v[3] + t * t * t * v[5]);
  }
  read->cubics++;
}

/* One contour: M ... Z. */
static Read
read_path(const char *text, int decimals)
{
  static const struct {
    char command;
    int n;
  } known[] = {{'M', 2}, {'L', 2}, {'A', 7}, {'C', 6}};
  Read read = {.points = g_array_new(FALSE, FALSE, sizeof(HfPoint))};
  double x = 0, y = 0;
  const char *at = text;
  for (at += strspn(at, " "); *at != 'Z'; at += strspn(at, " ")) {
    double v[7];
    char command = *at++;
    gsize which = 0;
    while (known[which].command != command)
      g_assert_cmpuint(++which, <, G_N_ELEMENTS(known));
    for (int i = 0; i < known[which].n; i++) {
      char *end;
      v[i] = g_ascii_strtod(at, &end);
      g_assert_true(end > at);
      const char *dot = memchr(at, '.', (gsize)(end - at));
      g_assert_true(dot == NULL || end - dot - 1 <= decimals);
      at = end;
    }
    if (command == 'A')
      read_arc(&read, v, x, y);
    else if (command == 'C')
      read_cubic(&read, v, x, y);
    else
      put(&read, v[0], v[1]), read.lines += command == 'L' ? 1 : 0;
    x = v[known[which].n - 2];
    y = v[known[which].n - 1];
  }
  g_assert_cmpstr(at, ==, "Z\n");
  return read;
}

static double
distance_to_segment(HfPoint p, HfPoint a, HfPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, l2 = dx * dx + dy * dy;
  double t = l2 > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / l2, 0, 1) : 0;
  return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static double
distance_to_path(const Read *read, HfPoint p)
{
  double least = INFINITY;
  for (guint i = 0; i < read->points->len; i++)
    least = fmin(least, distance_to_segment(
                            p, g_array_index(read->points, HfPoint, i),
                            g_array_index(read->points, HfPoint, (i + 1) % read->points->len)));
  return least;
}

static double
area_of(const Read *read)
{
  double twice = 0;
  for (guint i = 0; i < read->points->len; i++) {
    HfPoint a = g_array_index(read->points, HfPoint, i),
            b = g_array_index(read->points, HfPoint, (i + 1) % read->points->len);
    twice += a.x * b.y - b.x * a.y;
  }
  return twice / 2;
}

/* @origin: upper left corner of the page; what is read is relative to it. */
static Read
written(const HfOutline *outline, HfPoint origin, int decimals)
{
  g_autoptr(GString) text = g_string_new(NULL);
  HfPath path = {text, origin, decimals};
  hf_path_contour(&path, outline, 0);
  return read_path(text->str, decimals);
}

/* Half a unit of the last place at each end, and as much again for a radius at half a turn. */
static void
check_near(const HfOutline *outline, int decimals)
{
  HfPoint origin = {-17.25, 31.5};
  double unit = pow(10, -decimals), most = 2 * unit + 2e-4;
  g_auto(Read) read = written(outline, origin, decimals);
  for (guint i = 0; i < outline->curves->len; i++)
    for (int k = 0; k <= 40; k++) {
      HfPoint p = hf_curve_point(&g_array_index(outline->curves, HfCurve, i), k / 40.0);
      HfPoint there = {p.x - origin.x, p.y - origin.y};
      g_assert_cmpfloat(distance_to_path(&read, there), <=, most);
    }
}

static void
test_circles(void)
{
  static const double radii[] = {0.5, 3, 7.3, 7.4, 25, 120, 500, 2000};
  for (guint i = 0; i < G_N_ELEMENTS(radii); i++)
    for (int turned = 0; turned < 2; turned++) {
      g_autoptr(HfOutline) outline = hf_outline_new();
      hf_outline_add_circle(outline, (HfPoint){10.123456, -4.98765}, radii[i]);
      if (turned)
        hf_outline_reverse(outline);
      check_near(outline, 3);
      g_auto(Read) read = written(outline, (HfPoint){0, 0}, 3);
      double area = (turned ? -1 : 1) * G_PI * radii[i] * radii[i];
      g_assert_cmpfloat_with_epsilon(area_of(&read), area, 2 * G_PI * radii[i] * 2e-3);
      g_assert_cmpuint(read.arcs, ==, 2);
    }
}

/* A circle: two halves whose ends lie exactly one rounded diameter apart. */
static void
test_circle_in_full(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_circle(outline, (HfPoint){10, 5}, 3);
  g_autoptr(GString) text = g_string_new(NULL);
  HfPath path = {text, {0, 20}, 3};
  hf_path_contour(&path, outline, 0);
  g_assert_cmpstr(text->str, ==, "M 13 15 A 3 3 0 0 0 7 15 A 3 3 0 0 0 13 15 Z\n");
}

static void
test_corners(void)
{
  for (int decimals = 1; decimals <= 6; decimals++) {
    g_autoptr(HfOutline) plain = hf_outline_new(), rounded = hf_outline_new();
    hf_outline_add_rectangle(plain, (HfBox){{0, 0}, {40, 20}}, 0);
    hf_outline_add_rectangle(rounded, (HfBox){{-1.0 / 3, 0}, {40, 20}}, 6.6);
    check_near(plain, decimals);
    check_near(rounded, decimals);
    g_auto(Read) read = written(plain, (HfPoint){0, 0}, decimals);
    g_assert_cmpuint(read.lines, ==, 3); /* Z draws the last */
    g_assert_cmpfloat_with_epsilon(area_of(&read), 800, 1e-9);
  }
}

/* Lines, arcs of any sweep and cubics in one contour, seeded. */
static void
test_mixed(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(7);
  for (guint round = 0; round < enough(60); round++) {
    g_autoptr(HfOutline) outline = hf_outline_new();
    HfPoint at = {g_rand_double_range(rand, -50, 50), g_rand_double_range(rand, -50, 50)};
    hf_outline_begin(outline, at);
    for (int i = 0; i < 4; i++) {
      double r = g_rand_double_range(rand, 1, 300), turn = g_rand_double_range(rand, 0, 6);
      double sweep = g_rand_double_range(rand, -6, 6);
      HfPoint to = {g_rand_double_range(rand, -50, 50), g_rand_double_range(rand, -50, 50)};
      HfPoint centre = {at.x - r * cos(turn), at.y - r * sin(turn)};
      if (i % 3 == 0)
        hf_outline_line_to(outline, to);
      else if (i % 3 == 1)
        hf_outline_cubic_to(outline, (HfPoint){to.y, at.x}, (HfPoint){at.y, to.x}, to);
      else
        to = (HfPoint){centre.x + r * cos(turn + sweep), centre.y + r * sin(turn + sweep)},
        hf_outline_arc_to(outline, centre, sweep, to);
      at = to;
    }
    hf_outline_close(outline);
    check_near(outline, 3);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/out/path/circles", test_circles);
  g_test_add_func("/out/path/small-circle", test_circle_in_full);
  g_test_add_func("/out/path/corners", test_corners);
  g_test_add_func("/out/path/mixed", test_mixed);
  return g_test_run();
}
