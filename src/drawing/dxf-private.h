/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-private.h - what the files of the DXF reader share.
 *
 *   dxf-tags.c      bytes to pairs          dxf-walk.c      which entities are drawn, and where:
 *   dxf-document.c  pairs to sections                       layers, paper, blocks in blocks
 *   dxf-words.c     code pages, escapes     dxf-shapes.c    one file per kind of entity: what it
 *   dxf-pen.c       curves in a frame       dxf-polyline.c  draws, in its own frame
 *                                           dxf-spline.c dxf-hatch.c dxf-text.c
 *   dxf-fill.c      what is painted, as loops
 *   dxf-read.c      all of it as a drawing: joined, one in the other, named
 *
 * Lengths are in the file's own unit, y up, seen from above.
 */
#pragma once
#include "drawing/drawing-private.h"
#include "drawing/dxf-tags-private.h"
#include "geom/outline.h"

#define HF_DXF_MOST_CURVES 1000000 /* that are drawn, each copy counted */
#define HF_DXF_MOST_PIECES 200000  /* entities that draw, each copy counted */
#define HF_DXF_MOST_WALKED 1000000 /* entities that are looked at, and copies of blocks */
#define HF_DXF_DEEPEST     32      /* blocks in blocks */
#define HF_DXF_MOST_NOTES  100     /* different ones; the last stands for all others */

/* ---- document ------------------------------------------------------------------------------- */

typedef struct {
  char *name; /* UTF-8 */
  gboolean off, frozen;
  guint hidden; /* entities that were left out for it */
} HfDxfLayer;

typedef struct {
  char *name; /* UTF-8 */
  double base[3];
  guint from, to;   /* its pairs */
  gboolean outside; /* it stands in another file */
  gboolean drawing; /* it is being drawn now: a copy of it in itself has no end */
} HfDxfBlock;

typedef struct {
  guint from, to; /* pairs */
} HfDxfRange;

typedef struct {
  HfDxfTags *tags;
  int release;          /* 1009: R12, 1015: R2000, 1032: R2018; 0: not said */
  int unit;             /* $INSUNITS; 0: not said */
  const char *codepage; /* a name that g_convert() knows */
  GHashTable *layers;   /* folded name to HfDxfLayer * */
  GHashTable *blocks;   /* folded name to HfDxfBlock * */
  GArray *entities;     /* HfDxfRange: what is drawn, in order */
} HfDxfDocument;

/** hf_dxf_document_new: (transfer full) the sections of @tags, which it takes also where it fails;
 *  %NULL with %HF_ERROR_BAD_VALUE: no drawing in it. O(pairs). */
HfDxfDocument *hf_dxf_document_new(HfDxfTags *tags, GError **error);
/** hf_dxf_document_free: frees it and all that it owns; %NULL: nothing. */
void hf_dxf_document_free(HfDxfDocument *document);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfDxfDocument, hf_dxf_document_free)

/** hf_dxf_unit_mm: mm in one unit of $INSUNITS; 0: the file doesn't say, or a number that means
 *  nothing. hf_dxf_unit_word: (transfer none) "inches"; %NULL where there is none. */
double hf_dxf_unit_mm(int unit);
const char *hf_dxf_unit_word(int unit);

/** hf_dxf_layer: (nullable) the layer called @name, UTF-8. hf_dxf_block: likewise a block. */
HfDxfLayer *hf_dxf_layer(const HfDxfDocument *document, const char *name);
HfDxfBlock *hf_dxf_block(const HfDxfDocument *document, const char *name);

/** hf_dxf_decode: (transfer full) @text of the file as UTF-8: by its code page, with `\U+XXXX`,
 *  `\M+NXXXX` and `^I` undone; bytes that mean nothing become U+FFFD. */
char *hf_dxf_decode(const HfDxfDocument *document, const char *text);
/** hf_dxf_plain: (transfer full) @text, decoded, without the marks of one line (`%%d`). */
char *hf_dxf_plain(const char *text);
/** hf_dxf_plain_lines: (transfer full) @text of several lines, decoded, without its marks of
 *  format; lines end in a line feed. */
char *hf_dxf_plain_lines(const char *text);
/** hf_dxf_codepage: (transfer none) what g_convert() calls the code page @name, `ANSI_1252`. */
const char *hf_dxf_codepage(const char *name);

/* ---- pen ------------------------------------------------------------------------------------ */

