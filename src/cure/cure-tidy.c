/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-tidy.c - a combination without what it need not have.
 *
 *   found one after another:   thicken,  letters 57 mm lower,  tie: whole
 *   tidied:                    -         letters 21 mm lower,  tie: whole
 *
 * A change that brought the sign nearer when it was made may be of no use after later ones, and its
 * knob was turned without them. All changes are made anew in the given recipe, without one of them
 * or with one turned back; what is still whole is taken.
 */
#include "cure/search-private.h"
#include <string.h>

typedef struct {
  const HfCureBase *given;
  HfCured *cured;
  const HfHand *hand;
  guint work, most;
} Tidy;

/* Neither stopped nor out of work: what is there is whole. */
static gboolean
may_go_on(const Tidy *tidy)
{
  return tidy->work < tidy->most && hf_cancel_check(tidy->hand->cancel, NULL);
}

/* ---- made anew --------------------------------------------------------------------------------
 */

/* The given text with every change of @links but @without (-1: all of them); %NULL in it: it can't
 * be. */
static HfTrialText
text_of(const Tidy *tidy, const GArray *links, gint without)
{
  gsize length = tidy->given->length;
  g_autofree char *text = g_memdup2(tidy->given->text, length);
  gboolean goes_on = TRUE;
  for (guint i = 0; text != NULL && i < links->len; i++) {
    const HfCureLink *link = &g_array_index(links, HfCureLink, i);
    if ((gint)i == without)
      continue;
    g_autoptr(GArray) edits = hf_proposal_edits_at(link->proposal, link->value);
    char *next = hf_recipe_edit(text, length, edits, &length, NULL);
    g_free(text);
    text = next;
    goes_on = goes_on && hf_trial_goes_on(edits);
  }
  return (HfTrialText){g_steal_pointer(&text), length, goes_on};
}

static gboolean
is_good(const Tidy *tidy, const HfTrial *trial, guint guards)
{
  return trial != NULL && trial->sign->hold->whole && trial->match.fresh == 0 &&
         !hf_match_hides(tidy->given->sign, trial->sign, guards);
}

/* What does with fewer changes may do with larger ones: fifteen ties where two and a shorter gap
 * were enough. */
static gboolean
is_seen_no_more(const Tidy *tidy, HfTrial *trial)
{
  HfCured as = {.sign = trial->sign};
  hf_measure_cured(tidy->given->sign, &as);
  g_array_unref(as.takes);
  return as.cost <= tidy->cured->cost + 1e-6;
}

/* Takes the run of @links without @without where it is as good. */
static gboolean
take_if_good(Tidy *tidy, const GArray *links, gint without)
{
  guint guards = hf_cure_guards(links, without);
  g_autoptr(HfTrial) trial = hf_trial_of(tidy->given->sign, text_of(tidy, links, without), guards,
                                         tidy->hand, &tidy->work);
  if (!is_good(tidy, trial, guards) || (without >= 0 && !is_seen_no_more(tidy, trial)))
    return FALSE;
  g_free(tidy->cured->recipe);
  hf_sign_free(tidy->cured->sign);
  tidy->cured->recipe = g_steal_pointer(&trial->text);
  tidy->cured->length = trial->length;
  tidy->cured->sign = g_steal_pointer(&trial->sign);
  hf_measure_cured(tidy->given->sign, tidy->cured);
  return TRUE;
}

/* ---- none too many ----------------------------------------------------------------------------
 */

/* The entry that @edit names, or makes a place for; -1: none. */
static gint
entry_of(const HfEdit *edit)
{
  const HfPath *path = edit->path;
  if (path->n < 2 || g_strcmp0(path->steps[0].key, "entries") != 0 || path->steps[1].key != NULL)
    return -1;
  return (gint)path->steps[1].index;
}

/* Without change @own, does @later still name the entry that it meant? A new entry has a number
 * that no other has without it; where one was taken out, all behind it have other numbers. */
