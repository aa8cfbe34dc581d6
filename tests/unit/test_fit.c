/* SPDX-License-Identifier: GPL-3.0-or-later
 * The arc fit: what was a circle, an arc or a line comes out as one; cubics come out as few arcs
 * that keep the tolerance both ways and turn by more than a degree only where the source does.
 */
#include "metal/fit-private.h"
#include "out/out.h"

static const double TOLERANCE = 0.01; /* mm, both ways: the figure */

/* ---- a layout and its metal by hand -------------------------------------------------------- */

static void
shape_free(gpointer data)
{
  HfShape *shape = data;
  hf_outline_free(shape->outline);
  g_free(shape->label);
  g_free(shape);
}

static HfLayout *
layout_new(void)
{
  HfLayout *layout = g_new0(HfLayout, 1);
  layout->shapes = g_ptr_array_new_with_free_func(shape_free);
  return layout;
}

static void
layout_free(HfLayout *layout)
{
  g_ptr_array_unref(layout->shapes);
  g_free(layout);
}

static HfOutline *
add(HfLayout *layout, gboolean opening)
{
  HfShape *shape = g_new0(HfShape, 1);
  shape->outline = hf_outline_new();
  shape->label = g_strdup("shape");
  shape->opening = opening;
  g_ptr_array_add(layout->shapes, shape);
  return shape->outline;
}

static HfMetal *
metal_of(const HfLayout *layout)
{
  g_autoptr(GError) error = NULL;
  HfMetal *metal = hf_metal_new(layout, NULL, &error);
  g_assert_no_error(error);
  return metal;
}

/* ---- measuring ----------------------------------------------------------------------------- */

static double
to_segment(HfPoint a, HfPoint b, HfPoint p)
{
  HfPoint d = hf_point_sub(b, a);
  double t = CLAMP(hf_point_dot(hf_point_sub(p, a), d) / hf_point_dot(d, d), 0, 1);
  return hf_point_distance(p, hf_point_mix(a, b, t));
}

static double
to_ring(const HfRing *ring, HfPoint p)
{
  double best = INFINITY;
  for (guint i = 0; i < ring->n; i++)
    best = MIN(best, to_segment(hf_grid_point(ring->at[i]),
                                hf_grid_point(ring->at[(i + 1) % ring->n]), p));
  return best;
}

static double
to_curve(const HfCurve *c, HfPoint p)
{
  if (c->kind == HF_CURVE_LINE)
    return to_segment(c->p0, c->p1, p);
  double turn = hf_angle_of(hf_point_sub(p, c->c0)) - hf_angle_of(hf_point_sub(c->p0, c->c0));
  if (c->sweep < 0)
    turn = -turn;
  turn -= 2 * G_PI * floor(turn / (2 * G_PI));
  if (turn <= fabs(c->sweep))
    return fabs(hf_point_distance(p, c->c0) - hf_curve_radius(c));
  return MIN(hf_point_distance(p, c->p0), hf_point_distance(p, c->p1));
}

static double
to_contour(const HfCurve *curve, guint n, HfPoint p)
{
  double best = INFINITY;
  for (guint i = 0; i < n; i++)
    best = MIN(best, to_curve(&curve[i], p));
  return best;
}

/* Sampled every 1/16 of each curve and 1/8 of each edge. */
static void
assert_within_tolerance(const HfMetal *metal, const HfFit *fit)
{
  g_assert_cmpuint(hf_outline_n_contours(fit->outline), ==, metal->region->rings->len);
  for (guint r = 0; r < metal->region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(metal->region, r);
    guint n;
    const HfCurve *curve = hf_outline_contour(fit->outline, r, &n);
    for (guint i = 0; i < n; i++)
      for (int k = 0; k < 16; k++)
        g_assert_cmpfloat(to_ring(ring, hf_curve_point(&curve[i], k / 16.0)), <=, TOLERANCE);
    for (guint i = 0; i < ring->n; i++)
      for (int k = 0; k < 8; k++) {
        HfPoint a = hf_grid_point(ring->at[i]), b = hf_grid_point(ring->at[(i + 1) % ring->n]);
        g_assert_cmpfloat(to_contour(curve, n, hf_point_mix(a, b, k / 8.0)), <=, TOLERANCE);
      }
  }
}

