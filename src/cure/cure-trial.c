/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-trial.c - one change to the recipe, its knob turned to the least value that cures.
 *
 *     least                                                  most
 *       0 1   3       7               15            ...       n     values tried, in steps
 *               <-------|               then halved towards the least that does as much
 *
 * Where three strides in a row do no more than one, the rest is sounded at its end, its half and
 * its quarter; where a stride goes too far, values between the strides are tried as well.
 *
 * What a value does is never concluded from its neighbours: letters that are moved closer join, run
 * into each other and join again. Each value is edited, read and run in full, and what is handed on
 * is one of these runs.
 */
#include "cure/search-private.h"
#include <string.h>

enum { MOST_BETWEEN = 8, STALLED = 2 };

void
hf_trial_free(HfTrial *trial)
{
  if (trial == NULL)
    return;
  g_free(trial->text);
  hf_sign_free(trial->sign);
  hf_match_clear(&trial->match);
  g_free(trial);
}

typedef struct {
  const HfCureBase *base;
  const HfProposal *proposal;
  const HfHand *hand;
  gboolean alone;
  guint most;
  HfTrial *best, *nearer;
  guint work;
} Search;

/* ---- one value --------------------------------------------------------------------------------
 */

gboolean
hf_trial_goes_on(const GArray *edits)
{
  for (guint i = 0; i < edits->len; i++) {
    const HfEdit *edit = &g_array_index(edits, HfEdit, i);
    if (edit->kind != HF_EDIT_INSERT || edit->path->n != 1 ||
        g_strcmp0(edit->path->steps[0].key, "entries") != 0)
      return FALSE;
  }
  return TRUE;
}

static HfTrialText
changed_text(const Search *search, double value)
{
  g_autoptr(GArray) edits = hf_proposal_edits_at(search->proposal, value);
  HfTrialText changed = {.goes_on = hf_trial_goes_on(edits)};
  changed.text =
      hf_recipe_edit(search->base->text, search->base->length, edits, &changed.length, NULL);
  return changed;
}

HfTrial *
hf_trial_of(const HfSign *given, HfTrialText text, guint guards, const HfHand *hand, guint *work)
{
  g_autofree char *own = (char *)text.text;
  if (own == NULL)
    return NULL;
  HfSign *sign = hf_tried_sign(hand, given, &text, work);
  if (sign == NULL)
    return NULL;
  HfTrial *trial = g_new0(HfTrial, 1);
  *trial = (HfTrial){g_steal_pointer(&own), text.length, sign,
                     hf_match_findings(given, sign, guards), NAN};
  return trial;
}

/* %NULL: that can't be made (no room, or no recipe at all), takes too much work, or stopped. */
static HfTrial *
try_value(Search *search, double value)
{
  HfTrial *trial = hf_trial_of(search->base->sign, changed_text(search, value),
                               search->proposal->family->guards, search->hand, &search->work);
  if (trial != NULL)
    trial->value = value;
  return trial;
}

/* ---- what it is worth -------------------------------------------------------------------------
 */

static gboolean
takes(const HfTrial *trial, guint finding)
{
  for (guint i = 0; i < trial->match.takes->len; i++)
    if (g_array_index(trial->match.takes, guint, i) == finding)
      return TRUE;
  return FALSE;
}

static guint
targets_taken(const Search *search, const HfTrial *trial)
{
  guint n = 0;
  for (guint i = 0; i < search->proposal->targets->len; i++)
    n += takes(trial, g_array_index(search->proposal->targets, guint, i)) ? 1 : 0;
  return n;
}

static gboolean
takes_what_matters(const Search *search, const HfTrial *trial)
{
  const GArray *targets = search->proposal->targets;
  return trial->match.taken > 0 ||
         (targets->len > 0 && takes(trial, g_array_index(targets, guint, 0)));
}

static gboolean
is_cure(const Search *search, const HfTrial *trial)
{
  return trial->match.fresh == 0 && takes_what_matters(search, trial);
}

/* By itself, one that nobody reads is no sign: a larger change, or a smaller one, may be. */
static gboolean
is_whole(const Search *search, const HfTrial *trial)
{
  return trial->sign->hold->whole && (!search->alone || trial->match.fresh == 0);
}

