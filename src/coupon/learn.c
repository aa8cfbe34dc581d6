/* SPDX-License-Identifier: GPL-3.0-or-later
 * learn.c - what a coupon taught, written into the shop file's chart; all else of it stays.
 *
 *      results                chart:
 *      long webs: 2.1 mm  ──>   - {metal: ..., kerf: 1.5 mm, limits: {thin-long-web: 2 mm},
 *      window: 40.1 mm             coupon: 2026-03-14}
 *
 *      |<-- drawn: 2.1 -->|      Where the cut was wider than it was drawn for, by d = k' - k, a
 *    ___                   ___   web came out narrower by d, an opening wider by d. A sign is drawn
 *       |.|<-- 2.0 --->|.|      for k' and comes out as drawn: its limit is what really survived,
 *     d/2               d/2      not what was marked beside it.
 */
#include "base/text.h"
#include "coupon/coupon-private.h"
#include "recipe/edit.h"
#include <string.h>

#define SAME_MM 0.005 /* two thicknesses are one: as in hold/process.c */
#define FAR     3.0   /* times off the usual: no figure of a coupon; hold/lax.c */
#define THIRD   1.001 /* of 1/FAR: not a hair laxer than may be */

typedef struct {
  const HfCouponResults *results;
  const HfShop *shop;
  gint row; /* of the chart; -1: a new one */
  GArray *edits;
  GString *told;
  double kerf;
} Learning;

/* ---- what is learned --------------------------------------------------------------------------
 */

static gboolean refuse(const HfCouponResults *results, const char *fix, GError **error,
                       const char *format, ...) G_GNUC_PRINTF(4, 5);
static gboolean
refuse(const HfCouponResults *results, const char *fix, GError **error, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *says = g_strdup_vprintf(format, args);
  va_end(args);
  hf_error_set(error, HF_ERROR_BAD_VALUE, results->file, fix, "%s", says);
  return FALSE;
}

static gboolean
kerf_can_be(const HfCouponResults *results, GError **error)
{
  double kerf = hf_coupon_kerf(results);
  if (!isnan(results->window) && isnan(results->window_drawn))
    return refuse(results, "add window drawn: 40 mm", error,
                  "the window was measured, and how wide it was drawn is not said");
  if (kerf > results->kerf / 2 && kerf < results->kerf * 2)
    return TRUE;
  g_autofree char *drawn = hf_text_mm(results->window_drawn);
  return refuse(results, "measure it again, across its middle", error,
                "a window of %s can't come out so: the kerf would be less than half or more than "
                "twice the one that it was cut with",
                drawn);
}

/* How a sheet is cut from now on. */
static HfProcess
process_learned(const Learning *learning)
{
  const HfCouponResults *results = learning->results;
  double crater = learning->shop->crater;
  return (HfProcess){.thickness = results->thickness,
                     .kerf = learning->kerf,
                     .crater = isnan(crater) ? learning->kerf : crater,
                     .metal = results->metal};
}

/* How wide what is marked @least came out, mm. */
static double
came_out(const Learning *learning, const HfLaw *law, double least)
{
  double wider = learning->kerf - learning->results->kerf;
  return law->measures == HF_MEASURES_METAL ? least - wider : least + wider;
}

/* The limit that comb @kind teaches, mm; NAN: none. A gap is never under one kerf, no other limit
 * laxer than may be (hold/lax.c). */
static double
limit_of(const Learning *learning, HfCombKind kind, HfLawKind *ret_law)
{
  double share, least = learning->results->least[kind];
  *ret_law = hf_comb_law(kind, &share);
  if (*ret_law == HF_N_LAWS || isnan(least))
    return NAN;
  HfProcess process = process_learned(learning);
  double limit = came_out(learning, hf_law(*ret_law), least) * share;
  double laxest = *ret_law == HF_LAW_NARROW_GAP
                      ? learning->kerf
                      : hf_law_usual(*ret_law, &process).stop / FAR * THIRD;
  return fmax(limit, laxest);
}

static gboolean
limits_can_be(const Learning *learning, GError **error)
{
  const HfCouponResults *results = learning->results;
  HfProcess process = {.thickness = results->thickness,
                       .kerf = results->kerf,
                       .crater = results->kerf,
                       .metal = results->metal};
  gboolean any = !isnan(results->window);
  for (guint kind = 0; kind < HF_N_COMBS; kind++) {
    double share, least = results->least[kind];
    HfLawKind law = hf_comb_law((HfCombKind)kind, &share);
    if (law == HF_N_LAWS || isnan(least))
      continue;
    any = TRUE;
    double usual = hf_law_usual(law, &process).stop;
    if (least * share > usual / FAR && least * share < usual * FAR)
      continue;
    g_autofree char *said = hf_text_mm(least);
    return refuse(results, "write the figure that is marked beside it", error,
                  "\"%s\": %s is no figure of this coupon", hf_comb_key((HfCombKind)kind), said);
  }
  return any ? TRUE
             : refuse(results, "take away the # before what you have measured", error,
                      "nothing is said of what came out");
}

