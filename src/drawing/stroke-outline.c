/* SPDX-License-Identifier: GPL-3.0-or-later
 * stroke-outline.c - the outline of a stroke, piece by piece.
 *
 *      l0 ------------- l1       body: from the left side back along the right one
 *      p0 ------------> p1       joint: a triangle, a kite or a pie on the outer side
 *      r0 ------------- r1       end: nothing, half a disc, half a square
 */
#include "drawing/stroke-private.h"

#define BESIDE_MM 0.001 /* how far a cubic beside another may be off */
#define MOST_TURN 0.5   /* rad that one body may turn by */
#define CHORD_MM  0.005 /* sagitta at the pen's rim, of bodies that bend tighter than the pen */
#define DEEPEST   10    /* halvings of a cubic */

typedef struct {
  const HfStroke *stroke;
  double half;
  HfOutline *out;
} Pen;

static HfPoint
unit(HfPoint a)
{
  double length = hypot(a.x, a.y);
  return length > 0 ? hf_point_scale(a, 1 / length) : hf_point(0, 0);
}

static HfPoint
left_of(HfPoint along)
{
  return hf_point(-along.y, along.x);
}

HfPoint
hf_curve_heading(const HfCurve *c, gboolean at_end)
{
  if (c->kind == HF_CURVE_ARC) {
    HfPoint r = hf_point_sub(at_end ? c->p1 : c->p0, c->c0);
    return unit(hf_point_scale(left_of(r), c->sweep < 0 ? -1 : 1));
  }
  if (c->kind == HF_CURVE_LINE)
    return unit(hf_point_sub(c->p0.x == c->p1.x && c->p0.y == c->p1.y ? c->c0 : c->p1, c->p0));
  const HfPoint along[4] = {c->p0, c->c0, c->c1, c->p1};
  for (int i = 1; i < 4; i++) {
    HfPoint d = at_end ? hf_point_sub(along[3], along[3 - i]) : hf_point_sub(along[i], along[0]);
    if (hypot(d.x, d.y) > 1e-9)
      return unit(d);
  }
  return hf_point(1, 0);
}

/* @n points as one contour, counter-clockwise. */
static void
add_polygon(const Pen *pen, HfPoint *p, guint n)
{
  double area = 0;
  for (guint i = 0; i < n; i++)
    area += hf_point_cross(hf_point_sub(p[i], p[0]), hf_point_sub(p[(i + 1) % n], p[0]));
  for (guint i = 0; area < 0 && i < n / 2; i++) {
    HfPoint keep = p[i];
    p[i] = p[n - 1 - i];
    p[n - 1 - i] = keep;
  }
  if (area != 0)
    hf_outline_add_polygon(pen->out, p, n);
}

/* From @from, a point at half a width from @centre, by @sweep > 0. */
static void
add_pie(const Pen *pen, HfPoint centre, HfPoint from, double sweep)
{
  double angle = hf_angle_of(hf_point_sub(from, centre));
  hf_outline_begin(pen->out, centre);
  hf_outline_line_to(pen->out, from);
  hf_outline_arc_to(pen->out, centre, sweep, hf_point_polar(centre, pen->half, angle + sweep));
  hf_outline_close(pen->out);
}

/* ---- bodies ---------------------------------------------------------------------------------- */

/* 1 / radius, > 0 to the left; 0 where the curve stands still */
static double
bend_at(const HfCurve *c, double t)
{
  HfPoint d = hf_curve_derivative(c, t);
  double speed = hypot(d.x, d.y);
  return speed < 1e-9
             ? 0
             : hf_point_cross(d, hf_curve_second_derivative(c, t)) / (speed * speed * speed);
}

/* The cubic @by to the left of @c, with its ends, directions and speeds there. */
static HfCurve
beside(const HfCurve *c, double by)
{
  HfPoint u0 = hf_curve_heading(c, FALSE), u1 = hf_curve_heading(c, TRUE);
  double h0 = hf_point_distance(c->p0, c->c0) * (1 - by * bend_at(c, 0));
  double h1 = hf_point_distance(c->p1, c->c1) * (1 - by * bend_at(c, 1));
  HfCurve moved = {.kind = HF_CURVE_CUBIC};
  moved.p0 = hf_point_add(c->p0, hf_point_scale(left_of(u0), by));
  moved.p1 = hf_point_add(c->p1, hf_point_scale(left_of(u1), by));
  moved.c0 = hf_point_add(moved.p0, hf_point_scale(u0, h0));
  moved.c1 = hf_point_sub(moved.p1, hf_point_scale(u1, h1));
  return moved;
}

