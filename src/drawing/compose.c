/* SPDX-License-Identifier: GPL-3.0-or-later
 * compose.c - what of a drawing is metal, by what its white paint is taken for.
 *
 *     ####### black        as an opening: white takes away what was painted before it
 *     ##   ##              as metal:      it is paint like any other
 *     ####### a white eye  as nothing:    as if it were not there
 */
#include "drawing/drawing-private.h"
#include "drawing/settle-private.h"
#include <string.h>

#define SAME_AREA 1e-6 /* of it: readings of white that differ by less are one */

static void
metal_clear(gpointer data)
{
  hf_outline_free(((HfDrawingMetal *)data)->outline);
}

gboolean
hf_drawing_piece_is_called(const HfDrawingPiece *piece, const char *name)
{
  if (name == NULL || strcmp(piece->name, name) == 0)
    return TRUE;
  for (guint i = 0; i < piece->called->len; i++)
    if (strcmp((const char *)g_ptr_array_index(piece->called, i), name) == 0)
      return TRUE;
  return FALSE;
}

gboolean
hf_drawing_has(const HfDrawing *drawing, const char *name)
{
  for (guint i = 0; i < drawing->pieces->len; i++)
    if (hf_drawing_piece_is_called(hf_drawing_piece(drawing, i), name))
      return TRUE;
  return FALSE;
}

gboolean
hf_drawing_has_white(const HfDrawing *drawing, const char *name)
{
  for (guint i = 0; i < drawing->pieces->len; i++)
    if (hf_drawing_piece(drawing, i)->white &&
        hf_drawing_piece_is_called(hf_drawing_piece(drawing, i), name))
      return TRUE;
  return FALSE;
}

/* What takes away of others: its region is worked out once, when it first meets one. */
typedef struct {
  guint piece;
  gboolean all; /* of all, as its user says; else, white, of what was painted before it */
  HfBox box;
  HfRegion *region; /* (nullable) */
} Cutter;

static void
cutter_clear(gpointer data)
{
  hf_region_free(((Cutter *)data)->region);
}

static GArray *
cutters_of(const HfDrawing *drawing, HfDrawingWhite white, const char *name)
{
  GArray *cutters = g_array_new(FALSE, FALSE, sizeof(Cutter));
  g_array_set_clear_func(cutters, cutter_clear);
  for (guint i = 0; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    gboolean by_white = piece->white && white == HF_DRAWING_WHITE_OPENING &&
                        hf_drawing_piece_is_called(piece, name);
    Cutter cutter = {i, piece->opening, hf_outline_box(piece->outline), NULL};
    if (piece->opening || by_white)
      g_array_append_val(cutters, cutter);
  }
  return cutters;
}

/* The regions of what cuts piece @of, borrowed, and their outlines. */
static void
find_cutters(const HfDrawing *drawing, GArray *cutters, guint of, GPtrArray *regions,
             GPtrArray *outlines)
{
  HfBox box = hf_outline_box(hf_drawing_piece(drawing, of)->outline);
  for (guint i = 0; i < cutters->len; i++) {
    Cutter *cutter = &g_array_index(cutters, Cutter, i);
    if ((!cutter->all && cutter->piece < of) || !hf_box_overlaps(box, cutter->box))
      continue;
    HfOutline *outline = hf_drawing_piece(drawing, cutter->piece)->outline;
    if (cutter->region == NULL)
      cutter->region = hf_settle_region(outline, FALSE);
    if (cutter->region == NULL)
      continue;
    g_ptr_array_add(regions, cutter->region);
    g_ptr_array_add(outlines, outline);
  }
}

/* (transfer full) what is left of piece @i. */
static HfOutline *
left_of(const HfDrawing *drawing, GArray *cutters, guint i)
{
  const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
  g_autoptr(GPtrArray) regions = g_ptr_array_new(), outlines = g_ptr_array_new();
  g_ptr_array_add(outlines, piece->outline);
  find_cutters(drawing, cutters, i, regions, outlines);
  g_autoptr(HfRegion) own = regions->len > 0 ? hf_settle_region(piece->outline, FALSE) : NULL;
  if (own == NULL)
    return hf_outline_copy(piece->outline);
  g_autoptr(HfRegion) cut = hf_region_union((const HfRegion *const *)regions->pdata, regions->len);
  g_autoptr(HfRegion) left = hf_region_subtract(own, cut);
  return hf_settle_curves(left, (const HfOutline *const *)outlines->pdata, outlines->len);
}

