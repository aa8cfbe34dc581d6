/* SPDX-License-Identifier: GPL-3.0-or-later
 * chart.c - how fast a sheet is cut.
 *
 * Idea: at fixed power v t k is constant, as long as the same share of it ends as melt in the kerf.
 * So one model gives starting values for any sheet, and tells which measured row can't be true.
 * Sources and figures: docs/maths.md#feed. Limits: sheet of 1 to 12 mm, air; on thinner sheet the
 * table's acceleration, not the arc, sets the speed.
 */
#include "shop/chart.h"
#include "base/text.h"
#include "stock/metals.h"
#include <math.h>

#define SAME_THICKNESS 0.005
#define VOLTAGE        125.0 /* of small air torches while cutting, 100 to 150 (from memory) */
#define SHARE_LOW      0.30
#define SHARE_USUAL    0.40
#define SHARE_HIGH     0.50
#define SHARE_LEAST    0.15 /* under it a row is too slow to be a cut */
#define SHARE_MOST     0.80 /* over it too fast */
#define OFF_NEIGHBOURS 0.40

/* The machine that a thickness is usually cut with. Common practice, no source. */
static const struct {
  double thickness, current;
} usual_current[] = {{2, 30}, {5, 45}, {8, 65}, {INFINITY, 85}};

/* Pierce delay by thickness: common practice, from memory. Between rows on straight lines. */
static const struct {
  double thickness;
  HfRange delay;
} usual_delay[] = {{0, {0.1, 0.2, 0.3}},  {2, {0.1, 0.25, 0.4}}, {3, {0.2, 0.35, 0.5}},
                   {6, {0.5, 0.65, 0.8}}, {10, {0.8, 1, 1.2}},   {20, {1.6, 2, 2.4}},
                   {100, {8, 10, 12}}};
#define CUT_HEIGHT    1.5 /* 1.5 to 3 mm */
#define PIERCE_HEIGHT 3.8 /* 1.5 to 2.5 times that */

double
hf_feed_by_energy(const char *metal, double thickness, double kerf, double watts, double share)
{
  const HfMetalKind *kind = metal != NULL ? hf_metal(metal) : NULL;
  return kind == NULL ? 0 : 60 * share * watts / (thickness * kerf * kind->melt);
}

double
hf_share_by_energy(const HfChartRow *row)
{
  if (isnan(row->feed) || isnan(row->current))
    return NAN;
  return row->feed /
         hf_feed_by_energy(row->metal, row->thickness, row->kerf, row->current * VOLTAGE, 1);
}

static HfRange
exactly(double value)
{
  return (HfRange){value, value, value};
}

static HfRange
delay_of(double thickness)
{
  guint i = 1;
  while (i + 1 < G_N_ELEMENTS(usual_delay) && usual_delay[i].thickness < thickness)
    i++;
  double a = usual_delay[i - 1].thickness, b = usual_delay[i].thickness;
  double s = CLAMP((thickness - a) / (b - a), 0, 1);
  HfRange x = usual_delay[i - 1].delay, y = usual_delay[i].delay;
  return (HfRange){x.low + s * (y.low - x.low), x.usual + s * (y.usual - x.usual),
                   x.high + s * (y.high - x.high)};
}

static double
current_of(double thickness)
{
  guint i = 0;
  while (thickness > usual_current[i].thickness)
    i++;
  return usual_current[i].current;
}

static gboolean
is_of(const HfChartRow *row, const char *metal)
{
  return row->metal != NULL && metal != NULL && hf_metal(row->metal) == hf_metal(metal);
}

/* (nullable) the row that is called so, else the first for just this sheet that says a feed, else
 * the first for it. */
static const HfChartRow *
find_row(const HfShop *shop, const char *name, const char *metal, double thickness)
{
  const HfChartRow *found = NULL;
  for (guint i = 0; shop != NULL && shop->chart != NULL && i < shop->chart->len; i++) {
    const HfChartRow *row = &g_array_index(shop->chart, HfChartRow, i);
    if (name != NULL && g_strcmp0(row->name, name) == 0)
      return row;
    if (is_of(row, metal) && fabs(row->thickness - thickness) <= SAME_THICKNESS &&
        (found == NULL || (isnan(found->feed) && !isnan(row->feed))))
      found = row;
  }
  return found;
}

/* NAN without a thinner and a thicker row. v t goes on a straight line between them. */
static double
feed_between(const HfShop *shop, const char *metal, double thickness)
{
  const HfChartRow *below = NULL, *above = NULL;
  for (guint i = 0; shop != NULL && shop->chart != NULL && i < shop->chart->len; i++) {
    const HfChartRow *row = &g_array_index(shop->chart, HfChartRow, i);
    if (!is_of(row, metal) || isnan(row->feed))
      continue;
    if (row->thickness < thickness && (below == NULL || row->thickness > below->thickness))
      below = row;
    if (row->thickness > thickness && (above == NULL || row->thickness < above->thickness))
      above = row;
  }
  if (below == NULL || above == NULL)
    return NAN;
  double s = (thickness - below->thickness) / (above->thickness - below->thickness);
  double a = below->feed * below->thickness, b = above->feed * above->thickness;
  return (a + s * (b - a)) / thickness;
}

