/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour-search.c - what is worked out once for a search: members, what must come before what with
 * all that follows, and who is near whom.
 */
#include "tour/tour-private.h"
#include <string.h>

enum {
  MATRIX_NODES = 1500,
  NEAR = 40,            /* clusters that are kept as near */
  NEAR_CLUSTERS = 1000, /* up to here near is by the nearest of some nodes, then by one */
  NEAR_NODES = 4,
};

HfRuns
hf_runs_new(guint keys, const guint *pairs, gsize n)
{
  HfRuns runs = {g_new0(guint, keys + 1), g_new(guint, MAX(n, 1))};
  for (gsize i = 0; i < n; i++)
    runs.first[pairs[2 * i] + 1]++;
  for (guint key = 0; key < keys; key++)
    runs.first[key + 1] += runs.first[key];
  g_autofree guint *next = g_memdup2(runs.first, sizeof *next * (keys + 1));
  for (gsize i = 0; i < n; i++)
    runs.of[next[pairs[2 * i]]++] = pairs[2 * i + 1];
  return runs;
}

void
hf_runs_clear(HfRuns *runs)
{
  g_clear_pointer(&runs->first, g_free);
  g_clear_pointer(&runs->of, g_free);
}

/* The clusters in an order in which each comes after what it needs (Kahn, Topological sorting of
 * large networks, CACM 1962); fewer than all: some wait in a ring. */
static guint
sort(guint n, const HfRuns *after, guint *ret_sorted)
{
  g_autofree guint *waits = g_new0(guint, n);
  for (guint i = 0; i < after->first[n]; i++)
    waits[after->of[i]]++;
  guint found = 0;
  for (guint c = 0; c < n; c++)
    if (waits[c] == 0)
      ret_sorted[found++] = c;
  for (guint i = 0; i < found; i++)
    for (guint k = after->first[ret_sorted[i]]; k < after->first[ret_sorted[i] + 1]; k++)
      if (--waits[after->of[k]] == 0)
        ret_sorted[found++] = after->of[k];
  return found;
}

/* A bit for each pair: row c holds all that come before c. */
static guint64 *
spread(guint n, gsize words, const HfRuns *after, const guint *sorted)
{
  guint64 *bits = g_new0(guint64, n * words);
  for (guint i = 0; i < n; i++) {
    guint c = sorted[i];
    for (guint k = after->first[c]; k < after->first[c + 1]; k++) {
      guint64 *row = bits + after->of[k] * words;
      row[c / 64] |= G_GUINT64_CONSTANT(1) << c % 64;
      for (gsize w = 0; w < words; w++)
        row[w] |= bits[c * words + w];
    }
  }
  return bits;
}

static GArray *
pairs_of(guint n, gsize words, const guint64 *bits)
{
  GArray *pairs = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint c = 0; c < n; c++)
    for (gsize w = 0; w < words; w++)
      for (guint64 rest = bits[c * words + w]; rest != 0; rest &= rest - 1) {
        guint pair[] = {c, (guint)(w * 64) + (guint)__builtin_ctzll(rest)};
        g_array_append_vals(pairs, pair, 2);
        if (pairs->len / 2 > HF_TOUR_MOST_PAIRS)
          return pairs;
      }
  return pairs;
}

gboolean
hf_order_follow(HfSearch *search, GError **error)
{
  const HfTourProblem *problem = search->problem;
  guint n = problem->n_clusters;
  gsize words = ((gsize)n + 63) / 64;
  HfRuns direct = hf_runs_new(n, (const guint *)problem->before, problem->n_before);
  g_autofree guint *sorted = g_new(guint, n);
  gboolean is_ring = sort(n, &direct, sorted) < n;
  g_autofree guint64 *bits = is_ring ? NULL : spread(n, words, &direct, sorted);
  hf_runs_clear(&direct);
  if (is_ring) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "let one of them come first",
                 "contours wait for each other in a ring");
    return FALSE;
  }
  g_autoptr(GArray) pairs = pairs_of(n, words, bits);
  guint *pair = (guint *)(void *)pairs->data;
  if (pairs->len / 2 > HF_TOUR_MOST_PAIRS) {
    hf_error_set(error, HF_ERROR_TOO_BIG, NULL, "cut it as several sheets",
                 "over %d pairs of contours that wait for each other", HF_TOUR_MOST_PAIRS);
    return FALSE;
  }
  search->before = hf_runs_new(n, pair, pairs->len / 2);
  for (guint i = 0; i < pairs->len; i += 2) {
    guint key = pair[i];
    pair[i] = pair[i + 1];
    pair[i + 1] = key;
  }
  search->after = hf_runs_new(n, pair, pairs->len / 2);
  return TRUE;
}

typedef struct {
  double cost;
  guint cluster;
} Neighbour;

