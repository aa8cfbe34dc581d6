/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-exact.c - the best choice of a small net: branch and bound.
 *
 *   node: ties that are in, ties still open (the others are out), as bits of one word
 *
 *              {in}{open}            a node's bound is what no choice that has all of `in` and
 *        tie in /      \ tie out     else only of `open` can be better than; nodes that can't
 *         {..}{..}    {..}{..}       better the best are not looked into
 *
 * The bound of a node, first to last: parts out of reach even with all of `open`; wants that each
 * part must leave unmet, and parts that even so hang on one tie; cost: what is in, and the larger
 * of the cheapest completion part by part (ties between loose parts half to each) and the cheapest
 * spanning tree over what is in; and the twins' places that must differ.
 */
#include "tie/choice-net-private.h"
#include <string.h>

enum { ROUND = 256, NODE_WORK = 4 }; /* nodes between two looks at the flag; units of work */

typedef guint64 Set; /* of ties */
#define BIT(i)     ((Set)1 << (i))
#define FIRST(set) ((guint)__builtin_ctzll(set))
#define SIZE(set)  ((guint)__builtin_popcountll(set))

/* The twins that may have a tie at one place: seats[first..first+n). */
typedef struct {
  guint first, n, size;
  gboolean stray; /* no place: each tie differs */
} Row;

typedef struct {
  const HfNet *net;
  Set at[HF_EXACT_PARTS + 1];
  Set foe[HF_EXACT_TIES];
  Set far[2][HF_EXACT_TIES];    /* at this end: ties far enough apart for the part's spread */
  Set mirror[2][HF_EXACT_TIES]; /* at this end: ties at the mirror image; all: none is wanted */
  gint64 opposed[2][HF_EXACT_TIES][HF_EXACT_TIES];
  gint64
      share[HF_EXACT_TIES]; /* half grains that one part bears: all, or half of a tie between two */
  guint *by_share,
      n_by_share[HF_EXACT_PARTS + 2]; /* per part: its ties, the cheapest share first */
  GArray *rows;                       /* Row */
  GArray *seats;                      /* Set */
  gboolean both;                      /* some part of several has to be held both ways */
  HfChoiceKey best;
  Set best_in;
  guint64 nodes, budget;
  const HfCancel *cancel;
  gboolean stopped;
} Exact;

/* Of one part: the least it must lack and, lacking no more, the least it must pay. */
typedef struct {
  guint lacks;
  gint64 cost; /* half grains */
  Set add;     /* the open ties that would do */
} Least;

static guint
side_at(const Exact *exact, guint tie, guint part)
{
  return hf_net_side(exact->net, tie, part);
}

static guint
lacks_of(const Exact *exact, guint part, Set on)
{
  const HfNeed *need = &exact->net->needs[part];
  guint lacks = need->ties - MIN(SIZE(on), need->ties);
  if (need->ties < 2 || need->spread <= 0)
    return lacks;
  for (Set left = on; left != 0; left &= left - 1)
    if ((exact->far[side_at(exact, FIRST(left), part)][FIRST(left)] & on) != 0)
      return lacks;
  return lacks + 1;
}

static gint64
terms_of(const Exact *exact, guint part, Set on)
{
  const HfNet *net = exact->net;
  const HfNeed *need = &net->needs[part];
  gint64 terms = need->direct && (on & exact->at[0]) == 0 ? (gint64)net->weights.through : 0;
  gint64 least = G_MAXINT64;
  for (Set left = on; left != 0; left &= left - 1) {
    guint tie = FIRST(left), side = side_at(exact, tie, part);
    if ((exact->mirror[side][tie] & on) == 0)
      terms += (gint64)net->weights.odd;
    if (need->opposed)
      for (Set rest = left & (left - 1); rest != 0; rest &= rest - 1)
        least = MIN(least, exact->opposed[side][tie][FIRST(rest)]);
  }
  return least < G_MAXINT64 ? terms + least : terms;
}

static void
better_least(const Exact *exact, Least *least, guint part, Set in, Set add, gint64 cost)
{
  guint lacks = lacks_of(exact, part, in | add);
  if (lacks > least->lacks)
    return;
  cost += 2 * terms_of(exact, part, in | add);
  if (lacks < least->lacks || cost < least->cost)
    *least = (Least){lacks, cost, add};
}

