/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit-join.c - the pieces of one contour, put together where two are one and where one is too
 * short.
 *
 *      ___a___|___b___        arcs of one circle, or lines in line: one piece
 *
 *      a \ __ / b             what is shorter than HF_FIT_SHORTEST goes: its neighbours are led on
 *                             to where they meet, or else to its middle
 *
 * A machine slows down for every piece, and some stumble over those shorter than their step.
 * Accuracy: two pieces are one when the joint lies within 0.2 um of what they become; the ends of a
 * piece that goes are at most its own length from what takes its place, half of it as a rule, and
 * its neighbours are bent by as much: where that leads them too far off the ring they meet
 * elsewhere, and the caller is told when no place will do.
 * Degenerate: a contour of one or two pieces is left as it is; one that is all one circle becomes
 * a full circle.
 */
#include "metal/fit-private.h"

#define SAME_MM   0.0002                   /* off the joint: nobody sees, nothing measures it */
#define STRAIGHT  (0.1 * G_PI / 180)       /* lines that turn by less are in line */
#define ON_CIRCLE 1e-6                     /* mm */
#define LEAST     (1.01 * HF_FIT_SHORTEST) /* the files round */
#define NEAR_LOST (10 * LEAST)             /* of so far what went is looked at again */

static double
length_of(const HfCurve *c)
{
  return c->kind == HF_CURVE_ARC ? hf_curve_radius(c) * fabs(c->sweep)
                                 : hf_point_distance(c->p0, c->p1);
}

/* Files cut arcs over half a turn in two. */
static gboolean
is_short(const HfCurve *c)
{
  return length_of(c) < (fabs(c->sweep) > G_PI ? 2 : 1) * LEAST;
}

static HfCurve *
piece(GArray *pieces, guint i)
{
  return &g_array_index(pieces, HfCurve, i % pieces->len);
}

static HfPoint
heading(const HfCurve *c, double t)
{
  HfPoint d = hf_curve_derivative(c, t);
  double length = hf_point_length(d);
  return length > 0 ? hf_point_scale(d, 1 / length) : hf_point(1, 0);
}

/* The line or arc from @p to @q that turns by 2 @half. */
static HfCurve
curve_between(HfPoint p, HfPoint q, double half)
{
  g_autoptr(HfOutline) one = hf_outline_new();
  hf_outline_begin(one, p);
  hf_fit_arc_to(one, p, q, half);
  return g_array_index(one->curves, HfCurve, 0);
}

/* ---- two that are one ------------------------------------------------------------------------ */

static gboolean
join_lines(const HfCurve *a, const HfCurve *b, HfCurve *ret)
{
  HfPoint nearest = hf_point_mix(a->p0, b->p1, length_of(a) / (length_of(a) + length_of(b)));
  if (fabs(hf_fit_angle(heading(a, 1), heading(b, 0))) > STRAIGHT ||
      hf_point_distance(nearest, a->p1) > SAME_MM)
    return FALSE;
  *ret = *a;
  ret->p1 = ret->c0 = ret->c1 = b->p1;
  return TRUE;
}

/* Held against the joint and the middles of both. */
static gboolean
runs_along(const HfCurve *joined, const HfCurve *a, const HfCurve *b)
{
  double r = hf_curve_radius(joined);
  HfPoint on[] = {a->p1, hf_curve_point(a, 0.5), hf_curve_point(b, 0.5)};
  for (gsize i = 0; i < G_N_ELEMENTS(on); i++)
    if (fabs(hf_point_distance(on[i], joined->c0) - r) > SAME_MM)
      return FALSE;
  return TRUE;
}

static gboolean
join_arcs(const HfCurve *a, const HfCurve *b, HfCurve *ret)
{
  double r = hf_curve_radius(a), sweep = a->sweep + b->sweep;
  double apart = hf_point_distance(a->c0, b->c0);
  if ((a->sweep > 0) != (b->sweep > 0) || fabs(r - hf_curve_radius(b)) > 0.01 * r ||
      apart > 0.01 * r || fabs(sweep) > 2 * G_PI - 1e-6)
    return FALSE;
  HfCurve joined = *a;
  if (apart < ON_CIRCLE) {
    joined.p1 = b->p1;
    joined.sweep = sweep;
  } else if (fabs(sweep) < G_PI) {
    joined = curve_between(a->p0, b->p1, sweep / 2);
  }
  if (joined.kind != HF_CURVE_ARC || !runs_along(&joined, a, b))
    return FALSE;
  *ret = joined;
  return TRUE;
}

static gboolean
join(const HfCurve *a, const HfCurve *b, HfCurve *ret)
{
  if (a->kind != b->kind)
    return FALSE;
  return a->kind == HF_CURVE_LINE ? join_lines(a, b, ret) : join_arcs(a, b, ret);
}

