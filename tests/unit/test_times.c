/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_times.c - motion by closed forms; feeds by the energy model against published rows.
 */
#include "cut/times.h"
#include <math.h>
#include <string.h>

static HfCutStretch
line(double x0, double y0, double x1, double y1)
{
  return (HfCutStretch){.curve = {.kind = HF_CURVE_LINE, .p0 = {x0, y0}, .p1 = {x1, y1}}};
}

/* 100 mm at 50 mm/s and 500 mm/s2: 0.1 s up, 0.1 s down over 5 mm in all, 95 mm at 50: 2.1 s. */
static void
test_trapezoid(void)
{
  HfCutStretch one = line(0, 0, 100, 0);
  g_assert_cmpfloat_with_epsilon(hf_motion_seconds(&one, 1, 50, 0.6, 500), 2.1, 1e-9);
  one.is_slow = TRUE; /* at 30: 0.06 s up and down over 1.8 mm, 98.2 at 30 */
  g_assert_cmpfloat_with_epsilon(hf_motion_seconds(&one, 1, 50, 0.6, 500), 0.12 + 98.2 / 30, 1e-9);
}

/* 2 mm never reach 50 mm/s: 2 sqrt(2 / 500). */
static void
test_triangle(void)
{
  HfCutStretch one = line(0, 0, 2, 0);
  g_assert_cmpfloat_with_epsilon(hf_motion_seconds(&one, 1, 50, 0.6, 500), 2 * sqrt(2 / 500.0),
                                 1e-9);
}

/* In line, however it is cut up, it is one way. */
static void
test_in_line(void)
{
  const HfCutStretch many[] = {line(0, 0, 1, 0), line(1, 0, 1.5, 0), line(1.5, 0, 60, 0),
                               line(60, 0, 99.9, 0), line(99.9, 0, 100, 0)};
  g_assert_cmpfloat_with_epsilon(hf_motion_seconds(many, G_N_ELEMENTS(many), 50, 0.6, 500), 2.1,
                                 1e-9);
}

/* A square corner is passed at a 0.01 / (2 sin 45): 500 -> 3.5355 mm/s; two like ways, each from
 * rest to that. */
static void
test_corner(void)
{
  const HfCutStretch two[] = {line(0, 0, 100, 0), line(100, 0, 100, 100)};
  double v = 50, a = 500, c = a * 0.01 / (2 * sin(G_PI / 4));
  double each = v / a + (v - c) / a + (100 - v * v / (2 * a) - (v * v - c * c) / (2 * a)) / v;
  g_assert_cmpfloat_with_epsilon(hf_motion_seconds(two, 2, v, 0.6, a), 2 * each, 1e-9);
}

/* On a circle of 1 mm no more than sqrt(500 * 1) mm/s. */
static void
test_circle(void)
{
  HfCutStretch one = {.curve = {HF_CURVE_ARC, {1, 0}, {1, 0}, {0, 0}, {0, 0}, 2 * G_PI}};
  double v = sqrt(500), length = 2 * G_PI;
  g_assert_cmpfloat_with_epsilon(hf_motion_seconds(&one, 1, 50, 0.6, 500),
                                 2 * v / 500 + (length - v * v / 500) / v, 1e-9);
}

/* Handbook rows (a welding textbook's tables 17-2 and 17-3): power and feed of 6 and 13 mm
 * stainless steel, kerf 4 mm (1.3 times the orifice of 3.2, assumed): the model's share must be
 * that of the published 110 J/mm2 of cut face, 0.36 to 0.41. */
static void
test_energy(void)
{
  static const struct {
    double thickness, feed, kilowatt;
  } rows[] = {{6, 86, 60}, {13, 42, 60}};
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    double full =
        hf_feed_by_energy("stainless steel", rows[i].thickness, 4.2, rows[i].kilowatt * 1000, 1);
    double share = rows[i].feed * 60 / full;
    g_assert_cmpfloat(share, >, 0.34);
    g_assert_cmpfloat(share, <, 0.41);
  }
  /* by hand: 0.3 x 5625 W / (3 x 1.6 mm2 x 10.2 J/mm3) = 34.467 mm/s */
  g_assert_cmpfloat_with_epsilon(hf_feed_by_energy("mild steel", 3, 1.6, 45 * 125, 0.3), 2068, 0.5);
}

