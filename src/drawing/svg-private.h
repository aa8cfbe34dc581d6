/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-private.h - what the files of the SVG reader share.
 *
 *   xml.c     bytes to elements          svg-walk.c   structure: groups, copies, viewports
 *   css.c     rules and selectors        svg-shape.c  one element's own lines
 *   cascade.c which value holds          svg-clip.c   what is cut away
 *                                        svg-scale.c  at one scale, into pieces
 *
 * Lengths are in user units, y down, as the standard has them; svg-read.c turns them over at the
 * end.
 */
#pragma once
#include "drawing/drawing-private.h"
#include "drawing/linework-private.h"
#include "drawing/stroke-private.h"
#include "drawing/style-private.h"
#include "drawing/text-faces-private.h"

#define HF_SVG_PX_MM       (25.4 / 96) /* CSS: 96 px are an inch */
#define HF_SVG_MOST_DRAWN  50000       /* elements that are drawn, each copy counted */
#define HF_SVG_MOST_WALKED 400000      /* elements that are looked at, each copy counted */
#define HF_SVG_DEEPEST     200         /* groups and copies within each other */

/* What an element is inside of: for its names. */
typedef struct HfSvgName HfSvgName;
struct HfSvgName {
  const char *id, *title; /* (nullable) */
  const HfSvgName *outer; /* (nullable) */
};

/* A part of a clip: all that lies in it stays. */
typedef struct HfSvgClip HfSvgClip;
typedef struct {
  HfLinework *lines;
  HfMatrix matrix; /* to the page */
  gboolean even_odd;
  const HfSvgClip *own; /* (nullable) what this part is clipped by itself */
} HfSvgClipPart;

struct HfSvgClip {
  GPtrArray *parts;       /* HfSvgClipPart *; none: nothing stays */
  const HfSvgClip *outer; /* (nullable) and in this too */
  HfBox box;              /* page: of a single upright rectangle, else empty */
};

/* What one element draws. */
typedef struct {
  HfLinework *lines;     /* in its own units */
  HfMatrix matrix;       /* to the page */
  const HfSvgClip *clip; /* (nullable) */
  gboolean fills, even_odd, strokes;
  guint32 fill, stroke; /* colours */
  HfStroke pen;
  char *name;
  GPtrArray *called;
  guint line;
} HfSvgItem;

/* One file that is being read. */
typedef struct {
  const char *where;
  HfXml *xml;
  HfStyler *styler;
  GHashTable *by_id;                 /* id to HfXmlNode */
  HfDrawing *drawing;                /* notes go there at once */
  GPtrArray *items;                  /* HfSvgItem * */
  GPtrArray *clips;                  /* HfSvgClip *, own */
  GHashTable *counts;                /* kind of shape to how many had no name */
  const HfDrawingWish *faces_wanted; /* (nullable) */
  HfTextFaces *faces;                /* (nullable) */
  GHashTable *text_paths;            /* HfXmlNode to HfTextPath */
  GHashTable *text_names;            /* what texts read to how many of them came before */
  GPtrArray *path; /* HfXmlNode *: copies and clips that are being followed, against loops */
  guint walked;
  gsize curves;
  HfBox *measured;   /* (nullable) only boxes are asked for, in the frame of what is measured */
  HfPoint root_size; /* px, of the outermost viewport */
  GError *error;     /* what ended it */
} HfSvg;

/* Where the walk is. */
typedef struct {
  HfStyle style;    /* of the element that is being walked; of its parent when it is entered */
  HfMatrix matrix;  /* its units to the page */
  HfPoint viewport; /* what percentages are of */
  const HfSvgClip *clip;
  const HfSvgName *names; /* (nullable) */
  guint depth;
} HfSvgAt;

/** hf_svg_refuse: ends the reading with an error, but for the first. */
void hf_svg_refuse(HfSvg *svg, HfErrorKind kind, guint line, const char *fix, const char *format,
                   ...) G_GNUC_PRINTF(5, 6);
static inline gboolean
hf_svg_ended(const HfSvg *svg)
{
  return svg->error != NULL;
}

/** hf_svg_of_url: (nullable) the element that `url(#id)` or `#id` means. @ret_rest: (nullable) what
 *  stands behind it. */
HfXmlNode *hf_svg_of_url(const HfSvg *svg, const char *url, const char **ret_rest);
/** hf_svg_of_href: (nullable) the element of this file that its `href` means. */
HfXmlNode *hf_svg_of_href(const HfSvg *svg, const HfXmlNode *node);

/* svg-scan.c: values. Each moves @p behind what it read; %FALSE: there is none. */
/** hf_svg_number: a number, with or without an exponent. */
gboolean hf_svg_number(const char **p, double *ret);
/** hf_svg_space: no more than white space. */
void hf_svg_space(const char **p);
void hf_svg_comma(const char **p); /* space, at most one comma, space */
/** hf_svg_transform: the matrix of a transform list; %FALSE: it is none. */
gboolean hf_svg_transform(const char *text, HfMatrix *ret);

