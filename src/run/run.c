/* SPDX-License-Identifier: GPL-3.0-or-later
 * run.c - one recipe through the stages: text -> recipe -> layout -> metal -> hold check; then, for
 * each rule in it (ties, mending): its shapes -> metal -> hold check.
 */
#include "out/view.h"
#include "run/run-private.h"

/* How deep letters bite where the recipe leaves it to us hangs on the joint limit. */
static gboolean
lay_out(HfRun *run, GError **error)
{
  HfProcess process;
  if (!hf_process_of(run->recipe, run->shop, &process, error))
    return FALSE;
  HfLimit joint = hf_law_limit(HF_LAW_WEAK_JOINT, &process, run->shop, run->recipe);
  run->layout = hf_layout_new(run->recipe, run->fonts, joint.stop, error);
  return run->layout != NULL;
}

static gboolean
check_metal(HfRun *run, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfMetal) metal = hf_metal_new(run->layout, error);
  if (metal == NULL || !hf_cancel_check(cancel, error))
    return FALSE;
  g_autoptr(HfHold) hold = hf_hold_check(run->recipe, run->shop, run->layout, metal, cancel, error);
  if (hold == NULL)
    return FALSE;
  hf_metal_free(run->metal);
  hf_hold_free(run->hold);
  run->metal = g_steal_pointer(&metal);
  run->hold = g_steal_pointer(&hold);
  return TRUE;
}

/* Parts are numbered anew by the next check: what could not be tied is kept by name. */
static void
take_work(HfRun *run, HfWork *work)
{
  for (guint i = 0; i < work->untied->len; i++) {
    const HfUntied *one = &g_array_index(work->untied, HfUntied, i);
    hf_layout_add_missed(run->layout, work->entry, one->at, one->name, one->why, one->help);
  }
  hf_layout_extend(run->layout, g_steal_pointer(&work->shapes));
  g_ptr_array_add(run->works, work);
}

/* A rule sees the metal of all other entries, and of the rules before it. */
static gboolean
work_out_rule(HfRun *run, guint entry, const HfCancel *cancel, GError **error)
{
  HfEntryKind kind = ((const HfEntry *)run->recipe->entries->pdata[entry])->kind;
  HfPatient patient = {run->recipe, run->shop, run->layout, run->metal, run->hold, cancel};
  HfWork *work = NULL;
  if (kind == HF_ENTRY_TIES)
    work = hf_cure_ties(&patient, entry, error);
  else if (kind == HF_ENTRY_MEND)
    work = hf_cure_mend(&patient, entry, error);
  else
    return TRUE;
  if (work == NULL)
    return FALSE;
  gboolean changes = work->shapes->len > 0 || work->untied->len > 0;
  take_work(run, work);
  return !changes || check_metal(run, cancel, error);
}

static gboolean
go_through(HfRun *run, const HfCancel *cancel, GError **error)
{
  if (!lay_out(run, error) || !hf_cancel_check(cancel, error) || !check_metal(run, cancel, error))
    return FALSE;
  for (guint i = 0; i < run->recipe->entries->len; i++)
    if (!work_out_rule(run, i, cancel, error))
      return FALSE;
  return TRUE;
}

HfRun *
hf_run_recipe(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, const HfCancel *cancel,
              GError **error)
{
  g_autoptr(HfRun) run = g_new0(HfRun, 1);
  *run = (HfRun){.recipe = recipe, .shop = shop, .fonts = fonts};
  run->works = g_ptr_array_new_with_free_func((GDestroyNotify)hf_work_free);
  if (recipe == NULL || shop == NULL || !go_through(run, cancel, error))
    return NULL;
  return g_steal_pointer(&run);
}

/* Takes @recipe, also on failure. */
static HfRun *
run_recipe(HfRecipe *recipe, const char *file, const HfRunOptions *options, GError **error)
{
  if (recipe == NULL)
    return NULL;
  HfShop *shop = options->shop_file != NULL ? hf_shop_read_file(options->shop_file, error)
                                            : hf_shop_find(file, error);
  return hf_run_recipe(recipe, shop, hf_fonts_new(), options->cancel, error);
}

HfRun *
hf_run_file(const char *file, const HfRunOptions *options, GError **error)
{
  return run_recipe(hf_recipe_read_file(file, error), file, options, error);
}

HfRun *
hf_run_text(const char *text, gsize length, const char *file, const HfRunOptions *options,
            GError **error)
{
  return run_recipe(hf_recipe_read(text, length, file, error), file, options, error);
}

HfSheetful
hf_run_sheetful(const HfRun *run, const HfFit *fit)
{
  return (HfSheetful){.recipe = run->recipe,
                      .shop = run->shop,
                      .layout = run->layout,
                      .metal = run->metal,
                      .hold = run->hold,
                      .fit = fit,
                      .works = run->works};
}

GBytes *
hf_run_view(const HfRun *run, guint64 revision)
{
  g_autoptr(HfFit) fit = hf_fit_new(run->metal, run->layout, 0.01);
  HfSheetful what = hf_run_sheetful(run, fit);
  return hf_out_view(&what, run->works, revision);
}

GBytes *
hf_run_thumb(const HfRun *run)
{
  g_autoptr(HfFit) fit = hf_fit_new(run->metal, run->layout, 0.01);
  return hf_out_thumb(fit);
}

void
hf_run_free(HfRun *run)
{
  if (run == NULL)
    return;
  g_clear_pointer(&run->works, g_ptr_array_unref);
  hf_hold_free(run->hold);
  hf_metal_free(run->metal);
  hf_layout_free(run->layout);
  hf_fonts_free(run->fonts);
  hf_shop_free(run->shop);
  hf_recipe_free(run->recipe);
  g_free(run);
}
