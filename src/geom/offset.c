/* SPDX-License-Identifier: GPL-3.0-or-later
 * offset.c - a region grown or shrunk, on true curves.
 *
 *        C1 ____ new edge        The clipper's offset of the flattened outline says which pieces
 *      ,'   |                    of the new edge show and where they end: robust, but made of
 *     /  .--+--- old edge        chords. Each chord is then traced to what it runs along: a curve
 *    |  |    c: a corner         at distance `by`, from t to t, or the arc about a corner. Pieces
 *                                meet smoothly, or cross where Newton's method puts them.
 *
 * docs/maths.md#bolder
 */
#include "geom/offset.h"
#include "geom/rings-private.h"
#include "geom/trace.h"

#define TRUE_MM    0.0005 /* refitted cubics */
#define ROUND_MM   0.0003 /* both ends of an arc are as far from its centre, but for this */
#define ALL_ROUND  5.5    /* radians: an arc of more has no chord to speak of */
#define SAME_MM    0.001  /* pieces whose ends are nearer meet smoothly */
#define CHORD_TURN 0.06   /* radians by which the last chord of a curve may turn from its end */
#define LONG_MM    0.5    /* chords as long as that may run beside several curves in line */
#define NEAR_MM    0.1    /* Newton's method may move a crossing by so much */

/* What a stretch of the new edge runs along. */
typedef struct {
  const HfCurve *curve; /* NULL: a corner */
  double way;           /* +1: along the curve, -1: against it */
  HfPoint corner;
  double t0, t1; /* curve's parameter, or angle about the corner */
} Piece;

typedef struct {
  HfCurveOf curve_of;
  gconstpointer data;
  double by, fine;     /* mm: chords of the old edge and the new are as far off as `fine` */
  const HfRegion *old; /* clean, with sources */
  HfTrace *trace;      /* over `old` */
  GArray *pieces;      /* Piece, of one ring */
  HfOutline *result;
} Beside;

/* ---- curves at a distance ------------------------------------------------------------------ */

/* Along the edge with metal on the left, of the curve's own speed. A control that lies on its end
 * leaves no direction there: it is taken a hair further in. */
static HfPoint
along_at(const Piece *piece, double *t)
{
  HfPoint d = hf_curve_derivative(piece->curve, *t);
  if (hf_point_length(d) < 1e-6) {
    *t = CLAMP(*t, 1e-4, 1 - 1e-4);
    d = hf_curve_derivative(piece->curve, *t);
  }
  return hf_point_scale(d, piece->way);
}

static HfPoint
unit(HfPoint a)
{
  double length = hf_point_length(a);
  return length > 0 ? hf_point_scale(a, 1 / length) : hf_point(1, 0);
}

/* The new edge's point at @t. */
static HfPoint
moved_point(const Piece *piece, double by, double t)
{
  if (piece->curve == NULL)
    return hf_point_polar(piece->corner, fabs(by), t);
  double at = t;
  HfPoint along = unit(along_at(piece, &at));
  HfPoint p = hf_curve_point(piece->curve, t);
  return hf_point_add(p, hf_point(along.y * by, -along.x * by));
}

/* d point / dt of the new edge: P' (1 + by k), k > 0 where the metal bulges. */
static HfPoint
moved_derivative(const Piece *piece, double by, double t)
{
  if (piece->curve == NULL)
    return hf_point(-fabs(by) * sin(t), fabs(by) * cos(t));
  HfPoint d = along_at(piece, &t), dd = hf_curve_second_derivative(piece->curve, t);
  double speed = hf_point_length(d);
  double bend = hf_point_cross(d, dd) / MAX(speed * speed * speed, 1e-18);
  return hf_point_scale(d, piece->way * (1 + by * bend));
}

/* ---- which pieces show --------------------------------------------------------------------- */

static const HfCurve *
source_curve(const Beside *own, const HfEdge *from)
{
  return from->shape != HF_NO_SHAPE ? own->curve_of(from, own->data) : NULL;
}

/* The vertex @v of ring @ring of the old edge: a corner, or a place within a curve? */
static Piece
foot_at_vertex(const Beside *own, guint ring, guint v)
{
  const HfRing *r = hf_region_ring(own->old, ring);
  const HfEdge *in = &r->from[(v + r->n - 1) % r->n], *out = &r->from[v];
  const HfCurve *curve = source_curve(own, out);
  if (curve != NULL && in->shape == out->shape && in->curve == out->curve &&
      fabs(in->t1 - out->t0) < 1e-9)
    return (Piece){curve, out->t1 > out->t0 ? 1 : -1, {0, 0}, out->t0, out->t0};
  return (Piece){.corner = hf_grid_point(r->at[v])};
}

