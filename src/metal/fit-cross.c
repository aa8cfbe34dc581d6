/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit-cross.c - where lines and arcs of an outline cross each other.
 *
 *         ___________        A hairpin of metal or gap thinner than twice the tolerance may come
 *      __/  ________ \__     out crossed: each side is within the tolerance, but they have changed
 *        \_/________>   `    places. Rare, and found here by a sweep over the boxes.
 *
 * Pieces that follow each other share their joint; that is no crossing.
 */
#include "metal/fit-private.h"
#include <stdlib.h>

#define LOOK_EVERY 256 /* pieces: whether to stop */

static const double AT_END = 1e-6; /* mm: as near to an end as this is at the end */

typedef struct {
  const HfCurve *curve;
  HfBox box;
} Piece;

/* Is p, which lies on the whole line or circle, on the piece and not at its ends? */
static gboolean
is_inside(const HfCurve *c, HfPoint p)
{
  if (hf_point_distance(p, c->p0) < AT_END || hf_point_distance(p, c->p1) < AT_END)
    return FALSE;
  if (c->kind == HF_CURVE_LINE) {
    HfPoint d = hf_point_sub(c->p1, c->p0);
    double t = hf_point_dot(hf_point_sub(p, c->p0), d);
    return t > 0 && t < hf_point_dot(d, d);
  }
  double turn = hf_fit_angle(hf_point_sub(c->p0, c->c0), hf_point_sub(p, c->c0));
  if (c->sweep < 0)
    turn = -turn;
  return (turn < 0 ? turn + 2 * G_PI : turn) < fabs(c->sweep);
}

/* Points common to a line and a circle. */
static guint
line_circle(const HfCurve *line, const HfCurve *arc, HfPoint *ret)
{
  HfPoint d = hf_point_sub(line->p1, line->p0), f = hf_point_sub(line->p0, arc->c0);
  double r = hf_curve_radius(arc), length = hf_point_length(d);
  HfPoint u = hf_point_scale(d, 1 / length);
  double along = -hf_point_dot(f, u), off = hf_point_cross(u, f), half2 = r * r - off * off;
  if (half2 < 0)
    return 0;
  double half = sqrt(half2);
  ret[0] = hf_point_add(line->p0, hf_point_scale(u, along - half));
  ret[1] = hf_point_add(line->p0, hf_point_scale(u, along + half));
  return 2;
}

static guint
circle_circle(const HfCurve *a, const HfCurve *b, HfPoint *ret)
{
  HfPoint d = hf_point_sub(b->c0, a->c0);
  double gap = hf_point_length(d), r = hf_curve_radius(a), s = hf_curve_radius(b);
  if (gap < 1e-9 || gap > r + s || gap < fabs(r - s))
    return 0;
  double along = (gap * gap + r * r - s * s) / (2 * gap), half2 = r * r - along * along;
  if (half2 < 0)
    return 0;
  HfPoint u = hf_point_scale(d, 1 / gap), foot = hf_point_add(a->c0, hf_point_scale(u, along));
  HfPoint across = hf_point_scale(hf_point(-u.y, u.x), sqrt(half2));
  ret[0] = hf_point_add(foot, across);
  ret[1] = hf_point_sub(foot, across);
  return 2;
}

static guint
line_line(const HfCurve *a, const HfCurve *b, HfPoint *ret)
{
  HfPoint da = hf_point_sub(a->p1, a->p0), db = hf_point_sub(b->p1, b->p0);
  double det = hf_point_cross(da, db);
  if (fabs(det) < 1e-12 * hf_point_length(da) * hf_point_length(db))
    return 0;
  double t = hf_point_cross(hf_point_sub(b->p0, a->p0), db) / det;
  ret[0] = hf_point_add(a->p0, hf_point_scale(da, t));
  return 1;
}

guint
hf_fit_common(const HfCurve *a, const HfCurve *b, HfPoint ret_at[2])
{
  if (a->kind == HF_CURVE_LINE)
    return b->kind == HF_CURVE_LINE ? line_line(a, b, ret_at) : line_circle(a, b, ret_at);
  return b->kind == HF_CURVE_LINE ? line_circle(b, a, ret_at) : circle_circle(a, b, ret_at);
}

static gboolean
cross(const HfCurve *a, const HfCurve *b, HfPoint *ret_at)
{
  HfPoint at[2];
  guint n = hf_fit_common(a, b, at);
  for (guint i = 0; i < n; i++)
    if (is_inside(a, at[i]) && is_inside(b, at[i])) {
      *ret_at = at[i];
      return TRUE;
    }
  return FALSE;
}

static gint
left_first(gconstpointer a, gconstpointer b)
{
  const Piece *p = a, *q = b;
  if (p->box.min.x != q->box.min.x)
    return p->box.min.x < q->box.min.x ? -1 : 1;
  return p->curve < q->curve ? -1 : p->curve > q->curve;
}

void
hf_fit_crossings(const HfOutline *outline, GArray *places, const HfCancel *cancel)
{
  guint n = outline->curves->len;
  g_autofree Piece *piece = g_new(Piece, n);
  for (guint i = 0; i < n; i++) {
    piece[i].curve = &g_array_index(outline->curves, HfCurve, i);
    piece[i].box = hf_curve_box(piece[i].curve);
  }
  if (n > 1)
    qsort(piece, n, sizeof(Piece), left_first);
  for (guint i = 0; i < n && (i % LOOK_EVERY != 0 || hf_cancel_check(cancel, NULL)); i++)
    for (guint j = i + 1; j < n && piece[j].box.min.x <= piece[i].box.max.x; j++) {
      HfPoint at;
      if (piece[j].box.min.y <= piece[i].box.max.y && piece[i].box.min.y <= piece[j].box.max.y &&
          cross(piece[i].curve, piece[j].curve, &at))
        g_array_append_val(places, at);
    }
}
