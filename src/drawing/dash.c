/* SPDX-License-Identifier: GPL-3.0-or-later
 * dash.c - a run of curves cut into dashes by its length.
 */
#include "drawing/stroke-private.h"

/* Gauss and Legendre's abscissae and weights of five points on -1..1: Abramowitz and Stegun, 25.4
 */
static const double abscissa[5] = {0, -0.5384693101056831, 0.5384693101056831, -0.9061798459386640,
                                   0.9061798459386640};
static const double weight[5] = {0.5688888888888889, 0.4786286704993665, 0.4786286704993665,
                                 0.2369268850561891, 0.2369268850561891};

static double
length_between(const HfCurve *c, double t0, double t1)
{
  double sum = 0;
  for (int i = 0; i < 5; i++) {
    HfPoint d = hf_curve_derivative(c, (t0 + t1) / 2 + (t1 - t0) / 2 * abscissa[i]);
    sum += weight[i] * hypot(d.x, d.y);
  }
  return sum * (t1 - t0) / 2;
}

enum { PARTS = 16 };

static double
length_of(const HfCurve *c)
{
  if (c->kind == HF_CURVE_LINE)
    return hf_point_distance(c->p0, c->p1);
  if (c->kind == HF_CURVE_ARC)
    return hf_curve_radius(c) * fabs(c->sweep);
  double sum = 0;
  for (int i = 0; i < PARTS; i++)
    sum += length_between(c, (double)i / PARTS, (i + 1.0) / PARTS);
  return sum;
}

/* The parameter at which @c is @along from its start. */
static double
parameter_at(const HfCurve *c, double along, double length)
{
  if (c->kind != HF_CURVE_CUBIC)
    return length > 0 ? CLAMP(along / length, 0, 1) : 0;
  for (int i = 0; i < PARTS; i++) {
    double t0 = (double)i / PARTS, part = length_between(c, t0, t0 + 1.0 / PARTS);
    if (along > part && i + 1 < PARTS) {
      along -= part;
      continue;
    }
    double low = t0, high = t0 + 1.0 / PARTS;
    for (int k = 0; k < 40; k++) {
      double t = (low + high) / 2;
      if (length_between(c, t0, t) < along)
        low = t;
      else
        high = t;
    }
    return (low + high) / 2;
  }
  return 1;
}

typedef struct {
  const GArray *dashes;
  double scale;
  guint at;    /* which dash or gap; even: a dash */
  double left; /* of it */
  GPtrArray *runs;
  GArray *run; /* (nullable) the dash that is being drawn */
} Dasher;

static void
begin_dash(Dasher *dasher)
{
  dasher->run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  g_ptr_array_add(dasher->runs, dasher->run);
}

static void
next(Dasher *dasher)
{
  dasher->at = (dasher->at + 1) % dasher->dashes->len;
  dasher->left = g_array_index(dasher->dashes, double, dasher->at) * dasher->scale;
}

/* Where the run begins in the dashes. */
static void
begin_at(Dasher *dasher, double offset)
{
  double all = 0;
  for (guint i = 0; i < dasher->dashes->len; i++)
    all += g_array_index(dasher->dashes, double, i) * dasher->scale;
  offset = fmod(offset * dasher->scale, all);
  if (offset < 0)
    offset += all;
  dasher->at = dasher->dashes->len - 1;
  next(dasher);
  for (guint i = 0; i < dasher->dashes->len && offset >= dasher->left; i++) {
    if (offset == 0 && dasher->left == 0)
      break; /* a dot just where it begins */
    offset -= dasher->left;
    next(dasher);
  }
  dasher->left -= MIN(offset, dasher->left);
}

/* A dash of no length shows its caps: it keeps the direction of the line. */
static void
add_dot(Dasher *dasher, const HfCurve *c, double t)
{
  if (dasher->run->len > 0)
    return;
  HfPoint p = hf_curve_point(c, t);
  HfCurve rest = t < 1 ? hf_curve_between(c, t, 1) : *c;
  HfPoint ahead = hf_point_add(p, hf_curve_heading(&rest, t >= 1));
  HfCurve dot = {HF_CURVE_LINE, p, p, ahead, p, 0};
  g_array_append_val(dasher->run, dot);
}

static void
end_dash(Dasher *dasher, const HfCurve *c, double t)
{
  if (dasher->run != NULL)
    add_dot(dasher, c, t);
  dasher->run = NULL;
}

static gboolean
dash_curve(Dasher *dasher, const HfCurve *c)
{
  double length = length_of(c), done = 0, t = 0;
  while (dasher->runs->len <= HF_MOST_DASHES) {
    gboolean on = dasher->at % 2 == 0;
    if (on && dasher->run == NULL)
      begin_dash(dasher);
    gboolean through = done + dasher->left > length;
    double step = through ? length - done : dasher->left;
    double to = through ? 1 : parameter_at(c, done + step, length);
    if (on && to > t) {
      HfCurve part = hf_curve_between(c, t, to);
      g_array_append_val(dasher->run, part);
    }
    done += step;
    t = to;
    dasher->left -= step;
    if (through)
      return TRUE;
    if (on)
      end_dash(dasher, c, t);
    next(dasher);
  }
  return FALSE;
}

gboolean
hf_dash_run(const GArray *curves, gboolean closed, const HfStroke *stroke, double scale,
            GPtrArray *ret_runs)
{
  Dasher dasher = {.dashes = stroke->dashes, .scale = scale, .runs = ret_runs};
  begin_at(&dasher, stroke->dash_offset);
  gboolean on_at_start = dasher.at % 2 == 0;
  for (guint i = 0; i < curves->len; i++)
    if (!dash_curve(&dasher, &g_array_index(curves, HfCurve, i)))
      return FALSE;
  if (dasher.run != NULL && dasher.run->len == 0)
    add_dot(&dasher, &g_array_index(curves, HfCurve, curves->len - 1), 1);
  if (closed && on_at_start && dasher.run != NULL && ret_runs->len > 1) {
    GArray *first = (GArray *)g_ptr_array_index(ret_runs, 0);
    g_array_append_vals(dasher.run, first->data, first->len);
    g_ptr_array_remove_index(ret_runs, 0);
  }
  return TRUE;
}
