/* SPDX-License-Identifier: GPL-3.0-or-later
 * Outlines and regions against closed forms of plane geometry.
 */
#include "geom/apart.h"
#include "geom/hull.h"
#include "geom/index.h"
#include "geom/overlay-private.h"
#include "geom/rings-private.h"
#include "geom/row.h"

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

static HfRegion *
region_of(const HfOutline *outline)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, HF_FLATTEN_MM);
  return hf_region_clean(raw);
}

static HfRegion *
box_region(double x0, double y0, double x1, double y1)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{x0, y0}, {x1, y1}}, 0);
  return region_of(outline);
}

/* area pi r^2; an arc's box touches its quarter points */
static void
test_circle(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(10, 20), 50);
  near(hf_outline_area(outline), G_PI * 2500, 1e-9);
  HfBox box = hf_outline_box(outline);
  near(box.min.x, -40, 1e-9);
  near(box.max.y, 70, 1e-9);
  g_autoptr(HfRegion) region = region_of(outline);
  near(hf_region_area(region), G_PI * 2500, 2 * G_PI * 50 * 0.005);
  HfPoint c = hf_region_centroid(region);
  near(c.x, 10, 1e-3);
  near(c.y, 20, 1e-3);
  hf_outline_reverse(outline);
  near(hf_outline_area(outline), -G_PI * 2500, 1e-9);
  g_autoptr(HfRegion) other_way = region_of(outline); /* non-zero: either winding */
  near(hf_region_area(other_way), hf_region_area(region), 1e-3);
}

/* an ellipse from a scaled circle: area pi a b */
static void
test_scaled_circle(void)
{
  g_autoptr(HfOutline) circle = hf_outline_new(), ellipse = hf_outline_new();
  hf_outline_add_circle(circle, hf_point(0, 0), 1);
  hf_outline_append(ellipse, circle, hf_matrix_scale(300, 100));
  near(hf_outline_area(ellipse), G_PI * 30000, 0.01);
  for (guint i = 0; i < ellipse->curves->len; i++)
    for (double t = 0; t < 1; t += 0.1) {
      HfPoint p = hf_curve_point(&g_array_index(ellipse->curves, HfCurve, i), t);
      near(hypot(p.x / 300, p.y / 100), 1, 1e-6);
    }
}

/* every chord within 5 um of its curve, every vertex within a grid unit */
static void
test_flatten(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_begin(outline, hf_point(0, 0));
  hf_outline_cubic_to(outline, hf_point(30, 90), hf_point(-40, 80), hf_point(50, 10));
  hf_outline_quad_to(outline, hf_point(25, -60), hf_point(0, 0));
  hf_outline_close(outline);
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 7, HF_FLATTEN_MM);
  const HfRing *ring = hf_region_ring(raw, 0);
  for (guint i = 0; i < ring->n; i++) {
    HfPoint a = hf_grid_point(ring->at[i]), b = hf_grid_point(ring->at[(i + 1) % ring->n]);
    const HfCurve *curve = &g_array_index(outline->curves, HfCurve, ring->from[i].curve);
    g_assert_cmpuint(ring->from[i].shape, ==, 7);
    for (double s = 0; s <= 1; s += 0.125) {
      double t = ring->from[i].t0 + (ring->from[i].t1 - ring->from[i].t0) * s;
      HfPoint p = hf_curve_point(curve, t);
      g_assert_cmpfloat(hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)), <=, HF_FLATTEN_MM);
    }
  }
}

static void
test_booleans(void)
{
  g_autoptr(HfRegion) a = box_region(0, 0, 10, 10), b = box_region(5, 5, 15, 15);
  const HfRegion *both[] = {a, b};
  g_autoptr(HfRegion) sum = hf_region_union(both, 2), rest = hf_region_subtract(a, b),
                      common = hf_region_intersect(a, b);
  near(hf_region_area(sum), 175, 1e-9);
  near(hf_region_area(rest), 75, 1e-9);
  near(hf_region_area(common), 25, 1e-9);
  g_assert_true(hf_region_is_valid(sum, NULL));
  g_autoptr(HfRegion) window = box_region(7, 7, 8, 8);
  g_autoptr(HfRegion) frame = hf_region_subtract(sum, window);
  g_assert_cmpuint(frame->rings->len, ==, 2);
  g_assert_cmpint(hf_region_ring(frame, 1)->parent, ==, 0);
  g_assert_true(hf_region_contains(frame, hf_point(6, 6)));
  g_assert_false(hf_region_contains(frame, hf_point(7.5, 7.5)));
}

