/* SPDX-License-Identifier: GPL-3.0-or-later
 * join.c - loose lines to closed outlines.
 *
 *   nodes    ends that lie in one place (a 500th of the tolerance, 0.1 um); then, the nearest
 * first, two nodes within the tolerance at each of which an odd number of lines ends doubles  lines
 * between the same nodes along the same way: one stays. Where that leaves a fork at either end,
 * both stay: two outlines that share a side were taken apart there pairs    at each node the
 * straightest two, those on a way round before loose tails chains   from pair to pair: a loop, or
 * open at both ends
 *
 * Invariant: an end has at most one partner, and its partner has it. By parity: where only even
 * numbers of lines end, all become loops, and what they go round by the even-odd rule is the same
 * for every choice of pairs.
 */
#include "drawing/join-private.h"
#include "drawing/run-ends-private.h"

#define SAME      500 /* ends are in one place: so much nearer than the tolerance */
#define NOBODY    G_MAXUINT
#define MOST_NEAR 256 /* ends in one place that are looked at */

typedef struct {
  const HfStrand *strand;
  guint node[2];
  gboolean dropped, loose; /* a double; not on any way round */
} Edge;

typedef struct {
  GArray *edges;  /* Edge */
  HfPoint *end;   /* of edge i: 2 i its start, 2 i + 1 its end */
  guint *partner; /* of each end */
  guint *node;    /* of each end, then of each node: union by the least */
  guint *degree;  /* of each node */
  double same;    /* ends that are as near are in one place */
  HfJoined *joined;
} Net;

static Edge *
edge_of(const Net *net, guint end)
{
  return &g_array_index(net->edges, Edge, end / 2);
}

/* ---- nodes ----------------------------------------------------------------------------------- */

static guint
root(guint *node, guint i)
{
  while (node[i] != i)
    i = node[i] = node[node[i]];
  return i;
}

static void
unite(guint *node, guint a, guint b)
{
  a = root(node, a);
  b = root(node, b);
  node[MAX(a, b)] = MIN(a, b);
}

static void
find_nodes(Net *net)
{
  guint n = net->edges->len * 2;
  g_autoptr(HfSpots) spots = hf_spots_new(net->end, n, net->same);
  g_autoptr(GArray) near = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < n; i++)
    net->node[i] = i;
  for (guint i = 0; i < n; i++) {
    g_array_set_size(near, 0);
    hf_spots_near(spots, net->end[i], MOST_NEAR, near);
    for (guint j = 0; j < near->len; j++)
      unite(net->node, i, g_array_index(near, guint, j));
  }
}

static void
count_degrees(Net *net)
{
  guint n = net->edges->len * 2;
  for (guint i = 0; i < n; i++)
    net->degree[i] = 0;
  for (guint i = 0; i < n; i++)
    if (!edge_of(net, i)->dropped)
      net->degree[root(net->node, i)]++;
}

/* ---- gaps ------------------------------------------------------------------------------------ */

typedef struct {
  guint a, b;
  double size;
} Gap;

static int
by_size(gconstpointer a, gconstpointer b)
{
  const Gap *g = (const Gap *)a, *h = (const Gap *)b;
  if (g->size != h->size)
    return g->size < h->size ? -1 : 1;
  return g->a != h->a ? (g->a > h->a) - (g->a < h->a) : (g->b > h->b) - (g->b < h->b);
}

static double
length_of(const GArray *curves)
{
  double sum = 0;
  for (guint i = 0; i < curves->len; i++) {
    const HfCurve *c = &g_array_index(curves, HfCurve, i);
    HfPoint middle = hf_curve_point(c, 0.5);
    sum += hf_point_distance(c->p0, middle) + hf_point_distance(middle, c->p1);
  }
  return sum;
}

/* A line not much longer than the gap is no way round: its own two ends do not meet. */
static gboolean
may_meet(const Net *net, guint a, guint b, double tolerance)
{
  return a / 2 != b / 2 || length_of(edge_of(net, a)->strand->curves) > 4 * tolerance;
}

