/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-combine.c - several changes, one after another, where one alone does not make the sign
 * whole, or only with a change that is much seen.
 *
 *   given ──> letters closer (3 stops left) ──> tie what is loose (1 left) ──> round a point: whole
 *        └──> bolder (5 left) ──> ...
 *
 * Greedy with a little width: of all that one change came to, a few are changed once more, by what
 * is proposed for what they are now, up to four changes: those with the fewest stops left (of
 * equals, those that are seen least), no two of a kind; and the one that is seen least of those
 * that take half of the stops. As with any bound: what costs more than a sign that is whole already
 * is not gone on from. It ends with a whole sign that is cheap, or when enough was tried.
 */
#include "cure/search-private.h"
#include <string.h>

enum {
  WIDTH = 2,
  FILLERS = 3,
  DEPTH = 4,
  MOST_RULES = 32,
  MOST_KNOBS = 5,
  LEAST_KNOBS = 3,
  MOST_KEPT = 4,
  NEARLY = 2
};
static const double CHEAP = 8;       /* per cent: docs/maths.md#cures-ranking */
static const double MUCH_MORE = 1.5; /* of a cost */
static const guint RUNS_OF_KNOB = 8; /* to find what a later change can do */
static const guint PER_KNOB = 10;    /* runs that turning one takes, about */

/* A place from which to go on, with what is proposed there. */
typedef struct {
  const HfCured *cured;
  const GPtrArray *proposals;
} Stand;

struct HfCombining {
  HfCrew *crew;
  double bound;       /* cost of the cheapest that is whole */
  GPtrArray *kept;    /* HfCured: whole */
  GPtrArray *between; /* arrays of what is neither, and of proposals: others point into them */
};

gboolean
hf_cures_is_cheap(double cost)
{
  return cost <= CHEAP;
}

/* ---- where to go on ---------------------------------------------------------------------------
 */

static gboolean
has_step(const HfCured *cured, const HfProposal *proposal)
{
  for (guint i = 0; i < cured->links->len; i++) {
    const HfProposal *other = g_array_index(cured->links, HfCureLink, i).proposal;
    if (proposal->family->is_rule ? other->family == proposal->family
                                  : hf_proposal_same(other, proposal))
      return TRUE;
  }
  return FALSE;
}

/* The same changes in another order, by other amounts, or with other ties or mending. */
static gboolean
of_a_kind(const HfCured *a, const HfCured *b)
{
  if (a->links->len != b->links->len)
    return FALSE;
  for (guint i = 0; i < a->links->len; i++)
    if (!has_step(b, g_array_index(a->links, HfCureLink, i).proposal))
      return FALSE;
  return TRUE;
}

static gboolean
kind_is_there(const GPtrArray *list, const HfCured *cured)
{
  for (guint i = 0; i < list->len; i++)
    if (of_a_kind(list->pdata[i], cured))
      return TRUE;
  return FALSE;
}

/* Of @nodes, sorted, those to go on from. */
static GPtrArray *
choose(const HfCombining *c, const GPtrArray *nodes)
{
  GPtrArray *chosen = g_ptr_array_new();
  guint half = hf_match_stops(hf_crew_given(c->crew)) / 2;
  HfCured *least = NULL;
  for (guint i = 0; i < nodes->len; i++) {
    HfCured *cured = nodes->pdata[i];
    if (cured->cost > c->bound || kind_is_there(chosen, cured))
      continue;
    if (hf_match_stops(cured->sign) <= half && (least == NULL || cured->cost < least->cost))
      least = cured;
    if (chosen->len < WIDTH)
      g_ptr_array_add(chosen, cured);
  }
  if (least != NULL && !kind_is_there(chosen, least))
    g_ptr_array_add(chosen, least);
  return chosen;
}

/* ---- what rules leave
 * ----------------------------------------------------------------------------
 *
 *   ties, mending: letters still run over the edge        smaller by itself: they don't
 *   smaller, then ties, then mending: whole
 *
 * What rules leave, no rule takes. The cheapest single changes that do are tried with rules behind
 * them: a knob turned first costs runs without rules; turned behind them, each of its runs works
 * them out again.
 */

static gboolean
takes(const HfCured *cured, guint finding)
{
  for (guint i = 0; i < cured->takes->len; i++)
    if (g_array_index(cured->takes, guint, i) == finding)
      return TRUE;
  return FALSE;
}

