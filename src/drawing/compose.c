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

static gboolean
is_called(const HfDrawingPiece *piece, const char *name)
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
    if (is_called(hf_drawing_piece(drawing, i), name))
      return TRUE;
  return FALSE;
}

gboolean
hf_drawing_has_white(const HfDrawing *drawing, const char *name)
{
  for (guint i = 0; i < drawing->pieces->len; i++)
    if (hf_drawing_piece(drawing, i)->white && is_called(hf_drawing_piece(drawing, i), name))
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
    if (!piece->white || !is_called(piece, name) ||
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

GArray *
hf_drawing_metal(const HfDrawing *drawing, HfDrawingWhite white, const char *name)
{
  GArray *metal = g_array_new(FALSE, FALSE, sizeof(HfDrawingMetal));
  for (guint i = 0; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    if (!is_called(piece, name) || (piece->white && white != HF_DRAWING_WHITE_METAL))
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

void
hf_drawing_metal_free(GArray *metal)
{
  for (guint i = 0; metal != NULL && i < metal->len; i++)
    hf_outline_free(g_array_index(metal, HfDrawingMetal, i).outline);
  if (metal != NULL)
    g_array_unref(metal);
}

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