/* Three ties or more are missing: count alone, no terms. */
static Least
least_of_many(const Exact *exact, guint part, Set in, Set open, const guint *order, guint n)
{
  const HfNeed *need = &exact->net->needs[part];
  Set all = in | open;
  Least least = {need->ties - MIN(need->ties, SIZE(all)), 0, 0};
  gboolean far = need->spread <= 0;
  for (Set left = all; left != 0 && !far; left &= left - 1)
    far = (exact->far[side_at(exact, FIRST(left), part)][FIRST(left)] & all) != 0;
  least.lacks += !far;
  guint missing = need->ties - SIZE(in);
  for (guint i = 0; i < n && SIZE(least.add) < missing; i++)
    if ((open & BIT(order[i])) != 0) {
      least.add |= BIT(order[i]);
      least.cost += exact->share[order[i]];
    }
  return least;
}

/* With none, one or two more ties all there is to pay is reckoned exactly; with more, the cheapest
 * ties alone are a bound. A set that lacks nothing still does so with any third left out. */
static Least
least_of(const Exact *exact, guint part, Set in, Set open)
{
  guint n = exact->n_by_share[part + 1] - exact->n_by_share[part];
  const guint *order = exact->by_share + exact->n_by_share[part];
  if (open != 0 && SIZE(in) + 2 < exact->net->needs[part].ties)
    return least_of_many(exact, part, in, open, order, n);
  Least least = {G_MAXUINT, 0, 0};
  better_least(exact, &least, part, in, 0, 0);
  gboolean whole = least.lacks == 0;
  gint64 sum = 0;
  guint got = 0, most = whole ? 1 : 3;
  for (guint i = 0; i < n; i++) {
    guint a = order[i];
    if ((open & BIT(a)) == 0)
      continue;
    if (got < most)
      sum += exact->share[a], got++;
    if (whole || (least.lacks == 0 && exact->share[a] >= least.cost))
      break;
    better_least(exact, &least, part, in, BIT(a), exact->share[a]);
    for (guint j = i + 1; j < n; j++) {
      guint b = order[j];
      gint64 cost = exact->share[a] + exact->share[b];
      if ((open & BIT(b)) == 0 || (exact->foe[a] & BIT(b)) != 0)
        continue;
      if (least.lacks == 0 && cost >= least.cost)
        break;
      better_least(exact, &least, part, in, BIT(a) | BIT(b), cost);
    }
  }
  if (got == most && sum < least.cost)
    least.cost = sum;
  return least;
}

/* Nodes that `all` joins to the body, the body included. */
static Set
reached_by(const Exact *exact, Set all)
{
  Set reached = 1, fresh = 1, left = all;
  while (fresh != 0) {
    guint part = FIRST(fresh);
    fresh &= fresh - 1;
    for (Set ties = exact->at[part] & left; ties != 0; ties &= ties - 1) {
      guint other = hf_net_other(exact->net, FIRST(ties), part);
      fresh |= BIT(other) & ~reached;
      reached |= BIT(other);
    }
    left &= ~exact->at[part];
  }
  return reached;
}

/* Walk as in hf_net_bridges(). */
typedef struct {
  const Exact *exact;
  Set all, both;
  guint seen[HF_EXACT_PARTS + 1], low[HF_EXACT_PARTS + 1], by[HF_EXACT_PARTS + 1];
  guint order[HF_EXACT_PARTS + 1], count;
} Walk;

static void
walk(Walk *w, guint part, guint by)
{
  w->order[w->count++] = part;
  w->seen[part] = w->low[part] = w->count;
  for (Set ties = w->exact->at[part] & w->all; ties != 0; ties &= ties - 1) {
    guint tie = FIRST(ties), other = hf_net_other(w->exact->net, tie, part);
    if (tie == by)
      continue;
    if (w->seen[other] == 0) {
      w->by[other] = part;
      walk(w, other, tie);
      w->low[part] = MIN(w->low[part], w->low[other]);
    } else {
      w->low[part] = MIN(w->low[part], w->seen[other]);
    }
  }
}

static Set
held_both_ways(const Exact *exact, Set all)
{
  Walk w = {exact, all, 1};
  walk(&w, 0, G_MAXUINT);
  for (guint i = 1; i < w.count; i++) {
    guint part = w.order[i];
    if ((w.both & BIT(w.by[part])) != 0 && w.low[part] < w.seen[part])
      w.both |= BIT(part);
  }
  return w.both;
}

static guint
root(guint8 *up, guint p)
{
  while (up[p] != p)
    p = up[p] = up[up[p]];
  return p;
}

