/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-bound.c - metal that no choice can do without (style off).
 *
 * Compared with choices that hold h parts and leave at most as many wants unmet.
 *
 * (a) The tree. A choice that holds h parts joins them and the body: among its ties is a tree with
 * h ties and no cycle. Of all sets of h candidates without a cycle the cheapest is found by taking
 *     the cheapest candidate that closes no cycle, h times (Kruskal; the forests of a graph are a
 *     matroid, so stopping after h gives the cheapest of that size). Areas are positive, so
 * whatever else is chosen only adds. With every part held this is the spanning tree of cheapest
 * gaps.
 *
 * (b) The needs. Let a tie to the body count whole for its part, one between two loose parts half
 *     for each: the sum over parts of what is chosen at each is the area chosen. What is chosen at
 * a part that lacks no more than it must is one of its admissible sets, so no less than the
 *     cheapest of those. A choice with more parts unheld, or more wants unmet, than the candidates
 *     part by part force on it falls short at no more than so many parts: the dearest so many are
 *     left out of the sum.
 *
 * Both are lower bounds, so is the larger. With three ties or more the cheapest admissible set is
 * itself replaced by a lower bound: the best pair far enough apart, and the cheapest others, in
 * conflict or not.
 */
#include "tie/choice-net-private.h"

typedef struct {
  const HfNet *net;
  guint part;
  guint *ties;    /* on the part, the cheapest share first */
  gint64 *shares; /* half grains */
  guint n;
} Stall;

static gint64
share(const HfNet *net, guint tie)
{
  return net->ties[tie].part[0] == 0 ? 2 * net->ties[tie].area : net->ties[tie].area;
}

static gint
stall_compare(gconstpointer p, gconstpointer q, gpointer data)
{
  gint64 a = share(data, *(const guint *)p), b = share(data, *(const guint *)q);
  return a < b ? -1 : a > b;
}

static gboolean
in_conflict(const HfNet *net, guint a, guint b)
{
  for (guint f = net->foe_start[a]; f < net->foe_start[a + 1]; f++)
    if (net->foe[f] == b)
      return TRUE;
  return FALSE;
}

/* The cheapest pair that is far enough apart, and the @more cheapest besides. -1: there is none. */
static gint64
cheapest_pair(const Stall *stall, gboolean spread, guint more)
{
  double least = spread ? stall->net->needs[stall->part].spread - 1e-9 : 0;
  gint64 best = -1;
  for (guint i = 0; i < stall->n && (best < 0 || 2 * stall->shares[i] < best); i++)
    for (guint j = i + 1; j < stall->n; j++) {
      gint64 sum = stall->shares[i] + stall->shares[j];
      for (guint k = 0, got = 0; k < stall->n && got < more; k++)
        if (k != i && k != j)
          sum += stall->shares[k], got++;
      if (best >= 0 && sum >= best)
        break;
      if (hf_net_apart(stall->net, stall->part, stall->ties[i], stall->ties[j]) >= least &&
          !in_conflict(stall->net, stall->ties[i], stall->ties[j]))
        best = sum;
    }
  return best;
}

static gint64
cheapest_sum(const Stall *stall, guint count)
{
  gint64 sum = 0;
  for (guint i = 0; i < MIN(count, stall->n); i++)
    sum += stall->shares[i];
  return sum;
}

/* The cheapest admissible set of a part that has candidates. @ret_lacks: what even it lacks. */
static gint64
cheapest_set(const Stall *stall, guint *ret_lacks)
{
  const HfNeed *need = &stall->net->needs[stall->part];
  gboolean spread = need->spread > 0;
  guint count = MIN(need->ties, stall->n);
  *ret_lacks = need->ties - count;
  if (need->ties < 2)
    return stall->shares[0];
  if (count < 2) {
    *ret_lacks += spread ? 1 : 0;
    return stall->shares[0];
  }
  gint64 sum = cheapest_pair(stall, spread, count - 2);
  if (sum >= 0)
    return sum;
  sum = spread ? cheapest_pair(stall, FALSE, count - 2) : -1;
  *ret_lacks += sum >= 0 ? (guint)spread : need->ties > 2 ? 0 : 1 + (guint)spread;
  return sum >= 0 && need->ties == 2 ? sum : cheapest_sum(stall, sum >= 0 ? count : 1);
}

static gint64
part_set(const HfNet *net, guint part, guint *ret_lacks)
{
  Stall stall = {net, part, NULL, NULL, net->at_start[part + 1] - net->at_start[part]};
  g_autofree guint *ties = g_memdup2(net->at + net->at_start[part], stall.n * sizeof *ties);
  g_autofree gint64 *shares = g_new0(gint64, stall.n + 1);
  g_qsort_with_data(ties, (gint)stall.n, sizeof *ties, stall_compare, (gpointer)net);
  for (guint i = 0; i < stall.n; i++)
    shares[i] = share(net, ties[i]);
  stall.ties = ties;
  stall.shares = shares;
  return cheapest_set(&stall, ret_lacks);
}

