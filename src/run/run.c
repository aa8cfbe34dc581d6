/* SPDX-License-Identifier: GPL-3.0-or-later
 * run.c - one recipe through the stages: text -> recipe -> layout -> metal -> hold check.
 */
#include "run/run.h"

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
go_through(HfRun *run, const HfCancel *cancel, GError **error)
{
  if (!lay_out(run, error) || !hf_cancel_check(cancel, error))
    return FALSE;
  run->metal = hf_metal_new(run->layout, error);
  if (run->metal == NULL || !hf_cancel_check(cancel, error))
    return FALSE;
  run->hold = hf_hold_check(run->recipe, run->shop, run->layout, run->metal, cancel, error);
  return run->hold != NULL;
}

/* Takes @recipe, also on failure. */
static HfRun *
run_recipe(HfRecipe *recipe, const char *file, const HfRunOptions *options, GError **error)
{
  g_autoptr(HfRun) run = g_new0(HfRun, 1);
  run->recipe = recipe;
  if (recipe == NULL)
    return NULL;
  run->shop = options->shop_file != NULL ? hf_shop_read_file(options->shop_file, error)
                                         : hf_shop_find(file, error);
  run->fonts = hf_fonts_new();
  if (run->shop == NULL || !go_through(run, options->cancel, error))
    return NULL;
  return g_steal_pointer(&run);
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

void
hf_run_free(HfRun *run)
{
  if (run == NULL)
    return;
  hf_hold_free(run->hold);
  hf_metal_free(run->metal);
  hf_layout_free(run->layout);
  hf_fonts_free(run->fonts);
  hf_shop_free(run->shop);
  hf_recipe_free(run->recipe);
  g_free(run);
}
