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

static const HfDrawingEntry *
drawing_of(const HfLaying *laying, guint entry)
{
  return &hf_lay_entry(laying, entry)->drawing;
}

/* (nullable) */
static HfUsedDrawing *
used_of(const HfLaying *laying, const char *file)
{
  for (guint i = 0; i < laying->layout->drawings->len; i++)
    if (strcmp(hf_layout_drawing(laying->layout, i)->file, file) == 0)
      return (HfUsedDrawing *)laying->layout->drawings->pdata[i];
  return NULL;
}

/* Notes are told once, however often a solver lays everything anew. Takes @text. */
static void
note(HfLaying *laying, const char *file, char *text)
{
  GPtrArray *own = used_of(laying, file)->notes;
  if (g_ptr_array_find_with_equal_func(own, text, g_str_equal, NULL)) {
    g_free(text);
    return;
  }
  g_ptr_array_add(own, text);
  g_ptr_array_add(laying->layout->notes, g_strdup_printf("drawing \"%s\"%s", file, text));
}

/* What its live words are set in. */
static void
note_texts(HfLaying *laying, const char *file, const HfDrawing *drawing)
{
  for (guint i = 0; i < drawing->texts->len; i++) {
    const HfDrawingText *text = (const HfDrawingText *)drawing->texts->pdata[i];
    const char *asked = *text->asked != '\0' ? text->asked : "no face";
    g_autofree char *line = text->line > 0 ? g_strdup_printf(":%u", text->line) : g_strdup("");
    if (text->face != NULL)
      note(laying, file,
           g_strdup_printf("%s: the text \"%s\" is set in %s; its file names %s", line, text->text,
                           text->face, asked));
  }
}

/* Of the reading that has most of them, where a file is read in several ways. */
static void
count_doubts(HfUsedDrawing *used, const HfDrawing *drawing)
{
  guint doubts = 0;
  const HfDrawingNote *first = NULL;
  for (guint i = 0; i < drawing->notes->len; i++) {
    const HfDrawingNote *one = (const HfDrawingNote *)drawing->notes->pdata[i];
    if (one->slight)
      continue;
    doubts += one->times;
    first = first != NULL ? first : one;
  }
  if (doubts <= used->doubts)
    return;
  used->doubts = doubts;
  g_free(used->doubt);
  used->doubt = first->line > 0 ? g_strdup_printf("line %u: %s", first->line, first->text)
                                : g_strdup(first->text);
}

/* For the report: each file once. */
static void
remember(HfLaying *laying, const char *file, const HfDrawing *drawing)
{
  if (used_of(laying, file) == NULL) {
    HfUsedDrawing *used = g_new0(HfUsedDrawing, 1);
    *used = (HfUsedDrawing){.file = g_strdup(file),
                            .digest = g_strdup(drawing->digest),
                            .size = g_strdup(drawing->size_rule),
                            .notes = g_ptr_array_new_with_free_func(g_free)};
    g_ptr_array_add(laying->layout->drawings, used);
  }
  count_doubts(used_of(laying, file), drawing);
  for (guint i = 0; i < drawing->notes->len; i++) {
    const HfDrawingNote *own = (const HfDrawingNote *)drawing->notes->pdata[i];
    g_autofree char *times =
        own->times > 1 ? g_strdup_printf(", and %u more", own->times - 1) : g_strdup("");
    g_autofree char *line = own->line > 0 ? g_strdup_printf(":%u", own->line) : g_strdup("");
    note(laying, file, g_strdup_printf("%s: %s%s", line, own->text, times));
  }
  note_texts(laying, file, drawing);
}

/* Kept from the last time: hf_drawing_open(). */
static HfDrawing *
read_file(HfLaying *laying, guint entry, GError **error)
{
  const HfDrawingEntry *own = drawing_of(laying, entry);
  g_autofree char *where = hf_lay_where(laying, entry), *path = NULL;
  if (!hf_lay_find_file(laying, own->file, "drawing", where, &path, error))
    return NULL;
  g_autoptr(GBytes) bytes = hf_file_read(path, MOST_BYTES, error);
  if (bytes == NULL)
    return NULL;
  gsize length;
  const void *data = g_bytes_get_data(bytes, &length);
  HfFaceWanted face = {.family = own->font};
  HfDrawingWish wish = {.unit_mm = hf_drawing_unit_mm(own->unit),
                        .page = (guint)own->page,
                        .cancel = laying->cancel,
                        .metal = own->metal,
                        .openings = own->openings,
                        .left_out = own->left_out,
                        .fonts = laying->fonts,
                        .face = own->font != NULL ? &face : NULL};
  HfDrawing *drawing = hf_drawing_open(own->file, data != NULL ? data : "", length, &wish, error);
  if (drawing == NULL)
    return NULL;
  if (hf_drawing_unset(drawing) != NULL) { /* a sign of which words are missing is none */
    g_propagate_error(error, g_error_copy(hf_drawing_unset(drawing)));
    hf_drawing_free(drawing);
    return NULL;
  }
  remember(laying, own->file, drawing);
  return drawing;
}