/* Where things of three dimensions are: x' = m[0] . (x, y, z, 1), likewise y' and z'. */
typedef struct {
  double m[3][4];
} HfDxfSpace;

#define HF_DXF_SPACE_WORLD ((HfDxfSpace){{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}}})

/** hf_dxf_space_then: first @inner, then @outer. */
HfDxfSpace hf_dxf_space_then(HfDxfSpace inner, HfDxfSpace outer);
/** hf_dxf_space_of_normal: the frame of things drawn in a plane with this normal, the "arbitrary
 *  axis algorithm" of the format's reference: x = (0 1 0) x n where n is near z, else (0 0 1) x n.
 *  No direction: the world's. */
HfDxfSpace hf_dxf_space_of_normal(double x, double y, double z);
/** hf_dxf_space_plane: what @space does to points (x, y, @z), seen from above. */
HfMatrix hf_dxf_space_plane(HfDxfSpace space, double z);
/** hf_dxf_seen: a point, seen from above. */
HfPoint hf_dxf_seen(HfDxfSpace space, double x, double y, double z);

/** hf_dxf_matrix_run: brings @run (HfCurve) through @matrix in place. Arcs stay arcs under a
 *  similarity; else they become cubics, true to 1.1e-9 of their radius. */
void hf_dxf_matrix_run(GArray *run, HfMatrix matrix);
/** hf_dxf_line: adds the line a-b to @run; one of no length adds nothing. */
void hf_dxf_line(GArray *run, HfPoint a, HfPoint b);
/** hf_dxf_arc: adds an arc about @centre from angle @from by @sweep, radians. */
void hf_dxf_arc(GArray *run, HfPoint centre, double radius, double from, double sweep);
/** hf_dxf_bulge: adds the curve a-b of a polyline: bulge = tan(sweep / 4). */
void hf_dxf_bulge(GArray *run, HfPoint a, HfPoint b, double bulge);
/** hf_dxf_sweep: from @from to @to counter-clockwise, in (0, 2 pi]; radians. */
double hf_dxf_sweep(double from, double to);

/* ---- what is drawn -------------------------------------------------------------------------- */

typedef enum {
  HF_DXF_RUN,    /* one run, a line: open or closed */
  HF_DXF_FILLED, /* each run closed: painted */
  HF_DXF_WORDS,
} HfDxfHow;

typedef struct {
  char *text; /* UTF-8, lines by line feeds */
  char *style;
  HfMatrix matrix; /* a text of height 1, its anchor at the origin, to the drawing */
  int across;      /* 0 left, 1 middle, 2 right, 3 aligned, 4 middle both ways, 5 fitted */
  int up;          /* 0 baseline, 1 bottom, 2 middle, 3 top */
  double span;     /* aligned or fitted: how long it shall be, in heights; else 0 */
  double wrap;     /* several lines: how wide they may be, in heights; 0: as wide as they are */
  double leading;  /* from line to line, in heights */
  gboolean mixed;  /* the file says of parts of it how they look: it is set in one */
} HfDxfWords;

/* What one entity draws: one thing, named and placed. */
typedef struct {
  HfDxfHow how;
  char *type;  /* "LWPOLYLINE" */
  char *layer; /* UTF-8; of what is on 0 in a block: that of the copy */
  char *block; /* (nullable) the outermost block that it is in */
  char *name;  /* (nullable) `the "Q" in text "QUAY"`: a letter of words that were set */
  char *said;  /* (nullable) all of those words */
  guint place;
  gboolean closed;   /* a run: it was drawn closed */
  gboolean even_odd; /* filled: by that rule, else non-zero */
  GPtrArray *runs;   /* GArray * of HfCurve; none for words */
  HfDxfWords *words;
} HfDxfPiece;

typedef struct {
  guint place, times;
  char *text;
  gboolean slight; /* as its file has it */
} HfDxfNote;

/* One file that is being read. */
typedef struct {
  HfDxfDocument *document;
  GPtrArray *pieces; /* HfDxfPiece * */
  GPtrArray *notes;  /* HfDxfNote * */
  gsize curves;
  guint walked, deep;
  GError *error; /* what ended it */
} HfDxfReader;

/* Where the walk is. */
typedef struct {
  HfDxfSpace space;
  const char *layer; /* (nullable) that of the copy, for what is on 0 in it */
  const char *block; /* (nullable) */
  guint at, end;     /* pairs that belong to it, and to what follows it: vertices ... */
} HfDxfWhere;

