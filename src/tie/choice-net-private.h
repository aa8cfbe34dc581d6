/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-net-private.h - a choice task as its solvers see it: sorted by content, costs in grains.
 *
 *   ties 0..n_ties-1 in the order of what they are     at[at_start[p]..at_start[p+1]): ties on p
 *   parts 1..n in the order of the ties they have      foe[...]: ties in conflict with a tie
 *
 * Whatever walks a net in its own order gives the same set for a task listed in another order.
 */
#pragma once
#include "tie/choice-private.h"

/* What belongs to one end stands at its index: part[0] < part[1]. */
typedef struct {
  guint part[2]; /* 0: the body */
  guint place[2], mirror[2];
  double angle[2];
  gint64 area, cost; /* grains; cost: area and own style */
  guint input;       /* index in the task (of a part of a net: in the whole net) */
} HfNetTie;

typedef struct {
  guint n, n_ties;
  HfNetTie *ties;
  guint *at_start, *at;
  guint *foe_start, *foe;
  HfNeed *needs;      /* by part */
  guint *input;       /* by part: its number in the task */
  guint *class_sizes; /* by part: how many twins, itself included, have ties at all; 0: no class */
  HfChoiceWeights weights; /* grains, whole */
} HfNet;

/** hf_net_new: (transfer full) of @task, which need not outlive it. O(n log n). */
HfNet *hf_net_new(const HfChoiceTask *task);
/** hf_net_part: the net of some parts and ties alone, each list ascending. */
HfNet *hf_net_part(const HfNet *net, const guint *parts, guint n_parts, const guint *ties,
                   guint n_ties);
/** hf_net_free: frees it and all that it owns; %NULL: nothing. */
void hf_net_free(HfNet *net);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfNet, hf_net_free)

static inline guint
hf_net_side(const HfNet *net, guint tie, guint part)
{
  return net->ties[tie].part[1] == part;
}

static inline guint
hf_net_other(const HfNet *net, guint tie, guint part)
{
  return net->ties[tie].part[net->ties[tie].part[0] == part];
}

/** hf_net_apart: 0..pi, the angle between two ties at a part. */
double hf_net_apart(const HfNet *net, guint part, guint a, guint b);
/** hf_net_opposed: grains, what two ties of a part cost for not being opposite. */
gint64 hf_net_opposed(const HfNet *net, guint part, guint a, guint b);
/** hf_net_is_free: none of a tie's foes is in. */
gboolean hf_net_is_free(const HfNet *net, const gboolean *in, guint tie);
/** hf_net_bridges: (out arrays of n + 1) by part: is it held by the ties in @in, held both ways? */
void hf_net_bridges(const HfNet *net, const gboolean *in, gboolean *ret_held, gboolean *ret_both);

/* How good a choice is: what comes first counts first. */
typedef struct {
  guint unheld, lacks;
  gint64 cost; /* grains */
} HfChoiceKey;

static inline gboolean
hf_choice_key_less(HfChoiceKey a, HfChoiceKey b)
{
  if (a.unheld != b.unheld)
    return a.unheld < b.unheld;
  return a.lacks != b.lacks ? a.lacks < b.lacks : a.cost < b.cost;
}

/* Of a part and the ties on it that are chosen: */
/** hf_net_lacks: how many ties are missing; @ret_spread: and are none far enough apart? */
guint hf_net_lacks(const HfNet *net, guint part, const guint *on, guint n_on, gboolean *ret_spread);
/** hf_net_terms: grains: opposed, odd and through. */
gint64 hf_net_terms(const HfNet *net, guint part, const guint *on, guint n_on);
/** hf_net_differing: twins' places that differ, for @k of @m twins that have a tie at one place. */
static inline guint
hf_net_differing(guint k, guint m)
{
  return MIN(k, m - k);
}
/** hf_net_key: of a whole choice; ties that hold nothing make it as bad as can be. */
HfChoiceKey hf_net_key(const HfNet *net, const gboolean *in);

/** hf_net_start: a choice to begin with: the cheapest ties that join all. @in: n_ties, all %FALSE.
 */
void hf_net_start(const HfNet *net, gboolean *in);
/** hf_net_search: betters a choice step by step; sound whenever it ends, also when cancelled. */
void hf_net_search(const HfNet *net, gboolean *in, const HfCancel *cancel);

/** hf_net_exact: the best choice. @in: a choice to better. @nodes: (nullable) (changed) of the
 * search tree, so many may be looked at; what is left of them. Returns: proven? */
#define HF_EXACT_TIES  64
#define HF_EXACT_PARTS 63
gboolean hf_net_exact(const HfNet *net, gboolean *in, guint64 *nodes, const HfCancel *cancel);

/** hf_net_useful: ties that a choice better than @in, which leaves nothing unmet, could have.
 *  Returns: how many. */
guint hf_net_useful(const HfNet *net, const gboolean *in, gint64 cost, guint *ret_ties);

/** hf_net_bound: grains: see docs/maths.md#ties-bound. @key: of the choice it is a bound for. */
gint64 hf_net_bound(const HfNet *net, HfChoiceKey key);
