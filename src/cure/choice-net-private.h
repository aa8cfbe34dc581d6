/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-net-private.h - a choice task as its solvers see it: sorted by content, costs in grains.
 *
 *   ties 0..n_ties-1 in the order of what they are     at[at_start[p]..at_start[p+1]): ties on p
 *   parts 1..n in the order of the ties they have      foe[...]: ties in conflict with a tie
 *
 * Whatever walks a net in its own order gives the same set for a task listed in another order.
 */
#pragma once
#include "cure/choice-private.h"

typedef struct {
  guint part[2]; /* 0: the body */
  guint place[2], mirror[2];
  double angle[2];
  gint64 area, cost; /* grains; cost: area and own style */
  guint input;       /* index of the candidate */
} HfNetTie;

typedef struct {
  guint n, n_ties;
  HfNetTie *ties;
  guint *at_start, *at;
  guint *foe_start, *foe;
  HfNeed *needs;           /* by part */
  guint *input;            /* by part: its number in the task */
  HfChoiceWeights weights; /* grains, whole */
} HfNet;

HfNet *hf_net_new(const HfChoiceTask *task);
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

/** hf_angle_apart: 0..pi, the angle between two directions. */
double hf_angle_apart(double a, double b);

/** hf_net_start: a choice to begin with, ties added the cheapest first. @in: n_ties, all %FALSE. */
void hf_net_start(const HfNet *net, gboolean *in);
/** hf_net_bridges: what @in holds: ret_held[p], ret_both[p]: is the part held, held both ways? */
void hf_net_bridges(const HfNet *net, const gboolean *in, gboolean *ret_held, gboolean *ret_both);
