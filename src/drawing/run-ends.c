/* SPDX-License-Identifier: GPL-3.0-or-later
 * run-ends.c - runs of curves: end to end, closed, compared.
 *
 *    -----o  .          two lines go to where they cross, if that is within a few widths of the
 * gap, .  o          so that a square corner stays square; else both ends go to the middle: | a
 * line's end moves, a cubic's end with its control, an arc is scaled and |          turned as a
 * whole, which keeps its sweep. An arc of nearly a whole turn would grow too much: there a line
 * bridges the gap.
 */
#include "drawing/run-ends-private.h"

#define NEARLY_ROUND (1.5 * G_PI)

static void
add_bridge(GArray *run, guint at, HfPoint p0, HfPoint p1)
{
  HfCurve line = {.kind = HF_CURVE_LINE, .p0 = p0, .p1 = p1};
  g_array_insert_val(run, at, line);
}

/* ---- moving one end -------------------------------------------------------------------------- */

/* Scaled and turned about the end that stays. */
static void
move_arc_end(HfCurve *arc, gboolean last, HfPoint to)
{
  HfPoint stays = last ? arc->p0 : arc->p1, was = last ? arc->p1 : arc->p0;
  HfPoint a = hf_point_sub(was, stays), b = hf_point_sub(to, stays),
          c = hf_point_sub(arc->c0, stays);
  double square = hf_point_dot(a, a);
  double re = hf_point_dot(a, b) / square, im = hf_point_cross(a, b) / square;
  arc->c0 = hf_point(stays.x + re * c.x - im * c.y, stays.y + im * c.x + re * c.y);
}

static gboolean
may_move(const HfCurve *curve)
{
  return curve->kind != HF_CURVE_ARC || fabs(curve->sweep) < NEARLY_ROUND;
}

static void
move_end(HfCurve *curve, gboolean last, HfPoint to)
{
  HfPoint *end = last ? &curve->p1 : &curve->p0;
  HfPoint by = hf_point_sub(to, *end);
  if (by.x == 0 && by.y == 0)
    return;
  if (curve->kind == HF_CURVE_ARC)
    move_arc_end(curve, last, to);
  if (curve->kind == HF_CURVE_CUBIC && last)
    curve->c1 = hf_point_add(curve->c1, by);
  else if (curve->kind == HF_CURVE_CUBIC)
    curve->c0 = hf_point_add(curve->c0, by);
  *end = to;
}

/* ---- bringing two ends together -------------------------------------------------------------- */

static HfPoint
meeting_point(const HfCurve *a, const HfCurve *b)
{
  enum { WIDTHS = 3 };
  HfPoint middle = hf_point_mix(a->p1, b->p0, 0.5);
  if (a->kind != HF_CURVE_LINE || b->kind != HF_CURVE_LINE)
    return middle;
  HfPoint u = hf_point_sub(a->p1, a->p0), v = hf_point_sub(b->p1, b->p0);
  double across = hf_point_cross(u, v);
  if (fabs(across) < 1e-3 * hf_point_length(u) * hf_point_length(v))
    return middle;
  double t = hf_point_cross(hf_point_sub(b->p0, a->p0), v) / across;
  HfPoint there = hf_point_mix(a->p0, a->p1, t);
  gboolean near = hf_point_distance(there, middle) <= WIDTHS * hf_point_distance(a->p1, b->p0);
  return near ? there : middle;
}

/* The curves @i and @j of @run, one after the other. */
static void
bring_together(GArray *run, guint i, guint j)
{
  HfCurve *a = &g_array_index(run, HfCurve, i), *b = &g_array_index(run, HfCurve, j);
  double gap = hf_point_distance(a->p1, b->p0);
  if (gap == 0)
    return;
  double least = 8 * gap; /* an end that moves by more than that of its curve bends it */
  gboolean both = i != j && may_move(a) && may_move(b) && hf_point_distance(a->p0, a->p1) > least &&
                  hf_point_distance(b->p0, b->p1) > least;
  if (both) {
    HfPoint to = meeting_point(a, b);
    move_end(a, TRUE, to);
    move_end(b, FALSE, to);
  } else {
    add_bridge(run, i + 1, a->p1, b->p0);
  }
}

void
hf_run_append(GArray *to, const GArray *from, gboolean backwards)
{
  guint had = to->len;
  for (guint i = 0; i < from->len; i++) {
    HfCurve curve = g_array_index(from, HfCurve, backwards ? from->len - 1 - i : i);
    if (backwards)
      curve = hf_curve_between(&curve, 1, 0);
    g_array_append_val(to, curve);
  }
  if (had > 0 && from->len > 0)
    bring_together(to, had - 1, had);
}

void
hf_run_close(GArray *run)
{
  if (run->len > 0)
    bring_together(run, run->len - 1, 0);
}

/* ---- looking at them ------------------------------------------------------------------------- */

HfPoint
hf_run_heading(const GArray *run, gboolean from_start)
{
  const HfCurve *curve = &g_array_index(run, HfCurve, from_start ? 0 : run->len - 1);
  HfPoint end = from_start ? curve->p0 : curve->p1;
  HfPoint way = hf_curve_derivative(curve, from_start ? 0 : 1);
  if (!from_start)
    way = hf_point_scale(way, -1);
  if (hf_point_length(way) < 1e-12)
    way = hf_point_sub(hf_curve_point(curve, from_start ? 0.01 : 0.99), end);
  double length = hf_point_length(way);
  return length > 0 ? hf_point_scale(way, 1 / length) : way;
}

static gboolean
curves_alike(const HfCurve *a, const HfCurve *b, gboolean backwards, double tolerance)
{
  for (int i = 0; i <= 4; i++) {
    HfPoint p = hf_curve_point(a, i / 4.0), q = hf_curve_point(b, (backwards ? 4 - i : i) / 4.0);
    if (hf_point_distance(p, q) > tolerance)
      return FALSE;
  }
  return TRUE;
}

static gboolean
alike_one_way(const GArray *a, const GArray *b, gboolean backwards, double tolerance)
{
  for (guint i = 0; i < a->len; i++)
    if (!curves_alike(&g_array_index(a, HfCurve, i),
                      &g_array_index(b, HfCurve, backwards ? b->len - 1 - i : i), backwards,
                      tolerance))
      return FALSE;
  return TRUE;
}

gboolean
hf_runs_alike(const GArray *a, const GArray *b, double tolerance)
{
  return a->len == b->len &&
         (alike_one_way(a, b, FALSE, tolerance) || alike_one_way(a, b, TRUE, tolerance));
}