/* two squares that share a corner are two rings: a joint at a point is no joint */
static void
test_corner_touch(void)
{
  g_autoptr(HfRegion) a = box_region(0, 0, 10, 10), b = box_region(10, 10, 20, 20);
  const HfRegion *both[] = {a, b};
  g_autoptr(HfRegion) sum = hf_region_union(both, 2);
  g_assert_cmpuint(sum->rings->len, ==, 2);
  g_assert_cmpint(hf_region_ring(sum, 0)->parent, ==, -1);
  g_assert_cmpint(hf_region_ring(sum, 1)->parent, ==, -1);
  g_assert_true(hf_region_is_valid(sum, NULL));
}

/* an outline that overlaps itself: the non-zero rule counts it once */
static void
test_self_overlap(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{0, 0}, {10, 6}}, 0);
  hf_outline_add_rectangle(outline, (HfBox){{6, 2}, {14, 10}}, 0);
  g_autoptr(HfRegion) region = region_of(outline);
  near(hf_region_area(region), 60 + 64 - 16, 1e-9);
}

/* convex polygon grown by r: A + P r + pi r^2 (Steiner) */
static void
test_offset(void)
{
  g_autoptr(HfRegion) box = box_region(0, 0, 40, 30);
  g_autoptr(HfRegion) grown = hf_region_offset(box, 5, 0.005);
  near(hf_region_area(grown), 1200 + 140 * 5 + G_PI * 25, 2 * G_PI * 5 * 0.005);
  g_autoptr(HfRegion) shrunk = hf_region_offset(box, -5, 0.005);
  near(hf_region_area(shrunk), 30 * 20, 1e-6);
  g_autoptr(HfRegion) gone = hf_region_offset(box, -16, 0.005);
  g_assert_true(hf_region_is_empty(gone));
}

static void
test_index(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  g_autoptr(GRand) rand = g_rand_new_with_seed(7);
  for (int i = 0; i < 60; i++)
    hf_outline_add_circle(
        outline, hf_point(g_rand_double_range(rand, 0, 300), g_rand_double_range(rand, 0, 80)),
        g_rand_double_range(rand, 0.5, 9));
  g_autoptr(HfRegion) region = region_of(outline);
  g_assert_true(hf_region_is_valid(region, NULL));
  g_autoptr(HfIndex) index = hf_index_new(region, 3);
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (int q = 0; q < 300; q++) {
    HfPoint p = {g_rand_double_range(rand, 0, 300), g_rand_double_range(rand, 0, 80)};
    HfBox box = hf_box_grow((HfBox){p, p}, g_rand_double_range(rand, 0, 8));
    hf_index_query(index, box, ids);
    g_autoptr(GHashTable) got = g_hash_table_new(NULL, NULL);
    for (guint i = 0; i < ids->len; i++) {
      HfEdgeId id = g_array_index(ids, HfEdgeId, i);
      g_assert_true(g_hash_table_add(got, GUINT_TO_POINTER(id.ring * 100000 + id.vertex)));
    }
    for (guint r = 0; r < region->rings->len; r++)
      for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
        HfEdgeId id = {r, v};
        HfPoint a = hf_edge_start(region, id), b = hf_edge_end(region, id);
        HfPoint at = hf_segment_nearest(a, b, p, NULL);
        if (hf_box_contains(box, at))
          g_assert_true(g_hash_table_contains(got, GUINT_TO_POINTER(r * 100000 + v)));
      }
  }
}

