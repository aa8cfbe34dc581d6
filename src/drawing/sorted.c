/* SPDX-License-Identifier: GPL-3.0-or-later
 * sorted.c - what a drawing's user says of pieces by their names: metal, opening, left out.
 */
#include "base/text.h"
#include "drawing/drawing-private.h"
#include <string.h>

gboolean
hf_drawing_names(const GPtrArray *names, const char *name)
{
  for (guint i = 0; names != NULL && i < names->len; i++)
    if (strcmp((const char *)names->pdata[i], name) == 0)
      return TRUE;
  return FALSE;
}

/* Its own name, or of what it is in. */
static gboolean
is_named(const HfDrawingPiece *piece, const GPtrArray *names)
{
  for (guint i = 0; names != NULL && i < names->len; i++)
    if (hf_drawing_piece_is_called(piece, (const char *)names->pdata[i]))
      return TRUE;
  return FALSE;
}

static void
add_name(GPtrArray *all, const char *name)
{
  if (!hf_drawing_names(all, name))
    g_ptr_array_add(all, (gpointer)name);
}

static gboolean
refuse_name(const HfDrawing *drawing, const char *where, const char *name, GError **error)
{
  enum { SHOWN = 12 };
  g_autoptr(GPtrArray) all = g_ptr_array_new();
  for (guint i = 0; i < drawing->groups->len; i++)
    add_name(all, (const char *)drawing->groups->pdata[i]);
  for (guint i = 0; i < drawing->pieces->len && all->len <= SHOWN; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    add_name(all, piece->called->len > 0 ? (const char *)piece->called->pdata[0] : piece->name);
  }
  guint n = all->len;
  g_ptr_array_add(all, NULL);
  g_autofree char *list = hf_text_list_some((const char *const *)all->pdata, n, SHOWN, "and");
  g_autofree char *fix = g_strdup_printf("there is %s", list);
  hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "the drawing has nothing called \"%s\"",
               name);
  return FALSE;
}

/* Each of @names means something. */
static gboolean
are_there(const HfDrawing *drawing, const char *where, const GPtrArray *names, GError **error)
{
  for (guint i = 0; names != NULL && i < names->len; i++) {
    const char *name = (const char *)names->pdata[i];
    if (!hf_drawing_has(drawing, name) && !hf_drawing_names(drawing->groups, name))
      return refuse_name(drawing, where, name, error);
  }
  return TRUE;
}

gboolean
hf_drawing_sort(HfDrawing *drawing, const char *where, const HfDrawingWish *wish, GError **error)
{
  if (!are_there(drawing, where, wish->metal, error) ||
      !are_there(drawing, where, wish->openings, error) ||
      !are_there(drawing, where, wish->left_out, error))
    return FALSE;
  for (guint i = drawing->pieces->len; i > 0; i--) {
    HfDrawingPiece *piece = (HfDrawingPiece *)drawing->pieces->pdata[i - 1];
    if (is_named(piece, wish->left_out)) {
      g_ptr_array_remove_index(drawing->pieces, i - 1);
      continue;
    }
    if (is_named(piece, wish->metal))
      piece->white = FALSE;
    piece->opening = piece->opening || is_named(piece, wish->openings);
  }
  if (drawing->pieces->len > 0)
    return TRUE;
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, "leave less of it out",
               "all of the drawing is left out");
  return FALSE;
}
