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

/* Rules have no knob, and cost a run each; turning a knob costs many. */
static void
add_tasks(GArray *tasks, const Stand *stand, gboolean with_knob)
{
  const HfCured *cured = stand->cured;
  guint added = 0;
  for (guint i = 0; i < stand->proposals->len && added < MOST_PROPOSALS; i++) {
    const HfProposal *proposal = stand->proposals->pdata[i];
    if (isnan(proposal->step) == with_knob || !targets_a_stop(cured->run, proposal))
      continue;
    HfCureTask task = {
        .base = {cured->run, cured->recipe, cured->length}, .after = cured, .proposal = proposal};
    g_array_append_val(tasks, task);
    added++;
  }
}

/* A change that leaves the metal as it is asks less of it: that is for the maker to say. */
static gboolean
same_metal(const HfRun *a, const HfRun *b)
{
  return hf_measure_equal(a->metal->region, b->metal->region);
}

/* Tries those with a knob, or those without, at every stand; adds all that is nearer to @next. */
static gboolean
try_all(HfCrew *crew, const GArray *stands, gboolean with_knob, GPtrArray *next, GError **error)
{
  g_autoptr(GArray) tasks = g_array_new(FALSE, TRUE, sizeof(HfCureTask));
  g_array_set_clear_func(tasks, hf_cure_task_clear);
  for (guint i = 0; i < stands->len; i++)
    add_tasks(tasks, &g_array_index(stands, Stand, i), with_knob);
  if (!hf_crew_work(crew, tasks, error))
    return FALSE;
  for (guint i = 0; i < tasks->len; i++) {
    HfCureTask *task = &g_array_index(tasks, HfCureTask, i);
    if (task->nearer != NULL && !same_metal(task->nearer->run, task->base.run))
      g_ptr_array_add(next, g_steal_pointer(&task->nearer));
  }
  g_ptr_array_sort(next, hf_cures_compare);
  return TRUE;
}

static gboolean
any_whole(const GPtrArray *sorted)
{
  return sorted->len > 0 && ((const HfCured *)sorted->pdata[0])->whole;
}

/* One change more. Returns: (element-type HfCured) all that is nearer, sorted; %NULL: stopped. */
static GPtrArray *
go_on(HfCrew *crew, const GPtrArray *nodes, GError **error)
{
  g_autoptr(GArray) stands = stands_on(nodes);
  g_autoptr(GPtrArray) next = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  if (!try_all(crew, stands, FALSE, next, error))
    return NULL;
  if (!any_whole(next) && !try_all(crew, stands, TRUE, next, error))
    return NULL;
  return g_steal_pointer(&next);
}

/* The same changes, made in another order? */
static gboolean
same_steps(const HfCured *a, const HfCured *b)
{
  if (a->steps->len != b->steps->len)
    return FALSE;
  for (guint i = 0; i < a->steps->len; i++)
    if (!g_ptr_array_find_with_equal_func(b->steps, a->steps->pdata[i], g_str_equal, NULL))
      return FALSE;
  return TRUE;
}

static gboolean
is_another_order(const GPtrArray *kept, const HfCured *cured)
{
  for (guint i = 0; i < kept->len; i++)
    if (same_steps(kept->pdata[i], cured))
      return TRUE;
  return FALSE;
}

/* Of @sorted what is whole, each set of changes once. */
static GPtrArray *
whole_of(GPtrArray *sorted)
{
  GPtrArray *kept = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  for (guint i = 0; i < sorted->len && kept->len < MOST_KEPT; i++) {
    HfCured *cured = sorted->pdata[i];
    if (cured->whole && !is_another_order(kept, cured))
      g_ptr_array_add(kept, g_steal_pointer(&sorted->pdata[i]));
  }
  return kept;
}

/* Those with fewer stops than the given sign. */
static GPtrArray *
nearer_than_given(const HfCrew *crew, const GPtrArray *first)
{
  guint stops = hf_match_stops(hf_crew_given(crew));
  GPtrArray *nodes = g_ptr_array_new();
  for (guint i = 0; i < first->len; i++) {
    const HfCured *cured = first->pdata[i];
    if (!cured->as_is && hf_match_stops(cured->run) < stops)
      g_ptr_array_add(nodes, first->pdata[i]);
  }
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
  return any_whole(nodes) ? whole_of(nodes)
                          : g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
}
