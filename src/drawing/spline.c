/* SPDX-License-Identifier: GPL-3.0-or-later
 * spline.c - B-splines as lines, arcs and cubics.
 *
 *   o   o          between two knots the spline is one Bezier curve; its controls are the blossom
 *     `-.--o       of the span at p copies of both knots (de Boor's scheme with another parameter
 *   o---'          on each level; Farin, Curves and Surfaces for CAGD, from memory)
 *
 * With weights all is done in (x w, y w, w). A curve that is no cubic is followed by cubics with
 * its ends and tangents, each halved until it lies on the curve at three places.
 *
 * Limits: a span of no length is left out; a knot with more than `degree` copies parts the curve,
 * which is then joined by a line.
 */
#include "drawing/spline-private.h"

typedef struct {
  double x, y, w;
} Homogeneous;

enum { DEEPEST = 12 };
#define DEPARTS 1e-7 /* of the size of the control points */

gboolean
hf_spline_is_sound(const HfSpline *spline, guint n_knots)
{
  if (spline->degree < 1 || spline->degree > HF_SPLINE_MOST_DEGREE || spline->n <= spline->degree ||
      n_knots != spline->n + spline->degree + 1)
    return FALSE;
  for (guint i = 1; i < n_knots; i++)
    if (!(spline->knots[i] >= spline->knots[i - 1]))
      return FALSE;
  for (guint i = 0; spline->weights != NULL && i < spline->n; i++)
    if (!(spline->weights[i] > 0))
      return FALSE;
  return spline->knots[spline->n] > spline->knots[spline->degree];
}

static HfPoint
flat(Homogeneous h)
{
  return hf_point(h.x / h.w, h.y / h.w);
}

static Homogeneous
mix(Homogeneous a, Homogeneous b, double t)
{
  return (Homogeneous){a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, a.w + (b.w - a.w) * t};
}

/* ---- one span as a Bezier curve -------------------------------------------------------------- */

static Homogeneous
control(const HfSpline *spline, guint i)
{
  double w = spline->weights != NULL ? spline->weights[i] : 1;
  return (Homogeneous){spline->at[i].x * w, spline->at[i].y * w, w};
}

/* The blossom of span @span at @ends copies of its end and degree - @ends of its start. */
static Homogeneous
blossom(const HfSpline *spline, guint span, guint ends)
{
  guint p = spline->degree;
  Homogeneous d[HF_SPLINE_MOST_DEGREE + 1];
  for (guint k = 0; k <= p; k++)
    d[k] = control(spline, span - p + k);
  for (guint level = 1; level <= p; level++) {
    double t = spline->knots[level <= ends ? span + 1 : span];
    for (guint k = p; k >= level; k--) {
      double low = spline->knots[span - p + k], high = spline->knots[span + 1 + k - level];
      d[k] = mix(d[k - 1], d[k], high > low ? (t - low) / (high - low) : 0);
    }
  }
  return d[p];
}

/* ---- a Bezier curve as curves of ours -------------------------------------------------------- */

static void
add_cubic(GArray *run, HfPoint p0, HfPoint c0, HfPoint c1, HfPoint p1)
{
  HfCurve cubic = {.kind = HF_CURVE_CUBIC, .p0 = p0, .c0 = c0, .c1 = c1, .p1 = p1};
  gboolean stands =
      hf_point_distance(p0, c0) + hf_point_distance(c0, c1) + hf_point_distance(c1, p1) == 0;
  if (!stands)
    g_array_append_val(run, cubic);
}

static void
add_line(GArray *run, HfPoint p0, HfPoint p1)
{
  HfCurve line = {.kind = HF_CURVE_LINE, .p0 = p0, .p1 = p1};
  if (p0.x != p1.x || p0.y != p1.y)
    g_array_append_val(run, line);
}

/* Degree 1 to 3 without weights. */
static void
add_exact(GArray *run, const Homogeneous *b, guint degree)
{
  HfPoint p0 = flat(b[0]), p1 = flat(b[degree]);
  if (degree == 1) {
    add_line(run, p0, p1);
  } else if (degree == 2) {
    HfPoint c = flat(b[1]);
    add_cubic(run, p0, hf_point_mix(p0, c, 2.0 / 3), hf_point_mix(p1, c, 2.0 / 3), p1);
  } else {
    add_cubic(run, p0, flat(b[1]), flat(b[2]), p1);
  }
}