static double
turn_at_end(const HfCurve *a, const HfCurve *b)
{
  HfPoint u = hf_curve_derivative(a, 1), v = hf_curve_derivative(b, 0);
  return fabs(atan2(hf_point_cross(u, v), hf_point_dot(u, v))) * 180 / G_PI;
}

/* Contours close bit for bit and are of lines and arcs only. Returns how often the tangent turns by
 * more than a degree. */
static guint
corners(const HfFit *fit)
{
  guint found = 0;
  for (guint r = 0; r < hf_outline_n_contours(fit->outline); r++) {
    guint n;
    const HfCurve *c = hf_outline_contour(fit->outline, r, &n);
    for (guint i = 0; i < n; i++) {
      const HfCurve *next = &c[(i + 1) % n];
      g_assert_true(c[i].p1.x == next->p0.x && c[i].p1.y == next->p0.y);
      g_assert_cmpint(c[i].kind, !=, HF_CURVE_CUBIC);
      found += turn_at_end(&c[i], next) > 1;
    }
  }
  return found;
}

/* The fewest chords that keep 5 um with their ends on the curve: each as long as it can be. */
static double
chord_gap(const HfCurve *curve, double t0, double t1)
{
  HfPoint a = hf_curve_point(curve, t0), b = hf_curve_point(curve, t1);
  double most = 0;
  for (int i = 1; i < 16; i++)
    most = MAX(most, to_segment(a, b, hf_curve_point(curve, t0 + (t1 - t0) * i / 16)));
  return most;
}

static guint
fewest_chords(const HfOutline *outline)
{
  guint n = 0;
  for (guint i = 0; i < outline->curves->len; i++) {
    const HfCurve *curve = &g_array_index(outline->curves, HfCurve, i);
    for (double t = 0; t < 1; n++) {
      double low = t, high = 1;
      if (chord_gap(curve, t, 1) <= HF_FLATTEN_MM)
        low = 1;
      for (int k = 0; k < 40 && low < 1; k++) {
        double middle = (low + high) / 2;
        *(chord_gap(curve, t, middle) <= HF_FLATTEN_MM ? &low : &high) = middle;
      }
      t = low;
    }
  }
  return n;
}

/* ---- tests --------------------------------------------------------------------------------- */

static void
test_circles(void)
{
  HfLayout *layout = layout_new();
  hf_outline_add_circle(add(layout, FALSE), hf_point(100.03, 70.01), 402);
  hf_outline_add_circle(add(layout, TRUE), hf_point(100.03, 70.01), 380);
  hf_outline_add_circle(add(layout, TRUE), hf_point(100.03 + 391, 70.01), 2.5);
  g_autoptr(HfMetal) metal = metal_of(layout);
  g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
  g_assert_cmpuint(fit->outline->curves->len, ==, 3);
  const double radius[] = {402, 380, 2.5};
  for (guint i = 0; i < 3; i++) {
    guint n, found = 0;
    const HfCurve *c = hf_outline_contour(fit->outline, i, &n);
    for (int k = 0; k < 3; k++)
      found += fabs(hf_curve_radius(c) - radius[k]) < 1e-9;
    g_assert_cmpuint(found, ==, 1);
    double way = hf_region_ring(metal->region, i)->parent < 0 ? 1 : -1;
    g_assert_cmpfloat_with_epsilon(c->sweep, way * 2 * G_PI, 1e-12);
  }
  double area = G_PI * (402.0 * 402 - 380.0 * 380 - 2.5 * 2.5);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(fit->outline), area, 1e-6);
  assert_within_tolerance(metal, fit);
  layout_free(layout);
}

