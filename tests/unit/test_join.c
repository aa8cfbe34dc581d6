/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_join.c - loose lines to outlines, corner by corner; splines as curves.
 *
 * Many lines at once against shapely, splines against ezdxf and scipy: tests/oracle/test_dxf_in.py.
 */
#include "drawing/join-private.h"
#include "drawing/nest-private.h"
#include "drawing/run-ends-private.h"
#include "drawing/spline-private.h"

enum { MOST = 16 };

typedef struct {
  GArray *run[MOST];
  HfStrand strand[MOST];
  guint n;
} Loose;

static void
add_run(Loose *loose, const HfCurve *curves, guint n, gboolean closed)
{
  GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  g_array_append_vals(run, curves, n);
  loose->run[loose->n] = run;
  loose->strand[loose->n] = (HfStrand){run, closed, loose->n};
  loose->n++;
}

static void
add_line(Loose *loose, double x0, double y0, double x1, double y1)
{
  HfCurve line = {.kind = HF_CURVE_LINE, .p0 = {x0, y0}, .p1 = {x1, y1}};
  add_run(loose, &line, 1, FALSE);
}

static HfJoined *
join(Loose *loose)
{
  HfJoined *joined = hf_join(loose->strand, loose->n, HF_JOIN_MM);
  for (guint i = 0; i < loose->n; i++)
    g_array_unref(loose->run[i]);
  return joined;
}

static double
area_of(const HfChain *chain)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  guint start = 0;
  g_array_append_val(outline->starts, start);
  g_array_append_vals(outline->curves, chain->curves->data, chain->curves->len);
  return fabs(hf_outline_area(outline));
}

static void
assert_end_to_end(const HfChain *chain)
{
  for (guint i = 0; i < chain->curves->len; i++) {
    HfPoint end = g_array_index(chain->curves, HfCurve, i).p1;
    HfPoint next = g_array_index(chain->curves, HfCurve, (i + 1) % chain->curves->len).p0;
    g_assert_true(end.x == next.x && end.y == next.y);
  }
}

static void
test_nothing(void)
{
  Loose loose = {.n = 0};
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len + joined->open->len + joined->remarks->len, ==, 0);
}

/* Any order, any way round. */
static void
test_square(void)
{
  Loose loose = {.n = 0};
  add_line(&loose, 0, 0, 10, 0);
  add_line(&loose, 0, 10, 10, 10);
  add_line(&loose, 10, 0, 10, 10);
  add_line(&loose, 0, 10, 0, 0);
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len, ==, 1);
  const HfChain *loop = joined->loops->pdata[0];
  g_assert_cmpuint(loop->n_strands, ==, 4);
  g_assert_cmpfloat_with_epsilon(area_of(loop), 100, 1e-12);
  assert_end_to_end(loop);
}

/* A fine line of many pieces, each shorter than the tolerance: none of them is swallowed. */
static void
test_pieces_shorter_than_the_tolerance(void)
{
  Loose loose = {.n = 0};
  for (int i = 0; i < 12; i++)
    add_line(&loose, 0.02 * i, 0, 0.02 * (i + 1), 0);
  add_line(&loose, 0.24, 0, 0.24, 5);
  add_line(&loose, 0.24, 5, 0, 0);
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len, ==, 1);
  g_assert_cmpuint(joined->open->len, ==, 0);
  g_assert_cmpfloat_with_epsilon(area_of(joined->loops->pdata[0]), 0.6, 1e-9);
}

/* An arc that ends 0.02 mm beside a line's end: it is turned a little, and keeps its sweep. */
static void
test_arc_meets_line(void)
{
  Loose loose = {.n = 0};
  HfCurve arc = {.kind = HF_CURVE_ARC, .p0 = {10, 0}, .p1 = {-10, 0}, .c0 = {0, 0}, .sweep = G_PI};
  add_run(&loose, &arc, 1, FALSE);
  add_line(&loose, -10, -0.02, 10, -0.02);
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len, ==, 1);
  g_assert_cmpuint(joined->times[HF_JOIN_GAP], ==, 2);
  const HfChain *loop = joined->loops->pdata[0];
  assert_end_to_end(loop);
  g_assert_cmpuint(loop->curves->len, ==, 2);
  g_assert_cmpfloat_with_epsilon(area_of(loop), G_PI * 50, 0.05 * 52);
}