static void
close_gaps(Net *net, double tolerance)
{
  guint n = net->edges->len * 2;
  g_autoptr(HfSpots) spots = hf_spots_new(net->end, n, tolerance);
  g_autoptr(GArray) near = g_array_new(FALSE, FALSE, sizeof(guint));
  g_autoptr(GArray) gaps = g_array_new(FALSE, FALSE, sizeof(Gap));
  for (guint i = 0; i < n; i++) {
    if (edge_of(net, i)->dropped || net->degree[root(net->node, i)] % 2 == 0)
      continue;
    g_array_set_size(near, 0);
    hf_spots_near(spots, net->end[i], MOST_NEAR, near);
    for (guint j = 0; j < near->len; j++) {
      Gap gap = {i, g_array_index(near, guint, j), 0};
      gap.size = hf_point_distance(net->end[gap.a], net->end[gap.b]);
      if (gap.b > i && !edge_of(net, gap.b)->dropped && may_meet(net, gap.a, gap.b, tolerance))
        g_array_append_val(gaps, gap);
    }
  }
  g_array_sort(gaps, by_size);
  for (guint i = 0; i < gaps->len; i++) {
    const Gap *gap = &g_array_index(gaps, Gap, i);
    guint a = root(net->node, gap->a), b = root(net->node, gap->b);
    if (a == b || net->degree[a] % 2 == 0 || net->degree[b] % 2 == 0)
      continue;
    unite(net->node, a, b);
    net->degree[root(net->node, a)] = net->degree[a] + net->degree[b];
    hf_join_remark(net->joined, HF_JOIN_GAP, hf_point_mix(net->end[gap->a], net->end[gap->b], 0.5),
                   gap->size, edge_of(net, gap->a)->strand->source);
  }
}

/* ---- doubles --------------------------------------------------------------------------------- */

typedef struct {
  guint low, high, edge;
} Between;

static int
by_nodes(gconstpointer a, gconstpointer b)
{
  const Between *s = (const Between *)a, *t = (const Between *)b;
  if (s->low != t->low)
    return s->low < t->low ? -1 : 1;
  if (s->high != t->high)
    return s->high < t->high ? -1 : 1;
  return (s->edge > t->edge) - (s->edge < t->edge);
}

static GArray *
edges_by_nodes(Net *net)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(Between));
  for (guint i = 0; i < net->edges->len; i++) {
    guint a = root(net->node, 2 * i), b = root(net->node, 2 * i + 1);
    Between between = {MIN(a, b), MAX(a, b), i};
    g_array_append_val(all, between);
  }
  g_array_sort(all, by_nodes);
  return all;
}

static gboolean
is_drawn_again(const Net *net, const GArray *all, guint i)
{
  const Between *this = &g_array_index(all, Between, i);
  const Edge *edge = &g_array_index(net->edges, Edge, this->edge);
  for (guint j = i; j > 0 && i - j < MOST_NEAR; j--) {
    const Between *other = &g_array_index(all, Between, j - 1);
    const Edge *kept = &g_array_index(net->edges, Edge, other->edge);
    if (other->low != this->low || other->high != this->high)
      break;
    if (!kept->dropped && hf_runs_alike(edge->strand->curves, kept->strand->curves, net->same))
      return TRUE;
  }
  return FALSE;
}

/* Dropping made an odd number of an even one, @before: a side of another outline went. */
static gboolean
forks(const Net *net, const guint *before, guint node)
{
  return net->degree[node] >= 3 && net->degree[node] % 2 == 1 && before[node] % 2 == 0;
}

/* Dropped edges from the fork @node on, one after the other, up to another fork; they are all put
 * back then. Each edge is walked once. */
static void
put_back_from(Net *net, const guint *before, guint node, GPtrArray *const *at, gboolean *walked)
{
  g_autoptr(GArray) way = g_array_new(FALSE, FALSE, sizeof(guint));
  guint here = node;
  for (gboolean found = TRUE; found && (way->len == 0 || !forks(net, before, here));) {
    found = FALSE;
    for (guint i = 0; at[here] != NULL && i < at[here]->len && !found; i++) {
      guint edge = GPOINTER_TO_UINT(at[here]->pdata[i]);
      if (walked[edge])
        continue;
      walked[edge] = found = TRUE;
      g_array_append_val(way, edge);
      guint a = root(net->node, 2 * edge), b = root(net->node, 2 * edge + 1);
      here = a == here ? b : a;
    }
  }
  if (way->len == 0 || here == node || !forks(net, before, here))
    return;
  for (guint i = 0; i < way->len; i++) {
    guint edge = g_array_index(way, guint, i);
    g_array_index(net->edges, Edge, edge).dropped = FALSE;
    net->degree[root(net->node, 2 * edge)]++;
    net->degree[root(net->node, 2 * edge + 1)]++;
  }
}

static void
unref_lists(GPtrArray **at, guint n)
{
  for (guint i = 0; i < n; i++)
    g_clear_pointer(&at[i], g_ptr_array_unref);
  g_free(at);
}