static void
test_lines_and_arcs_as_they_were(void)
{
  HfLayout *layout = layout_new();
  HfMatrix turned = hf_matrix_turn(0.3);
  g_autoptr(HfOutline) plate = hf_outline_new();
  hf_outline_add_rectangle(plate, (HfBox){{0, 0}, {120, 60}}, 12);
  hf_outline_append(add(layout, FALSE), plate, turned);
  g_autoptr(HfMetal) metal = metal_of(layout);
  g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
  g_assert_cmpuint(fit->outline->curves->len, ==, 8);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(fit->outline), 120 * 60 - (4 - G_PI) * 144, 1e-6);
  g_assert_cmpuint(corners(fit), ==, 0);
  for (guint i = 0; i < 8; i++) {
    const HfCurve *c = &g_array_index(fit->outline->curves, HfCurve, i);
    if (c->kind == HF_CURVE_ARC)
      g_assert_cmpfloat_with_epsilon(hf_curve_radius(c), 12, 1e-9);
  }
  layout_free(layout);
}

/* A bar across a ring: the ring's arcs keep centre and radius although they are cut in pieces, and
 * the joints lie where line and circle truly cross, sqrt(400^2 - 5^2) from the middle. */
static void
test_crossings(void)
{
  HfLayout *layout = layout_new();
  hf_outline_add_circle(add(layout, FALSE), hf_point(0, 0), 400);
  hf_outline_add_circle(add(layout, TRUE), hf_point(0, 0), 380);
  hf_outline_add_rectangle(add(layout, FALSE), (HfBox){{-390, -5}, {390, 5}}, 0);
  g_autoptr(HfMetal) metal = metal_of(layout);
  g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
  g_assert_cmpuint(hf_outline_n_contours(fit->outline), ==, 3);
  double half = (380.0 * 380 * acos(5.0 / 380) - 5 * sqrt(380.0 * 380 - 25));
  g_assert_cmpfloat_with_epsilon(hf_outline_area(fit->outline), G_PI * 160000 - 2 * half, 1e-4);
  g_assert_cmpuint(fit->outline->curves->len, ==, 1 + 2 + 2);
  g_assert_cmpuint(corners(fit), ==, 4);
  for (guint i = 0; i < fit->outline->curves->len; i++) {
    const HfCurve *c = &g_array_index(fit->outline->curves, HfCurve, i);
    if (c->kind == HF_CURVE_ARC && fabs(c->sweep) < 6) {
      g_assert_cmpfloat_with_epsilon(hf_curve_radius(c), 380, 1e-9);
      g_assert_cmpfloat_with_epsilon(fabs(c->p0.y), 5, 1e-9);
      g_assert_cmpfloat_with_epsilon(fabs(c->p0.x), sqrt(380.0 * 380 - 25), 1e-9);
    }
  }
  assert_within_tolerance(metal, fit);
  layout_free(layout);
}

static void
add_cubic_ellipse(HfOutline *outline, double a, double b)
{
  const double k = 0.5522847498;
  hf_outline_begin(outline, hf_point(a, 0));
  hf_outline_cubic_to(outline, hf_point(a, k * b), hf_point(k * a, b), hf_point(0, b));
  hf_outline_cubic_to(outline, hf_point(-k * a, b), hf_point(-a, k * b), hf_point(-a, 0));
  hf_outline_cubic_to(outline, hf_point(-a, -k * b), hf_point(-k * a, -b), hf_point(0, -b));
  hf_outline_cubic_to(outline, hf_point(k * a, -b), hf_point(a, -k * b), hf_point(a, 0));
  hf_outline_close(outline);
}

static void
test_ellipses(void)
{
  static const double sizes[][2] = {{300, 120}, {60, 20}, {8, 30}, {3, 1}, {0.8, 0.5}};
  for (gsize i = 0; i < G_N_ELEMENTS(sizes); i++) {
    HfLayout *layout = layout_new();
    HfOutline *outline = add(layout, FALSE);
    add_cubic_ellipse(outline, sizes[i][0], sizes[i][1]);
    g_autoptr(HfMetal) metal = metal_of(layout);
    g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
    assert_within_tolerance(metal, fit);
    g_assert_cmpuint(corners(fit), ==, 0);
    if (sizes[i][0] > 10) /* a fifth of the fewest chords, the figure */
      g_assert_cmpuint(5 * fit->outline->curves->len, <=, fewest_chords(outline));
    layout_free(layout);
  }
}

