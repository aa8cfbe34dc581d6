/* SPDX-License-Identifier: GPL-3.0-or-later
 * The medial axis and the largest inscribed circle against closed forms of plane geometry, and
 * against the polygon yardsticks (HOLDFAST_YARDSTICKS: polygons/values.csv there names sources).
 */
#include "geom/axis.h"
#include <json-glib/json-glib.h>
#include <stdlib.h>

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

static HfRegion *
region_of(const HfOutline *outline)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, HF_FLATTEN_MM);
  return hf_region_clean(raw);
}

static HfRegion *
polygon_region(const HfPoint *points, guint n)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_polygon(outline, points, n);
  return region_of(outline);
}

static const HfAxisPoint *
point_at(const HfAxis *axis, guint i)
{
  return &g_array_index(axis->points, HfAxisPoint, i);
}

static double
edge_length(const HfAxis *axis, const HfAxisEdge *edge)
{
  double length = 0;
  for (guint i = 1; i < edge->n; i++)
    length += hf_point_distance(point_at(axis, edge->first + i - 1)->at,
                                point_at(axis, edge->first + i)->at);
  return length;
}

static double
axis_length(const HfAxis *axis)
{
  double length = 0;
  for (guint e = 0; e < axis->edges->len; e++)
    length += edge_length(axis, &g_array_index(axis->edges, HfAxisEdge, e));
  return length;
}

/* Both feet lie on the circle, on the boundary, and on the sides that they are said to be on. */
static void
assert_feet(const HfAxis *axis)
{
  for (guint e = 0; e < axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, e);
    g_assert_cmpuint(edge->n, >=, 2);
    for (guint i = 0; i < edge->n; i++) {
      const HfAxisPoint *p = point_at(axis, edge->first + i);
      near(hf_point_distance(p->at, p->foot_a), p->radius, 2e-4);
      near(hf_point_distance(p->at, p->foot_b), p->radius, 2e-4);
    }
    const HfAxisPoint *first = point_at(axis, edge->first), *second = first + 1;
    HfPoint way = hf_point_sub(second->at, first->at);
    const HfAxisPoint *p = first->radius > second->radius ? first : second;
    g_assert_cmpfloat(hf_point_cross(way, hf_point_sub(p->foot_a, p->at)), >=, -1e-6);
    g_assert_cmpfloat(hf_point_cross(way, hf_point_sub(p->foot_b, p->at)), <=, 1e-6);
  }
}

/* rectangle a x b: a segment of length a - b and four legs of b / sqrt 2 */
static void
test_rectangle(void)
{
  HfPoint points[] = {{0, 0}, {30, 0}, {30, 10}, {0, 10}};
  g_autoptr(HfRegion) region = polygon_region(points, 4);
  g_autoptr(HfAxis) axis = hf_axis_new(region, NULL, NULL);
  g_assert_cmpuint(axis->edges->len, ==, 5);
  near(axis_length(axis), 20 + 4 * 10 / G_SQRT2, 1e-4);
  assert_feet(axis);
  guint leaves = 0;
  for (guint i = 0; i < axis->nodes->len; i++) {
    const HfAxisNode *node = &g_array_index(axis->nodes, HfAxisNode, i);
    near(node->radius, node->degree == 1 ? 0 : 5, 1e-4);
    leaves += node->degree == 1;
  }
  g_assert_cmpuint(leaves, ==, 4);
}

/* annulus R, r: width R - r everywhere */
static void
test_annulus(void)
{
  g_autoptr(HfOutline) outer = hf_outline_new(), inner = hf_outline_new();
  hf_outline_add_circle(outer, hf_point(3, 4), 60);
  hf_outline_add_circle(inner, hf_point(3, 4), 55);
  g_autoptr(HfRegion) a = region_of(outer), b = region_of(inner);
  g_autoptr(HfRegion) ring = hf_region_subtract(a, b);
  g_autoptr(HfAxis) axis = hf_axis_new(ring, NULL, NULL);
  assert_feet(axis);
  double loop = 0;
  for (guint e = 0; e < axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, e);
    if (edge->site_a.ring == edge->site_b.ring)
      continue; /* a twig into a chord's vertex */
    loop += edge_length(axis, edge);
    for (guint i = 0; i < edge->n; i++)
      near(2 * point_at(axis, edge->first + i)->radius, 5, 2 * HF_FLATTEN_MM);
  }
  near(loop, 2 * G_PI * 57.5, 0.2);
}

