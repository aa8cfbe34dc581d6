/* SPDX-License-Identifier: GPL-3.0-or-later
 * shop-told.c - the shop as holdfast takes it, for a terminal: table, metals, chart, starting
 * values, rows that can't be true.
 */
#include "base/seen.h"
#include "base/text.h"
#include "shop/chart.h"
#include "stock/metals.h"

#define USUAL_KERF 1.5 /* mm, on sheet; common practice, no source */

static const double thicknesses[] = {1.5, 2, 3, 4, 5, 6, 8, 10, 12};

static void
tell_size(GString *text, const char *what, double width, double height)
{
  g_autofree char *size = width > 0 && height > 0 ? hf_text_size(width, height) : NULL;
  g_string_append_printf(text, "  %-10s %s\n", what, size != NULL ? size : "not said");
}

static void
tell_words(GString *text, const HfShop *shop)
{
  g_autofree char *on = hf_seen(shop->arc_on != NULL ? shop->arc_on : "M3", FALSE);
  g_autofree char *off = hf_seen(shop->arc_off != NULL ? shop->arc_off : "M5", FALSE);
  g_autofree char *held = hf_seen(shop->height_held, FALSE);
  g_autofree char *freed = hf_seen(shop->height_free, FALSE);
  g_string_append_printf(text, "  %-10s %s, arc on %s, off %s; ", "programs",
                         shop->program_unit == HF_PROGRAM_INCHES ? "in inches" : "in mm", on, off);
  if (held != NULL && freed != NULL)
    g_string_append_printf(text, "height held %s, free %s\n", held, freed);
  else
    g_string_append(text, "nothing of the torch's height\n");
}

static void
tell_table(GString *text, const HfShop *shop)
{
  g_autofree char *travel = hf_text_feed(shop->travel_speed);
  g_autofree char *gain = hf_text_number(shop->acceleration / 1000, 3);
  g_autofree char *height = hf_text_number(shop->height_time, 1);
  g_autofree char *pitch = hf_text_mm(shop->slat_pitch);
  g_string_append(text, "the table\n");
  tell_size(text, "it cuts", shop->table_width, shop->table_height);
  tell_size(text, "sheet", shop->sheet_width, shop->sheet_height);
  g_string_append_printf(text, "  %-10s %s travel, %s m/s2, %s s to find the sheet\n", "moves",
                         travel, gain, height);
  g_string_append_printf(text, "  %-10s the %s of travel\n", "good side",
                         shop->good_side == HF_GOOD_SIDE_LEFT ? "left" : "right");
  if (shop->slat_pitch > 0)
    g_string_append_printf(text, "  %-10s every %s, along %s\n", "slats", pitch,
                           shop->slat_run == HF_SLATS_ALONG_Y ? "y" : "x");
  else
    g_string_append_printf(text, "  %-10s none\n", "slats");
  tell_words(text, shop);
}

static void
tell_metals(GString *text)
{
  g_string_append(text, "metals\n");
  for (const HfMetalKind *metal = hf_metals(); metal->key != NULL; metal++) {
    g_autofree char *melt = hf_text_number(metal->melt, 1);
    g_autofree char *density = hf_text_number(metal->density, 0);
    g_autofree char *young = hf_text_number(metal->young, 0);
    g_string_append_printf(text, "  %-17s %4s kg/m3, %3s GPa, %4s J/mm3 to melt  [%s]\n",
                           metal->key, density, young, melt, metal->source);
  }
}

static void
tell_row(GString *text, const char *metal, double thickness, double kerf, const HfCutRow *row)
{
  g_autofree char *thick = hf_text_mm(thickness), *width = hf_text_mm(kerf);
  g_autofree char *low = hf_text_feed(row->feed.low), *high = hf_text_feed(row->feed.high);
  g_autofree char *feed = hf_text_feed(row->feed.usual);
  g_autofree char *delay = hf_text_number(row->pierce_delay.usual, 2);
  g_autofree char *current = hf_text_number(row->current, 0);
  g_string_append_printf(text, "  %-17s %-9s kerf %-8s %3s A  %-13s pierce %s s", metal, thick,
                         width, current, feed, delay);
  if (!row->is_measured)
    g_string_append_printf(text, "  (feed %s to %s)", low, high);
  g_string_append_c(text, '\n');
}

/* What a coupon taught of it. */
static void
tell_learned(GString *text, const HfChartRow *row)
{
  g_autofree char *date = hf_seen(row->coupon, FALSE);
  if (row->limits->len == 0 && date == NULL)
    return;
  if (date != NULL)
    g_string_append_printf(text, "    coupon of %s%s", date, row->limits->len > 0 ? ": " : "");
  else
    g_string_append(text, "    its limits: ");
  for (guint i = 0; i < row->limits->len; i++) {
    const HfLimitOverride *limit = &g_array_index(row->limits, HfLimitOverride, i);
    gboolean is_length = g_strcmp0(limit->unit, "mm") == 0;
    g_autofree char *number = hf_text_number(limit->value, 3);
    g_autofree char *value =
        is_length ? hf_text_length(limit->value, 3)
                  : g_strdup_printf("%s %s", number, limit->unit != NULL ? limit->unit : "");
    g_autofree char *key = hf_seen(limit->key, FALSE);
    g_string_append_printf(text, "%s%s %s", i > 0 ? ", " : "", key, value);
  }
  g_string_append_c(text, '\n');
}

static void
tell_chart(GString *text, const HfShop *shop)
{
  if (shop->chart->len == 0)
    return;
  g_string_append(text, "your process (cut chart)\n");
  for (guint i = 0; i < shop->chart->len; i++) {
    const HfChartRow *of = &g_array_index(shop->chart, HfChartRow, i);
    HfCutRow row = hf_cut_row(shop, of->name, of->metal, of->thickness, of->kerf);
    tell_row(text, of->metal, of->thickness, of->kerf, &row);
    tell_learned(text, of);
  }
}

/* Of each metal that melts by another figure one. */
static void
tell_starting_values(GString *text, const HfShop *shop)
{
  static const char *const metals[] = {"mild steel", "stainless steel", "aluminium"};
  double kerf = isnan(shop->kerf) ? USUAL_KERF : shop->kerf;
  g_string_append(text, "starting values, make a test cut (from the energy that melts the kerf)\n");
  for (gsize m = 0; m < G_N_ELEMENTS(metals); m++)
    for (gsize i = 0; i < G_N_ELEMENTS(thicknesses); i++) {
      HfCutRow row = hf_cut_row(NULL, NULL, metals[m], thicknesses[i], kerf);
      tell_row(text, metals[m], thicknesses[i], kerf, &row);
    }
}

char *
hf_shop_told(const HfShop *shop)
{
  GString *text = g_string_new(NULL);
  g_autoptr(GPtrArray) doubts = hf_chart_doubts(shop);
  tell_table(text, shop);
  tell_chart(text, shop);
  for (guint i = 0; i < doubts->len; i++) {
    g_autofree char *doubt = hf_seen_message(doubts->pdata[i], FALSE);
    g_string_append_printf(text, "  caution  %s\n", doubt);
  }
  tell_starting_values(text, shop);
  tell_metals(text);
  return g_string_free(text, FALSE);
}
