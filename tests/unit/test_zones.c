/* SPDX-License-Identifier: GPL-3.0-or-later
 * Zones by their invariant (thin/level.c): many branches at one place, a node at exactly the limit,
 * a part that is all under it, smaller limits within larger ones, and the smaller side of a cut
 * against the area of both.
 */
#include "thin/splice.h"
#include "thin/thin-private.h"

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

static HfRegion *
region_of(const HfGrid *at, guint n)
{
  HfRegion *region = hf_region_new();
  hf_region_add_ring(region, at, NULL, n);
  g_assert_true(hf_region_is_valid(region, NULL));
  return region;
}

static HfRegion *
polygon(const HfPoint *p, guint n)
{
  g_autofree HfGrid *at = g_new(HfGrid, n);
  for (guint i = 0; i < n; i++)
    at[i] = hf_grid_snap(p[i]);
  return region_of(at, n);
}

static HfZones *
zones_of(const HfRegion *region, double limit, HfThin **ret_thin)
{
  g_autoptr(HfIndex) index = hf_index_new(region, limit);
  *ret_thin = hf_thin_new_full(region, index, limit);
  return hf_zones_new(*ret_thin, limit);
}

static const HfZone *
zone_at(const HfZones *zones, guint i)
{
  return &g_array_index(zones->zones, HfZone, i);
}

/* Whole numbers with x^2 + y^2 = r^2 for r = 1105 = 5 13 17, which lie evenly enough: the nearest
 * to each of @n directions. */
static void
on_circle(guint n, HfGrid *ret_at)
{
  const gint32 r = 1105;
  for (guint i = 0; i < n; i++) {
    double best = INFINITY;
    for (gint32 x = -r; x <= r; x++) {
      gint32 y = (gint32)lrint(sqrt((double)r * r - (double)x * x));
      if (x * x + y * y != r * r)
        continue;
      for (int side = -1; side <= 1; side += 2) {
        double off = fabs(remainder(atan2(side * y, x) - 2 * G_PI * i / n, 2 * G_PI));
        if (off < best) {
          best = off;
          ret_at[i] = (HfGrid){x, side * y};
        }
      }
    }
  }
}

/* A disc with @n slits whose points lie on one circle about its middle: all its sectors meet there
 * in one node of the axis, and every one widens outward to the limit.
 *        ___ ___
 *      /   \|   \        The mouths beyond the narrowest place were once counted over the first 16
 *     |---- o ---|       branches of such a node: 17 of these 24.
 *      \___/|\__/
 */
static void
test_many_branches(void)
{
  enum { N = 24 };
  HfGrid tip[N], at[3 * N];
  on_circle(N, tip);
  for (guint i = 0; i < N; i++) {
    double angle = atan2(tip[i].y, tip[i].x), half = 0.01;
    tip[i] = (HfGrid){tip[i].x * 10, tip[i].y * 10};
    at[3 * i] = hf_grid_snap(hf_point_polar(hf_point(0, 0), 40, angle - half));
    at[3 * i + 1] = tip[i];
    at[3 * i + 2] = hf_grid_snap(hf_point_polar(hf_point(0, 0), 40, angle + half));
  }
  g_autoptr(HfRegion) region = region_of(at, 3 * N);
  g_autoptr(HfThin) thin = NULL;
  g_autoptr(HfZones) zones = zones_of(region, 3, &thin);
  guint most = 0;
  const HfAxis *axis = hf_thin_axis(thin);
  for (guint i = 0; i < axis->nodes->len; i++)
    most = MAX(most, g_array_index(axis->nodes, HfAxisNode, i).degree);
  g_assert_cmpuint(most, ==, N); /* it is one node indeed */
  g_assert_cmpuint(zones->zones->len, ==, 1);
  const HfZone *zone = zone_at(zones, 0);
  g_assert_true(zone->tree);
  g_assert_cmpuint(zone->mouths, ==, N);
  g_assert_cmpuint(MIN(zone->mouths_a, zone->mouths_b), ==, 1);
  g_assert_cmpuint(zone->mouths_a + zone->mouths_b, ==, N);
  g_assert_cmpstr(hf_zone_form(zone), ==, "neck");
}