/* Is @moved at its quarters as far from @c as it should be, and on its way? */
static gboolean
is_beside(const HfCurve *c, const HfCurve *moved, double by)
{
  for (int i = 1; i < 4; i++) {
    HfPoint p = hf_curve_point(moved, i / 4.0);
    double t = i / 4.0;
    for (int k = 0; k < 3; k++) { /* the foot: p - c(t) square to c'(t) */
      HfPoint d = hf_curve_derivative(c, t), gap = hf_point_sub(p, hf_curve_point(c, t));
      double square = hf_point_dot(d, d);
      if (square > 0)
        t = CLAMP(t + hf_point_dot(gap, d) / square, 0, 1);
    }
    if (fabs(hf_point_distance(p, hf_curve_point(c, t)) - fabs(by)) > BESIDE_MM)
      return FALSE;
  }
  return TRUE;
}

static gboolean
bends_wide(const HfCurve *c, double half)
{
  for (int i = 0; i <= 4; i++)
    if (fabs(bend_at(c, i / 4.0)) * half > 0.98)
      return FALSE;
  return TRUE;
}

/* By how much the control polygon turns: at least as much as the curve does. */
static double
turn_of(const HfCurve *c)
{
  HfPoint a = hf_curve_heading(c, FALSE), b = unit(hf_point_sub(c->c1, c->c0));
  HfPoint d = hf_curve_heading(c, TRUE);
  if (b.x == 0 && b.y == 0)
    b = a;
  return fabs(atan2(hf_point_cross(a, b), hf_point_dot(a, b))) +
         fabs(atan2(hf_point_cross(b, d), hf_point_dot(b, d)));
}

/* The pen's line from one place to the next, where the inner side runs backwards. */
static void
add_chord(const Pen *pen, const HfCurve *c)
{
  HfPoint n0 = hf_point_scale(left_of(hf_curve_heading(c, FALSE)), pen->half);
  HfPoint n1 = hf_point_scale(left_of(hf_curve_heading(c, TRUE)), pen->half);
  HfPoint l0 = hf_point_add(c->p0, n0), r0 = hf_point_sub(c->p0, n0);
  HfPoint l1 = hf_point_add(c->p1, n1), r1 = hf_point_sub(c->p1, n1);
  add_polygon(pen, (HfPoint[]){r0, l0, l1}, 3);
  add_polygon(pen, (HfPoint[]){r0, l1, r1}, 3);
}

static void
add_sides(const Pen *pen, const HfCurve *right, const HfCurve *left)
{
  hf_outline_begin(pen->out, right->p0);
  hf_outline_cubic_to(pen->out, right->c0, right->c1, right->p1);
  hf_outline_line_to(pen->out, left->p1);
  hf_outline_cubic_to(pen->out, left->c1, left->c0, left->p0);
  hf_outline_close(pen->out);
}

static void
add_cubic(const Pen *pen, const HfCurve *c, int depth)
{
  double turn = turn_of(c);
  if (hf_point_distance(c->p0, c->p1) + hf_point_distance(c->c0, c->c1) < 1e-7)
    return;
  if (turn < MOST_TURN && bends_wide(c, pen->half)) {
    HfCurve left = beside(c, pen->half), right = beside(c, -pen->half);
    if (is_beside(c, &left, pen->half) && is_beside(c, &right, -pen->half)) {
      add_sides(pen, &right, &left);
      return;
    }
  }
  gboolean tight = !bends_wide(c, pen->half) && turn * turn * pen->half / 8 < CHORD_MM;
  if (depth == DEEPEST || tight) {
    add_chord(pen, c);
    return;
  }
  HfCurve first = hf_curve_between(c, 0, 0.5), second = hf_curve_between(c, 0.5, 1);
  add_cubic(pen, &first, depth + 1);
  add_cubic(pen, &second, depth + 1);
}

