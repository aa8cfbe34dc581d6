/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawing.c - which reader a file is for, and what all readers fill.
 */
#include "drawing/drawing-private.h"
#include <string.h>

static const HfDrawingReader *const readers[] = {&hf_reader_svg, &hf_reader_dxf};

#define WHITE 0xfa /* of each of red, green and blue, at least: nobody sees a grey in it */

HfDrawing *
hf_drawing_read(const char *where, const void *bytes, gsize length, GError **error)
{
  const char *text = (const char *)bytes;
  for (guint i = 0; i < G_N_ELEMENTS(readers); i++)
    if (readers[i]->is_it(text, length))
      return readers[i]->read(where, text, length, error);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, "save it as SVG or DXF",
               "it is no drawing of a kind that is read here");
  return NULL;
}

static void
piece_free(gpointer data)
{
  HfDrawingPiece *piece = (HfDrawingPiece *)data;
  g_free(piece->name);
  g_ptr_array_unref(piece->called);
  hf_outline_free(piece->outline);
  g_free(piece);
}

static void
note_free(gpointer data)
{
  HfDrawingNote *note = (HfDrawingNote *)data;
  g_free(note->text);
  g_free(note);
}

HfDrawing *
hf_drawing_new(void)
{
  HfDrawing *drawing = g_new0(HfDrawing, 1);
  drawing->pieces = g_ptr_array_new_with_free_func(piece_free);
  drawing->notes = g_ptr_array_new_with_free_func(note_free);
  drawing->mm = 1;
  drawing->page = HF_BOX_EMPTY;
  return drawing;
}

void
hf_drawing_free(HfDrawing *drawing)
{
  if (drawing == NULL)
    return;
  g_ptr_array_unref(drawing->pieces);
  g_ptr_array_unref(drawing->notes);
  g_free(drawing->size_rule);
  g_free(drawing);
}

void
hf_drawing_note(HfDrawing *drawing, guint line, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *text = g_strdup_vprintf(format, args);
  va_end(args);
  for (guint i = 0; i < drawing->notes->len; i++) {
    HfDrawingNote *old = (HfDrawingNote *)g_ptr_array_index(drawing->notes, i);
    if (strcmp(old->text, text) == 0) {
      old->times++;
      return;
    }
  }
  HfDrawingNote *note = g_new0(HfDrawingNote, 1);
  *note = (HfDrawingNote){line, 1, g_steal_pointer(&text)};
  g_ptr_array_add(drawing->notes, note);
}

static gboolean
is_white(guint32 colour)
{
  return (colour >> 16 & 0xff) >= WHITE && (colour >> 8 & 0xff) >= WHITE &&
         (colour & 0xff) >= WHITE;
}

HfDrawingPiece *
hf_drawing_add(HfDrawing *drawing, char *name, GPtrArray *called, HfOutline *outline,
               guint32 colour, guint line)
{
  if (hf_outline_n_contours(outline) == 0) {
    g_free(name);
    g_ptr_array_unref(called);
    hf_outline_free(outline);
    return NULL;
  }
  HfDrawingPiece *piece = g_new0(HfDrawingPiece, 1);
  *piece = (HfDrawingPiece){name, called, outline, colour, is_white(colour), line};
  g_ptr_array_add(drawing->pieces, piece);
  return piece;
}
