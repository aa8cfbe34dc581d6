/* SPDX-License-Identifier: GPL-3.0-or-later
 * sign.c - one recipe through the stages: layout -> metal -> hold check; and again, with what a
 * rule adds to the layout.
 *
 *   before:  recipe shop fonts | layout metal hold fit | works
 *   after:   . . shared . . .  | all four anew         | shared, or one more
 *
 * Cost of a pass: booleans and check of the whole sign (its edges have to be named again), and of
 * what is shared a count each. A sign that is let go frees what no other has.
 */
#include "base/beside.h"
#include "sign/sign-private.h"

static const double FIT_MM = 0.01;

/* Shares what @of has; layout, metal, hold, fit and works are the caller's to fill. */
HfSign *
hf_sign_beside(const HfSign *of)
{
  HfSign *sign = g_new0(HfSign, 1);
  sign->recipe = hf_recipe_ref((HfRecipe *)of->recipe);
  sign->shop = hf_shop_ref((HfShop *)of->shop);
  sign->fonts = of->fonts != NULL ? hf_fonts_ref((HfFonts *)of->fonts) : NULL;
  return sign;
}

HfSign *
hf_sign_ref(const HfSign *sign)
{
  HfSign *own = (HfSign *)sign;
  g_atomic_int_inc(&own->others);
  return own;
}

void
hf_sign_free(HfSign *sign)
{
  if (sign == NULL || g_atomic_int_add(&sign->others, -1) > 0)
    return;
  if (sign->works != NULL)
    g_ptr_array_unref((GPtrArray *)sign->works);
  if (sign->layers != NULL)
    g_ptr_array_unref((GPtrArray *)sign->layers);
  hf_fit_free((HfFit *)sign->fit);
  hf_hold_free((HfHold *)sign->hold);
  hf_metal_free((HfMetal *)sign->metal);
  hf_layout_free((HfLayout *)sign->layout);
  hf_fonts_free((HfFonts *)sign->fonts);
  hf_shop_free((HfShop *)sign->shop);
  hf_recipe_free((HfRecipe *)sign->recipe);
  g_free(sign);
}

/* ---- the stages -------------------------------------------------------------------------------
 */

/* How deep letters bite where the recipe leaves it to us hangs on the joint limit. */
static HfLayout *
lay_out(const HfRecipe *recipe, const HfShop *shop, HfFonts *fonts, const HfCancel *cancel,
        GError **error)
{
  HfProcess process;
  if (!hf_process_of(recipe, shop, &process, error))
    return NULL;
  HfLimit joint = hf_law_limit(HF_LAW_WEAK_JOINT, &process, shop, recipe);
  HfLayout *layout = hf_layout_new(recipe, fonts, joint.stop, cancel, error);
  if (layout != NULL)
    hf_layout_lower_dots(layout, recipe, joint.stop,
                         shop != NULL && shop->tie_dots == HF_TIE_DOTS_LOWERED);
  return layout;
}

typedef struct {
  const HfSign *sign;
  const HfCancel *cancel;
} Arcs;

static gpointer
find_arcs(gpointer data)
{
  const Arcs *arcs = data;
  return hf_fit_new_until(arcs->sign->metal, arcs->sign->layout, FIT_MM, arcs->cancel);
}

/* Of a sign that has its layout, and its metal or not. The true arcs need nothing of the check:
 * they are found beside it.
 */
gboolean
hf_sign_make_and_check(HfSign *sign, HfSignUse use, const HfCancel *cancel, GError **error)
{
  if (!hf_cancel_check(cancel, error))
    return FALSE;
  if (sign->metal == NULL)
    sign->metal = hf_metal_new(sign->layout, cancel, error);
  if (sign->metal == NULL || !hf_cancel_check(cancel, error))
    return FALSE;
  HfBeside fitting = {NULL, NULL};
  Arcs arcs = {sign, cancel};
  if (use == HF_SIGN_SHOWN)
    fitting = hf_beside("fit", find_arcs, &arcs);
  sign->hold = (use == HF_SIGN_TIED ? hf_hold_parts : hf_hold_check)(
      sign->recipe, sign->shop, sign->layout, sign->metal, cancel, error);
  sign->fit = hf_beside_end(&fitting);
  return sign->hold != NULL &&
         (use != HF_SIGN_SHOWN || sign->fit != NULL || hf_cancel_check(cancel, error));
}