/* Drawn on whole font units, the four curves of an o join with turns of 0.8 degrees: no corners. */
static void
test_ring_of_small_turns(void)
{
  HfLayout *layout = layout_new();
  HfOutline *outline = add(layout, FALSE);
  hf_outline_begin(outline, hf_point(30, 0));
  hf_outline_cubic_to(outline, hf_point(30.23, 16.57), hf_point(16.57, 50.23), hf_point(0, 50));
  hf_outline_cubic_to(outline, hf_point(-16.57, 50), hf_point(-30.23, 16.57), hf_point(-30, 0));
  hf_outline_cubic_to(outline, hf_point(-30, -16.57), hf_point(-16.57, -50), hf_point(0, -50));
  hf_outline_cubic_to(outline, hf_point(16.57, -49.77), hf_point(30, -16.57), hf_point(30, 0));
  hf_outline_close(outline);
  g_autoptr(HfMetal) metal = metal_of(layout);
  g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
  assert_within_tolerance(metal, fit);
  g_assert_cmpuint(corners(fit), ==, 0);
  layout_free(layout);
}

/* A full stop drawn with cubics is a circle to within 0.027 % of its radius. */
static void
test_round_dot(void)
{
  HfLayout *layout = layout_new();
  add_cubic_ellipse(add(layout, FALSE), 6, 6);
  g_autoptr(HfMetal) metal = metal_of(layout);
  g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
  g_assert_cmpuint(fit->outline->curves->len, ==, 1);
  assert_within_tolerance(metal, fit);
  layout_free(layout);
}

/* Round blobs through random points, some of which are corners; some curves have a handle of no
 * length at one end, as drawn letters do. Returns how many true corners there are. */
static guint
add_blob(HfOutline *outline, GRand *rand, double size)
{
  enum { N = 9 };
  HfPoint p[N], along[N];
  gboolean sharp[N];
  guint n_sharp = 0;
  for (int i = 0; i < N; i++) {
    double r = size * g_rand_double_range(rand, 0.7, 1.2);
    p[i] = hf_point_polar(hf_point(0, 0), r, 2 * G_PI * i / N);
    along[i] = hf_point_polar(hf_point(0, 0), size / 5,
                              2 * G_PI * i / N + G_PI_2 + g_rand_double_range(rand, -0.4, 0.4));
    sharp[i] = g_rand_double(rand) < 0.3;
    n_sharp += sharp[i];
  }
  hf_outline_begin(outline, p[0]);
  for (int i = 0; i < N; i++) {
    int j = (i + 1) % N;
    HfPoint leave = along[i], arrive = along[j];
    if (sharp[i]) /* turned by 20 degrees */
      leave = hf_point(0.94 * leave.x - 0.342 * leave.y, 0.342 * leave.x + 0.94 * leave.y);
    HfPoint c0 = hf_point_add(p[i], leave), c1 = hf_point_sub(p[j], arrive);
    if (i % 4 == 3) /* same tangent at the far end, no handle there */
      c1 = hf_point_sub(p[j], hf_point_scale(arrive, 1e-9));
    if (i % 4 == 3)
      c0 = hf_point_sub(p[j], arrive);
    hf_outline_cubic_to(outline, c0, c1, p[j]);
  }
  hf_outline_close(outline);
  return n_sharp;
}