static HfShop *
shop_of(const HfChartRow *rows, guint n)
{
  HfShop *shop = hf_shop_find("/nowhere/at/all.yaml", NULL);
  g_array_append_vals(shop->chart, rows, n);
  return shop;
}

static void
shop_clear(HfShop *shop)
{
  g_array_set_size(shop->chart, 0);
  hf_shop_free(shop);
}

#define ROW(metal, t, k, f, a)                                                                     \
  {                                                                                                \
    NULL, (char *)metal, t, k, f, a, NAN, NAN, NAN                                                 \
  }

static void
test_rows(void)
{
  const HfChartRow rows[] = {ROW("mild steel", 2, 1.5, 4000, 45),
                             ROW("mild steel", 4, 1.5, 2000, 45)};
  HfShop *shop = shop_of(rows, 2);
  HfCutRow exact = hf_cut_row(shop, NULL, "mild steel", 2, 1.5);
  g_assert_true(exact.is_measured);
  g_assert_cmpfloat(exact.feed.usual, ==, 4000);
  g_assert_cmpfloat(exact.feed.low, ==, exact.feed.high);
  HfCutRow between = hf_cut_row(shop, NULL, "mild steel", 3, 1.5);
  g_assert_cmpfloat_with_epsilon(between.feed.usual, 8000 / 3.0, 1e-6); /* v t is constant */
  HfCutRow model = hf_cut_row(shop, NULL, "aluminium", 3, 1.5);
  g_assert_false(model.is_measured);
  g_assert_cmpfloat(model.feed.low, <, model.feed.high);
  g_autoptr(GPtrArray) doubts = hf_chart_doubts(shop);
  g_assert_cmpuint(doubts->len, ==, 0);
  shop_clear(shop);
}

/* Each of these rows can't be. */
static void
test_doubts(void)
{
  const HfChartRow rows[] = {
      ROW("mild steel", 3, 1.5, 400, 45),       ROW("aluminium", 3, 1.5, 99999, 45),
      ROW("stainless steel", 2, 1.5, 2000, 45), ROW("stainless steel", 3, 1.5, 2400, 45),
      ROW("mild steel", 4, 1.5, 2000, NAN), /* says too little */
      ROW("mild steel", 5, 1.5, NAN, NAN)};
  HfShop *shop = shop_of(rows, G_N_ELEMENTS(rows));
  g_autoptr(GPtrArray) doubts = hf_chart_doubts(shop);
  GString *all = g_string_new(NULL);
  for (guint i = 0; i < doubts->len; i++)
    g_string_append_printf(all, "%s\n", (char *)doubts->pdata[i]);
  g_assert_nonnull(strstr(all->str, "mild steel of 3 mm: only 5 %"));
  g_assert_nonnull(strstr(all->str, "is the feed too high?"));
  g_assert_nonnull(strstr(all->str, "it is faster than the table moves"));
  g_assert_nonnull(strstr(all->str, "stainless steel of 3 mm: it is faster than a thinner sheet"));
  g_string_free(all, TRUE);
  shop_clear(shop);
}

int
main(int argc, char **argv)
{
  g_setenv("XDG_CONFIG_HOME", "/nowhere", TRUE); /* no shop file of whoever runs it */
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/times/trapezoid", test_trapezoid);
  g_test_add_func("/times/triangle", test_triangle);
  g_test_add_func("/times/in-line", test_in_line);
  g_test_add_func("/times/corner", test_corner);
  g_test_add_func("/times/circle", test_circle);
  g_test_add_func("/chart/energy", test_energy);
  g_test_add_func("/chart/rows", test_rows);
  g_test_add_func("/chart/doubts", test_doubts);
  return g_test_run();
}