HfSign *
hf_sign_new(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, HfSignUse use, const HfCancel *cancel,
            GError **error)
{
  g_autoptr(HfSign) sign =
      hf_sign_beside(&(HfSign){.recipe = recipe, .shop = shop, .fonts = fonts});
  sign->works = g_ptr_array_new_with_free_func((GDestroyNotify)hf_work_free);
  sign->layout = lay_out(recipe, shop, fonts, cancel, error);
  if (sign->layout == NULL || !hf_sign_make_and_check(sign, use, cancel, error))
    return NULL;
  return g_steal_pointer(&sign);
}

/* ---- one sign after another -------------------------------------------------------------------
 */

HfSign *
hf_sign_extended(const HfSign *sign, const HfLayoutMore *more, HfSignUse use,
                 const HfCancel *cancel, GError **error)
{
  static const HfLayoutMore nothing = {NULL};
  g_autoptr(HfSign) next = hf_sign_beside(sign);
  next->works = sign->works != NULL ? g_ptr_array_ref((GPtrArray *)sign->works) : NULL;
  next->layout = hf_layout_extended(sign->layout, more != NULL ? more : &nothing);
  return hf_sign_make_and_check(next, use, cancel, error) ? g_steal_pointer(&next) : NULL;
}

/* Shares everything. */
HfSign *
hf_sign_same_again(const HfSign *sign)
{
  HfSign *next = hf_sign_beside(sign);
  next->layout = hf_layout_ref((HfLayout *)sign->layout);
  next->metal = hf_metal_ref((HfMetal *)sign->metal);
  next->hold = hf_hold_ref((HfHold *)sign->hold);
  next->fit = sign->fit != NULL ? hf_fit_ref((HfFit *)sign->fit) : NULL;
  next->layers = sign->layers != NULL ? g_ptr_array_ref((GPtrArray *)sign->layers) : NULL;
  return next;
}

HfSign *
hf_sign_of(const HfSign *sign, const HfRecipe *recipe)
{
  HfSign *next = hf_sign_same_again(sign);
  hf_recipe_free((HfRecipe *)next->recipe);
  next->recipe = hf_recipe_ref((HfRecipe *)recipe);
  next->works = sign->works != NULL ? g_ptr_array_ref((GPtrArray *)sign->works) : NULL;
  return next;
}

HfSign *
hf_sign_worked(const HfSign *sign, HfWork *work)
{
  HfSign *next = hf_sign_same_again(sign);
  GPtrArray *works = g_ptr_array_new_with_free_func((GDestroyNotify)hf_work_free);
  for (guint i = 0; sign->works != NULL && i < sign->works->len; i++)
    g_ptr_array_add(works, hf_work_ref(sign->works->pdata[i]));
  g_ptr_array_add(works, work);
  next->works = works;
  return next;
}

HfSign *
hf_sign_with_found(const HfSign *sign, const HfCutFound *found, guint n)
{
  HfSign *next = hf_sign_same_again(sign);
  next->works = sign->works != NULL ? g_ptr_array_ref((GPtrArray *)sign->works) : NULL;
  next->frame = sign->frame;
  hf_hold_free((HfHold *)next->hold);
  next->hold = hf_hold_with_found(sign->hold, sign->recipe, found, n);
  return next;
}

HfSign *
hf_sign_checked(const HfSign *sign, const HfCancel *cancel, GError **error)
{
  if (!sign->hold->parts_only)
    return hf_sign_ref(sign);
  g_autoptr(HfSign) next = hf_sign_same_again(sign);
  next->works = sign->works != NULL ? g_ptr_array_ref((GPtrArray *)sign->works) : NULL;
  hf_hold_free((HfHold *)next->hold);
  next->hold = hf_hold_check(next->recipe, next->shop, next->layout, next->metal, cancel, error);
  return next->hold != NULL ? g_steal_pointer(&next) : NULL;
}

HfSign *
hf_sign_fitted(const HfSign *sign)
{
  if (sign->layers != NULL)
    return hf_sign_layers_fitted(sign);
  if (sign->fit != NULL)
    return hf_sign_ref(sign);
  HfSign *next = hf_sign_same_again(sign);
  next->works = sign->works != NULL ? g_ptr_array_ref((GPtrArray *)sign->works) : NULL;
  next->fit = hf_fit_new(next->metal, next->layout, FIT_MM);
  return next;
}