/* ---- where it goes ----------------------------------------------------------------------------
 */

static gboolean
is_row_for(const HfChartRow *row, const HfCouponResults *results)
{
  return g_strcmp0(row->metal, results->metal) == 0 &&
         fabs(row->thickness - results->thickness) <= SAME_MM &&
         (results->row == NULL || g_strcmp0(row->name, results->row) == 0);
}

static gboolean
find_row(Learning *learning, GError **error)
{
  const HfCouponResults *results = learning->results;
  guint found = 0;
  learning->row = -1;
  for (guint i = 0; i < learning->shop->chart->len; i++)
    if (is_row_for(&g_array_index(learning->shop->chart, HfChartRow, i), results)) {
      learning->row = (gint)i;
      found++;
    }
  if (found > 1)
    return refuse(results, "say which: row: NAME", error,
                  "the cut chart has %u rows for this sheet", found);
  if (!isnan(learning->shop->kerf)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, learning->shop->file,
                 "take that line out: a chart says the kerf for each sheet",
                 "this shop file has one kerf for everything");
    return FALSE;
  }
  return TRUE;
}

/* ---- how it is written ------------------------------------------------------------------------
 */

/* `{thin-web: 2.1 mm, ...}` of what was learned. */
static char *
limits_text(const Learning *learning)
{
  GString *text = g_string_new("{");
  for (guint kind = 0; kind < HF_N_COMBS; kind++) {
    HfLawKind law;
    double limit = limit_of(learning, (HfCombKind)kind, &law);
    if (isnan(limit))
      continue;
    g_autofree char *length = hf_coupon_length(limit);
    g_string_append_printf(text, "%s%s: %s", text->len > 1 ? ", " : "", hf_law(law)->key, length);
  }
  g_string_append_c(text, '}');
  return g_string_free(text, FALSE);
}

static gboolean
put(Learning *learning, const char *does, const char *path, const char *value, GError **error)
{
  return hf_edits_read(learning->edits, does, path, value, error);
}

static gboolean
put_limits(Learning *learning, const HfChartRow *row, GError **error)
{
  g_autofree char *at = g_strdup_printf("chart[%d].limits", learning->row);
  g_autofree char *all = limits_text(learning);
  if (strcmp(all, "{}") == 0)
    return TRUE;
  if (row->limits->len == 0)
    return put(learning, "put", at, all, error);
  for (guint kind = 0; kind < HF_N_COMBS; kind++) {
    HfLawKind law;
    double limit = limit_of(learning, (HfCombKind)kind, &law);
    if (isnan(limit))
      continue;
    g_autofree char *path = g_strdup_printf("%s.%s", at, hf_law(law)->key);
    g_autofree char *length = hf_coupon_length(limit);
    if (!put(learning, "set", path, length, error))
      return FALSE;
  }
  return TRUE;
}

/* Is @key one of the limits that were learned? */
static gboolean
is_learned(const Learning *learning, const char *key)
{
  for (guint kind = 0; kind < HF_N_COMBS; kind++) {
    HfLawKind law;
    double limit = limit_of(learning, (HfCombKind)kind, &law);
    if (!isnan(limit) && g_ascii_strcasecmp(hf_law(law)->key, key) == 0)
      return TRUE;
  }
  return FALSE;
}

/* What an earlier coupon, or somebody's hand, said and this one does not would get its date. */
static gboolean
date_is_true(const Learning *learning, const HfChartRow *row, GError **error)
{
  if (g_strcmp0(row->coupon, learning->results->date) == 0)
    return TRUE;
  for (guint i = 0; i < row->limits->len; i++) {
    const HfLimitOverride *limit = &g_array_index(row->limits, HfLimitOverride, i);
    if (is_learned(learning, limit->key))
      continue;
    g_autofree char *place = g_strdup_printf(
        "%s:%u:%u", learning->shop->file != NULL ? learning->shop->file : "shop file",
        limit->mark.line, limit->mark.column);
    hf_error_set(error, HF_ERROR_BAD_VALUE, place,
                 "write into the results what came out of it this time, or take it out of the row",
                 "\"%s\" stands in that row, and this coupon says nothing of it: findings would "
                 "give it a date that is not its own",
                 limit->key);
    return FALSE;
  }
  return TRUE;
}