static void
join_all(GArray *pieces)
{
  for (guint i = 0; i < pieces->len && pieces->len > 2;) {
    HfCurve one;
    if (!join(piece(pieces, i), piece(pieces, i + 1), &one)) {
      i++;
      continue;
    }
    *piece(pieces, i) = one;
    g_array_remove_index(pieces, (i + 1) % pieces->len);
    i -= i > 0 ? 1 : 0;
  }
}

/* Two arcs of one circle all round. */
static void
close_circle(GArray *pieces)
{
  const HfCurve *a = piece(pieces, 0), *b = piece(pieces, 1);
  if (pieces->len != 2 || a->kind != HF_CURVE_ARC || b->kind != HF_CURVE_ARC ||
      fabs(fabs(a->sweep + b->sweep) - 2 * G_PI) > 1e-6 ||
      hf_point_distance(a->c0, b->c0) > ON_CIRCLE)
    return;
  HfCurve circle = *a;
  circle.p1 = circle.p0;
  circle.sweep = a->sweep > 0 ? 2 * G_PI : -2 * G_PI;
  g_array_set_size(pieces, 0);
  g_array_append_val(pieces, circle);
}

/* ---- one that is too short ------------------------------------------------------------------- */

static double
off_circle(const HfCurve *arc, HfPoint p)
{
  return fabs(hf_point_distance(p, arc->c0) - hf_curve_radius(arc));
}

static HfPoint
onto(const HfCurve *arc, HfPoint p)
{
  HfPoint out = hf_point_sub(p, arc->c0);
  double length = hf_point_length(out);
  return length > 0 ? hf_point_add(arc->c0, hf_point_scale(out, hf_curve_radius(arc) / length)) : p;
}

/* Where @a and @b, led on, meet near the short piece between them; else its middle, on the longer
 * arc of the two. */
static HfPoint
meeting(const HfCurve *a, const HfCurve *gone, const HfCurve *b)
{
  HfPoint at[2], middle = hf_point_mix(gone->p0, gone->p1, 0.5);
  guint n = hf_fit_common(a, b, at);
  double length = hf_point_distance(gone->p0, gone->p1), best = 0.5 * length + 0.25 * LEAST;
  gint found = -1;
  for (guint i = 0; i < n; i++)
    if (hf_point_distance(at[i], middle) < best) {
      best = hf_point_distance(at[i], middle);
      found = (gint)i;
    }
  if (found >= 0)
    return at[found];
  const HfCurve *longer = length_of(a) > length_of(b) ? a : b, *other = longer == a ? b : a;
  if (longer->kind == HF_CURVE_ARC)
    return onto(longer, middle);
  return other->kind == HF_CURVE_ARC && off_circle(other, middle) < length ? onto(other, middle)
                                                                           : middle;
}

/* @c with its end (@last) or start at @p: on its circle where @p is, else with the tangent that it
 * has at the other end. */
static HfCurve
led_to(const HfCurve *c, HfPoint p, gboolean last)
{
  HfCurve moved = *c;
  *(last ? &moved.p1 : &moved.p0) = p;
  if (c->kind == HF_CURVE_LINE) {
    moved.c0 = moved.c1 = moved.p1;
    return moved;
  }
  if (off_circle(c, p) < ON_CIRCLE) {
    HfPoint was = hf_point_sub(last ? c->p1 : c->p0, c->c0);
    double on = hf_fit_angle(was, hf_point_sub(p, c->c0));
    moved.sweep += last ? on : -on;
    return moved;
  }
  HfPoint chord = hf_point_sub(moved.p1, moved.p0);
  double half = last ? hf_fit_angle(heading(c, 0), chord) : hf_fit_angle(chord, heading(c, 1));
  return curve_between(moved.p0, moved.p1, half);
}

static guint
shortest(GArray *pieces)
{
  guint best = pieces->len;
  double least = INFINITY;
  for (guint i = 0; i < pieces->len; i++)
    if (is_short(piece(pieces, i)) && length_of(piece(pieces, i)) < least) {
      least = length_of(piece(pieces, i));
      best = i;
    }
  return best;
}

static double
turn_between(const HfCurve *a, const HfCurve *b)
{
  return fabs(hf_fit_angle(heading(a, 1), heading(b, 0)));
}

/* The five pieces about one that goes. */
typedef struct {
  const HfCurve *before, *a, *gone, *b, *after;
} Round;

/* The largest turn in a joint that was none before, when @a and @b meet at @p. */
static double
worst_turn(const Round *on, HfPoint p)
{
  HfCurve a = led_to(on->a, p, TRUE), b = led_to(on->b, p, FALSE);
  double worst = turn_between(&a, &b);
  if (turn_between(on->before, on->a) <= HF_FIT_JUMP)
    worst = MAX(worst, turn_between(on->before, &a));
  if (turn_between(on->b, on->after) <= HF_FIT_JUMP)
    worst = MAX(worst, turn_between(&b, on->after));
  return worst;
}