/* Long edges on a slant in small cells: each is found from each of its places. */
static void
test_index_slanted(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(12);
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (int round = 0; round < 20; round++) {
    g_autoptr(HfRegion) region = hf_region_new();
    for (int r = 0; r < 60; r++) {
      HfGrid at[3];
      for (int v = 0; v < 3; v++)
        at[v] = (HfGrid){g_rand_int_range(rand, -900000, 900000) * (r % 7 != 0),
                         g_rand_int_range(rand, -200000, 200000)};
      hf_region_add_ring(region, at, NULL, 3);
    }
    g_autoptr(HfIndex) index = hf_index_new(region, round == 0 ? 0.2 : hf_index_cell(region));
    for (int q = 0; q < 2000; q++) {
      HfEdgeId id = {g_rand_int_range(rand, 0, 60), g_rand_int_range(rand, 0, 3)};
      HfPoint p = hf_point_mix(hf_edge_start(region, id), hf_edge_end(region, id),
                               g_rand_double_range(rand, 0, 1));
      gboolean found = FALSE;
      hf_index_query(index, (HfBox){p, p}, ids);
      for (guint i = 0; i < ids->len; i++) {
        HfEdgeId one = g_array_index(ids, HfEdgeId, i);
        found |= one.ring == id.ring && one.vertex == id.vertex;
      }
      g_assert_true(found);
    }
  }
}

/* Most are small, each third reaches over many cells. */
static HfRegion *
triangles_new(GRand *rand, int n)
{
  HfRegion *region = hf_region_new();
  for (int r = 0; r < n; r++) {
    HfGrid at[3], o = {g_rand_int_range(rand, 0, 900000), g_rand_int_range(rand, 0, 200000)};
    gint32 size = r % 3 == 0 ? 300000 : 6000;
    for (int v = 0; v < 3; v++)
      at[v] =
          (HfGrid){o.x + g_rand_int_range(rand, 0, size), o.y + g_rand_int_range(rand, 0, size)};
    hf_region_add_ring(region, at, NULL, 3);
  }
  return region;
}

/* Two edges of different rings no farther apart than the reach have a cell in common, long slanted
 * ones as well; numbers say what ids do. */
static void
test_index_reaching(void)
{
  enum { RINGS = 40, EDGES = 3 * RINGS };
  g_autoptr(GRand) rand = g_rand_new_with_seed(31);
  g_autoptr(HfRegion) region = triangles_new(rand, RINGS);
  const double reach = 0.4;
  g_autoptr(HfIndex) index = hf_index_new_reaching(region, 1, reach);
  gboolean together[EDGES][EDGES] = {{FALSE}};
  HfEdgeId ids[EDGES];
  for (guint c = 0; c < hf_index_n_cells(index); c++) {
    guint n = hf_index_cell_of_rings(index, c, NULL);
    g_assert_cmpuint(n, ==, hf_index_cell_of_rings(index, c, ids));
    for (guint i = 0; i < n * n; i++)
      together[3 * ids[i / n].ring + ids[i / n].vertex][3 * ids[i % n].ring + ids[i % n].vertex] =
          TRUE;
  }
  g_autoptr(GArray) numbers = g_array_new(FALSE, FALSE, sizeof(guint));
  g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint e = 0; e < EDGES; e++) {
    HfPoint a = hf_edge_start(region, (HfEdgeId){e / 3, e % 3});
    HfPoint b = hf_edge_end(region, (HfEdgeId){e / 3, e % 3});
    for (guint f = 0; f < EDGES; f++) {
      HfEdgeId other = {f / 3, f % 3};
      double gap = hf_segment_gap(a, b, hf_edge_start(region, other), hf_edge_end(region, other),
                                  NULL, NULL);
      g_assert_true(e / 3 == f / 3 || gap > reach || together[e][f]);
    }
    HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
    hf_index_query(index, box, found);
    hf_index_query_numbers(index, box, numbers);
    g_assert_cmpuint(found->len, ==, numbers->len);
    for (guint i = 0; i < found->len; i++) {
      HfEdgeId id = g_array_index(found, HfEdgeId, i);
      g_assert_cmpuint(3 * id.ring + id.vertex, ==, g_array_index(numbers, guint, i));
    }
  }
}

static gboolean
is_even(guint cell, gconstpointer data)
{
  (*(guint *)(gpointer)data)++;
  return cell % 2 == 0;
}