/* Does @cured take a stop of the given sign that @other leaves? */
static gboolean
fills_in(const HfCombining *c, const HfCured *cured, const HfCured *other)
{
  const HfSign *given = hf_crew_given(c->crew);
  for (guint i = 0; i < cured->takes->len; i++) {
    guint finding = g_array_index(cured->takes, guint, i);
    if (hf_sign_finding(given, finding)->gravity == HF_STOP && !takes(other, finding))
      return TRUE;
  }
  return FALSE;
}

static gboolean
is_of_rules(const HfCured *cured)
{
  for (guint i = 0; i < cured->links->len; i++)
    if (!g_array_index(cured->links, HfCureLink, i).proposal->family->is_rule)
      return FALSE;
  return TRUE;
}

static gint
by_cost(gconstpointer p, gconstpointer q)
{
  double a = (*(HfCured *const *)p)->cost, b = (*(HfCured *const *)q)->cost;
  return (a > b) - (a < b);
}

/* (transfer full) (element-type HfCured) borrowed: of @all those that take what the best of rules
 * leaves, the cheapest first. */
static GPtrArray *
choose_fillers(const HfCombining *c, const GPtrArray *all)
{
  g_autoptr(GPtrArray) sorted = g_ptr_array_copy((GPtrArray *)all, NULL, NULL);
  GPtrArray *fillers = g_ptr_array_new();
  g_ptr_array_sort(sorted, hf_cures_compare);
  const HfCured *best = NULL;
  for (guint i = 0; i < sorted->len && best == NULL; i++)
    best = is_of_rules(sorted->pdata[i]) ? sorted->pdata[i] : NULL;
  g_ptr_array_sort(sorted, by_cost);
  for (guint i = 0; best != NULL && i < sorted->len && fillers->len < FILLERS; i++) {
    HfCured *cured = sorted->pdata[i];
    if (!cured->as_is && !cured->whole && cured->cost <= c->bound && !is_of_rules(cured) &&
        fills_in(c, cured, best))
      g_ptr_array_add(fillers, cured);
  }
  return fillers;
}

static GArray *
stands_on(HfCombining *c, const GPtrArray *nodes)
{
  GArray *stands = g_array_new(FALSE, FALSE, sizeof(Stand));
  g_autoptr(GPtrArray) chosen = choose(c, nodes);
  for (guint i = 0; i < chosen->len; i++) {
    const HfCured *cured = chosen->pdata[i];
    Stand stand = {cured, hf_cure_proposals(cured->sign, hf_crew_cancel(c->crew))};
    g_ptr_array_add(c->between, (gpointer)stand.proposals);
    g_array_append_val(stands, stand);
  }
  return stands;
}

/* ---- one change more --------------------------------------------------------------------------
 */

static gboolean
targets_a_stop(const HfSign *sign, const HfProposal *proposal)
{
  for (guint i = 0; i < proposal->targets->len; i++) {
    guint target = g_array_index(proposal->targets, guint, i);
    if (hf_sign_finding(sign, target)->gravity == HF_STOP)
      return TRUE;
  }
  return FALSE;
}

/* Rules have no knob, and cost a run each; turning a knob costs many. Each stand has a few,
 * even where that is more than its share. */
static guint
most_tasks(const HfCombining *c, const Stand *stand)
{
  guint left = hf_crew_work_left(c->crew) / (WIDTH + 1);
  guint each = PER_KNOB * hf_trial_work(stand->cured->sign);
  return CLAMP(left / each, left > 0 ? LEAST_KNOBS : 0, MOST_KNOBS);
}

static gboolean
is_out_of_work(const HfCombining *c)
{
  return hf_crew_work_left(c->crew) == 0;
}

static void
add_tasks(const HfCombining *c, GArray *tasks, const Stand *stand, gboolean with_knob)
{
  const HfCured *cured = stand->cured;
  guint added = 0, most = with_knob ? most_tasks(c, stand) : MOST_RULES;
  for (guint i = 0; i < stand->proposals->len && added < most; i++) {
    const HfProposal *proposal = stand->proposals->pdata[i];
    if (proposal->family->is_resort || hf_proposal_has_knob(proposal) != with_knob ||
        !targets_a_stop(cured->sign, proposal))
      continue;
    HfCureTask task = {.base = {cured->sign, cured->recipe, cured->length},
                       .after = cured,
                       .proposal = proposal,
                       .most = RUNS_OF_KNOB * hf_trial_work(cured->sign)};
    g_array_append_val(tasks, task);
    added++;
  }
}

