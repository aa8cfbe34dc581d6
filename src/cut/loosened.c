/* SPDX-License-Identifier: GPL-3.0-or-later
 * loosened.c - the paths of all signs on the sheet, what each lets loose, and how that lies.
 *
 *      path ___________        drop = what its path goes round, less half the kerf,
 *          |  _      o |              less what was cut out of it before, with half the kerf
 *          | |_| o     |       A part is judged likewise: it can tip as well.
 *          |___________|
 */
#include "cut/plan-private.h"
#include "geom/hull.h"

#define CHORD_MM 0.05 /* of a drop's edge: how it lies hangs on no less */

/* Its contour as a clean region, in the sheet's frame. */
static HfRegion *
region_of(const HfPaths *paths, guint contour, HfPoint at)
{
  guint n = 0;
  const HfCurve *curves = hf_outline_contour(paths->outline, contour, &n);
  g_autoptr(HfRegion) raw = hf_region_new();
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  for (guint i = 0; i < n; i++) {
    guint steps = hf_curve_steps(&curves[i], CHORD_MM);
    for (guint k = 0; k < steps; k++) {
      HfGrid g = hf_grid_snap(hf_point_add(hf_curve_point(&curves[i], (double)k / steps), at));
      g_array_append_val(points, g);
    }
  }
  hf_region_add_ring(raw, (const HfGrid *)(void *)points->data, NULL, points->len);
  return hf_region_clean(raw);
}

/* The hull of its contour; of one that is none a point's worth. */
static HfRegion *
hull_of(const HfRegion *region)
{
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  for (guint r = 0; r < region->rings->len; r++)
    g_array_append_vals(points, hf_region_ring(region, r)->at, hf_region_ring(region, r)->n);
  return hf_hull_of((const HfGrid *)(void *)points->data, points->len);
}

/* How wide it is across the slats. */
static double
width_across(const HfRegion *region, double angle)
{
  double from = INFINITY, to = -INFINITY, c = cos(angle), s = sin(angle);
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      HfPoint p = hf_grid_point(hf_region_ring(region, r)->at[v]);
      from = fmin(from, c * p.y - s * p.x);
      to = fmax(to, c * p.y - s * p.x);
    }
  return to - from;
}

/* What of @whole is left when what lies in it has been cut out, each by its own region. */
static HfDrop
judge(const HfPlanWork *work, guint i, GPtrArray *regions, const GPtrArray *inner)
{
  const HfRegion *whole = regions->pdata[i];
  double half = hf_plan_paths(work, hf_plan_job(work, i))->kerf / 2;
  if (!(work->table->slat_pitch > 0) ||
      width_across(whole, work->table->slat_angle) - 2 * half < work->table->slat_pitch)
    return HF_DROP_FALLS;
  g_autoptr(HfRegion) kept = hf_region_offset(whole, -half, CHORD_MM);
  if (inner->len > 0) {
    g_autoptr(HfRegion) out = hf_region_union((const HfRegion *const *)inner->pdata, inner->len);
    g_autoptr(HfRegion) wide = hf_region_offset(out, half, CHORD_MM);
    g_autoptr(HfRegion) rest = hf_region_subtract(kept, wide);
    return hf_drop_judge(rest, work->table);
  }
  return hf_drop_judge(kept, work->table);
}

static void
add_jobs(HfPlanWork *work, guint sign)
{
  const HfPaths *paths = work->placed[sign].paths;
  guint before = work->jobs->len;
  for (guint i = 0; i < paths->paths->len; i++) {
    const HfTorchPath *path = hf_torch_path(paths, i);
    HfPlanJob job = {.sign = sign,
                     .path = i,
                     .parent = path->parent < 0 ? -1 : path->parent + (gint)before,
                     .is_part = !path->is_opening};
    g_array_append_val(work->jobs, job);
  }
}

/* The children of each job, in runs. */
static GPtrArray *
find_inner(const HfPlanWork *work, const GPtrArray *regions)
{
  GPtrArray *inner = g_ptr_array_new_with_free_func((GDestroyNotify)g_ptr_array_unref);
  for (guint i = 0; i < work->jobs->len; i++)
    g_ptr_array_add(inner, g_ptr_array_new());
  for (guint i = 0; i < work->jobs->len; i++)
    if (hf_plan_job(work, i)->parent >= 0)
      g_ptr_array_add(inner->pdata[hf_plan_job(work, i)->parent], regions->pdata[i]);
  return inner;
}

gboolean
hf_plan_find_jobs(HfPlanWork *work, GError **error)
{
  for (guint sign = 0; sign < work->n_placed; sign++)
    add_jobs(work, sign);
  g_autoptr(GPtrArray) regions = g_ptr_array_new(); /* the jobs' own */
  for (guint i = 0; i < work->jobs->len; i++) {
    HfPlanJob *job = hf_plan_job(work, i);
    const HfPaths *paths = hf_plan_paths(work, job);
    HfRegion *region =
        region_of(paths, hf_torch_path(paths, job->path)->contour, work->placed[job->sign].at);
    g_ptr_array_add(regions, region);
    job->region = region;
    job->box = hf_region_box(region);
    job->hull = hull_of(region);
    if (!hf_cancel_check(work->cancel, error))
      return FALSE;
  }
  g_autoptr(GPtrArray) inner = find_inner(work, regions);
  for (guint i = 0; i < work->jobs->len; i++) {
    hf_plan_job(work, i)->drop = judge(work, i, regions, inner->pdata[i]);
    if (!hf_cancel_check(work->cancel, error))
      return FALSE;
  }
  return TRUE;
}
