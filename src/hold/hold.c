/* SPDX-License-Identifier: GPL-3.0-or-later
 * hold.c - runs the check of every law over the metal and settles the verdict.
 *
 *   limits of this process -> checks, one after another -> findings -> whole or not
 *
 * Invariant: whole exactly when there is no stop.
 */
#include "hold/hold-private.h"

enum { EDGE_WORK = 3 }; /* units of work for each edge of the metal, its axes apart */

static void
part_clear(gpointer data)
{
  HfPart *part = data;
  g_free(part->name);
  g_clear_pointer(&part->shapes, g_array_unref);
}

HfHold *
hf_hold_new(void)
{
  HfHold *hold = g_new0(HfHold, 1);
  hold->findings = g_ptr_array_new_with_free_func((GDestroyNotify)hf_finding_free);
  hold->parts = g_array_new(FALSE, TRUE, sizeof(HfPart));
  g_array_set_clear_func(hold->parts, part_clear);
  hold->shown = g_array_new(FALSE, TRUE, sizeof(double));
  hold->webs = g_array_new(FALSE, TRUE, sizeof(HfWeb));
  hold->spots = g_array_new(FALSE, TRUE, sizeof(HfWebSpot));
  hold->hanging.turn = NAN;
  hold->studs = g_array_new(FALSE, TRUE, sizeof(HfStud));
  hold->hanging.shares = g_array_new(FALSE, TRUE, sizeof(double));
  return hold;
}

HfHold *
hf_hold_ref(HfHold *hold)
{
  g_atomic_int_inc(&hold->others);
  return hold;
}

void
hf_hold_free(HfHold *hold)
{
  if (hold == NULL || g_atomic_int_add(&hold->others, -1) > 0)
    return;
  g_ptr_array_unref(hold->findings);
  g_array_unref(hold->parts);
  hf_region_free(hold->cut);
  g_array_unref(hold->shown);
  g_array_unref(hold->webs);
  g_array_unref(hold->spots);
  g_array_unref(hold->hanging.shares);
  g_array_unref(hold->studs);
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
  double widest = 0;
  for (guint i = 0; i < HF_N_LAWS; i++) {
    HfMeasures measures = hf_law((HfLawKind)i)->measures;
    if (measures == HF_MEASURES_METAL || measures == HF_MEASURES_GAP)
      widest = fmax(widest, check->hold->limits[i].caution);
  }
  return widest;
}

/* Checks that have run. */
typedef struct {
  HfCheckFunc of[HF_N_LAWS];
  guint n;
} Done;

static gboolean
was_run(const Done *done, HfCheckFunc func)
{
  for (guint i = 0; i < done->n; i++)
    if (done->of[i] == func)
      return TRUE;
  return FALSE;
}

/* Once each, and first the one whose work it reads. */
static gboolean
run_check(HfCheck *check, const HfLaw *law, Done *done, GError **error)
{
  if (law->check == NULL || was_run(done, law->check))
    return TRUE;
  if (law->after != NULL && !run_check(check, law->after, done, error))
    return FALSE;
  done->of[done->n++] = law->check;
  return hf_cancel_check(check->cancel, error) && law->check(check, error);
}

static gboolean
run_checks(HfCheck *check, GError **error)
{
  Done done = {.n = 0};
  for (guint i = 0; i < HF_N_LAWS; i++)
    if (!run_check(check, hf_law((HfLawKind)i), &done, error))
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

/* What is asked of the metal that there is. */
static gboolean
look(HfCheck *check, GError **error)
{
  g_autoptr(HfIndex) index = hf_index_new(check->metal->region, hf_check_widest(check));
  check->index = index;
  hf_cancel_count(check->cancel, EDGE_WORK * hf_region_n_edges(check->metal->region));
  gboolean done;
  if (check->hold->parts_only) {
    Done none = {.n = 0};
    done = run_check(check, hf_law(HF_LAW_LOOSE_PART), &none, error);
  } else {
    hf_gaps_begin(check);
    done = run_checks(check, error);
    hf_gaps_end(check);
  }
  g_clear_pointer(&check->cuts, g_array_unref);
  g_clear_pointer(&check->touches, g_array_unref);
  check->index = NULL;
  return done;
}

static HfHold *
hold_of(HfCheck *check, gboolean parts_only, GError **error)
{
  g_autoptr(HfHold) hold = hf_hold_new();
  if (!hf_law_check_overrides(check->recipe, check->shop, error) ||
      !hf_process_of(check->recipe, check->shop, &hold->process, error))
    return NULL;
  set_limits(hold, check->shop, check->recipe);
  set_figures(hold, check->metal->region);
  hold->parts_only = parts_only;
  check->hold = hold;
  if (hf_region_is_empty(check->metal->region)) {
    hold->centroid = check->layout->centre;
    hf_check_add(check, HF_LAW_NO_METAL, NAN, check->layout->centre);
  } else if (!look(check, error))
    return NULL;
  if (!parts_only) {
    hf_findings_size_ornaments(check);
    hf_findings_settle(check);
  }
  hold->whole = !parts_only && !has_stop(hold);
  return g_steal_pointer(&hold);
}

HfHold *
hf_hold_check(const HfRecipe *recipe, const HfShop *shop, const HfLayout *layout,
              const HfMetal *metal, const HfCancel *cancel, GError **error)
{
  HfCheck check = {
      .recipe = recipe, .shop = shop, .layout = layout, .metal = metal, .cancel = cancel};
  return hold_of(&check, FALSE, error);
}

HfHold *
hf_hold_parts(const HfRecipe *recipe, const HfShop *shop, const HfLayout *layout,
              const HfMetal *metal, const HfCancel *cancel, GError **error)
{
  HfCheck check = {
      .recipe = recipe, .shop = shop, .layout = layout, .metal = metal, .cancel = cancel};
  return hold_of(&check, TRUE, error);
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_no_metal_law = {
    .key = "no-metal",
    .quantity = "sign without metal",
    .unit = "",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "there is nothing to cut",
    .what = "there is no metal",
    .fix = "add an entry that is metal",
    .cures = HF_CURES("plate"),
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
