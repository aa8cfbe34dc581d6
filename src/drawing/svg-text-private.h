/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-text-private.h - live text of an SVG file: SVG 2, 11, and SVG 1.1, 10.
 *
 *   svg-text.c        elements to characters: white space, who styles which, told positions
 *   svg-text-set.c    characters to letters in faces: runs of one face, spacings
 *   svg-text-place.c  letters to their places: chunks, anchors, told lengths, paths
 *   svg-text-draw.c   letters and bars as shapes with names
 *
 * Lengths are in the text's user units, y down.
 */
#pragma once
#include "drawing/svg-private.h"
#include "drawing/text-faces-private.h"

#define HF_SVG_MOST_CHARACTERS 20000 /* of one text */
#define HF_SVG_MOST_SPANS      5000  /* of one text */

/* A line that letters follow: curves end to end, and how far along each begins. */
typedef struct {
  GArray *curves;  /* HfCurve */
  GArray *lengths; /* double: before curve i; one more: of all */
  gboolean closed; /* one run, which ends where it begins */
} HfTextPath;

/** hf_text_path_new: (transfer full) all runs of @lines through @matrix; %NULL: without length, or
 *  of too many curves. hf_text_path_free: for hash tables. */
HfTextPath *hf_text_path_new(const HfLinework *lines, HfMatrix matrix);
void hf_text_path_free(gpointer path);
/** hf_text_path_length: of all of it. O(1). */
double hf_text_path_length(const HfTextPath *path);
/** hf_text_path_at: the place @length along it (0 to all), and which way it goes there; 1e-9 of the
 *  length true. O(log curves). */
HfPoint hf_text_path_at(const HfTextPath *path, double length, HfPoint *ret_heading);

/* What one element says of the text in it. */
typedef struct {
  const HfXmlNode *node;
  HfStyle style;
  int outer;              /* the span that it is in; -1: none */
  gboolean shown;         /* what is in it is drawn */
  gboolean preserved;     /* white space */
  gboolean follows;       /* a path */
  const HfTextPath *path; /* (nullable) that path; follows without one: nothing is in it */
  gboolean path_back;     /* along it from its end */
  double path_start;      /* along it */
  guint first, end;       /* its characters, those of what is in it too */
} HfTextSpan;

typedef struct {
  gunichar c;
  guint span;
  HfPoint at;  /* told; NAN: not */
  HfPoint by;  /* told besides */
  double turn; /* rad, clockwise on the page */
} HfTextChar;

/* A letter: one cluster of a run. */
typedef struct {
  guint run, first_glyph, end_glyph;
  guint character;
  double pen;     /* ems, of its run's line */
  double advance; /* user units, spacings and all */
  double spacing; /* how much of it is told space behind the letter */
  double stretch; /* along the line */
  gboolean shown;
  HfPoint from;    /* where its origin stands, as if it were neither raised nor turned by itself */
  double way;      /* rad: how the line runs there */
  HfMatrix matrix; /* ems, y up, origin at its pen, to user units */
} HfTextLetter;

/* Characters that are shaped together. */
typedef struct {
  const HfFace *face;
  double size;
  HfLine *line;
  guint first, end;
} HfTextRun;

typedef struct {
  HfSvg *svg;
  const HfSvgAt *at;
  const HfXmlNode *node;
  GArray *spans;   /* HfTextSpan; the first: of the text itself */
  GArray *chars;   /* HfTextChar */
  GArray *runs;    /* HfTextRun */
  GArray *letters; /* HfTextLetter, from left to right in each chunk */
  gboolean vertical;
  char *content; /* as it reads, for names */
  char *where;   /* `file:12: text "HARBOUR"` */
} HfSvgText;

static inline HfTextSpan *
hf_text_span(const HfSvgText *text, guint i)
{
  return &g_array_index(text->spans, HfTextSpan, i);
}
static inline HfTextChar *
hf_text_char(const HfSvgText *text, guint i)
{
  return &g_array_index(text->chars, HfTextChar, i);
}
static inline HfTextRun *
hf_text_run_at(const HfSvgText *text, guint i)
{
  return &g_array_index(text->runs, HfTextRun, i);
}

/** hf_svg_text_new: (transfer full) the characters of the element @node, entered at @at; nothing is
 *  set yet. */
HfSvgText *hf_svg_text_new(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at);
/** hf_svg_text_free: frees it and all that it owns; %NULL: nothing. */
void hf_svg_text_free(HfSvgText *text);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfSvgText, hf_svg_text_free)

/** hf_svg_text_set: adds runs and letters of the characters from @first to @end, a chunk; %FALSE
 *  with the error: no face, or a letter that none has. */
gboolean hf_svg_text_set(HfSvgText *text, guint first, guint end, GError **error);
/** hf_svg_text_place: sets and places all; %FALSE as above. */
gboolean hf_svg_text_place(HfSvgText *text, GError **error);
/** hf_svg_text_raise: how far above the line the letters of span @i stand. */
double hf_svg_text_raise(const HfSvgText *text, guint i, const HfTextRun *run);