/* A bar 1 mm wide between two plates: its axis is one edge from node to node, and the limit
 * decides.
 *    ____________              ____________
 *   |            |____________|            |      At a limit of just 1 mm nothing is under it; a
 *   |            |____________|            |      hair over, all of the bar is.
 *   |____________|            |____________|
 */
static void
test_at_the_limit(void)
{
  const HfPoint p[] = {{-20, -6}, {-5, -6}, {-5, -0.5}, {5, -0.5}, {5, -6}, {20, -6},
                       {20, 6},   {5, 6},   {5, 0.5},   {-5, 0.5}, {-5, 6}, {-20, 6}};
  g_autoptr(HfRegion) region = polygon(p, G_N_ELEMENTS(p));
  g_autoptr(HfThin) at = NULL, over = NULL;
  g_autoptr(HfZones) none = zones_of(region, 1, &at), bar = zones_of(region, 1.001, &over);
  g_assert_cmpuint(none->zones->len, ==, 0);
  g_assert_cmpuint(bar->zones->len, ==, 1);
  const HfZone *zone = zone_at(bar, 0);
  near(zone->width, 1, 1e-4);
  near(zone->length, 10, 0.05);
  g_assert_cmpuint(zone->mouths, ==, 2);
  g_assert_cmpstr(hf_zone_form(zone), ==, "neck");
}

/* A bar that is all under the limit has no mouth: one tree, from corner to corner. 30 by 2: the
 * axis is 28 long and goes into the corners by sqrt 2 at either end. */
static void
test_no_mouth(void)
{
  const HfPoint p[] = {{0, 0}, {30, 0}, {30, 2}, {0, 2}};
  g_autoptr(HfRegion) region = polygon(p, 4);
  g_autoptr(HfThin) thin = NULL;
  g_autoptr(HfZones) zones = zones_of(region, 5, &thin);
  g_assert_cmpuint(zones->zones->len, ==, 1);
  const HfZone *zone = zone_at(zones, 0);
  g_assert_cmpuint(zone->mouths, ==, 0);
  g_assert_true(zone->tree);
  near(zone->width, 2, 1e-4);
  near(zone->length, 28 + 2 * G_SQRT2, 0.01);
}

/* A window in a bar: a way round, so no tree; its length is that of the ring's two webs and ends.
 */
static void
test_way_round(void)
{
  const HfPoint p[] = {{0, 0}, {30, 0}, {30, 10}, {0, 10}};
  const HfPoint q[] = {{1, 1}, {1, 9}, {29, 9}, {29, 1}}; /* clockwise */
  g_autoptr(HfRegion) outer = polygon(p, 4);
  HfGrid hole[4];
  for (guint i = 0; i < 4; i++)
    hole[i] = hf_grid_snap(q[i]);
  hf_region_add_ring(outer, hole, NULL, 4);
  hf_region_ring(outer, 1)->parent = 0;
  g_autoptr(HfThin) thin = NULL;
  g_autoptr(HfZones) zones = zones_of(outer, 2, &thin);
  g_assert_cmpuint(zones->zones->len, ==, 1);
  const HfZone *zone = zone_at(zones, 0);
  g_assert_false(zone->tree);
  g_assert_cmpuint(zone->mouths, ==, 0);
  g_assert_cmpstr(hf_zone_form(zone), ==, "loop");
  near(zone->length, 2 * (29 + 9), 0.6); /* the middle line, cut short at the corners */
}

/* ---- random regions -------------------------------------------------------------------------- */

static HfRegion *
random_region(guint seed)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
  g_autoptr(HfRegion) raw = hf_region_new(), holes_raw = hf_region_new();
  for (int i = 0; i < 14; i++) {
    g_autoptr(HfOutline) outline = hf_outline_new(), turned = hf_outline_new();
    double w = g_rand_double_range(rand, 1, 40), h = g_rand_double_range(rand, 1, 9);
    if (g_rand_boolean(rand))
      hf_outline_add_circle(outline, hf_point(0, 0), w / 2);
    else
      hf_outline_add_rectangle(outline, (HfBox){{-w, -h}, {w, h}}, i % 3 ? 0 : h * 0.7);
    HfMatrix m = hf_matrix_then(
        hf_matrix_turn(g_rand_double_range(rand, 0, 3)),
        hf_matrix_move(g_rand_double_range(rand, 0, 90), g_rand_double_range(rand, 0, 60)));
    hf_outline_append(turned, outline, m);
    hf_region_flatten(i < 9 ? raw : holes_raw, turned, 0, HF_FLATTEN_MM);
  }
  g_autoptr(HfRegion) metal = hf_region_clean(raw), holes = hf_region_clean(holes_raw);
  return hf_region_subtract(metal, holes);
}

