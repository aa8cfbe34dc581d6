/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit.c - the region as lines and true arcs: walks each ring and finds the true curves again.
 *
 *   edges       a1 a2 a3 | b1 b2 | c1 c2 c3 c4 | d1      each remembers its source curve
 *   stretches   [  a   ] [  b  ] [     c     ] [ d ]     consecutive edges of one curve
 *   joints      x        ~       ~             x         x corner or crossing, ~ smooth
 *
 * Lines and circular arcs come out as they went in. What is left are stretches of cubics; those
 * that join smoothly make a chain, and the chain is laid with as few arcs as the tolerance allows
 * (fit-chain.c). A joint where two outlines cross is moved from the crossing of the chords to the
 * crossing of the true curves, so that a ring's arc keeps its radius to the last digit.
 * Invariant: neighbours share their joint bit for bit; contour i is ring i.
 */
#include "metal/fit.h"
#include "geom/index.h"
#include "metal/fit-private.h"

enum {
  LEAST_SUB = 2, /* nodes per chord: its start and places between */
  MOST_SUB = 12,
  TURNS_OF_NEWTON = 8
};
static const double SPACING = 0.8;       /* mm between nodes, where a chord is longer than two */
static const double SMOOTH = G_PI / 180; /* a source corner turns by more */
static const double NEAR = 0.002;        /* mm: sources this near continue each other */
static const double SAME_CIRCLE = 1e-6;  /* mm */

/* A place on a source curve, with the way the ring runs there. */
typedef struct {
  const HfCurve *curve;
  double t;
} Place;

/* Consecutive edges of one curve. */
typedef struct {
  Place from, to; /* curve NULL: unknown, kept as its chords */
  guint32 shape;
  int way;         /* +1 with the curve, -1 against it */
  double sweep;    /* arc: the way the ring runs */
  guint first, n;  /* its edges, from `first` round the ring */
  HfPoint start;   /* joint with the stretch before */
  gboolean smooth; /* ... in which the outline does not turn by more than a degree */
} Stretch;

typedef struct {
  const HfRing *ring;
  const HfLayout *layout;
  double tolerance;
  GArray *stretches;
  const GArray
      *crossings; /* HfPoint: there the result crossed itself; the edges near stay chords */
  double near_crossing;
} Walk;

static HfPoint
vertex(const Walk *walk, guint i)
{
  return hf_grid_point(walk->ring->at[i % walk->ring->n]);
}

static Stretch *
stretch(const Walk *walk, guint i)
{
  g_assert(walk->stretches->len > 0);
  return &g_array_index(walk->stretches, Stretch, i % walk->stretches->len);
}

static gboolean
is_cubic(const Stretch *s)
{
  return s->from.curve != NULL && s->from.curve->kind == HF_CURVE_CUBIC;
}

static HfPoint
place_point(Place place)
{
  return hf_curve_point(place.curve, place.t);
}

/* Unit tangent in the ring's direction. A cubic whose handle has no length has no derivative at its
 * end; a little further in it has. */
static HfPoint
tangent(const HfCurve *curve, double t, int way)
{
  HfPoint d = hf_curve_derivative(curve, t);
  double length = hf_point_length(d), size = hf_point_distance(curve->p0, curve->p1);
  for (double in = 1e-4; length <= 1e-4 * size && in < 0.1; in *= 10) {
    d = hf_curve_derivative(curve, t < 0.5 ? t + in : t - in);
    length = hf_point_length(d);
  }
  return length > 0 ? hf_point_scale(d, way / length) : hf_point(1, 0);
}

/* ---- from edges to stretches --------------------------------------------------------------- */

static gboolean
is_near_crossing(const Walk *walk, guint i)
{
  for (guint k = 0; k < walk->crossings->len; k++) {
    HfPoint p = g_array_index(walk->crossings, HfPoint, k);
    if (hf_point_distance(p, hf_segment_nearest(vertex(walk, i), vertex(walk, i + 1), p, NULL)) <
        walk->near_crossing)
      return TRUE;
  }
  return FALSE;
}

/* The curve that edge @i came from, when its source holds good: both ends of the edge must lie on
 * the curve to within the flattening and the grid. */
