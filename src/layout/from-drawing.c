/* SPDX-License-Identifier: GPL-3.0-or-later
 * from-drawing.c - a drawing from a file, brought to its size: one shape for each of its pieces, so
 * that findings say which.
 */
#include "base/file.h"
#include "base/text.h"
#include "drawing/drawing.h"
#include "layout/layout-private.h"
#include <string.h>

#define MOST_BYTES (32u << 20)
#define SAME_AREA  1e-6 /* of it: readings of white that differ by less are one */

static const HfDrawingEntry *
drawing_of(const HfLaying *laying, guint entry)
{
  return &hf_lay_entry(laying, entry)->drawing;
}

/* Notes are told once, however often a solver lays everything anew. */
static void
note(HfLaying *laying, char *text)
{
  for (guint i = 0; i < laying->layout->notes->len; i++)
    if (strcmp((const char *)laying->layout->notes->pdata[i], text) == 0) {
      g_free(text);
      return;
    }
  g_ptr_array_add(laying->layout->notes, text);
}

static void
note_all(HfLaying *laying, const char *file, const HfDrawing *drawing, GBytes *bytes)
{
  gsize length;
  const void *data = g_bytes_get_data(bytes, &length);
  g_autofree char *digest = hf_file_digest(data, length);
  note(laying, g_strdup_printf("drawing \"%s\": SHA-256 %s", file, digest));
  for (guint i = 0; i < drawing->notes->len; i++) {
    const HfDrawingNote *own = (const HfDrawingNote *)drawing->notes->pdata[i];
    g_autofree char *times =
        own->times > 1 ? g_strdup_printf(", and %u more", own->times - 1) : g_strdup("");
    g_autofree char *line = own->line > 0 ? g_strdup_printf(":%u", own->line) : g_strdup("");
    note(laying, g_strdup_printf("drawing \"%s\"%s: %s%s", file, line, own->text, times));
  }
}

static HfDrawing *
read_file(HfLaying *laying, guint entry, GError **error)
{
  const char *file = drawing_of(laying, entry)->file;
  g_autofree char *where = hf_lay_where(laying, entry), *path = NULL;
  if (!hf_lay_find_file(laying, file, "drawing", where, &path, error))
    return NULL;
  g_autoptr(GBytes) bytes = hf_file_read(path, MOST_BYTES, error);
  if (bytes == NULL)
    return NULL;
  gsize length;
  const void *data = g_bytes_get_data(bytes, &length);
  HfDrawing *drawing = hf_drawing_read(file, data != NULL ? data : "", length, error);
  if (drawing != NULL)
    note_all(laying, file, drawing, bytes);
  return drawing;
}

/* ---- which metal ----------------------------------------------------------------------------- */

static gboolean
refuse_piece(const HfLaying *laying, guint entry, const HfDrawing *drawing, GError **error)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  for (guint i = 0; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    g_ptr_array_add(names, piece->called->len > 0 ? piece->called->pdata[0] : piece->name);
  }
  guint n = names->len;
  g_ptr_array_add(names, NULL);
  enum { SHOWN = 8 };
  g_autofree char *list = hf_text_list_some((const char *const *)names->pdata, n, SHOWN, "and");
  g_autofree char *fix = g_strdup_printf("there is %s", list);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_NOT_FOUND, fix,
                       "the drawing has no piece called \"%s\"", drawing_of(laying, entry)->piece);
}

/* Sizes are in mm of the entry as it will be; the areas, which only tell readings apart, as the
 * file has it. */
static gboolean
refuse_white(const HfLaying *laying, guint entry, const HfDrawing *drawing, const double area[3],
             GError **error)
{
  double k = drawing->mm * drawing->mm;
  g_autofree char *opening = hf_text_number(area[0] * k, 1),
                  *metal = hf_text_number(area[1] * k, 1),
                  *nothing = hf_text_number(area[2] * k, 1);
  g_autofree char *fix = g_strdup_printf(
      "say \"white is: opening\" (of its own size %s mm2 of metal), \"metal\" (%s mm2) or "
      "\"nothing\" (%s mm2)",
      opening, metal, nothing);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                       "the drawing has white paint, and its metal hangs on what that means");
}

