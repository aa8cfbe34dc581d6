/* SPDX-License-Identifier: GPL-3.0-or-later
 * contact.c - marks: the places of an outline where a contact can be at its shallowest.
 *
 *      corner      top of a round    dip         corner of a flat end
 *        /\            .--.         \   /        |        |      depth is least or greatest along
 *       /  \          /    \         \_/         *---__   |      the outline there, or a straight
 *      /    \        |      |                          ---*      end begins there
 *
 * What may become a mark (which curves face the edge, lie in reach and are not behind another part
 * of their letter) is found once, in ems. Where exactly it lies depends on size and radius and is
 * found at each measurement, to the last digits, on the true curves: depth along a curve is
 * extreme where the derivative of the level changes its sign.
 */
#include "layout/contact-private.h"

enum { PIECES = 8, ROOT_STEPS = 60 };

static const double LEVEL_SLOPE = 1e-7;   /* sine below which a run counts as level */
static const double FLAT_SLOPE = 0.5;     /* sine of 30 degrees: a flat end's greatest slope */
static const double CORNER_COSINE = 0.87; /* of 30 degrees: a corner turns by at least that */
static const double BEHIND = 0.01;        /* ems: what is nearer does not hide */
static const double ASIDE = 0.002;        /* ems: rays to both sides of a corner */

typedef struct {
  const HfCurve *curve;
  guint letter, contour, index;
  double shift;   /* from the letter's own x to x from the middle of its advance */
  guint n_pieces; /* equal pieces of t that are looked at one by one */
  guint shown;    /* one bit a piece: in reach and not hidden */
  guint closed;   /* one bit a piece: a dip there must bite */
} CrownCurve;

typedef struct {
  guint letter, contour, index; /* at the start of curve `index` */
  HfPoint at;                   /* x from the middle of the advance */
  HfPoint in, out;              /* unit tangents of the run before and of that behind */
  gboolean straight_in, straight_out;
  guint closed; /* 1: a dip that must bite */
} CrownJoint;

struct HfCrown {
  const HfWording *wording;
  HfSide side;
  double limit;   /* ems: marks lie above (tops) or below (feet) this */
  GArray *curves; /* CrownCurve */
  GArray *joints; /* CrownJoint */
};

static gboolean
in_reach(const HfCrown *crown, double y)
{
  return crown->side == HF_SIDE_TOPS ? y >= crown->limit : y <= crown->limit;
}

/* ---- what is hidden behind another part of its letter --------------------------------------- */

static GArray *
flattened(const HfOutline *outline)
{
  GArray *segments = g_array_new(FALSE, FALSE, sizeof(HfPoint)); /* pairs */
  for (guint i = 0; i < outline->curves->len; i++) {
    const HfCurve *curve = &g_array_index(outline->curves, HfCurve, i);
    guint n = hf_curve_steps(curve, ASIDE);
    HfPoint from = curve->p0;
    for (guint k = 1; k <= n; k++) {
      HfPoint to = hf_curve_point(curve, (double)k / n);
      g_array_append_val(segments, from);
      g_array_append_val(segments, to);
      from = to;
    }
  }
  return segments;
}

static gboolean
ray_meets(const GArray *segments, HfPoint p, HfSide side)
{
  for (guint i = 0; i < segments->len; i += 2) {
    HfPoint a = g_array_index(segments, HfPoint, i), b = g_array_index(segments, HfPoint, i + 1);
    if ((a.x > p.x) == (b.x > p.x))
      continue;
    double y = a.y + (b.y - a.y) * (p.x - a.x) / (b.x - a.x);
    if (side == HF_SIDE_TOPS ? y > p.y + BEHIND : y < p.y - BEHIND)
      return TRUE;
  }
  return FALSE;
}

static gboolean
is_hidden(const GArray *segments, HfPoint p, HfSide side)
{
  return ray_meets(segments, hf_point(p.x - ASIDE, p.y), side) &&
         ray_meets(segments, hf_point(p.x + ASIDE, p.y), side);
}

/* ---- finding what can reach ----------------------------------------------------------------- */

static HfPoint
unit(HfPoint d)
{
  double length = hf_point_length(d);
  return length > 0 ? hf_point_scale(d, 1 / length) : d;
}

