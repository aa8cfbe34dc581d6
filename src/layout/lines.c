/* SPDX-License-Identifier: GPL-3.0-or-later
 * lines.c - letters along straight lines, one under the other, in the words' own frame.
 *
 *        |<- ink ->|           each line is aligned by its ink, not by its advances, so that a
 *       T i d e s              trailing space or spacing moves nothing
 *         & Ropes   <- leading
 */
#include "layout/words-private.h"

double
hf_setting_spacing(const HfSetting *setting, const HfWording *wording, guint i)
{
  if (setting->pairs != NULL)
    return setting->pairs[i];
  gboolean is_last = i + 1 == wording->letters->len ||
                     hf_wording_letter(wording, i + 1)->line != hf_wording_letter(wording, i)->line;
  return is_last ? 0 : setting->spacing;
}

double *
hf_setting_along(const HfSetting *setting, const HfWording *wording)
{
  double *along = g_new0(double, wording->letters->len + 1);
  double moved = 0;
  for (guint i = 0; i < wording->letters->len; i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    if (i == hf_wording_line(wording, letter->line)->first)
      moved = 0;
    along[i] = letter->pen * setting->size * setting->wide + moved;
    moved += hf_setting_spacing(setting, wording, i);
  }
  return along;
}

/* ---- placed letters ------------------------------------------------------------------------ */

static void
placed_letter_clear(gpointer letter)
{
  hf_outline_free(((HfPlacedLetter *)letter)->outline);
  hf_outline_free(((HfPlacedLetter *)letter)->drawn);
}

HfPlaced *
hf_placed_new(guint n)
{
  HfPlaced *placed = g_new0(HfPlaced, 1);
  placed->letters = g_array_sized_new(FALSE, TRUE, sizeof(HfPlacedLetter), n);
  g_array_set_clear_func(placed->letters, placed_letter_clear);
  g_array_set_size(placed->letters, n);
  placed->box = HF_BOX_EMPTY;
  return placed;
}

void
hf_placed_free(HfPlaced *placed)
{
  if (placed == NULL)
    return;
  g_array_unref(placed->letters);
  g_free(placed);
}

void
hf_placed_set(HfPlaced *placed, guint i, const HfLetter *letter, HfMatrix em)
{
  HfPlacedLetter *at = hf_placed_letter(placed, i);
  at->em = em;
  if (letter->outline == NULL)
    return;
  at->outline = hf_outline_new();
  hf_outline_append(at->outline, letter->outline, em);
  if (letter->drawn != NULL) {
    at->drawn = hf_outline_new();
    hf_outline_append(at->drawn, letter->drawn, em);
  }
  placed->box = hf_box_union(placed->box, hf_outline_box(at->outline));
}

/* ---- straight ------------------------------------------------------------------------------ */

gboolean
hf_line_ink(const HfWording *wording, const HfSetting *setting, const double *along, guint line,
            double *ret_min, double *ret_max)
{
  const HfLetterLine *own = hf_wording_line(wording, line);
  double min = INFINITY, max = -INFINITY, k = setting->size * setting->wide;
  for (guint i = own->first; i < own->first + own->n; i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    if (letter->outline == NULL)
      continue;
    min = MIN(min, along[i] + k * letter->ink.min.x);
    max = MAX(max, along[i] + k * letter->ink.max.x);
  }
  *ret_min = min <= max ? min : 0;
  *ret_max = min <= max ? max : 0;
  return min <= max;
}

/* Start of line @line such that its ink is aligned with that of the widest. */
static double
line_start(HfAlign align, double min, double max, double widest)
{
  switch (align) {
  case HF_ALIGN_LEFT:
    return -widest / 2 - min;
  case HF_ALIGN_RIGHT:
    return widest / 2 - max;
  case HF_ALIGN_CENTRE:
    break;
  }
  return -(min + max) / 2;
}

HfPlaced *
hf_place_straight(const HfWording *wording, const HfSetting *setting, double leading, HfAlign align)
{
  guint n_lines = wording->lines->len;
  g_autofree double *along = hf_setting_along(setting, wording);
  HfPlaced *placed = hf_placed_new(wording->letters->len);
  double widest = 0, min = 0, max = 0;
  for (guint i = 0; i < n_lines; i++)
    if (hf_line_ink(wording, setting, along, i, &min, &max))
      widest = MAX(widest, max - min);
  double top = wording->top * setting->size;
  double foot = wording->foot * setting->size - leading * (n_lines - 1);
  for (guint i = 0; i < wording->letters->len; i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    if (i == hf_wording_line(wording, letter->line)->first)
      hf_line_ink(wording, setting, along, letter->line, &min, &max);
    double x = line_start(align, min, max, widest) + along[i];
    double y = -leading * letter->line - (top + foot) / 2;
    HfMatrix em = hf_matrix_scale(setting->size * setting->wide, setting->size);
    hf_placed_set(placed, i, letter, hf_matrix_then(em, hf_matrix_move(x, y)));
  }
  return placed;
}

HfBox
hf_box_straight(const HfWording *wording, const HfSetting *setting, double leading)
{
  g_autofree double *along = hf_setting_along(setting, wording);
  HfBox box = HF_BOX_EMPTY;
  double min, max;
  for (guint l = 0; l < wording->lines->len; l++) {
    const HfLetterLine *line = hf_wording_line(wording, l);
    if (!hf_line_ink(wording, setting, along, l, &min, &max))
      continue;
    double half = (max - min) / 2;
    for (guint i = line->first; i < line->first + line->n; i++) {
      const HfLetter *letter = hf_wording_letter(wording, i);
      if (letter->outline == NULL)
        continue;
      double low = setting->size * letter->ink.min.y - leading * l;
      double high = setting->size * letter->ink.max.y - leading * l;
      box = hf_box_union(box, (HfBox){{-half, low}, {half, high}});
    }
  }
  return box;
}
