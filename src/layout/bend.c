/* SPDX-License-Identifier: GPL-3.0-or-later
 * bend.c - true curves through a map of the plane.
 *
 *      P(t)  --map-->  F(P(t))         the image of a cubic is no cubic: it is refitted piece by
 *     o-----o          o--._.--o       piece
 *
 * End points and end derivatives of a piece are exact (chain rule), its handles are a third of the
 * derivatives, and a piece is halved until it lies within 1 um of the true image. Error of such a
 * piece falls with the fourth power of its length (Hermite interpolation), which holds only where
 * the map is smooth: a piece ends where it is not. docs/maths.md#bent-letters
 */
#include "layout/bend-private.h"

#define FIT_MM 0.001

enum { MOST_HALVINGS = 12, PROBES = 5, LOOKS = 16, HALVINGS = 60 };
static const double BESIDE = 1e-7; /* of a piece: beside a break the map is what it is there */

typedef struct {
  const HfBend *bend;
  HfOutline *out;
} Bending;

static HfPoint
image(const HfBend *bend, const HfCurve *curve, double t)
{
  return bend->point(bend, hf_curve_point(curve, t));
}

static HfPoint
speed(const HfBend *bend, const HfCurve *curve, double t)
{
  return bend->derivative(bend, hf_curve_point(curve, t), hf_curve_derivative(curve, t));
}

static HfCurve
hermite(const HfBend *bend, const HfCurve *curve, double t0, double t1)
{
  double aside = bend->breaks != NULL ? BESIDE * (t1 - t0) : 0;
  HfPoint dp = speed(bend, curve, t0 + aside), dq = speed(bend, curve, t1 - aside);
  HfCurve fit = {
      .kind = HF_CURVE_CUBIC, .p0 = image(bend, curve, t0), .p1 = image(bend, curve, t1)};
  fit.c0 = hf_point_add(fit.p0, hf_point_scale(dp, (t1 - t0) / 3));
  fit.c1 = hf_point_sub(fit.p1, hf_point_scale(dq, (t1 - t0) / 3));
  return fit;
}

/* Compared at equal parameters, which can only overstate the distance between the curves. */
static gboolean
fits(const HfBend *bend, const HfCurve *curve, double t0, double t1, const HfCurve *fit)
{
  for (int i = 1; i <= PROBES; i++) {
    double u = (double)i / (PROBES + 1);
    HfPoint truth = image(bend, curve, t0 + (t1 - t0) * u);
    if (hf_point_distance(truth, hf_curve_point(fit, u)) > FIT_MM * 0.9)
      return FALSE;
  }
  return TRUE;
}

static void
bend_piece(Bending *own, const HfCurve *curve, double t0, double t1, int halvings)
{
  HfCurve fit = hermite(own->bend, curve, t0, t1);
  if (halvings < MOST_HALVINGS && !fits(own->bend, curve, t0, t1, &fit)) {
    bend_piece(own, curve, t0, (t0 + t1) / 2, halvings + 1);
    bend_piece(own, curve, (t0 + t1) / 2, t1, halvings + 1);
    return;
  }
  hf_outline_cubic_to(own->out, fit.c0, fit.c1, fit.p1);
}

/* ---- where the map is not smooth ------------------------------------------------------------ */

static double
crossing(const HfCurve *curve, double x, double t0, double t1)
{
  gboolean left = hf_curve_point(curve, t0).x < x;
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (t0 + t1) / 2;
    *((hf_curve_point(curve, middle).x < x) == left ? &t0 : &t1) = middle;
  }
  return (t0 + t1) / 2;
}

static gint
by_size(gconstpointer a, gconstpointer b)
{
  double p = *(const double *)a, q = *(const double *)b;
  return (p > q) - (p < q);
}

/* (transfer full) where @curve crosses a break, in the order in which it does. */
static GArray *
cuts_of(const HfBend *bend, const HfCurve *curve)
{
  GArray *cuts = g_array_new(FALSE, FALSE, sizeof(double));
  HfBox box = hf_curve_box(curve);
  for (guint b = 0; bend->breaks != NULL && b < bend->breaks->len; b++) {
    double x = g_array_index(bend->breaks, double, b);
    if (x <= box.min.x || x >= box.max.x)
      continue;
    for (int i = 0; i < LOOKS; i++) {
      double t0 = (double)i / LOOKS, t1 = (i + 1.0) / LOOKS;
      if ((hf_curve_point(curve, t0).x < x) == (hf_curve_point(curve, t1).x < x))
        continue;
      double t = crossing(curve, x, t0, t1);
      g_array_append_val(cuts, t);
    }
  }
  g_array_sort(cuts, by_size);
  return cuts;
}

/* ---- curve after curve ---------------------------------------------------------------------- */

static void
bend_curve(Bending *own, const HfCurve *curve)
{
  const HfBend *bend = own->bend;
  gboolean is_line = curve->kind == HF_CURVE_LINE;
  if (is_line && !bend->leans && fabs(curve->p1.x - curve->p0.x) < 1e-12) {
    hf_outline_line_to(own->out, bend->point(bend, curve->p1));
    return;
  }
  if (is_line && bend->line != NULL && bend->line(bend, curve, own->out))
    return;
  g_autoptr(GArray) cuts = cuts_of(bend, curve);
  double from = 0;
  for (guint i = 0; i <= cuts->len; i++) {
    double to = i < cuts->len ? g_array_index(cuts, double, i) : 1;
    if (to > from)
      bend_piece(own, curve, from, to, 0);
    from = to;
  }
}

HfOutline *
hf_bend_outline(const HfBend *bend, const HfOutline *outline)
{
  Bending own = {bend, hf_outline_new()};
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(outline, i, &n);
    hf_outline_begin(own.out, bend->point(bend, curve[0].p0));
    for (guint k = 0; k < n; k++)
      bend_curve(&own, &curve[k]);
    hf_outline_close(own.out);
  }
  return own.out;
}