/* svg-path.c */
/** hf_svg_path: draws path data; %FALSE: it has a mistake, and what stands before it is drawn. */
gboolean hf_svg_path(const char *data, HfLinework *lines);
/** hf_svg_points: draws a list of points; %FALSE: as above. */
gboolean hf_svg_points(const char *data, gboolean closed, HfLinework *lines);

/** hf_svg_shape: (transfer full) (nullable) what the element at @at draws; %NULL: it is no shape,
 * or one without size. */
HfLinework *hf_svg_shape(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at);

/** hf_svg_walk: draws @node and what is in it; @at: of its parent. */
void hf_svg_walk(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at);
/** hf_svg_enter: @ret: @at with the style and transform of @node; %FALSE: it shows nothing. */
gboolean hf_svg_enter(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, HfSvgAt *ret);
/** hf_svg_box: the box of @node, in its own units; empty when it has none. */
HfBox hf_svg_box(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at);

/* svg-shape.c: lengths in user units. @along: 0 of the width, 1 of the height, 2 of neither. */
/** hf_svg_length: of a length that was read. */
double hf_svg_length(HfStyleLength length, HfPoint viewport, int along);
/** hf_svg_told: of a text; @otherwise where there is none or it is no length. */
double hf_svg_told(const HfSvgAt *at, const char *text, int along, double otherwise);

/** hf_svg_paints: does @paint show on a shape of @box (its own units)? */
gboolean hf_svg_paints(HfSvg *svg, const HfPaint *paint, const HfStyle *style, double opacity,
                       HfBox box, guint line, guint32 *ret_colour);

/** hf_svg_own_matrix: by `transform` and `transform-origin` of @at's style. %FALSE: it makes
 *  everything flat. */
gboolean hf_svg_own_matrix(const HfSvgAt *at, HfMatrix *ret);
/** hf_svg_add_item: adds what @lines (taken) show by the paints of @at, on a shape of @box; @name
 * and
 *  @called are taken. */
void hf_svg_add_item(HfSvg *svg, const HfSvgAt *at, HfLinework *lines, HfBox box, guint line,
                     char *name, GPtrArray *called);
/** hf_svg_may_draw: %FALSE: what is drawn is over the cap, and ends the reading. */
gboolean hf_svg_may_draw(HfSvg *svg, guint line);
/** hf_svg_draw: adds what the shape @node, entered at @at, draws. */
void hf_svg_draw(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at);

/** hf_svg_draw_markers: draws the marks at the points of @lines, drawn at @at. svg-marker.c */
void hf_svg_draw_markers(HfSvg *svg, const HfSvgAt *at, const HfLinework *lines);

/* svg-text-draw.c */
/** hf_svg_draw_text: adds the letters of the text @node, entered at @at; or its box where that is
 *  what is asked for. */
void hf_svg_draw_text(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at);
/** hf_svg_text_lines: (transfer full) (nullable) all letters of the text @node as one shape. */
HfLinework *hf_svg_text_lines(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at);

/* svg-clip.c */
/** hf_svg_style_there: @ret: the style of @node where it stands in the file. */
void hf_svg_style_there(HfSvg *svg, const HfXmlNode *node, HfStyle *ret);
/** hf_svg_clip: what @node, entered at @at, is clipped by, beyond @at's clip; @ret_none: nothing of
 * it stays to be seen. */
const HfSvgClip *hf_svg_clip(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at,
                             gboolean *ret_none);
/** hf_svg_clip_box: @outer and the rectangle @box of @matrix. */
const HfSvgClip *hf_svg_clip_box(HfSvg *svg, const HfSvgClip *outer, HfBox box, HfMatrix matrix);

/* svg-view.c */
/** hf_svg_view: the matrix that brings `viewBox` into a viewport of @size, by
 *  `preserveAspectRatio`; @ret_box: the viewport in the new units. %FALSE: the box is of no size.
 */
gboolean hf_svg_view(const char *view_box, const char *aspect, HfPoint size, HfMatrix *ret,
                     HfBox *ret_box);

/** hf_svg_view_box: of `viewBox`; %FALSE: it is none, or one of no size. */
gboolean hf_svg_view_box(const char *text, HfBox *ret);

/* svg-name.c */
/** hf_svg_say: (transfer full) what @node is called; counts it among those of its kind. */
char *hf_svg_say(HfSvg *svg, const HfXmlNode *node, const HfSvgName *names);
/** hf_svg_called: (transfer full) titles and ids, from the inside out. */
GPtrArray *hf_svg_called(const HfSvgName *names);
/** hf_svg_title: (nullable) its `title`, in one line. */
const char *hf_svg_title(HfSvg *svg, const HfXmlNode *node);

/** hf_svg_item_free, hf_svg_clip_free: for arrays of them. */
void hf_svg_item_free(gpointer data);
void hf_svg_clip_free(gpointer data);
