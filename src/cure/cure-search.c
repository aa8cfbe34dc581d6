/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-search.c - the search for cures: many hands, one list, always in the same order.
 *
 *   tasks:  [0] [1] [2] [3] [4] ...      each hand takes the next one, with fonts of its own
 *   hands:   A   B   A   A   B           what it came to is put back into the task
 *   list:   in the order of hf_cures_compare(), which knows nothing of hands or time
 */
#include "base/beside.h"
#include "cure/search-private.h"
#include <string.h>

enum { MOST_HANDS = 4, MOST_COST = 100 };
enum { AT_ONCE = 4, LEAST_RUNS = 6 }; /* tasks between two looks at the budget; of each knob */
enum { RUNS_OF_RULE = 4 };            /* that a rule which mends takes, about */

/* Units of work, see base/cancel.h. */
static const guint ALL_WORK = 4200000;    /* of a search that finds nothing whole */
static const guint KEPT_WORK = 2000000;   /* of it, while rules are tried, for the rest */
static const guint RUN_WORK = 1000000;    /* of one run */
static const guint TIDY_WORK = 300000;    /* kept back for tidying up */
static const guint RESORT_WORK = 500000;  /* for what is tried where nothing is whole */
static const guint BETTER_WORK = 1200000; /* for something better than the first that is whole, */
static const double CROWDED = 0.5;        /* of the margin that words should keep */
static const double CROWDED_COST = 5; /* per cent: what words moved or smaller may cost for it */
static const guint CHEAPER_WORK = 700000; /* or than one that is seen little */

void
hf_cured_free(HfCured *cured)
{
  if (cured == NULL)
    return;
  g_free(cured->key);
  g_free(cured->sentence);
  g_ptr_array_unref(cured->steps);
  g_free(cured->recipe);
  g_clear_pointer(&cured->takes, g_array_unref);
  g_clear_pointer(&cured->links, g_array_unref);
  hf_sign_free(cured->sign);
  g_free(cured);
}

void
hf_cure_task_clear(gpointer data)
{
  HfCureTask *task = data;
  hf_cured_free(task->tidy);
  hf_cured_free(task->cure);
  hf_cured_free(task->nearer);
}

/* ---- the hands --------------------------------------------------------------------------------
 */

struct HfCrew {
  HfCureBase given;
  HfTryFunc try_text;
  const HfCuresOptions *options;
  HfTried *texts; /* that were tried */
  guint tried, of, work;
  guint until; /* work at which the search ends, */
  guint kept;  /* and what of it is kept back for later */
  gboolean told_whole, drawn_in;
  double least;               /* cost of the cheapest that is whole */
  HfFonts *fonts[MOST_HANDS]; /* of each hand */
};

