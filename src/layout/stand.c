/* SPDX-License-Identifier: GPL-3.0-or-later
 * stand.c - words standing on a bar: all letters on one baseline, each biting the bar.
 *
 *        H  o  g          the baseline is set so that the shallowest contact of all bites by
 *      ============       exactly the stated depth; round letters overshoot and bite deeper
 *             j           tails pass through the bar, or join it: what would show below is left off
 *
 * Depth of a foot = top of the bar - its level, and the level is baseline + size * y, so the
 * baseline follows without iterating. docs/maths.md#standing-on-a-bar.
 */
#include "base/text.h"
#include "layout/contact-private.h"
#include "layout/cut-private.h"

typedef struct {
  guint entry;
  HfBox box; /* in its own frame */
  HfMatrix frame;
} Ground;

gboolean
hf_lay_has_level_top(const HfEntry *entry)
{
  return entry->kind == HF_ENTRY_BAR ||
         (entry->kind == HF_ENTRY_PLATE &&
          (entry->plate.shape == HF_PLATE_RECTANGLE || entry->plate.shape == HF_PLATE_ROUNDED));
}

static gboolean
find_ground(HfWordsLaying *own, Ground *ground, GError **error)
{
  const HfLaid *laid = hf_lay_named(own->laying, own->words->stand_on, &ground->entry);
  if (!hf_lay_has_level_top(hf_lay_entry(own->laying, ground->entry)) || laid->frames->len == 0) {
    g_autofree char *label = hf_lay_label(own->laying, ground->entry, 0);
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                         "stand them on a bar or a rectangular plate",
                         "%s has no straight top for words to stand on", label);
  }
  ground->box = laid->own;
  ground->frame = g_array_index(laid->frames, HfMatrix, 0);
  return TRUE;
}

/* x of the words' middle in the bar's frame, by `at` and `shift`. */
static double
along_bar(const HfWordsLaying *own, const Ground *ground, HfBox ink, guint copy)
{
  double shift = hf_or_zero(own->place->shift_x);
  double middle = hf_box_centre(ground->box).x;
  if (own->place->at == NULL || own->place->at->len == 0)
    return middle + shift;
  const HfSpot *spot = &g_array_index(own->place->at, HfSpot, copy);
  switch (spot->kind) {
  case HF_SPOT_LEFT_END:
    return ground->box.min.x - ink.min.x + shift;
  case HF_SPOT_RIGHT_END:
    return ground->box.max.x - ink.max.x + shift;
  case HF_SPOT_POINT:
    return middle + spot->point.x + shift;
  default:
    return middle + shift;
  }
}

/* Height of the bar's top over the baseline at which the shallowest foot bites by @bite. */
static gboolean
solve_top(HfWordsLaying *own, HfCrown *feet, double bite, HfBiteEdge *ret_edge, GError **error)
{
  const HfSetting *s = &own->setting;
  HfBiteEdge edge = {.size = s->size, .across = s->size * s->wide, .edge = 0, .sign = -1};
  HfBiteMark least, greatest;
  do {
    if (!hf_crown_measure(feet, &edge, &least, &greatest))
      return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                           "place them by 'above' instead of 'stand on'",
                           "no letter of the words reaches down to the baseline");
    edge.edge += bite - least.depth;
  } while (hf_crown_close_dips(feet, &edge, bite, HF_SLIT * own->wording->cap * s->size) > 0 &&
           hf_wording_goes_on(own->wording));
  *ret_edge = edge;
  return TRUE;
}

static gboolean
bar_is_high_enough(HfWordsLaying *own, const Ground *ground, double bite, GError **error)
{
  double height = hf_box_height(ground->box);
  if (bite < height)
    return TRUE;
  g_autofree char *wanted = hf_text_mm(bite), *has = hf_text_mm(height);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                       "make the bar higher or the bite smaller",
                       "the letters bite by %s and the bar is only %s high", wanted, has);
}

/* Tails that would show below the bar end half way down in it. */
static void
trim_tails(const HfPlaced *placed, double middle, double bottom)
{
  for (guint i = 0; i < placed->letters->len; i++) {
    HfPlacedLetter *at = hf_placed_letter(placed, i);
    if (at->outline == NULL || hf_outline_box(at->outline).min.y >= bottom)
      continue;
    HfOutline *kept = hf_cut_level(at->outline, middle, TRUE);
    hf_outline_free(at->outline);
    at->outline = kept;
  }
}

gboolean
hf_lay_standing(HfWordsLaying *own, GError **error)
{
  Ground ground;
  if (!find_ground(own, &ground, error))
    return FALSE;
  double bite = hf_words_bite(own, own->words->bite);
  if (!bar_is_high_enough(own, &ground, bite, error))
    return FALSE;
  gint last = (gint)own->wording->lines->len - 1;
  g_autoptr(HfCrown) feet =
      hf_crown_new(own->wording, HF_SIDE_FEET, last, HF_REACH * own->wording->cap);
  HfBiteEdge edge = {0};
  if (!solve_top(own, feet, bite, &edge, error))
    return FALSE;
  g_autoptr(HfPlaced) placed =
      hf_place_straight(own->wording, &own->setting, own->leading, own->words->align);
  double baseline =
      hf_placed_letter(placed, hf_wording_line(own->wording, (guint)last)->first)->em.y0;
  double top = baseline + edge.edge, bottom = top - hf_box_height(ground.box);
  if (own->words->descenders == HF_DESCENDER_JOINS)
    trim_tails(placed, (top + bottom) / 2, bottom);
  HfLaid *laid = &own->laying->laid[own->entry];
  laid->own = placed->box;
  for (guint copy = 0; copy < hf_words_n_copies(own); copy++) {
    if (!hf_cancel_check(own->laying->cancel, error))
      return FALSE;
    HfMatrix move =
        hf_matrix_move(along_bar(own, &ground, placed->box, copy), ground.box.max.y - top);
    HfMatrix frame = hf_matrix_then(move, ground.frame);
    g_array_append_val(laid->frames, frame);
    guint first = laid->shapes->len;
    hf_words_add(own, placed, frame, copy);
    hf_words_add_bites(own, feet, &edge, first, HF_LAID_SHAPE(ground.entry, 0));
    if (copy == 0)
      hf_words_tell_joined(own, first);
  }
  laid->centre = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, 0), hf_point(0, 0));
  return TRUE;
}
