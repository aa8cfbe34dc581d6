/* SPDX-License-Identifier: GPL-3.0-or-later
 * Names and curves found again after booleans and offsets, against the true curves themselves; true
 * curves of an offset against closed forms (parallel lines and concentric circles; Steiner).
 */
#include "geom/offset.h"
#include "geom/retrace.h"
#include "geom/trace.h"
#include <string.h>

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

enum { MOST = 12 };

/* A pile of outlines: the first `n` add, the rest take away. */
typedef struct {
  HfOutline *outlines[2 * MOST];
  guint n, n_all;
  HfRegion *input, *region; /* all flattened; metal, with sources */
} Pile;

static HfOutline *
pile_add(Pile *pile)
{
  return pile->outlines[pile->n_all++] = hf_outline_new();
}

static void
pile_settle(Pile *pile)
{
  g_autoptr(HfRegion) adds = hf_region_new(), takes = hf_region_new();
  pile->input = hf_region_new();
  for (guint i = 0; i < pile->n_all; i++) {
    hf_region_flatten(i < pile->n ? adds : takes, pile->outlines[i], i, HF_FLATTEN_MM);
    hf_region_flatten(pile->input, pile->outlines[i], i, HF_FLATTEN_MM);
  }
  g_autoptr(HfRegion) metal = hf_region_clean(adds), holes = hf_region_clean(takes);
  pile->region = hf_region_subtract(metal, holes);
  g_autoptr(HfTrace) trace = hf_trace_new(pile->input, 1);
  hf_trace_boolean(trace, pile->region, HF_TRACE_LATER);
}

static void
pile_clear(Pile *pile)
{
  for (guint i = 0; i < pile->n_all; i++)
    hf_outline_free(pile->outlines[i]);
  hf_region_free(pile->input);
  hf_region_free(pile->region);
}

static const HfCurve *
curve_of(const HfEdge *from, gconstpointer data)
{
  const Pile *pile = data;
  return &g_array_index(pile->outlines[from->shape]->curves, HfCurve, from->curve);
}

/* A plate 100 by 60 with a hole of radius 20. */
static void
plate(Pile *pile)
{
  *pile = (Pile){.n = 1};
  hf_outline_add_rectangle(pile_add(pile), (HfBox){{0, 0}, {100, 60}}, 0);
  hf_outline_add_circle(pile_add(pile), hf_point(50, 30), 20);
  pile_settle(pile);
}

/* Both ends of an edge are @by from the true curve at t0 and t1. */
static void
assert_beside(const Pile *pile, const HfRing *ring, guint v, double by, double slack)
{
  const HfEdge *from = &ring->from[v];
  g_assert_cmpuint(from->shape, <, pile->n_all);
  const HfCurve *curve = curve_of(from, pile);
  HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
  near(hf_point_distance(a, hf_curve_point(curve, from->t0)), fabs(by), slack);
  near(hf_point_distance(b, hf_curve_point(curve, from->t1)), fabs(by), slack);
}

static void
test_plate(void)
{
  Pile pile;
  plate(&pile);
  for (int way = -1; way <= 1; way += 2) {
    g_autoptr(HfRegion) moved = hf_region_offset(pile.region, way, 0.005);
    guint corners = 0, of_hole = 0;
    for (guint r = 0; r < moved->rings->len; r++) {
      const HfRing *ring = hf_region_ring(moved, r);
      g_assert_nonnull(ring->from);
      for (guint v = 0; v < ring->n; v++) {
        assert_beside(&pile, ring, v, 1, 0.02);
        g_assert_cmpuint(ring->from[v].shape, ==, ring->parent < 0 ? 0 : 1);
        corners += ring->parent < 0 && ring->from[v].t0 == ring->from[v].t1;
        of_hole += ring->from[v].shape == 1;
      }
    }
    g_assert_cmpuint(of_hole, >, 40);
    if (way > 0)
      g_assert_cmpuint(corners, >, 4 * 4); /* four arcs of chords about corners */
    else
      g_assert_cmpuint(corners, ==, 0); /* they stay sharp */
  }
  pile_clear(&pile);
}

/* Without sources there is nothing to keep. */
static void
test_no_sources(void)
{
  Pile pile;
  plate(&pile);
  g_autoptr(HfRegion) bare = hf_region_clean(pile.region);
  g_autoptr(HfRegion) moved = hf_region_offset(bare, 1, 0.005);
  g_assert_null(hf_region_ring(moved, 0)->from);
  pile_clear(&pile);
}

static guint
count_kind(const HfOutline *outline, HfCurveKind kind)
{
  guint n = 0;
  for (guint i = 0; i < outline->curves->len; i++)
    n += g_array_index(outline->curves, HfCurve, i).kind == kind;
  return n;
}

/* Half a kerf outward: the plate is 4 lines and 4 arcs, the hole a circle of radius 19. */
static void
test_true_plate(void)
{
  Pile pile;
  plate(&pile);
  g_autoptr(HfOutline) out = hf_region_offset_true(pile.region, 1, HF_FLATTEN_MM, curve_of, &pile);
  g_autoptr(HfOutline) in = hf_region_offset_true(pile.region, -1, HF_FLATTEN_MM, curve_of, &pile);
  near(hf_outline_area(out), 102 * 62 - (4 - G_PI) - G_PI * 19 * 19, 1e-3);
  near(hf_outline_area(in), 98 * 58 - G_PI * 21 * 21, 1e-3);
  g_assert_cmpuint(count_kind(out, HF_CURVE_LINE), ==, 4);
  g_assert_cmpuint(count_kind(in, HF_CURVE_LINE), ==, 4);
  g_assert_cmpuint(count_kind(out, HF_CURVE_CUBIC), ==, 0);
  for (guint i = 0; i < out->curves->len; i++) {
    const HfCurve *c = &g_array_index(out->curves, HfCurve, i);
    if (c->kind != HF_CURVE_ARC)
      continue;
    double r = hf_point_distance(c->c0, c->p0);
    gboolean hole = hf_point_distance(c->c0, hf_point(50, 30)) < 1e-9;
    near(r, hole ? 19 : 1, 1e-9);
  }
  pile_clear(&pile);
}