static void
hf_crew_clear(HfCrew *crew)
{
  for (guint i = 0; i < MOST_HANDS; i++)
    hf_fonts_free(crew->fonts[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfCrew, hf_crew_clear)

/* One round of work: a few tasks, so that what they leave of the budget is there for the next. */
typedef struct {
  const HfCrew *crew;
  GArray *tasks;
  const guint *which; /* tasks of this round */
  guint n;
  gint next, hands;  /* atomic: the next of them to take; hands that began */
  GAsyncQueue *done; /* GUINT_TO_POINTER(task + 1) */
} Round;

const HfSign *
hf_crew_given(const HfCrew *crew)
{
  return crew->given.sign;
}

const HfCancel *
hf_crew_cancel(const HfCrew *crew)
{
  return crew->options->cancel;
}

guint
hf_crew_work_left(const HfCrew *crew)
{
  guint end = crew->until - MIN(crew->kept, crew->until);
  return crew->work < end ? end - crew->work : 0;
}

void
hf_crew_tidies(HfCrew *crew)
{
  crew->kept = 0;
  crew->until = MAX(crew->until, crew->work + TIDY_WORK);
}

static double
seen_of(const HfFamily *family)
{
  return family->seen > 0 ? family->seen : 1;
}

/* The knob of change @i, before it: where an earlier one left it. */
static double
where_it_was(const GArray *links, guint i)
{
  const HfCureLink *link = &g_array_index(links, HfCureLink, i);
  for (guint k = i; k-- > 0;) {
    const HfCureLink *earlier = &g_array_index(links, HfCureLink, k);
    if (hf_proposal_same_knob(earlier->proposal, link->proposal))
      return earlier->value;
  }
  return link->proposal->from + link->moved;
}

void
hf_cure_say(HfCured *cured)
{
  g_clear_pointer(&cured->steps, g_ptr_array_unref);
  cured->last = FALSE;
  cured->seen = 0;
  cured->steps = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GString) sentence = g_string_new(NULL), key = g_string_new(NULL);
  for (guint i = 0; i < cured->links->len; i++) {
    const HfCureLink *link = &g_array_index(cured->links, HfCureLink, i);
    cured->last = cured->last || link->proposal->last;
    cured->seen = fmax(cured->seen, seen_of(link->proposal->family));
    char *step =
        hf_proposal_sentence_from(link->proposal, where_it_was(cured->links, i), link->value);
    g_ptr_array_add(cured->steps, step);
    g_string_append_printf(sentence, "%s%s", i > 0 ? ", and " : "", step);
    g_string_append_printf(key, "%s%s", i > 0 ? "+" : "", link->proposal->family->key);
  }
  g_free(cured->sentence);
  g_free(cured->key);
  cured->sentence = g_string_free(g_steal_pointer(&sentence), FALSE);
  cured->key = g_string_free(g_steal_pointer(&key), FALSE);
}

/* The changes before, and this one. */
static void
set_steps(HfCured *cured, const HfCureTask *task, double value)
{
  HfCureLink link = {task->proposal, value, 0};
  cured->links = task->after != NULL ? g_array_copy(task->after->links)
                                     : g_array_new(FALSE, FALSE, sizeof(HfCureLink));
  g_array_append_val(cured->links, link);
  hf_cure_say(cured);
}

guint
hf_cure_guards(const GArray *links, gint without)
{
  guint guards = 0;
  for (guint i = 0; links != NULL && i < links->len; i++)
    if ((gint)i != without)
      guards |= g_array_index(links, HfCureLink, i).proposal->family->guards;
  return guards;
}

/* Takes @trial. */
static HfCured *
cured_of(const HfSign *given, const HfCureTask *task, HfTrial *trial)
{
  guint guards = task->proposal->family->guards;
  if (task->after != NULL)
    guards |= hf_cure_guards(task->after->links, -1);
  if (trial == NULL || hf_match_hides(given, trial->sign, guards)) {
    hf_trial_free(trial);
    return NULL;
  }
  HfCured *cured = g_new0(HfCured, 1);
  set_steps(cured, task, trial->value);
  cured->recipe = g_steal_pointer(&trial->text);
  cured->length = trial->length;
  cured->sign = g_steal_pointer(&trial->sign);
  hf_trial_free(trial);
  hf_measure_cured(given, cured);
  return cured;
}

static void
do_task(const HfCrew *crew, HfCureTask *task, const HfHand *hand)
{
  HfTurned turned;
  HfHand own = *hand;
  own.most = MIN(RUN_WORK, task->most);
  if (task->tidy != NULL) {
    task->work = hf_cure_tidy(&crew->given, task->tidy, task->most, &own);
    return;
  }
  own.keep = !hf_proposal_has_knob(task->proposal);
  if (!hf_trial_turn(&task->base, task->proposal, task->alone, task->most, &own, &turned, NULL))
    return;
  task->work = turned.work;
  task->cure = cured_of(crew->given.sign, task, turned.cure);
  task->nearer = cured_of(crew->given.sign, task, turned.nearer);
}

static gpointer
work(gpointer data)
{
  Round *round = data;
  const HfCrew *crew = round->crew;
  HfFonts *fonts = crew->fonts[g_atomic_int_add(&round->hands, 1)];
  HfHand hand = {crew->try_text, fonts, crew->options->cancel, crew->texts, FALSE, 0};
  guint i;
  while ((i = (guint)g_atomic_int_add(&round->next, 1)) < round->n) {
    guint task = round->which[i];
    do_task(crew, &g_array_index(round->tasks, HfCureTask, task), &hand);
    g_async_queue_push(round->done, GUINT_TO_POINTER(task + 1));
  }
  return NULL;
}

/* Another sign, and not even whole, is no answer. */
static gboolean
is_worth_telling(const HfCured *cured)
{
  return cured->whole || cured->cost <= MOST_COST;
}

/* Of several changes, what is there to tell: when it is tidy; but a first one that is whole at
 * once. A change that leaves the metal as it is asks less of it: that is for the maker to say. */
static const HfCured *
to_tell(const HfCrew *crew, const HfCureTask *task)
{
  if (task->alone)
    return task->cure;
  if (task->nearer == NULL || crew->told_whole || !task->nearer->whole ||
      hf_measure_same_metal(task->nearer->sign, task->base.sign))
    return task->tidy;
  return task->nearer;
}

/* From the first whole sign on it is a matter of what is seen less. Which one was the first of a
 * round hangs on time: all are looked at. */
static void
note_whole(HfCrew *crew, const HfCured *cured)
{
  crew->told_whole = TRUE;
  crew->least = fmin(crew->least, cured->cost);
}

/* At the end of a round: the same whatever hand did what. */
static void
draw_in(HfCrew *crew)
{
  if (!crew->told_whole || crew->drawn_in || crew->given.sign->hold->whole)
    return;
  gboolean cheap = hf_cures_is_cheap(crew->least);
  guint more = cheap ? CHEAPER_WORK : crew->work + BETTER_WORK;
  crew->until = MIN(crew->until, crew->work + more);
  crew->kept = MIN(crew->kept, (crew->until - MIN(crew->work, crew->until)) / 2);
  crew->drawn_in = cheap;
}

static void
tell(HfCrew *crew, const HfCureTask *task)
{
  const HfCuresOptions *options = crew->options;
  crew->tried++;
  crew->work += task->work;
  if (options->progress != NULL)
    options->progress(crew->tried, crew->of, options->data);
  const HfCured *cured = to_tell(crew, task);
  if (cured == NULL || !is_worth_telling(cured))
    return;
  if (cured->whole && !cured->as_is && !cured->last)
    note_whole(crew, cured);
  if (options->found != NULL)
    options->found(cured, options->data);
}

void
hf_crew_looks_no_further(HfCrew *crew)
{
  if (crew->options->ret_no_further != NULL)
    *crew->options->ret_no_further = TRUE;
}

static gboolean
work_round(HfCrew *crew, GArray *tasks, const guint *which, guint n, GError **error)
{
  hf_tried_next_round(crew->texts);
  Round round = {crew, tasks, which, n, 0, 0, g_async_queue_new()};
  guint hands =
      crew->options->hands != 0 ? crew->options->hands : MIN(g_get_num_processors(), MOST_HANDS);
  GThread *threads[MOST_HANDS];
  hands = MIN(MIN(hands, n), MOST_HANDS);
  hands = hf_beside_hands("cure", work, &round, hands, threads);
  for (guint i = 0; i < n; i++) {
    guint done = GPOINTER_TO_UINT(g_async_queue_pop(round.done));
    tell(crew, &g_array_index(tasks, HfCureTask, done - 1));
  }
  for (guint i = 0; i < hands; i++)
    g_thread_join(threads[i]);
  g_async_queue_unref(round.done);
  draw_in(crew);
  return hf_cancel_check(crew->options->cancel, error);
}

/* Enough of it for a knob to be turned at all. */
static guint
least_of_knob(const HfCureTask *task)
{
  return LEAST_RUNS * hf_trial_work(task->base.sign);
}

/* What a task may take: a knob its share, with as many as @to_come beside and behind it, but enough
 * to be turned at all, and never more than all @beside have together; what has no knob, of that. */
static guint
share_of(const HfCrew *crew, const HfCureTask *task, guint beside, guint to_come)
{
  guint left = hf_crew_work_left(crew);
  if (task->tidy != NULL || !hf_proposal_has_knob(task->proposal))
    return left / beside;
  return MIN(MAX(left / to_come, least_of_knob(task)), left / beside);
}

/* How many tasks at once: fewer where what is left would be too little for each; but of knobs two
 * hands have one each. */
static guint
beside_each_other(const HfCrew *crew, const HfCureTask *task, guint most)
{
  guint left = hf_crew_work_left(crew);
  if (task->tidy != NULL)
    return most;
  if (hf_proposal_has_knob(task->proposal))
    return CLAMP(left / least_of_knob(task), MIN(2, most), most);
  return CLAMP(left / (RUNS_OF_RULE * hf_trial_work(task->base.sign)), 1, most);
}

static gboolean
work_at(HfCrew *crew, GArray *tasks, const GArray *which, GError **error)
{
  for (guint i = 0, n; i < which->len; i += n) {
    const guint *some = &g_array_index(which, guint, i);
    n = beside_each_other(crew, &g_array_index(tasks, HfCureTask, some[0]),
                          MIN(AT_ONCE, which->len - i));
    if (hf_crew_work_left(crew) == 0) {
      hf_crew_looks_no_further(crew);
      return TRUE;
    }
    for (guint k = 0; k < n; k++) {
      HfCureTask *task = &g_array_index(tasks, HfCureTask, some[k]);
      task->most = MIN(task->most, share_of(crew, task, n, which->len - i));
    }
    if (!work_round(crew, tasks, some, n, error))
      return FALSE;
  }
  return TRUE;
}

gboolean
hf_crew_work(HfCrew *crew, GArray *tasks, GError **error)
{
  g_autoptr(GArray) which = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < tasks->len; i++)
    g_array_append_val(which, i);
  crew->of += tasks->len;
  return work_at(crew, tasks, which, error);
}