static Piece
foot_on_edge(const Beside *own, HfEdgeId id, double u)
{
  const HfRing *ring = hf_region_ring(own->old, id.ring);
  if (u <= 0 || u >= 1)
    return foot_at_vertex(own, id.ring, u <= 0 ? id.vertex : (id.vertex + 1) % ring->n);
  const HfEdge *from = &ring->from[id.vertex];
  double t = from->t0 + u * (from->t1 - from->t0);
  return (Piece){source_curve(own, from), from->t1 > from->t0 ? 1 : -1, {0, 0}, t, t};
}

/* What of the old edge is nearest to @p. */
static gboolean
find_foot(Beside *own, HfPoint p, Piece *ret_foot)
{
  double share, away;
  HfEdgeId id;
  if (!hf_trace_nearest(own->trace, p, fabs(own->by) + 5 * own->fine, &id, &share, &away) ||
      away < fabs(own->by) - 5 * own->fine ||
      source_curve(own, &hf_region_ring(own->old, id.ring)->from[id.vertex]) == NULL)
    return FALSE;
  *ret_foot = foot_on_edge(own, id, share);
  if (ret_foot->curve == NULL)
    ret_foot->t0 = ret_foot->t1 = hf_angle_of(hf_point_sub(p, ret_foot->corner));
  return TRUE;
}

/* Does @next go on where @piece is? Not where a stretch of the curve between the two is missing. */
static gboolean
goes_on(const Beside *own, const Piece *piece, const Piece *next, HfPoint vertex, double step)
{
  if (piece->curve != next->curve || piece->way != next->way)
    return FALSE;
  if (piece->curve == NULL)
    return hf_point_distance(piece->corner, next->corner) < 1e-9;
  if ((next->t0 - piece->t1) * piece->way < -1e-6)
    return FALSE;
  HfPoint between = moved_point(piece, own->by, (piece->t1 + next->t0) / 2);
  return hf_point_distance(between, vertex) < step + 3 * own->fine;
}

/* The pieces of a ring, one for each run of chords along the same thing; @ends: the vertex at which
 * each ends. Begins at the start of a run. */
static gboolean
trace_ring(Beside *own, const HfRing *ring, GArray *ends)
{
  g_autofree Piece *feet = g_new0(Piece, ring->n);
  g_autofree gboolean *starts = g_new0(gboolean, ring->n);
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    if (!find_foot(own, hf_point_mix(a, b, 0.5), &feet[v]))
      return FALSE;
  }
  guint first = ring->n;
  for (guint v = 0; v < ring->n; v++) {
    guint before = (v + ring->n - 1) % ring->n;
    HfPoint at = hf_grid_point(ring->at[v]);
    double step = hf_point_distance(hf_grid_point(ring->at[before]), at) +
                  hf_point_distance(hf_grid_point(ring->at[(v + 1) % ring->n]), at);
    starts[v] = !goes_on(own, &feet[before], &feet[v], at, step);
    if (starts[v] && first == ring->n)
      first = v;
  }
  if (first == ring->n)
    return FALSE;
  g_array_set_size(own->pieces, 0);
  g_array_set_size(ends, 0);
  for (guint i = 0; i < ring->n; i++) {
    guint v = (first + i) % ring->n;
    HfPoint end = hf_grid_point(ring->at[(v + 1) % ring->n]);
    if (starts[v]) {
      g_array_append_val(own->pieces, feet[v]);
      g_array_append_val(ends, end);
    } else {
      g_array_index(own->pieces, Piece, own->pieces->len - 1).t1 = feet[v].t1;
      g_array_index(ends, HfPoint, ends->len - 1) = end;
    }
  }
  return TRUE;
}

/* ---- where pieces meet ---------------------------------------------------------------------- */

/* The end of a curve that a run along it leads to, if the run ends near there. */
static double
whole_end(const Piece *piece, gboolean last)
{
  return (piece->way > 0) == last ? 1 : 0;
}

static double
guess_at(const Piece *piece, double by, double t, HfPoint p)
{
  if (piece->curve == NULL)
    return hf_angle_of(hf_point_sub(p, piece->corner));
  for (int i = 0; i < 4; i++) {
    HfPoint d = moved_derivative(piece, by, t);
    double square = hf_point_dot(d, d);
    if (square < 1e-12)
      break;
    t = CLAMP(t + hf_point_dot(hf_point_sub(p, moved_point(piece, by, t)), d) / square, 0, 1);
  }
  return t;
}