/* Where only even cells are wanted an edge is given exactly when it stands in one of them. */
static void
test_index_cells(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(11);
  g_autoptr(HfRegion) region = triangles_new(rand, 40);
  g_autoptr(HfIndex) index = hf_index_new(region, 3);
  g_autoptr(GArray) some = g_array_new(FALSE, FALSE, sizeof(guint));
  guint asked = 0, n, edges = hf_region_n_edges(region);
  hf_index_query_cells(index, hf_region_box(region), is_even, &asked, some);
  g_autofree gboolean *even = g_new0(gboolean, edges), *given = g_new0(gboolean, edges);
  for (guint cell = 0; cell < hf_index_n_cells(index); cell++) {
    const guint *numbers = hf_index_cell_numbers(index, cell, &n);
    for (guint i = 0; i < n && cell % 2 == 0; i++)
      even[numbers[i]] = TRUE;
  }
  for (guint i = 0; i < some->len; i++) {
    g_assert_false(given[g_array_index(some, guint, i)]);
    given[g_array_index(some, guint, i)] = TRUE;
  }
  g_assert_cmpmem(even, edges * sizeof *even, given, edges * sizeof *given);
  g_assert_cmpuint(asked, >, 0);
  g_assert_cmpuint(some->len, <, edges);
}

/* Units of work of a union of @n polygons, each further turned or further along than the last. */
static guint
work_of_union(guint n, double turn, double along)
{
  g_autoptr(GPtrArray) shapes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < n; i++) {
    HfRegion *shape = hf_region_new();
    HfGrid at[60];
    for (guint k = 0; k < G_N_ELEMENTS(at); k++)
      at[k] = hf_grid_snap(hf_point_polar(hf_point(along * i, 0), 20, turn * i + G_PI * k / 30));
    hf_region_add_ring(shape, at, NULL, G_N_ELEMENTS(at));
    g_ptr_array_add(shapes, shape);
  }
  HfCancel counted = {0};
  g_autoptr(HfRegion) all =
      hf_region_union_until((const HfRegion *const *)shapes->pdata, n, &counted);
  g_assert_nonnull(all);
  return hf_cancel_work(&counted);
}

/* Each crosses each: the work grows with the square, and is counted so. Apart it is none. */
static void
test_crossings_counted(void)
{
  guint few = work_of_union(60, 0.001, 0), many = work_of_union(120, 0.001, 0);
  g_assert_cmpuint(few, >, 60);
  g_assert_cmpuint(many, >, 3 * few);
  g_assert_cmpuint(work_of_union(120, 0, 50), <, few);
}

/* A clean region: a few turned squares, rings and what they cut off each other. */
static HfRegion *
some_squares(GRand *rand, guint n, double size)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  for (guint i = 0; i < n; i++) {
    g_autoptr(HfOutline) outline = hf_outline_new();
    HfPoint at = {g_rand_int_range(rand, 0, 40) * size / 40,
                  g_rand_int_range(rand, 0, 40) * size / 40};
    double r = size * g_rand_double_range(rand, 0.01, 0.3);
    int corners = g_rand_int_range(rand, 3, 9);
    g_autofree HfPoint *p = g_new(HfPoint, (guint)corners);
    for (int k = 0; k < corners; k++)
      p[k] = hf_point_polar(at, r * (k % 2 == 0 ? 1 : 0.6), 2 * G_PI * k / corners);
    hf_outline_add_polygon(outline, p, (guint)corners);
    hf_region_flatten(raw, outline, i, HF_FLATTEN_MM);
  }
  return hf_region_clean(raw);
}

static HfRegion *
all_at_once(const HfOverlay *overlay)
{
  HfRegion *result = hf_region_new();
  g_assert_true(hf_clip(overlay->kind, overlay->subject, overlay->n_subject, overlay->clip,
                        overlay->n_clip, result));
  hf_rings_settle(result);
  return result;
}

