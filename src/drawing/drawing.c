/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawing.c - which reader a file is for, and what all readers fill.
 */
#include "base/text.h"
#include "drawing/drawing-private.h"
#include <string.h>

static const HfDrawingReader *const readers[] = {&hf_reader_png, &hf_reader_jpeg, &hf_reader_pdf,
                                                 &hf_reader_svg, &hf_reader_dxf};

#define WHITE 0xfa /* of each of red, green and blue, at least: nobody sees a grey in it */

/* (nullable) */
static const HfDrawingReader *
reader_of(const void *bytes, gsize length)
{
  for (guint i = 0; i < G_N_ELEMENTS(readers); i++)
    if (readers[i]->is_it((const char *)bytes, length))
      return readers[i];
  return NULL;
}

const char *
hf_drawing_format(const void *bytes, gsize length)
{
  const HfDrawingReader *reader = reader_of(bytes, length);
  return reader != NULL ? reader->name : NULL;
}

const char *
hf_drawing_formats(void)
{
  static char *list;
  if (g_once_init_enter(&list)) {
    const char *names[G_N_ELEMENTS(readers) + 1] = {NULL};
    for (guint i = 0; i < G_N_ELEMENTS(readers); i++)
      names[i] = readers[i]->name;
    g_once_init_leave(&list, hf_text_list(names, "or"));
  }
  return list;
}

gboolean
hf_drawing_is_called(const char *file)
{
  gsize length = strlen(file);
  for (guint i = 0; i < G_N_ELEMENTS(readers); i++)
    for (const char *const *ending = readers[i]->endings; *ending != NULL; ending++)
      if (length > strlen(*ending) &&
          g_ascii_strcasecmp(file + length - strlen(*ending), *ending) == 0)
        return TRUE;
  return FALSE;
}

HfDrawing *
hf_drawing_read_as(const char *where, const void *bytes, gsize length, const HfDrawingWish *wish,
                   GError **error)
{
  const HfDrawingReader *reader = reader_of(bytes, length);
  if (reader == NULL) {
    g_autofree char *fix = g_strdup_printf("save it as %s", hf_drawing_formats());
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix,
                 "it is no drawing of a kind that is read here");
    return NULL;
  }
  if (wish->page > 0 && !reader->has_pages) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "take \"page\" out",
                 "%s has no pages to choose from", reader->name);
    return NULL;
  }
  if (wish->unit_mm > 0 && !reader->own_unit) {
    hf_error_set(
        error, HF_ERROR_BAD_VALUE, where, "take \"unit\" out, and say how wide it shall be",
        "%s has its lengths in units of the standard: there is none to choose", reader->name);
    return NULL;
  }
  g_autoptr(HfDrawing) drawing = reader->read(where, (const char *)bytes, length, wish, error);
  if (drawing == NULL || !hf_drawing_sort(drawing, where, wish, error))
    return NULL;
  return g_steal_pointer(&drawing);
}

HfDrawing *
hf_drawing_read(const char *where, const void *bytes, gsize length, GError **error)
{
  static const HfDrawingWish none = {0};
  return hf_drawing_read_as(where, bytes, length, &none, error);
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

static void
text_free(gpointer data)
{
  HfDrawingText *text = (HfDrawingText *)data;
  g_free(text->text);
  g_free(text->asked);
  g_free(text->face);
  g_clear_error(&text->why);
  g_free(text);
}

HfDrawing *
hf_drawing_new(void)
{
  HfDrawing *drawing = g_new0(HfDrawing, 1);
  drawing->pieces = g_ptr_array_new_with_free_func(piece_free);
  drawing->notes = g_ptr_array_new_with_free_func(note_free);
  drawing->groups = g_ptr_array_new_with_free_func(g_free);
  drawing->texts = g_ptr_array_new_with_free_func(text_free);
  drawing->mm = 1;
  drawing->page = HF_BOX_EMPTY;
  return drawing;
}

HfDrawing *
hf_drawing_ref(HfDrawing *drawing)
{
  g_atomic_int_inc(&drawing->others);
  return drawing;
}

void
hf_drawing_free(HfDrawing *drawing)
{
  if (drawing == NULL || g_atomic_int_add(&drawing->others, -1) > 0)
    return;
  g_clear_pointer(&drawing->cut, g_hash_table_unref);
  g_ptr_array_unref(drawing->pieces);
  g_ptr_array_unref(drawing->notes);
  g_ptr_array_unref(drawing->groups);
  g_ptr_array_unref(drawing->texts);
  g_free(drawing->size_rule);
  g_free(drawing->digest);
  g_free(drawing);
}

HfDrawingNote *
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
      return old;
    }
  }
  HfDrawingNote *note = g_new0(HfDrawingNote, 1);
  *note = (HfDrawingNote){line, 1, g_steal_pointer(&text), {NAN, NAN}, FALSE};
  g_ptr_array_add(drawing->notes, note);
  return note;
}

HfDrawingText *
hf_drawing_text(HfDrawing *drawing, const char *text, const char *asked, guint line)
{
  HfDrawingText *own = g_new0(HfDrawingText, 1);
  *own = (HfDrawingText){.text = g_strdup(text), .asked = g_strdup(asked), .line = line};
  g_ptr_array_add(drawing->texts, own);
  return own;
}

const GError *
hf_drawing_unset(const HfDrawing *drawing)
{
  for (guint i = 0; i < drawing->texts->len; i++) {
    const HfDrawingText *text = (const HfDrawingText *)g_ptr_array_index(drawing->texts, i);
    if (text->why != NULL)
      return text->why;
  }
  return NULL;
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
  *piece = (HfDrawingPiece){name, called, outline, colour, is_white(colour), FALSE, line};
  g_ptr_array_add(drawing->pieces, piece);
  return piece;
}
