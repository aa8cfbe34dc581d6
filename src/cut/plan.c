/* SPDX-License-Identifier: GPL-3.0-or-later
 * plan.c - the cuts of a sheet, in their order, stretch after stretch.
 */
#include "cut/plan-private.h"

/* Costs that tour/ may ask for: a floor, and so many for each pair of paths. */
#define EFFORT_LEAST  2000000.0
#define EFFORT_A_PATH 20000.0
#define EFFORT_MOST   100000000.0

void
hf_plan_free(HfPlan *plan)
{
  if (plan == NULL)
    return;
  for (guint i = 0; i < plan->cuts->len; i++)
    g_free(g_array_index(plan->cuts, HfCut, i).name);
  g_array_free(plan->cuts, TRUE);
  g_array_free(plan->stretches, TRUE);
  g_array_free(plan->vias, TRUE);
  g_free(plan);
}

static void
clear_job(gpointer data)
{
  HfPlanJob *job = data;
  hf_region_free(job->region);
  hf_region_free(job->hull);
}

static HfPlan *
plan_empty(const HfPlaced *placed, guint n)
{
  HfPlan *plan = g_new0(HfPlan, 1);
  plan->kerf = n > 0 ? placed[0].paths->kerf : 0;
  plan->cuts = g_array_new(FALSE, FALSE, sizeof(HfCut));
  plan->stretches = g_array_new(FALSE, FALSE, sizeof(HfCutStretch));
  plan->vias = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  plan->box = HF_BOX_EMPTY;
  for (guint i = 0; i < n; i++)
    plan->wished += placed[i].n_before;
  for (guint i = 0; i < n; i++)
    if (!hf_box_is_empty(placed[i].paths->box)) {
      HfBox box = placed[i].paths->box;
      plan->box = hf_box_union(plan->box, (HfBox){hf_point_add(box.min, placed[i].at),
                                                  hf_point_add(box.max, placed[i].at)});
    }
  return plan;
}

/* The way to @to, noted as the way to cut @cut (nullable: home). */
static void
travel(HfPlan *plan, const GPtrArray *tipped, HfPoint from, HfPoint to, HfCut *cut)
{
  guint first = plan->vias->len;
  if (!hf_plan_go(tipped, from, to, plan->vias))
    plan->over++;
  for (guint i = first; i < plan->vias->len; i++) {
    HfPoint via = g_array_index(plan->vias, HfPoint, i);
    plan->travel += hf_point_distance(from, via);
    from = via;
  }
  plan->travel += hf_point_distance(from, to);
  if (cut == NULL) {
    plan->n_home = plan->vias->len - first;
    return;
  }
  cut->first_via = first;
  cut->n_via = plan->vias->len - first;
}

static HfCut
cut_of(HfPlan *plan, const HfPlanWork *work, HfPlanTurn turn)
{
  const HfPlanJob *job = hf_plan_job(work, turn.job);
  const HfPaths *paths = hf_plan_paths(work, job);
  HfPoint at = work->placed[job->sign].at;
  HfCut cut = {.sign = job->sign,
               .path = job->path,
               .start = turn.start,
               .first = plan->stretches->len,
               .pierce = hf_point_add(hf_start(paths, turn.start)->pierce, at),
               .is_part = job->is_part,
               .drop = job->drop,
               .name = g_strdup(hf_torch_path(paths, job->path)->name)};
  cut.end = hf_paths_cut(paths, job->path, turn.start, at, plan->stretches);
  cut.n = plan->stretches->len - cut.first;
  for (guint i = 0; i < cut.n; i++)
    plan->length += hf_lead_length(&hf_plan_stretch(plan, cut.first + i)->curve);
  return cut;
}

static void
assemble(HfPlan *plan, const HfPlanWork *work, const GArray *turns)
{
  g_autoptr(GPtrArray) tipped = g_ptr_array_new();
  HfPoint here = {0, 0};
  for (guint i = 0; i < turns->len; i++) {
    HfPlanTurn turn = g_array_index(turns, HfPlanTurn, i);
    HfCut cut = cut_of(plan, work, turn);
    travel(plan, tipped, here, cut.pierce, &cut);
    here = cut.end;
    if (cut.drop == HF_DROP_TIPS)
      g_ptr_array_add(tipped, hf_plan_job(work, turn.job));
    g_array_append_val(plan->cuts, cut);
  }
  if (turns->len > 0)
    travel(plan, tipped, here, hf_point(0, 0), NULL);
}

HfPlan *
hf_plan_new(const HfPlaced *placed, guint n, const HfPlanTable *table, double thickness,
            guint64 work, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfPlan) plan = plan_empty(placed, n);
  g_autoptr(GArray) jobs = g_array_new(FALSE, TRUE, sizeof(HfPlanJob));
  g_array_set_clear_func(jobs, clear_job);
  HfPlanWork of = {placed, n, table, thickness, jobs, cancel};
  if (!hf_plan_find_jobs(&of, error))
    return NULL;
  double effort = CLAMP(EFFORT_A_PATH * jobs->len, EFFORT_LEAST, EFFORT_MOST);
  g_autoptr(GArray) turns = jobs->len == 0
                                ? g_array_new(FALSE, FALSE, sizeof(HfPlanTurn))
                                : hf_plan_order(&of, work > 0 ? work : (guint64)effort, error);
  if (turns == NULL)
    return NULL;
  assemble(plan, &of, turns);
  return g_steal_pointer(&plan);
}
