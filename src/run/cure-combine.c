/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-combine.c - several changes, one after another, where one alone does not make the sign
 * whole.
 *
 *   given ──> letters closer (3 stops left) ──> tie what is loose (1 left) ──> round a point: whole
 *        └──> bolder (5 left) ──> ...
 *
 * Greedy with a little width: of all that one change came to, the few with the fewest stops left
 * (of equals, those that are seen least) are changed once more, by what is proposed for what they
 * are now, up to four changes. The first depth at which anything is whole is the last.
 */
#include "run/cures-private.h"

enum { WIDTH = 3, DEPTH = 4, MOST_PROPOSALS = 32, MOST_KEPT = 6 };

/* A place from which to go on, with what is proposed there. */
typedef struct {
  const HfCured *cured;
  GPtrArray *proposals;
} Stand;

static void
stand_clear(gpointer data)
{
  g_ptr_array_unref(((Stand *)data)->proposals);
}

static gboolean
targets_a_stop(const HfRun *run, const HfProposal *proposal)
{
  for (guint i = 0; i < proposal->targets->len; i++) {
    guint target = g_array_index(proposal->targets, guint, i);
    if (((const HfFinding *)run->hold->findings->pdata[target])->gravity == HF_STOP)
      return TRUE;
  }
  return FALSE;
}

/* @nodes: sorted. */
static GArray *
stands_on(const GPtrArray *nodes)
{
  GArray *stands = g_array_new(FALSE, FALSE, sizeof(Stand));
  g_array_set_clear_func(stands, stand_clear);
  for (guint i = 0; i < nodes->len && i < WIDTH; i++) {
    const HfCured *cured = nodes->pdata[i];
    const HfRun *run = cured->run;
    HfPatient patient = {run->recipe, run->shop, run->layout, run->metal, run->hold, NULL};
    Stand stand = {cured, hf_cure_proposals(&patient)};
    g_array_append_val(stands, stand);
  }
  return stands;
}

static void
add_tasks(GArray *tasks, const Stand *stand)
{
  const HfCured *cured = stand->cured;
  guint added = 0;
  for (guint i = 0; i < stand->proposals->len && added < MOST_PROPOSALS; i++) {
    const HfProposal *proposal = stand->proposals->pdata[i];
    if (!targets_a_stop(cured->run, proposal))
      continue;
    HfCureTask task = {
        .base = {cured->run, cured->recipe, cured->length}, .after = cured, .proposal = proposal};
    g_array_append_val(tasks, task);
    added++;
  }
}

/* One change more. Returns: (element-type HfCured) all that is nearer, sorted; %NULL: stopped. */
static GPtrArray *
go_on(HfCrew *crew, const GPtrArray *nodes, GError **error)
{
  g_autoptr(GArray) stands = stands_on(nodes);
  g_autoptr(GArray) tasks = g_array_new(FALSE, TRUE, sizeof(HfCureTask));
  g_array_set_clear_func(tasks, hf_cure_task_clear);
  for (guint i = 0; i < stands->len; i++)
    add_tasks(tasks, &g_array_index(stands, Stand, i));
  if (!hf_crew_work(crew, tasks, error))
    return NULL;
  GPtrArray *next = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  for (guint i = 0; i < tasks->len; i++) {
    HfCureTask *task = &g_array_index(tasks, HfCureTask, i);
    if (task->nearer != NULL)
      g_ptr_array_add(next, g_steal_pointer(&task->nearer));
  }
  g_ptr_array_sort(next, hf_cures_compare);
  return next;
}

static gboolean
any_whole(const GPtrArray *sorted)
{
  return sorted->len > 0 && ((const HfCured *)sorted->pdata[0])->whole;
}

static void
keep_whole(GPtrArray *sorted)
{
  guint n = 0;
  while (n < sorted->len && n < MOST_KEPT && ((const HfCured *)sorted->pdata[n])->whole)
    n++;
  g_ptr_array_set_size(sorted, (gint)n);
}

/* Those with fewer stops than the given sign. */
static GPtrArray *
nearer_than_given(const HfCrew *crew, const GPtrArray *first)
{
  guint stops = hf_match_stops(hf_crew_given(crew));
  GPtrArray *nodes = g_ptr_array_new();
  for (guint i = 0; i < first->len; i++)
    if (hf_match_stops(((const HfCured *)first->pdata[i])->run) < stops)
      g_ptr_array_add(nodes, first->pdata[i]);
  g_ptr_array_sort(nodes, hf_cures_compare);
  return nodes;
}

GPtrArray *
hf_cures_combine(HfCrew *crew, const GPtrArray *first, GError **error)
{
  g_autoptr(GPtrArray) nodes = nearer_than_given(crew, first);
  for (guint depth = 1; depth < DEPTH && nodes->len > 0; depth++) {
    GPtrArray *next = go_on(crew, nodes, error);
    if (next == NULL)
      return NULL;
    g_ptr_array_unref(nodes);
    nodes = next;
    if (any_whole(nodes))
      break;
  }
  if (nodes->len > 0 && !any_whole(nodes))
    return g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  keep_whole(nodes);
  return g_steal_pointer(&nodes);
}