/* Part of a ring, or of a disc where the pen is wider than the arc's radius. */
static void
add_arc(const Pen *pen, const HfCurve *c)
{
  enum { PARTS = 4 };
  double r = hf_curve_radius(c), inner = r - pen->half;
  for (int i = 0; i < PARTS; i++) {
    HfCurve part = hf_curve_between(c, (double)i / PARTS, (i + 1.0) / PARTS);
    if (part.sweep < 0)
      part = hf_curve_between(&part, 1, 0);
    double a = hf_angle_of(hf_point_sub(part.p0, part.c0)), b = a + part.sweep;
    hf_outline_begin(pen->out, hf_point_polar(part.c0, r + pen->half, a));
    hf_outline_arc_to(pen->out, part.c0, part.sweep, hf_point_polar(part.c0, r + pen->half, b));
    if (inner > 0) {
      hf_outline_line_to(pen->out, hf_point_polar(part.c0, inner, b));
      hf_outline_arc_to(pen->out, part.c0, -part.sweep, hf_point_polar(part.c0, inner, a));
    } else {
      hf_outline_line_to(pen->out, part.c0);
    }
    hf_outline_close(pen->out);
    if (inner < 0) { /* the pen's other end, beyond the centre */
      hf_outline_begin(pen->out, part.c0);
      hf_outline_line_to(pen->out, hf_point_polar(part.c0, -inner, a + G_PI));
      hf_outline_arc_to(pen->out, part.c0, part.sweep, hf_point_polar(part.c0, -inner, b + G_PI));
      hf_outline_close(pen->out);
    }
  }
}

static void
add_body(const Pen *pen, const HfCurve *c)
{
  if (c->kind == HF_CURVE_CUBIC) {
    add_cubic(pen, c, 0);
  } else if (c->kind == HF_CURVE_ARC) {
    add_arc(pen, c);
  } else if (c->p0.x != c->p1.x || c->p0.y != c->p1.y) {
    HfPoint n = hf_point_scale(left_of(hf_curve_heading(c, FALSE)), pen->half);
    add_polygon(pen,
                (HfPoint[]){hf_point_sub(c->p0, n), hf_point_sub(c->p1, n), hf_point_add(c->p1, n),
                            hf_point_add(c->p0, n)},
                4);
  }
}

/* ---- joints and ends ------------------------------------------------------------------------- */

/* SVG 2, 13.5.6: beyond the limit the kite is cut square at half the limit times the width. */
static void
add_clipped(const Pen *pen, HfPoint p, HfPoint a, HfPoint b, HfPoint tip)
{
  HfPoint axis = unit(hf_point_sub(tip, p)), side = left_of(axis);
  double reach = pen->stroke->miter_limit * pen->half;
  double near = hf_point_dot(hf_point_sub(a, p), axis), far = hf_point_distance(tip, p);
  if (reach <= near || far <= near) {
    add_polygon(pen, (HfPoint[]){p, a, b}, 3);
    return;
  }
  double wide = fabs(hf_point_dot(hf_point_sub(a, p), side)) * (far - reach) / (far - near);
  HfPoint top = hf_point_add(p, hf_point_scale(axis, reach));
  double way = hf_point_dot(hf_point_sub(a, p), side) > 0 ? wide : -wide;
  add_polygon(pen,
              (HfPoint[]){p, a, hf_point_add(top, hf_point_scale(side, way)),
                          hf_point_sub(top, hf_point_scale(side, way)), b},
              5);
}

static void
add_joint(const Pen *pen, HfPoint p, HfPoint in, HfPoint out)
{
  double turn = atan2(hf_point_cross(in, out), hf_point_dot(in, out));
  if (fabs(turn) < 1e-9)
    return;
  double outer = turn > 0 ? -pen->half : pen->half; /* to the left */
  HfPoint a = hf_point_add(p, hf_point_scale(left_of(in), outer));
  HfPoint b = hf_point_add(p, hf_point_scale(left_of(out), outer));
  if (pen->stroke->join == HF_JOIN_ROUND) {
    add_pie(pen, p, turn > 0 ? a : b, fabs(turn));
    return;
  }
  double longer =
      1 / MAX(cos(turn / 2), 1e-9); /* miter length to width: 1 / sin of half the angle */
  HfPoint half_way = unit(hf_point_add(left_of(in), left_of(out)));
  HfPoint tip = hf_point_add(p, hf_point_scale(half_way, outer * longer));
  if (pen->stroke->join != HF_JOIN_BEVEL && longer <= pen->stroke->miter_limit)
    add_polygon(pen, (HfPoint[]){p, a, tip, b}, 4);
  else if (pen->stroke->join == HF_JOIN_MITER_CLIP && longer < 1e6)
    add_clipped(pen, p, a, b, tip);
  else
    add_polygon(pen, (HfPoint[]){p, a, b}, 3);
}

