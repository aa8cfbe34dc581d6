/* SPDX-License-Identifier: GPL-3.0-or-later
 * run.c - one recipe through the stages: text -> recipe -> sign; then, for each rule in it (ties,
 * mending), the next sign: a rule sees the metal of all other entries, and of the rules before it.
 */
#include "mend/mend.h"
#include "out/view.h"
#include "run/run-private.h"
#include "tie/tie.h"

typedef HfSign *(*Rule)(const HfSign *sign, guint entry, HfSignUse use, const HfCancel *cancel,
                        GError **error);

static const Rule rules[HF_N_ENTRY_KINDS] = {
    [HF_ENTRY_TIES] = hf_tie,
    [HF_ENTRY_MEND] = hf_mend,
};

/* Of a recipe as one layer sees it: that works in this layer. */
static Rule
rule_of(const HfRecipe *recipe, guint entry)
{
  const HfEntry *e = hf_recipe_at(recipe, entry);
  return hf_entry_is_in(e, recipe->in_layer) ? rules[e->kind] : NULL;
}

/* Of a sign in which all rules before @entry are laid: the next one says what it reads of it. */
static HfSignUse
use_of(const HfRecipe *recipe, guint entry, gboolean shown)
{
  for (guint i = entry; i < recipe->entries->len; i++) {
    Rule rule = rule_of(recipe, i);
    if (rule != NULL)
      return rule == hf_tie ? HF_SIGN_TIED : HF_SIGN_CHECKED;
  }
  return shown ? HF_SIGN_SHOWN : HF_SIGN_CHECKED;
}

/* Takes @sign (nullable: the error is set). A rule for ties that found nothing to tie leaves it as
 * far as it was looked at. */
static HfSign *
checked(HfSign *sign, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfSign) own = sign;
  return own != NULL ? hf_sign_checked(own, cancel, error) : NULL;
}

/* Takes @sign (nullable: the error is set). Works out its rules from entry @first on. */
static HfSign *
work_out(HfSign *sign, guint first, gboolean shown, const HfCancel *cancel, GError **error)
{
  for (guint i = first; sign != NULL && i < sign->recipe->entries->len; i++) {
    Rule rule = rule_of(sign->recipe, i);
    if (rule == NULL)
      continue;
    if (rule != hf_tie)
      sign = checked(sign, cancel, error);
    if (sign == NULL)
      return NULL;
    HfSign *next = rule(sign, i, use_of(sign->recipe, i + 1, shown), cancel, error);
    hf_sign_free(sign);
    sign = next;
  }
  return checked(sign, cancel, error);
}

/* ---- several sheets ---------------------------------------------------------------------------
 */

static HfSignUse
use_of_layer(const HfRecipe *seen, gpointer shown)
{
  return use_of(seen, 0, *(const gboolean *)shown);
}

/* Takes @layers (nullable: the error is set), as they were drawn or as rules left them before entry
 * @first. */
static HfSign *
work_out_layers(const HfRecipe *recipe, GPtrArray *layers, guint first, gboolean shown,
                const HfCancel *cancel, GError **error)
{
  g_autoptr(GPtrArray) own = layers;
  for (guint i = 0; own != NULL && i < own->len; i++) {
    HfSign *layer = g_steal_pointer(&own->pdata[i]);
    own->pdata[i] = work_out(layer, first, shown, cancel, error);
    if (own->pdata[i] == NULL)
      return NULL;
  }
  return own != NULL ? hf_sign_joined(recipe, g_steal_pointer(&own)) : NULL;
}

static HfSign *
begin_layers(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, gboolean shown, const HfCancel *cancel,
             GError **error)
{
  GPtrArray *drawn = hf_sign_new_layers(recipe, shop, fonts, use_of_layer, &shown, cancel, error);
  return work_out_layers(recipe, drawn, 0, shown, cancel, error);
}

/* The layers of @given, as those of @recipe, which only has rules behind that are to be worked out.
 */