/* What follows from the invariant: the zones of a smaller limit lie each within one of a larger, a
 * tree keeps its mouths when it is cut, and a set knows what it was given. */
static void
compare_limits(const HfThin *thin, double small, double large)
{
  g_autoptr(HfZones) inner = hf_zones_new(thin, small), outer = hf_zones_new(thin, large);
  g_autoptr(HfZoneSet) set = hf_zone_set_new(), no_set = hf_zone_set_new();
  for (guint i = 0; i < outer->zones->len; i++) {
    const HfZone *zone = zone_at(outer, i);
    g_assert_true(hf_zone_covers(outer, zone, zone->edge, zone->where));
    g_assert_false(hf_zone_set_meets(set, outer, zone));
    g_assert_false(hf_zone_set_meets(no_set, outer, zone));
    hf_zone_set_add(set, outer, zone);
    if (zone->tree)
      g_assert_cmpuint(zone->mouths_a + zone->mouths_b, ==, zone->mouths);
  }
  g_autoptr(HfZones) none = hf_zones_unsaid(thin, large, set);
  g_assert_cmpuint(none->zones->len, ==, 0);
  for (guint i = 0; i < inner->zones->len; i++) {
    const HfZone *zone = zone_at(inner, i);
    guint within = 0;
    for (guint k = 0; k < outer->zones->len; k++)
      within += hf_zone_covers(outer, zone_at(outer, k), zone->edge, zone->where);
    g_assert_cmpuint(within, ==, 1);
    g_assert_true(hf_zone_set_meets(set, inner, zone));
  }
}

/* Is there a part of @area in the region cut along @cut? */
static gboolean
cuts_off(const HfRegion *region, HfCut cut, double area)
{
  g_autoptr(GArray) cuts = g_array_new(FALSE, FALSE, sizeof(HfCut));
  g_array_append_val(cuts, cut);
  g_autoptr(HfRegion) spliced = hf_region_splice(region, cuts);
  for (guint r = 0; r < spliced->rings->len; r++) {
    if (hf_region_ring(spliced, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(spliced, r);
    if (fabs(hf_region_area(part) - area) < 0.01)
      return TRUE;
  }
  return FALSE;
}

/* The side that is called the smaller is one of the two that splicing gives, and no more than half
 * of the part. */
static void
compare_sides(const HfRegion *region, const HfZones *zones)
{
  g_autoptr(HfSides) sides = hf_sides_new(region);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = zone_at(zones, i);
    if (!hf_zone_divides(zone) || hf_region_ring(region, zone->site_a.ring)->parent >= 0)
      continue;
    HfCut cut = {zone->place.foot_a, zone->place.foot_b, zone->site_a, zone->site_b};
    HfCut back = {cut.b, cut.a, cut.site_b, cut.site_a};
    HfBeyond one = hf_sides_beyond(sides, &cut), other = hf_sides_beyond(sides, &back);
    g_autoptr(HfRegion) part = hf_region_part(region, zone->site_a.ring);
    near(one.area, other.area, 1e-6);
    g_assert_cmpfloat(one.area, <=, hf_region_area(part) / 2 + 1e-6);
    g_assert_true(cuts_off(region, cut, one.area));
  }
}

/* Every other zone of a smaller limit was spoken of: what is left of a larger one is what does not
 * cover the place of any of them, the same as where it is measured first. */
static void
compare_unsaid(const HfThin *thin, double small, double large)
{
  g_autoptr(HfZones) inner = hf_zones_new(thin, small), outer = hf_zones_new(thin, large);
  g_autoptr(HfZoneSet) said = hf_zone_set_new();
  for (guint i = 0; i < inner->zones->len; i += 2)
    hf_zone_set_add(said, inner, zone_at(inner, i));
  g_autoptr(HfZones) left = hf_zones_unsaid(thin, large, said);
  guint k = 0;
  for (guint i = 0; i < outer->zones->len; i++) {
    const HfZone *zone = zone_at(outer, i);
    gboolean covers = FALSE;
    for (guint j = 0; j < inner->zones->len; j += 2)
      covers |= hf_zone_covers(outer, zone, zone_at(inner, j)->edge, zone_at(inner, j)->where);
    if (covers) {
      g_assert_true(hf_zone_set_meets(said, outer, zone));
      continue;
    }
    g_assert_cmpuint(k, <, left->zones->len);
    g_assert_true(zone_at(left, k)->edge == zone->edge && zone_at(left, k)->where == zone->where);
    g_assert_true(zone_at(left, k)->length == zone->length && zone_at(left, k)->n == zone->n);
    k++;
  }
  g_assert_cmpuint(k, ==, left->zones->len);
}

static void
assert_same_zones(const HfZones *zones, const HfZones *others)
{
  g_assert_cmpuint(zones->zones->len, ==, others->zones->len);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *a = zone_at(zones, i), *b = zone_at(others, i);
    g_assert_true(a->place.at.x == b->place.at.x && a->place.at.y == b->place.at.y);
    g_assert_true(a->edge == b->edge && a->where == b->where && a->width == b->width);
    g_assert_true(a->widest == b->widest && a->length == b->length && a->floor == b->floor);
    g_assert_true(a->mouths == b->mouths && a->mouths_a == b->mouths_a);
    g_assert_true(a->mouths_b == b->mouths_b && a->tree == b->tree && a->bulges == b->bulges);
    g_assert_true(a->tips_only == b->tips_only && a->n == b->n);
    for (guint k = 0; k < a->n; k++) {
      HfStretch s = g_array_index(zones->stretches, HfStretch, a->first + k);
      HfStretch t = g_array_index(others->stretches, HfStretch, b->first + k);
      g_assert_true(s.edge == t.edge && s.from == t.from && s.to == t.to);
      g_assert_true(s.inner_from == t.inner_from && s.inner_to == t.inner_to);
    }
  }
}