/* @away: unit vector that leads away from the line. */
static void
add_end(const Pen *pen, HfPoint p, HfPoint away)
{
  HfPoint n = hf_point_scale(left_of(away), pen->half), on = hf_point_scale(away, pen->half);
  HfPoint l = hf_point_add(p, n), r = hf_point_sub(p, n);
  if (pen->stroke->cap == HF_CAP_ROUND)
    add_pie(pen, p, r, G_PI);
  else if (pen->stroke->cap == HF_CAP_SQUARE)
    add_polygon(pen, (HfPoint[]){r, hf_point_add(r, on), hf_point_add(l, on), l}, 4);
}

static void
add_ends(const Pen *pen, const HfCurve *first, const HfCurve *last)
{
  add_end(pen, first->p0, hf_point_scale(hf_curve_heading(first, FALSE), -1));
  add_end(pen, last->p1, hf_curve_heading(last, TRUE));
}

/* ---- runs ------------------------------------------------------------------------------------ */

static void
add_run(const Pen *pen, const GArray *curves, gboolean closed)
{
  const HfCurve *c = (const HfCurve *)(gpointer)curves->data;
  for (guint i = 0; i < curves->len; i++) {
    add_body(pen, &c[i]);
    guint next = (i + 1) % curves->len;
    if (next != 0 || closed)
      add_joint(pen, c[i].p1, hf_curve_heading(&c[i], TRUE), hf_curve_heading(&c[next], FALSE));
  }
  if (!closed)
    add_ends(pen, &c[0], &c[curves->len - 1]);
}

static HfCurve
scaled(HfCurve c, double k)
{
  c.p0 = hf_point_scale(c.p0, k);
  c.p1 = hf_point_scale(c.p1, k);
  c.c0 = hf_point_scale(c.c0, k);
  c.c1 = hf_point_scale(c.c1, k);
  return c;
}

/* The curves of run @i that a stroke follows. */
static GArray *
run_of(const HfLinework *lines, guint i, double scale)
{
  guint n;
  const HfCurve *c = hf_outline_contour(lines->outline, i, &n);
  if (g_array_index(lines->ends, HfRunEnd, i) == HF_RUN_FILLED)
    n--;
  GArray *run = g_array_sized_new(FALSE, FALSE, sizeof(HfCurve), n);
  for (guint j = 0; j < n; j++) {
    HfCurve curve = scaled(c[j], scale);
    g_array_append_val(run, curve);
  }
  return run;
}

static gboolean
add_dashed(const Pen *pen, const GArray *run, gboolean closed, double scale)
{
  g_autoptr(GPtrArray) dashes = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
  if (!hf_dash_run(run, closed, pen->stroke, scale, dashes))
    return FALSE;
  for (guint i = 0; i < dashes->len; i++)
    add_run(pen, (const GArray *)g_ptr_array_index(dashes, i), FALSE);
  return TRUE;
}

HfOutline *
hf_stroke_outline(const HfLinework *lines, const HfStroke *stroke, double scale, GError **error)
{
  g_autoptr(HfOutline) out = hf_outline_new();
  Pen pen = {stroke, stroke->width * scale / 2, out};
  for (guint i = 0; i < lines->ends->len; i++) {
    gboolean closed = g_array_index(lines->ends, HfRunEnd, i) == HF_RUN_CLOSED;
    g_autoptr(GArray) run = run_of(lines, i, scale);
    if (stroke->dashes == NULL) {
      add_run(&pen, run, closed);
    } else if (!add_dashed(&pen, run, closed, scale)) {
      hf_error_set(error, HF_ERROR_TOO_BIG, NULL, "make its dashes longer",
                   "a line has more than %d dashes", HF_MOST_DASHES);
      return NULL;
    }
  }
  for (guint i = 0; i < lines->dots->len; i++) {
    HfPoint p = hf_point_scale(g_array_index(lines->dots, HfPoint, i), scale);
    HfCurve dot = {HF_CURVE_LINE, p, p, hf_point_add(p, hf_point(1, 0)), p, 0};
    add_ends(&pen, &dot, &dot);
  }
  return g_steal_pointer(&out);
}
