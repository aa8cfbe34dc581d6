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

/* The regions of the white pieces behind @first that meet @box, and their outlines. */
static void
add_white_over(const HfDrawing *drawing, const char *name, guint first, HfBox box,
               GPtrArray *regions, GPtrArray *outlines)
{
  for (guint i = first; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    if (!piece->white || !hf_drawing_piece_is_called(piece, name) ||
        !hf_box_overlaps(box, hf_outline_box(piece->outline)))
      continue;
    HfRegion *region = hf_settle_region(piece->outline, FALSE);
    if (region == NULL)
      continue;
    g_ptr_array_add(regions, region);
    g_ptr_array_add(outlines, piece->outline);
  }
}

/* (transfer full) piece @i without the white that was painted over it. */
static HfOutline *
without_white(const HfDrawing *drawing, const char *name, guint i)
{
  const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
  g_autoptr(GPtrArray) regions = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  g_autoptr(GPtrArray) outlines = g_ptr_array_new();
  g_ptr_array_add(outlines, piece->outline);
  add_white_over(drawing, name, i + 1, hf_outline_box(piece->outline), regions, outlines);
  g_autoptr(HfRegion) own = regions->len > 0 ? hf_settle_region(piece->outline, FALSE) : NULL;
  if (own == NULL)
    return hf_outline_copy(piece->outline);
  g_autoptr(HfRegion) white =
      hf_region_union((const HfRegion *const *)regions->pdata, regions->len);
  g_autoptr(HfRegion) left = hf_region_subtract(own, white);
  return hf_settle_curves(left, (const HfOutline *const *)outlines->pdata, outlines->len);
}

static GArray *
compose(const HfDrawing *drawing, HfDrawingWhite white, const char *name)
{
  GArray *metal = g_array_new(FALSE, FALSE, sizeof(HfDrawingMetal));
  g_array_set_clear_func(metal, metal_clear);
  for (guint i = 0; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    if (!hf_drawing_piece_is_called(piece, name) ||
        (piece->white && white != HF_DRAWING_WHITE_METAL))
      continue;
    HfDrawingMetal one = {piece->name, white == HF_DRAWING_WHITE_OPENING
                                           ? without_white(drawing, name, i)
                                           : hf_outline_copy(piece->outline)};
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
