/* SPDX-License-Identifier: GPL-3.0-or-later
 * results.c - the file in which somebody writes what came out of a coupon.
 */
#include "base/text.h"
#include "coupon/coupon-private.h"
#include "recipe/table.h"

#define IN(member) offsetof(HfCouponResults, member)
#define LEAST(kind, key, what)                                                                     \
  {                                                                                                \
    key, HF_FIELD_LENGTH, 0, IN(least) + (kind) * sizeof(double), what, "2.4 mm", NULL, 0.1, 500   \
  }
static const HfField fields[] = {
    {"holdfast", HF_FIELD_WHOLE, HF_REQUIRED, IN(format), "version of the format", "1", NULL, 1,
     HF_RECIPE_FORMAT},
    {"metal", HF_FIELD_METAL, HF_REQUIRED, IN(metal), "which metal", "mild steel"},
    {"thickness", HF_FIELD_THICKNESS, HF_REQUIRED, IN(thickness), "of the sheet", "3 mm", NULL, 0.3,
     50},
    {"kerf", HF_FIELD_LENGTH, HF_REQUIRED, IN(kerf), "that it was cut with", "1.4 mm", NULL, 0.1,
     10},
    {"date", HF_FIELD_TEXT, HF_REQUIRED, IN(date), "when it was cut, as findings say it",
     "2026-03-14"},
    {"row", HF_FIELD_TEXT, 0, IN(row), "of the cut chart, where it has several for this sheet",
     "fine 45 A"},
    {"window drawn", HF_FIELD_LENGTH, 0, IN(window_drawn), "side of the window, as drawn", "40 mm",
     NULL, 1, 1000},
    {"window", HF_FIELD_LENGTH, 0, IN(window), "the same, as measured on the top side", "40.2 mm",
     NULL, 1, 1000},
    LEAST(HF_COMB_SLOTS, "slots", "the narrowest slot that came out well"),
    LEAST(HF_COMB_LONG_WEBS, "long webs", "the narrowest web between slots that held"),
    LEAST(HF_COMB_SHORT_WEBS, "short webs", "the narrowest web between holes that held"),
    LEAST(HF_COMB_HOLES, "holes", "the smallest hole that is round enough"),
    LEAST(HF_COMB_OPENINGS, "openings", "the smallest square whose edge is clean"),
    {NULL},
};
static const HfTable table_results = {"results of a coupon", "What came out of a coupon.", fields,
                                      NULL, NULL};

HfCouponResults *
hf_coupon_results_read(const char *text, gsize length, const char *file, GError **error)
{
  g_autoptr(HfCouponResults) results = g_new0(HfCouponResults, 1);
  hf_table_init(&table_results, results);
  results->file = g_strdup(file);
  results->least[HF_COMB_LETTERS] = results->least[HF_COMB_POINTS] = NAN; /* for the eye */
  return hf_table_read(&table_results, "a file of results", text, length, file, NULL, results,
                       error)
             ? g_steal_pointer(&results)
             : NULL;
}

void
hf_coupon_results_free(HfCouponResults *results)
{
  if (results == NULL)
    return;
  hf_table_clear(&table_results, results);
  g_free(results->file);
  g_free(results);
}

double
hf_coupon_kerf(const HfCouponResults *results)
{
  return isnan(results->window) || isnan(results->window_drawn)
             ? results->kerf
             : results->kerf + results->window - results->window_drawn;
}

/* A remark for each comb: its marks, and how to judge them. */
static void
add_comb(GString *text, const HfCoupon *coupon, HfCombKind kind)
{
  const HfComb *comb = &coupon->combs[kind];
  double share;
  if (hf_comb_law(kind, &share) == HF_N_LAWS || comb->n == 0)
    return;
  g_string_append_printf(text, "# %c: %s; tried:", hf_comb_letter(kind), hf_comb_says(kind));
  for (guint i = 0; i < comb->n; i++) {
    g_autofree char *figure = hf_coupon_figure(kind, comb->figure[i]);
    g_string_append_printf(text, " %s", figure);
  }
  g_autofree char *middle = hf_coupon_length(comb->figure[comb->n / 2]);
  g_string_append_printf(text, "\n#%s: %s\n", hf_comb_key(kind), middle);
}

char *
hf_coupon_results(const HfCoupon *coupon)
{
  GString *text = g_string_new(NULL);
  g_autofree char *t = hf_coupon_length(coupon->thickness), *k = hf_coupon_length(coupon->kerf);
  g_autofree char *window = hf_coupon_length(coupon->window);
  g_string_append_printf(
      text,
      "# What came out. Take away the # before a line and write the smallest figure that came "
      "out well;\n# leave what you can't judge. Then: holdfast coupon --learn this-file.yaml\n"
      "holdfast: 1\nmetal: %s\nthickness: %s\nkerf: %s # it was cut with\n# the day that it was "
      "cut, as findings will say it\n#date: 2026-03-14\n"
      "window drawn: %s\n# as wide as its window came out, on the top side, by calliper\n"
      "#window: %s\n",
      coupon->metal, t, k, window, window);
  for (guint kind = 0; kind < HF_N_COMBS; kind++)
    add_comb(text, coupon, (HfCombKind)kind);
  return g_string_free(text, FALSE);
}
