/* SPDX-License-Identifier: GPL-3.0-or-later
 * Shapes to metal: order, names found again, random piles of shapes stay valid.
 */
#include "geom/index.h"
#include "metal/metal.h"

static void
shape_free(gpointer data)
{
  HfShape *shape = data;
  hf_outline_free(shape->outline);
  g_free(shape->label);
  g_free(shape);
}

/* A layout by hand: only what metal/ reads. */
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
add(HfLayout *layout, const char *label, gboolean opening)
{
  HfShape *shape = g_new0(HfShape, 1);
  shape->outline = hf_outline_new();
  shape->label = g_strdup(label);
  shape->opening = opening;
  g_ptr_array_add(layout->shapes, shape);
  return shape->outline;
}

static const char *
edge_label(const HfMetal *metal, const HfLayout *layout, guint ring, guint vertex)
{
  guint32 shape = hf_region_ring(metal->region, ring)->from[vertex].shape;
  return shape == HF_NO_SHAPE ? NULL : hf_layout_shape(layout, shape)->label;
}

/* A corner of the right one lies 0.3 um off the edge of the left one: one ring, 80 x 60 + 50 x 33.
 */
static void
test_meets(void)
{
  HfLayout *layout = layout_new();
  hf_outline_add_rectangle(add(layout, "left", FALSE), (HfBox){{-80, -30}, {0, 30}}, 0);
  hf_outline_add_rectangle(add(layout, "right", FALSE), (HfBox){{0.0003, -10}, {50, 23}}, 0);
  hf_outline_add_rectangle(add(layout, "apart", FALSE), (HfBox){{-80, 30.002}, {0, 50}}, 0);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(metal->region->rings->len, ==, 2);
  g_assert_cmpfloat_with_epsilon(hf_region_area(metal->region), 4800 + 1650 + 80 * 19.998, 0.05);
  g_assert_cmpuint(metal->meetings->len, ==, 1);
  const HfMeeting *one = &g_array_index(metal->meetings, HfMeeting, 0);
  g_assert_true(one->a == 0 && one->b == 1);
  g_assert_cmpfloat_with_epsilon(one->length, 33, 1e-3);
  layout_free(layout);
}

/* Squares of 10 mm edge to edge, 5 by 5 without the middle one: one ring and one opening, each an
 * exact square. One lies over two others, and counts once. */
static void
test_merges(void)
{
  HfLayout *layout = layout_new();
  for (int i = 0; i < 25; i++) {
    HfPoint low = {10 * (i % 5), 10 * (i / 5)};
    if (i != 12)
      hf_outline_add_rectangle(add(layout, "square", FALSE),
                               (HfBox){low, hf_point_add(low, hf_point(10, 10))}, 0);
  }
  hf_outline_add_rectangle(add(layout, "over", FALSE), (HfBox){{5, 0}, {15, 10}}, 0);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
  g_assert_no_error(error);
  g_assert_true(hf_region_is_valid(metal->region, NULL));
  g_assert_cmpuint(metal->region->rings->len, ==, 2);
  g_assert_cmpfloat_with_epsilon(hf_region_area(metal->region), 2400, 1e-9);
  g_assert_cmpfloat_with_epsilon(hf_region_perimeter(metal->region), 240, 1e-9);
  layout_free(layout);
}