/* Tangent at an end, also where a control lies on the end itself. */
static HfPoint
end_tangent(const HfCurve *curve, gboolean at_end)
{
  HfPoint d = hf_curve_derivative(curve, at_end ? 1 : 0);
  double size = hf_point_distance(curve->p0, curve->p1) + hf_point_distance(curve->p0, curve->c0);
  if (hf_point_length(d) > 1e-9 * size)
    return unit(d);
  return at_end ? unit(hf_point_sub(curve->p1, hf_curve_point(curve, 0.999)))
                : unit(hf_point_sub(hf_curve_point(curve, 0.001), curve->p0));
}

/* A line, or a cubic that turns by less than about 3 degrees. */
static gboolean
is_straight(const HfCurve *curve)
{
  if (curve->kind == HF_CURVE_LINE)
    return TRUE;
  HfPoint chord = unit(hf_point_sub(curve->p1, curve->p0));
  return hf_point_dot(end_tangent(curve, FALSE), chord) > 0.9986 &&
         hf_point_dot(end_tangent(curve, TRUE), chord) > 0.9986;
}

/* Half way along a flat end is no dip that may stay open. */
static void
open_curve(CrownCurve *c)
{
  c->closed = is_straight(c->curve) ? ~0u : 0;
}

static guint
shown_pieces(const HfCrown *crown, const HfCurve *curve, guint n, const GArray *segments)
{
  guint shown = 0;
  for (guint i = 0; i < n; i++)
    for (int k = 0; k <= 4 && !(shown & 1u << i); k++) {
      HfPoint p = hf_curve_point(curve, (i + k / 4.0) / n);
      if (in_reach(crown, p.y) && !is_hidden(segments, p, crown->side))
        shown |= 1u << i;
    }
  return shown;
}

static void
add_contour(HfCrown *crown, guint letter, guint contour, const GArray *segments)
{
  const HfLetter *own = hf_wording_letter(crown->wording, letter);
  guint n;
  const HfCurve *curve = hf_outline_contour(own->outline, contour, &n);
  double shift = -own->advance / 2;
  for (guint i = 0; i < n; i++) {
    CrownCurve c = {&curve[i], letter, contour, i, shift, PIECES, 0, 0};
    open_curve(&c);
    c.n_pieces = curve[i].kind == HF_CURVE_LINE ? 1 : PIECES;
    c.shown = shown_pieces(crown, &curve[i], c.n_pieces, segments);
    if (c.shown != 0)
      g_array_append_val(crown->curves, c);
    const HfCurve *before = &curve[(i + n - 1) % n];
    if (!in_reach(crown, curve[i].p0.y) || is_hidden(segments, curve[i].p0, crown->side))
      continue;
    CrownJoint joint = {.letter = letter, .contour = contour, .index = i};
    joint.at = hf_point(curve[i].p0.x + shift, curve[i].p0.y);
    joint.in = end_tangent(before, TRUE);
    joint.out = end_tangent(&curve[i], FALSE);
    joint.straight_in = is_straight(before);
    joint.straight_out = is_straight(&curve[i]);
    g_array_append_val(crown->joints, joint);
  }
}

static gboolean
is_of_line(const HfLetter *letter, gint line)
{
  return letter->outline != NULL && (line < 0 || letter->line == (guint)line);
}

static double
highest(const HfWording *wording, gint line)
{
  double y = -INFINITY;
  for (guint i = 0; i < wording->letters->len; i++)
    if (is_of_line(hf_wording_letter(wording, i), line))
      y = MAX(y, hf_wording_letter(wording, i)->ink.max.y);
  return y;
}

static gboolean
box_in_reach(const HfCrown *crown, HfBox box)
{
  return in_reach(crown, crown->side == HF_SIDE_TOPS ? box.max.y : box.min.y);
}

HfCrown *
hf_crown_new(const HfWording *wording, HfSide side, gint line, double reach)
{
  HfCrown *crown = g_new0(HfCrown, 1);
  crown->wording = wording;
  crown->side = side;
  crown->limit = side == HF_SIDE_TOPS ? highest(wording, line) - reach : reach;
  crown->curves = g_array_new(FALSE, FALSE, sizeof(CrownCurve));
  crown->joints = g_array_new(FALSE, FALSE, sizeof(CrownJoint));
  for (guint i = 0; i < wording->letters->len; i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    if (!is_of_line(letter, line) || !box_in_reach(crown, letter->ink))
      continue;
    g_autoptr(GArray) segments = flattened(letter->outline);
    for (guint k = 0; k < hf_outline_n_contours(letter->outline); k++)
      add_contour(crown, i, k, segments);
  }
  return crown;
}