static const HfCurve *
edge_curve(const Walk *walk, guint i)
{
  const HfEdge *from = walk->ring->from == NULL ? NULL : &walk->ring->from[i];
  if (from == NULL || from->shape >= walk->layout->shapes->len)
    return NULL;
  const GArray *curves = hf_layout_shape(walk->layout, from->shape)->outline->curves;
  if (from->curve >= curves->len)
    return NULL;
  const HfCurve *curve = &g_array_index(curves, HfCurve, from->curve);
  double far = MAX(hf_point_distance(hf_curve_point(curve, from->t0), vertex(walk, i)),
                   hf_point_distance(hf_curve_point(curve, from->t1), vertex(walk, i + 1)));
  if (from->t0 == from->t1 || far > HF_FLATTEN_MM + NEAR || is_near_crossing(walk, i))
    return NULL;
  return curve;
}

static Stretch
stretch_of_edge(const Walk *walk, guint i)
{
  Stretch s = {.shape = HF_NO_SHAPE, .first = i, .n = 1};
  const HfCurve *curve = edge_curve(walk, i);
  if (curve != NULL) {
    const HfEdge *from = &walk->ring->from[i];
    s.shape = from->shape;
    s.from = (Place){curve, from->t0};
    s.to = (Place){curve, from->t1};
    s.way = from->t1 > from->t0 ? 1 : -1;
    s.sweep = curve->sweep * (from->t1 - from->t0);
  }
  return s;
}

static gboolean
same_circle(const HfCurve *a, const HfCurve *b)
{
  return a->kind == HF_CURVE_ARC && b->kind == HF_CURVE_ARC &&
         hf_point_distance(a->c0, b->c0) < SAME_CIRCLE &&
         fabs(hf_curve_radius(a) - hf_curve_radius(b)) < SAME_CIRCLE;
}

static gboolean
continues(const Stretch *a, const Stretch *b)
{
  if (a->shape != b->shape || a->from.curve == NULL || b->from.curve == NULL)
    return a->from.curve == b->from.curve;
  if (hf_point_distance(place_point(a->to), place_point(b->from)) > NEAR)
    return FALSE;
  if (same_circle(a->to.curve, b->from.curve))
    return (a->sweep > 0) == (b->sweep > 0) && fabs(a->sweep + b->sweep) < 2 * G_PI + 1e-6;
  return a->to.curve == b->from.curve && a->way == b->way &&
         (b->to.t - a->from.t) * a->way > 0; /* not round a loop of one curve */
}

static void
join(Stretch *a, const Stretch *b)
{
  a->to = b->to;
  a->sweep += b->sweep;
  a->n += b->n;
}

static void
gather_stretches(Walk *walk)
{
  for (guint i = 0; i < walk->ring->n; i++) {
    Stretch s = stretch_of_edge(walk, i);
    guint n = walk->stretches->len;
    if (n > 0 && continues(stretch(walk, n - 1), &s))
      join(stretch(walk, n - 1), &s);
    else
      g_array_append_val(walk->stretches, s);
  }
  guint n = walk->stretches->len;
  Stretch *last = stretch(walk, n - 1);
  if (n > 1 && continues(last, stretch(walk, 0))) { /* the ring began in the middle of one */
    join(last, stretch(walk, 0));
    g_array_remove_index(walk->stretches, 0);
  }
}

/* ---- joints -------------------------------------------------------------------------------- */

/* Newton's method for the crossing of two true curves, from the crossing of their chords. */
static gboolean
true_crossing(Place *a, Place *b, HfPoint near, double reach)
{
  Place s = *a, t = *b;
  for (int i = 0; i < TURNS_OF_NEWTON; i++) {
    HfPoint gap = hf_point_sub(place_point(t), place_point(s));
    HfPoint da = hf_curve_derivative(s.curve, s.t), db = hf_curve_derivative(t.curve, t.t);
    double det = hf_point_cross(da, db);
    if (fabs(det) < 0.02 * hf_point_length(da) * hf_point_length(db))
      return FALSE; /* nearly along each other: the crossing is anywhere */
    s.t += hf_point_cross(gap, db) / det;
    t.t += hf_point_cross(gap, da) / det;
    if (!(s.t >= 0 && s.t <= 1 && t.t >= 0 && t.t <= 1))
      return FALSE;
  }
  if (hf_point_distance(place_point(s), place_point(t)) > 1e-9 ||
      hf_point_distance(place_point(s), near) > reach)
    return FALSE;
  *a = s;
  *b = t;
  return TRUE;
}

/* Where the crossing can't be had, the joint at least lies on the circle of the arc, so that the
 * arc keeps its radius. */
