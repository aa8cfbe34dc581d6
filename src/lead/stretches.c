/* SPDX-License-Identifier: GPL-3.0-or-later
 * stretches.c - a path as it is cut from one of its starts: in, once round, past the start, out.
 *
 *      corner                    held: height control by arc voltage is off, since the torch slows
 *        +-----                  down and would dive: within HELD_MM of sharp corners, in small
 *        |####|                  holes, on the way in, over the cut that is there (past)
 *        |#                      slow: small holes (handbooks' usual 60 % is the program's)
 *
 * Distances: common practice, no source.
 */
#include "lead/lead-private.h"

#define HELD_MM      7.0  /* to either side of a sharp corner */
#define HELD_HOLE_MM 25.0 /* diameter */
#define SHARP        (G_PI / 6)

typedef struct {
  const HfPaths *paths;
  const HfLeadOptions *options;
  HfPoint by;
  GArray *stretches;
} Cutting;

static HfCurve
moved(HfCurve curve, HfPoint by)
{
  curve.p0 = hf_point_add(curve.p0, by);
  curve.p1 = hf_point_add(curve.p1, by);
  if (curve.kind == HF_CURVE_ARC)
    curve.c0 = hf_point_add(curve.c0, by);
  return curve;
}

static void
add(Cutting *cutting, HfCurve curve, HfCutStretchKind kind, gboolean slow, gboolean held)
{
  if (hf_lead_length(&curve) < 1e-6)
    return;
  HfCutStretch stretch = {moved(curve, cutting->by), (guint8)kind, slow, held};
  g_array_append_val(cutting->stretches, stretch);
}

/* How much travel turns from the end of one curve to the start of the next. */
static double
turn_between(const HfCurve *a, const HfCurve *b)
{
  HfPoint u = hf_lead_along(a, 1), v = hf_lead_along(b, 0);
  return fabs(atan2(hf_point_cross(u, v), hf_point_dot(u, v)));
}

/* The curves of the contour from the start on, once round. */
static GArray *
once_round(const HfCurve *curves, guint n, guint first, double t)
{
  GArray *round = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  HfCurve head = hf_curve_between(&curves[first], t, 1),
          tail = hf_curve_between(&curves[first], 0, t);
  g_array_append_val(round, head);
  for (guint i = 1; i < n; i++)
    g_array_append_val(round, curves[(first + i) % n]);
  g_array_append_val(round, tail);
  return round;
}

/* For each curve of the round how far its start is from the last sharp corner, and its end from the
 * next. An arc of half a kerf is one itself. */
static void
find_corners(const GArray *round, double kerf, double *since, double *until)
{
  guint n = round->len;
  const HfCurve *curves = (const HfCurve *)(void *)round->data;
  double gone = INFINITY;
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < n; i++) {
      const HfCurve *before = &curves[(i + n - 1) % n];
      gboolean round_one = before->kind == HF_CURVE_ARC && fabs(before->sweep) > SHARP &&
                           hf_curve_radius(before) < kerf * 0.6;
      gone += hf_lead_length(before);
      if (round_one || turn_between(before, &curves[i]) > SHARP)
        gone = 0;
      since[i] = gone;
    }
  gone = INFINITY;
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = n; i-- > 0;) {
      const HfCurve *after = &curves[(i + 1) % n];
      gboolean round_one = after->kind == HF_CURVE_ARC && fabs(after->sweep) > SHARP &&
                           hf_curve_radius(after) < kerf * 0.6;
      gone += hf_lead_length(after);
      if (round_one || turn_between(&curves[i], after) > SHARP)
        gone = 0;
      until[i] = gone;
    }
}

/* One curve in up to three stretches: held, free, held. */
static void
add_contour_curve(Cutting *cutting, const HfCurve *curve, double since, double until, gboolean slow,
                  gboolean held)
{
  double length = hf_lead_length(curve);
  if (length < 1e-6)
    return;
  double head = held ? 0 : CLAMP((HELD_MM - since) / length, 0, 1);
  double tail = held ? 1 : CLAMP((HELD_MM - until) / length, 0, 1);
  if (held || head + tail >= 1) {
    add(cutting, *curve, HF_STRETCH_CONTOUR, slow, TRUE);
    return;
  }
  if (head > 0)
    add(cutting, hf_curve_between(curve, 0, head), HF_STRETCH_CONTOUR, slow, TRUE);
  add(cutting, hf_curve_between(curve, head, 1 - tail), HF_STRETCH_CONTOUR, slow, FALSE);
  if (tail > 0)
    add(cutting, hf_curve_between(curve, 1 - tail, 1), HF_STRETCH_CONTOUR, slow, TRUE);
}

static void
add_past(Cutting *cutting, const GArray *round, double past, gboolean slow)
{
  for (guint i = 0; i < round->len && past > 1e-6; i++) {
    const HfCurve *curve = &g_array_index(round, HfCurve, i);
    double length = hf_lead_length(curve), part = length > 0 ? fmin(past / length, 1) : 0;
    add(cutting, hf_curve_between(curve, 0, part), HF_STRETCH_PAST, slow, TRUE);
    past -= length;
  }
}

HfStartPlace
hf_start_place(const HfPaths *paths, guint path, guint start)
{
  guint n = 0;
  const HfCurve *curves =
      hf_outline_contour(paths->outline, hf_torch_path(paths, path)->contour, &n);
  const HfCurve *curve = &curves[hf_start(paths, start)->curve];
  if (curve->kind != HF_CURVE_ARC)
    return HF_PLACE_STRAIGHT;
  return hf_curve_radius(curve) < paths->kerf * 0.6 ? HF_PLACE_CORNER : HF_PLACE_ROUND;
}

gboolean
hf_start_is_arc(const HfPaths *paths, guint start)
{
  const HfLeadOwn *own = paths->own;
  const HfLeadWay *way = &g_array_index(own->ways, HfLeadWay, hf_start(paths, start)->way);
  return way->n_in > 0 && way->in[0].kind == HF_CURVE_ARC;
}

HfPoint
hf_paths_cut(const HfPaths *paths, guint number, guint start_number, HfPoint by, GArray *stretches)
{
  const HfTorchPath *path = hf_torch_path(paths, number);
  const HfStart *start = hf_start(paths, start_number);
  const HfLeadOwn *own = paths->own;
  const HfLeadWay *way = &g_array_index(own->ways, HfLeadWay, start->way);
  guint n = 0;
  const HfCurve *curves = hf_outline_contour(paths->outline, path->contour, &n);
  Cutting cutting = {paths, &own->options, by, stretches};
  double across = 2 * path->room;
  gboolean slow = path->is_opening && across < hf_lead_small_hole(&own->options);
  gboolean held = path->is_opening && across < HELD_HOLE_MM;
  for (guint i = 0; i < way->n_in; i++)
    add(&cutting, way->in[i], HF_STRETCH_IN, slow, TRUE);
  g_autoptr(GArray) round = once_round(curves, n, start->curve, start->t);
  g_autofree double *since = g_new(double, round->len), *until = g_new(double, round->len);
  find_corners(round, paths->kerf, since, until);
  for (guint i = 0; i < round->len; i++)
    add_contour_curve(&cutting, &g_array_index(round, HfCurve, i), since[i], until[i], slow, held);
  add_past(&cutting, round, way->past, slow);
  if (way->n_out > 0)
    add(&cutting, way->out, HF_STRETCH_OUT, slow, TRUE);
  const HfCutStretch *last = &g_array_index(stretches, HfCutStretch, stretches->len - 1);
  return last->curve.p1;
}