HfCrown *
hf_crown_copy(const HfCrown *crown)
{
  HfCrown *copy = g_new(HfCrown, 1);
  *copy = *crown;
  copy->curves = g_array_copy(crown->curves);
  copy->joints = g_array_copy(crown->joints);
  for (guint i = 0; i < copy->curves->len; i++)
    open_curve(&g_array_index(copy->curves, CrownCurve, i));
  for (guint i = 0; i < copy->joints->len; i++)
    g_array_index(copy->joints, CrownJoint, i).closed = 0;
  return copy;
}

void
hf_crown_free(HfCrown *crown)
{
  if (crown == NULL)
    return;
  g_array_unref(crown->curves);
  g_array_unref(crown->joints);
  g_free(crown);
}

const HfWording *
hf_crown_wording(const HfCrown *crown)
{
  return crown->wording;
}

/* ---- levels --------------------------------------------------------------------------------- */

double
hf_bite_level(const HfBiteEdge *edge, HfPoint em)
{
  double rise = em.y * edge->size, up = edge->inward ? -rise : rise;
  if (edge->radius <= 0 || edge->bent)
    return edge->radius + up;
  return hypot(em.x * edge->across, edge->radius + up);
}

static double
depth_at(const HfBiteEdge *edge, HfPoint em)
{
  return edge->sign * (hf_bite_level(edge, em) - edge->edge);
}

/* How the depth grows, per em along x and along y. */
static HfPoint
depth_gradient(const HfBiteEdge *edge, HfPoint em)
{
  double up = edge->inward ? -edge->size : edge->size;
  if (edge->radius <= 0 || edge->bent)
    return hf_point(0, edge->sign * up);
  HfPoint q = hf_point(em.x * edge->across, edge->radius + em.y * up);
  double k = edge->sign / hf_point_length(q);
  return hf_point(k * q.x * edge->across, k * q.y * up);
}

/* The outline's outer normal is on its right. */
static gboolean
faces(HfPoint gradient, HfPoint tangent)
{
  return hf_point_dot(hf_point(tangent.y, -tangent.x), gradient) > 0;
}

/* ---- marks ---------------------------------------------------------------------------------- */

/* @closed: where to remember that this dip must bite: @bit of it. */
typedef void (*MarkFunc)(const HfBiteMark *mark, guint *closed, guint bit, gpointer data);

static HfPoint
crown_point(const CrownCurve *c, double t)
{
  HfPoint p = hf_curve_point(c->curve, t);
  return hf_point(p.x + c->shift, p.y);
}

static double
growth(const CrownCurve *c, const HfBiteEdge *edge, double t)
{
  return hf_point_dot(depth_gradient(edge, crown_point(c, t)), hf_curve_derivative(c->curve, t));
}

/* Where the growth changes its sign between a and b: false position, halved ends (Illinois). */
static double
turning_point(const CrownCurve *c, const HfBiteEdge *edge, double a, double b, double fa, double fb)
{
  double t = a;
  for (int i = 0; i < ROOT_STEPS && fabs(b - a) > 1e-13; i++) {
    t = (a * fb - b * fa) / (fb - fa);
    double f = growth(c, edge, t);
    if (f == 0)
      break;
    if ((f < 0) != (fb < 0)) {
      a = b;
      fa = fb;
    } else {
      fa /= 2;
    }
    b = t;
    fb = f;
  }
  return t;
}

static void
curve_marks(const HfCrown *crown, CrownCurve *c, const HfBiteEdge *edge, MarkFunc func,
            gpointer data)
{
  double before = growth(c, edge, 0);
  for (guint i = 0; i < c->n_pieces; i++) {
    double a = (double)i / c->n_pieces, b = (i + 1.0) / c->n_pieces, after = growth(c, edge, b);
    double fa = before;
    before = after;
    if ((fa < 0) == (after < 0) || fa == 0 || after == 0 || !(c->shown & 1u << i))
      continue;
    double t = turning_point(c, edge, a, b, fa, after);
    HfPoint em = crown_point(c, t);
    if (!in_reach(crown, em.y) ||
        !faces(depth_gradient(edge, em), hf_curve_derivative(c->curve, t)))
      continue;
    gboolean dip = fa < 0, counts = !dip || (c->closed & 1u << i) != 0;
    HfBiteMark mark = {c->letter, c->contour, c->index + t, em, depth_at(edge, em), dip, counts};
    func(&mark, &c->closed, 1u << i, data);
  }
}

