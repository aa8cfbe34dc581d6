/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-tail.c - a bar that hides the tails of letters: less high, until they show beneath it.
 *
 *     .--.               .--.
 *    |    |             |    |          The bar is laid about its middle and the words stand on its
 *    =\__/===    ->     =\__/===        upper edge, so the letters go with that.
 *    =====\==              \
 */
#include "cure/propose-private.h"

/* Of how far the tails reach down, the bar is so high: a third of that shows, or more. */
static const double MOST = 0.65, LEAST = 0.2;
static const double STEP = 0.5; /* mm */

static GArray *
aims_at_tails(const HfProposing *asked, guint entry)
{
  return hf_proposing_aims_in_form(asked, (gint)entry, HF_LAW_CHANGED_LETTER, "tail");
}

/* How much less high, by how far the letters reach down beneath its upper edge. Only a level bar.
 */
static void
make_shallow(HfProposing *asked, guint entry, guint bar)
{
  const HfEntry *e = hf_proposing_entry(asked, bar);
  HfBox box = hf_proposing_box(asked, bar, 0);
  double height = e->bar.height, down = box.max.y - hf_proposing_box(asked, entry, 0).min.y;
  double first = STEP * floor(fmin(MOST * down, height - STEP) / STEP);
  double last = STEP * ceil(LEAST * down / STEP);
  if (fabs(hf_box_height(box) - height) > 0.01 || last >= first)
    return;
  HfProposal *proposal =
      hf_propose(asked, aims_at_tails(asked, entry),
                 hf_phrase_turns(hf_phrase("make %s less high: ", hf_proposing_called(asked, e)),
                                 " become ", ", so that what hangs below the line shows"));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "height", height, first, last, STEP);
  hf_propose_turn(asked, proposal, bar, "height");
}

static void
propose_shallow(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (e->kind != HF_ENTRY_WORDS || e->words.stand_on == NULL)
      continue;
    g_autoptr(GArray) aims = aims_at_tails(asked, i);
    gint bar = hf_proposing_named(asked, e->words.stand_on);
    if (aims->len > 0 && bar >= 0 && hf_proposing_entry(asked, (guint)bar)->kind == HF_ENTRY_BAR)
      make_shallow(asked, i, (guint)bar);
  }
}

const HfFamily hf_family_shallow = {
    .key = "shallow", .guards = HF_GUARDS_USUAL, .propose = propose_shallow};
