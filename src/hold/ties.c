/* SPDX-License-Identifier: GPL-3.0-or-later
 * ties.c - parts that one tie holds alone: far metal on it swings and bends.
 *
 *      body ====tie a==== piece ====tie b==== body        taking a away frees nothing
 *      body ====tie c==== piece                           taking c away frees the piece
 *
 * The metal without any tie falls into pieces; ties join pieces again. A tie holds alone what comes
 * free from the largest group when that tie is left out. Its reach is the farthest metal from it.
 */
#include "hold/hold-private.h"

/* A piece that a tie was cut from lies on the tie's outline, within a few grid units. */
#define TOUCHES 0.002

typedef struct {
  guint shape;
  HfRegion *outline;
  GArray *joins; /* guint: outer rings of the rest that it touches */
} Tie;

typedef struct {
  HfCheck *check;
  GArray *ties;   /* Tie */
  HfRegion *rest; /* the metal without its ties */
} Tied;

static void
tie_clear(gpointer data)
{
  Tie *tie = data;
  hf_region_free(tie->outline);
  g_array_unref(tie->joins);
}

static GArray *
ties_of(const HfCheck *check)
{
  GArray *ties = g_array_new(FALSE, FALSE, sizeof(Tie));
  g_array_set_clear_func(ties, tie_clear);
  for (guint i = 0; i < check->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(check->layout, i);
    const HfEntry *entry = hf_recipe_at(check->recipe, shape->entry);
    if (entry->kind != HF_ENTRY_TIE && entry->kind != HF_ENTRY_TIES)
      continue;
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, shape->outline, i, HF_FLATTEN_MM);
    Tie tie = {i, hf_region_clean(raw), g_array_new(FALSE, FALSE, sizeof(guint))};
    g_array_append_val(ties, tie);
  }
  return ties;
}

static HfRegion *
without_ties(const HfRegion *metal, const GArray *ties)
{
  g_autofree const HfRegion **outlines = g_new(const HfRegion *, ties->len);
  for (guint i = 0; i < ties->len; i++)
    outlines[i] = g_array_index(ties, Tie, i).outline;
  g_autoptr(HfRegion) all = hf_region_union(outlines, ties->len);
  return hf_region_subtract(metal, all);
}

static guint
root_of(const HfRegion *region, guint ring)
{
  gint parent = hf_region_ring(region, ring)->parent;
  return parent < 0 ? ring : (guint)parent;
}

static void
add_once(GArray *numbers, guint number)
{
  for (guint i = 0; i < numbers->len; i++)
    if (g_array_index(numbers, guint, i) == number)
      return;
  g_array_append_val(numbers, number);
}

/* Which pieces of the rest a tie touches. */
static void
find_joins(const Tie *tie, const HfRegion *rest, HfIndex *index, GArray *ids)
{
  for (guint r = 0; r < tie->outline->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(tie->outline, r)->n; v++) {
      HfEdgeId id = {r, v};
      HfPoint a = hf_edge_start(tie->outline, id), b = hf_edge_end(tie->outline, id);
      HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
      hf_index_query(index, hf_box_grow(box, TOUCHES), ids);
      for (guint i = 0; i < ids->len; i++) {
        HfEdgeId met = g_array_index(ids, HfEdgeId, i);
        HfPoint c = hf_edge_start(rest, met), d = hf_edge_end(rest, met);
        if (hf_segment_gap(a, b, c, d, NULL, NULL) < TOUCHES)
          add_once(tie->joins, root_of(rest, met.ring));
      }
    }
}

/* ---- what comes free without a tie ------------------------------------------------------------
 */

/* Pieces and ties as one net: nodes 0..n-1 are the rings of the rest (only outer ones have ways),
 * from n on the ties. Walked depth first, what lies behind a node has numbers without a gap; a tie
 * divides what lies behind one of its ways from the rest when nothing there leads back past it. */
typedef struct {
  const Tied *tied;
  guint n;             /* rings */
  guint *first, *ways; /* of each node: ways[first[i] .. first[i + 1]] lead to its neighbours */
  guint *number;       /* of each node in the order of the walk, from 1; 0: not yet */
  guint *node;         /* of each number */
  guint *last;         /* of each node: the highest number behind it */
  guint *low;          /* of each node: the lowest number that leads back to from behind it */
  guint *parent, *root;
  double *area; /* of each node: metal behind it, its own included */
} Net;

