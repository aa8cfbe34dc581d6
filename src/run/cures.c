/* SPDX-License-Identifier: GPL-3.0-or-later
 * cures.c - what the search for cures does not know: how a sign is made from a text.
 */
#include "run/cures.h"
#include "out/change.h"
#include "run/run-private.h"

HfSign *
hf_run_try(const HfSign *given, const HfTrialText *text, HfFonts *fonts, const HfCancel *cancel)
{
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text->text, text->length, given->recipe->file, NULL);
  HfRunOptions options = {NULL, cancel, FALSE};
  if (recipe == NULL)
    return NULL;
  if (text->goes_on && hf_run_goes_on(given, recipe))
    return hf_run_on(given, recipe, cancel, NULL);
  return hf_run_recipe(recipe, (HfShop *)given->shop, fonts, &options, NULL);
}

GPtrArray *
hf_run_cures(const HfSign *sign, const char *text, gsize length, const HfCuresOptions *options,
             GError **error)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(sign->recipe->units);
  return hf_cures_find(sign, text, length, hf_run_try, options, error);
}

const HfCured *
hf_run_cures_best(const GPtrArray *cures)
{
  return hf_cures_best(cures);
}

GBytes *
hf_cured_picture(const HfSign *before, const HfCured *cured, guint pixels)
{
  double apart = hf_spread_of(before);
  g_autoptr(HfRegion) then = hf_sign_spread(before, apart),
                      now = hf_sign_spread(cured->sign, apart);
  return hf_out_change(then, now, pixels);
}