/* ---- the list ---------------------------------------------------------------------------------
 */

/* Words at the edge of their plate: not half as far off as they should be, and nobody accepted it.
 */
static gboolean
is_crowded(const HfCured *cured)
{
  const GPtrArray *findings = cured->sign->hold->findings;
  for (guint i = 0; i < findings->len; i++) {
    const HfFinding *finding = findings->pdata[i];
    if (finding->kind == HF_LAW_TIGHT_MARGIN && finding->accepted == NULL &&
        finding->measured < CROWDED * finding->limit)
      return TRUE;
  }
  return FALSE;
}

static double
ranked_cost(const HfCured *cured)
{
  return cured->cost * (cured->seen > 0 ? cured->seen : 1) + (is_crowded(cured) ? CROWDED_COST : 0);
}

/* Nothing that is made changes: less is asked of it. */
static gboolean
asks_less(const HfCured *cured)
{
  return cured->as_is && !cured->studs;
}

gint
hf_cures_compare(gconstpointer p, gconstpointer q)
{
  const HfCured *a = *(HfCured *const *)p, *b = *(HfCured *const *)q;
  if (asks_less(a) != asks_less(b))
    return asks_less(a) ? 1 : -1;
  if (a->whole != b->whole)
    return a->whole ? -1 : 1;
  if (a->last != b->last)
    return a->last ? 1 : -1;
  guint left_a = hf_match_stops(a->sign), left_b = hf_match_stops(b->sign);
  if (left_a != left_b)
    return left_a < left_b ? -1 : 1;
  gint64 cost_a = llround(ranked_cost(a) * 1e6), cost_b = llround(ranked_cost(b) * 1e6);
  if (cost_a != cost_b)
    return cost_a < cost_b ? -1 : 1;
  if (a->cautions != b->cautions)
    return a->cautions < b->cautions ? -1 : 1;
  int order = strcmp(a->key, b->key);
  if (order == 0)
    order = strcmp(a->sentence, b->sentence);
  return order;
}

