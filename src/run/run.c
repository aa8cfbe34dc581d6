/* SPDX-License-Identifier: GPL-3.0-or-later
 * run.c - one recipe through the stages: text -> recipe -> layout -> metal -> hold check; then, for
 * each rule in it (ties, mending): its shapes -> metal -> hold check.
 */
#include "base/text.h"
#include "mend/mend.h"
#include "out/view.h"
#include "run/run-private.h"
#include "tie/tie.h"

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

static const double FIT_MM = 0.01;

typedef struct {
  const HfMetal *metal;
  const HfLayout *layout;
} Metal;

static gpointer
fit_metal(gpointer data)
{
  const Metal *what = data;
  return hf_fit_new(what->metal, what->layout, FIT_MM);
}

/* @fit: also finds the true curves of the metal, which needs nothing of the check: beside it. */
static gboolean
check_metal(HfRun *run, gboolean fit, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfMetal) metal = hf_metal_new(run->layout, error);
  if (metal == NULL || !hf_cancel_check(cancel, error))
    return FALSE;
  Metal what = {metal, run->layout};
  GThread *fitting = fit ? g_thread_new("fit", fit_metal, &what) : NULL;
  g_autoptr(HfHold) hold = hf_hold_check(run->recipe, run->shop, run->layout, metal, cancel, error);
  g_autoptr(HfFit) fitted = fitting != NULL ? g_thread_join(fitting) : NULL;
  if (hold == NULL)
    return FALSE;
  hf_fit_free(run->fit);
  hf_metal_free(run->metal);
  hf_hold_free(run->hold);
  run->fit = g_steal_pointer(&fitted);
  run->metal = g_steal_pointer(&metal);
  run->hold = g_steal_pointer(&hold);
  return TRUE;
}

/* A tie is never narrower than its limit, whatever the rule asks for: said with the width taken. */
static void
tell_wider(HfRun *run, const HfWork *work)
{
  const HfEntry *rule = run->recipe->entries->pdata[work->entry];
  double least = INFINITY;
  for (guint i = 0; i < work->ties->len; i++)
    least = fmin(least, g_array_index(work->ties, HfTie, i).width);
  if (rule->kind != HF_ENTRY_TIES || work->ties->len == 0 || !(least > rule->ties.width + 0.005))
    return;
  HfSolved solved = {work->entry, HF_SOLVED_TIE_WIDTH, least};
  g_array_append_val(run->layout->solved, solved);
  g_autofree char *asked = hf_text_mm(rule->ties.width), *taken = hf_text_mm(least);
  g_ptr_array_add(
      run->layout->notes,
      g_strdup_printf("%s: ties of %s were asked for, and their limit is more: they are "
                      "%s wide",
                      rule->name, asked, taken));
}

/* Parts are numbered anew by the next check: what could not be tied is kept by name. */
static void
take_work(HfRun *run, HfWork *work)
{
  for (guint i = 0; i < work->untied->len; i++) {
    const HfUntied *one = &g_array_index(work->untied, HfUntied, i);
    hf_layout_add_missed(run->layout, work->entry, one->at, one->name, one->why, one->help);
  }
  tell_wider(run, work);
  hf_layout_extend(run->layout, g_steal_pointer(&work->shapes));
  g_ptr_array_add(run->works, work);
}

static gboolean
is_rule(const HfRun *run, guint entry)
{
  HfEntryKind kind = ((const HfEntry *)run->recipe->entries->pdata[entry])->kind;
  return kind == HF_ENTRY_TIES || kind == HF_ENTRY_MEND;
}

/* Is the metal final, but for the rules before @entry? */
static gboolean
is_last(const HfRun *run, guint entry)
{
  for (guint i = entry; i < run->recipe->entries->len; i++)
    if (is_rule(run, i))
      return FALSE;
  return TRUE;
}

/* A rule sees the metal of all other entries, and of the rules before it. */
static gboolean
work_out_rule(HfRun *run, guint entry, const HfRunOptions *options, GError **error)
{
  HfEntryKind kind = ((const HfEntry *)run->recipe->entries->pdata[entry])->kind;
  HfPatient patient = {run->recipe, run->shop, run->layout, run->metal, run->hold, options->cancel};
  HfWork *work = kind == HF_ENTRY_TIES ? hf_cure_ties(&patient, entry, error)
                                       : hf_cure_mend(&patient, entry, error);
  if (work == NULL)
    return FALSE;
  gboolean changes = work->shapes->len > 0 || work->untied->len > 0;
  take_work(run, work);
  gboolean fit = options->shown && is_last(run, entry + 1);
  return !changes || check_metal(run, fit, options->cancel, error);
}

static gboolean
go_through(HfRun *run, const HfRunOptions *options, GError **error)
{
  if (!lay_out(run, error) || !hf_cancel_check(options->cancel, error) ||
      !check_metal(run, options->shown && is_last(run, 0), options->cancel, error))
    return FALSE;
  for (guint i = 0; i < run->recipe->entries->len; i++)
    if (is_rule(run, i) && !work_out_rule(run, i, options, error))
      return FALSE;
  return TRUE;
}

HfRun *
hf_run_recipe(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, const HfRunOptions *options,
              GError **error)
{
  g_autoptr(HfRun) run = g_new0(HfRun, 1);
  *run = (HfRun){.recipe = recipe, .shop = shop, .fonts = fonts};
  run->works = g_ptr_array_new_with_free_func((GDestroyNotify)hf_work_free);
  if (recipe == NULL || shop == NULL || !go_through(run, options, error))
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
  return hf_run_recipe(recipe, shop, hf_fonts_new(), options, error);
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
  g_autoptr(HfFit) own = run->fit == NULL ? hf_fit_new(run->metal, run->layout, FIT_MM) : NULL;
  HfSheetful what = hf_run_sheetful(run, run->fit != NULL ? run->fit : own);
  return hf_out_view(&what, run->works, revision);
}

GBytes *
hf_run_thumb(const HfRun *run)
{
  g_autoptr(HfFit) fit = hf_fit_new(run->metal, run->layout, FIT_MM);
  return hf_out_thumb(fit);
}

void
hf_run_free(HfRun *run)
{
  if (run == NULL)
    return;
  g_clear_pointer(&run->works, g_ptr_array_unref);
  hf_fit_free(run->fit);
  hf_hold_free(run->hold);
  hf_metal_free(run->metal);
  hf_layout_free(run->layout);
  hf_fonts_free(run->fonts);
  hf_shop_free(run->shop);
  hf_recipe_free(run->recipe);
  g_free(run);
}
