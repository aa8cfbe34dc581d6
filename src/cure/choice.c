/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice.c - the choice of ties, from the task to what the caller sees.
 */
#include "cure/choice-net-private.h"

static HfChoice *
choice_empty(void)
{
  HfChoice *choice = g_new0(HfChoice, 1);
  choice->chosen = g_array_new(FALSE, FALSE, sizeof(guint));
  choice->unheld = g_array_new(FALSE, FALSE, sizeof(HfUnheld));
  choice->lacking = g_array_new(FALSE, FALSE, sizeof(HfLack));
  return choice;
}

void
hf_choice_free(HfChoice *choice)
{
  if (choice == NULL)
    return;
  g_array_unref(choice->chosen);
  g_array_unref(choice->unheld);
  g_array_unref(choice->lacking);
  g_free(choice);
}

static gboolean
spread_met(const HfNet *net, const gboolean *in, guint part)
{
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++)
    for (guint j = net->at_start[part]; j < i; j++) {
      guint a = net->at[i], b = net->at[j];
      if (in[a] && in[b] &&
          hf_angle_apart(net->ties[a].angle[hf_net_side(net, a, part)],
                         net->ties[b].angle[hf_net_side(net, b, part)]) >= net->needs[part].spread)
        return TRUE;
    }
  return FALSE;
}

static void
say_part(HfChoice *choice, const HfNet *net, const gboolean *in, guint part, gboolean both)
{
  const HfNeed *need = &net->needs[part];
  guint have = 0;
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++)
    have += in[net->at[i]];
  HfLack lack = {net->input[part], need->ties - MIN(have, need->ties)};
  lack.spread = need->ties > 1 && need->spread > 0 && !spread_met(net, in, part);
  lack.one_way = need->ties > 1 && !both;
  if (lack.ties > 0 || lack.spread || lack.one_way)
    g_array_append_val(choice->lacking, lack);
}

static void
say(HfChoice *choice, const HfNet *net, const gboolean *in)
{
  g_autofree gboolean *held = g_new(gboolean, net->n + 1), *both = g_new(gboolean, net->n + 1);
  hf_net_bridges(net, in, held, both);
  gint64 area = 0, cost = 0;
  for (guint t = 0; t < net->n_ties; t++)
    if (in[t]) {
      g_array_append_val(choice->chosen, net->ties[t].input);
      area += net->ties[t].area;
      cost += net->ties[t].cost;
    }
  for (guint p = 1; p <= net->n; p++) {
    HfUnheld unheld = {net->input[p], net->at_start[p] == net->at_start[p + 1]
                                          ? HF_UNHELD_NO_CANDIDATE
                                          : HF_UNHELD_CONFLICTS};
    if (held[p])
      say_part(choice, net, in, p, both[p]);
    else
      g_array_append_val(choice->unheld, unheld);
  }
  choice->area = area * HF_CHOICE_GRAIN;
  choice->cost = cost * HF_CHOICE_GRAIN;
}

static gint
index_compare(gconstpointer a, gconstpointer b)
{
  guint p = *(const guint *)a, q = *(const guint *)b;
  return p < q ? -1 : p > q;
}

HfChoice *
hf_choice_new(const HfChoiceTask *task, const HfCancel *cancel, GError **error)
{
  if (!hf_cancel_check(cancel, error))
    return NULL;
  g_autoptr(HfNet) net = hf_net_new(task);
  g_autofree gboolean *in = g_new0(gboolean, net->n_ties + 1);
  hf_net_start(net, in);
  HfChoice *choice = choice_empty();
  say(choice, net, in);
  g_array_sort(choice->chosen, index_compare);
  return choice;
}