/* Piece by piece comes to the same as all at once: nested, apart, touching, crossing. */
static void
test_overlay(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(9);
  for (int round = 0; round < 60; round++) {
    double size = round % 3 == 0 ? 400 : 60;
    g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
    for (guint i = 0; i < 9; i++) {
      g_autoptr(HfRegion) from = some_squares(rand, 4, size);
      g_autoptr(HfRegion) hole = some_squares(rand, 6, size);
      g_ptr_array_add(parts, hf_region_subtract(from, hole));
    }
    HfClipKind kind = (HfClipKind)(round % 3);
    const HfRegion *const *all = (const HfRegion *const *)parts->pdata;
    HfOverlay overlay = {kind, all, 6, all + 6, 3};
    g_autoptr(HfRegion) expected = all_at_once(&overlay);
    g_autoptr(HfRegion) got = hf_region_new();
    g_assert_true(hf_overlay_run(&overlay, got, NULL));
    hf_rings_settle(got);
    g_assert_true(hf_region_repair(got) && hf_region_is_valid(got, NULL));
    g_autoptr(HfRegion) less = hf_region_subtract(expected, got);
    g_autoptr(HfRegion) more = hf_region_subtract(got, expected);
    double dust = 0.002 * (hf_region_perimeter(expected) + 1); /* crossings are rounded */
    g_assert_cmpfloat(hf_region_area(less) + hf_region_area(more), <, dust);
    g_assert_cmpfloat(fabs(hf_region_area(expected) - hf_region_area(got)), <, dust);
  }
}

/* Thousands of rings within each other and side by side: parents as by comparing all. */
static void
test_nesting(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  for (int i = 0; i < 40; i++)
    for (int k = 0; k < 12; k++)
      hf_outline_add_circle(outline, hf_point(i * 30, i % 7), 1 + k);
  g_autoptr(HfRegion) region = hf_region_new();
  hf_region_flatten(region, outline, 0, 0.05);
  for (guint r = 1; r < region->rings->len; r += 2) { /* every other one is an opening */
    HfRing *ring = hf_region_ring(region, r);
    for (guint i = 0, j = ring->n - 1; i < j; i++, j--) {
      HfGrid low = ring->at[i];
      ring->at[i] = ring->at[j];
      ring->at[j] = low;
    }
  }
  for (guint r = 0; r + 1 < region->rings->len; r += 2) { /* the wider of two is the outer one */
    HfRing *inner = hf_region_ring(region, r), *outer = hf_region_ring(region, r + 1);
    for (HfRing *ring = inner; ring <= outer; ring++)
      for (guint i = 0, j = ring->n - 1; i < j; i++, j--) {
        HfGrid low = ring->at[i];
        ring->at[i] = ring->at[j];
        ring->at[j] = low;
      }
  }
  hf_rings_nest(region);
  for (guint r = 0; r < region->rings->len; r++)
    g_assert_cmpint(hf_region_ring(region, r)->parent, ==, r % 2 == 0 ? (int)r + 1 : -1);
}

/* A hull by its definition: it has all the points, its corners are some of them, it turns left. */
static void
test_hull(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(11);
  for (guint run = 0; run < 60; run++) {
    HfGrid at[40];
    guint n = (guint)g_rand_int_range(rand, 3, 41);
    for (guint i = 0; i < n; i++)
      at[i] =
          (HfGrid){g_rand_int_range(rand, -9, 10) * 10000, g_rand_int_range(rand, -9, 10) * 10000};
    g_autoptr(HfRegion) hull = hf_hull_of(at, n);
    if (hf_region_is_empty(hull))
      continue;
    const HfRing *ring = hf_region_ring(hull, 0);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
      HfPoint way = hf_point_sub(b, a);
      gboolean given = FALSE;
      for (guint i = 0; i < n; i++) {
        given |= hf_grid_equal(at[i], ring->at[v]);
        g_assert_cmpfloat(hf_point_cross(way, hf_point_sub(hf_grid_point(at[i]), a)), >=, 0);
      }
      HfPoint next = hf_grid_point(ring->at[(v + 2) % ring->n]);
      g_assert_true(given);
      g_assert_cmpfloat(hf_point_cross(way, hf_point_sub(next, b)), >, 0);
    }
  }
  const HfGrid in_line[] = {{0, 0}, {10000, 10000}, {30000, 30000}};
  g_autoptr(HfRegion) none = hf_hull_of(in_line, 3), nothing = hf_hull_of(NULL, 0);
  g_assert_true(hf_region_is_empty(none));
  g_assert_true(hf_region_is_empty(nothing));
}

