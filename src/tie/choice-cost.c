/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-cost.c - how good a choice is (docs/maths.md#ties-the-choice), and one to begin with.
 *
 *   key = (parts not held, ties that lack, cost)      compared in this order
 *   cost = ties' own  +  odd ends  +  not opposed  +  through another  +  unlike their twins
 *
 * Invariant: a key is worked out from the set alone, in whole numbers, so that the same set has the
 * same key in whatever order it was reached; choice-state.c keeps the same key step by step, and a
 * test holds one against the other. Limits: a tie at what nothing holds makes the choice no choice
 * (G_MAXUINT); a part without ties costs nothing, but counts as not held.
 */
#include "tie/choice-net-private.h"
#include <math.h>

double
hf_net_apart(const HfNet *net, guint part, guint a, guint b)
{
  double at_a = net->ties[a].angle[hf_net_side(net, a, part)];
  double at_b = net->ties[b].angle[hf_net_side(net, b, part)];
  double apart = fabs(at_a - at_b); /* remainder() says the same, but slowly */
  if (apart > 2 * G_PI)
    apart = fmod(apart, 2 * G_PI);
  return fmin(apart, 2 * G_PI - apart);
}

gint64
hf_net_opposed(const HfNet *net, guint part, guint a, guint b)
{
  return llround(net->weights.opposed * (1 - hf_net_apart(net, part, a, b) / G_PI));
}

static gboolean
is_spread(const HfNet *net, guint part, const guint *on, guint n_on)
{
  double spread = net->needs[part].spread - 1e-9;
  for (guint i = 0; i < n_on; i++)
    for (guint j = 0; j < i; j++)
      if (hf_net_apart(net, part, on[i], on[j]) >= spread)
        return TRUE;
  return FALSE;
}

guint
hf_net_lacks(const HfNet *net, guint part, const guint *on, guint n_on, gboolean *ret_spread)
{
  const HfNeed *need = &net->needs[part];
  *ret_spread = need->ties > 1 && need->spread > 0 && !is_spread(net, part, on, n_on);
  return need->ties - MIN(n_on, need->ties);
}

static guint
odd_ends(const HfNet *net, guint part, const guint *on, guint n_on)
{
  guint odd = 0;
  for (guint i = 0; i < n_on; i++) {
    guint mirror = net->ties[on[i]].mirror[hf_net_side(net, on[i], part)];
    gboolean found = mirror == 0;
    for (guint j = 0; j < n_on && !found; j++)
      found = net->ties[on[j]].place[hf_net_side(net, on[j], part)] == mirror;
    odd += !found;
  }
  return odd;
}

gint64
hf_net_terms(const HfNet *net, guint part, const guint *on, guint n_on)
{
  const HfNeed *need = &net->needs[part];
  gint64 terms = (gint64)net->weights.odd * odd_ends(net, part, on, n_on);
  gboolean direct = FALSE;
  for (guint i = 0; i < n_on; i++)
    direct = direct || net->ties[on[i]].part[0] == 0;
  if (need->direct && !direct)
    terms += (gint64)net->weights.through;
  if (!need->opposed || n_on < 2)
    return terms;
  gint64 least = G_MAXINT64;
  for (guint i = 0; i < n_on; i++)
    for (guint j = 0; j < i; j++)
      least = MIN(least, hf_net_opposed(net, part, on[i], on[j]));
  return terms + least;
}

/* A twin that has a tie at a place of its letter. */
typedef struct {
  guint class, place, part, size;
} Seat;

static gint
seat_compare(gconstpointer p, gconstpointer q)
{
  const Seat *a = p, *b = q;
  if (a->class != b->class)
    return a->class < b->class ? -1 : 1;
  if (a->place != b->place)
    return a->place < b->place ? -1 : 1;
  return a->part < b->part ? -1 : a->part > b->part;
}

static guint
differing(GArray *seats)
{
  guint sum = 0;
  g_array_sort(seats, seat_compare);
  for (guint i = 0, end; i < seats->len; i = end) {
    const Seat *first = &g_array_index(seats, Seat, i);
    guint twins = 0;
    for (end = i; end < seats->len; end++) {
      const Seat *seat = &g_array_index(seats, Seat, end);
      if (seat->class != first->class || seat->place != first->place)
        break;
      twins += end == i || seat->part != (seat - 1)->part;
    }
    sum += first->place == 0 ? (end - i) * hf_net_differing(1, first->size)
                             : hf_net_differing(twins, first->size);
  }
  return sum;
}

HfChoiceKey
hf_net_key(const HfNet *net, const gboolean *in)
{
  g_autofree gboolean *held = g_new(gboolean, net->n + 1), *both = g_new(gboolean, net->n + 1);
  g_autofree guint *on = g_new(guint, net->n_ties + 1);
  g_autoptr(GArray) seats = g_array_new(FALSE, FALSE, sizeof(Seat));
  HfChoiceKey key = {0, 0, 0};
  hf_net_bridges(net, in, held, both);
  for (guint p = 1; p <= net->n; p++) {
    const HfNeed *need = &net->needs[p];
    guint n_on = 0;
    for (guint i = net->at_start[p]; i < net->at_start[p + 1]; i++) {
      guint tie = net->at[i];
      if (!in[tie])
        continue;
      on[n_on++] = tie;
      Seat seat = {need->twins, net->ties[tie].place[hf_net_side(net, tie, p)], p,
                   net->class_sizes[p]};
      if (need->twins != 0)
        g_array_append_val(seats, seat);
    }
    if (!held[p] && n_on > 0)
      return (HfChoiceKey){G_MAXUINT, 0, 0};
    key.unheld += !held[p];
    if (!held[p])
      continue;
    gboolean spread;
    key.lacks += hf_net_lacks(net, p, on, n_on, &spread) + (need->ties > 1 && !both[p]);
    key.lacks += spread ? 1 : 0;
    key.cost += hf_net_terms(net, p, on, n_on);
  }
  for (guint t = 0; t < net->n_ties; t++)
    key.cost += in[t] ? net->ties[t].cost : 0;
  key.cost += (gint64)net->weights.alike * differing(seats);
  return key;
}