/** hf_dxf_note: (transfer none) notes @format at @place; the same text again only counts, and so
 * does what is more than HF_DXF_MOST_NOTES. */
HfDxfNote *hf_dxf_note(HfDxfReader *reader, guint place, const char *format, ...)
    G_GNUC_PRINTF(3, 4);
/** hf_dxf_add: (transfer none) a new piece of @record without runs. */
HfDxfPiece *hf_dxf_add(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record,
                       HfDxfHow how);
/** hf_dxf_add_run: takes @run into @piece, through @matrix; one of no curve adds nothing. */
void hf_dxf_add_run(HfDxfReader *reader, HfDxfPiece *piece, GArray *run, HfMatrix matrix);
/** hf_dxf_own_space: the frame of @record by its extrusion (210), in that of @where. */
HfDxfSpace hf_dxf_own_space(const HfDxfWhere *where, HfDxfRecord record);
/** hf_dxf_point: the point (@code, @code + 10, @code + 20) of @record in @at. */
void hf_dxf_point(HfDxfRecord record, int code, double at[3]);

typedef void (*HfDxfDraw)(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record);

/** Each draws one kind of entity; what follows it (vertices, attributes) begins behind @record. */
void hf_dxf_draw_polyline(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record);
void hf_dxf_draw_lwpolyline(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record);
void hf_dxf_draw_spline(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record);
void hf_dxf_draw_hatch(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record);
void hf_dxf_draw_text(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record);
void hf_dxf_draw_mtext(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record);

typedef struct {
  int degree, weights; /* codes */
} HfDxfSplineCodes;
/** hf_dxf_spline: adds to @run the spline that @record tells, as seen in @space. %FALSE: its
 * figures contradict each other; nothing is added. */
gboolean hf_dxf_spline(HfDxfRecord record, HfDxfSplineCodes codes, HfDxfSpace space, GArray *run);
/** hf_dxf_set_words: adds what the letters of all words of @reader go round, by @wish, as runs with
 *  names; each text is told in @drawing, also where it could not be set. */
void hf_dxf_set_words(HfDxfReader *reader, HfDrawing *drawing, const HfDrawingWish *wish);
/** hf_dxf_words_free: frees it and all that it owns; %NULL: nothing. */
void hf_dxf_words_free(HfDxfWords *words);

/** hf_dxf_draw_of: (nullable) what draws entities of @type that stand by themselves. */
HfDxfDraw hf_dxf_draw_of(const char *type);

/* ---- metal ---------------------------------------------------------------------------------- */

/* Closed outlines, one a contour, and which piece of the reader each came from. */
typedef struct {
  HfOutline *outline;
  GArray *sources; /* guint, one a contour */
} HfDxfLoops;

/** hf_dxf_loops_new: (transfer full) none. hf_dxf_loops_free: frees it and all that it owns. */
HfDxfLoops *hf_dxf_loops_new(void);
void hf_dxf_loops_free(HfDxfLoops *loops);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfDxfLoops, hf_dxf_loops_free)
/** hf_dxf_loops_add: adds a contour of @n curves, @backwards turned round. */
void hf_dxf_loops_add(HfDxfLoops *loops, const HfCurve *curves, guint n, gboolean backwards,
                      guint source);
/** hf_dxf_fills: (transfer full) what all painted pieces of @reader cover together, whose runs
 *  are in the frame of drawing.h already; %NULL with %HF_ERROR_TOO_BIG: they cross too often. */
HfDxfLoops *hf_dxf_fills(const HfDxfReader *reader, GError **error);
/** hf_dxf_even_odd: (transfer full) the edge of what @loops go round by the even-odd rule, none
 *  crossing; %NULL with %HF_ERROR_TOO_BIG. */
HfDxfLoops *hf_dxf_even_odd(const HfDxfReader *reader, const HfDxfLoops *loops, GError **error);

/* ---- the reader ----------------------------------------------------------------------------- */

/**
 * hf_dxf_read:
 * @name: the file's name in errors
 * Returns: (transfer full) all that is drawn in model space, on layers that show, each block put
 *   out; or %NULL with %HF_ERROR_BAD_VALUE or %HF_ERROR_TOO_BIG, with a place. O(pairs + curves).
 */
HfDxfReader *hf_dxf_read(const char *name, const char *bytes, gsize length, GError **error);
/** hf_dxf_reader_free: frees it and all that it owns; %NULL: nothing. */
void hf_dxf_reader_free(HfDxfReader *reader);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfDxfReader, hf_dxf_reader_free)
