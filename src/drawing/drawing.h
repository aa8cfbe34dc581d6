/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawing.h - a drawing that somebody made elsewhere: a file's bytes into named pieces of true
 * curves (the door of drawing/).
 *
 *   heron.svg ─> path "tail"          what is filled and what a pen left, as closed outlines
 *                path "beak"          in the order in which they were painted,
 *                notes                and what was left out, where, and why
 *
 * Which reader a file is for is seen by its first bytes (drawing.c has a table of them); what comes
 * out is the same for all. Frame: units in which the longer side of all that is drawn is about
 * HF_DRAWING_LONG, x to the right, y up; `mm` says what a unit is in the file's own size. The
 * curves are as exact at any size the drawing is brought to as HF_DRAWING_LONG is to 2 um.
 */
#pragma once
#include "base/error.h"
#include "geom/outline.h"

#define HF_DRAWING_LONG 1000.0

typedef struct {
  char *name;         /* as people say it: `path "tail"`, `2nd circle`, `edge of path "tail"` */
  GPtrArray *called;  /* char *: names in the file that mean it: its own, then of what it is in */
  HfOutline *outline; /* closed, by the non-zero rule; never empty */
  guint32 colour;     /* 0xrrggbb; of a shade that is not one colour: 0x808080 */
  gboolean white;     /* painted white: does it cut, is it metal, or nothing? */
  guint line;         /* in the file; 0: none */
} HfDrawingPiece;

typedef struct {
  guint line;  /* the first place; 0: the file as a whole */
  guint times; /* how often */
  char *text;  /* "a picture of dots was left out" */
} HfDrawingNote;

typedef struct {
  GPtrArray *pieces; /* HfDrawingPiece *, in the order in which they are painted */
  GPtrArray *notes;  /* HfDrawingNote * */
  double mm;         /* of a unit, as the file has it */
  char *size_rule;   /* how `mm` came about: "its file gives its size: 120 mm by 80 mm" */
  HfBox page;        /* the file's page, in units; empty: it has none */
} HfDrawing;

/**
 * hf_drawing_read:
 * @where: the file's name, as the user says it
 * Returns: (transfer full) with at least one piece; or %NULL with %HF_ERROR_BAD_VALUE (no drawing
 *   that is read here, broken, nothing in it to cut) or %HF_ERROR_TOO_BIG (over a cap on bytes,
 *   elements, depth, points, copies or coordinates, which is said). Opens no other file. Cost
 *   O(n log n).
 */
HfDrawing *hf_drawing_read(const char *where, const void *bytes, gsize length, GError **error);
/** hf_drawing_free: frees it and all that it owns; %NULL: nothing. */
void hf_drawing_free(HfDrawing *drawing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfDrawing, hf_drawing_free)

/** hf_drawing_piece: (transfer none) piece @i. */
static inline const HfDrawingPiece *
hf_drawing_piece(const HfDrawing *drawing, guint i)
{
  return (const HfDrawingPiece *)g_ptr_array_index(drawing->pieces, i);
}

/* What white paint is taken for. */
typedef enum {
  HF_DRAWING_WHITE_UNSAID,
  HF_DRAWING_WHITE_OPENING, /* takes away what of the drawing was painted before it */
  HF_DRAWING_WHITE_METAL,   /* paint like any other */
  HF_DRAWING_WHITE_NOTHING, /* as if it were not there */
} HfDrawingWhite;

/* A piece of metal: its name (borrowed of the drawing) and what is left of it. */
typedef struct {
  const char *name;
  HfOutline *outline;
} HfDrawingMetal;

/** hf_drawing_has: is there a piece called @name, or a group of pieces? hf_drawing_has_white: and
 *  is one of them white? @name %NULL: of all. */
gboolean hf_drawing_has(const HfDrawing *drawing, const char *name);
gboolean hf_drawing_has_white(const HfDrawing *drawing, const char *name);
/** hf_drawing_metal: (transfer full) (element-type HfDrawingMetal) what is metal of it, or of the
 *  pieces called @name (nullable), in the order of painting; freed by hf_drawing_metal_free().
 *  @white: not UNSAID. May be empty. hf_drawing_metal_area: units2 of all of it together. */
GArray *hf_drawing_metal(const HfDrawing *drawing, HfDrawingWhite white, const char *name);
void hf_drawing_metal_free(GArray *metal);
double hf_drawing_metal_area(const GArray *metal);
HfBox hf_drawing_metal_box(const GArray *metal);
