/* SPDX-License-Identifier: GPL-3.0-or-later
 * Metals, gauges and sheets against figures from outside.
 */
#include "stock/metals.h"
#include <math.h>

/* The steel column is weight / 41.82 (Manufacturers' Standard Gauge): 10 gauge is 5.625 lb/ft2
 * (offroaders.com/tech/sheet-metal-gauge-thickness.htm), 16 gauge 2.5 lb/ft2, 20 gauge 1.5 lb/ft2
 * (15 U.S.C. 206). */
static void
test_steel_gauges(void)
{
  static const struct {
    int gauge;
    double pounds;
  } rows[] = {{10, 5.625}, {16, 2.5}, {20, 1.5}};
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    double inch = rows[i].pounds / 41.82;
    g_assert_cmpfloat_with_epsilon(hf_gauge(HF_GAUGES_STEEL, rows[i].gauge) / 25.4, inch, 6e-5);
  }
  /* machinecalcs.com/sheet-metal-gauge-chart, mm column */
  static const struct {
    int gauge;
    double mm;
  } metric[] = {{3, 6.07},  {7, 4.55},  {8, 4.18},  {9, 3.80},  {10, 3.42}, {11, 3.04}, {12, 2.66},
                {13, 2.28}, {14, 1.90}, {16, 1.52}, {18, 1.21}, {20, 0.91}, {22, 0.76}, {24, 0.61}};
  for (gsize i = 0; i < G_N_ELEMENTS(metric); i++)
    g_assert_cmpfloat_with_epsilon(hf_gauge(HF_GAUGES_STEEL, metric[i].gauge), metric[i].mm,
                                   0.0051);
}

/* Brown & Sharpe: d = 0.005 in x 92^((36 - n)/39) (formula from memory). */
static void
test_aluminium_gauges(void)
{
  guint checked = 0;
  for (int n = 1; n < 40; n++) {
    double mm = hf_gauge(HF_GAUGES_ALUMINIUM, n);
    if (isnan(mm))
      continue;
    checked++;
    g_assert_cmpfloat_with_epsilon(mm / 25.4, 0.005 * pow(92, (36 - n) / 39.0), 6e-5);
  }
  g_assert_cmpuint(checked, ==, 14);
}

/* Galvanised is steel and about 0.0037 in of zinc
 * (industrialequipmentspecs.com/knowledge/sheet-metal-gauges). */
static void
test_galvanised_gauges(void)
{
  g_assert_true(isnan(hf_gauge(HF_GAUGES_GALVANISED, 7)));
  for (int n = 8; n < 25; n++) {
    double mm = hf_gauge(HF_GAUGES_GALVANISED, n);
    if (!isnan(mm))
      g_assert_cmpfloat_with_epsilon((mm - hf_gauge(HF_GAUGES_STEEL, n)) / 25.4, 0.0037, 2e-4);
  }
}

/* Stainless is the old US Standard Gauge of law: 10 ga = 9/64 in, 16 ga = 1/16 in, 20 ga = 0.0375
 * in (15 U.S.C. 206). */
static void
test_stainless_gauges(void)
{
  g_assert_cmpfloat_with_epsilon(hf_gauge(HF_GAUGES_STAINLESS, 10) / 25.4, 9 / 64.0, 6e-5);
  g_assert_cmpfloat_with_epsilon(hf_gauge(HF_GAUGES_STAINLESS, 16) / 25.4, 1 / 16.0, 6e-5);
  g_assert_cmpfloat_with_epsilon(hf_gauge(HF_GAUGES_STAINLESS, 20) / 25.4, 0.0375, 6e-5);
}

static void
test_missing_gauges(void)
{
  g_assert_true(isnan(hf_gauge(HF_GAUGES_STEEL, 15)));
  g_assert_true(isnan(hf_gauge(HF_GAUGES_STEEL, 0)));
  g_assert_true(isnan(hf_gauge(HF_GAUGES_STEEL, -3)));
  g_assert_cmpint(hf_gauge_nearest(HF_GAUGES_STEEL, 15), ==, 14);
  g_assert_cmpint(hf_gauge_nearest(HF_GAUGES_GALVANISED, 3), ==, 8);
  g_assert_cmpint(hf_gauge_nearest(HF_GAUGES_STEEL, 99), ==, 24);
}

/* EN 1993-1-1 3.2.6; prEN 1999-1-1 3.2.5; 304: ASTM A240 from memory. */
static void
test_metals(void)
{
  g_assert_cmpfloat(hf_metal("mild steel")->density, ==, 7850);
  g_assert_cmpfloat(hf_metal("mild steel")->young, ==, 210);
  g_assert_cmpfloat(hf_metal("mild steel")->expansion, ==, 12e-6);
  g_assert_cmpfloat(hf_metal("weathering steel")->density, ==, 7850);
  g_assert_cmpfloat(hf_metal("aluminium")->density, ==, 2700);
  g_assert_cmpfloat(hf_metal("aluminium")->young, ==, 70);
  g_assert_cmpfloat(hf_metal("aluminium")->expansion, ==, 23e-6);
  g_assert_cmpfloat(hf_metal("stainless steel")->density, ==, 8000);
  g_assert_true(hf_metal("aluminum") == hf_metal("Aluminium"));
  g_assert_true(hf_metal("galvanized steel") == hf_metal("galvanised steel"));
  g_assert_null(hf_metal("cardboard"));
  guint n = 0;
  for (const HfMetalKind *metal = hf_metals(); metal->key != NULL; metal++, n++)
    g_assert_nonnull(metal->source);
  g_assert_cmpuint(g_strv_length((char **)hf_metal_keys()), ==, n);
}

static void
test_sheets(void)
{
  for (const HfSheetSize *size = hf_sheet_sizes(); size->label != NULL; size++) {
    g_assert_cmpfloat(size->width, <, size->height);
    g_assert_nonnull(size->source);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/stock/gauges/steel", test_steel_gauges);
  g_test_add_func("/stock/gauges/aluminium", test_aluminium_gauges);
  g_test_add_func("/stock/gauges/galvanised", test_galvanised_gauges);
  g_test_add_func("/stock/gauges/stainless", test_stainless_gauges);
  g_test_add_func("/stock/gauges/missing", test_missing_gauges);
  g_test_add_func("/stock/metals", test_metals);
  g_test_add_func("/stock/sheets", test_sheets);
  return g_test_run();
}