static gboolean
onto_circle(const HfCurve *curve, double reach, HfPoint *joint)
{
  if (curve->kind != HF_CURVE_ARC)
    return FALSE;
  HfPoint out = hf_point_sub(*joint, curve->c0);
  double length = hf_point_length(out), r = hf_curve_radius(curve);
  if (length == 0 || fabs(length - r) > reach)
    return FALSE;
  *joint = hf_point_add(curve->c0, hf_point_scale(out, r / length));
  return TRUE;
}

/* Tangents at the two ends of a stretch; the chord's where the curve is not known. */
static HfPoint
leaves(const Walk *walk, const Stretch *s)
{
  if (s->from.curve != NULL)
    return tangent(s->from.curve, s->from.t, s->way);
  return hf_point_sub(vertex(walk, s->first + 1), vertex(walk, s->first));
}

static HfPoint
arrives(const Walk *walk, const Stretch *s)
{
  if (s->from.curve != NULL)
    return tangent(s->to.curve, s->to.t, s->way);
  return hf_point_sub(vertex(walk, s->first + s->n), vertex(walk, s->first + s->n - 1));
}

static void
set_joint(const Walk *walk, Stretch *a, Stretch *b)
{
  HfPoint at = vertex(walk, b->first);
  b->start = at;
  b->smooth = fabs(hf_fit_angle(arrives(walk, a), leaves(walk, b))) <= SMOOTH;
  if (a->from.curve == NULL || b->from.curve == NULL)
    return;
  HfPoint end = place_point(a->to), begin = place_point(b->from);
  if (a->shape == b->shape && hf_point_distance(end, begin) < NEAR) {
    if (hf_point_distance(end, begin) < SAME_CIRCLE)
      b->start = begin;
    return;
  }
  b->smooth = FALSE;
  double least = MIN(hf_point_distance(at, vertex(walk, a->first)),
                     hf_point_distance(at, vertex(walk, b->first + b->n)));
  double reach = MIN(0.95 * walk->tolerance, 0.2 * least);
  double a_t = a->to.t, b_t = b->from.t;
  if (true_crossing(&a->to, &b->from, at, reach)) {
    b->start = place_point(b->from);
    a->sweep += a->to.curve->sweep * (a->to.t - a_t);
    b->sweep += b->from.curve->sweep * (b_t - b->from.t);
  } else if (!onto_circle(a->to.curve, reach, &b->start)) {
    onto_circle(b->from.curve, reach, &b->start);
  }
}

/* The stretch to begin with: behind a corner, else beside a line or arc, else anywhere. */
static guint
first_stretch(const Walk *walk)
{
  guint n = walk->stretches->len, best = n;
  g_assert(n > 0); /* a ring has edges */
  for (guint i = 0; i < n; i++) {
    const Stretch *s = stretch(walk, i);
    if (!s->smooth)
      return i;
    if (!is_cubic(s) && best == n)
      best = i;
  }
  return best % n;
}

/* ---- drawing ------------------------------------------------------------------------------- */

static void
draw_chords(const Walk *walk, const Stretch *s, HfPoint end, HfOutline *out)
{
  for (guint i = 1; i < s->n; i++)
    hf_outline_line_to(out, vertex(walk, s->first + i));
  hf_outline_line_to(out, end);
}

/* The source's own arc where both ends lie on it, else one of the same sweep. */
static void
draw_arc(const Stretch *s, HfPoint end, HfOutline *out)
{
  HfPoint c = s->from.curve->c0;
  double r = hf_curve_radius(s->from.curve);
  HfPoint a = hf_point_sub(s->start, c), b = hf_point_sub(end, c);
  double sweep = s->sweep + remainder(hf_fit_angle(a, b) - s->sweep, 2 * G_PI);
  gboolean on_it =
      fabs(hf_point_length(a) - r) < SAME_CIRCLE && fabs(hf_point_length(b) - r) < SAME_CIRCLE;
  if (on_it || fabs(sweep) > G_PI)
    hf_outline_arc_to(out, c, sweep, end);
  else
    hf_fit_arc_to(out, s->start, end, sweep / 2);
}

static void
push_node(GArray *nodes, HfFitNode node)
{
  if (nodes->len > 0) {
    const HfFitNode *last = &g_array_index(nodes, HfFitNode, nodes->len - 1);
    node.s = last->s + hf_point_distance(last->at, node.at);
  }
  g_array_append_val(nodes, node);
}