/* Edges that are under the limit altogether are not cut, and measured by what is known of them:
 * the same to the bit as if each were cut. */
static void
test_whole_edges(void)
{
  guint zones_seen = 0;
  for (guint seed = 1; seed <= 40; seed++) {
    g_autoptr(HfRegion) region = random_region(seed);
    g_autoptr(HfIndex) index = hf_index_new(region, 4);
    g_autoptr(HfThin) thin = hf_thin_new_full(region, index, 4);
    for (double limit = 0.4; limit < 4; limit += 0.7) {
      g_autoptr(HfZones) zones = hf_zones_new(thin, limit);
      g_autofree HfEdgeFacts *facts =
          g_memdup2(thin->facts, thin->axis->edges->len * sizeof(HfEdgeFacts));
      for (guint e = 0; e < thin->axis->edges->len; e++)
        thin->facts[e].most = INFINITY; /* none is whole */
      g_autoptr(HfZones) cut = hf_zones_new(thin, limit);
      memcpy(thin->facts, facts, thin->axis->edges->len * sizeof(HfEdgeFacts));
      assert_same_zones(zones, cut);
      zones_seen += zones->zones->len;
    }
  }
  g_assert_cmpuint(zones_seen, >, 300);
}

static void
test_random(void)
{
  guint zones_seen = 0;
  for (guint seed = 1; seed <= 40; seed++) {
    g_autoptr(HfRegion) region = random_region(seed);
    g_autoptr(HfIndex) index = hf_index_new(region, 4);
    g_autoptr(HfThin) thin = hf_thin_new_full(region, index, 4);
    compare_limits(thin, 1, 2);
    compare_limits(thin, 2.5, 3.9);
    compare_unsaid(thin, 1, 2);
    compare_unsaid(thin, 2.5, 3.9);
    g_autoptr(HfZones) zones = hf_zones_new(thin, 3.9);
    zones_seen += zones->zones->len;
    compare_sides(region, zones);
  }
  g_assert_cmpuint(zones_seen, >, 100);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/zones/many-branches", test_many_branches);
  g_test_add_func("/zones/at-the-limit", test_at_the_limit);
  g_test_add_func("/zones/no-mouth", test_no_mouth);
  g_test_add_func("/zones/way-round", test_way_round);
  g_test_add_func("/zones/random", test_random);
  g_test_add_func("/zones/whole-edges", test_whole_edges);
  return g_test_run();
}
