/* SPDX-License-Identifier: GPL-3.0-or-later
 * bar.c - a straight strip that words stand on or hang from; its own frame has its middle at 0, 0.
 */
#include "base/text.h"
#include "layout/words-private.h"

#include <string.h>

/* How far the copies of some words reach from the bar's middle, either way; < 0: they stand at its
 * ends, which have no place yet. */
static double
reach_of(HfLaying *laying, guint words, GError **error)
{
  const HfPlace *place = &hf_lay_entry(laying, words)->place;
  double half = hf_words_straight_width(laying, words, error) / 2, reach = 0;
  double shift = hf_or_zero(place->shift_x);
  guint n = place->at != NULL ? place->at->len : 0;
  for (guint i = 0; i < MAX(n, 1) && !isnan(half); i++) {
    const HfSpot *spot = n > 0 ? &g_array_index(place->at, HfSpot, i) : NULL;
    if (spot != NULL && (spot->kind == HF_SPOT_LEFT_END || spot->kind == HF_SPOT_RIGHT_END)) {
      hf_lay_refuse(laying, words, error, HF_ERROR_BAD_VALUE,
                    "give the bar a length, or place the words by its middle",
                    "the words stand at an end of a bar that is as long as they are");
      return NAN;
    }
    double at = shift + (spot != NULL && spot->kind == HF_SPOT_POINT ? spot->point.x : 0);
    reach = fmax(reach, fabs(at) + half);
  }
  return isnan(half) ? NAN : reach;
}

/* As long as the words that stand on it, and its overhang; NAN with the error. */
static double
fitted_length(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *bar = hf_lay_entry(laying, entry);
  double reach = 0;
  for (guint i = 0; i < laying->recipe->entries->len && !isnan(reach); i++) {
    const HfEntry *other = hf_lay_entry(laying, i);
    if (other->kind == HF_ENTRY_WORDS && other->words.stand_on != NULL &&
        strcmp(other->words.stand_on, bar->name) == 0) {
      double own = reach_of(laying, i, error);
      reach = isnan(own) ? NAN : fmax(reach, own);
    }
  }
  if (reach == 0)
    hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "give it a length",
                  "no words stand on it, so its length does not follow");
  if (isnan(reach) || reach == 0)
    return NAN;
  HfSolved solved = {entry, HF_SOLVED_LENGTH, 2 * (reach + bar->bar.overhang)};
  g_array_append_val(laying->layout->solved, solved);
  return solved.value;
}

gboolean
hf_lay_bar(HfLaying *laying, guint entry, GError **error)
{
  const HfBarEntry *bar = &hf_lay_entry(laying, entry)->bar;
  double length = isnan(bar->overhang) ? bar->length : fitted_length(laying, entry, error);
  if (isnan(length))
    return FALSE;
  HfBox box = {{-length / 2, -bar->height / 2}, {length / 2, bar->height / 2}};
  g_autoptr(HfOutline) own = hf_outline_new();
  hf_outline_add_rectangle(own, box, isnan(bar->corner) ? 0 : bar->corner);
  if (!hf_lay_frames(laying, entry, box, error))
    return FALSE;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}
