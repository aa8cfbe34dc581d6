/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-uncover.c - metal that hides a part of a letter: a tie put by hand made narrower or taken
 * out, a bar beside words set further from them.
 *
 *     =======           =======
 *     E A U O    ->     E' A' U'    its gap is less than nothing: it lies over the marks
 */
#include "base/text.h"
#include "cure/propose-private.h"
#include "recipe/kind.h"
#include "stock/practice.h"

static const double STEP = 0.5; /* mm */

static GArray *
aims_at_letters(const HfProposing *asked, guint words)
{
  return hf_proposing_aims_of(asked, (gint)words, HF_LAW_CHANGED_LETTER);
}

/* ---- a tie put by hand ------------------------------------------------------------------------
 */

/* The words that its letter is one of; -1: none, or it names no letter any more. */
static gint
words_of_pin(const HfProposing *asked, const HfEntry *pin)
{
  g_autoptr(GArray) meant =
      hf_layout_meant(asked->sign->recipe, asked->sign->layout, pin->tie.letter);
  if (meant->len == 0)
    return -1;
  const HfShape *shape = hf_layout_shape(asked->sign->layout, g_array_index(meant, guint, 0));
  return shape->letter >= 0 ? (gint)shape->entry : -1;
}

/* As wide as a tie is that says nothing: less of it is seen in the letter than of any wider one. */
static void
narrow_pin(HfProposing *asked, guint entry, guint words)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double width = HF_OVER_LIMIT * hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  if (isnan(e->tie.width) || e->tie.width - STEP < width)
    return;
  g_autofree char *now = hf_text_mm(e->tie.width), *then = hf_text_mm(width);
  HfProposal *proposal =
      hf_propose(asked, aims_at_letters(asked, words),
                 hf_phrase("make the tie of %s narrower: %s become %s", e->tie.letter, now, then));
  if (proposal != NULL)
    hf_propose_set(asked, proposal, entry, "width", hf_say_mm(e, "width", width));
}

static void
take_pin_out(HfProposing *asked, guint entry, guint words)
{
  HfProposal *proposal =
      hf_propose(asked, aims_at_letters(asked, words),
                 hf_phrase("take out the tie of %s", hf_proposing_entry(asked, entry)->tie.letter));
  if (proposal != NULL)
    hf_propose_take_out_entry(proposal, entry);
}

/* ---- a bar over the words ---------------------------------------------------------------------
 */

/* @moved lies beside @other and runs into it: apart until they only touch, and what comes loose
 * then is tied. */
static void
set_apart(HfProposing *asked, guint words, guint moved, const char *other, gboolean tied)
{
  const HfEntry *e = hf_proposing_entry(asked, moved);
  double now = e->place.gap;
  HfProposal *proposal = hf_propose(
      asked, aims_at_letters(asked, words),
      hf_phrase_knob(hf_phrase("set %s ", hf_proposing_called(asked, e)), " further from %s%s",
                     other, tied ? ", and tie all that is loose" : ""));
  if (proposal == NULL)
    return;
  hf_propose_knob_free(proposal, e, "gap", now, now + STEP, 0, STEP);
  hf_propose_turn(asked, proposal, moved, "gap");
  if (tied)
    hf_propose_ties(proposal);
}

static void
propose_beside(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const char *other = hf_proposing_beside(&e->place);
  gint words = e->kind == HF_ENTRY_WORDS ? (gint)entry : hf_proposing_named(asked, other);
  if (other == NULL || words < 0 || !(e->place.gap < -STEP) ||
      hf_proposing_entry(asked, (guint)words)->kind != HF_ENTRY_WORDS)
    return;
  set_apart(asked, (guint)words, entry, other, FALSE);
  if (hf_proposing_rule(asked) < 0)
    set_apart(asked, (guint)words, entry, other, TRUE);
}

static void
propose_uncover(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    gint words = e->kind == HF_ENTRY_TIE ? words_of_pin(asked, e) : -1;
    if (words >= 0) {
      narrow_pin(asked, i, (guint)words);
      take_pin_out(asked, i, (guint)words);
    }
    if (e->kind != HF_ENTRY_TIE && !hf_entry_is(e, HF_KINDS_LAST))
      propose_beside(asked, i);
  }
}

const HfFamily hf_family_uncover = {
    .key = "uncover", .guards = HF_GUARDS_USUAL, .propose = propose_uncover};