/* Against the boolean: what a polygon has in a convex one is some area, or it is not reached. */
static void
test_hull_is_reached(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(12);
  guint reached = 0, apart = 0;
  for (guint run = 0; run < 400; run++) {
    g_autoptr(HfRegion) raw = hf_region_new();
    HfGrid at[8], other[3];
    for (guint i = 0; i < 8; i++)
      at[i] = (HfGrid){g_rand_int_range(rand, 0, 400000), g_rand_int_range(rand, 0, 400000)};
    HfGrid by = {g_rand_int_range(rand, -400000, 400000), g_rand_int_range(rand, -400000, 400000)};
    for (guint i = 0; i < 3; i++)
      other[i] = (HfGrid){by.x + g_rand_int_range(rand, 0, 900000),
                          by.y + g_rand_int_range(rand, 0, 900000)};
    hf_region_add_ring(raw, other, NULL, 3);
    g_autoptr(HfRegion) hull = hf_hull_of(at, 8), region = hf_region_clean(raw);
    g_autoptr(HfRegion) both = hf_region_intersect(hull, region);
    gboolean meets = hf_region_area(both) > 0;
    reached += meets;
    apart += !meets;
    g_assert_cmpint(hf_hull_is_reached(hf_region_ring(hull, 0), raw, 0), ==, meets);
    g_assert_true(!meets || hf_hull_is_reached(hf_region_ring(hull, 0), raw, 1));
  }
  g_assert_cmpuint(reached, >, 100);
  g_assert_cmpuint(apart, >, 100);
}

/* Squares in squares, crossing: each place of a row as a walk along all edges finds it. */
static void
test_row(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(21);
  guint count[3] = {0};
  for (guint run = 0; run < 100; run++) {
    g_autoptr(HfRegion) raw = hf_region_new();
    for (guint i = 0; i < 12; i++) {
      gint32 x = g_rand_int_range(rand, 0, 300000), y = g_rand_int_range(rand, 0, 300000);
      gint32 w = g_rand_int_range(rand, 1000, 300000), h = g_rand_int_range(rand, 1000, 300000);
      gint32 lean = g_rand_int_range(rand, -50000, 50000);
      HfGrid at[] = {{x, y}, {x + w, y}, {x + w + lean, y + h}, {x + lean, y + h}};
      HfGrid turned[] = {at[3], at[2], at[1], at[0]};
      hf_region_add_ring(raw, i % 3 == 2 ? turned : at, NULL, 4);
    }
    g_autoptr(HfRegion) region = hf_region_clean(raw);
    HfBox box = hf_box_grow(hf_region_box(region), 1);
    double y = g_rand_double_range(rand, box.min.y, box.max.y);
    g_autoptr(GArray) row = hf_row_of(region, y);
    for (guint i = 0; i < 50; i++) {
      double x = g_rand_double_range(rand, box.min.x, box.max.x);
      gboolean about = FALSE;
      for (guint r = 0; r < region->rings->len; r++)
        about |= hf_region_ring(region, r)->parent < 0 &&
                 hf_ring_holds(hf_region_ring(region, r), hf_point(x, y));
      HfWhere where = hf_row_where(row, x);
      count[where]++;
      g_assert_cmpint(where == HF_IN_METAL, ==, hf_region_contains(region, hf_point(x, y)));
      g_assert_cmpint(where != HF_IN_OPEN, ==, about);
    }
  }
  for (guint i = 0; i < G_N_ELEMENTS(count); i++)
    g_assert_cmpuint(count[i], >, 50);
}

/* ---- apart --------------------------------------------------------------------------------- */

