/* SPDX-License-Identifier: GPL-3.0-or-later
 * hold.c - runs every check over the metal and settles the verdict.
 *
 *   limits of this process -> checks, one after another -> findings -> whole or not
 *
 * Invariant: whole exactly when there is no stop.
 */
#include "hold/hold-private.h"

/* In this order: later checks may use what earlier ones left in HfHold (webs, then parts). */
static const HfCheckFunc checks[] = {
    hf_check_webs,      /* thin metal, joints */
    hf_check_parts,     /* what holds together */
    hf_check_openings,  /* room for the pierce */
    hf_check_gaps,      /* room for the kerf */
    hf_check_points,    /* what can hurt */
    hf_check_strips,    /* what bows from heat */
    hf_check_letters,   /* what is hard to read */
    hf_check_hidden,    /* letters and holes that do not show */
    hf_check_off_metal, /* letters that run off the plate */
    hf_check_size,      /* table and sheet */
    hf_check_hanging,   /* level, weight, feet */
    hf_check_pins,      /* ties that were left out */
    hf_check_ties,      /* what one tie holds alone */
};

static void
part_clear(gpointer data)
{
  HfPart *part = data;
  g_free(part->name);
  g_clear_pointer(&part->shapes, g_array_unref);
}

static HfHold *
hold_new(void)
{
  HfHold *hold = g_new0(HfHold, 1);
  hold->findings = g_ptr_array_new_with_free_func((GDestroyNotify)hf_finding_free);
  hold->parts = g_array_new(FALSE, TRUE, sizeof(HfPart));
  g_array_set_clear_func(hold->parts, part_clear);
  hold->shown = g_array_new(FALSE, TRUE, sizeof(double));
  hold->webs = g_array_new(FALSE, TRUE, sizeof(HfWeb));
  hold->spots = g_array_new(FALSE, TRUE, sizeof(HfWebSpot));
  hold->hanging.turn = NAN;
  hold->hanging.shares = g_array_new(FALSE, TRUE, sizeof(double));
  return hold;
}

void
hf_hold_free(HfHold *hold)
{
  if (hold == NULL)
    return;
  g_ptr_array_unref(hold->findings);
  g_array_unref(hold->parts);
  hf_region_free(hold->cut);
  g_array_unref(hold->shown);
  g_array_unref(hold->webs);
  g_array_unref(hold->spots);
  g_array_unref(hold->hanging.shares);
  g_free(hold);
}

static void
set_limits(HfHold *hold, const HfShop *shop, const HfRecipe *recipe)
{
  for (guint i = 0; i < HF_N_LAWS; i++)
    hold->limits[i] = hf_law_limit((HfLawKind)i, &hold->process, shop, recipe);
  for (guint i = 0; i < HF_N_FIGURES; i++)
    hold->figures[i] = hf_law_figure((HfFigure)i, shop, recipe, NULL);
}

static void
set_figures(HfHold *hold, const HfRegion *region)
{
  hold->area = hf_region_area(region);
  hold->mass = hold->area * hold->process.thickness * hold->process.density * 1e-9;
  hold->cut_length = hf_region_perimeter(region);
  hold->pierces = region->rings->len;
  hold->centroid = hf_region_centroid(region);
  hold->box = hf_region_box(region);
}

double
hf_check_widest(const HfCheck *check)
{
  static const HfLawKind widths[] = {HF_LAW_THIN_WEB,     HF_LAW_THIN_LONG_WEB,
                                     HF_LAW_WEAK_JOINT,   HF_LAW_NARROW_GAP,
                                     HF_LAW_RUN_TOGETHER, HF_LAW_HOLE_NEAR_EDGE};
  double widest = 0;
  for (guint i = 0; i < G_N_ELEMENTS(widths); i++)
    widest = fmax(widest, check->hold->limits[widths[i]].caution);
  return widest;
}

static gboolean
run_checks(HfCheck *check, GError **error)
{
  for (guint i = 0; i < G_N_ELEMENTS(checks); i++)
    if (!hf_cancel_check(check->cancel, error) || !checks[i](check, error))
      return FALSE;
  return TRUE;
}

static gboolean
has_stop(const HfHold *hold)
{
  for (guint i = 0; i < hold->findings->len; i++)
    if (((const HfFinding *)hold->findings->pdata[i])->gravity == HF_STOP)
      return TRUE;
  return FALSE;
}

HfHold *
hf_hold_check(const HfRecipe *recipe, const HfShop *shop, const HfLayout *layout,
              const HfMetal *metal, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfHold) hold = hold_new();
  if (!hf_law_check_overrides(recipe, shop, error) ||
      !hf_process_of(recipe, shop, &hold->process, error))
    return NULL;
  set_limits(hold, shop, recipe);
  set_figures(hold, metal->region);
  HfCheck check = {.recipe = recipe,
                   .shop = shop,
                   .layout = layout,
                   .metal = metal,
                   .cancel = cancel,
                   .hold = hold};
  if (hf_region_is_empty(metal->region)) {
    hold->centroid = layout->centre;
    hf_check_add(&check, HF_LAW_NO_METAL, NAN, layout->centre);
  } else {
    g_autoptr(HfIndex) index = hf_index_new(metal->region, hf_check_widest(&check));
    check.index = index;
    hf_gaps_begin(&check);
    gboolean done = run_checks(&check, error);
    hf_gaps_end(&check);
    g_clear_pointer(&check.cuts, g_array_unref);
    g_clear_pointer(&check.touches, g_array_unref);
    if (!done)
      return NULL;
  }
  hf_findings_settle(&check);
  hold->whole = !has_stop(hold);
  return g_steal_pointer(&hold);
}