/* Two that leave the metal as it is may ask less of it in different ways. */
static gboolean
is_there(const GPtrArray *list, const HfCured *cured)
{
  for (guint i = 0; i < list->len && !cured->as_is; i++)
    if (hf_measure_same_metal(((const HfCured *)list->pdata[i])->sign, cured->sign))
      return TRUE;
  return FALSE;
}

static void
add_tasks(GArray *tasks, const HfSign *sign, const char *text, gsize length,
          const GPtrArray *proposals)
{
  for (guint i = 0; i < proposals->len; i++) {
    HfCureTask task = {.base = {sign, text, length},
                       .proposal = proposals->pdata[i],
                       .alone = TRUE,
                       .most = G_MAXUINT};
    g_array_append_val(tasks, task);
  }
}

/* ---- single changes, the likely ones first ----------------------------------------------------
 *
 *   ties ─> ties and another rule ─> mending ─> mending and another rule ─> others ─> knobs
 *
 * A sign that needs both is whole after a few runs, before any knob is turned.
 */

typedef enum { TIES, RULES, PLAIN, KNOBS, RESORTS, N_TURNS = RESORTS } Turn;

static Turn
turn_of(const HfProposal *proposal)
{
  if (proposal->family->is_resort)
    return RESORTS;
  if (hf_proposal_has_knob(proposal))
    return KNOBS;
  if (!proposal->family->is_rule)
    return PLAIN;
  return proposal->family == hf_cure_family("ties") ? TIES : RULES;
}