/* The cheapest open ties that join what is in to one (they are in order of cost). */
static gint64
spanning(const Exact *exact, Set in, Set open, Set *ret_used)
{
  guint8 up[HF_EXACT_PARTS + 1];
  gint64 sum = 0;
  *ret_used = 0;
  for (guint p = 0; p <= exact->net->n; p++)
    up[p] = (guint8)p;
  for (guint pass = 0; pass < 2; pass++)
    for (Set left = pass == 0 ? in : open; left != 0; left &= left - 1) {
      const HfNetTie *tie = &exact->net->ties[FIRST(left)];
      guint a = root(up, tie->part[0]), b = root(up, tie->part[1]);
      if (a == b)
        continue;
      up[a] = (guint8)b;
      sum += pass * tie->cost;
      *ret_used |= pass == 1 ? BIT(FIRST(left)) : 0;
    }
  return sum;
}

/* min(k, m - k) is concave: least at an end of what k can still be. */
static gint64
twins_bound(const Exact *exact, Set in, Set open)
{
  guint sum = 0;
  for (guint r = 0; r < exact->rows->len; r++) {
    const Row *row = &g_array_index(exact->rows, Row, r);
    guint least = 0, most = 0;
    for (guint i = 0; i < row->n; i++) {
      Set seat = g_array_index(exact->seats, Set, row->first + i);
      if (row->stray)
        sum += SIZE(seat & in) * hf_net_differing(1, row->size);
      least += (seat & in) != 0;
      most += (seat & (in | open)) != 0;
    }
    if (!row->stray)
      sum += MIN(hf_net_differing(least, row->size), hf_net_differing(most, row->size));
  }
  return sum * (gint64)exact->net->weights.alike;
}

/* The bound of a node; with nothing open the key itself. @ret_branch: open ties to decide next. */
static HfChoiceKey
bound(const Exact *exact, Set in, Set open, Set *ret_branch)
{
  HfChoiceKey key = {0, 0, 0};
  guint n = exact->net->n;
  Set all = in | open, reached = reached_by(exact, all), used;
  for (Set away = ~reached & (BIT(n) | (BIT(n) - 1)); away != 0; away &= away - 1)
    open &= ~exact->at[FIRST(away)]; /* between parts that nothing holds */
  key.unheld = n + 1 - SIZE(reached);
  Set both = exact->both ? held_both_ways(exact, all) : 0;
  gint64 halves = 0, worst = -1;
  *ret_branch = 0;
  for (guint p = 1; p <= n; p++) {
    if ((reached & BIT(p)) == 0 && (in & exact->at[p]) != 0)
      return (HfChoiceKey){G_MAXUINT, 0, 0};
    if ((reached & BIT(p)) == 0)
      continue;
    Least least = least_of(exact, p, in & exact->at[p], open & exact->at[p]);
    key.lacks += least.lacks;
    if (exact->net->needs[p].ties > 1)
      key.lacks += exact->both ? (both & BIT(p)) == 0 : SIZE(all & exact->at[p]) < 2;
    halves += least.cost;
    if (least.add != 0 && least.cost > worst) {
      worst = least.cost;
      *ret_branch = least.add;
    }
  }
  gint64 tree = spanning(exact, in, open, &used);
  for (Set left = in; left != 0; left &= left - 1)
    key.cost += exact->net->ties[FIRST(left)].cost;
  key.cost += MAX((halves + 1) / 2, tree) + twins_bound(exact, in, open);
  if (*ret_branch == 0)
    *ret_branch = used != 0 ? used : open;
  return key;
}

static void
search(Exact *exact, Set in, Set open, gboolean added)
{
  Set branch, none;
  exact->nodes++;
  if (exact->nodes > exact->budget)
    exact->stopped = TRUE;
  if (exact->nodes % ROUND == 0) {
    hf_cancel_count(exact->cancel, ROUND * NODE_WORK);
    exact->stopped = exact->stopped || !hf_cancel_check(exact->cancel, NULL);
  }
  if (exact->stopped || !hf_choice_key_less(bound(exact, in, open, &branch), exact->best))
    return;
  if (added) {
    HfChoiceKey key = bound(exact, in, 0, &none);
    if (hf_choice_key_less(key, exact->best)) {
      exact->best = key;
      exact->best_in = in;
    }
  }
  if (branch == 0)
    return;
  guint tie = FIRST(branch);
  search(exact, in | BIT(tie), open & ~(BIT(tie) | exact->foe[tie]), TRUE);
  search(exact, in, open & ~BIT(tie), FALSE);
}

static void
fill_ends(Exact *exact, guint tie, guint side)
{
  const HfNet *net = exact->net;
  guint part = net->ties[tie].part[side], mirror = net->ties[tie].mirror[side];
  if (part == 0)
    return;
  exact->mirror[side][tie] = mirror == 0 ? ~(Set)0 : 0;
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++) {
    guint other = net->at[i];
    if (mirror != 0 && net->ties[other].place[hf_net_side(net, other, part)] == mirror)
      exact->mirror[side][tie] |= BIT(other);
    if (other == tie)
      continue;
    if (hf_net_apart(net, part, tie, other) >= net->needs[part].spread - 1e-9)
      exact->far[side][tie] |= BIT(other);
    exact->opposed[side][tie][other] = hf_net_opposed(net, part, tie, other);
  }
}

