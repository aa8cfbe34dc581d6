/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice.c - the choice of ties, from the task to what the caller sees.
 *
 *   task ─> net, sorted by content ─> what can be reached ─> clusters ─> each solved alone
 *
 * Parts are of one cluster when a candidate joins them, when candidates of theirs are in conflict,
 * or when they are twins and that counts. The objective is a sum over clusters, so their optima
 * together are the optimum.
 */
#include "tie/choice-net-private.h"

/* Clusters up to this size are solved to the end however long it takes. Larger ones get so many
 * nodes of the search tree at first, and once more, with a good choice known, from a common store.
 */
#define SURE_PARTS 4
#define SURE_TIES  32
#define BUDGET     1500
#define SECOND     3000
#define STORE      6000

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

static void
join(guint *up, guint p, guint q)
{
  p = hf_choice_root(up, p);
  q = hf_choice_root(up, q);
  up[MAX(p, q)] = MIN(p, q);
}

/* By part: the first part of its cluster. */
static guint *
clusters(const HfNet *net)
{
  guint *up = g_new(guint, net->n + 1);
  g_autoptr(GHashTable) classes = g_hash_table_new(NULL, NULL);
  for (guint p = 0; p <= net->n; p++)
    up[p] = p;
  for (guint t = 0; t < net->n_ties; t++) {
    const HfNetTie *tie = &net->ties[t];
    if (tie->part[0] != 0)
      join(up, tie->part[0], tie->part[1]);
    for (guint f = net->foe_start[t]; f < net->foe_start[t + 1]; f++)
      join(up, tie->part[1], net->ties[net->foe[f]].part[1]);
  }
  for (guint p = 1; p <= net->n && net->weights.alike > 0; p++) {
    gpointer class = GUINT_TO_POINTER(net->needs[p].twins);
    guint first = GPOINTER_TO_UINT(g_hash_table_lookup(classes, class));
    if (first != 0)
      join(up, p, first);
    else if (class != NULL)
      g_hash_table_insert(classes, class, GUINT_TO_POINTER(p));
  }
  for (guint p = 0; p <= net->n; p++)
    up[p] = hf_choice_root(up, p);
  return up;
}

/* The numbers 0..n-1 sorted by group, in order within each. */
static guint *
by_group(const guint *group, guint n, guint n_groups, guint **ret_start)
{
  guint *start = g_new0(guint, n_groups + 2), *list = g_new(guint, n + 1);
  for (guint i = 0; i < n; i++)
    start[group[i] + 1]++;
  for (guint g = 1; g <= n_groups; g++)
    start[g] += start[g - 1];
  g_autofree guint *next = g_memdup2(start, (n_groups + 2) * sizeof *start);
  for (guint i = 0; i < n; i++)
    list[next[group[i]]++] = i;
  *ret_start = start;
  return list;
}

/* With nodes from the store. Returns: proven? */
static gboolean
exact_from(const HfNet *net, gboolean *in, guint64 *store, const HfCancel *cancel)
{
  guint64 nodes = MIN(*store, SECOND), left = nodes;
  gboolean proven = nodes > 0 && hf_net_exact(net, in, &left, cancel);
  *store -= nodes - left;
  return proven;
}

/* The search tree once more, without the ties that nothing better than @in can have. */
static gboolean
solve_useful(const HfNet *net, gboolean *in, guint64 *store, const HfCancel *cancel)
{
  HfChoiceKey key = hf_net_key(net, in);
  if (key.unheld > 0 || key.lacks > 0 || net->n > HF_EXACT_PARTS)
    return FALSE;
  g_autofree guint *ties = g_new(guint, net->n_ties + 1), *parts = g_new(guint, net->n + 1);
  guint n_ties = hf_net_useful(net, in, key.cost, ties);
  if (n_ties > HF_EXACT_TIES)
    return FALSE;
  for (guint p = 0; p < net->n; p++)
    parts[p] = p + 1;
  g_autoptr(HfNet) useful = hf_net_part(net, parts, net->n, ties, n_ties);
  g_autofree gboolean *chosen = g_new(gboolean, n_ties + 1);
  for (guint t = 0; t < n_ties; t++)
    chosen[t] = in[ties[t]];
  gboolean proven = exact_from(useful, chosen, store, cancel);
  for (guint t = 0; t < n_ties; t++)
    in[ties[t]] = chosen[t];
  return proven;
}

/* Returns: proven? */
static gboolean
solve(const HfNet *net, gboolean *in, guint64 *store, const HfCancel *cancel)
{
  gboolean small = net->n_ties <= HF_EXACT_TIES && net->n <= HF_EXACT_PARTS;
  gboolean sure = net->n <= SURE_PARTS && net->n_ties <= SURE_TIES;
  guint64 first = BUDGET;
  hf_net_start(net, in);
  if (small && hf_net_exact(net, in, sure ? NULL : &first, cancel))
    return TRUE;
  hf_net_search(net, in, cancel);
  return solve_useful(net, in, store, cancel) || (small && exact_from(net, in, store, cancel));
}

