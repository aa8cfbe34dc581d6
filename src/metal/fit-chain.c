/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit-chain.c - the fewest arcs along one smooth stretch of true curve.
 *
 *   nodes  o--o--o--o--o--o--o--o--o--o      every arc begins and ends at a node, on the true curve
 *   arcs   (________)(___________)(___)
 *
 * The arcs from node i to node j form a pencil with one parameter, half the sweep: h. Every node
 * between them bounds h from both sides (the angle at which it sees the chord, Euclid III.21), so
 * what is allowed is an interval. Tangents: with a the angle from the true tangent at i to the
 * chord and b the same at j, the arc is off the true tangents by
 *
 *        a - h at its start,  b + h at its end,
 *
 * so an interval of turns allowed at the start becomes an interval of turns reached at the end, and
 * the search need only carry intervals: level k holds a few nodes that k arcs can reach, each with
 * its interval. Farthest first is best for one arc, but may end on a tangent that the next arc
 * can't take up; so shorter arcs are carried along as well.
 * Invariant: a state's interval is exactly what some choice of h in its whole history reaches.
 */
#include "metal/fit-private.h"
#include <stdlib.h>

enum { WIDTH = 6 }; /* states kept a level */
static const double MOST_TAN =
    2.0; /* tan h: an arc of a chain turns by at most 2 atan 2 = 127 deg */

typedef struct {
  guint node;
  gint before;    /* state it came from; -1 at the start */
  double a, b;    /* see above, of the arc that ends here */
  HfFitTurn half; /* h */
  HfFitTurn turn; /* reached at the end: b + h */
} State;

typedef struct {
  const HfFitNode *nodes;
  guint last;
  HfFitTurn start, end;
  guint first;    /* node at which this search began */
  GArray *states; /* State, level after level */
  guint span;     /* nodes of the arc found last: the next guess */
  double worst;   /* see hf_fit_chain() */
} Search;

/* ---- one arc ------------------------------------------------------------------------------- */

/* A bound point that does not lie between the ends: next to an end it says nothing; else the arc
 * would have to turn back. @side +1: the point is a right bound, -1: a left one. */
static gboolean
bound_is_harmless(HfPoint to_a, HfPoint to_b, double cross, double side, double tolerance2)
{
  double near_end = MIN(hf_point_dot(to_a, to_a), hf_point_dot(to_b, to_b));
  return near_end < 16 * tolerance2 || side * cross <= 0;
}

/* Between two nodes nothing holds the arc: over each of the few steps that it makes its sagitta,
 * chord / 2 tan (h / 2), is held to a third of the tolerance, as the chord may be off by half. */
static double
most_tan(const HfFitNode *nodes, guint i, guint j)
{
  guint steps = j - i;
  if (steps > 4)
    return MOST_TAN;
  double sagitta = hf_point_distance(nodes[i].left, nodes[i].right) / 6;
  double chord = hf_point_distance(nodes[i].at, nodes[j].at) / steps;
  double half = 2 * steps * atan(2 * sagitta / chord);
  return half < atan(MOST_TAN) ? tan(half) : MOST_TAN;
}

/* Interval of tan h for which the arc passes between left and right of every node in between. */
static gboolean
pencil(const HfFitNode *nodes, guint i, guint j, HfFitTurn *ret_tan)
{
  HfPoint a = nodes[i].at, b = nodes[j].at;
  double high = most_tan(nodes, i, j), low = -high;
  for (guint k = i + 1; k < j; k++) {
    HfPoint ra = hf_point_sub(a, nodes[k].right), rb = hf_point_sub(b, nodes[k].right);
    double cross = hf_point_cross(ra, rb), dot = hf_point_dot(ra, rb);
    HfPoint la = hf_point_sub(a, nodes[k].left), lb = hf_point_sub(b, nodes[k].left);
    if (dot < 0) {
      if (cross > high * dot)
        high = cross / dot;
    } else {
      HfPoint across = hf_point_sub(nodes[k].left, nodes[k].right);
      if (!bound_is_harmless(ra, rb, cross, 1, hf_point_dot(across, across) / 4))
        return FALSE;
    }
    cross = hf_point_cross(la, lb), dot = hf_point_dot(la, lb);
    if (dot < 0) {
      if (cross < low * dot)
        low = cross / dot;
    } else {
      HfPoint across = hf_point_sub(nodes[k].left, nodes[k].right);
      if (!bound_is_harmless(la, lb, cross, -1, hf_point_dot(across, across) / 4))
        return FALSE;
    }
    if (low > high)
      return FALSE;
  }
  *ret_tan = (HfFitTurn){low, high};
  return TRUE;
}