/* How its user says @value of @key (nullable: what there is): in the recipe, or behind the file. */
static char *
saying(const HfLaying *laying, const char *key, const char *value)
{
  if (!hf_recipe_is_made(laying->recipe))
    return g_strdup_printf("\"%s: %s\"", key, value);
  g_autofree char *option = g_strndup(key, strcspn(key, " ")), *quoted = g_shell_quote(value);
  return g_strdup_printf("--%s %s", option, strchr(value, ' ') != NULL ? quoted : value);
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

/* The areas, which only tell readings apart, are of the size that the file has. */
static gboolean
refuse_white(const HfLaying *laying, guint entry, const HfDrawing *drawing, const double *area,
             GError **error)
{
  double k = drawing->mm * drawing->mm;
  g_autofree char *opening = hf_text_area_more(area[HF_DRAWING_WHITE_OPENING] * k, 1),
                  *metal = hf_text_area_more(area[HF_DRAWING_WHITE_METAL] * k, 1),
                  *nothing = hf_text_area_more(area[HF_DRAWING_WHITE_NOTHING] * k, 1);
  g_autofree char *say_opening = saying(laying, "white is", "opening"),
                  *say_metal = saying(laying, "white is", "metal"),
                  *say_nothing = saying(laying, "white is", "nothing");
  g_autofree char *fix = g_strdup_printf(
      "say %s (it cuts away what is under it: at the file's own size %s of metal stay), %s "
      "(%s) or %s (it is left out: %s)",
      say_opening, opening, say_metal, metal, say_nothing, nothing);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                       "the drawing has white paint, and its metal hangs on what that means");
}

/* The reading of white that the recipe says, or any where all come to the same. */
static gboolean
choose_white(const HfLaying *laying, guint entry, HfDrawing *drawing, HfDrawingWhite *ret,
             GError **error)
{
  const HfDrawingEntry *own = drawing_of(laying, entry);
  double area[HF_N_DRAWING_WHITES];
  *ret = own->white != HF_DRAWING_WHITE_UNSAID ? (HfDrawingWhite)own->white
                                               : hf_drawing_white(drawing, own->piece, area);
  return *ret != HF_DRAWING_WHITE_UNSAID || refuse_white(laying, entry, drawing, area, error);
}

static const GArray *
choose_metal(HfLaying *laying, guint entry, HfDrawing *drawing, GError **error)
{
  const char *piece = drawing_of(laying, entry)->piece;
  HfDrawingWhite white;
  if (!hf_drawing_has(drawing, piece)) {
    refuse_piece(laying, entry, drawing, error);
    return NULL;
  }
  if (!choose_white(laying, entry, drawing, &white, error))
    return NULL;
  const GArray *metal = hf_drawing_metal(drawing, white, piece);
  if (metal->len > 0)
    return metal;
  g_autofree char *say = saying(laying, "white is", "metal"), *fix = g_strconcat("say ", say, NULL);
  hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
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

static gboolean
has_size(const HfDrawingEntry *own)
{
  return !isnan(own->width) || !isnan(own->height) || !isnan(own->box_width);
}

/* A size that nobody said is told, to be agreed. */
static gboolean
settle_size(HfLaying *laying, guint entry, const HfDrawing *drawing, HfBox box, GError **error)
{
  const HfDrawingEntry *own = drawing_of(laying, entry);
  if (has_size(own))
    return TRUE;
  if (drawing->guessed) {
    g_autofree char *mm = saying(laying, "unit", "mm"), *in = saying(laying, "unit", "in"),
                    *width = saying(laying, "width", "400 mm");
    g_autofree char *fix =
        g_strdup_printf("say %s or %s, or how wide it shall be: %s", mm, in, width);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                         "how large is the drawing \"%s\"? %s", own->file, drawing->size_rule);
  }
  g_autofree char *wide = hf_text_mm(hf_box_width(box) * drawing->mm);
  g_autofree char *high = hf_text_mm(hf_box_height(box) * drawing->mm);
  note(laying, own->file,
       g_strdup_printf(" is %s wide and %s high: %s", wide, high, drawing->size_rule));
  return TRUE;
}

/* How fine a picture is, at its size. */
static void
note_dots(HfLaying *laying, guint entry, const HfDrawing *drawing, double mm)
{
  double kerf = laying->recipe->kerf;
  char *text = hf_drawing_say_size(drawing, mm, isnan(kerf) ? 0 : kerf);
  if (text != NULL)
    note(laying, drawing_of(laying, entry)->file, g_strdup_printf(": %s", text));
  g_free(text);
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
  if (!settle_size(laying, entry, drawing, box, error) ||
      !hf_lay_frames_looking(laying, entry, (HfBox){{-half.x, -half.y}, half}, HF_LOOK_READING, 0,
                             error))
    return FALSE;
  note_dots(laying, entry, drawing, k);
  for (guint copy = 0; copy < laying->laid[entry].frames->len; copy++)
    for (guint i = 0; i < metal->len; i++)
      add_shape(laying, entry, copy, &g_array_index(metal, HfDrawingMetal, i), size);
  return TRUE;
}

gboolean
hf_lay_drawing(HfLaying *laying, guint entry, GError **error)
{
  g_autoptr(HfDrawing) drawing = read_file(laying, entry, error);
  const GArray *metal = drawing != NULL ? choose_metal(laying, entry, drawing, error) : NULL;
  return metal != NULL && place(laying, entry, drawing, metal, error);
}