/* a vertex over an edge: the axis is the parabola, radius and narrowest place exact */
static void
test_notch(void)
{
  /* a bar 0..40 x 0..10 whose top dips to a point at (20, 4): narrowest width 4 */
  HfPoint points[] = {{0, 0}, {40, 0}, {40, 10}, {21, 10}, {20, 4}, {19, 10}, {0, 10}};
  g_autoptr(HfRegion) region = polygon_region(points, 7);
  g_autoptr(HfAxis) axis = hf_axis_new(region, NULL, NULL);
  assert_feet(axis);
  double narrowest = INFINITY, bend = 0;
  for (guint e = 0; e < axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, e);
    for (guint i = 0; i < edge->n; i++) {
      const HfAxisPoint *p = point_at(axis, edge->first + i);
      if (edge->n > 4) {
        narrowest = fmin(narrowest, p->radius);
        double x = p->at.x - 20, y = x * x / 8 + 2; /* focus (20, 4), directrix y = 0 */
        bend = fmax(bend, fabs(p->at.y - y));
      }
    }
  }
  near(narrowest, 2, 1e-9);
  near(bend, 0, 1e-6);
}

/* Only some edges: exact wherever no other edge is nearer; nothing outside the metal. */
static void
test_some_edges(void)
{
  HfPoint points[] = {{0, 0}, {100, 0}, {100, 30}, {60, 30}, {60, 3}, {55, 3}, {55, 30}, {0, 30}};
  g_autoptr(HfRegion) region = polygon_region(points, 8);
  g_autoptr(GArray) some = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  const HfRing *ring = hf_region_ring(region, 0);
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    HfEdgeId id = {0, v};
    if ((a.y == 0 && b.y == 0) || (a.y == 3 && b.y == 3))
      g_array_append_val(some, id);
  }
  g_assert_cmpuint(some->len, ==, 2);
  g_autoptr(HfAxis) axis = hf_axis_new(region, some, NULL);
  gboolean seen = FALSE;
  for (guint i = 0; i < axis->points->len; i++) {
    const HfAxisPoint *p = point_at(axis, i);
    g_assert_cmpfloat(p->at.y, >, 0);
    if (p->at.x >= 55 && p->at.x <= 60) {
      near(p->radius, 1.5, 1e-9);
      seen = TRUE;
    }
  }
  g_assert_true(seen);
}

/* regular n-gon: R cos(pi / n); right triangle: (a + b - c) / 2; ellipse: b */
static void
test_inscribed(void)
{
  HfPoint gon[7], centre;
  for (int i = 0; i < 7; i++)
    gon[i] = hf_point_polar(hf_point(5, -3), 40, i * 2 * G_PI / 7);
  g_autoptr(HfRegion) seven = polygon_region(gon, 7);
  near(hf_region_inscribed(seven, 0, 1e-3, &centre), 40 * cos(G_PI / 7), 1.1e-3);
  near(hf_point_distance(centre, hf_point(5, -3)), 0, 5e-3);
  HfPoint triangle[] = {{0, 0}, {30, 0}, {0, 40}};
  g_autoptr(HfRegion) right = polygon_region(triangle, 3);
  near(hf_region_inscribed(right, 0, 1e-3, NULL), 10, 1.1e-3);
  g_autoptr(HfOutline) circle = hf_outline_new(), ellipse = hf_outline_new();
  hf_outline_add_circle(circle, hf_point(0, 0), 1);
  hf_outline_append(ellipse, circle, hf_matrix_scale(50, 12));
  g_autoptr(HfRegion) oval = region_of(ellipse);
  near(hf_region_inscribed(oval, 0, 1e-3, NULL), 12, HF_FLATTEN_MM + 1e-3);
  HfPoint outside[120],
      inside[120]; /* a slot of even width: h of two equal n-gons, less each apothem */
  for (int i = 0; i < 120; i++) {
    outside[i] = hf_point_polar(hf_point(0, 0), 260, i * 2 * G_PI / 120);
    inside[i] = hf_point_polar(hf_point(0, 0), 254, i * 2 * G_PI / 120);
  }
  g_autoptr(HfRegion) around = polygon_region(outside, 120), hole = polygon_region(inside, 120),
                      slot = hf_region_subtract(around, hole);
  near(hf_region_inscribed(slot, 0, 1e-3, NULL), 3 * cos(G_PI / 120), 4e-3);
}

static double
depth_at(const HfRegion *region, HfPoint p)
{
  double depth = INFINITY;
  for (guint v = 0; v < hf_region_ring(region, 0)->n; v++) {
    HfEdgeId id = {0, v};
    HfPoint on = hf_segment_nearest(hf_edge_start(region, id), hf_edge_end(region, id), p, NULL);
    depth = fmin(depth, hf_point_distance(on, p));
  }
  return hf_region_contains(region, p) ? depth : -depth;
}