static void
fill_shares(Exact *exact)
{
  const HfNet *net = exact->net;
  exact->by_share = g_new(guint, 2 * net->n_ties + 1);
  guint n = 0;
  for (guint p = 1; p <= net->n; p++) {
    exact->n_by_share[p] = n;
    for (guint i = net->at_start[p]; i < net->at_start[p + 1]; i++) {
      guint tie = net->at[i], k = n++;
      for (; k > exact->n_by_share[p] && exact->share[exact->by_share[k - 1]] > exact->share[tie];
           k--)
        exact->by_share[k] = exact->by_share[k - 1];
      exact->by_share[k] = tie;
    }
  }
  exact->n_by_share[net->n + 1] = n;
}

static Set
seat_of(const Exact *exact, guint part, guint place)
{
  Set seat = 0;
  for (Set left = exact->at[part]; left != 0; left &= left - 1)
    if (exact->net->ties[FIRST(left)].place[side_at(exact, FIRST(left), part)] == place)
      seat |= BIT(FIRST(left));
  return seat;
}

static void
add_row(Exact *exact, guint class, guint place, guint size)
{
  const HfNet *net = exact->net;
  Row row = {exact->seats->len, 0, size, place == 0};
  for (guint p = 1; p <= net->n; p++) {
    Set seat = net->needs[p].twins == class ? seat_of(exact, p, place) : 0;
    if (seat != 0)
      g_array_append_val(exact->seats, seat);
  }
  row.n = exact->seats->len - row.first;
  g_array_append_val(exact->rows, row);
}

static void
fill_twins(Exact *exact)
{
  const HfNet *net = exact->net;
  g_autoptr(GHashTable) known = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint p = 1; p <= net->n && net->weights.alike > 0; p++)
    for (guint i = net->at_start[p]; net->needs[p].twins != 0 && i < net->at_start[p + 1]; i++) {
      guint place = net->ties[net->at[i]].place[hf_net_side(net, net->at[i], p)];
      guint64 key = (guint64)net->needs[p].twins << 32 | place;
      if (g_hash_table_add(known, g_memdup2(&key, sizeof key)))
        add_row(exact, net->needs[p].twins, place, net->class_sizes[p]);
    }
}

static void
fill(Exact *exact)
{
  const HfNet *net = exact->net;
  for (guint t = 0; t < net->n_ties; t++) {
    const HfNetTie *tie = &net->ties[t];
    exact->share[t] = tie->part[0] == 0 ? 2 * tie->cost : tie->cost;
    for (guint f = net->foe_start[t]; f < net->foe_start[t + 1]; f++)
      exact->foe[t] |= BIT(net->foe[f]);
    for (guint side = 0; side < 2; side++)
      exact->at[tie->part[side]] |= BIT(t);
  }
  for (guint t = 0; t < net->n_ties; t++)
    for (guint side = 0; side < 2; side++)
      fill_ends(exact, t, side);
  for (guint p = 1; p <= net->n; p++)
    exact->both = exact->both || (net->n > 1 && net->needs[p].ties > 1);
  fill_shares(exact);
  fill_twins(exact);
}

gboolean
hf_net_exact(const HfNet *net, gboolean *in, guint64 *nodes, const HfCancel *cancel)
{
  g_assert(net->n <= HF_EXACT_PARTS && net->n_ties <= HF_EXACT_TIES);
  g_autofree Exact *exact = g_new0(Exact, 1);
  exact->net = net;
  exact->budget = nodes != NULL ? *nodes : G_MAXUINT64;
  exact->cancel = cancel;
  exact->rows = g_array_new(FALSE, FALSE, sizeof(Row));
  exact->seats = g_array_new(FALSE, FALSE, sizeof(Set));
  fill(exact);
  for (guint t = 0; t < net->n_ties; t++)
    exact->best_in |= in[t] ? BIT(t) : 0;
  exact->best = hf_net_key(net, in);
  Set open = net->n_ties == 64 ? ~(Set)0 : BIT(net->n_ties) - 1;
  search(exact, 0, open, TRUE);
  for (guint t = 0; t < net->n_ties; t++)
    in[t] = (exact->best_in & BIT(t)) != 0;
  if (nodes != NULL)
    *nodes -= MIN(*nodes, exact->nodes);
  g_free(exact->by_share);
  g_array_unref(exact->rows);
  g_array_unref(exact->seats);
  return !exact->stopped;
}