static void
test_random_blobs(void)
{
  for (guint seed = 0; seed < 36; seed++) {
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    HfLayout *layout = layout_new();
    HfOutline *outline = add(layout, FALSE);
    add_blob(outline, rand, seed % 3 == 0 ? 4 : seed % 3 == 1 ? 30 : 200);
    guint source = 0, n;
    const HfCurve *c = hf_outline_contour(outline, 0, &n);
    for (guint i = 0; i < n; i++) { /* where the tangent turns, a hair inside both curves */
      HfPoint u = hf_curve_derivative(&c[i], 1 - 1e-6),
              v = hf_curve_derivative(&c[(i + 1) % n], 1e-6);
      source += fabs(atan2(hf_point_cross(u, v), hf_point_dot(u, v))) > G_PI / 180;
    }
    g_autoptr(HfMetal) metal = metal_of(layout);
    g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
    assert_within_tolerance(metal, fit);
    g_assert_cmpuint(corners(fit), <=, source);
    layout_free(layout);
  }
}

/* Blobs across one another and rings across them: tolerance and closedness hold whatever crosses,
 * and every corner lies at a source corner or where the edge's source changes. */
static void
assert_corners_have_a_reason(const HfMetal *metal, const HfLayout *layout, const HfFit *fit)
{
  for (guint r = 0; r < metal->region->rings->len; r++) {
    guint n;
    const HfCurve *c = hf_outline_contour(fit->outline, r, &n);
    const HfRing *ring = hf_region_ring(metal->region, r);
    for (guint i = 0; i < n; i++) {
      if (turn_at_end(&c[i], &c[(i + 1) % n]) <= 1)
        continue;
      double best = INFINITY;
      for (guint v = 0; v < ring->n; v++) {
        const HfEdge *a = &ring->from[(v + ring->n - 1) % ring->n], *b = &ring->from[v];
        if (a->shape != b->shape || a->curve != b->curve)
          best = MIN(best, hf_point_distance(c[i].p1, hf_grid_point(ring->at[v])));
      }
      g_assert_cmpfloat(best, <=, TOLERANCE);
    }
  }
  (void)layout;
}

static void
test_random_piles(void)
{
  for (guint seed = 100; seed < 116; seed++) {
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    HfLayout *layout = layout_new();
    for (int i = 0; i < 5; i++) {
      g_autoptr(HfOutline) blob = hf_outline_new();
      add_blob(blob, rand, 20);
      HfMatrix move =
          hf_matrix_move(g_rand_double_range(rand, -30, 30), g_rand_double_range(rand, -30, 30));
      hf_outline_append(add(layout, i == 3), blob, move);
    }
    hf_outline_add_circle(add(layout, FALSE), hf_point(0, 0), 40);
    hf_outline_add_circle(add(layout, TRUE), hf_point(1, 2), 33);
    g_autoptr(HfMetal) metal = metal_of(layout);
    g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
    assert_within_tolerance(metal, fit);
    corners(fit);
    assert_corners_have_a_reason(metal, layout, fit);
    layout_free(layout);
  }
}

/* A cubic that begins by running back, as a drawn '&' did: a hairpin 13 um wide, narrower than
 * twice the tolerance. Arcs alone came out crossed. */
static void
test_hairpin(void)
{
  HfLayout *layout = layout_new();
  HfOutline *outline = add(layout, FALSE);
  hf_outline_begin(outline, hf_point(7.14591, 26.35378));
  hf_outline_cubic_to(outline, hf_point(6.72301, 27.051), hf_point(11.45709, 20.01305),
                      hf_point(21.34814, 5.23994));
  hf_outline_line_to(outline, hf_point(2.7, 33.6));
  hf_outline_close(outline);
  g_autoptr(HfMetal) metal = metal_of(layout);
  g_autoptr(HfFit) fit = hf_fit_new(metal, layout, TOLERANCE);
  g_autoptr(GArray) crossings = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  hf_fit_crossings(fit->outline, crossings, NULL);
  g_assert_cmpuint(crossings->len, ==, 0);
  assert_within_tolerance(metal, fit);
  layout_free(layout);
}

/* Two circles of radius 5, 6 apart, cross at (3, +-4); a line through both; pieces that only share
 * an end, or lie within each other, do not cross. */