static void
net_clear(Net *net)
{
  g_free(net->first);
  g_free(net->ways);
  g_free(net->number);
  g_free(net->node);
  g_free(net->last);
  g_free(net->low);
  g_free(net->parent);
  g_free(net->root);
  g_free(net->area);
}

static void
add_ways(Net *net)
{
  guint all = net->n + net->tied->ties->len;
  net->first = g_new0(guint, all + 2);
  for (int pass = 0; pass < 2; pass++) {
    for (guint t = 0; t < net->tied->ties->len; t++) {
      const GArray *joins = g_array_index(net->tied->ties, Tie, t).joins;
      for (guint k = 0; k < joins->len; k++) {
        guint ends[2] = {net->n + t, g_array_index(joins, guint, k)};
        for (int e = 0; e < 2; e++)
          if (pass == 0)
            net->first[ends[e] + 2]++;
          else
            net->ways[net->first[ends[e] + 1]++] = ends[!e];
      }
    }
    if (pass == 1)
      break;
    for (guint i = 2; i < all + 2; i++)
      net->first[i] += net->first[i - 1];
    net->ways = g_new(guint, net->first[all + 1] + 1);
  }
}

static void
leave(Net *net, guint node, guint count)
{
  guint up = net->parent[node];
  net->last[node] = count;
  if (up == G_MAXUINT)
    return;
  net->low[up] = MIN(net->low[up], net->low[node]);
  net->area[up] += net->area[node];
}

/* Everything that hangs together with @root; numbers from @count + 1 on. */
static guint
walk(Net *net, guint root, guint count, guint *stack, guint *next)
{
  guint depth = 0;
  stack[depth++] = root;
  net->parent[root] = G_MAXUINT;
  while (depth > 0) {
    guint at = stack[depth - 1];
    if (net->number[at] == 0) {
      net->number[at] = net->low[at] = ++count;
      net->node[count] = at;
      net->root[at] = root;
      next[at] = net->first[at];
    }
    if (next[at] == net->first[at + 1]) {
      leave(net, at, count);
      depth--;
      continue;
    }
    guint to = net->ways[next[at]++];
    if (net->number[to] == 0) {
      net->parent[to] = at;
      stack[depth++] = to;
    } else if (to != net->parent[at])
      net->low[at] = MIN(net->low[at], net->number[to]);
  }
  return count;
}

static Net
net_new(const Tied *tied)
{
  guint n = tied->rest->rings->len, all = n + tied->ties->len;
  Net net = {.tied = tied, .n = n};
  add_ways(&net);
  net.number = g_new0(guint, all + 1);
  net.node = g_new0(guint, all + 2);
  net.last = g_new0(guint, all + 1);
  net.low = g_new0(guint, all + 1);
  net.parent = g_new0(guint, all + 1);
  net.root = g_new0(guint, all + 1);
  net.area = g_new0(double, all + 1);
  for (guint r = 0; r < n; r++)
    net.area[root_of(tied->rest, r)] += hf_ring_area(hf_region_ring(tied->rest, r));
  g_autofree guint *stack = g_new(guint, all + 1), *next = g_new(guint, all + 1);
  guint count = 0;
  for (guint r = 0; r < n; r++)
    if (net.number[r] == 0 && root_of(tied->rest, r) == r)
      count = walk(&net, r, count, stack, next);
  return net;
}

static void
reach_to(const Net *net, guint piece, const Tie *tie, double *farthest, HfPoint *ret_at)
{
  const HfRing *ring = hf_region_ring(net->tied->rest, piece);
  const HfRing *bar = hf_region_ring(tie->outline, 0);
  for (guint v = 0; v < ring->n; v++) {
    HfPoint p = hf_grid_point(ring->at[v]);
    double near = INFINITY;
    for (guint e = 0; e < bar->n && near > *farthest; e++) {
      HfPoint a = hf_grid_point(bar->at[e]), b = hf_grid_point(bar->at[(e + 1) % bar->n]);
      near = fmin(near, hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)));
    }
    if (near > *farthest) {
      *farthest = near;
      *ret_at = p;
    }
  }
}