/* A change that leaves the metal as it is asks less of it: that is for the maker to say. */
static gboolean
same_metal(const HfSign *a, const HfSign *b)
{
  return hf_measure_same_metal(a, b);
}

/* Tries those with a knob, or those without, at every stand: what is whole into `kept`, what is
 * only nearer into @next. */
static gboolean
try_all(HfCombining *c, const GArray *stands, gboolean with_knob, GPtrArray *next, GError **error)
{
  g_autoptr(GArray) tasks = g_array_new(FALSE, TRUE, sizeof(HfCureTask));
  g_array_set_clear_func(tasks, hf_cure_task_clear);
  for (guint i = 0; i < stands->len; i++)
    add_tasks(c, tasks, &g_array_index(stands, Stand, i), with_knob);
  if (!hf_crew_work(c->crew, tasks, error))
    return FALSE;
  for (guint i = 0; i < tasks->len; i++) {
    HfCureTask *task = &g_array_index(tasks, HfCureTask, i);
    if (task->nearer == NULL || same_metal(task->nearer->sign, task->base.sign))
      continue;
    GPtrArray *into = task->nearer->whole ? c->kept : next;
    if (task->nearer->whole && !task->nearer->last)
      c->bound = fmin(c->bound, task->nearer->cost);
    g_ptr_array_add(into, g_steal_pointer(&task->nearer));
  }
  g_ptr_array_sort(next, hf_cures_compare);
  return TRUE;
}

/* Rules on @node, and rules behind the best of that, into @next. %FALSE: stopped. */
static gboolean
rules_down(HfCombining *c, HfCured *node, GPtrArray *next, GError **error)
{
  g_autoptr(GPtrArray) nodes = g_ptr_array_new();
  g_ptr_array_add(nodes, node);
  for (guint depth = node->links->len; depth < DEPTH && nodes->len > 0 && !is_out_of_work(c);
       depth++) {
    g_autoptr(GArray) stands = stands_on(c, nodes);
    g_autoptr(GPtrArray) found = g_ptr_array_new();
    if (!try_all(c, stands, FALSE, found, error))
      return FALSE;
    g_ptr_array_set_size(nodes, 0);
    if (found->len > 0)
      g_ptr_array_add(nodes, found->pdata[0]);
    for (guint k = 0; k < found->len; k++)
      g_ptr_array_add(next, found->pdata[k]);
  }
  g_ptr_array_sort(next, hf_cures_compare);
  return TRUE;
}

static gboolean
fill_in(HfCombining *c, const GPtrArray *fillers, GPtrArray *next, GError **error)
{
  for (guint i = 0; i < fillers->len && !hf_cures_is_cheap(c->bound); i++)
    if (!rules_down(c, fillers->pdata[i], next, error))
      return FALSE;
  return TRUE;
}

/* What is nearly whole is gone on from before all else: rules down to the last, then knobs. */
static gboolean
finish(HfCombining *c, const GPtrArray *nodes, GPtrArray *next, GError **error)
{
  HfCured *nearest = next->len > 0 ? next->pdata[0] : nodes->pdata[0];
  if (hf_match_stops(nearest->sign) > NEARLY || nearest->links->len >= DEPTH || c->kept->len > 0)
    return TRUE;
  if (next->len > 0 && !rules_down(c, nearest, next, error))
    return FALSE;
  if (c->kept->len > 0)
    return TRUE;
  g_autoptr(GPtrArray) one = g_ptr_array_new();
  g_ptr_array_add(one, nearest);
  g_autoptr(GArray) stands = stands_on(c, one);
  return try_all(c, stands, TRUE, next, error);
}

/* Rules first; knobs where these leave no whole sign that is cheap. Returns: (transfer none)
 * (element-type HfCured) all that is nearer, sorted; %NULL: stopped. */
static const GPtrArray *
go_on(HfCombining *c, const GPtrArray *nodes, const GPtrArray *fillers, GError **error)
{
  g_autoptr(GArray) stands = stands_on(c, nodes);
  GPtrArray *next = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  g_ptr_array_add(c->between, next);
  if (!try_all(c, stands, FALSE, next, error) || !finish(c, nodes, next, error) ||
      !fill_in(c, fillers, next, error))
    return NULL;
  if (hf_cures_is_cheap(c->bound))
    return next;
  if (is_out_of_work(c))
    hf_crew_looks_no_further(c->crew);
  return try_all(c, stands, TRUE, next, error) ? next : NULL;
}