static GArray *
compose(const HfDrawing *drawing, HfDrawingWhite white, const char *name)
{
  g_autoptr(GArray) cutters = cutters_of(drawing, white, name);
  GArray *metal = g_array_new(FALSE, FALSE, sizeof(HfDrawingMetal));
  g_array_set_clear_func(metal, metal_clear);
  for (guint i = 0; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    if (!hf_drawing_piece_is_called(piece, name) || piece->opening ||
        (piece->white && white != HF_DRAWING_WHITE_METAL))
      continue;
    HfDrawingMetal one = {piece->name, left_of(drawing, cutters, i)};
    if (hf_outline_n_contours(one.outline) > 0)
      g_array_append_val(metal, one);
    else
      hf_outline_free(one.outline);
  }
  return metal;
}

/* ---- worked out once ------------------------------------------------------------------------- */

/* Of one name. */
typedef struct {
  GArray *metal[HF_N_DRAWING_WHITES]; /* (nullable) */
  double area[HF_N_DRAWING_WHITES];
  gboolean weighed;
  HfDrawingWhite white;
} Cut;

static GMutex lock; /* of what all drawings keep: who waits would work out the same */

static void
cut_free(gpointer data)
{
  Cut *cut = (Cut *)data;
  for (int i = 0; i < HF_N_DRAWING_WHITES; i++)
    if (cut->metal[i] != NULL)
      g_array_unref(cut->metal[i]);
  g_free(cut);
}

static Cut *
cut_of(HfDrawing *drawing, const char *name)
{
  if (drawing->cut == NULL)
    drawing->cut = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, cut_free);
  /* no name begins with a line feed */
  const char *key = name != NULL ? name : "\n";
  Cut *cut = (Cut *)g_hash_table_lookup(drawing->cut, key);
  if (cut == NULL) {
    cut = g_new0(Cut, 1);
    g_hash_table_insert(drawing->cut, g_strdup(key), cut);
  }
  return cut;
}

static const GArray *
metal_of(HfDrawing *drawing, Cut *cut, HfDrawingWhite white, const char *name)
{
  if (cut->metal[white] == NULL)
    cut->metal[white] = compose(drawing, white, name);
  return cut->metal[white];
}

const GArray *
hf_drawing_metal(HfDrawing *drawing, HfDrawingWhite white, const char *name)
{
  g_mutex_lock(&lock);
  const GArray *metal = metal_of(drawing, cut_of(drawing, name), white, name);
  g_mutex_unlock(&lock);
  return metal;
}

/* Does the metal hang on what white means? */
static void
weigh(HfDrawing *drawing, Cut *cut, const char *name)
{
  double most = 0, least = INFINITY;
  for (int i = HF_DRAWING_WHITE_OPENING; i < HF_N_DRAWING_WHITES; i++) {
    cut->area[i] = hf_drawing_metal_area(metal_of(drawing, cut, (HfDrawingWhite)i, name));
    most = fmax(most, cut->area[i]);
    least = fmin(least, cut->area[i]);
  }
  if (most - least > SAME_AREA * most)
    cut->white = HF_DRAWING_WHITE_UNSAID;
}

HfDrawingWhite
hf_drawing_white(HfDrawing *drawing, const char *name, double area[HF_N_DRAWING_WHITES])
{
  g_mutex_lock(&lock);
  Cut *cut = cut_of(drawing, name);
  if (!cut->weighed) {
    cut->weighed = TRUE;
    cut->white = HF_DRAWING_WHITE_METAL;
    if (hf_drawing_has_white(drawing, name))
      weigh(drawing, cut, name);
  }
  memcpy(area, cut->area, sizeof cut->area);
  HfDrawingWhite white = cut->white;
  g_mutex_unlock(&lock);
  return white;
}

/* ---- measured -------------------------------------------------------------------------------- */

double
hf_drawing_metal_area(const GArray *metal)
{
  g_autoptr(GPtrArray) regions = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < metal->len; i++)
    g_ptr_array_add(regions, hf_region_of_outline(g_array_index(metal, HfDrawingMetal, i).outline,
                                                  HF_NO_SHAPE, HF_FLATTEN_MM));
  g_autoptr(HfRegion) all = hf_region_union((const HfRegion *const *)regions->pdata, regions->len);
  return hf_region_area(all);
}

HfBox
hf_drawing_metal_box(const GArray *metal)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < metal->len; i++)
    box = hf_box_union(box, hf_outline_box(g_array_index(metal, HfDrawingMetal, i).outline));
  return box;
}