static void
assert_blocked(const HfRegion *moving, const HfRegion *fixed, HfPoint way, const double *ends,
               guint n)
{
  g_autoptr(GArray) blocked = hf_apart_blocked(moving, fixed, way);
  g_assert_cmpuint(blocked->len, ==, n);
  for (guint i = 0; i < n; i++) {
    near(g_array_index(blocked, HfBlocked, i).from, ends[2 * i], 2e-4);
    near(g_array_index(blocked, HfBlocked, i).to, ends[2 * i + 1], 2e-4);
  }
}

/* Boxes by their ends; a circle past a corner by Pythagoras; into a window and out of it again. */
static void
test_apart(void)
{
  g_autoptr(HfRegion) own = box_region(0, 0, 10, 10), other = box_region(30, 5, 50, 8);
  assert_blocked(own, other, hf_point(1, 0), (const double[]){20, 50}, 1);
  assert_blocked(own, other, hf_point(-1, 0), (const double[]){-50, -20}, 1);
  assert_blocked(own, other, hf_point(0, 1), NULL, 0);
  g_autoptr(HfRegion) on = box_region(30, 10, 50, 20); /* a touch */
  assert_blocked(own, on, hf_point(1, 0), NULL, 0);

  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(0, 0), 5);
  g_autoptr(HfRegion) circle = region_of(outline), corner = box_region(20, 3, 40, 30);
  g_autoptr(GArray) past = hf_apart_blocked(circle, corner, hf_point(1, 0));
  near(g_array_index(past, HfBlocked, 0).from, 20 - sqrt(25 - 9), 0.01);
  near(g_array_index(past, HfBlocked, 0).to, 40 + sqrt(25 - 9), 0.01);

  g_autoptr(HfRegion) whole = box_region(20, -20, 60, 20), hole = box_region(25, -15, 55, 15);
  g_autoptr(HfRegion) frame = hf_region_subtract(whole, hole), bead = box_region(-2, -2, 2, 2);
  assert_blocked(bead, frame, hf_point(1, 0), (const double[]){18, 27, 53, 62}, 2);
  g_autoptr(GArray) blocked = hf_apart_blocked(bead, frame, hf_point(1, 0));
  near(hf_apart_from(blocked, 0), 0, 1e-9);
  near(hf_apart_from(blocked, 20), 27, 2e-4);
  near(hf_apart_from(blocked, 60), 62, 2e-4);
  double aslant = 1 / sqrt(2);
  g_autoptr(HfRegion) far = box_region(10, 10, 20, 20);
  assert_blocked(bead, far, hf_point(aslant, aslant), (const double[]){8 / aslant, 22 / aslant}, 1);
}

/* ---- windows --------------------------------------------------------------------------------- */

/* Bars and holes anyhow, cleaned: long ways within the window and beyond each of its sides. */
static HfRegion *
some_metal(GRand *rand)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  gint n = g_rand_int_range(rand, 1, 30);
  for (gint i = 0; i < n; i++) {
    HfGrid at[7];
    guint corners = (guint)g_rand_int_range(rand, 3, 8);
    for (guint k = 0; k < corners; k++)
      at[k] = hf_grid_snap(
          hf_point(g_rand_double_range(rand, -60, 60), g_rand_double_range(rand, -60, 60)));
    hf_region_add_ring(raw, at, NULL, corners);
  }
  g_autoptr(HfRegion) some = hf_region_clean(raw);
  g_autoptr(HfRegion) thin = hf_region_offset(some, -0.8, 0.01);
  return hf_region_subtract(some, thin);
}

/* Is there nothing of @a without @b but the grid's own slivers? */
static gboolean
is_all_in(const HfRegion *a, const HfRegion *b)
{
  g_autoptr(HfRegion) more = hf_region_subtract(a, b);
  g_autoptr(HfRegion) thick = hf_region_offset(more, -2.0 / HF_GRID_PER_MM, 0.01);
  return hf_region_is_empty(thick);
}

/* The same as by one boolean of all the metal, which a window must not change; but for a unit of
 * the grid: a corner where many ways cross is snapped with what else passes it. */
