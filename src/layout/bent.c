/* SPDX-License-Identifier: GPL-3.0-or-later
 * bent.c - letters that follow the circle: x becomes arc length, y becomes radius.
 *
 *      +---+              __---__       (x, y) -> centre + (R +- y) at the angle of arc length x
 *      |   |      ->     \       /
 *      +---+              \__-__/       tops and feet become circles about the centre
 *
 * The image of a cubic is no cubic. It is refitted piece by piece: end points and end derivatives
 * are exact (chain rule), the handles are a third of the derivatives, and a piece is halved until
 * it lies within 1 um of the true image. Error of such a piece falls with the fourth power of its
 * length (Hermite interpolation). docs/maths.md#bent-letters
 */
#include "layout/words-private.h"

#define FIT_MM 0.001

enum { MOST_HALVINGS = 12, PROBES = 5 };

typedef struct {
  const HfSetting *setting;
  double along, from;
  HfOutline *out;
} Bend;

static double
radius_at(const Bend *bend, double y)
{
  double rise = y * bend->setting->size;
  return bend->setting->radius + (bend->setting->inward ? -rise : rise);
}

static double
angle_at(const Bend *bend, double x)
{
  double along = bend->along + x * bend->setting->size * bend->setting->wide;
  return hf_arc_angle(bend->setting, along, bend->from);
}

static HfPoint
bend_point(const Bend *bend, HfPoint p)
{
  return hf_point_polar(hf_point(0, 0), radius_at(bend, p.y), angle_at(bend, p.x));
}

/* Chain rule: d/dt of r (cos a, sin a). */
static HfPoint
bend_derivative(const Bend *bend, HfPoint p, HfPoint d)
{
  const HfSetting *s = bend->setting;
  double r = radius_at(bend, p.y), a = angle_at(bend, p.x);
  double dr = (s->inward ? -d.y : d.y) * s->size;
  double da = (s->inward ? d.x : -d.x) * s->size * s->wide / s->radius;
  return hf_point(dr * cos(a) - r * da * sin(a), dr * sin(a) + r * da * cos(a));
}

static HfCurve
hermite(const Bend *bend, const HfCurve *curve, double t0, double t1)
{
  HfPoint p = hf_curve_point(curve, t0), q = hf_curve_point(curve, t1);
  HfPoint dp = bend_derivative(bend, p, hf_curve_derivative(curve, t0));
  HfPoint dq = bend_derivative(bend, q, hf_curve_derivative(curve, t1));
  HfCurve fit = {.kind = HF_CURVE_CUBIC, .p0 = bend_point(bend, p), .p1 = bend_point(bend, q)};
  fit.c0 = hf_point_add(fit.p0, hf_point_scale(dp, (t1 - t0) / 3));
  fit.c1 = hf_point_sub(fit.p1, hf_point_scale(dq, (t1 - t0) / 3));
  return fit;
}

/* Compared at equal parameters, which can only overstate the distance between the curves. */
static gboolean
fits(const Bend *bend, const HfCurve *curve, double t0, double t1, const HfCurve *fit)
{
  for (int i = 1; i <= PROBES; i++) {
    double u = (double)i / (PROBES + 1);
    HfPoint truth = bend_point(bend, hf_curve_point(curve, t0 + (t1 - t0) * u));
    if (hf_point_distance(truth, hf_curve_point(fit, u)) > FIT_MM * 0.9)
      return FALSE;
  }
  return TRUE;
}

static void
bend_piece(const Bend *bend, const HfCurve *curve, double t0, double t1, int halvings)
{
  HfCurve fit = hermite(bend, curve, t0, t1);
  if (halvings < MOST_HALVINGS && !fits(bend, curve, t0, t1, &fit)) {
    bend_piece(bend, curve, t0, (t0 + t1) / 2, halvings + 1);
    bend_piece(bend, curve, (t0 + t1) / 2, t1, halvings + 1);
    return;
  }
  hf_outline_cubic_to(bend->out, fit.c0, fit.c1, fit.p1);
}

/* Upright lines stay lines and level ones become true arcs; all else is refitted. */
static void
bend_curve(const Bend *bend, const HfCurve *curve)
{
  HfPoint to = bend_point(bend, curve->p1);
  if (curve->kind == HF_CURVE_LINE && fabs(curve->p1.x - curve->p0.x) < 1e-12)
    hf_outline_line_to(bend->out, to);
  else if (curve->kind == HF_CURVE_LINE && fabs(curve->p1.y - curve->p0.y) < 1e-12)
    hf_outline_arc_to(bend->out, hf_point(0, 0),
                      angle_at(bend, curve->p1.x) - angle_at(bend, curve->p0.x), to);
  else
    bend_piece(bend, curve, 0, 1, 0);
}

HfOutline *
hf_bent_outline(const HfLetter *letter, const HfSetting *setting, double along, double from)
{
  Bend bend = {setting, along, from, hf_outline_new()};
  for (guint i = 0; i < hf_outline_n_contours(letter->outline); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(letter->outline, i, &n);
    hf_outline_begin(bend.out, bend_point(&bend, curve[0].p0));
    for (guint k = 0; k < n; k++)
      bend_curve(&bend, &curve[k]);
    hf_outline_close(bend.out);
  }
  return bend.out;
}