static HfSign *
go_on_layers(const HfSign *given, const HfRecipe *recipe, const HfCancel *cancel, GError **error)
{
  GPtrArray *layers = g_ptr_array_new_with_free_func((GDestroyNotify)hf_sign_free);
  for (guint i = 0; i < hf_sign_n_layers(given); i++) {
    const HfSign *layer = hf_sign_layer(given, i);
    g_autoptr(HfRecipe) seen =
        hf_recipe_in_layer((HfRecipe *)recipe, layer->recipe->in_layer, layer->recipe->mount);
    g_ptr_array_add(layers, hf_sign_of(layer, seen));
  }
  return work_out_layers(recipe, layers, given->recipe->entries->len, FALSE, cancel, error);
}

/* ---- a recipe ---------------------------------------------------------------------------------
 */

HfSign *
hf_run_recipe(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, const HfRunOptions *options,
              GError **error)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(recipe->units);
  HfCancel counted = {.of = options->cancel};
  gboolean shown = options->shown;
  HfSign *sign = NULL;
  if (hf_recipe_is_layered(recipe)) {
    sign = begin_layers(recipe, shop, fonts, shown, &counted, error);
  } else {
    sign = hf_sign_new(recipe, shop, fonts, use_of(recipe, 0, shown), &counted, error);
    sign = work_out(sign, 0, shown, &counted, error);
  }
  if (sign != NULL)
    sign->work = hf_cancel_work(&counted);
  return sign;
}

HfSign *
hf_run_on(const HfSign *given, const HfRecipe *recipe, const HfCancel *cancel, GError **error)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(given->recipe->units);
  HfCancel counted = {.of = cancel};
  guint n = given->recipe->entries->len;
  HfSign *sign = given->layers != NULL
                     ? go_on_layers(given, recipe, &counted, error)
                     : work_out(hf_sign_of(given, recipe), n, FALSE, &counted, error);
  if (sign != NULL)
    sign->work = given->work + hf_cancel_work(&counted);
  return sign;
}

gboolean
hf_run_goes_on(const HfSign *given, const HfRecipe *recipe)
{
  gboolean lowers = given->shop != NULL && given->shop->tie_dots == HF_TIE_DOTS_LOWERED;
  guint n = given->recipe->entries->len;
  for (guint i = n; i < recipe->entries->len; i++)
    if (rule_of(recipe, i) == NULL || hf_layout_lowers_dots(hf_recipe_at(recipe, i), lowers))
      return FALSE;
  return recipe->entries->len > n;
}

/* Takes @recipe (nullable: the error is set). */
static HfSign *
run_recipe(HfRecipe *recipe, const char *file, const HfRunOptions *options, GError **error)
{
  g_autoptr(HfRecipe) own = recipe;
  if (own == NULL)
    return NULL;
  g_auto(HfUnitsScope) scope = hf_units_scope(own->units);
  g_autoptr(HfShop) shop = options->shop_file != NULL ? hf_shop_read_file(options->shop_file, error)
                                                      : hf_shop_find(file, error);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  return shop != NULL ? hf_run_recipe(own, shop, fonts, options, error) : NULL;
}

HfSign *
hf_run_file(const char *file, const HfRunOptions *options, GError **error)
{
  g_autoptr(GBytes) bytes = hf_run_given(file, options->order, error);
  if (bytes == NULL)
    return NULL;
  gsize length = 0;
  const char *text = g_bytes_get_data(bytes, &length);
  return hf_run_text(text, length, file, options, error);
}

HfSign *
hf_run_text(const char *text, gsize length, const char *file, const HfRunOptions *options,
            GError **error)
{
  return run_recipe(hf_recipe_read(text, length, file, error), file, options, error);
}

GBytes *
hf_run_view(const HfSign *sign, guint64 revision, const HfCancel *cancel)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(sign->recipe->units);
  g_autoptr(HfSign) shown = hf_sign_fitted(sign);
  return hf_out_view(shown, revision, cancel);
}

GBytes *
hf_run_thumb(const HfSign *sign)
{
  g_autoptr(HfSign) shown = hf_sign_fitted(sign);
  return hf_out_thumb(shown->fit);
}