static gboolean
change_row(Learning *learning, GError **error)
{
  const HfChartRow *row = &g_array_index(learning->shop->chart, HfChartRow, learning->row);
  if (!date_is_true(learning, row, error))
    return FALSE;
  g_autofree char *kerf_at = g_strdup_printf("chart[%d].kerf", learning->row);
  g_autofree char *date_at = g_strdup_printf("chart[%d].coupon", learning->row);
  g_autofree char *kerf = hf_coupon_length(learning->kerf);
  return put(learning, "set", kerf_at, kerf, error) && put_limits(learning, row, error) &&
         put(learning, "set", date_at, learning->results->date, error);
}

/* A text as YAML has it in quotes. */
static char *
quoted(const char *text)
{
  g_auto(GStrv) parts = g_strsplit(text, "'", -1);
  g_autofree char *inner = g_strjoinv("''", parts);
  return g_strconcat("'", inner, "'", NULL);
}

static gboolean
add_row(Learning *learning, GError **error)
{
  const HfCouponResults *results = learning->results;
  g_autofree char *thickness = hf_coupon_length(results->thickness);
  g_autofree char *kerf = hf_coupon_length(learning->kerf), *limits = limits_text(learning);
  g_autofree char *date = quoted(results->date);
  g_autofree char *name = results->row != NULL ? quoted(results->row) : NULL;
  g_autofree char *named = name != NULL ? g_strdup_printf("name: %s, ", name) : g_strdup("");
  g_autofree char *limited =
      strcmp(limits, "{}") != 0 ? g_strdup_printf(", limits: %s", limits) : g_strdup("");
  g_autofree char *row = g_strdup_printf("{%smetal: %s, thickness: %s, kerf: %s%s, coupon: %s}",
                                         named, results->metal, thickness, kerf, limited, date);
  if (learning->shop->chart->len > 0)
    return put(learning, "insert", "chart", row, error);
  g_autofree char *list = g_strdup_printf("[%s]", row);
  return put(learning, "put", "chart", list, error);
}

/* ---- words ------------------------------------------------------------------------------------
 */

static void
tell(Learning *learning)
{
  const HfCouponResults *results = learning->results;
  g_autofree char *sheet = hf_text_mm(results->thickness), *kerf = hf_text_mm(learning->kerf);
  g_autofree char *was = hf_text_mm(results->kerf);
  g_string_append_printf(learning->told, "%s of %s%s: kerf %s (cut with %s)\n", results->metal,
                         sheet, learning->row < 0 ? ", a new row" : "", kerf, was);
  HfProcess process = process_learned(learning);
  if (fabs(learning->kerf - results->kerf) > SAME_MM)
    g_string_append(learning->told, "  limits are what came out, not what was marked: the cut was "
                                    "not as wide as it was drawn for\n");
  for (guint kind = 0; kind < HF_N_COMBS; kind++) {
    HfLawKind law;
    double limit = limit_of(learning, (HfCombKind)kind, &law);
    if (isnan(limit))
      continue;
    g_autofree char *is = hf_text_mm(limit), *usual = hf_text_mm(hf_law_usual(law, &process).stop);
    g_string_append_printf(learning->told, "  %-15s %s (usual %s)\n", hf_law(law)->key, is, usual);
  }
}

char *
hf_coupon_learn(const HfCouponResults *results, const char *shop_text, const char *shop_file,
                char **told, GError **error)
{
  const char *text = shop_text[0] != '\0' ? shop_text : "holdfast: 1\n";
  g_autoptr(HfShop) shop = hf_shop_read(text, strlen(text), shop_file, error);
  if (shop == NULL)
    return NULL;
  g_autoptr(GArray) edits = hf_edits_new();
  g_autoptr(GString) words = g_string_new(NULL);
  Learning learning = {results, shop, -1, edits, words, hf_coupon_kerf(results)};
  if (!kerf_can_be(results, error) || !limits_can_be(&learning, error) ||
      !find_row(&learning, error) ||
      !(learning.row >= 0 ? change_row(&learning, error) : add_row(&learning, error)))
    return NULL;
  gsize length;
  g_autofree char *changed = hf_recipe_edit(text, strlen(text), edits, &length, error);
  g_autoptr(HfShop) again =
      changed != NULL ? hf_shop_read(changed, length, shop_file, error) : NULL;
  if (again == NULL)
    return NULL;
  tell(&learning);
  *told = g_strdup(words->str);
  return g_steal_pointer(&changed);
}