/* (element-type guint) */
static GArray *
tasks_of_turn(const GArray *tasks, Turn turn)
{
  GArray *which = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < tasks->len; i++)
    if (turn_of(g_array_index(tasks, HfCureTask, i).proposal) == turn)
      g_array_append_val(which, i);
  return which;
}

/* (element-type HfCured) of those in @which, without a second one of the same metal; borrowed. */
static GPtrArray *
results_of(const GArray *tasks, const GArray *which)
{
  GPtrArray *results = g_ptr_array_new();
  for (guint i = 0; i < which->len; i++) {
    const HfCureTask *task = &g_array_index(tasks, HfCureTask, g_array_index(which, guint, i));
    if (task->cure != NULL && !is_there(results, task->cure))
      g_ptr_array_add(results, task->cure);
    if (task->nearer != NULL && !is_there(results, task->nearer))
      g_ptr_array_add(results, task->nearer);
  }
  return results;
}

static gboolean
try_singly(HfCrew *crew, GArray *tasks, HfCombining *combining, GError **error)
{
  crew->of += tasks->len;
  for (Turn turn = 0; turn < N_TURNS; turn++) {
    g_autoptr(GArray) which = tasks_of_turn(tasks, turn);
    crew->kept = 0;
    crew->kept = MIN(hf_crew_work_left(crew) / 2, turn == KNOBS ? G_MAXUINT : KEPT_WORK);
    if (!work_at(crew, tasks, which, error))
      return FALSE;
    g_autoptr(GPtrArray) results = results_of(tasks, which);
    if (turn <= RULES && !crew->told_whole && !hf_cures_combine_rules(combining, results, error))
      return FALSE;
  }
  crew->kept = TIDY_WORK;
  return TRUE;
}

/* Cures into @list, all that is nearer into @first, which borrows the cures. */
static void
take_results(GArray *tasks, GPtrArray *list, GPtrArray *first)
{
  for (guint i = 0; i < tasks->len; i++) {
    HfCureTask *task = &g_array_index(tasks, HfCureTask, i);
    if (task->cure != NULL && is_worth_telling(task->cure) && !is_there(list, task->cure))
      g_ptr_array_add(list, g_steal_pointer(&task->cure));
  }
  for (guint i = 0; i < list->len; i++)
    g_ptr_array_add(first, list->pdata[i]);
  for (guint i = 0; i < tasks->len; i++) {
    const HfCured *nearer = g_array_index(tasks, HfCureTask, i).nearer;
    if (nearer != NULL && !is_there(first, nearer))
      g_ptr_array_add(first, (gpointer)nearer);
  }
}

const HfCured *
hf_cures_best(const GPtrArray *cures)
{
  const HfCured *first = cures->len > 0 ? cures->pdata[0] : NULL;
  return first != NULL && first->whole && !first->as_is ? first : NULL;
}

/* Takes what is whole out of @combined into @list. */
static void
take_combined(GPtrArray *list, GPtrArray *combined)
{
  for (guint i = 0; i < combined->len; i++)
    if (!is_there(list, combined->pdata[i]))
      g_ptr_array_add(list, g_steal_pointer(&combined->pdata[i]));
}

/* Takes @a away all that @b does? */
static gboolean
does_all_of(const HfCured *a, const HfCured *b)
{
  for (guint i = 0; i < b->takes->len; i++) {
    gboolean there = FALSE;
    for (guint k = 0; k < a->takes->len && !there; k++)
      there = g_array_index(a->takes, guint, k) == g_array_index(b->takes, guint, i);
    if (!there)
      return FALSE;
  }
  return TRUE;
}