/* Stopped where there is enough, it says the same of what is not. */
static void
test_inscribed_until(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(5);
  for (int i = 0; i < 60; i++) {
    HfPoint star[24];
    for (int v = 0; v < 24; v++)
      star[v] = hf_point_polar(hf_point(0, 0), g_rand_double_range(rand, 4, 30), v * G_PI / 12);
    g_autoptr(HfRegion) region = polygon_region(star, 24);
    HfPoint centre, other;
    double all = hf_region_inscribed(region, 0, 1e-3, &centre);
    for (double share = 0.25; share < 1.5; share += 0.1) {
      double until = hf_region_inscribed_until(region, 0, 1e-3, share * all, &other);
      if (share < 1) {
        g_assert_cmpfloat(until, >=, share * all);
        near(depth_at(region, other), until, 1e-9);
      } else {
        g_assert_true(until == all && other.x == centre.x && other.y == centre.y);
      }
    }
  }
}

static void
add_json_ring(HfRegion *region, JsonArray *points)
{
  guint n = json_array_get_length(points);
  g_autofree HfGrid *at = g_new(HfGrid, n);
  for (guint i = 0; i < n; i++) {
    JsonArray *p = json_array_get_array_element(points, i);
    at[i] = hf_grid_snap(
        hf_point(json_array_get_double_element(p, 0), json_array_get_double_element(p, 1)));
  }
  hf_region_add_ring(region, at, NULL, n);
}

static HfRegion *
read_polygon(const char *folder, const char *file)
{
  static const char *const places[] = {"archive-json", "inscribed-circle"};
  for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
    g_autofree char *path = g_build_filename(folder, places[i], file, NULL);
    g_autoptr(JsonParser) parser = json_parser_new();
    if (!json_parser_load_from_file(parser, path, NULL))
      continue;
    JsonArray *rings = json_node_get_array(json_parser_get_root(parser));
    g_autoptr(HfRegion) outer = hf_region_new(), holes = hf_region_new();
    for (guint r = 0; r < json_array_get_length(rings); r++)
      add_json_ring(r == 0 ? outer : holes, json_array_get_array_element(rings, r));
    g_autoptr(HfRegion) a = hf_region_clean(outer), b = hf_region_clean(holes);
    return hf_region_subtract(a, b);
  }
  return NULL;
}

static guint
largest_outer(const HfRegion *region)
{
  guint best = 0;
  double area = 0;
  for (guint r = 0; r < region->rings->len; r++)
    if (hf_ring_area(hf_region_ring(region, r)) > area) {
      best = r;
      area = hf_ring_area(hf_region_ring(region, r));
    }
  return best;
}

/* The axis reaches the largest circle: its widest node is the inscribed circle. */
static double
widest_node(const HfRegion *region)
{
  g_autoptr(HfAxis) axis = hf_axis_new(region, NULL, NULL);
  assert_feet(axis);
  double widest = 0;
  for (guint i = 0; i < axis->nodes->len; i++)
    widest = fmax(widest, g_array_index(axis->nodes, HfAxisNode, i).radius);
  return widest;
}

static void
check_yardstick(const char *folder, char **row)
{
  g_test_message("%s", row[0]);
  g_autoptr(HfRegion) region = read_polygon(folder, row[0]);
  g_assert_nonnull(region);
  double area = g_ascii_strtod(row[3], NULL), radius = g_ascii_strtod(row[6], NULL);
  gboolean water = g_str_has_prefix(row[0], "water");
  /* the lakes' rings cross themselves: their plain area is not that of the non-zero rule */
  near(hf_region_area(region), area, (water ? 2e-4 : 1e-6) * area + 0.01);
  double accuracy = water ? 0.05 : 1e-4 * radius;
  near(hf_region_inscribed(region, largest_outer(region), accuracy, NULL), radius, 2 * accuracy);
  if (hf_region_is_valid(region, NULL)) /* of the lakes the boolean leaves rings that cross */
    near(widest_node(region), radius, 2 * accuracy);
  else
    g_assert_true(water);
}

static void
test_yardsticks(void)
{
  const char *data = g_getenv("HOLDFAST_YARDSTICKS");
  if (data == NULL) {
    g_test_skip("HOLDFAST_YARDSTICKS is not set");
    return;
  }
  g_autofree char *folder = g_build_filename(data, "polygons", NULL);
  g_autofree char *path = g_build_filename(folder, "values.csv", NULL), *text = NULL;
  g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
  g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
  guint n = 0;
  for (guint i = 1; lines[i] != NULL; i++) {
    g_auto(GStrv) row = g_strsplit(lines[i], ",", -1);
    if (g_strv_length(row) < 9)
      continue;
    check_yardstick(folder, row);
    n++;
  }
  g_assert_cmpuint(n, >=, 20);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/axis/rectangle", test_rectangle);
  g_test_add_func("/axis/annulus", test_annulus);
  g_test_add_func("/axis/notch", test_notch);
  g_test_add_func("/axis/some-edges", test_some_edges);
  g_test_add_func("/axis/inscribed", test_inscribed);
  g_test_add_func("/axis/inscribed-until", test_inscribed_until);
  g_test_add_func("/axis/yardsticks", test_yardsticks);
  return g_test_run();
}