static void
put_back_shared_sides(Net *net, const guint *before)
{
  guint n = net->edges->len;
  GPtrArray **at = g_new0(GPtrArray *, 2 * n + 1);
  g_autofree gboolean *walked = g_new0(gboolean, n + 1);
  for (guint i = 0; i < 2 * n; i++) {
    guint node = root(net->node, i);
    if (!edge_of(net, i)->dropped)
      continue;
    if (at[node] == NULL)
      at[node] = g_ptr_array_new();
    g_ptr_array_add(at[node], GUINT_TO_POINTER(i / 2));
  }
  for (guint i = 0; i < 2 * n; i++)
    if (at[i] != NULL && forks(net, before, i))
      put_back_from(net, before, i, at, walked);
  unref_lists(at, 2 * n);
}

static void
drop_doubles(Net *net)
{
  g_autoptr(GArray) all = edges_by_nodes(net);
  count_degrees(net);
  g_autofree guint *before = g_memdup2(net->degree, (2 * net->edges->len + 1) * sizeof *before);
  for (guint i = 0; i < all->len; i++) {
    Edge *edge = &g_array_index(net->edges, Edge, g_array_index(all, Between, i).edge);
    edge->dropped = is_drawn_again(net, all, i);
  }
  count_degrees(net);
  put_back_shared_sides(net, before);
  for (guint i = 0; i < net->edges->len; i++) {
    const Edge *edge = &g_array_index(net->edges, Edge, i);
    if (edge->dropped)
      hf_join_remark(net->joined, HF_JOIN_DOUBLE, net->end[2 * i], 0, edge->strand->source);
  }
}

/* ---- pairs ----------------------------------------------------------------------------------- */

/* Tails: from each node where one edge ends, that edge, then the next, up to where more go on. */
static void
find_tails(Net *net, GPtrArray *const *ends_at)
{
  guint n = net->edges->len * 2;
  g_autofree guint *degree = g_memdup2(net->degree, (n + 1) * sizeof *degree);
  for (guint i = 0; i < n; i++) {
    guint here = root(net->node, i);
    while (degree[here] == 1) {
      guint next = NOBODY;
      for (guint j = 0; j < ends_at[here]->len && next == NOBODY; j++) {
        guint end = GPOINTER_TO_UINT(ends_at[here]->pdata[j]);
        if (!edge_of(net, end)->loose)
          next = end;
      }
      g_assert(next != NOBODY);
      edge_of(net, next)->loose = TRUE;
      degree[here]--;
      here = root(net->node, next ^ 1);
      degree[here]--;
    }
  }
}

/* Away from the end along its edge. */
static HfPoint
leaves(const Net *net, guint end)
{
  const GArray *curves = edge_of(net, end)->strand->curves;
  return end % 2 == 0 ? hf_run_heading(curves, TRUE) : hf_run_heading(curves, FALSE);
}

typedef struct {
  guint a, b;
  double bend; /* 0: straight on, 2: back */
} Pair;

static int
by_bend(gconstpointer a, gconstpointer b)
{
  const Pair *p = (const Pair *)a, *q = (const Pair *)b;
  if (p->bend != q->bend)
    return p->bend < q->bend ? -1 : 1;
  return p->a != q->a ? (p->a > q->a) - (p->a < q->a) : (p->b > q->b) - (p->b < q->b);
}

/* A crowd of them is hardly a drawing: each with the next. */
static void
pair_in_order(Net *net, const GArray *ends)
{
  for (guint i = 0; i + 1 < ends->len; i += 2) {
    guint a = g_array_index(ends, guint, i), b = g_array_index(ends, guint, i + 1);
    net->partner[a] = b;
    net->partner[b] = a;
  }
}

static void
pair_straightest(Net *net, const GArray *ends)
{
  if (ends->len > MOST_NEAR) {
    pair_in_order(net, ends);
    return;
  }
  g_autoptr(GArray) pairs = g_array_new(FALSE, FALSE, sizeof(Pair));
  for (guint i = 0; i < ends->len; i++)
    for (guint j = i + 1; j < ends->len; j++) {
      Pair pair = {g_array_index(ends, guint, i), g_array_index(ends, guint, j), 0};
      pair.bend = 1 + hf_point_dot(leaves(net, pair.a), leaves(net, pair.b));
      g_array_append_val(pairs, pair);
    }
  g_array_sort(pairs, by_bend);
  for (guint i = 0; i < pairs->len; i++) {
    const Pair *pair = &g_array_index(pairs, Pair, i);
    if (net->partner[pair->a] == NOBODY && net->partner[pair->b] == NOBODY) {
      net->partner[pair->a] = pair->b;
      net->partner[pair->b] = pair->a;
    }
  }
}

