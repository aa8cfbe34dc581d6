/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-thicken.c - a thin web gets metal along its axis.
 *
 *     _______            _______        discs of radius R, 1.25 times the limit across, along the
 *            \__________/               axis where it is under the limit, and on from there,
 * smaller ( ( ( ( ( ( ( ( ) ) ) )        and smaller until they only touch both edges: pieces with
 *      _______/--------\_______         straight sides and round ends.
 *
 * Corners that fork off the axis are left as they are, and so is the last stretch of a tip. A tail
 * that ends in a point is pulled back instead (mend-round.c). Beside the edge of a plate, ring or
 * bar the discs touch that edge from within. docs/maths.md#mending
 */
#include "mend/mend-private.h"

#define STRAIGHT 0.02    /* mm: the chain may leave the axis by so much */
#define TIP      1.2     /* limits: so much of a tip is left as it is */
#define TAPER    3.0     /* kerfs: so far it takes from R to the web's own width */
#define CORNER   0.01    /* mm: an axis that gets so narrow runs into one */
#define STEPS    12      /* of a taper */
#define APART    -0.4995 /* cosine of the angle between the feet: 120 degrees */

/* A place of a chain, and the drawn shape whose edge is beside it: each letter gets its own metal.
 */
typedef struct {
  HfAxisPoint p;
  double r; /* of the disc there, mm */
  guint maker;
  gboolean fixed[2]; /* is the edge at foot_a, at foot_b that of a plate, ring or bar? */
} Link;

typedef struct {
  guint maker;
  HfOutline *outline;
} Made;

typedef struct {
  HfMendView *view;
  const HfMendNet *net;
  HfLawKind kind;
  double limit, radius;
  GArray *pieces;     /* HfNetPiece */
  gboolean *gone;     /* of each piece */
  GHashTable *degree; /* node -> pieces that are left there */
  GArray *made;       /* Made */
} Thicken;

static HfNetPiece *
piece_of(const Thicken *own, guint i)
{
  return &g_array_index(own->pieces, HfNetPiece, i);
}

static guint
degree_of(const Thicken *own, guint node)
{
  return GPOINTER_TO_UINT(g_hash_table_lookup(own->degree, GUINT_TO_POINTER(node)));
}

static void
change_degree(Thicken *own, guint node, int by)
{
  if (node != HF_NET_MOUTH)
    g_hash_table_insert(own->degree, GUINT_TO_POINTER(node),
                        GUINT_TO_POINTER((guint)((int)degree_of(own, node) + by)));
}

static gboolean
is_letter(const Thicken *own, guint shape)
{
  return shape < own->view->sign->layout->shapes->len &&
         hf_layout_shape(own->view->sign->layout, shape)->letter >= 0;
}

static guint
maker_of(const Thicken *own, guint edge)
{
  const HfAxisEdge *e = &g_array_index(own->net->axis->edges, HfAxisEdge, edge);
  guint a = hf_mend_maker(own->view, own->net, e->site_a);
  guint b = hf_mend_maker(own->view, own->net, e->site_b);
  return is_letter(own, b) && !is_letter(own, a) ? b : a;
}

static void
turn_round(GArray *links, guint first)
{
  for (guint a = first, b = links->len; a + 1 < b; a++) {
    b--;
    Link keep = g_array_index(links, Link, a);
    g_array_index(links, Link, a) = g_array_index(links, Link, b);
    g_array_index(links, Link, b) = keep;
  }
}

static gboolean
is_metal_letter(const Thicken *own, guint shape)
{
  return hf_mend_is_letter(own->view, shape) &&
         !hf_layout_shape(own->view->sign->layout, shape)->opening;
}

/* Beside a letter that stands on a bar, and where two plates are joined, the edge ends: nothing is
 * held there. */
static Link
link_at(const Thicken *own, guint edge, double where)
{
  const HfAxisEdge *e = &g_array_index(own->net->axis->edges, HfAxisEdge, edge);
  guint a = hf_mend_maker(own->view, own->net, e->site_a);
  guint b = hf_mend_maker(own->view, own->net, e->site_b);
  gboolean joint =
      own->kind == HF_LAW_WEAK_JOINT || is_metal_letter(own, a) || is_metal_letter(own, b);
  return (Link){
      hf_mend_net_point(own->net, edge, where),
      own->radius,
      maker_of(own, edge),
      {!joint && hf_mend_is_fixed(own->view, a), !joint && hf_mend_is_fixed(own->view, b)}};
}

/* The points of a piece from its first end on. */
static void
links_of(const Thicken *own, const HfNetPiece *piece, gboolean backwards, GArray *links)
{
  guint first = links->len;
  Link link = link_at(own, piece->edge, piece->from);
  g_array_append_val(links, link);
  for (guint i = (guint)floor(piece->from) + 1; i < piece->to; i++) {
    link.p = hf_mend_net_point(own->net, piece->edge, i);
    g_array_append_val(links, link);
  }
  link.p = hf_mend_net_point(own->net, piece->edge, piece->to);
  g_array_append_val(links, link);
  if (backwards)
    turn_round(links, first);
}

static gboolean
feet_apart(const HfAxisPoint *p)
{
  HfPoint a = hf_point_sub(p->foot_a, p->at), b = hf_point_sub(p->foot_b, p->at);
  double lengths = hf_point_length(a) * hf_point_length(b);
  return lengths > 0 && hf_point_dot(a, b) <= APART * lengths;
}

static gboolean
has_core(const Thicken *own, const HfNetPiece *piece)
{
  g_autoptr(GArray) links = g_array_new(FALSE, FALSE, sizeof(Link));
  links_of(own, piece, FALSE, links);
  for (guint i = 0; i < links->len; i++)
    if (feet_apart(&g_array_index(links, Link, i).p))
      return TRUE;
  return FALSE;
}

/* Dead ends that only run into a corner, from outside in. */
static void
prune(Thicken *own)
{
  own->gone = g_new0(gboolean, own->pieces->len + 1);
  for (guint i = 0; i < own->pieces->len; i++)
    for (int k = 0; k < 2; k++)
      change_degree(own, piece_of(own, i)->end[k], 1);
  for (gboolean again = TRUE; again;) {
    again = FALSE;
    for (guint i = 0; i < own->pieces->len; i++) {
      const HfNetPiece *piece = piece_of(own, i);
      gboolean dead = FALSE;
      for (int k = 0; k < 2; k++)
        dead |= piece->end[k] != HF_NET_MOUTH && degree_of(own, piece->end[k]) == 1;
      if (own->gone[i] || !dead || has_core(own, piece))
        continue;
      own->gone[i] = again = TRUE;
      for (int k = 0; k < 2; k++)
        change_degree(own, piece->end[k], -1);
    }
  }
}

/* ---- chains ---------------------------------------------------------------------------------- */

/* The piece that goes on at @node, where just two meet. */
static gboolean
next_piece(const Thicken *own, const gboolean *used, guint node, guint *ret_next)
{
  if (node == HF_NET_MOUTH || degree_of(own, node) != 2)
    return FALSE;
  for (guint i = 0; i < own->pieces->len; i++) {
    const HfNetPiece *piece = piece_of(own, i);
    if (own->gone[i] || used[i] || (piece->end[0] != node && piece->end[1] != node))
      continue;
    *ret_next = i;
    return TRUE;
  }
  return FALSE;
}

/* The one edge that leads on from @edge at @node, but for those that run into a corner, as behind
 * each chord of a curve. */
static gboolean
only_way_on(const HfMendNet *net, guint node, guint edge, guint *ret_next)
{
  guint ways = 0;
  for (guint s = net->fan[node]; s < net->fan[node + 1]; s++) {
    const HfAxisEdge *e = &g_array_index(net->axis->edges, HfAxisEdge, net->spokes[s]);
    guint to = e->node_a == node ? e->node_b : e->node_a;
    if (net->spokes[s] == edge || g_array_index(net->axis->nodes, HfAxisNode, to).radius < CORNER)
      continue;
    *ret_next = net->spokes[s];
    ways++;
  }
  return ways == 1;
}

/* On beyond a mouth while it is narrower than the chain, up to a fork, by @left mm at most. */
static void
walk_on(const Thicken *own, const HfNetPiece *last, gboolean forward, double left, GArray *links)
{
  const HfAxisEdge *edge = &g_array_index(own->net->axis->edges, HfAxisEdge, last->edge);
  double where = forward ? last->to : last->from;
  guint e = last->edge;
  for (int hops = 0; hops < 400 && left > 0; hops++) {
    double next = forward ? fmin(floor(where) + 1, edge->n - 1) : fmax(ceil(where) - 1, 0);
    HfAxisPoint p = hf_mend_net_point(own->net, e, next);
    Link last_link = g_array_index(links, Link, links->len - 1);
    HfAxisPoint before = last_link.p;
    if (p.radius < own->limit / 2 - HF_SLACK) /* narrow again: a corner, or another zone */
      return;
    double step = hf_point_distance(before.at, p.at);
    if (step > left && step > 0) {
      p.at = hf_point_mix(before.at, p.at, left / step);
      p.radius = before.radius + (p.radius - before.radius) * left / step;
    }
    last_link.p = p;
    g_array_append_val(links, last_link);
    left -= step;
    where = next;
    if (p.radius >= own->radius)
      return;
    if (next > 0 && next < edge->n - 1)
      continue;
    guint node = next <= 0 ? edge->node_a : edge->node_b, other;
    if (!only_way_on(own->net, node, e, &other))
      return;
    e = other;
    edge = &g_array_index(own->net->axis->edges, HfAxisEdge, e);
    forward = edge->node_a == node;
    where = forward ? 0 : edge->n - 1;
  }
}

/* The last @length mm of the chain in so many steps that a curve can run over them. */
static void
refine(GArray *links, double length)
{
  double walked = 0;
  for (guint i = links->len; i-- > 1 && walked < length;) {
    Link from = g_array_index(links, Link, i - 1), to = g_array_index(links, Link, i);
    double step = hf_point_distance(from.p.at, to.p.at);
    guint n = (guint)fmin(ceil(step * STEPS / length), 10 * STEPS);
    for (guint k = n; k-- > 1;) {
      Link more = from;
      double t = (double)k / n;
      more.p.at = hf_point_mix(from.p.at, to.p.at, t);
      more.p.radius += (to.p.radius - from.p.radius) * t;
      more.p.foot_a = hf_point_mix(from.p.foot_a, to.p.foot_a, t);
      more.p.foot_b = hf_point_mix(from.p.foot_b, to.p.foot_b, t);
      g_array_insert_val(links, i, more);
    }
    walked += step;
  }
}

/* From R to the width that the web has at the end of the chain: a disc of that only touches its
 * edges. Where the way on from the mouth is short it begins before. Without a corner at either
 * end: 3 t^2 - 2 t^3. */
static void
taper(const Thicken *own, GArray *links, double length)
{
  refine(links, length);
  const Link *last = &g_array_index(links, Link, links->len - 1);
  double least = own->limit / 2 + HF_SLACK, end = fmin(fmax(last->p.radius, least), own->radius);
  double walked = 0;
  for (guint i = links->len; i-- > 0 && walked < length;) {
    Link *link = &g_array_index(links, Link, i);
    if (i + 1 < links->len)
      walked += hf_point_distance(link->p.at, link[1].p.at);
    double t = length > 0 ? fmin(walked / length, 1) : 1;
    double r = end + (own->radius - end) * t * t * (3 - 2 * t);
    link->r = fmin(fmax(r, link->p.radius), own->radius);
  }
}

static double
length_of(const GArray *links)
{
  double length = 0;
  for (guint i = 1; i < links->len; i++)
    length += hf_point_distance(g_array_index(links, Link, i - 1).p.at,
                                g_array_index(links, Link, i).p.at);
  return length;
}

static void
go_on(const Thicken *own, const HfNetPiece *last, gboolean forward, GArray *links)
{
  double far = TAPER * own->view->sign->hold->process.kerf, before = length_of(links);
  walk_on(own, last, forward, far, links);
  taper(own, links, fmin(far, length_of(links) - before / 2));
}

/* Takes @by mm off the end of a chain. */
static void
trim_end(GArray *links, double by)
{
  while (links->len > 1 && by > 0) {
    HfAxisPoint *last = &g_array_index(links, Link, links->len - 1).p;
    HfAxisPoint before = g_array_index(links, Link, links->len - 2).p;
    double step = hf_point_distance(before.at, last->at);
    if (step > by) {
      last->radius += (before.radius - last->radius) * by / step;
      last->at = hf_point_mix(last->at, before.at, by / step);
      return;
    }
    by -= step;
    g_array_set_size(links, links->len - 1);
  }
}

/* A dead end: a tip keeps its last stretch; a blunt end stays as long as it was, and square, as a
 * round one would be a sharp point by its radius. */
static gboolean
settle_dead_end(const Thicken *own, GArray *links)
{
  Link last = g_array_index(links, Link, links->len - 1);
  if (last.p.radius < 0.15 * own->limit) {
    trim_end(links, fmax(TIP * own->limit, own->radius));
    return FALSE;
  }
  HfPoint end = last.p.at;
  guint back = links->len - 1; /* so far that no round end reaches beyond the square one */
  while (back > 0 && hf_point_distance(g_array_index(links, Link, back).p.at, end) <
                         own->radius - last.p.radius)
    back--;
  HfPoint from = g_array_index(links, Link, back).p.at;
  double step = hf_point_distance(from, end);
  if (step == 0)
    return TRUE;
  last.p.at = hf_point_mix(from, end, 1 + last.p.radius / step);
  g_array_set_size(links, back + 1);
  g_array_append_val(links, last);
  return TRUE;
}

/* A disc beside the edge of a plate, ring or bar touches it from within: that edge stays where it
 * is, and all that is wanting goes to the other side. %FALSE: both sides are such edges. */
static gboolean
hold_edges(GArray *links)
{
  for (guint i = 0; i < links->len; i++) {
    Link *link = &g_array_index(links, Link, i);
    HfAxisPoint *p = &link->p;
    if (p->radius >= link->r || (!link->fixed[0] && !link->fixed[1]))
      continue;
    if (link->fixed[0] && link->fixed[1])
      return FALSE;
    HfPoint foot = link->fixed[0] ? p->foot_a : p->foot_b;
    HfPoint across = hf_point_sub(link->fixed[0] ? p->foot_b : p->foot_a, foot);
    double length = hf_point_length(across);
    if (length > 0)
      p->at = hf_point_add(foot, hf_point_scale(across, link->r / length));
  }
  return TRUE;
}

/* ---- drawing --------------------------------------------------------------------------------- */

/* What holds a disc about each end and all between, round at both ends unless they are square. */
static void
add_capsule(HfOutline *outline, const Link *p, const Link *q, gboolean square_a, gboolean square_b)
{
  HfPoint a = p->p.at, b = q->p.at;
  double length = hf_point_distance(a, b), narrows = (p->r - q->r) / fmax(length, 1e-9);
  if (length < 0.001 || fabs(narrows) > 0.99) {
    hf_outline_add_circle(outline, p->r >= q->r ? a : b, fmax(p->r, q->r));
    return;
  }
  HfPoint along = hf_point_scale(hf_point_sub(b, a), 1 / length);
  double level = sqrt(1 - narrows * narrows), half = acos(narrows);
  HfPoint on = hf_point_scale(along, narrows);
  HfPoint right = hf_point_add(on, hf_point_scale(hf_point(along.y, -along.x), level));
  HfPoint left = hf_point_add(on, hf_point_scale(hf_point(-along.y, along.x), level));
  HfPoint start = hf_point_add(a, hf_point_scale(right, p->r));
  HfPoint left_b = hf_point_add(b, hf_point_scale(left, q->r));
  hf_outline_begin(outline, start);
  hf_outline_line_to(outline, hf_point_add(b, hf_point_scale(right, q->r)));
  if (square_b)
    hf_outline_line_to(outline, left_b);
  else
    hf_outline_arc_to(outline, b, 2 * half, left_b);
  hf_outline_line_to(outline, hf_point_add(a, hf_point_scale(left, p->r)));
  if (!square_a)
    hf_outline_arc_to(outline, a, 2 * (G_PI - half), start);
  hf_outline_close(outline);
}

static HfOutline *
outline_for(const Thicken *own, guint maker)
{
  for (guint i = 0; i < own->made->len; i++)
    if (g_array_index(own->made, Made, i).maker == maker)
      return g_array_index(own->made, Made, i).outline;
  Made made = {maker, hf_outline_new()};
  g_array_append_val(own->made, made);
  return made.outline;
}

/* Straight pieces within STRAIGHT of the axis (Douglas and Peucker's way), each beside one shape.
 */
static void
draw_between(const Thicken *own, const GArray *links, guint a, guint b, gboolean square_a,
             gboolean square_b)
{
  const Link *p = &g_array_index(links, Link, a), *q = &g_array_index(links, Link, b);
  double most = STRAIGHT;
  guint at = 0;
  for (guint i = a + 1; i < b; i++) {
    const Link *x = &g_array_index(links, Link, i);
    double t, away = hf_point_distance(x->p.at, hf_segment_nearest(p->p.at, q->p.at, x->p.at, &t));
    away = fmax(away, fabs(x->r - (p->r + (q->r - p->r) * t)));
    if (x->maker != x[-1].maker)
      away += x - p > 1 ? 1 : 0; /* a new maker begins a piece of its own */
    if (away > most) {
      most = away;
      at = i;
    }
  }
  if (at == 0) {
    add_capsule(outline_for(own, q->maker), p, q, square_a, square_b);
    return;
  }
  draw_between(own, links, a, at, square_a, FALSE);
  draw_between(own, links, at, b, FALSE, square_b);
}

static void
draw_chain(Thicken *own, guint first, int from, gboolean *used)
{
  g_autoptr(GArray) links = g_array_new(FALSE, FALSE, sizeof(Link));
  guint here = first, start = piece_of(own, first)->end[from], end;
  int entered = from;
  gboolean square_start = FALSE, square_end = FALSE;
  for (;;) {
    used[here] = TRUE;
    links_of(own, piece_of(own, here), entered == 1, links);
    end = piece_of(own, here)->end[1 - entered];
    guint next;
    if (!next_piece(own, used, end, &next))
      break;
    entered = piece_of(own, next)->end[0] == end ? 0 : 1;
    here = next;
  }
  if (end == HF_NET_MOUTH)
    go_on(own, piece_of(own, here), entered == 0, links);
  else if (degree_of(own, end) == 1)
    square_end = settle_dead_end(own, links);
  turn_round(links, 0);
  if (start == HF_NET_MOUTH)
    go_on(own, piece_of(own, first), from == 1, links);
  else if (degree_of(own, start) == 1)
    square_start = settle_dead_end(own, links);
  if (links->len == 1 || !hold_edges(links))
    return; /* all of it a tip, or nothing can be done */
  /* turned round: the start comes last */
  draw_between(own, links, 0, links->len - 1, square_end, square_start);
}

static void
draw_chains(Thicken *own)
{
  g_autofree gboolean *used = g_new0(gboolean, own->pieces->len + 1);
  for (int pass = 0; pass < 2; pass++) /* chains with ends, then rings */
    for (guint i = 0; i < own->pieces->len; i++)
      for (int k = 0; k < 2 && !used[i] && !own->gone[i]; k++) {
        guint node = piece_of(own, i)->end[k];
        if (pass == 1 || node == HF_NET_MOUTH || degree_of(own, node) != 2)
          draw_chain(own, i, k, used);
      }
}

/* The point in which the zone ends when it is a tail: one mouth, nothing beyond. */
static gboolean
is_pointed_tail(const Thicken *own, HfPoint *ret_tip)
{
  guint mouths = 0, tips = 0;
  for (guint i = 0; i < own->pieces->len; i++)
    for (int k = 0; k < 2 && !own->gone[i]; k++) {
      guint node = piece_of(own, i)->end[k];
      mouths += node == HF_NET_MOUTH;
      if (node == HF_NET_MOUTH || degree_of(own, node) != 1)
        continue;
      const HfAxisNode *end = &g_array_index(own->net->axis->nodes, HfAxisNode, node);
      tips += end->radius < 0.15 * own->limit ? 1 : 2;
      *ret_tip = end->at;
    }
  return mouths == 1 && tips == 1;
}

/* %FALSE: there may be room for less. */
static gboolean
thicken(HfMendView *view, HfLawKind kind, HfPoint at, double limit, double over)
{
  const HfMendNet *net = hf_mend_metal_net(view);
  g_autoptr(GArray) pieces = hf_mend_net_zone(net, at, (limit - HF_SLACK) / 2, limit);
  if (pieces->len == 0) { /* narrow only between its true curves */
    g_array_unref(pieces);
    pieces = hf_mend_net_zone(net, at, limit / 2, limit);
  }
  g_autoptr(GHashTable) degree = g_hash_table_new(NULL, NULL);
  g_autoptr(GArray) made = g_array_new(FALSE, FALSE, sizeof(Made));
  Thicken own = {.view = view,
                 .net = net,
                 .kind = kind,
                 .limit = limit,
                 .radius = over * limit / 2,
                 .pieces = pieces,
                 .degree = degree,
                 .made = made};
  if (pieces->len == 0)
    return TRUE;
  prune(&own);
  HfPoint tip;
  gboolean tail = is_pointed_tail(&own, &tip);
  if (tail) /* never a matchstick with the old point beside it */
    hf_mend_pull_back(view, kind, tip, limit);
  else
    draw_chains(&own);
  g_free(own.gone);
  gboolean done = tail || made->len == 0;
  for (guint i = 0; i < made->len; i++) { /* takes the outline, stopped or not */
    const Made *one = &g_array_index(made, Made, i);
    if (!hf_mend_add_smooth(view, kind, at, one->outline, "the mended web of %s", one->maker))
      continue;
    g_array_index(view->mendings, HfMending, view->mendings->len - 1).over = over;
    done = TRUE;
  }
  return done;
}

void
hf_mend_thicken(HfMendView *view, HfLawKind kind, HfPoint at, double limit, double over)
{
  if (!thicken(view, kind, at, limit, over) && over > HF_MEND_SLIM)
    thicken(view, kind, at, limit, HF_MEND_SLIM);
}