static gboolean
is_flat_end(HfPoint gradient, HfPoint run, gboolean straight)
{
  return straight && faces(gradient, run) && fabs(hf_point_dot(unit(gradient), run)) <= FLAT_SLOPE;
}

typedef enum { NO_MARK, TOP, DIP } MarkKind;

static MarkKind
joint_kind(const CrownJoint *j, HfPoint gradient)
{
  HfPoint up = unit(gradient);
  double in = hf_point_dot(up, j->in), out = hf_point_dot(up, j->out);
  gboolean facing = faces(gradient, hf_point_add(j->in, j->out));
  if (facing && in >= -LEVEL_SLOPE && out <= LEVEL_SLOPE)
    return TOP;
  gboolean corner =
      hf_point_cross(j->in, j->out) > 0 && hf_point_dot(j->in, j->out) < CORNER_COSINE;
  if (corner && (is_flat_end(gradient, j->in, j->straight_in) ||
                 is_flat_end(gradient, j->out, j->straight_out)))
    return TOP;
  return facing && in <= LEVEL_SLOPE && out >= -LEVEL_SLOPE ? DIP : NO_MARK;
}

static void
each_mark(const HfCrown *crown, const HfBiteEdge *edge, MarkFunc func, gpointer data)
{
  for (guint i = 0; i < crown->curves->len; i++)
    curve_marks(crown, &g_array_index(crown->curves, CrownCurve, i), edge, func, data);
  for (guint i = 0; i < crown->joints->len; i++) {
    CrownJoint *j = &g_array_index(crown->joints, CrownJoint, i);
    MarkKind kind = joint_kind(j, depth_gradient(edge, j->at));
    if (kind == NO_MARK)
      continue;
    gboolean dip = kind == DIP, counts = !dip || j->closed != 0;
    HfBiteMark mark = {j->letter, j->contour, j->index, j->at, depth_at(edge, j->at), dip, counts};
    func(&mark, &j->closed, 1, data);
  }
}

typedef struct {
  HfBiteMark least, greatest;
  gboolean any, any_counts;
} Range;

static void
widen(const HfBiteMark *mark, guint *closed, guint bit, gpointer data)
{
  (void)closed;
  (void)bit;
  Range *range = (Range *)data;
  if (mark->counts && (!range->any_counts || mark->depth < range->least.depth))
    range->least = *mark;
  if (!range->any || mark->depth > range->greatest.depth)
    range->greatest = *mark;
  range->any_counts |= mark->counts;
  range->any = TRUE;
}

gboolean
hf_crown_measure(const HfCrown *crown, const HfBiteEdge *edge, HfBiteMark *ret_least,
                 HfBiteMark *ret_greatest)
{
  Range range = {.any = FALSE, .any_counts = FALSE};
  each_mark(crown, edge, widen, &range);
  if (!range.any_counts)
    return FALSE;
  *ret_least = range.least;
  *ret_greatest = range.greatest;
  return TRUE;
}

typedef struct {
  double bite, slack;
  guint n;
} Closing;

static void
close_dip(const HfBiteMark *mark, guint *closed, guint bit, gpointer data)
{
  Closing *closing = (Closing *)data;
  if (mark->counts || mark->depth < -closing->slack || mark->depth >= closing->bite)
    return;
  *closed |= bit;
  closing->n++;
}

guint
hf_crown_close_dips(HfCrown *crown, const HfBiteEdge *edge, double bite, double slack)
{
  Closing closing = {bite, slack, 0};
  each_mark(crown, edge, close_dip, &closing);
  return closing.n;
}

/* ---- contacts ------------------------------------------------------------------------------- */

static void
keep(const HfBiteMark *mark, guint *closed, guint bit, gpointer marks)
{
  (void)closed;
  (void)bit;
  if (mark->counts || mark->depth > 0)
    g_array_append_vals((GArray *)marks, mark, 1);
}

static gint
by_place(gconstpointer a, gconstpointer b)
{
  const HfBiteMark *p = (const HfBiteMark *)a, *q = (const HfBiteMark *)b;
  if (p->letter != q->letter)
    return p->letter < q->letter ? -1 : 1;
  if (p->contour != q->contour)
    return p->contour < q->contour ? -1 : 1;
  return p->along < q->along ? -1 : p->along > q->along;
}