/* Among the nearest yet, @most at the most, in their order; of equal ones the first that came. */
static void
add_near(Neighbour *nearest, guint *count, guint most, Neighbour one)
{
  if (*count == most && one.cost >= nearest[most - 1].cost)
    return;
  guint i = *count < most ? (*count)++ : most - 1;
  for (; i > 0 && one.cost < nearest[i - 1].cost; i--)
    nearest[i] = nearest[i - 1];
  nearest[i] = one;
}

/* The least cost from some nodes of @a to some of @b. */
static double
nearness(HfSearch *search, guint a, guint b, guint some)
{
  const HfRuns *m = &search->members;
  guint n_a = m->first[a + 1] - m->first[a], n_b = m->first[b + 1] - m->first[b];
  double least = G_MAXDOUBLE;
  for (guint i = 0; i < MIN(n_a, some); i++)
    for (guint k = 0; k < MIN(n_b, some); k++) {
      guint u = m->of[m->first[a] + i * n_a / MIN(n_a, some)];
      guint v = m->of[m->first[b] + k * n_b / MIN(n_b, some)];
      least = MIN(least, hf_search_cost(search, u, v));
    }
  return least;
}

static void
find_near(HfSearch *search)
{
  guint n = search->problem->n_clusters, keep = MIN(NEAR, n - 1);
  guint some = n <= NEAR_CLUSTERS ? NEAR_NODES : 1;
  Neighbour nearest[NEAR];
  search->near.first = g_new0(guint, n + 1);
  search->near.of = g_new(guint, MAX((gsize)n * keep, 1));
  for (guint a = 0; a < n; a++) {
    guint count = 0;
    for (guint b = 0; b < n; b++)
      if (b != a)
        add_near(nearest, &count, keep, (Neighbour){nearness(search, a, b, some), b});
    for (guint k = 0; k < keep; k++)
      search->near.of[a * keep + k] = nearest[k].cluster;
    search->near.first[a + 1] = (a + 1) * keep;
  }
}

static gboolean
fits(const HfTourProblem *problem, GError **error)
{
  if (problem->n_nodes <= HF_TOUR_MOST_NODES && problem->n_clusters <= HF_TOUR_MOST_CLUSTERS)
    return TRUE;
  hf_error_set(error, HF_ERROR_TOO_BIG, NULL, "cut it as several sheets",
               "%u contours with %u places to start at, more than %d and %d", problem->n_clusters,
               problem->n_nodes, HF_TOUR_MOST_CLUSTERS, HF_TOUR_MOST_NODES);
  return FALSE;
}

static void
find_members(HfSearch *search)
{
  guint n = search->problem->n_nodes;
  g_autofree guint *pairs = g_new(guint, 2 * (gsize)n);
  for (guint v = 0; v < n; v++) {
    pairs[2 * v] = search->problem->cluster_of[v];
    pairs[2 * v + 1] = v;
  }
  search->members = hf_runs_new(search->problem->n_clusters, pairs, n);
}

static void
find_costs(HfSearch *search)
{
  const HfTourProblem *problem = search->problem;
  guint n = problem->n_nodes;
  search->is_even = problem->is_even;
  if (n > MATRIX_NODES)
    return;
  search->matrix = g_new(double, (gsize)n *n);
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++)
      search->matrix[(gsize)i * n + j] = problem->cost(i, j, problem->data);
  search->is_even = TRUE;
  for (guint i = 0; i < n && search->is_even; i++)
    for (guint j = i + 1; j < n && search->is_even; j++) {
      double there = search->matrix[(gsize)i * n + j], back = search->matrix[(gsize)j * n + i];
      search->is_even = there == back || MAX(there, back) >= HF_TOUR_NEVER;
    }
}

HfSearch *
hf_search_new(const HfTourProblem *problem, GError **error)
{
  g_assert(problem->n_clusters > 0 && problem->n_nodes >= problem->n_clusters);
  if (!fits(problem, error))
    return NULL;
  g_autoptr(HfSearch) search = g_new0(HfSearch, 1);
  search->problem = problem;
  search->random = g_rand_new_with_seed(1);
  if (!hf_order_follow(search, error))
    return NULL;
  find_members(search);
  find_costs(search);
  find_near(search);
  search->best = g_new(double, problem->n_nodes);
  search->from = g_new(guint, problem->n_nodes);
  search->mark = g_new0(guint, problem->n_clusters);
  return g_steal_pointer(&search);
}

void
hf_search_free(HfSearch *search)
{
  hf_runs_clear(&search->members);
  hf_runs_clear(&search->before);
  hf_runs_clear(&search->after);
  hf_runs_clear(&search->near);
  g_clear_pointer(&search->random, g_rand_free);
  g_free(search->matrix);
  g_free(search->best);
  g_free(search->from);
  g_free(search->mark);
  g_free(search);
}
