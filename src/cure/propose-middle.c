/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-middle.c - what is cut through a plate moved on it: to its middle, or so far in that it
 * keeps a margin to its edge. All that is cut through the plate moves as one.
 *
 *   +-----------+      +-----------+      +-----------+      +-----------+
 *   |       BOAT|      |   BOAT    |      |     BOAT  |      | boat yard |
 *   +-----------+      +-----------+      +-----------+      +-----------+
 *     given              the middle         a margin           all of a row smaller
 *
 * Where they have no room all of them become smaller as one, about the middle of the plate: lines
 * of several sizes and faces, what follows another, and the distances between them.
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
  return e->kind != HF_ENTRY_WORDS || (hf_words_are_level(e) && e->words.stand_on == NULL);
}

/* Does @e stand beside one of the entries @of, and so move with it? */
static gboolean
follows(const HfProposing *asked, const HfEntry *e, const GArray *of)
{
  const char *beside[] = {e->place.left_of, e->place.right_of, e->place.above, e->place.below};
  for (guint i = 0; i < of->len; i++) {
    const char *name = hf_proposing_entry(asked, g_array_index(of, guint, i))->name;
    for (guint k = 0; name != NULL && k < G_N_ELEMENTS(beside); k++)
      if (g_strcmp0(name, beside[k]) == 0)
        return TRUE;
  }
  return FALSE;
}

/* (transfer full) (element-type guint) All that is cut through @plate and can move by itself; @of:
 * those and what follows them; @box: of all that is cut through it. */
static GArray *
cut_through(const HfProposing *asked, gint plate, GArray *of, HfBox *box, double *ret_height)
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
    if (is_free(e) || follows(asked, e, of))
      g_array_append_val(of, i);
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
move_all(HfProposing *asked, const GArray *all, const GArray *of, HfPoint by, HfPhrase phrase)
{
  HfProposal *proposal = hf_propose(asked, hf_proposing_kin_aims(asked, of), phrase);
  for (guint i = 0; proposal != NULL && i < all->len; i++)
    hf_propose_move(asked, proposal, g_array_index(all, guint, i), 0, by, hf_point(0, 0));
}

static double
margin_for(const HfProposing *asked, double height)
{
  return ceil(fmax(STROKE * height, hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB)));
}

static void
move_on(HfProposing *asked, guint plate)
{
  HfBox box, metal = hf_proposing_box(asked, plate, -1);
  double height = 0;
  g_autoptr(GArray) of = g_array_new(FALSE, FALSE, sizeof(guint));
  g_autoptr(GArray) all = cut_through(asked, (gint)plate, of, &box, &height);
  if (all->len == 0)
    return;
  g_autofree char *called = hf_proposing_kin_called(asked, of);
  const char *on = hf_proposing_called(asked, hf_proposing_entry(asked, plate));
  double margin = margin_for(asked, height);
  HfPoint in = {into(box.min.x, box.max.x, metal.min.x, metal.max.x, margin),
                into(box.min.y, box.max.y, metal.min.y, metal.max.y, margin)};
  HfPoint middle = hf_point_sub(hf_box_centre(metal), hf_box_centre(box));
  if (isnan(in.x) || isnan(in.y))
    return;
  if (hf_point_length(in) > MOVES) {
    g_autofree char *figure = hf_text_mm(margin);
    move_all(asked, all, of, in, hf_phrase("move %s %s from the edge of %s", called, figure, on));
  }
  if (hf_point_length(middle) > MOVES)
    move_all(asked, all, of, middle, hf_phrase("move %s to the middle of %s", called, on));
}

/* ---- all smaller ------------------------------------------------------------------------------
 */

static const double LEAST_TIMES = 0.5; /* smaller than that it is another sign */

/* Straight words whose letters' height is said, or what follows such. */
static gboolean
can_shrink(const HfEntry *e)
{
  return hf_words_are_level(e) && !isnan(e->words.font.height) && e->words.stand_on == NULL &&
         (e->place.at == NULL || e->place.at->len <= 1);
}

/* (transfer full) (element-type guint) All words that are cut through @plate; %NULL: one of them
 * can not shrink with the others. */
static GArray *
all_on(const HfProposing *asked, gint plate, HfBox *box)
{
  g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(guint));
  *box = HF_BOX_EMPTY;
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    gboolean follows = all->len > 0 && (e->place.left_of != NULL || e->place.right_of != NULL ||
                                        e->place.above != NULL || e->place.below != NULL);
    if (e->kind != HF_ENTRY_WORDS || e->as != HF_AS_OPENING ||
        (!follows && plate_of(asked, i) != plate))
      continue;
    if (!can_shrink(e))
      return NULL;
    *box = hf_box_union(*box, hf_proposing_box(asked, i, -1));
    g_array_append_val(all, i);
  }
  return g_steal_pointer(&all);
}

