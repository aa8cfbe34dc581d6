/* SPDX-License-Identifier: GPL-3.0-or-later
 * outline.c - contours of true curves: building, moving, measuring.
 */
#include "geom/outline.h"

static const double TWO_PI = 2 * G_PI;

HfOutline *
hf_outline_new(void)
{
  HfOutline *outline = g_new(HfOutline, 1);
  outline->curves = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  outline->starts = g_array_new(FALSE, FALSE, sizeof(guint));
  return outline;
}

HfOutline *
hf_outline_copy(const HfOutline *outline)
{
  HfOutline *copy = g_new(HfOutline, 1);
  copy->curves = g_array_copy(outline->curves);
  copy->starts = g_array_copy(outline->starts);
  return copy;
}

void
hf_outline_free(HfOutline *outline)
{
  if (outline == NULL)
    return;
  g_array_unref(outline->curves);
  g_array_unref(outline->starts);
  g_free(outline);
}

/* ---- building ------------------------------------------------------------------------------ */

/* The pen is kept as the last curve's end. A contour that was begun but has no curve yet is held
 * as a line of no length, which the next curve replaces. */
static HfCurve *
last_curve(HfOutline *outline)
{
  guint n = outline->curves->len;
  return n == 0 ? NULL : &g_array_index(outline->curves, HfCurve, n - 1);
}

static gboolean
is_placeholder(const HfCurve *curve)
{
  return curve->kind == HF_CURVE_LINE && curve->p0.x == curve->p1.x && curve->p0.y == curve->p1.y;
}

static gboolean
same_point(HfPoint a, HfPoint b)
{
  return a.x == b.x && a.y == b.y;
}

static void
add_curve(HfOutline *outline, HfCurve curve)
{
  HfCurve *last = last_curve(outline);
  g_assert(last != NULL);
  curve.p0 = last->p1;
  if (is_placeholder(last))
    *last = curve;
  else
    g_array_append_val(outline->curves, curve);
}

void
hf_outline_begin(HfOutline *outline, HfPoint p)
{
  hf_outline_close(outline);
  HfCurve placeholder = {HF_CURVE_LINE, p, p, p, p, 0};
  guint start = outline->curves->len;
  g_array_append_val(outline->starts, start);
  g_array_append_val(outline->curves, placeholder);
}

void
hf_outline_line_to(HfOutline *outline, HfPoint p)
{
  if (!same_point(last_curve(outline)->p1, p))
    add_curve(outline, (HfCurve){.kind = HF_CURVE_LINE, .p1 = p, .c0 = p, .c1 = p});
}

void
hf_outline_cubic_to(HfOutline *outline, HfPoint c0, HfPoint c1, HfPoint p)
{
  HfPoint pen = last_curve(outline)->p1;
  if (same_point(pen, c0) && same_point(c0, c1) && same_point(c1, p))
    return;
  add_curve(outline, (HfCurve){.kind = HF_CURVE_CUBIC, .p1 = p, .c0 = c0, .c1 = c1});
}

void
hf_outline_quad_to(HfOutline *outline, HfPoint control, HfPoint p)
{
  HfPoint pen = last_curve(outline)->p1;
  hf_outline_cubic_to(outline, hf_point_mix(pen, control, 2.0 / 3),
                      hf_point_mix(p, control, 2.0 / 3), p);
}

void
hf_outline_arc_to(HfOutline *outline, HfPoint centre, double sweep, HfPoint p)
{
  if (sweep != 0)
    add_curve(outline,
              (HfCurve){.kind = HF_CURVE_ARC, .p1 = p, .c0 = centre, .c1 = centre, .sweep = sweep});
}

void
hf_outline_close(HfOutline *outline)
{
  guint n_contours = outline->starts->len;
  if (n_contours == 0)
    return;
  guint start = g_array_index(outline->starts, guint, n_contours - 1);
  HfCurve *last = last_curve(outline);
  if (is_placeholder(last) && outline->curves->len == start + 1) {
    g_array_set_size(outline->curves, start);
    g_array_set_size(outline->starts, n_contours - 1);
    return;
  }
  HfPoint first = g_array_index(outline->curves, HfCurve, start).p0;
  hf_outline_line_to(outline, first);
}

