/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_lead.c - paths and plans whose figures can be worked out by hand.
 */
#include "cut/plan.h"
#include "run/run.h"
#include <math.h>
#include <string.h>

typedef struct {
  HfSign *sign;
  HfPaths *paths;
} Case;

static Case
case_of(const char *entries, gboolean mirrored)
{
  g_autofree char *text =
      g_strconcat("holdfast: 1\nsign: Piece\nmetal: {kind: mild steel, thickness: 3 mm}\n"
                  "process: {kerf: 2 mm}\nentries:\n",
                  entries, NULL);
  g_autoptr(GError) error = NULL;
  HfRunOptions run = {.shown = TRUE};
  g_autoptr(HfSign) made = hf_run_text(text, strlen(text), "piece.yaml", &run, &error);
  g_assert_no_error(error);
  Case one = {.sign = hf_sign_fitted(made)};
  HfLeadOptions options = {.kerf = 2, .crater = 2, .thickness = 3, .mirrored = mirrored};
  one.paths =
      hf_paths_new(one.sign->metal, one.sign->fit, one.sign->layout, NULL, &options, NULL, &error);
  g_assert_no_error(error);
  return one;
}

static void
case_clear(Case *one)
{
  hf_paths_free(one->paths);
  hf_sign_free(one->sign);
}

static double
contour_length(const HfPaths *paths, guint path)
{
  guint n = 0;
  const HfCurve *curves =
      hf_outline_contour(paths->outline, hf_torch_path(paths, path)->contour, &n);
  double length = 0;
  for (guint i = 0; i < n; i++)
    length += curves[i].kind == HF_CURVE_ARC ? hf_curve_radius(&curves[i]) * fabs(curves[i].sweep)
                                             : hf_point_distance(curves[i].p0, curves[i].p1);
  return length;
}

/* 200 x 100 with a hole of 20: outside 600 + a circle of 1 at the corners, inside a circle of 18.
 */
static void
test_plate(void)
{
  Case one = case_of("  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
                     "  - hole: {diameter: 20 mm, on: board, at: centre}\n",
                     FALSE);
  g_assert_cmpuint(one.paths->paths->len, ==, 2);
  const HfTorchPath *outside = hf_torch_path(one.paths, 0), *hole = hf_torch_path(one.paths, 1);
  g_assert_false(outside->is_opening);
  g_assert_true(hole->is_opening);
  g_assert_cmpint(hole->parent, ==, 0);
  g_assert_cmpuint(hole->depth, ==, 1);
  g_assert_cmpfloat_with_epsilon(contour_length(one.paths, 0), 600 + 2 * G_PI, 0.01);
  g_assert_cmpfloat_with_epsilon(contour_length(one.paths, 1), 18 * G_PI, 0.01);
  g_assert_cmpfloat_with_epsilon(hole->room, 10, 0.1);
  g_assert_cmpuint(one.paths->shorts->len, ==, 0);
  case_clear(&one);
}

/* The torch goes off where the kind of path says: a hole half a kerf past its start. */
static void
test_stretches(void)
{
  Case one = case_of("  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
                     "  - hole: {diameter: 20 mm, on: board, at: centre}\n",
                     FALSE);
  g_autoptr(GArray) cut = g_array_new(FALSE, FALSE, sizeof(HfCutStretch));
  HfPoint end = hf_paths_cut(one.paths, 1, hf_torch_path(one.paths, 1)->first, hf_point(5, 7), cut);
  double past = 0, round = 0;
  for (guint i = 0; i < cut->len; i++) {
    const HfCutStretch *s = &g_array_index(cut, HfCutStretch, i);
    double length = hf_curve_radius(&s->curve) * fabs(s->curve.sweep);
    g_assert_true(s->is_slow && s->is_held); /* a hole of 20 mm */
    past += s->kind == HF_STRETCH_PAST ? length : 0;
    round += s->kind == HF_STRETCH_CONTOUR ? length : 0;
  }
  g_assert_cmpfloat_with_epsilon(past, 1, 1e-3);
  g_assert_cmpfloat_with_epsilon(round, 18 * G_PI, 0.01);
  g_assert_cmpfloat_with_epsilon(hf_point_distance(end, hf_point(5, 7)), 9, 0.01);
  case_clear(&one);
}

/* A hole of 60 mm is none of the small ones: only the way in and what is cut twice is held. */
static void
test_large_hole(void)
{
  Case one = case_of("  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
                     "  - hole: {diameter: 60 mm, on: board, at: centre}\n",
                     FALSE);
  g_autoptr(GArray) cut = g_array_new(FALSE, FALSE, sizeof(HfCutStretch));
  hf_paths_cut(one.paths, 1, hf_torch_path(one.paths, 1)->first, hf_point(0, 0), cut);
  for (guint i = 0; i < cut->len; i++) {
    const HfCutStretch *s = &g_array_index(cut, HfCutStretch, i);
    g_assert_false(s->is_slow);
    g_assert_true(s->is_held == (s->kind != HF_STRETCH_CONTOUR));
  }
  case_clear(&one);
}

/* A hole of 3 mm with a kerf of 2: a path of 0.5 mm radius, and the pierce has less than it wants.
 */