/* The pieces numbered @from to @to hang on this tie alone. */
static double
reach_of(const Net *net, guint from, guint to, const Tie *tie, double farthest, HfPoint *ret_at)
{
  for (guint i = from; i <= to; i++)
    if (net->node[i] < net->n)
      reach_to(net, net->node[i], tie, &farthest, ret_at);
  return farthest;
}

static void
report(const Net *net, const Tie *tie, double area, double reach, HfPoint at)
{
  HfCheck *check = net->tied->check;
  HfFinding *finding = hf_check_add(check, HF_LAW_ONE_TIE, reach, at);
  if (finding == NULL)
    return;
  const HfProcess *process = &check->hold->process;
  finding->reach = reach;
  finding->area = area;
  finding->mass = area * process->thickness * process->density * 1e-9;
  hf_finding_name(check, finding, tie->shape);
}

static gboolean
divides(const Net *net, guint tie, guint way)
{
  return net->parent[way] == tie && net->low[way] >= net->number[tie];
}

/* Every group that only this tie joins to the largest. What lies on the side that the walk came
 * from is all of the component but what the tie divides off. */
static void
check_tie(const Net *net, guint t)
{
  const Tie *tie = &g_array_index(net->tied->ties, Tie, t);
  guint node = net->n + t, largest = G_MAXUINT, root = net->root[node];
  if (net->number[node] == 0)
    return;
  double behind = net->area[root], most = 0;
  guint n = 0;
  for (guint w = net->first[node]; w < net->first[node + 1]; w++) {
    guint way = net->ways[w];
    if (!divides(net, node, way))
      continue;
    n++;
    behind -= net->area[way];
    largest = net->area[way] > most ? way : largest;
    most = fmax(most, net->area[way]);
  }
  HfPoint at = {0, 0};
  for (guint w = net->first[node]; w < net->first[node + 1]; w++) {
    guint way = net->ways[w];
    if (!divides(net, node, way) || (way == largest && most > behind))
      continue;
    double reach = reach_of(net, net->number[way], net->last[way], tie, 0, &at);
    report(net, tie, net->area[way], reach, at);
  }
  if (n == 0 || behind >= most)
    return;
  /* between what it divides off */
  double reach = 0;
  guint from = net->number[root];
  for (guint w = net->first[node]; w < net->first[node + 1]; w++) {
    guint way = net->ways[w];
    if (!divides(net, node, way))
      continue;
    reach = reach_of(net, from, net->number[way] - 1, tie, reach, &at);
    from = net->last[way] + 1;
  }
  reach = reach_of(net, from, net->last[root], tie, reach, &at);
  report(net, tie, behind, reach, at);
}

static gboolean
check_ties(HfCheck *check, GError **error)
{
  g_autoptr(GArray) ties = ties_of(check);
  if (ties->len == 0)
    return TRUE;
  g_autoptr(HfRegion) rest = without_ties(check->metal->region, ties);
  g_autoptr(HfIndex) index = hf_index_new(rest, hf_check_widest(check));
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint t = 0; t < ties->len; t++)
    find_joins(&g_array_index(ties, Tie, t), rest, index, ids);
  Tied tied = {check, ties, rest};
  Net net = net_new(&tied);
  gboolean done = TRUE;
  for (guint t = 0; done && t < ties->len; t++) {
    done = hf_cancel_check(check->cancel, error);
    if (done)
      check_tie(&net, t);
  }
  net_clear(&net);
  return done;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_one_tie_law = {
    .key = "one-tie",
    .quantity = "farthest metal from the only tie of a part",
    .unit = "mm",
    .gravity = HF_CAUTION,
    .caution = {"25 mm on sheet up to 2 mm, 40 mm above"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "it swings and bends",
    .what =
        "alone it holds metal[ of {mass}] that reaches {measured} from it{worst}, {needs} {limit}",
    .fix = "give it a second tie",
    .cures = HF_CURES("ties"),
    .check = check_ties,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