void
hf_outline_add_circle(HfOutline *outline, HfPoint centre, double radius)
{
  HfPoint start = hf_point(centre.x + radius, centre.y);
  hf_outline_begin(outline, start);
  hf_outline_arc_to(outline, centre, TWO_PI, start);
  hf_outline_close(outline);
}

void
hf_outline_add_rectangle(HfOutline *outline, HfBox box, double r)
{
  r = CLAMP(r, 0, MIN(hf_box_width(box), hf_box_height(box)) / 2);
  const HfPoint corner[4] = {{box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}, box.min};
  const HfPoint along[4] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
  hf_outline_begin(outline, hf_point(box.min.x + r, box.min.y));
  for (int i = 0; i < 4; i++) {
    HfPoint next = along[(i + 1) % 4];
    HfPoint from = hf_point_sub(corner[i], hf_point_scale(along[i], r));
    HfPoint to = hf_point_add(corner[i], hf_point_scale(next, r));
    HfPoint centre = hf_point_add(from, hf_point_scale(next, r));
    if (i == 3) /* the last arc ends exactly where the contour began */
      to = hf_point(box.min.x + r, box.min.y);
    hf_outline_line_to(outline, from);
    if (r > 0)
      hf_outline_arc_to(outline, centre, G_PI_2, to);
  }
  hf_outline_close(outline);
}

void
hf_outline_add_polygon(HfOutline *outline, const HfPoint *points, guint n)
{
  hf_outline_begin(outline, points[0]);
  for (guint i = 1; i < n; i++)
    hf_outline_line_to(outline, points[i]);
  hf_outline_close(outline);
}

/* ---- moving -------------------------------------------------------------------------------- */

/* TRUE when circles stay circles; @ret_mirrored when turning sense is swapped. */
static gboolean
is_similarity(HfMatrix m, gboolean *ret_mirrored)
{
  double det = m.xx * m.yy - m.xy * m.yx;
  double size = fabs(m.xx) + fabs(m.xy) + fabs(m.yx) + fabs(m.yy);
  double sign = det < 0 ? -1 : 1;
  *ret_mirrored = det < 0;
  return fabs(m.xx - sign * m.yy) <= 1e-12 * size && fabs(m.xy + sign * m.yx) <= 1e-12 * size;
}

/* An arc as cubics of at most 1/16 turn: the handle 4/3 tan(a/4) leaves 1e-8 of the radius. */
static void
append_arc_as_cubics(HfOutline *outline, const HfCurve *arc, HfMatrix m)
{
  guint n = MAX(1, (guint)ceil(fabs(arc->sweep) / (G_PI / 8)));
  double step = arc->sweep / n, handle = 4.0 / 3 * tan(step / 4);
  double start = hf_angle_of(hf_point_sub(arc->p0, arc->c0)), r = hf_curve_radius(arc);
  for (guint i = 0; i < n; i++) {
    double a = start + step * i, b = a + step;
    HfPoint p = hf_point_polar(arc->c0, r, a), q = hf_point_polar(arc->c0, r, b);
    HfPoint c0 = {p.x - handle * r * sin(a), p.y + handle * r * cos(a)};
    HfPoint c1 = {q.x + handle * r * sin(b), q.y - handle * r * cos(b)};
    if (i == n - 1)
      q = arc->p1;
    hf_outline_cubic_to(outline, hf_matrix_apply(m, c0), hf_matrix_apply(m, c1),
                        hf_matrix_apply(m, q));
  }
}

