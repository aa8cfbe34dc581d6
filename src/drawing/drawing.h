/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawing.h - a drawing that somebody made elsewhere: a file's bytes into named pieces of true
 * curves (the door of drawing/).
 *
 *   heron.svg ─> path "tail"          what is filled and what a pen left, as closed outlines
 *                path "beak"          in the order in which they were painted,
 *                the "H" in text ...  letters in faces that are here
 *                notes                and what was left out, where, and why
 *
 * Which reader a file is for is seen by its first bytes (drawing.c has a table of them); what comes
 * out is the same for all. Frame: units in which the longer side of all that is drawn is about
 * HF_DRAWING_LONG, x to the right, y up; `mm` says what a unit is in the file's own size. The
 * curves are as exact at any size the drawing is brought to as HF_DRAWING_LONG is to 2 um.
 */
#pragma once
#include "base/cancel.h"
#include "geom/outline.h"
#include "type/type.h"

#define HF_DRAWING_LONG 1000.0

typedef struct {
  char *name;         /* as people say it: `path "tail"`, `2nd circle`, `edge of path "tail"` */
  GPtrArray *called;  /* char *: names in the file that mean it: its own, then of what it is in */
  HfOutline *outline; /* closed, by the non-zero rule; never empty */
  guint32 colour;     /* 0xrrggbb; of a shade that is not one colour: 0x808080 */
  gboolean white;     /* painted white: does it cut, is it metal, or nothing? */
  gboolean opening;   /* its user says that it cuts through all others, however they were painted */
  guint line;         /* in the file; 0: none */
} HfDrawingPiece;

typedef struct {
  guint line;      /* the first place; 0: the file as a whole */
  guint times;     /* how often */
  char *text;      /* "a picture of dots was left out" */
  HfPoint at;      /* where in the drawing, units; NAN: nowhere in it */
  gboolean slight; /* it is as its file has it, or was mended: nothing is missing or in doubt */
} HfDrawingNote;

/* Live text: a file names faces and holds no letters. */
typedef struct {
  char *text;  /* in one line, as it reads */
  char *asked; /* the faces that its file names: "Old Face, serif"; "": none */
  char *face;  /* (nullable) "Noto Sans Bold" or several: what it was set in */
  guint line;  /* in the file; 0: none */
  GError *why; /* (nullable) why it was not set: none of its pieces is there */
} HfDrawingText;

typedef struct {
  GPtrArray *pieces; /* HfDrawingPiece *, in the order in which they are painted */
  GPtrArray *notes;  /* HfDrawingNote * */
  GPtrArray *groups; /* char *, each once: layers and blocks of what is drawn, also of what is no
                        piece by itself; of a file that has none: empty */
  GPtrArray *texts;  /* HfDrawingText * */
  double mm;         /* of a unit, as the file has it */
  gboolean guessed;  /* neither the file nor the wish says of what unit it is: `mm` goes by mm */
  char *size_rule;   /* how `mm` came about: "its file gives its size: 120 mm by 80 mm" */
  HfBox page;        /* the file's page, in units; empty: it has none */
  double dot;        /* units that a dot of the picture is that it was traced from; 0: from none */
  double off;        /* units by which its edges may be off those of the picture; 0: as drawn */
  char *digest;      /* SHA-256 of the file; (nullable) of one that was not opened */
  GHashTable *cut;   /* what was worked out of it: hf_drawing_metal() */
  gint others;       /* owners beside the first; atomic */
} HfDrawing;

/* Another face than the one that a file names. All borrowed. */
typedef struct {
  const char *named; /* "Old Face", "serif": as the file says it, capitals or not */
  HfFaceWanted instead;
} HfDrawingFace;

/* How a file is to be read, where its user has a say. All borrowed, all may be left out. */
typedef struct {
  double unit_mm; /* of one unit of a file that measures in units of its own, whatever it says of
                     them; 0: as it says */
  guint page;     /* of a PDF, from 1; 0: not said */
  const HfCancel *cancel; /* (nullable) asked while a picture is decoded and traced */
  /* (nullable) (element-type char *) names of pieces, groups, layers or blocks: what is metal
     whatever lies round it, what cuts through whatever it lies in, what is not there */
  const GPtrArray *metal, *openings, *left_out;
  HfFonts *fonts;             /* what live text is set in; without, it is left out, and told */
  const HfDrawingFace *faces; /* looked at first */
  guint n_faces;
  const HfFaceWanted *face; /* where none of what a text names is here; a name that means any face
                               of a kind (serif ...) is never one that is here */
} HfDrawingWish;