static gboolean
still_names(const Tidy *tidy, const HfEdit *own, const HfEdit *later)
{
  gint given = (gint)tidy->given->sign->recipe->entries->len;
  if (own->kind == HF_EDIT_INSERT)
    return entry_of(later) < given;
  gboolean takes_out = (own->kind == HF_EDIT_REMOVE || own->kind == HF_EDIT_LAST) &&
                       own->path->n == 2 && entry_of(own) >= 0;
  return !takes_out || entry_of(later) < entry_of(own);
}

/* The next change that turns the knob of that at @at; %NULL: none does. */
static HfCureLink *
turned_again(const GArray *links, guint at)
{
  const HfProposal *own = g_array_index(links, HfCureLink, at).proposal;
  for (guint k = at + 1; k < links->len; k++)
    if (hf_proposal_same_knob(own, g_array_index(links, HfCureLink, k).proposal))
      return &g_array_index(links, HfCureLink, k);
  return NULL;
}

/* mm, or what it is in, from which that next change turns it once the one at @at is left out. */
static double
from_without(const GArray *links, guint at)
{
  const HfCureLink *own = &g_array_index(links, HfCureLink, at);
  return own->proposal->from + own->moved;
}

/* Larger, and then smaller, may be larger in all: its sentence would say smaller. */
static gboolean
goes_on_that_way(const GArray *links, guint at)
{
  const HfCureLink *next = turned_again(links, at);
  return next == NULL ||
         (next->value - from_without(links, at)) * (next->proposal->most - next->proposal->from) >
             0;
}

/* Can the change at @at be left out, and every later one is about the entries that it names? */
static gboolean
can_go(const Tidy *tidy, guint at)
{
  const GArray *links = tidy->cured->links;
  const GArray *own = g_array_index(links, HfCureLink, at).proposal->edits;
  for (guint i = 0; i < own->len; i++) {
    const HfEdit *edit = &g_array_index(own, HfEdit, i);
    if (edit->path->n == 2 && entry_of(edit) == 0)
      return FALSE; /* all numbers change */
    for (guint k = at + 1; k < links->len; k++) {
      const GArray *later = g_array_index(links, HfCureLink, k).proposal->edits;
      for (guint m = 0; m < later->len; m++)
        if (!still_names(tidy, edit, &g_array_index(later, HfEdit, m)))
          return FALSE;
    }
  }
  return TRUE;
}

static gboolean
drop_needless(Tidy *tidy)
{
  GArray *links = tidy->cured->links;
  gboolean dropped = FALSE;
  for (guint i = 0; i < links->len && links->len > 1 && may_go_on(tidy);) {
    if (can_go(tidy, i) && goes_on_that_way(links, i) && take_if_good(tidy, links, (gint)i)) {
      HfCureLink *next = turned_again(links, i);
      if (next != NULL)
        next->moved = from_without(links, i) - next->proposal->from;
      g_array_remove_index(links, i);
      dropped = TRUE;
    } else {
      i++;
    }
  }
  return dropped;
}

/* ---- none too large ---------------------------------------------------------------------------
 */

/* Invariant: whole with the knob at @high; at @low nothing is known, or not whole. */
static void
turn_back(Tidy *tidy, guint at)
{
  HfCureLink *link = &g_array_index(tidy->cured->links, HfCureLink, at);
  const HfProposal *proposal = link->proposal;
  if (isnan(proposal->step) || proposal->step <= 0)
    return;
  int low = -1, high = (int)rint(fabs(link->value - proposal->least) / proposal->step);
  while (high - low > 1 && may_go_on(tidy)) {
    int middle = low + (high - low) / 2;
    double was = link->value;
    link->value = hf_trial_value(proposal, middle);
    if (take_if_good(tidy, tidy->cured->links, -1)) {
      high = middle;
    } else {
      link->value = was;
      low = middle;
    }
  }
}

guint
hf_cure_tidy(const HfCureBase *given, HfCured *cured, guint most, const HfHand *hand)
{
  Tidy tidy = {given, cured, hand, 0, most};
  gboolean dropped = drop_needless(&tidy);
  for (guint i = 0; i + (dropped ? 0 : 1) < cured->links->len; i++)
    turn_back(&tidy, i); /* the last was turned to its least already, with the others there */
  hf_cure_say(cured);
  return tidy.work;
}