static void
test_crossings_found_internal(void)
{
  static const struct {
    double x, r0, r1;
    guint n;
  } circles[] = {{6, 5, 5, 1}, {0, 5, 4, 0}, {20, 5, 5, 0}, {3, 9, 2, 0}};
  for (gsize i = 0; i < G_N_ELEMENTS(circles); i++) {
    g_autoptr(HfOutline) outline = hf_outline_new();
    g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfPoint));
    hf_outline_add_circle(outline, hf_point(0, 0), circles[i].r0);
    hf_outline_add_circle(outline, hf_point(circles[i].x, 0), circles[i].r1);
    hf_fit_crossings(outline, at, NULL);
    g_assert_cmpuint(at->len, ==, circles[i].n);
    if (circles[i].n == 1) {
      HfPoint p = g_array_index(at, HfPoint, 0);
      g_assert_cmpfloat_with_epsilon(p.x, 3, 1e-9);
      g_assert_cmpfloat_with_epsilon(fabs(p.y), 4, 1e-9);
    }
  }
  g_autoptr(HfOutline) outline = hf_outline_new();
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  hf_outline_add_rectangle(outline, (HfBox){{0, 0}, {40, 20}}, 5); /* neighbours share ends */
  hf_fit_crossings(outline, at, NULL);
  g_assert_cmpuint(at->len, ==, 0);
  const HfPoint bow[] = {{100, 0}, {110, 10}, {110, 0}, {100, 10}};
  hf_outline_add_polygon(outline, bow, 4);
  const HfPoint across[] = {{-5, 4}, {45, 4}, {45, -9}}; /* through two corner arcs */
  hf_outline_add_polygon(outline, across, 3);
  hf_fit_crossings(outline, at, NULL);
  g_assert_cmpuint(at->len, >=, 3);
}

/* Edges without a source stay as they are. */
static void
test_unknown_edges(void)
{
  HfLayout *layout = layout_new();
  HfMetal metal = {.region = hf_region_new()};
  const HfGrid at[] = {{0, 0}, {100000, 0}, {100000, 50000}, {0, 50000}};
  const HfEdge from[] = {
      {HF_NO_SHAPE, 0, 0, 0}, {7, 0, 0, 1}, {HF_NO_SHAPE, 0, 0, 0}, {0, 99, 0, 1}};
  hf_region_add_ring(metal.region, at, from, 4);
  hf_region_add_ring(metal.region, at, NULL, 3);
  g_autoptr(HfFit) fit = hf_fit_new(&metal, layout, TOLERANCE);
  g_assert_cmpuint(fit->outline->curves->len, ==, 7);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(fit->outline), 50 + 25, 1e-9);
  hf_region_free(metal.region);
  layout_free(layout);
}

/* Sources that lie are not believed: the ring is a square, its edges claim a circle. */
static void
test_wrong_sources(void)
{
  HfLayout *layout = layout_new();
  hf_outline_add_circle(add(layout, FALSE), hf_point(5, 5), 5);
  HfMetal metal = {.region = hf_region_new()};
  const HfGrid at[] = {{0, 0}, {100000, 0}, {100000, 100000}, {0, 100000}};
  HfEdge from[4];
  for (int i = 0; i < 4; i++)
    from[i] = (HfEdge){0, 0, i / 4.0, (i + 1) / 4.0};
  hf_region_add_ring(metal.region, at, from, 4);
  g_autoptr(HfFit) fit = hf_fit_new(&metal, layout, TOLERANCE);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(fit->outline), 100, 1e-9);
  hf_region_free(metal.region);
  layout_free(layout);
}

/* Where three outlines all but meet lies a triangle of a few thousandths of a mm: shorter than any
 * piece may be, and still ring i must be contour i (the writers count on it). */
