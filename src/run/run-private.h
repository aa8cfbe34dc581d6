/* SPDX-License-Identifier: GPL-3.0-or-later
 * run-private.h - one run beside others: shop and fonts are read once.
 */
#pragma once
#include "run/run.h"

/** hf_run_recipe: takes @recipe, @shop and @fonts, also on failure; @recipe or @shop may be %NULL,
 *  the error being set already. */
HfRun *hf_run_recipe(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, const HfRunOptions *options,
                     GError **error);