/* A doodle drawn twice is no outline without an inside: it stays one open line. */
static void
test_open_line_twice(void)
{
  Loose loose = {.n = 0};
  add_line(&loose, 0, 0, 10, 0);
  add_line(&loose, 10, 0, 0, 0);
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len, ==, 0);
  g_assert_cmpuint(joined->open->len, ==, 1);
  g_assert_cmpuint(joined->times[HF_JOIN_DOUBLE], ==, 1);
  g_assert_cmpuint(joined->times[HF_JOIN_OPEN], ==, 2);
}

/* Two closed ones that share a side: both stay. */
static void
test_closed_neighbours(void)
{
  static const double x[] = {0, 10, 20};
  Loose loose = {.n = 0};
  for (int i = 0; i < 2; i++) {
    HfPoint p[] = {{x[i], 0}, {x[i + 1], 0}, {x[i + 1], 10}, {x[i], 10}};
    HfCurve side[4];
    for (int k = 0; k < 4; k++)
      side[k] = (HfCurve){.kind = HF_CURVE_LINE, .p0 = p[k], .p1 = p[(k + 1) % 4]};
    add_run(&loose, side, 4, TRUE);
  }
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len, ==, 2);
  g_assert_cmpuint(joined->times[HF_JOIN_DOUBLE], ==, 0);
}

/* Once as lines, once as one run that begins elsewhere: one outline. */
static void
test_run_twice_from_elsewhere(void)
{
  HfPoint p[] = {{0, 0}, {10, 0}, {10, 7}, {0, 10}};
  HfCurve side[4];
  Loose loose = {.n = 0};
  for (int k = 0; k < 4; k++) {
    side[k] = (HfCurve){.kind = HF_CURVE_LINE, .p0 = p[(k + 2) % 4], .p1 = p[(k + 3) % 4]};
    add_line(&loose, p[k].x, p[k].y, p[(k + 1) % 4].x, p[(k + 1) % 4].y);
  }
  add_run(&loose, side, 4, TRUE);
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len, ==, 1);
  g_assert_cmpuint(joined->times[HF_JOIN_DOUBLE], ==, 1);
}