static void
test_rings_smaller_than_a_piece(void)
{
  HfLayout *layout = layout_new();
  g_autoptr(GRand) rand = g_rand_new_with_seed(20);
  for (int n = 0; n < 2000; n++) {
    HfMetal metal = {.region = hf_region_new()};
    HfGrid at[3] = {{0, 0}};
    for (int i = 1; i < 3; i++)
      at[i] = (HfGrid){g_rand_int_range(rand, -90, 90), g_rand_int_range(rand, -90, 90)};
    hf_region_add_ring(metal.region, at, NULL, 3);
    hf_region_add_ring(metal.region, (HfGrid[]){{5000, 0}, {9000, 0}, {9000, 9000}}, NULL, 3);
    double area = hf_ring_area(hf_region_ring(metal.region, 0));
    if (area != 0) {
      g_autoptr(HfFit) fit = hf_fit_new(&metal, layout, TOLERANCE);
      double rest = hf_ring_area(hf_region_ring(metal.region, 1));
      g_assert_cmpuint(hf_outline_n_contours(fit->outline), ==, 2);
      g_assert_cmpfloat((hf_outline_area(fit->outline) - rest) / area, >, 1e-3);
    }
    hf_region_free(metal.region);
  }
  layout_free(layout);
}

/* A start that no single arc can take up within the tolerance: two arcs with a common tangent. */
static void
test_stuck_search_internal(void)
{
  HfCurve bow = {HF_CURVE_CUBIC, {0, 0}, {40, 0}, {12, 9}, {28, 9}, 0};
  enum { N = 41 };
  HfFitNode nodes[N];
  for (int i = 0; i < N; i++) {
    double t = i / (N - 1.0);
    HfPoint d = hf_curve_derivative(&bow, t);
    nodes[i].at = hf_curve_point(&bow, t);
    nodes[i].along = hf_point_scale(d, 1 / hf_point_length(d));
    HfPoint across = {-nodes[i].along.y * 0.0093, nodes[i].along.x * 0.0093};
    nodes[i].left = hf_point_add(nodes[i].at, across);
    nodes[i].right = hf_point_sub(nodes[i].at, across);
  }
  const double wish = 12 * G_PI / 180;
  g_autoptr(HfOutline) out = hf_outline_new();
  hf_outline_begin(out, nodes[0].at);
  hf_fit_chain(out, nodes, N, (HfFitTurn){wish, wish}, HF_FIT_ANY_TURN);
  guint n = out->curves->len;
  const HfCurve *c = &g_array_index(out->curves, HfCurve, 0);
  HfPoint leave = hf_curve_derivative(&c[0], 0);
  double turn = atan2(hf_point_cross(nodes[0].along, leave), hf_point_dot(nodes[0].along, leave));
  g_assert_cmpfloat_with_epsilon(turn, wish, 1e-9);
  g_assert_true(c[n - 1].p1.x == 40 && c[n - 1].p1.y == 0);
  for (guint i = 0; i + 1 < n; i++)
    g_assert_cmpfloat(turn_at_end(&c[i], &c[i + 1]), <=, 1);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/fit/circles", test_circles);
  g_test_add_func("/fit/lines-and-arcs-as-they-were", test_lines_and_arcs_as_they_were);
  g_test_add_func("/fit/crossings", test_crossings);
  g_test_add_func("/fit/ellipses", test_ellipses);
  g_test_add_func("/fit/ring-of-small-turns", test_ring_of_small_turns);
  g_test_add_func("/fit/round-dot", test_round_dot);
  g_test_add_func("/fit/random-blobs", test_random_blobs);
  g_test_add_func("/fit/random-piles", test_random_piles);
  g_test_add_func("/fit/hairpin", test_hairpin);
  g_test_add_func("/fit/crossings-found", test_crossings_found_internal);
  g_test_add_func("/fit/unknown-edges", test_unknown_edges);
  g_test_add_func("/fit/wrong-sources", test_wrong_sources);
  g_test_add_func("/fit/rings-smaller-than-a-piece", test_rings_smaller_than_a_piece);
  g_test_add_func("/fit/stuck-search", test_stuck_search_internal);
  return g_test_run();
}