/* The reading of white that the recipe says, or any where all come to the same. */
static gboolean
choose_white(const HfLaying *laying, guint entry, const HfDrawing *drawing, HfDrawingWhite *ret,
             GError **error)
{
  const HfDrawingEntry *own = drawing_of(laying, entry);
  *ret = (HfDrawingWhite)own->white;
  if (own->white != HF_DRAWING_WHITE_UNSAID)
    return TRUE;
  *ret = HF_DRAWING_WHITE_METAL;
  if (!hf_drawing_has_white(drawing, own->piece))
    return TRUE;
  double area[3];
  for (int i = 0; i < 3; i++) {
    GArray *metal =
        hf_drawing_metal(drawing, (HfDrawingWhite)(HF_DRAWING_WHITE_OPENING + i), own->piece);
    area[i] = hf_drawing_metal_area(metal);
    hf_drawing_metal_free(metal);
  }
  double most = fmax(area[0], fmax(area[1], area[2]));
  if (most - fmin(area[0], fmin(area[1], area[2])) > SAME_AREA * most)
    return refuse_white(laying, entry, drawing, area, error);
  return TRUE;
}

static GArray *
choose_metal(HfLaying *laying, guint entry, const HfDrawing *drawing, GError **error)
{
  const char *piece = drawing_of(laying, entry)->piece;
  HfDrawingWhite white;
  if (!hf_drawing_has(drawing, piece)) {
    refuse_piece(laying, entry, drawing, error);
    return NULL;
  }
  if (!choose_white(laying, entry, drawing, &white, error))
    return NULL;
  GArray *metal = hf_drawing_metal(drawing, white, piece);
  if (metal->len > 0)
    return metal;
  hf_drawing_metal_free(metal);
  hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "say \"white is: metal\"",
                "all of the drawing is white, so that nothing of it is metal");
  return NULL;
}

/* ---- size and place -------------------------------------------------------------------------- */

/* mm a unit */
static double
scale_of(const HfDrawingEntry *own, const HfDrawing *drawing, HfBox box)
{
  if (!isnan(own->width))
    return own->width / hf_box_width(box);
  if (!isnan(own->height))
    return own->height / hf_box_height(box);
  if (!isnan(own->box_width))
    return fmin(own->box_width / hf_box_width(box), own->box_high / hf_box_height(box));
  return drawing->mm;
}

static void
note_size(HfLaying *laying, guint entry, const HfDrawing *drawing, HfBox box)
{
  const HfDrawingEntry *own = drawing_of(laying, entry);
  if (!isnan(own->width) || !isnan(own->height) || !isnan(own->box_width))
    return;
  g_autofree char *wide = hf_text_mm(hf_box_width(box) * drawing->mm);
  g_autofree char *high = hf_text_mm(hf_box_height(box) * drawing->mm);
  note(laying, g_strdup_printf("drawing \"%s\" is %s wide and %s high: %s", own->file, wide, high,
                               drawing->size_rule));
}

static void
add_shape(HfLaying *laying, guint entry, guint copy, const HfDrawingMetal *metal, HfMatrix size)
{
  HfLaid *laid = &laying->laid[entry];
  HfMatrix frame = g_array_index(laid->frames, HfMatrix, copy);
  HfOutline *placed = hf_outline_new();
  hf_outline_append(placed, metal->outline, hf_matrix_then(size, frame));
  g_autofree char *whole = hf_lay_label(laying, entry, copy);
  HfShape *shape = hf_shape_new(placed, g_strdup_printf("%s of %s", metal->name, whole), entry, -1,
                                hf_lay_entry(laying, entry)->as == HF_AS_OPENING);
  shape->copy = copy;
  shape->em = frame;
  g_ptr_array_add(laid->shapes, shape);
}

static gboolean
place(HfLaying *laying, guint entry, const HfDrawing *drawing, const GArray *metal, GError **error)
{
  const HfDrawingEntry *own = drawing_of(laying, entry);
  HfBox box = hf_drawing_metal_box(metal);
  double k = scale_of(own, drawing, box);
  HfPoint middle = hf_box_centre(box);
  HfMatrix size = hf_matrix_then(hf_matrix_move(-middle.x, -middle.y),
                                 hf_matrix_scale(own->mirror ? -k : k, k));
  HfPoint half = {hf_box_width(box) * k / 2, hf_box_height(box) * k / 2};
  note_size(laying, entry, drawing, box);
  if (!hf_lay_frames_looking(laying, entry, (HfBox){{-half.x, -half.y}, half}, HF_LOOK_READING, 0,
                             error))
    return FALSE;
  for (guint copy = 0; copy < laying->laid[entry].frames->len; copy++)
    for (guint i = 0; i < metal->len; i++)
      add_shape(laying, entry, copy, &g_array_index(metal, HfDrawingMetal, i), size);
  return TRUE;
}

gboolean
hf_lay_drawing(HfLaying *laying, guint entry, GError **error)
{
  g_autoptr(HfDrawing) drawing = read_file(laying, entry, error);
  GArray *metal = drawing != NULL ? choose_metal(laying, entry, drawing, error) : NULL;
  gboolean done = metal != NULL && place(laying, entry, drawing, metal, error);
  hf_drawing_metal_free(metal);
  return done;
}
