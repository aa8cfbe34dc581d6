/* SPDX-License-Identifier: GPL-3.0-or-later
 * process.c - the kerf, the crater and the metal of a recipe in a shop.
 *
 * kerf: the recipe's; else the row that it names; else the shop's; else a row of the shop's cut
 * chart for this metal:
 *
 *     kerf |        x row          between two rows on the straight line through them,
 *          |   x .-'               never beyond the first or the last
 *          +----|------|----> t
 */
#include "base/text.h"
#include "hold/law.h"
#include "stock/metals.h"
#include <string.h>

/* Two thicknesses are the same row of a chart: half the finest gauge step. */
#define SAME_THICKNESS 0.005
/* What was measured with one kerf holds for one that is so near it, as a share; ours. */
#define SAME_KERF     0.05
#define SAME_ROW_KERF 1e-6 /* mm */

static gboolean
row_is_for(const HfChartRow *row, const HfMetalKind *metal)
{
  const HfMetalKind *of = row->metal != NULL ? hf_metal(row->metal) : NULL;
  return of == metal && !isnan(row->kerf);
}

static const HfChartRow *
row_called(const GArray *chart, const char *name)
{
  for (guint i = 0; chart != NULL && i < chart->len; i++) {
    const HfChartRow *row = &g_array_index(chart, HfChartRow, i);
    if (g_strcmp0(row->name, name) == 0)
      return row;
  }
  return NULL;
}

static gboolean
is_for_thickness(const HfChartRow *row, double thickness)
{
  return fabs(row->thickness - thickness) <= SAME_THICKNESS;
}

/* Of several rows for one thickness the widest kerf counts: it asks for most. */
static double
kerf_from_chart(const GArray *chart, const HfMetalKind *metal, double thickness)
{
  double exact = NAN;
  double below = -INFINITY, above = INFINITY, kerf_below = NAN, kerf_above = NAN;
  for (guint i = 0; chart != NULL && i < chart->len; i++) {
    const HfChartRow *row = &g_array_index(chart, HfChartRow, i);
    if (!row_is_for(row, metal))
      continue;
    double t = row->thickness;
    if (is_for_thickness(row, thickness))
      exact = fmax(exact, row->kerf);
    if (t < thickness && t >= below) {
      kerf_below = t > below ? row->kerf : fmax(kerf_below, row->kerf);
      below = t;
    }
    if (t > thickness && t <= above) {
      kerf_above = t < above ? row->kerf : fmax(kerf_above, row->kerf);
      above = t;
    }
  }
  if (!isnan(exact) || isnan(kerf_below) || isnan(kerf_above))
    return exact;
  return kerf_below + (kerf_above - kerf_below) * (thickness - below) / (above - below);
}

static gboolean
refuse_row(const HfRecipe *recipe, const HfShop *shop, GError **error)
{
  guint n = shop != NULL && shop->chart != NULL ? shop->chart->len : 0, k = 0;
  g_autofree const char **names = g_new0(const char *, n + 1);
  for (guint i = 0; i < n; i++) {
    names[k] = g_array_index(shop->chart, HfChartRow, i).name;
    k += names[k] != NULL;
  }
  g_autofree char *list = hf_text_list(names, "or");
  const char *near = hf_text_nearest(recipe->row, names);
  g_autofree char *fix = near != NULL ? g_strdup_printf("did you mean \"%s\"?", near)
                         : k > 0      ? g_strdup_printf("name one of %s", list)
                                      : g_strdup("add it to the cut chart in shop.yaml");
  g_autofree char *where = hf_recipe_where(recipe, recipe->row_mark);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix,
               "the shop's cut chart has no row called \"%s\"", recipe->row);
  return FALSE;
}

/* A row that was measured on other sheet says nothing of this one. */
static gboolean
row_fits(const HfRecipe *recipe, const HfChartRow *row, const HfMetalKind *metal, GError **error)
{
  if (row_is_for(row, metal) && is_for_thickness(row, recipe->thickness))
    return TRUE;
  g_autofree char *of = hf_text_mm(row->thickness), *sheet = hf_text_mm(recipe->thickness);
  g_autofree char *where = hf_recipe_where(recipe, recipe->row_mark);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, "name a row for this sheet, or give the kerf",
               "the row \"%s\" of the cut chart is for %s of %s, the sheet is %s of %s", row->name,
               row->metal, of, metal->key, sheet);
  return FALSE;
}

