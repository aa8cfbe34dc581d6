/* SPDX-License-Identifier: GPL-3.0-or-later
 * run-private.h - one run beside others: shop and fonts are read once.
 */
#pragma once
#include "run/run.h"

/** hf_run_recipe: (transfer full) or %NULL with the stage's error; shares @recipe, @shop, @fonts.
 */
HfSign *hf_run_recipe(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, const HfRunOptions *options,
                      GError **error);

/** hf_run_try: (cures.c) HfTryFunc: what the search for cures is handed. */
HfSign *hf_run_try(const HfSign *given, const char *text, gsize length, HfFonts *fonts,
                   const HfCancel *cancel);
