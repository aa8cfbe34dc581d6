/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-search.c - a choice to begin with.
 */
#include "cure/choice-net-private.h"

static guint
root(guint *up, guint p)
{
  while (up[p] != p)
    p = up[p] = up[up[p]];
  return p;
}

void
hf_net_start(const HfNet *net, gboolean *in)
{
  g_autofree guint *up = g_new(guint, net->n + 1);
  for (guint p = 0; p <= net->n; p++)
    up[p] = p;
  for (guint t = 0; t < net->n_ties; t++) {
    guint a = root(up, net->ties[t].part[0]), b = root(up, net->ties[t].part[1]);
    if (a == b || !hf_net_is_free(net, in, t))
      continue;
    in[t] = TRUE;
    up[a] = b;
  }
  for (guint t = 0; t < net->n_ties; t++)
    in[t] = in[t] && root(up, net->ties[t].part[1]) == root(up, 0);
}
