/* SPDX-License-Identifier: GPL-3.0-or-later
 * chart.h - how fast a sheet is cut: a row of the shop's chart, or starting values from the energy
 * that it takes to melt the kerf.
 *
 *   v = eta P / (t k rho h)      eta: the share of the arc's power that ends as melt in the kerf,
 *                                0.30 to 0.50 on sheet (docs/maths.md#feed)
 */
#pragma once
#include "shop/shop.h"

/* A figure of which only a range is known; low == high where it was measured. */
typedef struct {
  double low, usual, high;
} HfRange;

typedef struct {
  gboolean is_measured;             /* the shop's own feed; else starting values: make a test cut */
  const char *name;                 /* (nullable) (borrowed) of the shop's row */
  HfRange feed;                     /* mm/min */
  HfRange pierce_delay;             /* s */
  double current;                   /* A */
  double cut_height, pierce_height; /* mm */
} HfCutRow;

/**
 * hf_cut_row:
 * @shop: (nullable); @row: (nullable) the row that the recipe names
 * Returns: the row of @shop for just that metal and thickness, or between its two neighbours of the
 * same metal with a feed (the feed by v t, which is about constant); what it does not say, and all
 * without one, by the energy model for a usual machine. No feed is over the table's travel.
 */
HfCutRow hf_cut_row(const HfShop *shop, const char *row, const char *metal, double thickness,
                    double kerf);

/** hf_feed_by_energy: mm/min that @watts of arc with @share in the kerf cut; 0 for a metal that is
 *  not known. */
double hf_feed_by_energy(const char *metal, double thickness, double kerf, double watts,
                         double share);

/** hf_share_by_energy: the share of the arc's power that the row must put into the kerf to be true;
 *  NAN without feed or current. @voltage 125 V (from memory) */
double hf_share_by_energy(const HfChartRow *row);

/** hf_shop_told: (transfer full) lines for a terminal: the table, the chart with its doubts,
 * starting values, metals with their sources; lengths in the thread's unit. */
char *hf_shop_told(const HfShop *shop);

/** hf_chart_doubts: (transfer full) (element-type char *) a sentence for each row of @shop's chart
 *  that physics makes unlikely: a share under 0.15 or over 0.8, 40 % off the other rows of its
 *  current and metal, a feed that rises with thickness, faster than the table. Empty: none. */
GPtrArray *hf_chart_doubts(const HfShop *shop);