/* More is better, the first that differs decides. */
enum { WORTHS = 5 };
static void
worth_of(const Search *search, const HfTrial *trial, int ret_worth[WORTHS])
{
  ret_worth[0] = is_whole(search, trial);
  ret_worth[1] = search->alone && is_cure(search, trial);
  ret_worth[2] = search->alone ? (int)trial->match.taken : 0;
  ret_worth[3] = search->alone ? (int)targets_taken(search, trial) : 0;
  ret_worth[4] = -(int)trial->match.stops;
}

/* > 0: @a does more. */
static int
compare_worth(const Search *search, const HfTrial *a, const HfTrial *b)
{
  int of_a[WORTHS], of_b[WORTHS];
  worth_of(search, a, of_a);
  worth_of(search, b, of_b);
  for (int i = 0; i < WORTHS; i++)
    if (of_a[i] != of_b[i])
      return of_a[i] - of_b[i];
  return 0;
}

/* No larger change can do more of what it was proposed for. That it is whole says so only of a sign
 * that was not. */
static gboolean
is_all(const Search *search, const HfTrial *trial)
{
  if (is_whole(search, trial) && !search->base->sign->hold->whole)
    return TRUE;
  return search->alone && is_cure(search, trial) &&
         targets_taken(search, trial) == search->proposal->targets->len;
}

/* Takes @trial. */
static void
keep_nearer(Search *search, HfTrial *trial)
{
  guint most =
      search->nearer != NULL ? search->nearer->match.stops : hf_match_stops(search->base->sign);
  if (trial == NULL || trial->match.stops >= most) {
    hf_trial_free(trial);
    return;
  }
  hf_trial_free(search->nearer);
  search->nearer = trial;
}

/* Takes @trial. Of equals the one that came first stays. */
static gboolean
keep_better(Search *search, HfTrial *trial, gboolean equal_too)
{
  int order = search->best == NULL ? 1 : compare_worth(search, trial, search->best);
  gboolean better = order > 0 || (order == 0 && equal_too);
  HfTrial *other = better ? search->best : trial;
  if (better)
    search->best = trial;
  keep_nearer(search, other);
  return better;
}

/* Neither stopped nor out of work. */
static gboolean
may_scan(const Search *search)
{
  return search->work < search->most && hf_cancel_check(search->hand->cancel, NULL);
}

/* ---- the knob ---------------------------------------------------------------------------------
 */

static int
n_steps(const HfProposal *proposal)
{
  if (isnan(proposal->step) || proposal->step <= 0)
    return 0;
  return (int)floor(fabs(proposal->most - proposal->least) / proposal->step + 1e-6);
}

double
hf_trial_value(const HfProposal *proposal, int i)
{
  if (isnan(proposal->step))
    return NAN;
  double way = proposal->most < proposal->least ? -1 : 1;
  return proposal->least + way * i * proposal->step;
}

/* The values tried so far, and what came of them. */
typedef struct {
  GArray *tried;    /* int: steps */
  int at, below;    /* the best, and the one tried before it */
  int last[WORTHS]; /* what the last one was worth */
  guint alike;      /* how many in a row were worth the same */
  gboolean too_far; /* one takes what it should, and brings stops with it */
} Scan;

static int
tried_below(const GArray *tried, int i)
{
  int below = -1;
  for (guint k = 0; k < tried->len; k++)
    if (g_array_index(tried, int, k) < i)
      below = MAX(below, g_array_index(tried, int, k));
  return below;
}

/* %FALSE: it can't be made. @ret_all: no larger one can do more. */
static gboolean
try_step(Search *search, Scan *scan, int i, gboolean *ret_all)
{
  HfTrial *trial = try_value(search, hf_trial_value(search->proposal, i));
  int below = tried_below(scan->tried, i);
  g_array_append_val(scan->tried, i);
  *ret_all = trial != NULL && is_all(search, trial);
  if (trial == NULL)
    return FALSE;
  int worth[WORTHS];
  worth_of(search, trial, worth);
  scan->alike = memcmp(worth, scan->last, sizeof worth) == 0 ? scan->alike + 1 : 0;
  memcpy(scan->last, worth, sizeof worth);
  scan->too_far = scan->too_far || (trial->match.fresh > 0 && takes_what_matters(search, trial));
  if (keep_better(search, trial, FALSE)) {
    scan->at = i;
    scan->below = below;
  }
  return TRUE;
}

