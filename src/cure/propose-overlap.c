/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-overlap.c - two entries that part too slowly for the kerf: one is set so far over the
 * other that no crack is left between them.
 *
 *     ____|/__|          ____|__|       Beside another it is the gap, which goes under 0; elsewhere
 *    |    /   |    ->   |    |  |       it is moved: towards the other, or, where it lies within
 *    |___/|___|         |____|__|       the other's box as a disc in a round window, away from its
 *                                       middle, into the wall that it comes nearest to.
 *
 * Words are none of these: their letters are set apart or joined (propose-spacing.c).
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"

static const double STEP = 0.2; /* mm */
#define MOST 0.3                /* of the smaller of the two: more is another sign */

static double
most_of(HfBox own, HfBox other)
{
  return MOST * fmin(fmin(hf_box_width(own), hf_box_height(own)),
                     fmin(hf_box_width(other), hf_box_height(other)));
}

/* The other entry of the first crack of @aims; -1: none. */
static gint
other_of(const HfProposing *asked, const GArray *aims, guint entry)
{
  for (guint i = 0; i < aims->len; i++) {
    const HfFinding *finding = hf_proposing_finding(asked, g_array_index(aims, guint, i));
    for (guint k = 0; k < finding->entries->len; k++)
      if (g_array_index(finding->entries, guint, k) != entry)
        return (gint)g_array_index(finding->entries, guint, k);
  }
  return -1;
}

static void
set_over(HfProposing *asked, guint entry, guint other, GArray *aims)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = isnan(e->place.gap) ? 0 : e->place.gap;
  HfBox own = hf_proposing_box(asked, entry, -1), its = hf_proposing_box(asked, other, -1);
  HfProposal *proposal = hf_propose(
      asked, aims,
      hf_phrase_knob(hf_phrase("set %s ", hf_proposing_called(asked, e)), " further over %s",
                     hf_proposing_called(asked, hf_proposing_entry(asked, other))));
  if (proposal == NULL)
    return;
  hf_propose_knob_free(proposal, e, "gap", now, now - STEP, now - most_of(own, its), STEP);
  hf_propose_turn(asked, proposal, entry, "gap");
}

static void
move_over(HfProposing *asked, guint entry, guint other, GArray *aims)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  HfBox own = hf_proposing_box(asked, entry, -1), its = hf_proposing_box(asked, other, -1);
  HfPoint way = hf_point_sub(hf_box_centre(its), hf_box_centre(own));
  double length = hf_point_length(way);
  if (length < STEP) {
    g_array_unref(aims);
    return;
  }
  gboolean within = hf_box_contains(hf_box_grow(its, hf_box_width(its) / 8), own.min) &&
                    hf_box_contains(hf_box_grow(its, hf_box_width(its) / 8), own.max);
  way = hf_point_scale(way, (within ? -1 : 1) / length);
  HfProposal *proposal =
      hf_propose(asked, aims,
                 hf_phrase_knob(hf_phrase("move %s ", hf_proposing_called(asked, e)),
                                " %s, into the metal there", hf_say_way(way)));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "shift", 0, STEP, most_of(own, its), STEP);
  if (!hf_propose_move(asked, proposal, entry, 0, hf_point(0, 0), way))
    g_ptr_array_remove(asked->found, proposal);
}

static gboolean
may_move(const HfEntry *e)
{
  return (e->kind == HF_ENTRY_PLATE || e->kind == HF_ENTRY_BAR || e->kind == HF_ENTRY_RING ||
          e->kind == HF_ENTRY_SEPARATOR) &&
         e->as == HF_AS_METAL && hf_entry_band(e) == NULL;
}

static void
propose_overlap(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (!may_move(e))
      continue;
    GArray *aims = hf_proposing_aims_of(asked, (gint)i, HF_LAW_CRACK);
    gint other = other_of(asked, aims, i);
    if (other < 0 || hf_entry_is(hf_proposing_entry(asked, (guint)other), HF_KINDS_LAST) ||
        hf_proposing_entry(asked, (guint)other)->kind == HF_ENTRY_WORDS)
      g_array_unref(aims);
    else if (hf_proposing_beside(&e->place) != NULL)
      set_over(asked, i, (guint)other, aims);
    else
      move_over(asked, i, (guint)other, aims);
  }
}

const HfFamily hf_family_overlap = {
    .key = "overlap", .guards = HF_GUARDS_USUAL, .propose = propose_overlap};
