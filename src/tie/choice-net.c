/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-net.c - a choice task brought into an order of its own, and what holds in it.
 *
 *   task as found: parts and candidates numbered as layout and grid had them
 *     └─ marks (needs, then what lies at the other ends, three rounds) ──> sorted ──> net
 *
 * The same sign turned, mirrored or renumbered must get the same ties, so the search must not see
 * the numbers that it was given. Invariant: two tasks that differ only in numbering give equal nets
 * (up to parts that look alike from three steps around: then either will do). Method: colour
 * refinement of the graph, as in tests of graph isomorphism (Weisfeiler and Leman 1968, from
 * memory). What holds: bridges of the graph by one depth-first walk (Tarjan 1974, from memory),
 * O(parts + ties). Costs are whole grains of HF_CHOICE_GRAIN mm2, so that sums have no rounding.
 */
#include "tie/choice-net-private.h"
#include <math.h>
#include <string.h>

static gint64
grains(double mm2)
{
  return llround(mm2 / HF_CHOICE_GRAIN);
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

/* A well mixed number of two (the finaliser of SplitMix64, from memory). */
static guint64
mix(guint64 a, guint64 b)
{
  guint64 x = a * 0x9e3779b97f4a7c15u + b + 0x632be59bd9b4e019u;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9u;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebu;
  return x ^ (x >> 31);
}

static guint64
mix_end(guint64 seed, guint place, guint mirror, double angle)
{
  return mix(mix(mix(seed, place), mirror), (guint64)llround(angle * 1e3));
}

/* Parts get a mark from their needs and, three times over, from the marks of what lies at the other
 * ends of their candidates (colour refinement): equal only where parts look alike. Sums, so that
 * the order of candidates and their a and b don't matter. */
static guint64 *
part_marks(const HfChoiceTask *task, const guint64 *rivals)
{
  guint64 *marks = g_new0(guint64, task->n_parts + 1);
  g_autofree guint64 *sums = g_new(guint64, task->n_parts + 1);
  for (guint p = 1; p <= task->n_parts; p++) {
    const HfNeed *need = &task->needs[p];
    marks[p] = mix(mix(need->ties, (guint64)llround(need->spread * 1e3)),
                   4u * (need->twins != 0) + 2u * (need->opposed != 0) + (need->direct != 0));
  }
  for (guint round = 0; round < 3; round++) {
    memset(sums, 0, (task->n_parts + 1) * sizeof *sums);
    for (guint i = 0; i < task->n_candidates; i++) {
      const HfCandidate *c = &task->candidates[i];
      guint64 both = mix(mix((guint64)grains(c->area), (guint64)grains(c->style)), rivals[i]);
      guint64 a = mix_end(mix(both, marks[c->a]), c->place, c->mirror, c->angle);
      guint64 b = mix_end(mix(both, marks[c->b]), c->place_b, c->mirror_b, c->angle_b);
      sums[c->a] += mix(a, mix(b, 1));
      sums[c->b] += mix(b, mix(a, 1));
    }
    for (guint p = 1; p <= task->n_parts; p++)
      marks[p] = mix(marks[p], sums[p]);
  }
  return marks;
}

/* Of each candidate: what it is in conflict with. */
static guint64 *
rival_marks(const HfChoiceTask *task)
{
  guint64 *marks = g_new0(guint64, task->n_candidates + 1);
  for (guint i = 0; i < task->n_conflicts; i++) {
    const HfConflict *c = &task->conflicts[i];
    const HfCandidate *a = &task->candidates[c->a], *b = &task->candidates[c->b];
    marks[c->a] += mix((guint64)grains(b->area), (guint64)grains(b->style));
    marks[c->b] += mix((guint64)grains(a->area), (guint64)grains(a->style));
  }
  return marks;
}

typedef struct {
  guint64 mark;
  guint part;
} Marked;

static gint
marked_compare(gconstpointer p, gconstpointer q)
{
  const Marked *a = p, *b = q;
  COMPARE(a->mark, b->mark);
  COMPARE(a->part, b->part);
  return 0;
}

/* Parts in an order of their own: input[new] = old. */
static guint *
part_order(const HfChoiceTask *task)
{
  g_autofree guint64 *rivals = rival_marks(task);
  g_autofree guint64 *marks = part_marks(task, rivals);
  g_autofree Marked *order = g_new(Marked, task->n_parts + 1);
  for (guint p = 1; p <= task->n_parts; p++)
    order[p] = (Marked){marks[p], p};
  qsort(order + 1, task->n_parts, sizeof *order, marked_compare);
  guint *input = g_new0(guint, task->n_parts + 1);
  for (guint p = 1; p <= task->n_parts; p++)
    input[p] = order[p].part;
  return input;
}

static HfNetTie
tie_of(const HfCandidate *c, guint input, const guint *number, double own)
{
  HfNetTie tie = {.area = grains(c->area), .input = input};
  guint a = number[c->a] > number[c->b];
  tie.part[a] = number[c->a], tie.part[!a] = number[c->b];
  tie.place[a] = c->place, tie.place[!a] = c->place_b;
  tie.mirror[a] = c->mirror, tie.mirror[!a] = c->mirror_b;
  tie.angle[a] = c->angle, tie.angle[!a] = c->angle_b;
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
  g_autofree guint *keys = g_new0(guint, n), *values = g_new0(guint, n);
  for (guint t = 0; t < net->n_ties; t++)
    for (guint side = 0; side < 2; side++) {
      keys[2 * t + side] = net->ties[t].part[side];
      values[2 * t + side] = t;
    }
  lists(net->n + 1, keys, values, 2 * net->n_ties, &net->at_start, &net->at);
  for (guint i = 0; i < n_conflicts; i++) {
    keys[2 * i] = values[2 * i + 1] = conflicts[i].a;
    keys[2 * i + 1] = values[2 * i] = conflicts[i].b;
  }
  lists(net->n_ties, keys, values, 2 * n_conflicts, &net->foe_start, &net->foe);
}

static void
net_classes(HfNet *net)
{
  g_autoptr(GHashTable) sizes = g_hash_table_new(NULL, NULL);
  net->class_sizes = g_new0(guint, net->n + 1);
  for (guint pass = 0; pass < 2; pass++)
    for (guint p = 1; p <= net->n; p++) {
      gpointer key = GUINT_TO_POINTER(net->needs[p].twins);
      guint size = GPOINTER_TO_UINT(g_hash_table_lookup(sizes, key));
      if (key == NULL || net->at_start[p] == net->at_start[p + 1])
        continue;
      if (pass == 0)
        g_hash_table_insert(sizes, key, GUINT_TO_POINTER(size + 1));
      else
        net->class_sizes[p] = size;
    }
}

static HfConflict *
conflicts_of(const HfNet *net, const HfChoiceTask *task)
{
  g_autofree guint *place = g_new(guint, net->n_ties + 1);
  for (guint t = 0; t < net->n_ties; t++)
    place[net->ties[t].input] = t;
  HfConflict *conflicts = g_new(HfConflict, task->n_conflicts + 1);
  for (guint i = 0; i < task->n_conflicts; i++)
    conflicts[i] = (HfConflict){place[task->conflicts[i].a], place[task->conflicts[i].b]};
  return conflicts;
}

HfNet *
hf_net_new(const HfChoiceTask *task)
{
  HfNet *net = g_new0(HfNet, 1);
  const HfChoiceWeights *w = &task->weights;
  net->n = task->n_parts;
  net->n_ties = task->n_candidates;
  net->input = part_order(task);
  net->needs = g_new0(HfNeed, net->n + 1);
  net->weights = (HfChoiceWeights){w->own, (double)grains(w->alike), (double)grains(w->opposed),
                                   (double)grains(w->odd), (double)grains(w->through)};
  g_autofree guint *number = g_new0(guint, net->n + 1);
  for (guint p = 1; p <= net->n; p++) {
    net->needs[p] = task->needs[net->input[p]];
    net->needs[p].ties = MAX(net->needs[p].ties, 1);
    number[net->input[p]] = p;
  }
  net->ties = g_new(HfNetTie, net->n_ties + 1);
  for (guint t = 0; t < net->n_ties; t++)
    net->ties[t] = tie_of(&task->candidates[t], t, number, w->own);
  qsort(net->ties, net->n_ties, sizeof *net->ties, tie_compare);
  g_autofree HfConflict *conflicts = conflicts_of(net, task);
  net_lists(net, conflicts, task->n_conflicts);
  net_classes(net);
  return net;
}

/* 1 + the place of a number in an ascending list; 0: not in it. */
static guint
rank_in(guint number, const guint *list, guint n)
{
  guint low = 0, high = n;
  while (low < high) {
    guint middle = (low + high) / 2;
    if (list[middle] < number)
      low = middle + 1;
    else
      high = middle;
  }
  return low < n && list[low] == number ? low + 1 : 0;
}

HfNet *
hf_net_part(const HfNet *net, const guint *parts, guint n_parts, const guint *ties, guint n_ties)
{
  HfNet *small = g_new0(HfNet, 1);
  small->n = n_parts;
  small->n_ties = n_ties;
  small->weights = net->weights;
  small->needs = g_new0(HfNeed, n_parts + 1);
  small->input = g_new0(guint, n_parts + 1);
  for (guint p = 1; p <= n_parts; p++) {
    small->input[p] = net->input[parts[p - 1]];
    small->needs[p] = net->needs[parts[p - 1]];
  }
  small->ties = g_new(HfNetTie, n_ties + 1);
  g_autoptr(GArray) conflicts = g_array_new(FALSE, FALSE, sizeof(HfConflict));
  for (guint t = 0; t < n_ties; t++) {
    small->ties[t] = net->ties[ties[t]];
    small->ties[t].input = ties[t];
    for (guint side = 0; side < 2; side++)
      small->ties[t].part[side] = rank_in(net->ties[ties[t]].part[side], parts, n_parts);
    for (guint f = net->foe_start[ties[t]]; f < net->foe_start[ties[t] + 1]; f++) {
      guint foe = net->foe[f], rank = foe < ties[t] ? rank_in(foe, ties, n_ties) : 0;
      HfConflict conflict = {rank - 1, t};
      if (rank > 0)
        g_array_append_val(conflicts, conflict);
    }
  }
  net_lists(small, (const HfConflict *)(gconstpointer)conflicts->data, conflicts->len);
  net_classes(small);
  return small;
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
  g_free(net->class_sizes);
  g_free(net);
}

gboolean
hf_net_is_free(const HfNet *net, const gboolean *in, guint tie)
{
  for (guint f = net->foe_start[tie]; f < net->foe_start[tie + 1]; f++)
    if (in[net->foe[f]])
      return FALSE;
  return TRUE;
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
