/* SPDX-License-Identifier: GPL-3.0-or-later
 * Metals, gauges and sheet sizes. "From memory" marks a figure that no source was read for.
 */
#include "stock/metals.h"
#include <math.h>

/* What it takes to melt: iron 7850 kg/m3 x 1.296 MJ/kg from 298 K to liquid at 1809 K (NIST
 * WebBook, iron: 72.4 kJ/mol); stainless steel and aluminium from memory. */
static const HfMetalKind metals[] = {
    /* EN 1993-1-1 3.2.6: 210 GPa, 12e-6/K; weigh with 7850, not with the gauge standard's 8040 */
    {"mild steel", NULL, 7850, 210, 12e-6, 10.2, HF_GAUGES_STEEL, "EN 1993-1-1 3.2.6"},
    /* the zinc is in the thickness; its own density (7140) is near enough to leave out */
    {"galvanised steel", "galvanized steel", 7850, 210, 12e-6, 10.2, HF_GAUGES_GALVANISED,
     "EN 1993-1-1 3.2.6; zinc allowance in the gauge table"},
    /* EN 10025-5 (S355J..W): density, E and expansion as other structural steel */
    {"weathering steel", NULL, 7850, 210, 12e-6, 10.2, HF_GAUGES_STEEL,
     "EN 10025-5, EN 1993-1-1 3.2.6"},
    /* 304 annealed: 193 to 200 GPa, 16 to 17e-6/K */
    {"stainless steel", NULL, 8000, 193, 16.5e-6, 10, HF_GAUGES_STAINLESS,
     "grade 304, ASTM A240, from memory"},
    /* prEN 1999-1-1 3.2.5 */
    {"aluminium", "aluminum", 2700, 70, 23e-6, 2.9, HF_GAUGES_ALUMINIUM, "prEN 1999-1-1 3.2.5"},
    {NULL, NULL, 0, 0, 0, 0, HF_GAUGES_STEEL, NULL},
};

/* Thickness in inches, 0 where there is none.
 *   steel       Manufacturers' Standard Gauge: lb/ft2 / 41.82
 *   galvanised  steel + about 0.0037 in of zinc
 *   aluminium   Brown & Sharpe: 0.005 x 92^((36 - n)/39)
 *   stainless   old US Standard Gauge, 15 U.S.C. 206
 * Source: machinecalcs.com/sheet-metal-gauge-chart, agreeing with
 * industrialequipmentspecs.com/knowledge/sheet-metal-gauges for 10 to 24. */
static const struct {
  int number;
  double inch[HF_N_GAUGES];
} gauge_table[] = {
    {3, {0.2391, 0, 0.2294, 0.2500}},       {7, {0.1793, 0, 0.1443, 0.1875}},
    {8, {0.1644, 0.1681, 0.1285, 0.1719}},  {9, {0.1495, 0.1532, 0.1144, 0.1562}},
    {10, {0.1345, 0.1382, 0.1019, 0.1406}}, {11, {0.1196, 0.1233, 0.0907, 0.1250}},
    {12, {0.1046, 0.1084, 0.0808, 0.1094}}, {13, {0.0897, 0.0934, 0.0720, 0.0937}},
    {14, {0.0747, 0.0785, 0.0641, 0.0781}}, {16, {0.0598, 0.0635, 0.0508, 0.0625}},
    {18, {0.0478, 0.0516, 0.0403, 0.0500}}, {20, {0.0359, 0.0396, 0.0320, 0.0375}},
    {22, {0.0299, 0.0336, 0.0253, 0.0312}}, {24, {0.0239, 0.0276, 0.0201, 0.0250}},
};

/* From memory; only general confirmation was found. A shop says its own in its shop file. */
#define FROM_MEMORY "usual stock size, from memory"
static const HfSheetSize sheet_sizes[] = {
    {36 * 25.4, 96 * 25.4, "36 x 96 in", FROM_MEMORY},
    {48 * 25.4, 96 * 25.4, "48 x 96 in", FROM_MEMORY},
    {48 * 25.4, 120 * 25.4, "48 x 120 in", FROM_MEMORY},
    {60 * 25.4, 120 * 25.4, "60 x 120 in", FROM_MEMORY},
    {72 * 25.4, 120 * 25.4, "72 x 120 in", FROM_MEMORY},
    {72 * 25.4, 144 * 25.4, "72 x 144 in", FROM_MEMORY},
    {1000, 2000, "1000 x 2000 mm", FROM_MEMORY},
    {1250, 2500, "1250 x 2500 mm", FROM_MEMORY},
    {1500, 3000, "1500 x 3000 mm", FROM_MEMORY},
    {2000, 4000, "2000 x 4000 mm", FROM_MEMORY},
    {0, 0, NULL, NULL},
};

const HfMetalKind *
hf_metals(void)
{
  return metals;
}

const HfMetalKind *
hf_metal(const char *key)
{
  g_return_val_if_fail(key != NULL, NULL);
  for (const HfMetalKind *metal = metals; metal->key != NULL; metal++)
    if (g_ascii_strcasecmp(key, metal->key) == 0 ||
        (metal->also != NULL && g_ascii_strcasecmp(key, metal->also) == 0))
      return metal;
  return NULL;
}

const char *const *
hf_metal_keys(void)
{
  static const char *keys[G_N_ELEMENTS(metals)];
  static gsize done = 0;
  if (g_once_init_enter(&done)) {
    for (gsize i = 0; i < G_N_ELEMENTS(metals); i++)
      keys[i] = metals[i].key;
    g_once_init_leave(&done, 1);
  }
  return keys;
}

double
hf_gauge(HfGauges gauges, int gauge)
{
  g_return_val_if_fail(gauges < HF_N_GAUGES, NAN);
  for (gsize i = 0; i < G_N_ELEMENTS(gauge_table); i++)
    if (gauge_table[i].number == gauge && gauge_table[i].inch[gauges] > 0)
      return gauge_table[i].inch[gauges] * 25.4;
  return NAN;
}

int
hf_gauge_nearest(HfGauges gauges, int gauge)
{
  g_return_val_if_fail(gauges < HF_N_GAUGES, 0);
  int best = 0;
  for (gsize i = 0; i < G_N_ELEMENTS(gauge_table); i++) {
    int number = gauge_table[i].number;
    if (gauge_table[i].inch[gauges] > 0 && (best == 0 || ABS(number - gauge) < ABS(best - gauge)))
      best = number;
  }
  return best;
}

const HfSheetSize *
hf_sheet_sizes(void)
{
  return sheet_sizes;
}
