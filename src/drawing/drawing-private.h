/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawing-private.h - what readers of drawings share.
 */
#pragma once
#include "drawing/drawing.h"

#define HF_DRAWING_MOST_CURVES 2000000
#define HF_DRAWING_FARTHEST    1e9 /* a coordinate, in the file's own units */

/* One format: the rows are in drawing.c. */
typedef struct {
  const char *name;             /* "SVG" */
  const char *const endings[4]; /* of its files: ".svg" */
  gboolean own_unit;            /* it measures in units that it may leave unsaid */
  gboolean (*is_it)(const char *bytes, gsize length);
  HfDrawing *(*read)(const char *where, const char *bytes, gsize length, const HfDrawingWish *wish,
                     GError **error);
  gboolean has_pages; /* one of them is read */
} HfDrawingReader;

extern const HfDrawingReader hf_reader_svg, hf_reader_dxf, hf_reader_png, hf_reader_jpeg,
    hf_reader_pdf;

/** hf_drawing_text: (transfer none) notes live text that is not set yet; what is given is copied.
 */
HfDrawingText *hf_drawing_text(HfDrawing *drawing, const char *text, const char *asked, guint line);
/** hf_drawing_tidy: (transfer full) @text as people can say it, at most 60 characters of it. */
char *hf_drawing_tidy(const char *text);
/** hf_drawing_letter_name: (transfer full) `the 2nd "R" in text "HARBOUR"`; @nth 0: `the "O" ...`;
 *  @text: `HARBOUR` tidied. */
char *hf_drawing_letter_name(const char *letter, guint nth, const char *text);
/** hf_drawing_new: (transfer full) without a piece, 1 mm a unit, no page. */
HfDrawing *hf_drawing_new(void);
/** hf_drawing_names: is @name one of @names (nullable: none)? */
gboolean hf_drawing_names(const GPtrArray *names, const char *name);
/** hf_drawing_sort: makes what @wish names metal or an opening and takes out what it leaves out.
 *  %FALSE with %HF_ERROR_NOT_FOUND: nothing has such a name; %HF_ERROR_BAD_VALUE: nothing is left.
 */
gboolean hf_drawing_sort(HfDrawing *drawing, const char *where, const HfDrawingWish *wish,
                         GError **error);
/** hf_drawing_note: (transfer none) notes @format at @line, as something that is missing or in
 * doubt; the same text again only counts. */
HfDrawingNote *hf_drawing_note(HfDrawing *drawing, guint line, const char *format, ...)
    G_GNUC_PRINTF(3, 4);
/** hf_drawing_add: adds a piece and takes @outline, @name and @called; an outline without a contour
 *  is freed and adds nothing. */
HfDrawingPiece *hf_drawing_add(HfDrawing *drawing, char *name, GPtrArray *called,
                               HfOutline *outline, guint32 colour, guint line);