/* On a smooth stretch the longer neighbour stays as it is where that will do. */
static HfPoint
smooth_meeting(const Round *on)
{
  gboolean a_stays = length_of(on->a) > length_of(on->b);
  const HfPoint tried[] = {a_stays ? on->gone->p0 : on->gone->p1, meeting(on->a, on->gone, on->b),
                           a_stays ? on->gone->p1 : on->gone->p0};
  HfPoint best = tried[0];
  double least = INFINITY;
  for (gsize i = 0; i < G_N_ELEMENTS(tried) && least > HF_FIT_JUMP; i++) {
    double worst = worst_turn(on, tried[i]);
    if (worst >= least)
      continue;
    least = worst;
    best = tried[i];
  }
  return best;
}

/* A corner at one end of it stays where it is. */
static HfPoint
meeting_of(const Round *on)
{
  gboolean corner_a = turn_between(on->a, on->gone) > HF_FIT_JUMP;
  gboolean corner_b = turn_between(on->gone, on->b) > HF_FIT_JUMP;
  if (corner_a && corner_b)
    return meeting(on->a, on->gone, on->b);
  if (!corner_a && !corner_b)
    return smooth_meeting(on);
  return corner_a ? on->gone->p0 : on->gone->p1;
}

/* What the result is held to once a piece goes. */
typedef struct {
  HfFitEdges *edges; /* of the ring */
  GArray *lost;      /* HfPoint: ends of pieces that went */
  double most;       /* mm */
} Held;

/* How far the two neighbours run from the ring when they meet at @p, and what went from them. */
static double
off_when(const Held *held, const Round *on, HfPoint p)
{
  HfCurve a = led_to(on->a, p, TRUE), b = led_to(on->b, p, FALSE);
  double reach = held->most + LEAST;
  double off = fmax(hf_fit_off(held->edges, &a, reach), hf_fit_off(held->edges, &b, reach));
  for (guint i = 0; i < held->lost->len; i++) {
    HfPoint lost = g_array_index(held->lost, HfPoint, i);
    if (hf_point_distance(lost, p) > NEAR_LOST)
      continue;
    double near = fmin(hf_fit_gap(&a, lost), hf_fit_gap(&b, lost));
    near = fmin(near, fmin(hf_fit_gap(on->before, lost), hf_fit_gap(on->after, lost)));
    off = fmax(off, near);
  }
  return off;
}

/* The usual meeting where the result stays on its ring with it; else where it runs least off.
 * Returns: does it stay there? */
static gboolean
held_meeting(const Held *held, const Round *on, HfPoint *ret)
{
  HfPoint middle = hf_point_mix(on->gone->p0, on->gone->p1, 0.5);
  const HfPoint tried[] = {meeting_of(on), middle, on->gone->p0, on->gone->p1};
  double least = INFINITY;
  *ret = tried[0];
  for (gsize i = 0; i < G_N_ELEMENTS(tried) && least > held->most; i++) {
    double off = off_when(held, on, tried[i]);
    if (off >= least)
      continue;
    least = off;
    *ret = tried[i];
  }
  return least <= held->most;
}

/* @held: its edges are made once they are asked for. */
static gboolean
drop_short(GArray *pieces, const HfRing *ring, Held *held)
{
  gboolean holds = TRUE;
  while (pieces->len > 2) {
    guint k = shortest(pieces), n = pieces->len;
    if (k == n)
      break;
    Round on = {piece(pieces, k + n - 2), piece(pieces, k + n - 1), piece(pieces, k),
                piece(pieces, k + 1), piece(pieces, k + 2)};
    HfPoint p;
    if (ring == NULL) {
      p = meeting_of(&on);
    } else {
      if (held->edges == NULL)
        held->edges = hf_fit_edges_new(ring);
      g_array_append_vals(held->lost, (HfPoint[]){on.gone->p0, on.gone->p1}, 2);
      holds = held_meeting(held, &on, &p) && holds;
    }
    HfCurve a = led_to(on.a, p, TRUE), b = led_to(on.b, p, FALSE);
    *piece(pieces, k + n - 1) = a;
    *piece(pieces, k + 1) = b;
    g_array_remove_index(pieces, k);
  }
  return holds;
}

/* ---- the door -------------------------------------------------------------------------------- */

gboolean
hf_fit_join(HfOutline *contour, const HfRing *ring, double most)
{
  if (hf_outline_n_contours(contour) != 1)
    return TRUE;
  g_autoptr(GArray) lost = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  Held held = {.lost = lost, .most = most};
  join_all(contour->curves);
  gboolean holds = drop_short(contour->curves, ring, &held);
  hf_fit_edges_free(held.edges);
  join_all(contour->curves);
  close_circle(contour->curves);
  return holds;
}