/* Those with fewer stops than the given sign. */
static GPtrArray *
nearer_than_given(const HfCombining *c, const GPtrArray *first)
{
  guint stops = hf_match_stops(hf_crew_given(c->crew));
  GPtrArray *nodes = g_ptr_array_new();
  for (guint i = 0; i < first->len; i++) {
    const HfCured *cured = first->pdata[i];
    if (!cured->as_is && !cured->whole && hf_match_stops(cured->sign) < stops)
      g_ptr_array_add(nodes, first->pdata[i]);
  }
  g_ptr_array_sort(nodes, hf_cures_compare);
  return nodes;
}

/* ---- the best of them -------------------------------------------------------------------------
 */

/* More changes must be worth it. */
static gboolean
takes_too_many(const GPtrArray *kept, const HfCured *cured)
{
  for (guint i = 0; i < kept->len; i++) {
    const HfCured *other = kept->pdata[i];
    if (other->links->len < cured->links->len && MUCH_MORE * other->cost < cured->cost)
      return TRUE;
  }
  return FALSE;
}

/* Of what is whole the cheapest, each kind once; few where much was tried already. */
static void
thin_out(HfCombining *c)
{
  guint most = is_out_of_work(c) ? MOST_KEPT / 2 : MOST_KEPT;
  g_ptr_array_sort(c->kept, hf_cures_compare);
  g_autoptr(GPtrArray) all = g_steal_pointer(&c->kept);
  c->kept = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  for (guint i = 0; i < all->len && c->kept->len < most; i++)
    if (!kind_is_there(c->kept, all->pdata[i]) && !takes_too_many(c->kept, all->pdata[i]))
      g_ptr_array_add(c->kept, g_steal_pointer(&all->pdata[i]));
}

static gboolean
tidy_up(HfCombining *c, GError **error)
{
  g_autoptr(GArray) tasks = g_array_new(FALSE, TRUE, sizeof(HfCureTask));
  g_array_set_clear_func(tasks, hf_cure_task_clear);
  for (guint i = 0; i < c->kept->len; i++) {
    HfCureTask task = {.tidy = g_steal_pointer(&c->kept->pdata[i]), .most = G_MAXUINT};
    g_array_append_val(tasks, task);
  }
  g_ptr_array_set_size(c->kept, 0);
  hf_crew_tidies(c->crew);
  gboolean done = hf_crew_work(c->crew, tasks, error);
  for (guint i = 0; i < tasks->len; i++)
    g_ptr_array_add(c->kept, g_steal_pointer(&g_array_index(tasks, HfCureTask, i).tidy));
  thin_out(c);
  return done;
}

HfCombining *
hf_combining_new(HfCrew *crew)
{
  HfCombining *c = g_new0(HfCombining, 1);
  c->crew = crew;
  c->bound = INFINITY;
  c->kept = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  c->between = g_ptr_array_new_with_free_func((GDestroyNotify)g_ptr_array_unref);
  return c;
}

void
hf_combining_free(HfCombining *c)
{
  g_ptr_array_unref(c->kept);
  g_ptr_array_unref(c->between);
  g_free(c);
}

gboolean
hf_cures_combine_rules(HfCombining *c, const GPtrArray *first, GError **error)
{
  if (c->kept->len > 0)
    return TRUE;
  g_autoptr(GPtrArray) nearer = nearer_than_given(c, first);
  g_autoptr(GArray) stands = stands_on(c, nearer);
  g_autoptr(GPtrArray) next = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  return try_all(c, stands, FALSE, next, error);
}

GPtrArray *
hf_cures_combine(HfCombining *c, const GPtrArray *first, double bound, GError **error)
{
  c->bound = fmin(c->bound, bound);
  g_autoptr(GPtrArray) nearer = nearer_than_given(c, first);
  const GPtrArray *nodes = nearer;
  g_autoptr(GPtrArray) fillers = choose_fillers(c, first);
  for (guint depth = 1; depth < DEPTH && nodes->len > 0 && !hf_cures_is_cheap(c->bound); depth++) {
    nodes = go_on(c, nodes, fillers, error);
    g_ptr_array_set_size(fillers, 0);
    if (nodes == NULL)
      return NULL;
    if (is_out_of_work(c) && c->kept->len > 0) {
      hf_crew_looks_no_further(c->crew);
      break;
    }
  }
  thin_out(c);
  return tidy_up(c, error) ? g_ptr_array_ref(c->kept) : NULL;
}