/* Does the outline stay in the metal all the way from mark to mark? @to may lie before @from. */
static gboolean
stays_in(const HfCrown *crown, const HfBiteEdge *edge, const HfBiteMark *from, double to)
{
  const HfLetter *letter = hf_wording_letter(crown->wording, from->letter);
  guint n;
  const HfCurve *curve = hf_outline_contour(letter->outline, from->contour, &n);
  double end = to > from->along ? to : to + n;
  for (guint i = (guint)from->along; i < end; i++)
    for (int k = 0; k < 2 * PIECES; k++) {
      double t = (double)k / (2 * PIECES), at = i + t;
      if (at <= from->along || at >= end)
        continue;
      HfPoint p = hf_curve_point(&curve[i % n], t);
      if (depth_at(edge, hf_point(p.x - letter->advance / 2, p.y)) <= 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
same_contour(const HfBiteMark *a, const HfBiteMark *b)
{
  return a->letter == b->letter && a->contour == b->contour;
}

/* The contacts of marks first..end - 1, which lie on one contour. */
static void
add_contacts(const HfCrown *crown, const HfBiteEdge *edge, const GArray *marks, guint first,
             guint end, GArray *contacts)
{
  guint start = contacts->len;
  for (guint i = first; i < end; i++) {
    const HfBiteMark *mark = &g_array_index(marks, HfBiteMark, i);
    HfBiteMark *last =
        contacts->len > start ? &g_array_index(contacts, HfBiteMark, contacts->len - 1) : NULL;
    const HfBiteMark *before = i > first ? &g_array_index(marks, HfBiteMark, i - 1) : NULL;
    if (last == NULL || !stays_in(crown, edge, before, mark->along))
      g_array_append_vals(contacts, mark, 1);
    else if (mark->depth < last->depth)
      *last = *mark;
  }
  if (contacts->len < start + 2)
    return;
  const HfBiteMark *last = &g_array_index(marks, HfBiteMark, end - 1);
  if (!stays_in(crown, edge, last, g_array_index(marks, HfBiteMark, first).along))
    return;
  HfBiteMark *one = &g_array_index(contacts, HfBiteMark, start);
  HfBiteMark other = g_array_index(contacts, HfBiteMark, contacts->len - 1);
  if (other.depth < one->depth)
    *one = other;
  g_array_set_size(contacts, contacts->len - 1);
}

GArray *
hf_crown_contacts(const HfCrown *crown, const HfBiteEdge *edge)
{
  g_autoptr(GArray) marks = g_array_new(FALSE, FALSE, sizeof(HfBiteMark));
  GArray *contacts = g_array_new(FALSE, FALSE, sizeof(HfBiteMark));
  each_mark(crown, edge, keep, marks);
  g_array_sort(marks, by_place);
  for (guint i = 0; i < marks->len;) {
    guint end = i + 1;
    while (end < marks->len && same_contour(&g_array_index(marks, HfBiteMark, i),
                                            &g_array_index(marks, HfBiteMark, end)))
      end++;
    add_contacts(crown, edge, marks, i, end, contacts);
    i = end;
  }
  return contacts;
}

void
hf_words_add_bites(HfWordsLaying *own, const HfCrown *crown, const HfBiteEdge *edge,
                   guint first_shape, guint with)
{
  HfLaid *laid = &own->laying->laid[own->entry];
  g_autoptr(GArray) contacts = hf_crown_contacts(crown, edge);
  guint shape = first_shape;
  for (guint i = 0; i < contacts->len; i++) {
    const HfBiteMark *mark = &g_array_index(contacts, HfBiteMark, i);
    const HfShape *at = (const HfShape *)g_ptr_array_index(laid->shapes, shape);
    while (at->letter != (gint)mark->letter)
      at = (const HfShape *)g_ptr_array_index(laid->shapes, ++shape);
    double half = hf_wording_letter(own->wording, mark->letter)->advance / 2;
    HfPoint place = hf_matrix_apply(at->em, hf_point(mark->em.x + half, mark->em.y));
    HfJoint joint = {HF_LAID_SHAPE(own->entry, shape), with, place, NAN, mark->depth};
    g_array_append_val(laid->joints, joint);
  }
}
