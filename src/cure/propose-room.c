/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-room.c - room for ties, where there is none and a tie would hide a mark of a letter:
 * letters in a band a little smaller, a rail a little farther from the words above it; and all that
 * is loose is tied.
 *
 *     ======          ======           D O T          D O T
 *      KANA     ->     kana            .  .      ->   .  .
 *     ======          ======         =========        !  !
 *                                                   =========
 */
#include "cure/propose-private.h"
#include <string.h>

static const double LEAST_TIMES = 0.75; /* smaller than that they fill their band no more */
static const double DEEPEST = 3;        /* times the least joint, as any bite */
static const double FARTHEST = 4;       /* of the least gap: ties longer than that are stilts */

/* Does any standing letter of @entry have dots? */
static gboolean
has_dots(const HfProposing *asked, guint entry)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry == entry && shape->letter >= 0 && !shape->opening &&
        hf_proposing_has_dots(shape))
      return TRUE;
  }
  return FALSE;
}

/* Pieces of @letter, but for its body, that lie below the line that it stands on. */
static gboolean
has_marks_below(const HfShape *letter)
{
  g_autoptr(HfRegion) own = hf_region_of_outline(letter->outline, 0, HF_FLATTEN_MM);
  double body = 0;
  for (guint r = 0; r < own->rings->len; r++)
    body = fmax(body, hf_box_height(hf_ring_box(hf_region_ring(own, r))));
  for (guint r = 0; r < own->rings->len; r++) {
    HfBox box = hf_ring_box(hf_region_ring(own, r));
    if (hf_region_ring(own, r)->parent < 0 && hf_box_height(box) < body &&
        hf_matrix_undo(letter->em, hf_box_centre(box)).y < 0)
      return TRUE;
  }
  return FALSE;
}

static gboolean
any_has_marks_below(const HfProposing *asked, guint entry)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry == entry && shape->letter >= 0 && !shape->opening && has_marks_below(shape))
      return TRUE;
  }
  return FALSE;
}

static void
and_tie(const HfProposing *asked, HfProposal *proposal)
{
  if (hf_proposing_rule(asked) < 0)
    hf_propose_slim_ties(asked, proposal);
}

/* Words of a height of their own in a band stay about its middle. */
static void
smaller_in_band(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = e->words.font.height;
  if (e->words.band == NULL || e->words.band->len != 2 || e->words.fill || isnan(now))
    return;
  HfPhrase phrase =
      hf_phrase_turns(hf_phrase("make the letters of %s smaller, with room for ties: ",
                                hf_proposing_called(asked, e)),
                      " letters become ", ", and tie all that is loose");
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, (gint)entry), phrase);
  if (proposal == NULL)
    return;
  double step = now < 60 ? 0.5 : 1;
  hf_propose_knob(proposal, e, "height", now, now - step, LEAST_TIMES * now, step);
  hf_propose_turn(asked, proposal, entry, "height");
  and_tie(asked, proposal);
}

/* A bar that runs into marks below the line goes off them. */
static void
bar_farther(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  gint words = hf_proposing_named(asked, e->place.below != NULL ? e->place.below : e->place.above);
  double now = isnan(e->place.gap) ? 0 : e->place.gap,
         clear = asked->sign->hold->limits[HF_LAW_NARROW_GAP].caution;
  if (e->kind != HF_ENTRY_BAR || words < 0 || now >= clear || !has_dots(asked, (guint)words))
    return;
  HfProposal *proposal = hf_propose(
      asked, hf_proposing_aims(asked, words),
      hf_phrase_knob(hf_phrase("move %s ", hf_proposing_called(asked, e)),
                     " away from %s, and tie all that is loose",
                     hf_proposing_called(asked, hf_proposing_entry(asked, (guint)words))));
  if (proposal == NULL)
    return;
  hf_propose_knob_free(proposal, e, "gap", now, clear, FARTHEST * clear, 0.5);
  hf_propose_turn(asked, proposal, entry, "gap");
  and_tie(asked, proposal);
}

/* Marks below the line lie half in the rail that the words stand on: deeper in it they come out
 * below. */
static void
deeper_in_bar(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  double now = hf_proposing_bite(asked, e->words.bite);
  if (e->words.stand_on == NULL || !any_has_marks_below(asked, entry))
    return;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase_knob(hf_phrase("let %s run ", hf_proposing_called(asked, e)),
                                " deeper into %s, so that marks below it show, and tie all that "
                                "is loose",
                                e->words.stand_on));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "bite", now, now + 0.5, now + DEEPEST * joint, 0.5);
  hf_propose_turn(asked, proposal, entry, "bite");
  and_tie(asked, proposal);
}

static void
propose_room(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_WORDS) {
      smaller_in_band(asked, i);
      deeper_in_bar(asked, i);
    }
    bar_farther(asked, i);
  }
}

const HfFamily hf_family_room = {.key = "room", .guards = HF_GUARDS_USUAL, .propose = propose_room};