/* A conic is an arc where its legs are alike and w1^2 = w0 w2 cos^2 of half its turn. */
static gboolean
add_arc(GArray *run, const Homogeneous *b)
{
  HfPoint p0 = flat(b[0]), c = flat(b[1]), p1 = flat(b[2]);
  HfPoint leg0 = hf_point_sub(c, p0), leg1 = hf_point_sub(p1, c);
  double l0 = hf_point_length(leg0), l1 = hf_point_length(leg1);
  if (l0 == 0 || fabs(l0 - l1) > 1e-9 * l0)
    return FALSE;
  double turn = atan2(hf_point_cross(leg0, leg1), hf_point_dot(leg0, leg1));
  double half = cos(turn / 2), weight = b[1].w * b[1].w / (b[0].w * b[2].w);
  if (fabs(turn) < 1e-6 || half < 1e-6 || fabs(weight - half * half) > 1e-9)
    return FALSE;
  double out = 1 / tan(turn / 2); /* radius to leg, signed: left of the way for > 0 */
  HfCurve arc = {.kind = HF_CURVE_ARC,
                 .p0 = p0,
                 .p1 = p1,
                 .c0 = hf_point(p0.x - leg0.y * out, p0.y + leg0.x * out),
                 .sweep = turn};
  g_array_append_val(run, arc);
  return TRUE;
}

/* The point of Bezier curve @b at @t and, per unit of t, where it heads. */
static HfPoint
point_on(const Homogeneous *b, guint degree, double t, HfPoint *ret_heads)
{
  Homogeneous d[HF_SPLINE_MOST_DEGREE + 1];
  for (guint i = 0; i <= degree; i++)
    d[i] = b[i];
  for (guint level = 1; level < degree; level++)
    for (guint i = 0; i + level <= degree; i++)
      d[i] = mix(d[i], d[i + 1], t);
  Homogeneous at = mix(d[0], d[1], t);
  HfPoint p = flat(at);
  double dw = degree * (d[1].w - d[0].w);
  *ret_heads = hf_point((degree * (d[1].x - d[0].x) - dw * p.x) / at.w,
                        (degree * (d[1].y - d[0].y) - dw * p.y) / at.w);
  return p;
}

typedef struct {
  const Homogeneous *b;
  guint degree;
  double departs;
  GArray *run;
} Following;

static void
follow(const Following *to, double t0, double t1, guint deep)
{
  HfPoint h0, h1, unused;
  HfCurve cubic = {.kind = HF_CURVE_CUBIC};
  cubic.p0 = point_on(to->b, to->degree, t0, &h0);
  cubic.p1 = point_on(to->b, to->degree, t1, &h1);
  cubic.c0 = hf_point_add(cubic.p0, hf_point_scale(h0, (t1 - t0) / 3));
  cubic.c1 = hf_point_sub(cubic.p1, hf_point_scale(h1, (t1 - t0) / 3));
  double worst = 0;
  for (int i = 1; i <= 3; i++) {
    HfPoint there = point_on(to->b, to->degree, t0 + (t1 - t0) * i / 4, &unused);
    worst = fmax(worst, hf_point_distance(there, hf_curve_point(&cubic, i / 4.0)));
  }
  if (worst > to->departs && deep < DEEPEST) {
    follow(to, t0, (t0 + t1) / 2, deep + 1);
    follow(to, (t0 + t1) / 2, t1, deep + 1);
  } else {
    add_cubic(to->run, cubic.p0, cubic.c0, cubic.c1, cubic.p1);
  }
}

static gboolean
weighs_alike(const Homogeneous *b, guint degree)
{
  for (guint i = 1; i <= degree; i++)
    if (fabs(b[i].w - b[0].w) > 1e-12 * b[0].w)
      return FALSE;
  return TRUE;
}

static void
add_span(const HfSpline *spline, guint span, double departs, GArray *run)
{
  Homogeneous b[HF_SPLINE_MOST_DEGREE + 1];
  guint p = spline->degree;
  for (guint j = 0; j <= p; j++)
    b[j] = blossom(spline, span, j);
  Following to = {b, p, departs, run};
  if (run->len > 0)
    add_line(run, g_array_index(run, HfCurve, run->len - 1).p1, flat(b[0]));
  if (weighs_alike(b, p) && p <= 3)
    add_exact(run, b, p);
  else if (p != 2 || !add_arc(run, b))
    follow(&to, 0, 1, 0);
}

