/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-net.c - a choice task brought into an order of its own, and what holds in it.
 */
#include "cure/choice-net-private.h"
#include <math.h>
#include <string.h>

static gint64
grains(double mm2)
{
  return llround(mm2 / HF_CHOICE_GRAIN);
}

double
hf_angle_apart(double a, double b)
{
  return fabs(remainder(a - b, 2 * G_PI));
}

#define COMPARE(x, y)                                                                              \
  if ((x) != (y))                                                                                  \
  return (x) < (y) ? -1 : 1

static gint
tie_compare(gconstpointer p, gconstpointer q)
{
  const HfNetTie *a = p, *b = q;
  COMPARE(a->cost, b->cost);
  COMPARE(a->area, b->area);
  for (guint side = 0; side < 2; side++) {
    COMPARE(a->place[side], b->place[side]);
    COMPARE(a->mirror[side], b->mirror[side]);
    COMPARE(a->angle[side], b->angle[side]);
  }
  COMPARE(a->part[0], b->part[0]);
  COMPARE(a->part[1], b->part[1]);
  COMPARE(a->input, b->input);
  return 0;
}

static HfNetTie
tie_of(const HfCandidate *c, guint input, double own)
{
  HfNetTie tie = {{c->a, c->b},
                  {c->place, c->place_b},
                  {c->mirror, c->mirror_b},
                  {c->angle, c->angle_b},
                  grains(c->area),
                  0,
                  input};
  tie.cost = tie.area + grains(own * c->style);
  return tie;
}

/* Lists by key: counts, then sums, then fills. */
static void
lists(guint n, const guint *keys, const guint *values, guint count, guint **ret_start,
      guint **ret_list)
{
  guint *start = g_new0(guint, n + 2), *list = g_new(guint, MAX(count, 1));
  for (guint i = 0; i < count; i++)
    start[keys[i] + 2]++;
  for (guint k = 1; k < n + 2; k++)
    start[k] += start[k - 1];
  for (guint i = 0; i < count; i++)
    list[start[keys[i] + 1]++] = values[i];
  *ret_start = start;
  *ret_list = list;
}

static void
net_lists(HfNet *net, const HfConflict *conflicts, guint n_conflicts)
{
  guint n = MAX(2 * MAX(net->n_ties, n_conflicts), 1);
  g_autofree guint *keys = g_new(guint, n), *values = g_new(guint, n);
  g_autofree guint *place = g_new(guint, net->n_ties + 1);
  for (guint t = 0; t < net->n_ties; t++) {
    place[net->ties[t].input] = t;
    for (guint side = 0; side < 2; side++) {
      keys[2 * t + side] = net->ties[t].part[side];
      values[2 * t + side] = t;
    }
  }
  lists(net->n + 1, keys, values, 2 * net->n_ties, &net->at_start, &net->at);
  for (guint i = 0; i < n_conflicts; i++) {
    keys[2 * i] = values[2 * i + 1] = place[conflicts[i].a];
    keys[2 * i + 1] = values[2 * i] = place[conflicts[i].b];
  }
  lists(net->n_ties, keys, values, 2 * n_conflicts, &net->foe_start, &net->foe);
}

HfNet *
hf_net_new(const HfChoiceTask *task)
{
  HfNet *net = g_new0(HfNet, 1);
  net->n = task->n_parts;
  net->n_ties = task->n_candidates;
  net->ties = g_new(HfNetTie, net->n_ties + 1);
  for (guint t = 0; t < net->n_ties; t++)
    net->ties[t] = tie_of(&task->candidates[t], t, task->weights.own);
  qsort(net->ties, net->n_ties, sizeof *net->ties, tie_compare);
  net->needs = g_new0(HfNeed, net->n + 1);
  net->input = g_new0(guint, net->n + 1);
  for (guint p = 1; p <= net->n; p++) {
    net->needs[p] = task->needs[p];
    net->needs[p].ties = MAX(net->needs[p].ties, 1);
    net->input[p] = p;
  }
  net_lists(net, task->conflicts, task->n_conflicts);
  return net;
}

void
hf_net_free(HfNet *net)
{
  if (net == NULL)
    return;
  g_free(net->ties);
  g_free(net->at_start);
  g_free(net->at);
  g_free(net->foe_start);
  g_free(net->foe);
  g_free(net->needs);
  g_free(net->input);
  g_free(net);
}

