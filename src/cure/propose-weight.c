/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-weight.c - letters bolder or lighter by the least amount: the edge of each letter moves.
 *
 *                     standing letters       cut-through letters
 *   thin web          bolder                 lighter (the metal between them)
 *   opening, gap      lighter                bolder  (the letters themselves)
 */
#include "cure/propose-private.h"

#define MOST_OF_HEIGHT 0.06 /* a stroke that changes by an eighth of the letter is another face */

/* A letter that was filled, or whose stroke does not show, wants room, and so does a crack. */
static gboolean
wants_room(HfLawKind kind)
{
  return hf_law_is_of_gap(kind) || kind == HF_LAW_CHANGED_LETTER || kind == HF_LAW_CRACK;
}

/* Those that are less bad where metal grows (@want_metal), or those that are worse. */
static GArray *
aims_that(const HfProposing *asked, guint entry, gboolean want_metal)
{
  GArray *aims = hf_proposing_aims(asked, (gint)entry);
  for (guint i = aims->len; i-- > 0;) {
    HfLawKind kind = hf_proposing_finding(asked, g_array_index(aims, guint, i))->kind;
    if (wants_room(kind) == want_metal)
      g_array_remove_index(aims, i);
  }
  return aims;
}

/* What hangs in the air grows until it reaches. */
static double
gap_to_close(HfProposing *asked, guint entry)
{
  const GArray *pieces = hf_proposing_pieces(asked);
  double most = 0;
  for (guint i = 0; i < pieces->len; i++) {
    const HfAdrift *piece = &g_array_index(pieces, HfAdrift, i);
    if (hf_layout_shape(asked->sign->layout, piece->shape)->entry == entry)
      most = fmax(most, piece->gap);
  }
  return most;
}

/* @way 1: bolder, -1: lighter. */
static void
change_weight(HfProposing *asked, guint entry, double way)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const HfFontWish *font = hf_proposing_font(e);
  double height = hf_proposing_height(asked, entry);
  if (font == NULL || !(height > 0))
    return;
  gboolean want_metal = (way > 0) == (e->as == HF_AS_METAL);
  GArray *aims = aims_that(asked, entry, want_metal);
  double lack = fmax(hf_proposing_lack(asked, aims), gap_to_close(asked, entry));
  double now = isnan(font->bolder) ? 0 : font->bolder, farthest = MOST_OF_HEIGHT * height;
  if (lack / 2 > farthest) { /* each of two edges gives half of what a web lacks */
    g_array_unref(aims);
    return;
  }
  g_autoptr(GArray) kin = hf_proposing_kin(asked, entry);
  g_autofree char *called = hf_proposing_kin_called(asked, kin);
  HfProposal *proposal = hf_propose(asked, aims,
                                    hf_phrase_knob(hf_phrase("make the letters of %s %s, ", called,
                                                             way > 0 ? "bolder" : "lighter"),
                                                   " all round"));
  if (proposal == NULL)
    return;
  double least = fmax(lack / 4, 0.05), most = fmax(fmin(fmax(1.5 * lack, 0.5), farthest), least);
  if (now * way < 0) /* back to what the face draws */
    most = fmax(most, fabs(now));
  hf_propose_knob_free(proposal, e, "bolder", now, now + way * least, now + way * most, 0.05);
  for (guint i = 0; i < kin->len; i++)
    hf_propose_turn(asked, proposal, g_array_index(kin, guint, i), "bolder");
}

static void
propose_bolder(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    change_weight(asked, i, 1);
}

const HfFamily hf_family_bolder = {
    .key = "bolder", .guards = HF_GUARDS_USUAL | HF_GUARD_FORM, .propose = propose_bolder};

static void
propose_lighter(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    change_weight(asked, i, -1);
}

const HfFamily hf_family_lighter = {
    .key = "lighter", .guards = HF_GUARDS_USUAL | HF_GUARD_FORM, .propose = propose_lighter};