/* Of one face and size, and in the middle already: their letters smaller do the same. */
static gboolean
is_plain(const HfProposing *asked, const GArray *all, HfPoint off)
{
  g_autoptr(GArray) kin = hf_proposing_kin(asked, g_array_index(all, guint, 0));
  return kin->len >= all->len && hf_point_length(off) <= MOVES;
}

/* @mm of @key of @e for a letter height of @height of the first. */
static void
slide(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key, double mm,
      double height)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (hf_entry_says(e, key) && mm != 0)
    hf_propose_set(asked, proposal, entry, key,
                   hf_say_slide(proposal, 0, mm / height, hf_entry_unit(e, key)));
}

static void
shrink(const HfProposing *asked, HfProposal *proposal, guint entry, double height)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  slide(asked, proposal, entry, "height", e->words.font.height, height);
  if (!e->words.spacing.is_share)
    slide(asked, proposal, entry, "spacing", e->words.spacing.value, height);
  if (!isnan(e->place.gap))
    slide(asked, proposal, entry, "gap", e->place.gap, height);
}

/* The farthest corner of @box, seen from @middle; 1: it is on the edge of @plate, less its @margin.
 */
static double
reach_of(const HfEntry *plate, HfBox metal, HfBox box, HfPoint middle, double margin)
{
  double x = fmax(box.max.x - middle.x, middle.x - box.min.x);
  double y = fmax(box.max.y - middle.y, middle.y - box.min.y);
  gboolean round = plate->plate.shape == HF_PLATE_ROUND || plate->plate.shape == HF_PLATE_OVAL;
  x /= fmax(hf_box_width(metal) / 2 - margin, 1);
  y /= fmax(hf_box_height(metal) / 2 - margin, 1);
  return round ? hypot(x, y) : fmax(x, y);
}

/* So many times as large all lines keep a margin to the edge, about the middle of the plate. */
static double
times_to_fit(const HfProposing *asked, guint plate, const GArray *all, HfPoint middle)
{
  double most = 0;
  for (guint i = 0; i < all->len; i++) {
    guint entry = g_array_index(all, guint, i);
    double margin = margin_for(asked, hf_proposing_height(asked, entry));
    most = fmax(most, reach_of(hf_proposing_entry(asked, plate), hf_proposing_box(asked, plate, -1),
                               hf_proposing_box(asked, entry, -1), middle, margin));
  }
  return 1 / fmax(most, 1e-9);
}

/* A line at a from the middle m of all of them: it goes to the middle of the plate and k (a - m).
 */
static void
shrink_on(HfProposing *asked, guint plate)
{
  HfBox box;
  g_autoptr(GArray) all = all_on(asked, (gint)plate, &box);
  if (all == NULL || all->len == 0)
    return;
  HfPoint middle = hf_box_centre(box), to = hf_box_centre(hf_proposing_box(asked, plate, -1));
  if (is_plain(asked, all, hf_point_sub(to, middle)))
    return;
  const HfEntry *first = hf_proposing_entry(asked, g_array_index(all, guint, 0));
  double height = first->words.font.height, step = height < 60 ? 0.5 : 1;
  double times = times_to_fit(asked, plate, all, middle);
  if (times < LEAST_TIMES || times >= 1)
    return; /* as large as they are they have room in the middle */
  g_autofree char *called = hf_proposing_kin_called(asked, all);
  const char *on = hf_proposing_called(asked, hf_proposing_entry(asked, plate));
  HfPhrase phrase = hf_phrase_turns(hf_phrase("make %s smaller, in the middle of %s: ", called, on),
                                    " letters become ", "");
  HfProposal *proposal = hf_propose(asked, hf_proposing_kin_aims(asked, all), phrase);
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, first, "height", height, height * times, height * LEAST_TIMES, step);
  for (guint i = 0; i < all->len; i++) {
    guint entry = g_array_index(all, guint, i);
    HfPoint at = hf_box_centre(hf_proposing_box(asked, entry, -1));
    shrink(asked, proposal, entry, height);
    if (is_free(hf_proposing_entry(asked, entry)))
      hf_propose_move(asked, proposal, entry, 0, hf_point_sub(to, at),
                      hf_point_scale(hf_point_sub(at, middle), 1 / height));
  }
}

static void
propose_fit(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_PLATE)
      shrink_on(asked, i);
}

const HfFamily hf_family_fit = {.key = "fit", .guards = HF_GUARDS_USUAL, .propose = propose_fit};

/* ---- moved ------------------------------------------------------------------------------------
 */

static void
propose_middle(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_PLATE)
      move_on(asked, i);
}

const HfFamily hf_family_middle = {
    .key = "middle", .guards = HF_GUARDS_USUAL, .seen = 0.25, .propose = propose_middle};