void
hf_spline_run(const HfSpline *spline, GArray *run)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < spline->n; i++)
    box = hf_box_add_point(box, spline->at[i]);
  double departs = DEPARTS * fmax(hf_box_width(box), hf_box_height(box));
  g_autoptr(GArray) own = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  for (guint span = spline->degree; span < spline->n; span++)
    if (spline->knots[span + 1] > spline->knots[span])
      add_span(spline, span, departs, own);
  for (guint i = 0; i + 1 < own->len; i++) /* no gap from rounding */
    g_array_index(own, HfCurve, i + 1).p0 = g_array_index(own, HfCurve, i).p1;
  g_array_append_vals(run, own->data, own->len);
}

/* ---- through points -------------------------------------------------------------------------- */

/* Where the parabola through @a, @b, @c heads at @a; @h0, @h1: the chords' lengths. */
static HfPoint
heads_at_end(HfPoint a, HfPoint b, HfPoint c, double h0, double h1)
{
  HfPoint d0 = hf_point_scale(hf_point_sub(b, a), 1 / h0);
  HfPoint d1 = hf_point_scale(hf_point_sub(c, b), 1 / h1);
  double k = h0 / (h0 + h1);
  return hf_point_sub(d0, hf_point_scale(hf_point_sub(d1, d0), k));
}

static HfPoint
unit_of(HfPoint v)
{
  double length = hf_point_length(v);
  return length > 0 ? hf_point_scale(v, 1 / length) : v;
}

/* Slopes m of a cubic spline, C2 at all inner points: h[i] m[i-1] + 2 (h[i-1] + h[i]) m[i] +
 * h[i-1] m[i+1] = 3 (h[i] d[i-1] + h[i-1] d[i]); solved from the first to the last and back. */
static void
solve_slopes(const HfPoint *at, const double *h, HfPoint *m, guint n)
{
  g_autofree double *above = g_new0(double, n);
  for (guint i = 1; i + 1 < n; i++) {
    HfPoint d0 = hf_point_scale(hf_point_sub(at[i], at[i - 1]), 3 * h[i] / h[i - 1]);
    HfPoint d1 = hf_point_scale(hf_point_sub(at[i + 1], at[i]), 3 * h[i - 1] / h[i]);
    double pivot = 2 * (h[i - 1] + h[i]) - h[i] * above[i - 1];
    HfPoint right = hf_point_sub(hf_point_add(d0, d1), hf_point_scale(m[i - 1], h[i]));
    above[i] = h[i - 1] / pivot;
    m[i] = hf_point_scale(right, 1 / pivot);
  }
  for (guint i = n - 2; i >= 1; i--)
    m[i] = hf_point_sub(m[i], hf_point_scale(m[i + 1], above[i]));
}

void
hf_spline_through(const HfPoint *given, guint n_given, const HfPoint *start, const HfPoint *end,
                  GArray *run)
{
  g_autofree HfPoint *at = g_new(HfPoint, n_given + 1);
  g_autofree HfPoint *m = g_new0(HfPoint, n_given + 1);
  g_autofree double *h = g_new0(double, n_given + 1);
  guint n = 0;
  for (guint i = 0; i < n_given; i++) /* points in the same place count once */
    if (n == 0 || hf_point_distance(at[n - 1], given[i]) > 0)
      at[n++] = given[i];
  if (n < 2)
    return;
  if (n == 2 && start == NULL && end == NULL) {
    add_line(run, at[0], at[1]);
    return;
  }
  for (guint i = 0; i + 1 < n; i++)
    h[i] = hf_point_distance(at[i], at[i + 1]);
  HfPoint straight = unit_of(hf_point_sub(at[n - 1], at[0]));
  m[0] = start != NULL ? unit_of(*start)
         : n > 2       ? heads_at_end(at[0], at[1], at[2], h[0], h[1])
                       : straight;
  m[n - 1] =
      end != NULL ? unit_of(*end)
      : n > 2
          ? hf_point_scale(heads_at_end(at[n - 1], at[n - 2], at[n - 3], h[n - 2], h[n - 3]), -1)
          : straight;
  if (n > 2)
    solve_slopes(at, h, m, n);
  for (guint i = 0; i + 1 < n; i++)
    add_cubic(run, at[i], hf_point_add(at[i], hf_point_scale(m[i], h[i] / 3)),
              hf_point_sub(at[i + 1], hf_point_scale(m[i + 1], h[i] / 3)), at[i + 1]);
}
