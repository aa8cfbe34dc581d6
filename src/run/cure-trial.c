/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-trial.c - one change to the recipe, its knob turned to the least value that cures.
 *
 *     least                                                  most
 *       0 1   3       7               15            ...       n     values tried, in steps
 *               <-------|               then halved towards the least that does as much
 *
 * What a value does is never concluded from its neighbours: letters that are moved closer join, run
 * into each other and join again. Each value is edited, read and run in full, and what is handed on
 * is one of these runs.
 */
#include "run/cures-private.h"

enum { MOST_BETWEEN = 8 };

void
hf_trial_free(HfTrial *trial)
{
  if (trial == NULL)
    return;
  g_free(trial->text);
  hf_run_free(trial->run);
  hf_match_clear(&trial->match);
  g_free(trial);
}

typedef struct {
  const HfCureBase *base;
  const HfProposal *proposal;
  HfFonts *fonts;
  const HfCancel *cancel;
  gboolean alone;
  HfTrial *best, *nearer;
} Search;

/* ---- one value --------------------------------------------------------------------------------
 */

static char *
changed_text(const Search *search, double value, gsize *ret_length)
{
  g_autoptr(GArray) edits = hf_proposal_edits_at(search->proposal, value);
  return hf_recipe_edit(search->base->text, search->base->length, (const HfEdit *)edits->data,
                        edits->len, ret_length, NULL);
}

/* %NULL: that can't be made (no room, or no recipe at all), or stopped. */
static HfTrial *
try_value(const Search *search, double value)
{
  gsize length = 0;
  g_autofree char *text = changed_text(search, value, &length);
  if (text == NULL)
    return NULL;
  const HfRun *given = search->base->run;
  HfRecipe *recipe = hf_recipe_read(text, length, given->recipe->file, NULL);
  HfRun *run = hf_run_recipe(recipe, hf_shop_ref(given->shop), hf_fonts_ref(search->fonts),
                             search->cancel, NULL);
  if (run == NULL)
    return NULL;
  HfTrial *trial = g_new0(HfTrial, 1);
  *trial = (HfTrial){g_steal_pointer(&text), length, run, hf_match_findings(given, run), value};
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
    n += takes(trial, g_array_index(search->proposal->targets, guint, i));
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

/* More is better, the first that differs decides. */
enum { WORTHS = 5 };
static void
worth_of(const Search *search, const HfTrial *trial, int ret_worth[WORTHS])
{
  ret_worth[0] = trial->run->hold->whole;
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

/* No larger change can do more of what it was proposed for. */
static gboolean
is_all(const Search *search, const HfTrial *trial)
{
  if (trial->run->hold->whole)
    return TRUE;
  return search->alone && is_cure(search, trial) &&
         targets_taken(search, trial) == search->proposal->targets->len;
}

/* Takes @trial. */
static void
keep_nearer(Search *search, HfTrial *trial)
{
  guint most =
      search->nearer != NULL ? search->nearer->match.stops : hf_match_stops(search->base->run);
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

/* ---- the knob ---------------------------------------------------------------------------------
 */

static int
n_steps(const HfProposal *proposal)
{
  if (isnan(proposal->step) || proposal->step <= 0)
    return 0;
  return (int)floor(fabs(proposal->most - proposal->least) / proposal->step + 1e-6);
}

static double
value_at(const HfProposal *proposal, int i)
{
  if (isnan(proposal->step))
    return NAN;
  double way = proposal->most < proposal->least ? -1 : 1;
  return proposal->least + way * i * proposal->step;
}

/* From the smallest change on, in growing strides. @ret_below: the value tried before the best.
 * Returns: whether one went too far: it takes what it should, and more than it may. */
static gboolean
scan(Search *search, int n, GArray *tried, int *ret_at, int *ret_below)
{
  gboolean too_far = FALSE;
  int before = -1;
  for (int i = 0; i <= n && hf_cancel_check(search->cancel, NULL);) {
    HfTrial *trial = try_value(search, value_at(search->proposal, i));
    g_array_append_val(tried, i);
    gboolean all = trial != NULL && is_all(search, trial);
    too_far =
        too_far || (trial != NULL && trial->match.fresh > 0 && takes_what_matters(search, trial));
    if (trial != NULL && keep_better(search, trial, FALSE)) {
      *ret_at = i;
      *ret_below = before;
    }
    if (all || i == n)
      break;
    before = i;
    i = MIN(2 * i + 1, n);
  }
  return too_far;
}

/* Between those tried: the strides may have stepped over what cures. */
static void
scan_between(Search *search, const GArray *tried, int *ret_at, int *ret_below)
{
  guint from = tried->len > MOST_BETWEEN ? tried->len - MOST_BETWEEN : 1;
  for (guint i = from; i < tried->len && hf_cancel_check(search->cancel, NULL); i++) {
    int low = g_array_index(tried, int, i - 1), high = g_array_index(tried, int, i);
    int middle = (low + high) / 2;
    if (middle == low)
      continue;
    HfTrial *trial = try_value(search, value_at(search->proposal, middle));
    if (trial != NULL && keep_better(search, trial, FALSE)) {
      *ret_at = middle;
      *ret_below = low;
    }
  }
}

/* Invariant: the best lies at @high and does more than what lies at @low. */
static void
halve(Search *search, int low, int high)
{
  while (high - low > 1 && hf_cancel_check(search->cancel, NULL)) {
    int middle = low + (high - low) / 2;
    HfTrial *trial = try_value(search, value_at(search->proposal, middle));
    if (trial != NULL && keep_better(search, trial, TRUE))
      high = middle;
    else
      low = middle;
  }
}

/* The best one is a cure, or at least nearer; another is handed on beside it only when it is nearer
 * than that. */
static HfTurned
settle(Search *search)
{
  if (search->best == NULL)
    return (HfTurned){NULL, search->nearer};
  if (search->nearer != NULL && search->nearer->match.stops >= search->best->match.stops)
    g_clear_pointer(&search->nearer, hf_trial_free);
  if (search->alone && is_cure(search, search->best))
    return (HfTurned){search->best, search->nearer};
  keep_nearer(search, search->best);
  return (HfTurned){NULL, search->nearer};
}

gboolean
hf_trial_turn(const HfCureBase *base, const HfProposal *proposal, gboolean alone, HfFonts *fonts,
              const HfCancel *cancel, HfTurned *ret_turned, GError **error)
{
  Search search = {base, proposal, fonts, cancel, alone, NULL, NULL};
  g_autoptr(GArray) tried = g_array_new(FALSE, FALSE, sizeof(int));
  int n = n_steps(proposal), at = 0, below = -1;
  gboolean too_far = scan(&search, n, tried, &at, &below);
  if (too_far && (search.best == NULL || !is_cure(&search, search.best)))
    scan_between(&search, tried, &at, &below);
  if (search.best != NULL && (!alone || is_cure(&search, search.best)))
    halve(&search, below, at);
  *ret_turned = settle(&search);
  if (hf_cancel_check(cancel, error))
    return TRUE;
  hf_trial_free(ret_turned->cure);
  hf_trial_free(ret_turned->nearer);
  *ret_turned = (HfTurned){NULL, NULL};
  return FALSE;
}