static guint
find(guint *up, guint p)
{
  while (up[p] != p)
    p = up[p] = up[up[p]];
  return p;
}

static gboolean
is_free(const HfNet *net, const gboolean *in, guint tie)
{
  for (guint f = net->foe_start[tie]; f < net->foe_start[tie + 1]; f++)
    if (in[net->foe[f]])
      return FALSE;
  return TRUE;
}

/* What a part has, with @tie added: is it nearer to its need? */
static gboolean
helps(const HfNet *net, const gboolean *in, guint part, guint tie)
{
  const HfNeed *need = &net->needs[part];
  guint have = 0;
  gboolean spread = need->spread <= 0, with = spread;
  double angle = net->ties[tie].angle[hf_net_side(net, tie, part)];
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++) {
    guint a = net->at[i];
    if (!in[a])
      continue;
    have++;
    double here = net->ties[a].angle[hf_net_side(net, a, part)];
    with = with || hf_angle_apart(here, angle) >= need->spread;
    for (guint j = net->at_start[part]; j < i; j++)
      spread =
          spread ||
          (in[net->at[j]] &&
           hf_angle_apart(here, net->ties[net->at[j]].angle[hf_net_side(net, net->at[j], part)]) >=
               need->spread);
  }
  if (have < need->ties)
    return spread || with || have == 0 || have + 1 < need->ties;
  return need->ties > 1 && !spread && with;
}

void
hf_net_start(const HfNet *net, gboolean *in)
{
  g_autofree guint *up = g_new(guint, net->n + 1);
  for (guint p = 0; p <= net->n; p++)
    up[p] = p;
  for (guint t = 0; t < net->n_ties; t++) {
    guint a = find(up, net->ties[t].part[0]), b = find(up, net->ties[t].part[1]);
    if (a == b || !is_free(net, in, t))
      continue;
    in[t] = TRUE;
    up[a] = b;
  }
  for (guint p = 1; p <= net->n; p++)
    for (guint i = net->at_start[p]; i < net->at_start[p + 1]; i++) {
      guint t = net->at[i];
      if (!in[t] && find(up, p) == find(up, 0) && helps(net, in, p, t) && is_free(net, in, t))
        in[t] = TRUE;
    }
  for (guint t = 0; t < net->n_ties; t++)
    in[t] = in[t] && find(up, net->ties[t].part[0]) == find(up, 0);
}

/* One step of the walk below: a part, the tie by which it was reached, the next tie to look at. */
typedef struct {
  guint part, by, next;
} Step;

/* Depth first from the body (Tarjan's bridges): low[p] is the earliest part that p or what hangs
 * below it reaches by another tie than the one it hangs on. */
void
hf_net_bridges(const HfNet *net, const gboolean *in, gboolean *ret_held, gboolean *ret_both)
{
  g_autofree guint *seen = g_new0(guint, net->n + 1), *low = g_new0(guint, net->n + 1);
  g_autofree guint *order = g_new(guint, net->n + 1), *by = g_new(guint, net->n + 1);
  g_autofree Step *stack = g_new(Step, net->n + 1);
  guint depth = 1, count = 0;
  stack[0] = (Step){0, G_MAXUINT, net->at_start[0]};
  seen[0] = low[0] = ++count;
  order[0] = 0;
  while (depth > 0) {
    Step *step = &stack[depth - 1];
    if (step->next == net->at_start[step->part + 1]) {
      if (--depth > 0)
        low[stack[depth - 1].part] = MIN(low[stack[depth - 1].part], low[step->part]);
      continue;
    }
    guint tie = net->at[step->next++];
    if (!in[tie] || tie == step->by)
      continue;
    guint other = hf_net_other(net, tie, step->part);
    if (seen[other] != 0) {
      low[step->part] = MIN(low[step->part], seen[other]);
      continue;
    }
    order[count] = other;
    seen[other] = low[other] = ++count;
    by[other] = step->part;
    stack[depth++] = (Step){other, tie, net->at_start[other]};
  }
  for (guint p = 0; p <= net->n; p++)
    ret_held[p] = seen[p] != 0, ret_both[p] = p == 0;
  for (guint i = 1; i < count; i++)
    ret_both[order[i]] = ret_both[by[order[i]]] && low[order[i]] < seen[order[i]];
}
