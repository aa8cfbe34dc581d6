/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-text-path.c - a line by its length: where one is after so many units along it.
 *
 * Each curve is measured in pieces by Gauss's rule of five points (Abramowitz and Stegun, 25.4.30);
 * between the ends of a piece Newton's step finds the place.
 */
#include "drawing/svg-text-private.h"

#define PIECES      16    /* of a curve */
#define MOST_CURVES 20000 /* of a path that text follows */

static double
measure(const HfCurve *curve, double from, double to)
{
  static const double at[] = {0, 0.5384693101056831, 0.9061798459386640};
  static const double weight[] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
  double middle = (from + to) / 2, half = (to - from) / 2, sum = 0;
  for (int i = 0; i < 3; i++)
    for (int side = i == 0 ? 1 : -1; side <= 1; side += 2) {
      HfPoint d = hf_curve_derivative(curve, middle + side * half * at[i]);
      sum += weight[i] * hf_point_length(d);
    }
  return sum * half;
}

static void
add_run(HfTextPath *path, const HfCurve *curves, guint n)
{
  for (guint i = 0; i < n; i++) {
    double length = g_array_index(path->lengths, double, path->lengths->len - 1);
    for (int k = 0; k < PIECES; k++)
      length += measure(&curves[i], (double)k / PIECES, (k + 1.0) / PIECES);
    g_array_append_val(path->curves, curves[i]);
    g_array_append_val(path->lengths, length);
  }
}

/* Without the line by which a fill would close it. */
static void
add_contours(HfTextPath *path, const HfLinework *lines, const HfOutline *outline)
{
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(outline, i, &n);
    HfRunEnd end = g_array_index(lines->ends, HfRunEnd, i);
    add_run(path, curves, end == HF_RUN_FILLED ? n - 1 : n);
    path->closed = hf_outline_n_contours(outline) == 1 && end == HF_RUN_CLOSED;
  }
}

HfTextPath *
hf_text_path_new(const HfLinework *lines, HfMatrix matrix)
{
  if (lines->outline->curves->len > MOST_CURVES)
    return NULL;
  HfTextPath *path = g_new0(HfTextPath, 1);
  double nothing = 0;
  path->curves = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  path->lengths = g_array_new(FALSE, FALSE, sizeof(double));
  g_array_append_val(path->lengths, nothing);
  g_autoptr(HfOutline) moved = hf_outline_new();
  hf_outline_append(moved, lines->outline, matrix);
  if (hf_outline_n_contours(moved) == lines->ends->len)
    add_contours(path, lines, moved);
  double all = hf_text_path_length(path);
  if (all > 0 && isfinite(all))
    return path;
  hf_text_path_free(path);
  return NULL;
}

void
hf_text_path_free(gpointer data)
{
  HfTextPath *path = (HfTextPath *)data;
  g_array_unref(path->curves);
  g_array_unref(path->lengths);
  g_free(path);
}

double
hf_text_path_length(const HfTextPath *path)
{
  return g_array_index(path->lengths, double, path->lengths->len - 1);
}

/* The parameter at which @curve is @length long from its start. */
static double
parameter_at(const HfCurve *curve, double length)
{
  double from = 0;
  int k = 0;
  for (; k < PIECES - 1; k++) {
    double piece = measure(curve, (double)k / PIECES, (k + 1.0) / PIECES);
    if (length - from <= piece)
      break;
    from += piece;
  }
  double low = (double)k / PIECES, high = (k + 1.0) / PIECES, t = low;
  for (int i = 0; i < 12; i++) {
    double speed = hf_point_length(hf_curve_derivative(curve, t));
    double miss = length - from - measure(curve, low, t);
    if (!(speed > 0))
      return (low + high) / 2;
    double step = miss / speed;
    t = CLAMP(t + step, low, high);
    if (fabs(step) < 1e-13)
      break;
  }
  return t;
}

static HfPoint
heading_at(const HfCurve *curve, double t)
{
  HfPoint d = hf_curve_derivative(curve, t);
  double length = hf_point_length(d);
  return length > 0 ? hf_point_scale(d, 1 / length) : hf_curve_heading(curve, t > 0.5);
}

HfPoint
hf_text_path_at(const HfTextPath *path, double length, HfPoint *ret_heading)
{
  guint low = 0, high = path->curves->len;
  while (high - low > 1) {
    guint middle = (low + high) / 2;
    if (g_array_index(path->lengths, double, middle) <= length)
      low = middle;
    else
      high = middle;
  }
  const HfCurve *curve = &g_array_index(path->curves, HfCurve, low);
  double t = parameter_at(curve, length - g_array_index(path->lengths, double, low));
  *ret_heading = heading_at(curve, t);
  return hf_curve_point(curve, t);
}