static void
append_curve(HfOutline *outline, const HfCurve *curve, HfMatrix m, gboolean similar, double turn)
{
  HfPoint to = hf_matrix_apply(m, curve->p1);
  switch (curve->kind) {
  case HF_CURVE_LINE:
    hf_outline_line_to(outline, to);
    break;
  case HF_CURVE_CUBIC:
    hf_outline_cubic_to(outline, hf_matrix_apply(m, curve->c0), hf_matrix_apply(m, curve->c1), to);
    break;
  case HF_CURVE_ARC:
    if (similar)
      hf_outline_arc_to(outline, hf_matrix_apply(m, curve->c0), turn * curve->sweep, to);
    else
      append_arc_as_cubics(outline, curve, m);
    break;
  }
}

void
hf_outline_append(HfOutline *outline, const HfOutline *from, HfMatrix matrix)
{
  gboolean mirrored;
  gboolean similar = is_similarity(matrix, &mirrored);
  for (guint i = 0; i < hf_outline_n_contours(from); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(from, i, &n);
    hf_outline_begin(outline, hf_matrix_apply(matrix, curve[0].p0));
    for (guint j = 0; j < n; j++)
      append_curve(outline, &curve[j], matrix, similar, mirrored ? -1 : 1);
    hf_outline_close(outline);
  }
}

void
hf_outline_reverse(HfOutline *outline)
{
  for (guint i = 0; i < outline->starts->len; i++) {
    guint n;
    HfCurve *curve = (HfCurve *)hf_outline_contour(outline, i, &n);
    for (guint a = 0, b = n - 1; a < b; a++, b--) {
      HfCurve keep = curve[a];
      curve[a] = curve[b];
      curve[b] = keep;
    }
    for (guint j = 0; j < n; j++)
      curve[j] = hf_curve_between(&curve[j], 1, 0);
  }
}

/* ---- measuring ----------------------------------------------------------------------------- */

guint
hf_outline_n_contours(const HfOutline *outline)
{
  return outline->starts->len;
}

const HfCurve *
hf_outline_contour(const HfOutline *outline, guint i, guint *n)
{
  guint start = g_array_index(outline->starts, guint, i);
  guint end = i + 1 < outline->starts->len ? g_array_index(outline->starts, guint, i + 1)
                                           : outline->curves->len;
  *n = end - start;
  return &g_array_index(outline->curves, HfCurve, start);
}

HfBox
hf_outline_box(const HfOutline *outline)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < outline->curves->len; i++)
    box = hf_box_union(box, hf_curve_box(&g_array_index(outline->curves, HfCurve, i)));
  return box;
}

/* s - sin s, without losing its figures where s is small. */
static double
less_sine(double s)
{
  double square = s * s;
  return fabs(s) < 0.1 ? s * square * (1.0 / 6 - square * (1.0 / 120 - square / 5040)) : s - sin(s);
}

/* Green: A = 1/2 of the closed integral of x dy - y dx, in closed form for each kind of curve. An
 * arc is its chord and what lies between the two: by way of its centre, which may be a kilometre
 * off, an end that is a hair beside the circle would count with that kilometre. */
static double
curve_area(const HfCurve *c)
{
  switch (c->kind) {
  case HF_CURVE_LINE:
    return hf_point_cross(c->p0, c->p1) / 2;
  case HF_CURVE_ARC: {
    double r = hf_curve_radius(c);
    return (hf_point_cross(c->p0, c->p1) + r * r * less_sine(c->sweep)) / 2;
  }
  case HF_CURVE_CUBIC:
    return (6 * hf_point_cross(c->p0, c->c0) + 3 * hf_point_cross(c->p0, c->c1) +
            hf_point_cross(c->p0, c->p1) + 3 * hf_point_cross(c->c0, c->c1) +
            3 * hf_point_cross(c->c0, c->p1) + 6 * hf_point_cross(c->c1, c->p1)) /
           20;
  }
  g_assert_not_reached();
}

double
hf_outline_area(const HfOutline *outline)
{
  double area = 0;
  for (guint i = 0; i < outline->curves->len; i++)
    area += curve_area(&g_array_index(outline->curves, HfCurve, i));
  return area;
}