/* Two ways to one change differ by a hair: the first will do. */
static gboolean
is_said_before(const GPtrArray *list, guint i)
{
  const HfCured *cured = list->pdata[i];
  for (guint k = 0; k < i; k++)
    if (strcmp(((const HfCured *)list->pdata[k])->sentence, cured->sentence) == 0)
      return TRUE;
  return FALSE;
}

/* Where something makes the sign whole, half measures that do no more than one listed before them
 * are in the way. The links were of the search. */
static void
leave_out(GPtrArray *list)
{
  gboolean whole = hf_cures_best(list) != NULL;
  for (guint i = 0; i < list->len; i++) {
    HfCured *cured = list->pdata[i];
    g_clear_pointer(&cured->links, g_array_unref);
    if (is_said_before(list, i)) {
      g_ptr_array_remove_index(list, i--);
      continue;
    }
    for (guint k = 0; k < i && whole && !cured->whole && !cured->as_is; k++) {
      const HfCured *before = list->pdata[k];
      if (before->whole || !does_all_of(before, cured))
        continue;
      g_ptr_array_remove_index(list, i--);
      break;
    }
  }
}

/* Where nothing makes the sign whole, or only what spoils it. */
static gboolean
try_resorts(HfCrew *crew, GArray *tasks, GPtrArray *list, GError **error)
{
  const HfCured *best = hf_cures_best(list);
  if (crew->given.sign->hold->whole || (best != NULL && !best->last))
    return TRUE;
  g_autoptr(GArray) which = tasks_of_turn(tasks, RESORTS);
  crew->kept = 0;
  crew->until = crew->work + RESORT_WORK;
  if (!work_at(crew, tasks, which, error))
    return FALSE;
  for (guint i = 0; i < which->len; i++) {
    HfCureTask *task = &g_array_index(tasks, HfCureTask, g_array_index(which, guint, i));
    if (task->cure != NULL && task->cure->whole && is_worth_telling(task->cure))
      g_ptr_array_add(list, g_steal_pointer(&task->cure));
  }
  g_ptr_array_sort(list, hf_cures_compare);
  return TRUE;
}

GPtrArray *
hf_cures_find(const HfSign *sign, const char *text, gsize length, HfTryFunc try_text,
              const HfCuresOptions *options, GError **error)
{
  g_return_val_if_fail(sign != NULL && sign->hold != NULL && text != NULL, NULL);
  g_autoptr(GPtrArray) proposals = hf_cure_proposals(sign, options->cancel);
  return hf_cures_among(sign, text, length, proposals, try_text, options, error);
}

GPtrArray *
hf_cures_among(const HfSign *sign, const char *text, gsize length, const GPtrArray *proposals,
               HfTryFunc try_text, const HfCuresOptions *options, GError **error)
{
  g_autoptr(HfTried) texts = hf_tried_new();
  g_auto(HfCrew) crew = {.given = {sign, text, length},
                         .try_text = try_text,
                         .options = options,
                         .texts = texts,
                         .until = ALL_WORK,
                         .least = INFINITY};
  for (guint i = 0; i < MOST_HANDS; i++)
    crew.fonts[i] = hf_fonts_new();
  g_autoptr(HfCombining) combining = hf_combining_new(&crew);
  g_autoptr(GArray) tasks = g_array_new(FALSE, TRUE, sizeof(HfCureTask));
  g_array_set_clear_func(tasks, hf_cure_task_clear);
  add_tasks(tasks, sign, text, length, proposals);
  if (!try_singly(&crew, tasks, combining, error))
    return NULL;
  g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  g_autoptr(GPtrArray) first = g_ptr_array_new();
  take_results(tasks, list, first);
  g_ptr_array_sort(list, hf_cures_compare);
  const HfCured *best = hf_cures_best(list);
  best = best != NULL && best->last ? NULL : best;
  if (!sign->hold->whole && (best == NULL || !hf_cures_is_cheap(best->cost))) {
    double bound = best != NULL ? best->cost : INFINITY;
    g_autoptr(GPtrArray) combined = hf_cures_combine(combining, first, bound, error);
    if (combined == NULL)
      return NULL;
    take_combined(list, combined);
    g_ptr_array_sort(list, hf_cures_compare);
  }
  if (!try_resorts(&crew, tasks, list, error))
    return NULL;
  leave_out(list);
  return g_steal_pointer(&list);
}