/* Newton's method on a(s) = b(t), from the chords' crossing @p. */
static void
cross(const Piece *a, const Piece *b, double by, HfPoint p, double *s, double *t)
{
  *s = guess_at(a, by, a->t1, p);
  *t = guess_at(b, by, b->t0, p);
  double u = *s, w = *t;
  for (int i = 0; i < 8; i++) {
    HfPoint gap = hf_point_sub(moved_point(b, by, w), moved_point(a, by, u));
    HfPoint da = moved_derivative(a, by, u), db = moved_derivative(b, by, w);
    double det = hf_point_cross(da, db);
    if (fabs(det) < 1e-9 * hf_point_length(da) * hf_point_length(db) || det == 0)
      return;
    u += hf_point_cross(gap, db) / det;
    w += hf_point_cross(gap, da) / det;
    if (a->curve != NULL && (u < 0 || u > 1))
      return;
    if (b->curve != NULL && (w < 0 || w > 1))
      return;
  }
  HfPoint met = moved_point(a, by, u);
  if (hf_point_distance(met, moved_point(b, by, w)) > SAME_MM ||
      hf_point_distance(met, p) > NEAR_MM)
    return;
  *s = u;
  *t = w;
}

/* Where two pieces follow each other: curve end to curve start, or to the arc about its corner. */
static gboolean
meet_smoothly(Piece *a, Piece *b, double by)
{
  double s = a->curve == NULL ? a->t1 : whole_end(a, TRUE);
  double t = b->curve == NULL ? b->t0 : whole_end(b, FALSE);
  if (a->curve == NULL && b->curve == NULL)
    return FALSE;
  if (b->curve == NULL) {
    if (hf_point_distance(hf_curve_point(a->curve, s), b->corner) > SAME_MM)
      return FALSE;
    t = hf_angle_of(hf_point_sub(moved_point(a, by, s), b->corner));
  } else if (a->curve == NULL) {
    if (hf_point_distance(hf_curve_point(b->curve, t), a->corner) > SAME_MM)
      return FALSE;
    s = hf_angle_of(hf_point_sub(moved_point(b, by, t), a->corner));
  } else if (hf_point_distance(moved_point(a, by, s), moved_point(b, by, t)) > SAME_MM) {
    return FALSE;
  }
  a->t1 = s;
  b->t0 = t;
  return TRUE;
}

static void
settle_ends(Beside *own, const GArray *ends)
{
  for (guint i = 0; i < own->pieces->len; i++) {
    Piece *a = &g_array_index(own->pieces, Piece, i);
    Piece *b = &g_array_index(own->pieces, Piece, (i + 1) % own->pieces->len);
    HfPoint p = g_array_index(ends, HfPoint, i);
    double s, t;
    Piece tried_a = *a, tried_b = *b;
    double reach = MAX(20 * own->fine, CHORD_TURN * fabs(own->by));
    if (meet_smoothly(&tried_a, &tried_b, own->by) &&
        hf_point_distance(moved_point(&tried_a, own->by, tried_a.t1), p) < reach) {
      a->t1 = tried_a.t1;
      b->t0 = tried_b.t0;
      continue;
    }
    cross(a, b, own->by, p, &s, &t);
    a->t1 = s;
    b->t0 = t;
  }
}

/* Curves that were drawn to join smoothly turn by a hair where they do, to either side. Where it is
 * the other side there is no arc about the joint: the moved curves cross beside it. */
static gboolean
is_no_corner(const Beside *own, const Piece *piece)
{
  double way = own->by > 0 ? 1 : -1, sweep = remainder(piece->t1 - piece->t0, 2 * G_PI) * way;
  return piece->curve == NULL && sweep * fabs(own->by) < SAME_MM && sweep > -3;
}

/* Where it is this side and too little to show in the chords, the arc is wanted all the same. */
static gboolean
lacks_corner(const Beside *own, const Piece *a, const Piece *b, Piece *ret_corner)
{
  if (a->curve == NULL || b->curve == NULL || a->t1 != whole_end(a, TRUE) ||
      b->t0 != whole_end(b, FALSE))
    return FALSE;
  HfPoint corner = hf_curve_point(a->curve, a->t1);
  HfPoint from = moved_point(a, own->by, a->t1), to = moved_point(b, own->by, b->t0);
  if (hf_point_distance(corner, hf_curve_point(b->curve, b->t0)) > SAME_MM ||
      hf_point_distance(from, to) <= SAME_MM || hf_point_distance(from, to) > fabs(own->by))
    return FALSE;
  *ret_corner = (Piece){.corner = corner,
                        .t0 = hf_angle_of(hf_point_sub(from, corner)),
                        .t1 = hf_angle_of(hf_point_sub(to, corner))};
  return !is_no_corner(own, ret_corner);
}

