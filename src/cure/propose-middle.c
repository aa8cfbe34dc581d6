/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-middle.c - what is cut through a plate moved on it: to its middle, or so far in that it
 * keeps a margin to its edge. All that is cut through the plate moves as one.
 *
 *   +-----------+      +-----------+      +-----------+
 *   |       BOAT|      |   BOAT    |      |     BOAT  |
 *   +-----------+      +-----------+      +-----------+
 *     given              the middle         a margin
 */
#include "base/text.h"
#include "cure/propose-private.h"
#include "recipe/kind.h"

static const double STROKE = 0.12; /* of the letter height: the margin is a stroke at least */
static const double MOVES = 0.3;   /* mm: less is no move */

/* The plate that @entry is cut through: of those that hold its middle the last one before it. */
static gint
plate_of(const HfProposing *asked, guint entry)
{
  gint found = -1;
  HfPoint middle = hf_box_centre(hf_proposing_box(asked, entry, -1));
  for (guint i = 0; i < entry; i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (hf_entry_is(e, HF_KIND_AREA) && e->as == HF_AS_METAL && e->kind == HF_ENTRY_PLATE &&
        e->plate.shape != HF_PLATE_OUTLINE &&
        hf_box_contains(hf_proposing_box(asked, i, -1), middle))
      found = (gint)i;
  }
  return found;
}

/* Straight words and the like: not what follows an arc, a band or another entry. */
static gboolean
is_free(const HfEntry *e)
{
  if (e->as != HF_AS_OPENING || hf_entry_is(e, HF_KINDS_LAST) ||
      (e->place.at != NULL && e->place.at->len > 1) || e->place.below != NULL ||
      e->place.above != NULL || e->place.left_of != NULL || e->place.right_of != NULL)
    return FALSE;
  return e->kind != HF_ENTRY_WORDS || (isnan(e->words.arc_radius) && e->words.stand_on == NULL &&
                                       (e->words.band == NULL || e->words.band->len == 0));
}

/* (transfer full) (element-type guint) All that is cut through @plate and can move by itself; @box:
 * of all that is cut through it. */
static GArray *
cut_through(const HfProposing *asked, gint plate, HfBox *box, double *ret_height)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(guint));
  *box = HF_BOX_EMPTY;
  *ret_height = 0;
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (e->kind != HF_ENTRY_WORDS || e->as != HF_AS_OPENING || plate_of(asked, i) != plate)
      continue;
    *box = hf_box_union(*box, hf_proposing_box(asked, i, -1));
    *ret_height = fmax(*ret_height, hf_proposing_height(asked, i));
    if (is_free(e))
      g_array_append_val(all, i);
  }
  return all;
}

/* How far the span @from..@to has to go to keep @margin within @low..@high; NAN: it has no room. */
static double
into(double from, double to, double low, double high, double margin)
{
  if (to - from > high - low - 2 * margin)
    return NAN;
  return fmax(low + margin - from, 0) + fmin(high - margin - to, 0);
}

static void
move_all(HfProposing *asked, const GArray *all, HfPoint by, HfPhrase phrase)
{
  HfProposal *proposal = hf_propose(asked, hf_proposing_kin_aims(asked, all), phrase);
  for (guint i = 0; proposal != NULL && i < all->len; i++)
    hf_propose_move(asked, proposal, g_array_index(all, guint, i), 0, by, hf_point(0, 0));
}

static void
move_on(HfProposing *asked, guint plate)
{
  HfBox box, metal = hf_proposing_box(asked, plate, -1);
  double height = 0;
  g_autoptr(GArray) all = cut_through(asked, (gint)plate, &box, &height);
  if (all->len == 0)
    return;
  g_autofree char *called = hf_proposing_kin_called(asked, all);
  const char *on = hf_proposing_called(asked, hf_proposing_entry(asked, plate));
  double margin = ceil(fmax(STROKE * height, hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB)));
  HfPoint in = {into(box.min.x, box.max.x, metal.min.x, metal.max.x, margin),
                into(box.min.y, box.max.y, metal.min.y, metal.max.y, margin)};
  HfPoint middle = hf_point_sub(hf_box_centre(metal), hf_box_centre(box));
  if (isnan(in.x) || isnan(in.y))
    return;
  if (hf_point_length(in) > MOVES) {
    g_autofree char *figure = hf_text_mm(margin);
    move_all(asked, all, in, hf_phrase("move %s %s from the edge of %s", called, figure, on));
  }
  if (hf_point_length(middle) > MOVES)
    move_all(asked, all, middle, hf_phrase("move %s to the middle of %s", called, on));
}

static void
propose_middle(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_PLATE)
      move_on(asked, i);
}

const HfFamily hf_family_middle = {
    .key = "middle", .guards = HF_GUARDS_USUAL, .seen = 0.25, .propose = propose_middle};
