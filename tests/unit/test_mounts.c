/* SPDX-License-Identifier: GPL-3.0-or-later
 * What a sign is fixed by: clearance holes and countersinks against published tables, slots and
 * keyholes against closed forms.
 */
#include "layout-help.h"
#include "stock/screws.h"
#include <math.h>

#define NEAR 1e-6

/* ISO 273, from jlhy.miizo.top/tools/clearance-hole ("ISO 273:2017", series 1, 2, 3), and the
 * theoretical head diameters of ISO 10642 from
 * joshuanava.biz/engineering-3/iso-metric-hexagon-socket-set-screws-dimensions-in-table.html
 * (A maximum; M16 there too). */
static void
test_screws(void)
{
  static const struct {
    const char *key;
    double fine, medium, coarse, head;
  } rows[] = {{"M3", 3.2, 3.4, 3.6, 6.72},      {"M4", 4.3, 4.5, 4.8, 8.96},
              {"M5", 5.3, 5.5, 5.8, 11.2},      {"M6", 6.4, 6.6, 7.0, 13.44},
              {"M8", 8.4, 9.0, 10.0, 17.92},    {"M10", 10.5, 11.0, 12.0, 22.4},
              {"M12", 13.0, 13.5, 14.5, 26.88}, {"M16", 17.0, 17.5, 18.5, 33.6}};
  g_assert_null(hf_screw(0));
  g_assert_null(hf_screw(G_N_ELEMENTS(rows) + 1));
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    const HfScrew *screw = hf_screw((int)i + 1);
    g_assert_cmpstr(screw->key, ==, rows[i].key);
    g_assert_cmpfloat(screw->hole[HF_FIT_FINE], ==, rows[i].fine);
    g_assert_cmpfloat(screw->hole[HF_FIT_MEDIUM], ==, rows[i].medium);
    g_assert_cmpfloat(screw->hole[HF_FIT_COARSE], ==, rows[i].coarse);
    g_assert_cmpfloat(screw->head, ==, rows[i].head);
  }
}

/* A right-angled cone is half as deep as it is wide. */
static void
test_countersink(void)
{
  g_assert_cmpfloat_with_epsilon(hf_countersink_depth(13.44, 6.6), 3.42, NEAR);
  g_assert_cmpfloat(hf_countersink_depth(6, 7), ==, 0);
}

static double
area_of(const char *entry)
{
  g_autofree char *entries = g_strdup_printf(
      "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n  - %s\n", entry);
  g_autoptr(HfLayout) layout = help_layout(entries);
  g_assert_cmpuint(layout->shapes->len, ==, 2);
  g_assert_true(hf_layout_shape(layout, 1)->opening);
  return fabs(hf_outline_area(hf_layout_shape(layout, 1)->outline));
}

/* Circle, obround (2 r a + pi r^2), and two circles joined by a rectangle: the lens that shank and
 * head share is counted once. */
static void
test_areas(void)
{
  g_assert_cmpfloat_with_epsilon(area_of("hole: {screw: M6, fit: medium, on: board}"),
                                 G_PI * 3.3 * 3.3, NEAR);
  g_assert_cmpfloat_with_epsilon(area_of("hole: {screw: M6, on: board}"), G_PI * 3.5 * 3.5, NEAR);
  g_assert_cmpfloat_with_epsilon(area_of("slot: {width: 8 mm, length: 30 mm, on: board}"),
                                 8 * 22 + G_PI * 16, NEAR);
  g_assert_cmpfloat_with_epsilon(
      area_of("slot: {screw: M8, fit: medium, length: 30 mm, on: board}"),
      9 * 21 + G_PI * 4.5 * 4.5, NEAR);
  double big = 7, small = 3.5, length = 16, half = asin(small / big);
  double head = G_PI * big * big - big * big * (half - sin(half) * cos(half));
  double slot = 2 * small * (length - big * cos(half)) + G_PI * small * small / 2;
  g_assert_cmpfloat_with_epsilon(
      area_of("keyhole: {head: 14 mm, shank: 7 mm, length: 16 mm, on: board}"), head + slot, NEAR);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/mounts/screws", test_screws);
  g_test_add_func("/mounts/countersink", test_countersink);
  g_test_add_func("/mounts/areas", test_areas);
  return g_test_run();
}