/* All sides twice and a line across once: the square stays whole, the line is told. */
static void
test_all_twice_and_a_line_across(void)
{
  HfPoint p[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  Loose loose = {.n = 0};
  for (int k = 0; k < 8; k++)
    add_line(&loose, p[k % 4].x, p[k % 4].y, p[(k + 1) % 4].x, p[(k + 1) % 4].y);
  add_line(&loose, 0, 0, 10, 10);
  g_autoptr(HfJoined) joined = join(&loose);
  g_assert_cmpuint(joined->loops->len, ==, 1);
  g_assert_cmpuint(joined->times[HF_JOIN_DOUBLE], ==, 4);
  g_assert_cmpuint(joined->times[HF_JOIN_BRANCH], ==, 2);
  g_assert_cmpuint(joined->open->len, ==, 1);
}

/* ---- nesting --------------------------------------------------------------------------------- */

static void
test_rings_in_rings(void)
{
  static const struct {
    double x, y, radius;
    guint depth;
    int parent;
  } circles[] = {
      {0, 0, 10, 2, 2}, {0, 0, 40, 0, -1}, {1, 0, 20, 1, 1}, {100, 0, 9, 0, -1}, {30, 0, 5, 1, 1}};
  g_autoptr(HfOutline) all = hf_outline_new();
  for (gsize i = 0; i < G_N_ELEMENTS(circles); i++)
    hf_outline_add_circle(all, hf_point(circles[i].x, circles[i].y), circles[i].radius);
  g_autoptr(GArray) nests = hf_nest(all);
  for (gsize i = 0; i < G_N_ELEMENTS(circles); i++) {
    g_assert_cmpuint(g_array_index(nests, HfNest, i).depth, ==, circles[i].depth);
    g_assert_cmpint(g_array_index(nests, HfNest, i).parent, ==, circles[i].parent);
  }
  g_autoptr(GArray) at = hf_nest_crossings(all, 9);
  g_assert_cmpuint(at->len, ==, 0);
}

/* A bow tie crosses itself in its middle. */
static void
test_crossing_has_its_place(void)
{
  const HfPoint bow[] = {{0, 0}, {10, 10}, {10, 0}, {0, 10}};
  g_autoptr(HfOutline) all = hf_outline_new();
  hf_outline_add_polygon(all, bow, 4);
  g_autoptr(GArray) at = hf_nest_crossings(all, 9);
  g_assert_cmpuint(at->len, ==, 1);
  g_assert_cmpfloat_with_epsilon(g_array_index(at, HfPoint, 0).x, 5, 1e-4);
  g_assert_cmpfloat_with_epsilon(g_array_index(at, HfPoint, 0).y, 5, 1e-4);
}

/* ---- splines --------------------------------------------------------------------------------- */

/* A quarter of a circle by weights 1, cos 45, 1 (any book on NURBS): one arc, exactly. */
static void
test_weights_of_a_circle(void)
{
  static const HfPoint at[] = {{1, 0}, {1, 1}, {0, 1}};
  static const double weights[] = {1, G_SQRT2 / 2, 1}, knots[] = {0, 0, 0, 1, 1, 1};
  HfSpline spline = {2, 3, at, weights, knots};
  g_assert_true(hf_spline_is_sound(&spline, 6));
  g_autoptr(GArray) run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  hf_spline_run(&spline, run);
  g_assert_cmpuint(run->len, ==, 1);
  const HfCurve *arc = &g_array_index(run, HfCurve, 0);
  g_assert_cmpint(arc->kind, ==, HF_CURVE_ARC);
  g_assert_cmpfloat_with_epsilon(arc->sweep, G_PI / 2, 1e-12);
  g_assert_cmpfloat_with_epsilon(hf_point_length(arc->c0), 0, 1e-12);
}

static void
test_splines_that_contradict_themselves(void)
{
  static const HfPoint at[] = {{1, 0}, {1, 1}, {0, 1}};
  static const double knots[] = {0, 0, 0, 1, 1, 1}, back[] = {0, 0, 1, 0, 1, 1}, flat[6] = {0};
  static const double weights[] = {1, 0, 1}, nan[] = {0, 0, NAN, 1, 1, 1};
  static const HfSpline bad[] = {{0, 3, at, NULL, knots},  {3, 3, at, NULL, knots},
                                 {16, 3, at, NULL, knots}, {2, 3, at, NULL, back},
                                 {2, 3, at, NULL, flat},   {2, 3, at, weights, knots},
                                 {2, 3, at, NULL, nan}};
  for (gsize i = 0; i < G_N_ELEMENTS(bad); i++)
    g_assert_false(hf_spline_is_sound(&bad[i], 6));
  HfSpline good = {2, 3, at, NULL, knots};
  g_assert_false(hf_spline_is_sound(&good, 5));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/join/nothing", test_nothing);
  g_test_add_func("/join/square", test_square);
  g_test_add_func("/join/short-pieces", test_pieces_shorter_than_the_tolerance);
  g_test_add_func("/join/arc-meets-line", test_arc_meets_line);
  g_test_add_func("/join/open-twice", test_open_line_twice);
  g_test_add_func("/join/closed-neighbours", test_closed_neighbours);
  g_test_add_func("/join/twice-from-elsewhere", test_run_twice_from_elsewhere);
  g_test_add_func("/join/all-twice", test_all_twice_and_a_line_across);
  g_test_add_func("/nest/rings", test_rings_in_rings);
  g_test_add_func("/nest/crossing", test_crossing_has_its_place);
  g_test_add_func("/spline/circle", test_weights_of_a_circle);
  g_test_add_func("/spline/contradictions", test_splines_that_contradict_themselves);
  return g_test_run();
}
