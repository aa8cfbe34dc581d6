/* SPDX-License-Identifier: GPL-3.0-or-later
 * plan-private.h - what the files of the plan share.
 *
 *   loosened.c   what each path lets loose, and how that lies (drops.c)
 *   cut-order.c  starts and order, as a problem for tour/
 *   around.c     travels round what may have tipped up
 *   plan.c       the cuts, in their order
 */
#pragma once
#include "cut/plan.h"

/* One path of one placed sign. */
typedef struct {
  guint sign, path;
  gint parent;      /* job whose contour goes just round it; -1: none */
  HfRegion *region; /* that its contour goes round, sheet's frame */
  HfRegion *hull;   /* of that: one convex ring */
  HfBox box;        /* of that */
  gboolean is_part;
  HfDrop drop;
} HfPlanJob;

typedef struct {
  const HfPlaced *placed;
  guint n_placed;
  const HfPlanTable *table;
  double thickness;
  GArray *jobs; /* HfPlanJob */
  const HfCancel *cancel;
} HfPlanWork;

static inline HfPlanJob *
hf_plan_job(const HfPlanWork *work, guint i)
{
  return &g_array_index(work->jobs, HfPlanJob, i);
}
static inline const HfPaths *
hf_plan_paths(const HfPlanWork *work, const HfPlanJob *job)
{
  return work->placed[job->sign].paths;
}

/** hf_plan_find_jobs: fills `jobs`, sign after sign, path after path. %FALSE: @error is set. */
gboolean hf_plan_find_jobs(HfPlanWork *work, GError **error);

/** hf_plan_warm: 0..1, what the heat of one of two cuts that go round @a and @b, one right behind
 *  the other, is to the other. */
double hf_plan_warm(HfBox a, HfBox b);

/* Which job comes next, and from which of its starts. */
typedef struct {
  guint job, start; /* of HfPaths.starts */
} HfPlanTurn;

/** hf_plan_order: (transfer full) (element-type HfPlanTurn) one for each job, in their order; %NULL
 *  with @error. @effort: see hf_plan_new(). */
GArray *hf_plan_order(const HfPlanWork *work, guint64 effort, GError **error);

/** hf_plan_go: adds to @vias (HfPoint) where to go between @from and @to, @from and @to not among
 * them, so that none of the hulls in @tipped (element-type const HfPlanJob *) is met.
 * Returns: %FALSE: no such way was found, and nothing is added. */
gboolean hf_plan_go(const GPtrArray *tipped, HfPoint from, HfPoint to, GArray *vias);
