/* SPDX-License-Identifier: GPL-3.0-or-later
 * plan_dump.c - for the checks from outside: the paths and the plan of a recipe, as JSON.
 *
 * usage: plan_dump RECIPE [mirrored] [WORK]
 * Out: kerf, crater, thickness, the metal's rings, the paths with their starts (pierce, where,
 * cost, stretches of each), where room was short, and the cuts in their order. mm, sign's frame;
 * the plan in the sheet's, whose corner is `at` of the sign's.
 */
#include "base/text.h"
#include "cut/plan.h"
#include "run/run.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void
put_points(const HfRing *ring)
{
  printf("{\"parent\": %d, \"points\": [", ring->parent);
  for (guint i = 0; i < ring->n; i++) {
    HfPoint p = hf_grid_point(ring->at[i]);
    printf("%s[%.4f,%.4f]", i > 0 ? "," : "", p.x, p.y);
  }
  printf("]}");
}

static void
put_stretch(const HfCutStretch *stretch)
{
  const HfCurve *c = &stretch->curve;
  printf("{\"kind\": %d, \"slow\": %d, \"held\": %d, \"arc\": %d, \"from\": [%.9f,%.9f], \"to\": "
         "[%.9f,%.9f], \"centre\": [%.9f,%.9f], \"sweep\": %.12f}",
         stretch->kind, stretch->is_slow, stretch->is_held, c->kind == HF_CURVE_ARC, c->p0.x,
         c->p0.y, c->p1.x, c->p1.y, c->c0.x, c->c0.y, c->kind == HF_CURVE_ARC ? c->sweep : 0);
}

static void
put_stretches(const GArray *stretches, guint first, guint n)
{
  printf("[");
  for (guint i = 0; i < n; i++) {
    printf(i > 0 ? "," : "");
    put_stretch(&g_array_index(stretches, HfCutStretch, first + i));
  }
  printf("]");
}

static void
put_path(const HfPaths *paths, guint i)
{
  const HfTorchPath *path = hf_torch_path(paths, i);
  printf("{\"ring\": %u, \"opening\": %d, \"parent\": %d, \"depth\": %u, \"room\": %.4f, "
         "\"starts\": [",
         path->ring, path->is_opening, path->parent, path->depth, path->room);
  for (guint k = 0; k < path->n; k++) {
    g_autoptr(GArray) stretches = g_array_new(FALSE, FALSE, sizeof(HfCutStretch));
    hf_paths_cut(paths, i, path->first + k, hf_point(0, 0), stretches);
    const HfStart *start = hf_start(paths, path->first + k);
    printf("%s{\"pierce\": [%.6f,%.6f], \"cost\": %.3f, \"stretches\": ", k > 0 ? "," : "",
           start->pierce.x, start->pierce.y, start->cost);
    put_stretches(stretches, 0, stretches->len);
    printf("}");
  }
  printf("]}");
}

static void
put_paths(const HfPaths *paths)
{
  printf("\"paths\": [");
  for (guint i = 0; i < paths->paths->len; i++) {
    printf(i > 0 ? ",\n" : "\n");
    put_path(paths, i);
  }
  printf("],\n\"shorts\": [");
  for (guint i = 0; i < paths->shorts->len; i++) {
    const HfLeadShort *one = &g_array_index(paths->shorts, HfLeadShort, i);
    printf("%s{\"path\": %d, \"ring\": %u, \"at\": [%.4f,%.4f], \"needs\": %.4f, \"has\": %.4f, "
           "\"none\": %d}",
           i > 0 ? "," : "", one->path, one->ring, one->at.x, one->at.y, one->needs, one->has,
           one->has_none);
  }
  printf("],\n");
}

static void
put_plan(const HfPlan *plan)
{
  printf("\"length\": %.4f, \"travel\": %.4f, \"over\": %u, \"cuts\": [", plan->length,
         plan->travel, plan->over);
  for (guint i = 0; i < plan->cuts->len; i++) {
    const HfCut *cut = hf_plan_cut(plan, i);
    printf("%s\n{\"path\": %u, \"part\": %d, \"drop\": %d, \"pierce\": [%.6f,%.6f], \"end\": "
           "[%.6f,%.6f], \"vias\": [",
           i > 0 ? "," : "", cut->path, cut->is_part, cut->drop, cut->pierce.x, cut->pierce.y,
           cut->end.x, cut->end.y);
    for (guint k = 0; k < cut->n_via; k++) {
      HfPoint via = g_array_index(plan->vias, HfPoint, cut->first_via + k);
      printf("%s[%.4f,%.4f]", k > 0 ? "," : "", via.x, via.y);
    }
    printf("], \"stretches\": ");
    put_stretches(plan->stretches, cut->first, cut->n);
    printf("}");
  }
  printf("]");
}

int
main(int argc, char **argv)
{
  if (argc < 2)
    return 2;
  g_autoptr(GError) error = NULL;
  HfRunOptions run = {.shown = TRUE};
  g_autoptr(HfSign) made = hf_run_file(argv[1], &run, &error);
  if (made == NULL) {
    fprintf(stderr, "%s\n", error->message);
    return 1;
  }
  const HfSign *front = hf_sign_layer(made, 0);
  g_autoptr(HfSign) sign = hf_sign_fitted(front);
  const HfProcess *process = &sign->hold->process;
  HfLeadOptions options = {process->kerf, process->crater, process->thickness,
                           argc > 2 && strcmp(argv[2], "mirrored") == 0, NULL};
  gint64 before = g_get_monotonic_time();
  g_autoptr(HfPaths) paths =
      hf_paths_new(sign->metal, sign->fit, sign->layout, NULL, &options, NULL, &error);
  gint64 middle = g_get_monotonic_time();
  if (paths == NULL)
    return 1;
  printf("{\"whole\": %d, \"kerf\": %.6f, \"crater\": %.6f, \"thickness\": %.6f,\n\"rings\": [",
         made->hold->whole, process->kerf, process->crater, process->thickness);
  for (guint i = 0; i < sign->metal->region->rings->len; i++) {
    printf(i > 0 ? ",\n" : "\n");
    put_points(hf_region_ring(sign->metal->region, i));
  }
  printf("],\n");
  HfPoint at = hf_point(10 - paths->box.min.x, 10 - paths->box.min.y);
  HfPlaced placed = {.paths = paths, .at = at};
  HfPlanTable table = {.travel_speed = 250, .acceleration = 1500, .slat_pitch = 75};
  gint64 begun = g_get_monotonic_time();
  g_autoptr(HfPlan) plan = hf_plan_new(&placed, 1, &table, process->thickness, 0, NULL, &error);
  gint64 after = g_get_monotonic_time();
  put_paths(paths);
  printf("\"at\": [%.6f,%.6f],\n", at.x, at.y);
  if (plan != NULL)
    put_plan(plan);
  else
    printf("\"refused\": \"%s\"", error->message);
  printf(",\n\"ms\": [%.2f, %.2f]}\n", (double)(middle - before) / 1e3,
         (double)(after - begun) / 1e3);
  return 0;
}
