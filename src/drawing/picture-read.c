/* SPDX-License-Identifier: GPL-3.0-or-later
 * picture-read.c - a picture of dots as a drawing: what is dark is traced (raster/), each shape
 * with its openings is a piece.
 */
#include "base/text.h"
#include "base/units.h"
#include "drawing/drawing-private.h"
#include "raster/raster.h"
#include <string.h>

#define INCH_MM     25.4
#define TRUE_ENOUGH 0.25 /* mm: an edge that is farther off is seen; practice, no source */
#define DOTS_SEEN   2    /* a line is seen that is as wide as so many dots (sampling theorem) */

static HfBox
box_of(const HfTraced *traced)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < traced->shapes->len; i++)
    box = hf_box_union(box,
                       hf_outline_box(((const HfTracedShape *)traced->shapes->pdata[i])->outline));
  return box;
}

static guint
curves_of(const HfTraced *traced)
{
  guint n = 0;
  for (guint i = 0; i < traced->shapes->len; i++)
    n += ((const HfTracedShape *)traced->shapes->pdata[i])->outline->curves->len;
  return n;
}

static void
add_pieces(HfDrawing *drawing, const HfTraced *traced, HfMatrix frame)
{
  for (guint i = 0; i < traced->shapes->len; i++) {
    const HfTracedShape *shape = (const HfTracedShape *)traced->shapes->pdata[i];
    g_autofree char *ordinal = hf_text_ordinal(i + 1);
    char *name =
        traced->shapes->len == 1 ? g_strdup("shape") : g_strdup_printf("%s shape", ordinal);
    GPtrArray *called = g_ptr_array_new_with_free_func(g_free);
    g_ptr_array_add(called, g_strdup(name));
    HfOutline *outline = hf_outline_new();
    hf_outline_append(outline, shape->outline, frame);
    hf_drawing_add(drawing, name, called, outline, 0, 0);
  }
}

/* ---- what is told ---------------------------------------------------------------------------- */

static void
tell(HfDrawing *drawing, const HfRaster *raster, const HfTraced *traced)
{
  hf_drawing_note(drawing, 0,
                  "it is a picture of %u by %u dots: what is darker than a grey of %u (of 255) was "
                  "traced as metal",
                  raster->width, raster->height, traced->threshold)
      ->slight = TRUE;
  if (raster->turn != 1)
    hf_drawing_note(drawing, 0, "it was turned as its file says that it is to be looked at")
        ->slight = TRUE;
  if (raster->light)
    hf_drawing_note(drawing, 0,
                    "nothing in it is dark: what can't be seen through was traced as metal")
        ->slight = TRUE;
  if (traced->specks + traced->pinholes > 0)
    hf_drawing_note(drawing, 0,
                    "%u dark and %u light specks of less than %d dots were left out as noise",
                    traced->specks, traced->pinholes, HF_RASTER_SPECK)
        ->slight = TRUE;
  if (traced->dark_paper)
    hf_drawing_note(
        drawing, 0,
        "most of its rim is dark: if its paper is what is dark, place it as an opening");
}

static void
say_size(HfDrawing *drawing, const HfRaster *raster, double unit)
{
  drawing->guessed = raster->dot_mm == 0;
  if (drawing->guessed) {
    drawing->mm = 1 / unit;
    drawing->size_rule =
        g_strdup_printf("its file says no size, only %u by %u dots", raster->width, raster->height);
    return;
  }
  drawing->mm = raster->dot_mm / unit;
  g_autofree char *inch = hf_text_number(INCH_MM / raster->dot_mm, 1),
                  *size =
                      hf_text_size(raster->width * raster->dot_mm, raster->height * raster->dot_mm);
  drawing->size_rule = g_strdup_printf("its file says %s dots an inch: %s of paper", inch, size);
}

char *
hf_drawing_say_size(const HfDrawing *drawing, double mm, double kerf)
{
  if (drawing->dot == 0)
    return NULL;
  double dot = drawing->dot * mm, off = drawing->off * mm, least = DOTS_SEEN * dot;
  g_autofree char *one = hf_text_length(dot, 3), *true_to = hf_text_length(off, 3),
                  *detail = hf_text_length(least, 2);
  GString *text = g_string_new(NULL);
  g_string_append_printf(text,
                         "at this size a dot of the picture is %s: its edges are true within %s, "
                         "and it shows nothing that is narrower than %s",
                         one, true_to, detail);
  if (kerf > 0) {
    g_autofree char *cut = hf_text_length(kerf, 2);
    g_string_append_printf(text,
                           least > kerf ? ", though a kerf of %s could cut it"
                                        : ", and a kerf of %s cuts nothing narrower than itself",
                           cut);
  }
  if (off > TRUE_ENOUGH) {
    double more = off / TRUE_ENOUGH;
    g_autofree char *enough = hf_text_length(TRUE_ENOUGH, 2);
    g_string_append_printf(text,
                           ". It is too coarse for this size: for %s it must have %u by %u dots",
                           enough, (guint)ceil(hf_box_width(drawing->page) / drawing->dot * more),
                           (guint)ceil(hf_box_height(drawing->page) / drawing->dot * more));
  }
  return g_string_free(text, FALSE);
}

/* ---- reading --------------------------------------------------------------------------------- */

static HfDrawing *
to_drawing(const HfRaster *raster, const HfTraced *traced)
{
  HfDrawing *drawing = hf_drawing_new();
  HfBox box = box_of(traced);
  double k = HF_DRAWING_LONG / MAX(hf_box_width(box), hf_box_height(box));
  HfMatrix frame = {k, 0, 0, k, -k * box.min.x, -k * box.min.y};
  drawing->dot = k;
  drawing->off = k * traced->off;
  drawing->page =
      hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, hf_matrix_apply(frame, hf_point(0, 0))),
                       hf_matrix_apply(frame, hf_point(raster->width, raster->height)));
  say_size(drawing, raster, k);
  tell(drawing, raster, traced);
  add_pieces(drawing, traced, frame);
  return drawing;
}

static HfDrawing *
read_picture(const char *where, const char *bytes, gsize length, const HfDrawingWish *wish,
             GError **error)
{
  g_autoptr(HfRaster) raster = hf_raster_read(where, bytes, length, wish->cancel, error);
  if (raster == NULL)
    return NULL;
  g_autoptr(HfTraced) traced =
      hf_raster_trace(where, raster, 0, HF_RASTER_SPECK, wish->cancel, error);
  if (traced == NULL)
    return NULL;
  if (curves_of(traced) > HF_DRAWING_MOST_CURVES) {
    hf_error_set(error, HF_ERROR_TOO_BIG, where, "make a drawing of it in few tones",
                 "the picture has more than %u edges: it is no drawing", HF_DRAWING_MOST_CURVES);
    return NULL;
  }
  return to_drawing(raster, traced);
}

static gboolean
is_png(const char *bytes, gsize length)
{
  return g_strcmp0(hf_raster_is(bytes, length), "PNG") == 0;
}

static gboolean
is_jpeg(const char *bytes, gsize length)
{
  return g_strcmp0(hf_raster_is(bytes, length), "JPEG") == 0;
}

const HfDrawingReader hf_reader_png = {"PNG", {".png"}, FALSE, is_png, read_picture};
const HfDrawingReader hf_reader_jpeg = {"JPEG", {".jpg", ".jpeg"}, FALSE, is_jpeg, read_picture};