/* Nodes along one stretch of cubic, its end left out. @keep: mm to each side. */
static void
push_nodes(const Walk *walk, const Stretch *s, double keep, GArray *nodes)
{
  for (guint i = 0; i < s->n; i++) {
    guint edge = (s->first + i) % walk->ring->n;
    const HfEdge *from = &walk->ring->from[edge];
    double t0 = i == 0 ? s->from.t : from->t0, t1 = i + 1 == s->n ? s->to.t : from->t1;
    double length = hf_point_distance(vertex(walk, edge), vertex(walk, edge + 1));
    guint sub = (guint)CLAMP(ceil(length / SPACING), LEAST_SUB, MOST_SUB);
    for (guint k = 0; k < sub; k++) {
      double part = k / (double)sub, t = t0 + (t1 - t0) * part;
      HfPoint here = hf_point_mix(vertex(walk, edge), vertex(walk, edge + 1), part);
      HfFitNode node = {.at = hf_curve_point(s->from.curve, t),
                        .along = tangent(s->from.curve, t, s->way)};
      HfPoint across = {-node.along.y * keep, node.along.x * keep};
      node.left = hf_point_add(here, across);
      node.right = hf_point_sub(here, across);
      if (i == 0 && k == 0)
        node.at = s->start;
      push_node(nodes, node);
    }
  }
}

/* How far an arc at the chain's end may turn from the true tangent there, given the line or arc
 * that is smoothly joined to it. */
static HfFitTurn
turn_towards(HfPoint along, HfPoint neighbour)
{
  double turn = hf_fit_angle(along, neighbour);
  return (HfFitTurn){turn - HF_FIT_JUMP, turn + HF_FIT_JUMP};
}

/* Stretches [i, i + n) make a chain. @closed: it is the whole ring and has no corner. */
static void
chain_turns(const Walk *walk, guint i, guint n, gboolean closed, const GArray *nodes,
            HfFitTurn *ret_start, HfFitTurn *ret_end)
{
  const Stretch *before = stretch(walk, i + walk->stretches->len - 1), *first = stretch(walk, i),
                *after = stretch(walk, i + n);
  *ret_start = *ret_end = HF_FIT_ANY_TURN;
  if (closed) { /* both ends keep half the jump to the tangent with which the chain begins */
    double turn = hf_fit_angle(g_array_index(nodes, HfFitNode, nodes->len - 1).along,
                               g_array_index(nodes, HfFitNode, 0).along);
    *ret_start = (HfFitTurn){-HF_FIT_JUMP / 2, HF_FIT_JUMP / 2};
    *ret_end = (HfFitTurn){turn - HF_FIT_JUMP / 2, turn + HF_FIT_JUMP / 2};
    return;
  }
  if (first->smooth)
    *ret_start = turn_towards(g_array_index(nodes, HfFitNode, 0).along, arrives(walk, before));
  if (after->smooth)
    *ret_end =
        turn_towards(g_array_index(nodes, HfFitNode, nodes->len - 1).along, leaves(walk, after));
}

static void
draw_pieces(const HfOutline *pieces, HfOutline *out)
{
  for (guint k = 0; k < pieces->curves->len; k++) {
    const HfCurve *piece = &g_array_index(pieces->curves, HfCurve, k);
    if (piece->kind == HF_CURVE_ARC)
      hf_outline_arc_to(out, piece->c0, piece->sweep, piece->p1);
    else
      hf_outline_line_to(out, piece->p1);
  }
}

/* Between two nodes an arc may be a little farther off than at them: held more tightly, it has more
 * arcs; the chords are always good. */
static void
draw_chain(const Walk *walk, guint i, guint n, gboolean closed, HfOutline *out)
{
  static const double KEEP[] = {0.95, 0.9, 0.8, 0.6};
  const Stretch *last = stretch(walk, i + n - 1);
  HfPoint start = stretch(walk, i)->start, at = stretch(walk, i + n)->start;
  g_autoptr(GArray) nodes = g_array_new(FALSE, FALSE, sizeof(HfFitNode));
  for (gsize trial = 0; trial < G_N_ELEMENTS(KEEP); trial++) {
    g_array_set_size(nodes, 0);
    for (guint k = 0; k < n; k++)
      push_nodes(walk, stretch(walk, i + k), KEEP[trial] * walk->tolerance, nodes);
    HfFitNode end = {.at = at, .left = at, .right = at};
    end.along = tangent(last->to.curve, last->to.t, last->way);
    push_node(nodes, end);
    HfFitTurn from, to;
    chain_turns(walk, i, n, closed, nodes, &from, &to);
    g_autoptr(HfOutline) pieces = hf_outline_new();
    hf_outline_begin(pieces, start);
    double off = hf_fit_chain(pieces, (HfFitNode *)(void *)nodes->data, nodes->len, from, to);
    if (off <= 0.97 * walk->tolerance) {
      draw_pieces(pieces, out);
      return;
    }
  }
  for (guint k = 0; k < n; k++)
    draw_chords(walk, stretch(walk, i + k), stretch(walk, i + k + 1)->start, out);
}