/* From the smallest change on, in growing strides; later changes in longer ones, for the sake of
 * time. */
static void
stride(Search *search, int n, Scan *scan)
{
  gboolean all = FALSE, leapt = FALSE;
  for (int i = 0; i <= n && may_scan(search);) {
    try_step(search, scan, i, &all);
    if (all || i == n)
      return;
    if (scan->alike >= STALLED && !leapt) {
      leapt = TRUE;
      if (try_step(search, scan, n, &all)) {
        for (int far = n / 2; far > i && far >= n / 4 && !all && may_scan(search); far /= 2)
          try_step(search, scan, far, &all);
        return;
      }
    }
    i = MIN(search->alone ? 2 * i + 1 : 3 * i + 2, n);
  }
}

/* Between those tried: the strides may have stepped over what cures. */
static gint
by_number(gconstpointer a, gconstpointer b)
{
  return *(const int *)a - *(const int *)b;
}

static void
stride_between(Search *search, Scan *scan)
{
  g_autoptr(GArray) tried = g_array_copy(scan->tried);
  g_array_sort(tried, by_number);
  guint from = tried->len > MOST_BETWEEN ? tried->len - MOST_BETWEEN : 1;
  for (guint i = from; i < tried->len && may_scan(search); i++) {
    int low = g_array_index(tried, int, i - 1), high = g_array_index(tried, int, i);
    int middle = (low + high) / 2;
    if (middle == low)
      continue;
    HfTrial *trial = try_value(search, hf_trial_value(search->proposal, middle));
    if (trial != NULL && keep_better(search, trial, FALSE)) {
      scan->at = middle;
      scan->below = low;
    }
  }
}

/* Invariant: the best lies at @high and does more than what lies at @low. */
static void
halve(Search *search, int low, int high)
{
  search->most += search->most / 2;
  while (high - low > 1 && may_scan(search)) {
    int middle = low + (high - low) / 2;
    HfTrial *trial = try_value(search, hf_trial_value(search->proposal, middle));
    if (trial != NULL && keep_better(search, trial, TRUE))
      high = middle;
    else
      low = middle;
  }
}

/* What comes first of several changes should be no larger than it must be, either; later ones are
 * turned back only when they make the sign whole, for the sake of time. */
static gboolean
is_worth_least(const Search *search)
{
  const HfTrial *best = search->best;
  if (!search->alone)
    return best->sign->hold->whole;
  return is_cure(search, best) || best->match.stops < hf_match_stops(search->base->sign);
}

/* The best one is a cure, or at least nearer; another is handed on beside it only when it is nearer
 * than that. */
static HfTurned
settle(Search *search)
{
  if (search->best == NULL)
    return (HfTurned){NULL, search->nearer, 0};
  if (search->nearer != NULL && search->nearer->match.stops >= search->best->match.stops)
    g_clear_pointer(&search->nearer, hf_trial_free);
  if (search->alone && is_cure(search, search->best))
    return (HfTurned){search->best, search->nearer, 0};
  keep_nearer(search, search->best);
  return (HfTurned){NULL, search->nearer, 0};
}

gboolean
hf_trial_turn(const HfCureBase *base, const HfProposal *proposal, gboolean alone, guint most,
              const HfHand *hand, HfTurned *ret_turned, GError **error)
{
  Search search = {base, proposal, hand, alone, MIN(most, G_MAXINT), NULL, NULL, 0};
  g_autoptr(GArray) tried = g_array_new(FALSE, FALSE, sizeof(int));
  Scan scan = {.tried = tried, .below = -1};
  stride(&search, n_steps(proposal), &scan);
  if (scan.too_far && (search.best == NULL || !is_cure(&search, search.best)))
    stride_between(&search, &scan);
  if (search.best != NULL && is_worth_least(&search))
    halve(&search, scan.below, scan.at);
  *ret_turned = settle(&search);
  ret_turned->work = search.work;
  if (hf_cancel_check(hand->cancel, error))
    return TRUE;
  hf_trial_free(ret_turned->cure);
  hf_trial_free(ret_turned->nearer);
  *ret_turned = (HfTurned){NULL, NULL, 0};
  return FALSE;
}