static void
test_order(void)
{
  HfLayout *layout = layout_new();
  hf_outline_add_rectangle(add(layout, "plate", FALSE), (HfBox){{0, 0}, {100, 50}}, 0);
  hf_outline_add_circle(add(layout, "hole", TRUE), hf_point(50, 25), 10);
  hf_outline_add_rectangle(add(layout, "bar", FALSE), (HfBox){{0, 20}, {100, 30}}, 0);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
  g_assert_no_error(error);
  /* two openings left, above and below the bar: segments of a circle r 10 cut at distance 5 */
  double segment = 100 * acos(0.5) - 5 * sqrt(75);
  g_assert_cmpuint(metal->region->rings->len, ==, 3);
  g_assert_cmpfloat_with_epsilon(hf_region_area(metal->region), 5000 - 2 * segment, 0.25);
  for (guint r = 0; r < 3; r++)
    for (guint v = 0; v < hf_region_ring(metal->region, r)->n; v++) {
      HfEdgeId id = {r, v};
      HfPoint p =
          hf_point_mix(hf_edge_start(metal->region, id), hf_edge_end(metal->region, id), 0.5);
      gboolean inner = fabs(p.x - 50) < 10.001 && fabs(p.y - 25) < 10.001;
      const char *label = inner                    ? (fabs(p.y - 25) < 5.0001 ? "bar" : "hole")
                          : fabs(p.y - 25) < 5.001 ? "bar"
                                                   : "plate";
      if (!(fabs(p.x) < 1e-6 || fabs(p.x - 100) < 1e-6)) /* the ends are in line: either name */
        g_assert_cmpstr(edge_label(metal, layout, r, v), ==, label);
    }
  layout_free(layout);
}

/* Every edge of a random pile is named, and its source curve passes where the edge is. */
static void
test_random_piles(void)
{
  for (guint seed = 0; seed < 60; seed++) {
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    HfLayout *layout = layout_new();
    for (guint i = 0; i < 40; i++) {
      HfOutline *outline = add(layout, "x", g_rand_double(rand) < 0.3);
      HfPoint c = {g_rand_double_range(rand, 0, 100), g_rand_double_range(rand, 0, 60)};
      double r = g_rand_double_range(rand, 0.2, 15);
      if (g_rand_boolean(rand))
        hf_outline_add_circle(outline, c, r);
      else if (g_rand_boolean(rand)) /* whole millimetres: many coincident edges */
        hf_outline_add_rectangle(
            outline, (HfBox){{rint(c.x), rint(c.y)}, {rint(c.x + r) + 1, rint(c.y + r) + 1}}, 0);
      else {
        hf_outline_begin(outline, c);
        for (guint k = 0; k < 4; k++) /* overlaps itself at will */
          hf_outline_cubic_to(outline, hf_point(c.x + g_rand_double_range(rand, -r, r), c.y),
                              hf_point(c.x, c.y + g_rand_double_range(rand, -r, r)),
                              hf_point(c.x + g_rand_double_range(rand, -r, r),
                                       c.y + g_rand_double_range(rand, -r, r)));
        hf_outline_close(outline);
      }
    }
    g_autoptr(GError) error = NULL;
    g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
    g_assert_no_error(error);
    HfPoint at;
    g_assert_true(hf_region_is_valid(metal->region, &at));
    guint unnamed = 0, edges = 0;
    for (guint r = 0; r < metal->region->rings->len; r++) {
      const HfRing *ring = hf_region_ring(metal->region, r);
      for (guint v = 0; v < ring->n; v++, edges++) {
        HfEdge from = ring->from[v];
        if (from.shape == HF_NO_SHAPE) {
          unnamed++;
          continue;
        }
        const HfOutline *outline = hf_layout_shape(layout, from.shape)->outline;
        const HfCurve *curve = &g_array_index(outline->curves, HfCurve, from.curve);
        HfEdgeId id = {r, v};
        HfPoint a = hf_edge_start(metal->region, id), b = hf_edge_end(metal->region, id);
        HfPoint p = hf_curve_point(curve, (from.t0 + from.t1) / 2);
        g_assert_cmpfloat(hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)), <, 0.012);
      }
    }
    g_assert_cmpuint(edges, >, 100);
    g_assert_cmpuint(unnamed, ==, 0);
    layout_free(layout);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/metal/order", test_order);
  g_test_add_func("/metal/meets", test_meets);
  g_test_add_func("/metal/merges", test_merges);
  g_test_add_func("/metal/random-piles", test_random_piles);
  return g_test_run();
}
