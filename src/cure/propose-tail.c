/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-tail.c - a bar that hides the tails of letters: lower, until they show beneath it.
 *
 *     .--.               .--.
 *    |    |             |    |          The bar is laid about its middle and the words stand on its
 *    =\__/===    ->     =\__/===        upper edge, so the letters go with that.
 *    =====\==              \
 */
#include "cure/propose-private.h"
#include <string.h>

static const double MOST = 0.65,
                    LEAST =
                        0.2; /* of how far the tails reach down: a third of that shows, or more */
static const double STEP = 0.5; /* mm */

static GArray *
aims_at_tails(const HfProposing *asked, guint entry)
{
  GArray *aims = hf_proposing_aims_of(asked, (gint)entry, HF_LAW_CHANGED_LETTER);
  for (guint i = aims->len; i-- > 0;)
    if (g_strcmp0(hf_proposing_finding(asked, g_array_index(aims, guint, i))->form, "tail") != 0)
      g_array_remove_index(aims, i);
  return aims;
}

/* The bar that @e stands on; HF_NO_SHAPE: none, or another thing. */
static guint
bar_under(const HfProposing *asked, const HfEntry *e)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *bar = hf_proposing_entry(asked, i);
    if (bar->kind == HF_ENTRY_BAR && e->words.stand_on != NULL &&
        g_strcmp0(bar->name, e->words.stand_on) == 0)
      return i;
  }
  return HF_NO_SHAPE;
}

/* How much lower, by how far the letters reach down beneath its upper edge. Only a level bar. */
static void
lower_bar(HfProposing *asked, guint entry, guint bar)
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
                 hf_phrase_turns(hf_phrase("make %s lower: ", hf_proposing_called(asked, e)),
                                 " become ", ", so that what hangs below the line shows"));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "height", height, first, last, STEP);
  hf_propose_turn(asked, proposal, bar, "height");
}

static void
propose_lower(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (e->kind != HF_ENTRY_WORDS || e->words.stand_on == NULL)
      continue;
    g_autoptr(GArray) aims = aims_at_tails(asked, i);
    guint bar = bar_under(asked, e);
    if (aims->len > 0 && bar != HF_NO_SHAPE)
      lower_bar(asked, i, bar);
  }
}

const HfFamily hf_family_lower = {
    .key = "lower", .guards = HF_GUARDS_USUAL, .propose = propose_lower};