/* Returns: all clusters proven? */
static gboolean
solve_clusters(const HfNet *net, gboolean *in, const HfCancel *cancel)
{
  g_autofree guint *cluster = clusters(net);
  g_autofree guint *of_tie = g_new(guint, net->n_ties + 1);
  g_autofree guint *part_start = NULL, *tie_start = NULL;
  for (guint t = 0; t < net->n_ties; t++)
    of_tie[t] = cluster[net->ties[t].part[1]];
  g_autofree guint *parts = by_group(cluster, net->n + 1, net->n + 1, &part_start);
  g_autofree guint *ties = by_group(of_tie, net->n_ties, net->n + 1, &tie_start);
  gboolean proven = TRUE;
  guint64 store = STORE;
  for (guint c = 1; c <= net->n; c++) {
    guint n_parts = part_start[c + 1] - part_start[c], n_ties = tie_start[c + 1] - tie_start[c];
    if (n_parts == 0)
      continue;
    g_autoptr(HfNet) small =
        hf_net_part(net, parts + part_start[c], n_parts, ties + tie_start[c], n_ties);
    g_autofree gboolean *chosen = g_new0(gboolean, n_ties + 1);
    proven = solve(small, chosen, &store, cancel) && proven;
    for (guint t = 0; t < n_ties; t++)
      in[small->ties[t].input] = chosen[t];
  }
  return proven;
}

/* The net of the parts that candidates join to the body at all. */
static HfNet *
reachable(const HfNet *net, gboolean *ret_reached)
{
  g_autofree gboolean *all = g_new(gboolean, net->n_ties + 1);
  g_autofree gboolean *both = g_new(gboolean, net->n + 1);
  g_autofree guint *parts = g_new(guint, net->n + 1), *ties = g_new(guint, net->n_ties + 1);
  guint n_parts = 0, n_ties = 0;
  for (guint t = 0; t < net->n_ties; t++)
    all[t] = TRUE;
  hf_net_bridges(net, all, ret_reached, both);
  for (guint p = 1; p <= net->n; p++)
    if (ret_reached[p])
      parts[n_parts++] = p;
  for (guint t = 0; t < net->n_ties; t++)
    if (ret_reached[net->ties[t].part[1]])
      ties[n_ties++] = t;
  return hf_net_part(net, parts, n_parts, ties, n_ties);
}

static void
say_part(HfChoice *choice, const HfNet *net, const gboolean *in, guint part, gboolean both)
{
  g_autofree guint *on = g_new(guint, net->at_start[part + 1] - net->at_start[part] + 1);
  guint n_on = 0;
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++)
    if (in[net->at[i]])
      on[n_on++] = net->at[i];
  HfLack lack = {.part = net->input[part]};
  lack.ties = hf_net_lacks(net, part, on, n_on, &lack.spread);
  lack.one_way = net->needs[part].ties > 1 && !both;
  if (lack.ties > 0 || lack.spread || lack.one_way)
    g_array_append_val(choice->lacking, lack);
}

static void
say_parts(HfChoice *choice, const HfNet *net, const gboolean *reached, const gboolean *in)
{
  g_autofree gboolean *held = g_new(gboolean, net->n + 1), *both = g_new(gboolean, net->n + 1);
  hf_net_bridges(net, in, held, both);
  for (guint p = 1; p <= net->n; p++) {
    HfUnheld unheld = {net->input[p], HF_UNHELD_CONFLICTS};
    if (net->at_start[p] == net->at_start[p + 1])
      unheld.why = HF_UNHELD_NO_CANDIDATE;
    else if (!reached[p])
      unheld.why = HF_UNHELD_NEIGHBOURS;
    if (held[p])
      say_part(choice, net, in, p, both[p]);
    else
      g_array_append_val(choice->unheld, unheld);
  }
}

static gint
number_compare(gconstpointer a, gconstpointer b)
{
  guint p = *(const guint *)a, q = *(const guint *)b; /* all three lists begin with the number */
  return p < q ? -1 : p > q;
}

static HfChoice *
say(const HfNet *net, const HfNet *live, const gboolean *reached, const gboolean *live_in)
{
  HfChoice *choice = g_new0(HfChoice, 1);
  g_autofree gboolean *in = g_new0(gboolean, net->n_ties + 1);
  HfChoiceKey key = hf_net_key(live, live_in);
  gint64 area = 0;
  choice->chosen = g_array_new(FALSE, FALSE, sizeof(guint));
  choice->unheld = g_array_new(FALSE, FALSE, sizeof(HfUnheld));
  choice->lacking = g_array_new(FALSE, FALSE, sizeof(HfLack));
  for (guint t = 0; t < live->n_ties; t++) {
    const HfNetTie *tie = &net->ties[live->ties[t].input];
    in[live->ties[t].input] = live_in[t];
    area += live_in[t] ? tie->area : 0;
    if (live_in[t])
      g_array_append_val(choice->chosen, tie->input);
  }
  say_parts(choice, net, reached, in);
  g_array_sort(choice->chosen, number_compare);
  g_array_sort(choice->unheld, number_compare);
  g_array_sort(choice->lacking, number_compare);
  choice->cost = (double)key.cost * HF_CHOICE_GRAIN;
  choice->area = (double)area * HF_CHOICE_GRAIN;
  choice->bound = (double)hf_net_bound(live, key) * HF_CHOICE_GRAIN;
  return choice;
}

HfChoice *
hf_choice_new(const HfChoiceTask *task, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfNet) net = hf_net_new(task);
  g_autofree gboolean *reached = g_new0(gboolean, net->n + 1);
  g_autoptr(HfNet) live = reachable(net, reached);
  g_autofree gboolean *in = g_new0(gboolean, live->n_ties + 1);
  gboolean proven = solve_clusters(live, in, cancel);
  if (!hf_cancel_check(cancel, error))
    return NULL;
  HfChoice *choice = say(net, live, reached, in);
  choice->optimal = proven;
  return choice;
}