/* May a piece lead from node i to node j, and one from there to the end? */
static gboolean
is_long_enough(const Search *search, guint i, guint j)
{
  const HfFitNode *nodes = search->nodes;
  if (j == search->last)
    return i == search->first || nodes[j].s - nodes[i].s >= HF_FIT_SHORTEST;
  return nodes[j].s - nodes[i].s >= HF_FIT_SHORTEST &&
         nodes[search->last].s - nodes[j].s >= HF_FIT_SHORTEST;
}

/* The arcs from state @before to node @j that keep the tolerance and take up the tangent. */
static gboolean
extend(const Search *search, guint before, guint j, State *ret_state)
{
  const State *from = &g_array_index(search->states, State, before);
  const HfFitNode *p = &search->nodes[from->node], *q = &search->nodes[j];
  HfFitTurn tan_h;
  if (!pencil(search->nodes, from->node, j, &tan_h))
    return FALSE;
  HfPoint chord = hf_point_sub(q->at, p->at);
  State to = {.node = j, .before = (gint)before};
  to.a = hf_fit_angle(p->along, chord);
  to.b = hf_fit_angle(q->along, chord);
  to.half = (HfFitTurn){MAX(atan(tan_h.from), to.a - from->turn.to),
                        MIN(atan(tan_h.to), to.a - from->turn.from)};
  if (j == search->last) {
    to.half.from = MAX(to.half.from, search->end.from - to.b);
    to.half.to = MIN(to.half.to, search->end.to - to.b);
  }
  if (to.half.from > to.half.to)
    return FALSE;
  /* the next arc may differ by the jump */
  to.turn = (HfFitTurn){to.b + to.half.from - HF_FIT_JUMP, to.b + to.half.to + HF_FIT_JUMP};
  *ret_state = to;
  return TRUE;
}

/* ---- levels -------------------------------------------------------------------------------- */

/* The farthest node that one arc from state @before reaches; its own node when there is none. */
static guint
farthest(Search *search, guint before)
{
  guint i = g_array_index(search->states, State, before).node;
  State unused;
  guint good = i, step = MAX(search->span, 1), bad = search->last + 1;
  while (good < search->last) {
    guint j = MIN(i + step, search->last);
    if (!extend(search, before, j, &unused)) {
      bad = j;
      break;
    }
    good = j;
    step += MAX(step / 2, 1);
  }
  while (bad > good + 1) {
    guint j = good == i ? MAX(good + 1, bad - MAX(1, (bad - good) / 3)) : (good + bad) / 2;
    if (extend(search, before, j, &unused))
      good = j;
    else
      bad = j;
  }
  search->span = MAX(good - i, 1);
  return good;
}

static gint
farther_first(gconstpointer a, gconstpointer b)
{
  const State *s = a, *t = b;
  if (s->node != t->node)
    return s->node > t->node ? -1 : 1;
  double ws = s->turn.to - s->turn.from, wt = t->turn.to - t->turn.from;
  if (ws != wt)
    return ws > wt ? -1 : 1;
  return s->before - t->before;
}

static gboolean
is_dominated(const State *kept, guint n, const State *state)
{
  for (guint i = 0; i < n; i++)
    if (kept[i].turn.from <= state->turn.from && kept[i].turn.to >= state->turn.to)
      return TRUE;
  return FALSE;
}

/* Keeps the best of the states from @first on. */
static void
prune(GArray *states, guint first)
{
  State *level = &g_array_index(states, State, first);
  guint n = states->len - first, kept = 0;
  qsort(level, n, sizeof(State), farther_first);
  for (guint i = 0; i < n && kept < WIDTH; i++)
    if (!is_dominated(level, kept, &level[i]))
      level[kept++] = level[i];
  g_array_set_size(states, first + kept);
}

/* The next level after the states [first, end). */
static void
advance(Search *search, guint first, guint end)
{
  for (guint s = first; s < end; s++) {
    guint i = g_array_index(search->states, State, s).node;
    guint far = farthest(search, s);
    for (guint back = 0; far > i + back; back = back * 2 + 1) {
      State next;
      if (is_long_enough(search, i, far - back) && extend(search, s, far - back, &next))
        g_array_append_val(search->states, next);
      if (far == search->last)
        break;
    }
  }
  prune(search->states, end);
}

/* ---- drawing ------------------------------------------------------------------------------- */

/* Chooses h backwards from @state: the tangent of the next arc where it can be had, but away from
 * the ends of the interval, else the tangents would swing from arc to arc. @wanted: the turn with
 * which what follows begins; NAN: nothing does. */