/**
 * hf_drawing_read:
 * @where: the file's name, as the user says it
 * Returns: (transfer full) with at least one piece; or %NULL with %HF_ERROR_BAD_VALUE (no drawing
 *   that is read here, broken, nothing in it to cut) or %HF_ERROR_TOO_BIG (over a cap on bytes,
 *   elements, depth, points, copies or coordinates, which is said). Text that can't be set is no
 *   error but where nothing else is left: hf_drawing_unset(). Opens no other file but those of
 *   faces. Cost O(n log n).
 */
HfDrawing *hf_drawing_read(const char *where, const void *bytes, gsize length, GError **error);
/** hf_drawing_read_as: the same by @wish. %HF_ERROR_BAD_VALUE also where it does not fit the file.
 */
HfDrawing *hf_drawing_read_as(const char *where, const void *bytes, gsize length,
                              const HfDrawingWish *wish, GError **error);
/** hf_drawing_open: the same, (transfer full) as a share of what was read of these bytes by the
 * same wish before: some of the last are kept, for all threads. It must not be changed. */
HfDrawing *hf_drawing_open(const char *where, const void *bytes, gsize length,
                           const HfDrawingWish *wish, GError **error);
/** hf_drawing_format: what a file is by its first bytes, "SVG"; %NULL: nothing that is read here.
 */
const char *hf_drawing_format(const void *bytes, gsize length);
/** hf_drawing_is_called: does the name of a file, by its ending, say that it is a drawing? */
gboolean hf_drawing_is_called(const char *file);
/** hf_drawing_formats: (transfer none) "SVG or DXF", for sentences. */
const char *hf_drawing_formats(void);
/** hf_drawing_unset: (transfer none) (nullable) why the first text that is not set is not:
 *  %HF_ERROR_NOT_FOUND (a face or a letter is not here, and which would do), %HF_ERROR_BAD_FONT. A
 *  sign of which words are missing must not be made. */
const GError *hf_drawing_unset(const HfDrawing *drawing);
/** hf_drawing_ref: one more owner, in any thread; each lets go by hf_drawing_free(). */
HfDrawing *hf_drawing_ref(HfDrawing *drawing);
/**
 * hf_drawing_say_size:
 * @mm: of a unit, as it will be cut
 * @kerf: mm; 0: not known
 * Returns: (transfer full) (nullable) what a traced picture comes to at that size: "a dot of the
 *   picture is 0.25 mm, and its edges are true within 0.15 mm ..."; and, where that is coarse, how
 *   many dots would do. %NULL: it was not traced.
 */
char *hf_drawing_say_size(const HfDrawing *drawing, double mm, double kerf);
/** hf_drawing_free: lets go; of the last owner frees it and all that it owns; %NULL: nothing. */
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
  HF_N_DRAWING_WHITES
} HfDrawingWhite;

/* A piece of metal: its name (borrowed of the drawing) and what is left of it. */
typedef struct {
  const char *name;
  HfOutline *outline;
} HfDrawingMetal;

/** hf_drawing_piece_is_called: is it @name (%NULL: any), or in a group that is? */
gboolean hf_drawing_piece_is_called(const HfDrawingPiece *piece, const char *name);
/** hf_drawing_has: is there a piece called @name, or a group of pieces? hf_drawing_has_white: and
 *  is one of them white? @name %NULL: of all. */
gboolean hf_drawing_has(const HfDrawing *drawing, const char *name);
gboolean hf_drawing_has_white(const HfDrawing *drawing, const char *name);
/** hf_drawing_metal: (transfer none) (element-type HfDrawingMetal) what is metal of it, or of the
 *  pieces called @name (nullable), in the order of painting. @white: not UNSAID. May be empty. It
 * is worked out once and lives as long as the drawing; any thread. */
const GArray *hf_drawing_metal(HfDrawing *drawing, HfDrawingWhite white, const char *name);
/** hf_drawing_metal_area: units2 of all of it together; a union. hf_drawing_metal_box: its box. */
double hf_drawing_metal_area(const GArray *metal);
HfBox hf_drawing_metal_box(const GArray *metal);
/** hf_drawing_white: what white must be for the metal of @name (nullable): METAL where there is
 * none or all readings come to the same within 1e-6 of the metal; else UNSAID, and @area has the
 * units2 of each. Kept as the metal is. */
HfDrawingWhite hf_drawing_white(HfDrawing *drawing, const char *name,
                                double area[HF_N_DRAWING_WHITES]);