static void
refuse(const HfRecipe *recipe, const HfShop *shop, GError **error)
{
  g_autofree char *thick = hf_text_mm(recipe->thickness);
  g_autofree char *layer = recipe->in_layer > HF_LAYER_FRONT
                               ? g_strconcat(" for the ", hf_layer_word(recipe->in_layer), NULL)
                               : g_strdup("");
  gboolean has_chart = shop != NULL && shop->chart != NULL && shop->chart->len > 0;
  if (has_chart)
    hf_error_set(
        error, HF_ERROR_BAD_VALUE, recipe->file,
        "measure yours and give it as kerf in the recipe, or add a row to the cut chart",
        "no kerf is given%s, and the cut chart of %s has none for %s of %s or on both sides "
        "of it",
        layer, shop->file != NULL ? shop->file : "the shop", recipe->metal, thick);
  else
    hf_error_set(
        error, HF_ERROR_BAD_VALUE, recipe->file,
        hf_recipe_is_made(recipe)
            ? "measure yours (cut a slot, measure its width) and say it, --kerf \"1.5 mm\", "
              "or give it in shop.yaml"
            : "measure yours (cut a slot, measure its width) and give it as kerf in the "
              "recipe or in shop.yaml",
        "no kerf is given%s", layer);
}

/* How far its kerf is off that of @process, mm; INFINITY: it is not a row for it. */
static double
row_off(const HfChartRow *row, const HfProcess *process, const HfRecipe *recipe)
{
  double off = fabs(row->kerf - process->kerf);
  gboolean fits = g_strcmp0(row->metal, process->metal) == 0 &&
                  is_for_thickness(row, process->thickness) && off <= SAME_KERF * process->kerf &&
                  (recipe->row == NULL || g_strcmp0(recipe->row, row->name) == 0);
  return fits ? off : INFINITY;
}

const HfChartRow *
hf_process_row(const HfProcess *process, const HfShop *shop, const HfRecipe *recipe,
               const HfChartRow *after)
{
  guint n = shop != NULL && shop->chart != NULL ? shop->chart->len : 0, first = 0;
  double nearest = INFINITY;
  for (guint i = 0; i < n; i++) {
    const HfChartRow *row = &g_array_index(shop->chart, HfChartRow, i);
    nearest = fmin(nearest, row_off(row, process, recipe));
    if (row == after)
      first = i + 1;
  }
  for (guint i = first; i < n && isfinite(nearest); i++) {
    const HfChartRow *row = &g_array_index(shop->chart, HfChartRow, i);
    if (row_off(row, process, recipe) <= nearest + SAME_ROW_KERF)
      return row;
  }
  return NULL;
}

gboolean
hf_process_of(const HfRecipe *recipe, const HfShop *shop, HfProcess *ret_process, GError **error)
{
  const HfMetalKind *metal = recipe->metal != NULL ? hf_metal(recipe->metal) : NULL;
  if (metal == NULL) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, recipe->file, "name one in the recipe",
                 "no metal that is known");
    return FALSE;
  }
  double kerf = recipe->kerf;
  if (recipe->row != NULL) {
    const HfChartRow *row = row_called(shop != NULL ? shop->chart : NULL, recipe->row);
    if (row == NULL)
      return refuse_row(recipe, shop, error);
    if (!row_fits(recipe, row, metal, error))
      return FALSE;
    if (isnan(kerf))
      kerf = row->kerf;
  }
  if (isnan(kerf) && shop != NULL)
    kerf = shop->kerf;
  if (isnan(kerf) && shop != NULL)
    kerf = kerf_from_chart(shop->chart, metal, recipe->thickness);
  if (isnan(kerf)) {
    refuse(recipe, shop, error);
    return FALSE;
  }
  double crater = recipe->crater;
  if (isnan(crater) && shop != NULL)
    crater = shop->crater;
  *ret_process = (HfProcess){.thickness = recipe->thickness,
                             .kerf = kerf,
                             .crater = isnan(crater) ? kerf : crater,
                             .density = metal->density,
                             .expansion = metal->expansion,
                             .metal = metal->key};
  return TRUE;
}
