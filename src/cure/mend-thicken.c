/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-thicken.c - a thin web gets metal along its axis.
 *
 *     _______            _______        discs of one radius R, 1.25 times the limit across, along
 *            \__________/               the axis where it is under the limit, and on a little
 *        ( ( ( ( ( ( ( ( ) ) ) )        where it widens: straight pieces with round ends.
 *      _______/--------\_______
 *
 * Corners that fork off the axis are left as they are, and so is the last stretch of a tip.
 * docs/maths.md#mending
 */
#include "cure/mend-private.h"

#define WIDER    1.25
#define SLACK    0.01    /* the law's */
#define STRAIGHT 0.02    /* mm: the chain may leave the axis by so much */
#define TIP      1.2     /* limits: so much of a tip is left as it is */
#define ON       1.0     /* limits: so far the chain goes on where the web widens */
#define APART    -0.4995 /* cosine of the angle between the feet: 120 degrees */

typedef struct {
  const HfMendNet *net;
  double limit, radius;
  GArray *pieces;     /* HfNetPiece */
  gboolean *gone;     /* of each piece */
  GHashTable *degree; /* node -> pieces that are left there */
  HfOutline *outline;
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

/* The points of a piece from its first end on. */
static void
points_of(const Thicken *own, const HfNetPiece *piece, gboolean backwards, GArray *points)
{
  guint first = points->len;
  HfAxisPoint p = hf_mend_net_point(own->net, piece->edge, piece->from);
  g_array_append_val(points, p);
  for (guint i = (guint)floor(piece->from) + 1; i < piece->to; i++) {
    p = hf_mend_net_point(own->net, piece->edge, i);
    g_array_append_val(points, p);
  }
  p = hf_mend_net_point(own->net, piece->edge, piece->to);
  g_array_append_val(points, p);
  for (guint a = first, b = points->len - 1; backwards && a < b; a++, b--) {
    HfAxisPoint keep = g_array_index(points, HfAxisPoint, a);
    g_array_index(points, HfAxisPoint, a) = g_array_index(points, HfAxisPoint, b);
    g_array_index(points, HfAxisPoint, b) = keep;
  }
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
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfAxisPoint));
  points_of(own, piece, FALSE, points);
  for (guint i = 0; i < points->len; i++)
    if (feet_apart(&g_array_index(points, HfAxisPoint, i)))
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

/* On beyond a mouth while it is narrower than the chain, up to a fork. */
static void
go_on(const Thicken *own, const HfNetPiece *last, gboolean forward, GArray *points)
{
  const HfAxisEdge *edge = &g_array_index(own->net->axis->edges, HfAxisEdge, last->edge);
  double left = ON * own->limit;
  double where = forward ? last->to : last->from;
  guint e = last->edge;
  for (int hops = 0; hops < 400 && left > 0; hops++) {
    double next = forward ? fmin(floor(where) + 1, edge->n - 1) : fmax(ceil(where) - 1, 0);
    HfAxisPoint p = hf_mend_net_point(own->net, e, next);
    HfAxisPoint before = g_array_index(points, HfAxisPoint, points->len - 1);
    double step = hf_point_distance(before.at, p.at);
    if (step > left && step > 0) {
      p.at = hf_point_mix(before.at, p.at, left / step);
      p.radius = before.radius + (p.radius - before.radius) * left / step;
    }
    if (p.radius < before.radius)
      return;
    g_array_append_val(points, p);
    left -= step;
    where = next;
    if (p.radius >= own->radius)
      return;
    if (next > 0 && next < edge->n - 1)
      continue;
    guint node = next <= 0 ? edge->node_a : edge->node_b;
    guint other = HF_NET_MOUTH;
    if (own->net->fan[node + 1] - own->net->fan[node] != 2)
      return;
    for (guint s = own->net->fan[node]; s < own->net->fan[node + 1]; s++)
      if (own->net->spokes[s] != e)
        other = own->net->spokes[s];
    if (other == HF_NET_MOUTH)
      return;
    e = other;
    edge = &g_array_index(own->net->axis->edges, HfAxisEdge, e);
    forward = edge->node_a == node;
    where = forward ? 0 : edge->n - 1;
  }
}

/* Takes @by mm off the end of a chain. */
static void
trim_end(GArray *points, double by)
{
  while (points->len > 1 && by > 0) {
    HfAxisPoint *last = &g_array_index(points, HfAxisPoint, points->len - 1);
    HfAxisPoint before = g_array_index(points, HfAxisPoint, points->len - 2);
    double step = hf_point_distance(before.at, last->at);
    if (step > by) {
      last->radius += (before.radius - last->radius) * by / step;
      last->at = hf_point_mix(last->at, before.at, by / step);
      return;
    }
    by -= step;
    g_array_set_size(points, points->len - 1);
  }
}

static void
turn_round(GArray *points)
{
  for (guint a = 0, b = points->len; a + 1 < b; a++) {
    b--;
    HfAxisPoint keep = g_array_index(points, HfAxisPoint, a);
    g_array_index(points, HfAxisPoint, a) = g_array_index(points, HfAxisPoint, b);
    g_array_index(points, HfAxisPoint, b) = keep;
  }
}

/* A dead end: a tip keeps its last stretch, a blunt end is not made longer. */
static void
settle_dead_end(const Thicken *own, GArray *points)
{
  double r = g_array_index(points, HfAxisPoint, points->len - 1).radius;
  gboolean tip = r < 0.15 * own->limit;
  trim_end(points, tip ? fmax(TIP * own->limit, own->radius) : fmax(0, own->radius - r));
}

/* ---- drawing --------------------------------------------------------------------------------- */

static void
add_capsule(HfOutline *outline, HfPoint a, HfPoint b, double r)
{
  double length = hf_point_distance(a, b);
  if (length < 0.001) {
    hf_outline_add_circle(outline, a, r);
    return;
  }
  HfPoint n = hf_point_scale(hf_point_sub(b, a), r / length);
  HfPoint right = {n.y, -n.x};
  HfPoint start = hf_point_add(a, right), left_b = hf_point_sub(b, right);
  hf_outline_begin(outline, start);
  hf_outline_line_to(outline, hf_point_add(b, right));
  hf_outline_arc_to(outline, b, G_PI, left_b);
  hf_outline_line_to(outline, hf_point_sub(a, right));
  hf_outline_arc_to(outline, a, G_PI, start);
  hf_outline_close(outline);
}

/* Straight pieces within STRAIGHT of the axis (Douglas and Peucker's way). */
static void
draw_between(const Thicken *own, const GArray *points, guint a, guint b)
{
  HfPoint p = g_array_index(points, HfAxisPoint, a).at,
          q = g_array_index(points, HfAxisPoint, b).at;
  double most = STRAIGHT;
  guint at = 0;
  for (guint i = a + 1; i < b; i++) {
    HfPoint x = g_array_index(points, HfAxisPoint, i).at;
    double away = hf_point_distance(x, hf_segment_nearest(p, q, x, NULL));
    if (away > most) {
      most = away;
      at = i;
    }
  }
  if (at == 0) {
    add_capsule(own->outline, p, q, own->radius);
    return;
  }
  draw_between(own, points, a, at);
  draw_between(own, points, at, b);
}

static void
draw_chain(Thicken *own, guint first, int from, gboolean *used)
{
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfAxisPoint));
  guint here = first, start = piece_of(own, first)->end[from], end;
  int entered = from;
  for (;;) {
    used[here] = TRUE;
    points_of(own, piece_of(own, here), entered == 1, points);
    end = piece_of(own, here)->end[1 - entered];
    guint next;
    if (!next_piece(own, used, end, &next))
      break;
    entered = piece_of(own, next)->end[0] == end ? 0 : 1;
    here = next;
  }
  if (end == HF_NET_MOUTH)
    go_on(own, piece_of(own, here), entered == 0, points);
  else if (degree_of(own, end) == 1)
    settle_dead_end(own, points);
  turn_round(points);
  if (start == HF_NET_MOUTH)
    go_on(own, piece_of(own, first), from == 1, points);
  else if (degree_of(own, start) == 1)
    settle_dead_end(own, points);
  if (points->len == 1)
    return; /* all of it a tip */
  draw_between(own, points, 0, points->len - 1);
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

void
hf_mend_thicken(HfMendView *view, HfLawKind kind, HfPoint at, double limit)
{
  const HfMendNet *net = hf_mend_metal_net(view);
  Thicken own = {.net = net, .limit = limit, .radius = WIDER * limit / 2};
  g_autoptr(GArray) pieces = hf_mend_net_zone(net, at, (limit - SLACK) / 2, limit);
  g_autoptr(GHashTable) degree = g_hash_table_new(NULL, NULL);
  own.pieces = pieces;
  own.degree = degree;
  own.outline = hf_outline_new();
  prune(&own);
  draw_chains(&own);
  g_free(own.gone);
  if (pieces->len == 0) {
    hf_outline_free(own.outline);
    return;
  }
  if (hf_outline_n_contours(own.outline) == 0)
    hf_outline_add_circle(own.outline, at, own.radius);
  const HfAxisEdge *edge =
      &g_array_index(net->axis->edges, HfAxisEdge, g_array_index(pieces, HfNetPiece, 0).edge);
  hf_mend_add(view, kind, at, own.outline, FALSE, "the mended web of %s", edge->site_a,
              edge->site_b);
}