/* The circle of a ring that is one, whether or not it was drawn as one: through three of its
 * vertices, held against all of them. */
static gboolean
ring_is_circle(const Walk *walk, HfPoint *ret_centre, double *ret_radius)
{
  guint n = walk->ring->n;
  HfPoint a = vertex(walk, 0), b = hf_point_sub(vertex(walk, n / 3), a),
          c = hf_point_sub(vertex(walk, 2 * n / 3), a);
  double d = 2 * hf_point_cross(b, c), bb = hf_point_dot(b, b), cc = hf_point_dot(c, c);
  if (n < 6 || d == 0)
    return FALSE;
  HfPoint to_centre = {(c.y * bb - b.y * cc) / d, (b.x * cc - c.x * bb) / d};
  HfPoint centre = hf_point_add(a, to_centre);
  double radius = hf_point_length(to_centre);
  for (guint i = 0; i < n; i++) {
    HfPoint p = vertex(walk, i), q = hf_point_mix(p, vertex(walk, i + 1), 0.5);
    if (fabs(hf_point_distance(p, centre) - radius) > 0.7 * walk->tolerance ||
        fabs(hf_point_distance(q, centre) - radius) > 0.9 * walk->tolerance)
      return FALSE;
  }
  *ret_centre = centre;
  *ret_radius = radius;
  return TRUE;
}

static gboolean
draw_circle(const Walk *walk, HfOutline *out)
{
  guint n = walk->stretches->len;
  const Stretch *s = stretch(walk, 0);
  double way = hf_ring_area(walk->ring) > 0 ? 1 : -1;
  HfPoint centre, start;
  double radius;
  gboolean curved = TRUE;
  for (guint i = 0; i < n; i++)
    curved = curved && is_cubic(stretch(walk, i)) && stretch(walk, i)->smooth;
  if (n == 1 && s->from.curve != NULL && fabs(s->sweep) > 2 * G_PI - 1e-3) {
    centre = s->from.curve->c0;
    start = s->from.curve->p0;
  } else if (curved && ring_is_circle(walk, &centre, &radius)) {
    start = hf_point(centre.x + radius, centre.y);
  } else {
    return FALSE;
  }
  hf_outline_begin(out, start);
  hf_outline_arc_to(out, centre, way * 2 * G_PI, start);
  hf_outline_close(out);
  return TRUE;
}

static void
draw_stretches(const Walk *walk, HfOutline *out)
{
  guint n = walk->stretches->len, begin = first_stretch(walk);
  gboolean corner = !stretch(walk, begin)->smooth;
  hf_outline_begin(out, stretch(walk, begin)->start);
  for (guint i = 0, many = 1; i < n; i += many) {
    const Stretch *s = stretch(walk, begin + i);
    HfPoint end = stretch(walk, begin + i + 1)->start;
    many = 1;
    if (is_cubic(s)) {
      while (i + many < n && is_cubic(stretch(walk, begin + i + many)) &&
             stretch(walk, begin + i + many)->smooth)
        many++;
      draw_chain(walk, begin + i, many, many == n && !corner, out);
    } else if (s->from.curve == NULL) {
      draw_chords(walk, s, end, out);
    } else if (s->from.curve->kind == HF_CURVE_ARC) {
      draw_arc(s, end, out);
    } else {
      hf_outline_line_to(out, end);
    }
  }
  hf_outline_close(out);
}

/* ---- proof and door ------------------------------------------------------------------------ */

/* A result that turns the wrong way or runs round a second time shows in its area: between two
 * outlines that keep the tolerance lies at most the tolerance times the perimeter. A ring smaller
 * than the tolerance must be left something of its area. */
static gboolean
area_holds(const Walk *walk, const HfOutline *contour)
{
  double area = hf_ring_area(walk->ring), most = walk->tolerance * hf_ring_perimeter(walk->ring);
  if (hf_outline_n_contours(contour) != 1)
    return FALSE;
  double got = hf_outline_area(contour);
  return got * area > 0 && fabs(got - area) <= most;
}