static void
draw_back_from(Search *search, guint state, double wanted, HfOutline *out)
{
  g_autoptr(GArray) order = g_array_new(FALSE, FALSE, sizeof(guint));
  g_autoptr(GArray) halves = g_array_new(FALSE, FALSE, sizeof(double));
  for (gint s = (gint)state; s > 0; s = g_array_index(search->states, State, s).before) {
    const State *at = &g_array_index(search->states, State, s);
    double middle = (at->half.from + at->half.to) / 2, reach = (at->half.to - at->half.from) / 2;
    double low = middle - 0.8 * reach, high = middle + 0.8 * reach, h = middle;
    if (!isnan(wanted)) { /* stay within the jump of what the next arc begins with */
      h = CLAMP(wanted - at->b, low, high);
      h = CLAMP(h, wanted - HF_FIT_JUMP - at->b, wanted + HF_FIT_JUMP - at->b);
    }
    h = CLAMP(h, at->half.from, at->half.to);
    g_array_append_val(order, s);
    g_array_append_val(halves, h);
    wanted = at->a - h;
  }
  guint pen = search->first;
  for (guint k = order->len; k-- > 0;) {
    guint to = g_array_index(search->states, State, g_array_index(order, guint, k)).node;
    double half = g_array_index(halves, double, k);
    hf_fit_arc_to(out, search->nodes[pen].at, search->nodes[to].at, half);
    search->worst = MAX(search->worst, hf_fit_misfit(search->nodes, pen, to, half));
    pen = to;
  }
}

/* ---- the chain ----------------------------------------------------------------------------- */

/* No arc leads on: from one of the farthest states two arcs with a common tangent do, since they
 * can take up any tangent; the first that keeps the tolerance, else the nearest to it. Returns: the
 * node reached, in the true tangent. */
static guint
draw_two_arcs(Search *search, HfOutline *out)
{
  enum { TRIALS = 64, REACH = 8 };
  HfFitBiarc best = {.off = INFINITY};
  guint best_state = 0, best_node = search->last;
  guint n = search->states->len, until = n > TRIALS ? n - TRIALS : 0;
  double tolerance = hf_point_distance(search->nodes[0].left, search->nodes[0].right) / 2;
  for (guint s = n; s-- > until && best.off > tolerance;) {
    const State *state = &g_array_index(search->states, State, s);
    double leave = CLAMP(0, state->turn.from, state->turn.to);
    guint to = MIN(state->node + REACH, search->last);
    for (; to > state->node && best.off > tolerance; to--) {
      double arrive = to == search->last ? CLAMP(0, search->end.from, search->end.to) : 0;
      HfFitBiarc biarc = hf_fit_biarc(search->nodes, state->node, to, leave, arrive);
      if (biarc.off < best.off) {
        best = biarc;
        best_state = s;
        best_node = to;
      }
    }
  }
  draw_back_from(search, best_state, best.leave, out);
  guint from = g_array_index(search->states, State, best_state).node;
  hf_fit_arc_to(out, search->nodes[from].at, best.joint, best.half[0]);
  hf_fit_arc_to(out, best.joint, search->nodes[best_node].at, best.half[1]);
  search->worst = MAX(search->worst, best.off);
  search->start = (HfFitTurn){-HF_FIT_JUMP, HF_FIT_JUMP};
  return best_node;
}

/* Searches from search->first; draws what it finds. Returns: the node where it stopped, and in
 * search->start what the next search may begin with. */
static guint
run_search(Search *search, HfOutline *out)
{
  g_array_set_size(search->states, 0);
  State begin = {.node = search->first, .before = -1, .turn = search->start};
  g_array_append_val(search->states, begin);
  guint first = 0, end = 1;
  while (end > first && g_array_index(search->states, State, first).node < search->last) {
    advance(search, first, end);
    first = end;
    end = search->states->len;
  }
  if (end > first) { /* prune() put one that is through in front */
    draw_back_from(search, first, NAN, out);
    return search->last;
  }
  return draw_two_arcs(search, out);
}

double
hf_fit_chain(HfOutline *out, const HfFitNode *nodes, guint n, HfFitTurn start, HfFitTurn end)
{
  g_assert(n >= 2);
  g_autoptr(GArray) states = g_array_new(FALSE, FALSE, sizeof(State));
  Search search = {
      .nodes = nodes, .last = n - 1, .start = start, .end = end, .states = states, .span = 8};
  while (search.first < search.last)
    search.first = run_search(&search, out);
  return search.worst;
}
