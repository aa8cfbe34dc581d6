/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawn.c - the table of the ornaments; each brought to a box 1 high about 0 0.
 */
#include "ornament/kit-private.h"

static const HfOrnamentDrawn *const drawn[HF_N_ORNAMENTS] = {
#define ORNAMENT(NAME, name, word, heard, about) [HF_ORNAMENT_##NAME] = &hf_ornament_##name,
#include "ornament/ornaments.def"
};

static const char *const words[HF_N_ORNAMENTS] = {
#define ORNAMENT(NAME, name, word, heard, about) [HF_ORNAMENT_##NAME] = word,
#include "ornament/ornaments.def"
};

const char *
hf_ornament_word(HfOrnamentForm form)
{
  return words[form];
}

const HfOrnamentRow *
hf_ornament_row(HfOrnamentForm form)
{
  g_return_val_if_fail((guint)form < HF_N_ORNAMENTS, NULL);
  return &drawn[form]->row;
}

static HfOutline *
moved(HfOutline *outline, HfMatrix m)
{
  HfOutline *to = hf_outline_new();
  hf_outline_append(to, outline, m);
  hf_outline_free(outline);
  return to;
}

static HfPen
pen_drawn(HfOrnamentForm form, gboolean opening, int points)
{
  const HfOrnamentRow *row = hf_ornament_row(form);
  HfPen pen = {hf_outline_new(), hf_outline_new(), hf_outline_new(), opening,
               CLAMP(points > 0 ? points : row->points, row->least, row->most)};
  drawn[form]->draw(&pen);
  return pen;
}

HfOrnament *
hf_ornament_new(HfOrnamentForm form, gboolean opening, int points)
{
  HfPen pen = pen_drawn(form, opening, points);
  HfBox box = hf_outline_box(pen.own);
  HfPoint middle = hf_box_centre(box);
  double k = 1 / hf_box_height(box);
  HfMatrix m = hf_matrix_then(hf_matrix_move(-middle.x, -middle.y), hf_matrix_scale(k, k));
  HfOrnament *ornament = g_new(HfOrnament, 1);
  *ornament = (HfOrnament){moved(pen.own, m), moved(pen.cuts, m), moved(pen.bars, m)};
  return ornament;
}

void
hf_ornament_free(HfOrnament *ornament)
{
  if (ornament == NULL)
    return;
  hf_outline_free(ornament->own);
  hf_outline_free(ornament->cuts);
  hf_outline_free(ornament->bars);
  g_free(ornament);
}

double
hf_ornament_wide(HfOrnamentForm form, gboolean opening, int points)
{
  g_autoptr(HfOrnament) ornament = hf_ornament_new(form, opening, points);
  return hf_box_width(hf_outline_box(ornament->own));
}

double
hf_ornament_smallest(HfOrnamentForm form, gboolean opening, const HfOrnamentLimits *limits)
{
  const HfOrnamentRow *row = hf_ornament_row(form);
  const HfOrnamentThin *thin = opening ? &row->opening : &row->metal;
  return fmax(fmax(limits->web / thin->web, limits->gap / thin->gap), limits->room / thin->room);
}