static gint
fall_compare(gconstpointer p, gconstpointer q)
{
  gint64 a = *(const gint64 *)p, b = *(const gint64 *)q;
  return a > b ? -1 : a < b;
}

/* (b). Each part falls short for one of @key's unheld parts or unmet wants, or not at all. */
static gint64
needs_bound(const HfNet *net, HfChoiceKey key)
{
  g_autofree gboolean *all = g_new(gboolean, net->n_ties + 1);
  g_autofree gboolean *held = g_new(gboolean, net->n + 1), *both = g_new(gboolean, net->n + 1);
  g_autofree gint64 *sets = g_new0(gint64, net->n + 1), *lacks = g_new0(gint64, net->n + 1);
  for (guint t = 0; t < net->n_ties; t++)
    all[t] = TRUE;
  hf_net_bridges(net, all, held, both);
  gint64 sum = 0, forced = 0, spare;
  for (guint p = 1; p <= net->n; p++) {
    guint lack = 0;
    sets[p] = held[p] ? part_set(net, p, &lack) : 0;
    lacks[p] = !held[p] ? 0 : lack + (net->needs[p].ties > 1 && !both[p]);
    sum += sets[p];
    forced += lacks[p];
  }
  qsort(sets + 1, net->n, sizeof *sets, fall_compare);
  qsort(lacks + 1, net->n, sizeof *lacks, fall_compare);
  spare = (gint64)key.lacks - forced + key.unheld;
  for (guint p = 1; p <= MIN(key.unheld, net->n); p++)
    spare += lacks[p];
  for (guint p = 1; p <= net->n && p <= spare; p++)
    sum -= sets[p];
  return (sum + 1) / 2;
}

static gint
area_compare(gconstpointer p, gconstpointer q, gpointer data)
{
  const HfNetTie *ties = data;
  gint64 a = ties[*(const guint *)p].area, b = ties[*(const guint *)q].area;
  return a < b ? -1 : a > b;
}

/* (a) */
static gint64
tree_bound(const HfNet *net, guint n_held)
{
  g_autofree guint *up = g_new(guint, net->n + 1), *order = g_new(guint, net->n_ties + 1);
  for (guint p = 0; p <= net->n; p++)
    up[p] = p;
  for (guint t = 0; t < net->n_ties; t++)
    order[t] = t;
  g_qsort_with_data(order, (gint)net->n_ties, sizeof *order, area_compare, net->ties);
  gint64 sum = 0;
  for (guint i = 0; i < net->n_ties && n_held > 0; i++) {
    const HfNetTie *tie = &net->ties[order[i]];
    guint a = hf_choice_root(up, tie->part[0]), b = hf_choice_root(up, tie->part[1]);
    if (a == b)
      continue;
    up[a] = b;
    sum += tie->area;
    n_held--;
  }
  return sum;
}

gint64
hf_net_bound(const HfNet *net, HfChoiceKey key)
{
  gint64 tree = tree_bound(net, net->n - key.unheld), needs = needs_bound(net, key);
  return MAX(MAX(tree, needs), 0);
}

/* Half grains, style included, that a part bears of a tie. */
static gint64
cost_share(const HfNet *net, guint tie)
{
  return net->ties[tie].part[0] == 0 ? 2 * net->ties[tie].cost : net->ties[tie].cost;
}

/* The least that @count ties on a part come to, @but not among them. */
static gint64
cheapest_but(const HfNet *net, guint part, guint count, guint but)
{
  guint n = net->at_start[part + 1] - net->at_start[part], n_shares = 0;
  g_autofree gint64 *shares = g_new(gint64, n + 1);
  for (guint i = 0; i < n; i++) {
    guint tie = net->at[net->at_start[part] + i], k = n_shares;
    gint64 mine = cost_share(net, tie);
    if (tie == but || (k == count && (count == 0 || shares[k - 1] <= mine)))
      continue;
    n_shares = k = MIN(k + 1, count);
    for (k--; k > 0 && shares[k - 1] > mine; k--)
      shares[k] = shares[k - 1];
    shares[k] = mine;
  }
  gint64 sum = 0;
  for (guint k = 0; k < n_shares; k++)
    sum += shares[k];
  return sum;
}

/* As (b), with a tie given: what its parts bear with it, all others at their cheapest. */
guint
hf_net_useful(const HfNet *net, const gboolean *in, gint64 cost, guint *ret_ties)
{
  g_autofree gint64 *least = g_new0(gint64, net->n + 1);
  gint64 sum = 0;
  guint n = 0;
  for (guint p = 1; p <= net->n; p++)
    sum += least[p] = cheapest_but(net, p, net->needs[p].ties, G_MAXUINT);
  for (guint t = 0; t < net->n_ties; t++) {
    gint64 with = sum;
    for (guint side = 0; side < 2; side++) {
      guint part = net->ties[t].part[side];
      if (part != 0)
        with += cost_share(net, t) - least[part] +
                cheapest_but(net, part, net->needs[part].ties - 1, t);
    }
    if (in[t] || with < 2 * cost)
      ret_ties[n++] = t;
  }
  return n;
}