/* Is it within the tolerance of its ring once nothing of it is too short? */
static gboolean
holds_joined(const Walk *walk, HfOutline *contour)
{
  gboolean near = hf_fit_join(contour, walk->ring, walk->tolerance);
  return near && area_holds(walk, contour);
}

/* As fitted with @share of the tolerance. */
static gboolean
add_fitted(const Walk *given, double share, HfOutline *out)
{
  Walk walk = *given;
  g_autoptr(HfOutline) contour = hf_outline_new();
  walk.tolerance *= share;
  g_array_set_size(walk.stretches, 0);
  gather_stretches(&walk);
  for (guint i = 0; i < walk.stretches->len; i++)
    set_joint(&walk, stretch(&walk, i + walk.stretches->len - 1), stretch(&walk, i));
  if (!draw_circle(&walk, contour))
    draw_stretches(&walk, contour);
  if (!holds_joined(given, contour))
    return FALSE;
  hf_outline_append(out, contour, HF_MATRIX_IDENTITY);
  return TRUE;
}

/* Whatever holds first, and the last one always: as fitted, more tightly where pieces too short to
 * stay bend their neighbours off the ring, chords joined, chords as they are. A ring of a few
 * hundredths of a mm is nothing but pieces too short to stay, and would be gone. */
static void
fit_ring(const Walk *walk, HfOutline *out)
{
  static const double SHARE[] = {1, 0.75, 0.6};
  for (gsize i = 0; i < G_N_ELEMENTS(SHARE); i++)
    if (add_fitted(walk, SHARE[i], out))
      return;
  g_autoptr(HfOutline) chords = hf_outline_new();
  hf_ring_add_chords(walk->ring, chords);
  if (holds_joined(walk, chords))
    hf_outline_append(out, chords, HF_MATRIX_IDENTITY);
  else
    hf_ring_add_chords(walk->ring, out);
}

static HfOutline *
fit_rings(const HfMetal *metal, const HfLayout *layout, double tolerance, const GArray *crossings,
          double near_crossing, const HfCancel *cancel)
{
  HfOutline *outline = hf_outline_new();
  g_autoptr(GArray) stretches = g_array_new(FALSE, FALSE, sizeof(Stretch));
  for (guint i = 0; i < metal->region->rings->len && hf_cancel_check(cancel, NULL); i++) {
    Walk walk = {.ring = hf_region_ring(metal->region, i),
                 .layout = layout,
                 .tolerance = tolerance,
                 .stretches = stretches,
                 .crossings = crossings,
                 .near_crossing = near_crossing};
    fit_ring(&walk, outline);
    g_assert(hf_outline_n_contours(outline) == i + 1);
  }
  return outline;
}

/* The region's own chords do not cross, so where the fit does they are taken instead: as few as
 * will do. */
HfFit *
hf_fit_new_until(const HfMetal *metal, const HfLayout *layout, double tolerance,
                 const HfCancel *cancel)
{
  static const double NEAR_CROSSING[] = {0.03, 0.1, 0.5, 2};
  g_return_val_if_fail(metal != NULL && layout != NULL, NULL);
  g_return_val_if_fail(tolerance > HF_FLATTEN_MM, NULL);
  g_autoptr(HfFit) fit = g_new0(HfFit, 1);
  g_autoptr(GArray) crossings = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  fit->outline = fit_rings(metal, layout, tolerance, crossings, 0, cancel);
  for (gsize i = 0; i < G_N_ELEMENTS(NEAR_CROSSING); i++) {
    guint known = crossings->len;
    hf_fit_crossings(fit->outline, crossings, cancel);
    if (crossings->len == known)
      break;
    hf_outline_free(fit->outline);
    fit->outline = fit_rings(metal, layout, tolerance, crossings, NEAR_CROSSING[i], cancel);
  }
  return hf_cancel_check(cancel, NULL) ? g_steal_pointer(&fit) : NULL;
}

HfFit *
hf_fit_new(const HfMetal *metal, const HfLayout *layout, double tolerance)
{
  return hf_fit_new_until(metal, layout, tolerance, NULL);
}

HfFit *
hf_fit_ref(HfFit *fit)
{
  g_atomic_int_inc(&fit->others);
  return fit;
}

void
hf_fit_free(HfFit *fit)
{
  if (fit == NULL || g_atomic_int_add(&fit->others, -1) > 0)
    return;
  hf_outline_free(fit->outline);
  g_free(fit);
}
