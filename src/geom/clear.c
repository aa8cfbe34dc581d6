/* SPDX-License-Identifier: GPL-3.0-or-later
 * clear.c - the signed distance of points and outlines from an edge.
 *
 * The edge is kept as chords, each with its stretch of the true curve. The nearest chord says where
 * on which curve the foot lies; chords tell inside from outside too, but for what lies nearer than
 * they are true: there the side of the curve itself decides.
 */
#include "geom/clear.h"

#define TRUE_TO 0.1  /* mm: chords to curves */
#define STEP    4.0  /* mm: longest step along ink */
#define NARROW  1e-3 /* mm of ink about a smooth dip: it is flat there to far below 1e-6 */
#define GOLDEN  0.6180339887498949
enum { LEAST_STEPS = 4, MOST_STEPS = 4096, NEWTONS = 12, SECTIONS = 60 };

typedef struct {
  HfPoint a, b;
  double length;
  const HfCurve *curve;
  double t0, t1;
} Chord;

struct HfClear {
  GArray *chords; /* Chord */
  double way;     /* 1: the edge runs counter-clockwise, inside on its left; else -1 */
};

HfClear *
hf_clear_new(const HfOutline *edge)
{
  HfClear *clear = g_new0(HfClear, 1);
  clear->chords = g_array_new(FALSE, FALSE, sizeof(Chord));
  clear->way = hf_outline_area(edge) < 0 ? -1 : 1;
  for (guint i = 0; i < edge->curves->len; i++) {
    const HfCurve *curve = &g_array_index(edge->curves, HfCurve, i);
    guint n = hf_curve_steps(curve, TRUE_TO);
    for (guint k = 0; k < n; k++) {
      Chord chord = {.curve = curve, .t0 = (double)k / n, .t1 = (k + 1.0) / n};
      chord.a = hf_curve_point(curve, chord.t0);
      chord.b = hf_curve_point(curve, chord.t1);
      chord.length = hf_point_distance(chord.a, chord.b);
      g_array_append_val(clear->chords, chord);
    }
  }
  return clear;
}

void
hf_clear_free(HfClear *clear)
{
  if (clear == NULL)
    return;
  g_array_unref(clear->chords);
  g_free(clear);
}

/* ---- the foot of one point ------------------------------------------------------------------ */

/* Where on the cubic (C - p) . C' = 0, from the chord's foot on. */
static double
foot_of_cubic(const HfCurve *c, HfPoint p, double t, double low, double high)
{
  for (int i = 0; i < NEWTONS; i++) {
    HfPoint off = hf_point_sub(hf_curve_point(c, t), p), d = hf_curve_derivative(c, t);
    double slope = hf_point_dot(d, d) + hf_point_dot(off, hf_curve_second_derivative(c, t));
    if (!(slope > 0))
      break;
    double next = CLAMP(t - hf_point_dot(off, d) / slope, low, high);
    if (fabs(next - t) < 1e-13)
      break;
    t = next;
  }
  return t;
}

static double
chord_t(const Chord *chord, HfPoint p)
{
  HfPoint along = hf_point_sub(chord->b, chord->a);
  double square = hf_point_dot(along, along);
  return square == 0 ? 0 : CLAMP(hf_point_dot(hf_point_sub(p, chord->a), along) / square, 0, 1);
}

/* t on the curve; a foot at the chord's end may lie a little beyond it on the curve. */
static double
foot_on_curve(const Chord *chord, HfPoint p)
{
  double span = chord->t1 - chord->t0, t = chord->t0 + span * chord_t(chord, p);
  const HfCurve *c = chord->curve;
  if (c->kind == HF_CURVE_LINE)
    return t;
  if (c->kind == HF_CURVE_CUBIC)
    return foot_of_cubic(c, p, t, MAX(chord->t0 - span, 0), MIN(chord->t1 + span, 1));
  HfPoint from = hf_point_sub(c->p0, c->c0), to = hf_point_sub(p, c->c0);
  double angle = atan2(hf_point_cross(from, to), hf_point_dot(from, to));
  double at = angle / c->sweep; /* one of the angles that differ by whole turns is near t */
  double turn = 2 * G_PI / fabs(c->sweep);
  at += turn * rint((t - at) / turn);
  return CLAMP(at, 0, 1);
}

typedef struct {
  const Chord *chord;
  double square;
  gboolean inside;
} Nearest;

static Nearest
nearest_chord(const HfClear *clear, HfPoint p)
{
  Nearest best = {NULL, INFINITY, FALSE};
  double far = INFINITY; /* of the best */
  for (guint i = 0; i < clear->chords->len; i++) {
    const Chord *chord = &g_array_index(clear->chords, Chord, i);
    HfPoint a = hf_point_sub(chord->a, p), b = hf_point_sub(chord->b, p);
    if ((a.y > 0) != (b.y > 0) && (hf_point_cross(a, b) > 0) == (b.y > a.y))
      best.inside = !best.inside; /* a ray to the right crosses it */
    double reach = far + chord->length;
    if (hf_point_dot(a, a) > reach * reach)
      continue; /* no point of it can be as near */
    HfPoint foot = hf_point_mix(a, b, chord_t(chord, p));
    double square = hf_point_dot(foot, foot);
    if (square < best.square) {
      best.square = square;
      best.chord = chord;
      far = sqrt(square) * (1 + 1e-12);
    }
  }
  return best;
}