static void
add_corners(Beside *own)
{
  for (guint i = own->pieces->len; i-- > 0;) {
    Piece corner;
    if (lacks_corner(own, &g_array_index(own->pieces, Piece, i),
                     &g_array_index(own->pieces, Piece, (i + 1) % own->pieces->len), &corner))
      g_array_insert_val(own->pieces, i + 1, corner);
  }
}

static void
settle_ring(Beside *own, GArray *ends)
{
  settle_ends(own, ends);
  guint before = own->pieces->len;
  for (guint i = before; i-- > 0 && own->pieces->len > 2;) {
    if (!is_no_corner(own, &g_array_index(own->pieces, Piece, i)))
      continue;
    HfPoint *end = &g_array_index(ends, HfPoint, (i + ends->len - 1) % ends->len);
    *end = hf_point_mix(*end, g_array_index(ends, HfPoint, i), 0.5);
    g_array_remove_index(own->pieces, i);
    g_array_remove_index(ends, i);
  }
  if (own->pieces->len < before)
    settle_ends(own, ends);
  add_corners(own);
}

/* ---- drawing -------------------------------------------------------------------------------- */

static HfCurve
fitted(const Piece *piece, double by, double t0, double t1)
{
  double third = (t1 - t0) / 3;
  HfCurve c = {.kind = HF_CURVE_CUBIC};
  c.p0 = moved_point(piece, by, t0);
  c.p1 = moved_point(piece, by, t1);
  c.c0 = hf_point_add(c.p0, hf_point_scale(moved_derivative(piece, by, t0), third));
  c.c1 = hf_point_sub(c.p1, hf_point_scale(moved_derivative(piece, by, t1), third));
  return c;
}

/* Across the new edge only: slipping along it does no harm. */
static gboolean
cubic_fits(const HfCurve *c, const Piece *piece, double by, double t0, double t1)
{
  double chord = hf_point_distance(c->p0, c->p1);
  for (int i = 1; i < 8; i++) {
    double t = t0 + (t1 - t0) * i / 8;
    HfPoint along = unit(moved_derivative(piece, by, t));
    HfPoint off = hf_point_sub(hf_curve_point(c, i / 8.0), moved_point(piece, by, t));
    if (fabs(hf_point_cross(along, off)) > TRUE_MM || hf_point_length(off) > 0.05 * chord + TRUE_MM)
      return FALSE;
  }
  return TRUE;
}

static void
draw_cubic(Beside *own, const Piece *piece, double t0, double t1, int depth)
{
  HfCurve c = fitted(piece, own->by, t0, t1);
  if (depth < 10 && !cubic_fits(&c, piece, own->by, t0, t1)) {
    draw_cubic(own, piece, t0, (t0 + t1) / 2, depth + 1);
    draw_cubic(own, piece, (t0 + t1) / 2, t1, depth + 1);
    return;
  }
  hf_outline_cubic_to(own->result, c.c0, c.c1, c.p1);
}

/* The piece before may have ended a hair beside where this one begins: its arc keeps its sweep, and
 * gets the centre from which both of its ends are as far. */
static void
draw_arc(Beside *own, HfPoint centre, double sweep, HfPoint to)
{
  const GArray *curves = own->result->curves;
  HfPoint from = g_array_index(curves, HfCurve, curves->len - 1).p1; /* begun: there is one */
  HfPoint chord = hf_point_sub(to, from);
  double long_by = hf_point_length(chord), half = tan(sweep / 2);
  double off = fabs(hf_point_distance(from, centre) - hf_point_distance(to, centre));
  if (off > ROUND_MM && long_by < 4 * off) {
    hf_outline_line_to(own->result, to);
    return;
  }
  if (off > ROUND_MM && fabs(sweep) < ALL_ROUND && half != 0)
    centre = hf_point_add(hf_point_mix(from, to, 0.5),
                          hf_point_scale(hf_point(-chord.y, chord.x), 0.5 / half));
  hf_outline_arc_to(own->result, centre, sweep, to);
}