static void
pair_at(Net *net, const GPtrArray *ends)
{
  for (int loose = 0; loose < 2; loose++) {
    g_autoptr(GArray) some = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint i = 0; i < ends->len; i++) {
      guint end = GPOINTER_TO_UINT(ends->pdata[i]);
      if (edge_of(net, end)->loose == (loose == 1))
        g_array_append_val(some, end);
    }
    pair_straightest(net, some);
  }
  for (guint i = 0; i < ends->len; i++) {
    guint end = GPOINTER_TO_UINT(ends->pdata[i]);
    if (net->partner[end] == NOBODY)
      hf_join_remark(net->joined, ends->len > 1 ? HF_JOIN_BRANCH : HF_JOIN_OPEN, net->end[end], 0,
                     edge_of(net, end)->strand->source);
  }
}

static void
find_pairs(Net *net)
{
  guint n = net->edges->len * 2;
  GPtrArray **ends_at = g_new0(GPtrArray *, n + 1);
  for (guint i = 0; i < n; i++) {
    guint node = root(net->node, i);
    net->partner[i] = NOBODY;
    if (edge_of(net, i)->dropped)
      continue;
    if (ends_at[node] == NULL)
      ends_at[node] = g_ptr_array_new();
    g_ptr_array_add(ends_at[node], GUINT_TO_POINTER(i));
  }
  find_tails(net, ends_at);
  for (guint i = 0; i < n; i++)
    if (ends_at[i] != NULL)
      pair_at(net, ends_at[i]);
  unref_lists(ends_at, n);
}

/* ---- chains ---------------------------------------------------------------------------------- */

/* From the end @start on, edge by edge, until it is back there or an end has no partner. */
static void
follow(Net *net, guint start, gboolean *taken)
{
  HfChain *chain = g_new0(HfChain, 1);
  chain->curves = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  chain->source = edge_of(net, start)->strand->source;
  guint end = start;
  do {
    taken[end / 2] = TRUE;
    hf_run_append(chain->curves, edge_of(net, end)->strand->curves, end % 2 == 1);
    chain->n_strands++;
    end = net->partner[end ^ 1];
  } while (end != NOBODY && end != start);
  if (end == start)
    hf_run_close(chain->curves);
  g_ptr_array_add(end == start ? net->joined->loops : net->joined->open, chain);
}

static void
find_chains(Net *net)
{
  guint n = net->edges->len * 2;
  g_autofree gboolean *taken = g_new0(gboolean, net->edges->len + 1);
  for (guint pass = 0; pass < 2; pass++) /* those with open ends from there on, then loops */
    for (guint i = 0; i < n; i++)
      if (!taken[i / 2] && !edge_of(net, i)->dropped && (pass == 1 || net->partner[i] == NOBODY))
        follow(net, i, taken);
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void
add_closed(HfJoined *joined, const HfStrand *strand)
{
  HfChain *chain = g_new0(HfChain, 1);
  *chain = (HfChain){g_array_new(FALSE, FALSE, sizeof(HfCurve)), strand->source, 1};
  hf_run_append(chain->curves, strand->curves, FALSE);
  hf_run_close(chain->curves);
  g_ptr_array_add(joined->loops, chain);
}

static void
join_open(HfJoined *joined, GArray *edges, double tolerance)
{
  guint n = edges->len * 2;
  g_autofree HfPoint *end = g_new(HfPoint, n + 1);
  g_autofree guint *partner = g_new(guint, n + 1), *node = g_new(guint, n + 1),
                   *degree = g_new0(guint, n + 1);
  for (guint i = 0; i < edges->len; i++) {
    const GArray *curves = g_array_index(edges, Edge, i).strand->curves;
    end[2 * i] = g_array_index(curves, HfCurve, 0).p0;
    end[2 * i + 1] = g_array_index(curves, HfCurve, curves->len - 1).p1;
  }
  Net net = {edges, end, partner, node, degree, tolerance / SAME, joined};
  find_nodes(&net);
  drop_doubles(&net);
  close_gaps(&net, tolerance);
  find_pairs(&net);
  find_chains(&net);
}

HfJoined *
hf_join(const HfStrand *strands, guint n, double tolerance)
{
  HfJoined *joined = g_new0(HfJoined, 1);
  joined->loops = g_ptr_array_new_with_free_func((GDestroyNotify)hf_chain_free);
  joined->open = g_ptr_array_new_with_free_func((GDestroyNotify)hf_chain_free);
  joined->remarks = g_array_new(FALSE, FALSE, sizeof(HfJoinRemark));
  g_autoptr(GArray) edges = g_array_new(FALSE, TRUE, sizeof(Edge));
  for (guint i = 0; i < n; i++) {
    Edge edge = {.strand = &strands[i]};
    if (strands[i].closed)
      add_closed(joined, &strands[i]);
    else
      g_array_append_val(edges, edge);
  }
  join_open(joined, edges, tolerance);
  hf_join_drop_doubles(joined, tolerance);
  return joined;
}