static void
test_window(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(43);
  for (int i = 0; i < 60; i++) {
    g_autoptr(HfRegion) metal = some_metal(rand);
    HfPoint at = hf_point(g_rand_double_range(rand, -60, 60), g_rand_double_range(rand, -60, 60));
    HfBox box = hf_box_grow(hf_box_add_point(HF_BOX_EMPTY, at), g_rand_double_range(rand, 0.5, 30));
    g_autoptr(HfOutline) outline = hf_outline_new();
    hf_outline_add_rectangle(outline, box, 0);
    g_autoptr(HfRegion) window = hf_region_of_outline(outline, 0, 0.01);
    g_autoptr(HfRegion) wanted = hf_region_intersect(metal, window);
    g_autoptr(HfRegion) got = hf_region_within(metal, box);
    double sliver = 2.0 / HF_GRID_PER_MM * (1 + hf_region_perimeter(wanted));
    g_assert_cmpfloat_with_epsilon(hf_region_area(got), hf_region_area(wanted), sliver);
    g_assert_true(is_all_in(got, wanted) && is_all_in(wanted, got));
  }
}

/* Against asking each ring: which rings hold a point, by rays either way. */
static void
test_index_round(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(47);
  for (int i = 0; i < 20; i++) {
    g_autoptr(HfRegion) metal = some_metal(rand);
    g_autoptr(HfIndex) index = hf_index_new(metal, 3);
    g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
    for (int k = 0; k < 100; k++) {
      HfPoint p = hf_point(g_rand_double_range(rand, -60, 60), g_rand_double_range(rand, -60, 60));
      guint next = 0;
      hf_index_round(index, p, k % 2 == 0, ids);
      for (guint r = 0; r < metal->rings->len; r++)
        if (hf_ring_holds(hf_region_ring(metal, r), p)) {
          g_assert_cmpuint(next, <, ids->len);
          g_assert_cmpuint(g_array_index(ids, HfEdgeId, next++).ring, ==, r);
        }
      g_assert_cmpuint(next, ==, ids->len);
    }
  }
}

/* A circle's segment, r^2 (s - sin s) / 2, under a chord: the end lies a micrometre beside a circle
 * of a kilometre, which must not count with that kilometre. */
static void
test_area_of_flat_arcs(void)
{
  for (int k = -1; k <= 1; k++) {
    double r = 1e6, s = 1e-4, off = k * 1e-3;
    HfPoint centre = {0, -r};
    g_autoptr(HfOutline) outline = hf_outline_new();
    HfPoint from = hf_point_polar(centre, r, G_PI / 2 - s / 2);
    HfPoint to = hf_point_polar(centre, r + off, G_PI / 2 + s / 2);
    hf_outline_begin(outline, from);
    hf_outline_arc_to(outline, centre, s, to);
    hf_outline_close(outline);
    double segment = r * r * s * s * s / 12; /* s - sin s is s^3 / 6 here */
    g_assert_cmpfloat_with_epsilon(hf_outline_area(outline), segment, 0.01);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/geom/circle", test_circle);
  g_test_add_func("/geom/scaled-circle", test_scaled_circle);
  g_test_add_func("/geom/flatten", test_flatten);
  g_test_add_func("/geom/booleans", test_booleans);
  g_test_add_func("/geom/corner-touch", test_corner_touch);
  g_test_add_func("/geom/self-overlap", test_self_overlap);
  g_test_add_func("/geom/offset", test_offset);
  g_test_add_func("/geom/index", test_index);
  g_test_add_func("/geom/index-slanted", test_index_slanted);
  g_test_add_func("/geom/index-reaching", test_index_reaching);
  g_test_add_func("/geom/overlay", test_overlay);
  g_test_add_func("/geom/nesting", test_nesting);
  g_test_add_func("/geom/hull", test_hull);
  g_test_add_func("/geom/hull/reached", test_hull_is_reached);
  g_test_add_func("/geom/row", test_row);
  g_test_add_func("/geom/apart", test_apart);
  g_test_add_func("/geom/window", test_window);
  g_test_add_func("/geom/index/round", test_index_round);
  g_test_add_func("/geom/index/cells", test_index_cells);
  g_test_add_func("/geom/overlay/counted", test_crossings_counted);
  g_test_add_func("/geom/area-of-flat-arcs", test_area_of_flat_arcs);
  return g_test_run();
}