static void
draw_piece(Beside *own, const Piece *piece)
{
  HfPoint to = moved_point(piece, own->by, piece->t1);
  HfPoint from = moved_point(piece, own->by, piece->t0);
  const HfCurve *curve = piece->curve;
  if (curve == NULL) {
    double sweep = remainder(piece->t1 - piece->t0, 2 * G_PI);
    if (sweep * own->by < 0)
      sweep += own->by > 0 ? 2 * G_PI : -2 * G_PI;
    draw_arc(own, piece->corner, sweep, to);
  } else if (curve->kind == HF_CURVE_LINE) {
    hf_outline_line_to(own->result, to);
  } else if (curve->kind == HF_CURVE_ARC) {
    draw_arc(own, curve->c0, curve->sweep * (piece->t1 - piece->t0), to);
  } else if (hf_point_distance(from, to) > SAME_MM || fabs(piece->t1 - piece->t0) > 0.5) {
    draw_cubic(own, piece, piece->t0, piece->t1, 0);
  }
}

/* A piece shorter than any machine sees is left out; its neighbours then meet by themselves. */
static gboolean
is_nothing(const Beside *own, const Piece *piece)
{
  if (piece->curve != NULL && fabs(piece->t1 - piece->t0) > 0.1)
    return FALSE;
  return hf_point_distance(moved_point(piece, own->by, piece->t0),
                           moved_point(piece, own->by, piece->t1)) < SAME_MM;
}

/* Ends that meet within rounding are made one, so that closing adds no line. */
static void
close_ring(Beside *own, HfPoint start)
{
  HfCurve *last = &g_array_index(own->result->curves, HfCurve, own->result->curves->len - 1);
  if (hf_point_distance(last->p1, start) < 3 * SAME_MM)
    last->p1 = start;
  hf_outline_close(own->result);
}

static void
draw_ring(Beside *own)
{
  HfPoint start = {NAN, NAN};
  for (guint i = 0; i < own->pieces->len; i++) {
    const Piece *piece = &g_array_index(own->pieces, Piece, i);
    if (is_nothing(own, piece))
      continue;
    if (isnan(start.x)) {
      start = moved_point(piece, own->by, piece->t0);
      hf_outline_begin(own->result, start);
    }
    draw_piece(own, piece);
  }
  if (!isnan(start.x))
    close_ring(own, start);
}

/* The chords themselves: only where the trace fails its own proof. */
static void
draw_chords(Beside *own, const HfRing *ring)
{
  hf_outline_begin(own->result, hf_grid_point(ring->at[0]));
  for (guint v = 1; v < ring->n; v++)
    hf_outline_line_to(own->result, hf_grid_point(ring->at[v]));
  hf_outline_close(own->result);
}

/* Nothing that shows is left out: what was drawn encloses what the clipper's ring does. */
static gboolean
is_ring(const Beside *own, const HfOutline *drawn, const HfRing *ring)
{
  double perimeter = hf_ring_perimeter(ring);
  HfBox box = hf_outline_box(drawn), chords = hf_ring_box(ring);
  double off = MAX(MAX(fabs(box.min.x - chords.min.x), fabs(box.max.x - chords.max.x)),
                   MAX(fabs(box.min.y - chords.min.y), fabs(box.max.y - chords.max.y)));
  return off < 20 * own->fine && /* sharp ends lie where the true curves cross */
         fabs(hf_outline_area(drawn) - hf_ring_area(ring)) < 2 * own->fine * perimeter;
}

static void
add_ring(Beside *own, const HfRing *ring)
{
  g_autoptr(GArray) ends = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  g_autoptr(HfOutline) whole = own->result;
  g_autoptr(HfOutline) drawn = own->result = hf_outline_new();
  gboolean traced = trace_ring(own, ring, ends);
  if (traced) {
    settle_ring(own, ends);
    draw_ring(own);
  }
  own->result = g_steal_pointer(&whole);
  if (traced && is_ring(own, drawn, ring))
    hf_outline_append(own->result, drawn, HF_MATRIX_IDENTITY);
  else
    draw_chords(own, ring);
}

HfOutline *
hf_region_offset_true(const HfRegion *region, double by, double tolerance, HfCurveOf curve_of,
                      gconstpointer data)
{
  g_assert(tolerance > 0);
  Beside own = {curve_of, data, by, tolerance, .old = region, .result = hf_outline_new()};
  if (hf_region_is_empty(region))
    return own.result;
  g_autoptr(HfRegion) edge = hf_region_offset_chords(region, by, tolerance);
  g_autoptr(HfTrace) trace = hf_trace_new(region, MAX(fabs(by), 0.2));
  g_autoptr(GArray) pieces = g_array_new(FALSE, FALSE, sizeof(Piece));
  own.trace = trace;
  own.pieces = pieces;
  for (guint i = 0; i < edge->rings->len; i++) {
    hf_trace_cut_beside(trace, hf_region_ring(edge, i), by, 3 * tolerance, LONG_MM);
    add_ring(&own, hf_region_ring(edge, i));
  }
  return own.result;
}