static void
random_pile(Pile *pile, guint seed)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
  *pile = (Pile){.n = MOST / 2};
  for (guint i = 0; i < MOST; i++) {
    g_autoptr(HfOutline) flat = hf_outline_new();
    double w = g_rand_double_range(rand, 3, 20), h = g_rand_double_range(rand, 3, 9);
    if (g_rand_boolean(rand))
      hf_outline_add_circle(flat, hf_point(0, 0), w / 2);
    else
      hf_outline_add_rectangle(flat, (HfBox){{-w, -h}, {w, h}}, i % 3 ? 0 : h * 0.7);
    HfMatrix m = hf_matrix_then(
        hf_matrix_turn(g_rand_double_range(rand, 0, 3)),
        hf_matrix_move(g_rand_double_range(rand, 0, 60), g_rand_double_range(rand, 0, 40)));
    hf_outline_append(pile_add(pile), flat, m);
  }
  pile_settle(pile);
}

/* Every edge of an offset is named and runs beside the stretch of the curve that it names, but for
 * a few about inner corners, where the nearest is the end of a stretch that is covered beyond. */
static void
compare_offset(const Pile *pile, const HfRegion *moved, double by, guint *edges, guint *off)
{
  for (guint r = 0; r < moved->rings->len; r++) {
    const HfRing *ring = hf_region_ring(moved, r);
    for (guint v = 0; v < ring->n; v++, (*edges)++) {
      const HfEdge *from = &ring->from[v];
      g_assert_cmpuint(from->shape, !=, HF_NO_SHAPE);
      const HfCurve *curve = curve_of(from, pile);
      HfPoint middle =
          hf_point_mix(hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]), 0.5);
      HfPoint foot = hf_curve_point(curve, (from->t0 + from->t1) / 2);
      *off += fabs(hf_point_distance(middle, foot) - fabs(by)) > 0.02;
    }
  }
}

/* The true curves enclose what the chords do. */
static void
test_random(void)
{
  guint edges = 0, off = 0;
  for (guint seed = 1; seed <= 30; seed++) {
    Pile pile;
    random_pile(&pile, seed);
    for (int way = -1; way <= 1; way += 2) {
      double by = way * 0.7;
      g_autoptr(HfRegion) moved = hf_region_offset(pile.region, by, 0.005);
      g_autoptr(HfOutline) outline =
          hf_region_offset_true(pile.region, by, HF_FLATTEN_MM, curve_of, &pile);
      near(hf_outline_area(outline), hf_region_area(moved),
           0.008 * hf_region_perimeter(moved) + 1e-6);
      compare_offset(&pile, moved, by, &edges, &off);
    }
    pile_clear(&pile);
  }
  g_assert_cmpuint(edges, >, 2000);
  g_assert_cmpuint(off, <, edges / 100);
  g_test_message("%u edges, %u about inner corners", edges, off);
}

/* Two discs in one: their edges are arcs again, of the same circles; of the lens between them too.
 */
static void
test_curves_again(void)
{
  const double r = 12, apart = 7, at = acos(apart / r);
  g_autoptr(HfOutline) both = hf_outline_new(), one = hf_outline_new(), other = hf_outline_new();
  hf_outline_add_circle(one, hf_point(-apart, 0), r);
  hf_outline_add_circle(other, hf_point(apart, 0), r);
  hf_outline_append(both, one, HF_MATRIX_IDENTITY);
  hf_outline_append(both, other, HF_MATRIX_IDENTITY);
  double lens = 2 * r * r * at - 2 * apart * sqrt(r * r - apart * apart);
  for (int which = 0; which < 2; which++) {
    g_autoptr(HfRegion) a = hf_region_new(), b = hf_region_new();
    hf_region_flatten(a, one, 0, 0.002);
    hf_region_flatten(b, other, 0, 0.002);
    const HfRegion *pair[] = {a, b};
    g_autoptr(HfRegion) region = which ? hf_region_union(pair, 2) : hf_region_intersect(a, b);
    g_autoptr(HfOutline) curves = hf_region_curves_of(region, both, 0.002);
    near(hf_outline_area(curves), which ? 2 * G_PI * r * r - lens : lens, 0.1);
    g_assert_cmpuint(curves->curves->len, <=, 4);
    for (guint i = 0; i < curves->curves->len; i++) {
      const HfCurve *arc = &g_array_index(curves->curves, HfCurve, i);
      g_assert_cmpint(arc->kind, ==, HF_CURVE_ARC);
      near(hf_curve_radius(arc), r, 0.002);
      near(fabs(arc->c0.x), apart, 1e-9);
    }
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/trace/plate", test_plate);
  g_test_add_func("/trace/no-sources", test_no_sources);
  g_test_add_func("/trace/true-plate", test_true_plate);
  g_test_add_func("/trace/random", test_random);
  g_test_add_func("/trace/curves-again", test_curves_again);
  return g_test_run();
}