static HfRange
feed_by_model(const char *metal, double thickness, double kerf, double current)
{
  double full = hf_feed_by_energy(metal, thickness, kerf, current * VOLTAGE, 1);
  return (HfRange){SHARE_LOW * full, SHARE_USUAL * full, SHARE_HIGH * full};
}

HfCutRow
hf_cut_row(const HfShop *shop, const char *name, const char *metal, double thickness, double kerf)
{
  const HfChartRow *row = find_row(shop, name, metal, thickness);
  HfCutRow cut = {.name = row != NULL ? row->name : NULL,
                  .current =
                      row != NULL && !isnan(row->current) ? row->current : current_of(thickness),
                  .pierce_delay = delay_of(thickness),
                  .cut_height = CUT_HEIGHT,
                  .pierce_height = PIERCE_HEIGHT};
  double feed = row != NULL && !isnan(row->feed) ? row->feed : feed_between(shop, metal, thickness);
  cut.is_measured = !isnan(feed);
  cut.feed = cut.is_measured ? exactly(feed) : feed_by_model(metal, thickness, kerf, cut.current);
  if (row != NULL && !isnan(row->pierce_delay))
    cut.pierce_delay = exactly(row->pierce_delay);
  if (row != NULL && !isnan(row->cut_height))
    cut.cut_height = row->cut_height;
  if (row != NULL && !isnan(row->pierce_height))
    cut.pierce_height = row->pierce_height;
  double most = shop != NULL && shop->travel_speed > 0 ? shop->travel_speed : INFINITY;
  cut.feed =
      (HfRange){fmin(cut.feed.low, most), fmin(cut.feed.usual, most), fmin(cut.feed.high, most)};
  return cut;
}

/* ---- rows that can't be true -------------------------------------------------------------------
 */

static void doubt(GPtrArray *doubts, const HfChartRow *row, const char *format, ...)
    G_GNUC_PRINTF(3, 4);

static void
doubt(GPtrArray *doubts, const HfChartRow *row, const char *format, ...)
{
  va_list arguments;
  va_start(arguments, format);
  g_autofree char *what = g_strdup_vprintf(format, arguments);
  va_end(arguments);
  g_autofree char *thick = hf_text_mm(row->thickness);
  g_ptr_array_add(doubts, g_strdup_printf("cut chart, %s of %s%s%s: %s", row->metal, thick,
                                          row->name != NULL ? ", " : "",
                                          row->name != NULL ? row->name : "", what));
}

static gboolean
is_alike(const HfChartRow *a, const HfChartRow *b)
{
  return is_of(a, b->metal) && !isnan(a->current) && a->current == b->current && !isnan(a->feed);
}

/* The middle share of the other rows of its metal and current; NAN: there are none. */
static double
share_of_others(const GArray *chart, guint i)
{
  const HfChartRow *row = &g_array_index(chart, HfChartRow, i);
  double sum = 0;
  guint n = 0;
  for (guint k = 0; k < chart->len; k++) {
    const HfChartRow *other = &g_array_index(chart, HfChartRow, k);
    if (k != i && is_alike(other, row)) {
      sum += log(hf_share_by_energy(other));
      n++;
    }
  }
  return n > 0 ? exp(sum / n) : NAN;
}

static void
doubt_share(GPtrArray *doubts, const GArray *chart, guint i)
{
  const HfChartRow *row = &g_array_index(chart, HfChartRow, i);
  double share = hf_share_by_energy(row), others = share_of_others(chart, i);
  if (isnan(share))
    return;
  g_autofree char *percent = hf_text_number(share * 100, 0);
  if (share < SHARE_LEAST)
    doubt(doubts, row, "only %s %% of the arc's power would end in the kerf: is the feed too low?",
          percent);
  else if (share > SHARE_MOST)
    doubt(doubts, row, "%s %% of the arc's power would end in the kerf: is the feed too high?",
          percent);
  else if (fabs(share / others - 1) > OFF_NEIGHBOURS)
    doubt(doubts, row, "its feed is far off that of the other rows of this current");
}

static void
doubt_order(GPtrArray *doubts, const GArray *chart, guint i)
{
  const HfChartRow *row = &g_array_index(chart, HfChartRow, i);
  for (guint k = 0; k < chart->len; k++) {
    const HfChartRow *other = &g_array_index(chart, HfChartRow, k);
    if (is_alike(other, row) && other->thickness < row->thickness - SAME_THICKNESS &&
        other->feed < row->feed) {
      doubt(doubts, row, "it is faster than a thinner sheet at the same current");
      return;
    }
  }
}

GPtrArray *
hf_chart_doubts(const HfShop *shop)
{
  GPtrArray *doubts = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; shop->chart != NULL && i < shop->chart->len; i++) {
    const HfChartRow *row = &g_array_index(shop->chart, HfChartRow, i);
    doubt_share(doubts, shop->chart, i);
    doubt_order(doubts, shop->chart, i);
    if (row->feed > shop->travel_speed)
      doubt(doubts, row, "it is faster than the table moves");
  }
  return doubts;
}