static void
test_short(void)
{
  Case one = case_of("  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
                     "  - hole: {diameter: 3 mm, on: board, at: centre}\n",
                     FALSE);
  g_assert_cmpuint(one.paths->shorts->len, ==, 1);
  const HfLeadShort *told = &g_array_index(one.paths->shorts, HfLeadShort, 0);
  g_assert_cmpint(told->path, ==, 1);
  g_assert_false(told->has_none);
  g_assert_cmpfloat_with_epsilon(told->needs, 2 + 1 + 1, 1e-9);
  g_assert_cmpfloat_with_epsilon(told->has, 1.5, 0.1); /* from its middle */
  case_clear(&one);
}

/* No torch goes through a hole that is no wider than its kerf. */
static void
test_none(void)
{
  Case one = case_of("  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
                     "  - hole: {diameter: 1.9 mm, on: board, at: centre}\n",
                     FALSE);
  g_assert_cmpuint(one.paths->paths->len, ==, 1);
  g_assert_cmpuint(one.paths->shorts->len, ==, 1);
  g_assert_true(g_array_index(one.paths->shorts, HfLeadShort, 0).has_none);
  case_clear(&one);
}

/* Two bars 1.6 mm apart are joined at both ends: with a kerf of 2 the gap's mouth closes, but not
 * the round room in its middle, which is cut as a drop before the outside. */
static void
test_pocket(void)
{
  Case one = case_of("  - bar: {name: a, length: 200 mm, height: 30 mm, at: [0 mm, 15.8 mm]}\n"
                     "  - bar: {name: b, length: 200 mm, height: 30 mm, at: [0 mm, -15.8 mm]}\n"
                     "  - bar: {length: 20 mm, height: 40 mm, at: [-90 mm, 0 mm]}\n"
                     "  - hole: {diameter: 24 mm, on: a, at: [[0 mm, -15.8 mm]]}\n",
                     FALSE);
  guint drops = 0;
  for (guint i = 0; i < one.paths->paths->len; i++) {
    const HfTorchPath *path = hf_torch_path(one.paths, i);
    drops += path->is_opening;
    g_assert_true(path->is_opening == (path->parent >= 0));
    if (path->is_opening)
      g_assert_false(hf_torch_path(one.paths, (guint)path->parent)->is_opening);
  }
  g_assert_cmpuint(one.sign->metal->region->rings->len, ==, 1);
  g_assert_cmpuint(drops, ==, 1);
  g_assert_cmpuint(one.paths->paths->len, ==, 2);
  case_clear(&one);
}

static void
test_order(void)
{
  Case one =
      case_of("  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
              "  - hole: {diameter: 20 mm, on: board, at: [[-60 mm, 0 mm], [60 mm, 0 mm]]}\n",
              FALSE);
  HfPlaced placed = {.paths = one.paths, .at = {110, 60}};
  HfPlanTable table = {.travel_speed = 100, .acceleration = 1000, .slat_pitch = 75};
  g_autoptr(GError) error = NULL;
  g_autoptr(HfPlan) plan = hf_plan_new(&placed, 1, &table, 3, 0, NULL, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(plan->cuts->len, ==, 3);
  g_assert_cmpuint(hf_plan_cut(plan, 2)->path, ==, 0); /* the outside is the last */
  g_assert_true(hf_plan_cut(plan, 2)->is_part);
  g_assert_cmpint(hf_plan_cut(plan, 0)->drop, ==, HF_DROP_FALLS);
  g_assert_cmpint(hf_plan_cut(plan, 2)->drop, ==, HF_DROP_TIPS); /* 100 mm over slats 75 apart */
  g_assert_cmpuint(plan->over, ==, 0);
  double way = 0;
  HfPoint here = {0, 0};
  for (guint i = 0; i < 3; i++) {
    way += hf_point_distance(here, hf_plan_cut(plan, i)->pierce);
    here = hf_plan_cut(plan, i)->end;
  }
  g_assert_cmpfloat_with_epsilon(plan->travel, way + hf_point_length(here), 2); /* round the drop */
  case_clear(&one);
}

/* By hand: 100 mm at 100 mm/s and 1000 mm/s2 take 1.1 s; 2.5 mm, a triangle, 0.1 s. */
static void
test_travel_seconds(void)
{
  HfPlanTable table = {.travel_speed = 100, .acceleration = 1000};
  g_assert_cmpfloat_with_epsilon(hf_plan_travel_seconds(&table, 100), 1.1, 1e-12);
  g_assert_cmpfloat_with_epsilon(hf_plan_travel_seconds(&table, 2.5), 0.1, 1e-12);
  g_assert_cmpfloat_with_epsilon(hf_plan_travel_seconds(&table, 0), 0, 1e-12);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/lead/plate", test_plate);
  g_test_add_func("/lead/stretches", test_stretches);
  g_test_add_func("/lead/large-hole", test_large_hole);
  g_test_add_func("/lead/short", test_short);
  g_test_add_func("/lead/none", test_none);
  g_test_add_func("/lead/pocket", test_pocket);
  g_test_add_func("/cut/order", test_order);
  g_test_add_func("/cut/travel-seconds", test_travel_seconds);
  return g_test_run();
}
