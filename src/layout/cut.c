/* SPDX-License-Identifier: GPL-3.0-or-later
 * cut.c - cutting a shape along a line: curves are split where they cross it, what is on the wrong
 * side is left out, and the pieces are joined along the line (Sutherland and Hodgman, Reentrant
 * polygon clipping, CACM 17, 1974, on curves instead of edges).
 *
 *        __            __
 *       /  \    ->    /  \         the closing edge lies in the line
 *     ----------     +----+
 *      |    |
 */
#include "layout/cut-private.h"

enum { PIECES = 16, HALVINGS = 60 };

typedef struct {
  HfPoint at, along; /* along: of length 1 */
  HfOutline *out;
  gboolean open; /* a contour was begun */
} Cut;

static double
side(const Cut *cut, HfPoint p)
{
  return hf_point_cross(cut->along, hf_point_sub(p, cut->at));
}

static double
crossing(const Cut *cut, const HfCurve *curve, double a, double b)
{
  gboolean from = side(cut, hf_curve_point(curve, a)) >= 0;
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (a + b) / 2;
    if ((side(cut, hf_curve_point(curve, middle)) >= 0) == from)
      a = middle;
    else
      b = middle;
  }
  return (a + b) / 2;
}

static void
pen_to(Cut *cut, HfPoint p)
{
  if (cut->open)
    hf_outline_line_to(cut->out, p);
  else
    hf_outline_begin(cut->out, p);
  cut->open = TRUE;
}

static void
keep_piece(Cut *cut, const HfCurve *curve, double t0, double t1)
{
  if (t1 - t0 < 1e-12)
    return;
  HfCurve piece = t0 <= 0 && t1 >= 1 ? *curve : hf_curve_between(curve, t0, t1);
  pen_to(cut, piece.p0);
  if (piece.kind == HF_CURVE_LINE)
    hf_outline_line_to(cut->out, piece.p1);
  else if (piece.kind == HF_CURVE_CUBIC)
    hf_outline_cubic_to(cut->out, piece.c0, piece.c1, piece.p1);
  else
    hf_outline_arc_to(cut->out, piece.c0, piece.sweep, piece.p1);
}

static void
cut_curve(Cut *cut, const HfCurve *curve)
{
  double kept_from = 0;
  gboolean inside = side(cut, curve->p0) >= 0;
  for (int i = 0; i < PIECES; i++) {
    double a = (double)i / PIECES, b = (i + 1.0) / PIECES;
    if ((side(cut, hf_curve_point(curve, b)) >= 0) == inside)
      continue;
    double t = crossing(cut, curve, a, b);
    if (inside)
      keep_piece(cut, curve, kept_from, t);
    kept_from = t;
    inside = !inside;
  }
  if (inside)
    keep_piece(cut, curve, kept_from, 1);
}

HfOutline *
hf_cut_line(const HfOutline *outline, HfPoint at, HfPoint along)
{
  Cut cut = {at, hf_point_scale(along, 1 / hf_point_length(along)), hf_outline_new(), FALSE};
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(outline, i, &n);
    cut.open = FALSE;
    for (guint k = 0; k < n; k++)
      cut_curve(&cut, &curve[k]);
    hf_outline_close(cut.out);
  }
  return cut.out;
}

HfOutline *
hf_cut_level(const HfOutline *outline, double y, gboolean keep_above)
{
  return hf_cut_line(outline, hf_point(0, y), hf_point(keep_above ? 1 : -1, 0));
}
