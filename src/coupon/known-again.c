/* SPDX-License-Identifier: GPL-3.0-or-later
 * known-again.c - a coupon found again in its recipe's text: all of it follows from the sheet, the
 * cut and the unit, which the recipe says.
 */
#include "coupon/coupon-private.h"
#include <string.h>

#define SAME_SIZE 0.05 /* mm: a gauge is rounded where it is written */

static gboolean
is_of(const HfCoupon *coupon, const HfRecipe *recipe)
{
  const HfEntry *board = recipe->entries->len > 0 ? hf_recipe_at(recipe, 0) : NULL;
  return board != NULL && board->kind == HF_ENTRY_PLATE &&
         fabs(board->plate.width - coupon->width) <= SAME_SIZE &&
         fabs(board->plate.height - coupon->height) <= SAME_SIZE;
}

/* As many entries as it would have, without the row of letters or with it. */
static gboolean
has_its_entries(const HfCoupon *coupon, const HfRecipe *recipe)
{
  static const char *const fonts[] = {NULL, "Allerta"};
  for (gsize i = 0; i < G_N_ELEMENTS(fonts); i++) {
    g_autofree char *text = hf_coupon_recipe(coupon, fonts[i], NULL);
    g_autoptr(HfRecipe) fresh = hf_recipe_read(text, strlen(text), NULL, NULL);
    if (fresh != NULL && fresh->entries->len == recipe->entries->len)
      return TRUE;
  }
  return FALSE;
}

HfCoupon *
hf_coupon_of_recipe(const char *text, gsize length)
{
  if (length < strlen(HF_COUPON_HEAD) || strncmp(text, HF_COUPON_HEAD, strlen(HF_COUPON_HEAD)) != 0)
    return NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, length, NULL, NULL);
  if (recipe == NULL || isnan(recipe->kerf) || isnan(recipe->thickness))
    return NULL;
  g_auto(HfUnitsScope) scope = hf_units_scope(recipe->units);
  HfProcess process = {.thickness = recipe->thickness,
                       .kerf = recipe->kerf,
                       .crater = isnan(recipe->crater) ? recipe->kerf : recipe->crater,
                       .metal = recipe->metal};
  g_autoptr(HfCoupon) coupon = hf_coupon_new(&process);
  return is_of(coupon, recipe) && has_its_entries(coupon, recipe) ? g_steal_pointer(&coupon) : NULL;
}
