/* SPDX-License-Identifier: GPL-3.0-or-later
 * run-private.h - one run beside others: shop and fonts are read once.
 */
#pragma once
#include "cure/cure.h"
#include "run/run.h"

/** hf_run_recipe: (transfer full) or %NULL with the stage's error; shares @recipe, @shop, @fonts.
 */
HfSign *hf_run_recipe(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, const HfRunOptions *options,
                      GError **error);

/** hf_run_goes_on: has @recipe, which begins as that of @given does, nothing but rules behind that,
 *  none of which moves letters? */
gboolean hf_run_goes_on(const HfSign *given, const HfRecipe *recipe);
/** hf_run_on: (transfer full) the sign of such a recipe, from @given, the sign of what it begins
 *  with: only the rules are worked out. The same sign as by hf_run_recipe(). %NULL as that. */
HfSign *hf_run_on(const HfSign *given, const HfRecipe *recipe, const HfCancel *cancel,
                  GError **error);

/** hf_run_try: (cures.c) HfTryFunc: what the search for cures is handed. */
HfSign *hf_run_try(const HfSign *given, const HfTrialText *text, HfFonts *fonts,
                   const HfCancel *cancel);