double
hf_clear_point(const HfClear *clear, HfPoint p)
{
  Nearest near = nearest_chord(clear, p);
  if (near.chord == NULL)
    return INFINITY;
  double t = foot_on_curve(near.chord, p);
  HfPoint off = hf_point_sub(p, hf_curve_point(near.chord->curve, t));
  double far = hf_point_length(off);
  gboolean inside = near.inside;
  if (near.square < 4 * TRUE_TO * TRUE_TO && t > 0 && t < 1)
    inside = clear->way * hf_point_cross(hf_curve_derivative(near.chord->curve, t), off) >= 0;
  return inside ? far : -far;
}

/* ---- along ink ------------------------------------------------------------------------------ */

typedef struct {
  const HfClear *edge;
  gboolean either; /* of the edge either side is as good */
} Ask;

static double
clear_of(const Ask *ask, HfPoint p)
{
  double clear = hf_clear_point(ask->edge, p);
  return ask->either ? fabs(clear) : clear;
}

static double
clear_at(const Ask *ask, const HfCurve *ink, double t)
{
  return clear_of(ask, hf_curve_point(ink, t));
}

/* The least between @low and @high, where it has one dip. */
static double
least_between(const Ask *ask, const HfCurve *ink, double low, double high, double length,
              double least)
{
  double c = high - GOLDEN * (high - low), d = low + GOLDEN * (high - low);
  double at_c = clear_at(ask, ink, c), at_d = clear_at(ask, ink, d);
  for (int i = 0; i < SECTIONS && (high - low) * length > NARROW; i++) {
    least = fmin(least, fmin(at_c, at_d));
    if (at_c < at_d) {
      high = d;
      d = c;
      at_d = at_c;
      c = high - GOLDEN * (high - low);
      at_c = clear_at(ask, ink, c);
    } else {
      low = c;
      c = d;
      at_c = at_d;
      d = low + GOLDEN * (high - low);
      at_d = clear_at(ask, ink, d);
    }
  }
  return fmin(least, fmin(at_c, at_d));
}

static double
curve_least(const Ask *ask, const HfCurve *ink, double least)
{
  HfBox box = hf_curve_box(ink);
  double half = hypot(hf_box_width(box), hf_box_height(box)) / 2;
  if (clear_of(ask, hf_box_centre(box)) - half >= least)
    return least; /* no point of it can be as near */
  double length = hf_point_distance(ink->p0, ink->p1) + 2 * half;
  guint n = MAX(hf_curve_steps(ink, TRUE_TO), (guint)fmin(length / STEP, MOST_STEPS));
  n = CLAMP(n, LEAST_STEPS, MOST_STEPS);
  g_autofree double *at = g_new(double, n + 1);
  for (guint i = 0; i <= n; i++)
    at[i] = clear_at(ask, ink, (double)i / n);
  for (guint i = 0; i <= n; i++) {
    if ((i > 0 && at[i] > at[i - 1]) || (i < n && at[i] > at[i + 1]))
      continue;
    double t = (double)i / n, step = length / n;
    if (at[i] - step >= least)
      continue;
    least = fmin(least, at[i]);
    gboolean at_end = i == 0 || i == n;
    if (at_end && clear_at(ask, ink, i == 0 ? 1e-6 : 1 - 1e-6) >= at[i])
      continue; /* it only rises from there */
    least = least_between(ask, ink, fmax(t - 1.0 / n, 0), fmin(t + 1.0 / n, 1), length, least);
  }
  return least;
}

static double
least_of(const Ask *ask, const HfOutline *ink, double at_most)
{
  HfBox box = hf_outline_box(ink);
  double least = at_most, half = hypot(hf_box_width(box), hf_box_height(box)) / 2;
  if (ink->curves->len == 0 || clear_of(ask, hf_box_centre(box)) - half >= least)
    return least;
  for (guint i = 0; i < ink->curves->len; i++)
    least = fmin(least, curve_least(ask, &g_array_index(ink->curves, HfCurve, i), least));
  return least;
}

double
hf_clear_least(const HfClear *clear, const HfOutline *ink, double at_most)
{
  const Ask ask = {clear, FALSE};
  return least_of(&ask, ink, at_most);
}

double
hf_clear_apart(const HfClear *clear, const HfOutline *ink, double at_most)
{
  const Ask ask = {clear, TRUE};
  return least_of(&ask, ink, at_most);
}
