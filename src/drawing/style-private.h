/* SPDX-License-Identifier: GPL-3.0-or-later
 * style-private.h - CSS for drawings: which value each property of an element has.
 *
 *   attribute < rule (by how special, then by order) < style="" < rule ! < style="" !
 *
 * properties.def is the table; SVG 1.1, 6 and appendix N, CSS Cascading 3, CSS Custom Properties 1.
 */
#pragma once
#include "drawing/xml-private.h"
#include "geom/point.h"
#include "type/type.h"

typedef enum {
#define PROPERTY(NAME, name, inherited) HF_PROPERTY_##NAME,
#include "drawing/properties.def"
  HF_N_PROPERTIES
} HfProperty;

typedef enum { HF_UNIT_PX, HF_UNIT_PERCENT } HfStyleUnit;
typedef struct {
  double value;
  HfStyleUnit unit;
} HfStyleLength;

typedef enum { HF_PAINT_NONE, HF_PAINT_COLOUR, HF_PAINT_CURRENT, HF_PAINT_SERVER } HfPaintKind;
typedef struct {
  HfPaintKind kind;
  guint32 colour;
  double alpha;
  const char *server; /* SERVER: `url(#id)` and what to take where that is none */
} HfPaint;

/* What stands at the height where text is set. */
typedef enum {
  HF_BASELINE_AUTO,
  HF_BASELINE_ALPHABETIC,
  HF_BASELINE_BEFORE,
  HF_BASELINE_AFTER,
  HF_BASELINE_MIDDLE,
  HF_BASELINE_CENTRAL,
  HF_BASELINE_HANGING,
  HF_BASELINE_MATHEMATICAL,
} HfBaseline;

typedef enum { HF_BAR_UNDER, HF_BAR_OVER, HF_BAR_THROUGH, HF_N_BARS } HfBar;

/* One line under, over or through text, painted as the element that asked for it. */
typedef struct {
  gboolean on;
  HfPaint fill, stroke;
  double fill_opacity, stroke_opacity;
} HfBarStyle;

/* Values as computed; what is inherited first. Texts live as long as the styler. */
typedef struct {
  double font_size; /* px */
  double line_height;
  HfPaint color, fill, stroke;
  double fill_opacity, stroke_opacity;
  gboolean fill_even_odd, clip_even_odd, visible;
  HfStyleLength stroke_width, dash_offset;
  int cap, join; /* HfCap, HfJoin */
  double miter_limit;
  const char *dashes;    /* (nullable) */
  const char *marker[3]; /* (nullable) start, mid, end */
  const char *family;    /* (nullable) a list, as it was told */
  int weight, slant;     /* HfSlant */
  double stretch;        /* percent */
  gboolean small_caps, unkerned, vertical, right_to_left, preserved;
  const char *features; /* (nullable) of CSS */
  HfStyleLength letter_spacing, word_spacing;
  int anchor; /* 0 start, 1 middle, 2 end */
  int dominant_baseline;
  HfBarStyle bars[HF_N_BARS];
  /* not inherited */
  const char *baseline_shift; /* (nullable) */
  int alignment_baseline;
  double opacity;
  gboolean shown, overflow;                                 /* display; overflow is visible */
  const char *clip_path, *mask, *filter;                    /* (nullable) */
  const char *transform, *transform_origin, *transform_box; /* (nullable) */
  /* the rest */
  const char *told[HF_N_PROPERTIES]; /* (nullable) this element's own winning values */
  GHashTable *custom;                /* (nullable) `--name` to value; the styler's */
} HfStyle;

typedef struct HfStyler HfStyler;

/** hf_styler_new: (transfer full) the rules of all `style` elements of @xml, borrowed.
 *  @note: is told what was left out. */
typedef void (*HfStyleNote)(guint line, const char *text, gpointer data);
HfStyler *hf_styler_new(const HfXml *xml, HfStyleNote note, gpointer data);
/** hf_styler_free: frees it and all that it owns; %NULL: nothing. */
void hf_styler_free(HfStyler *styler);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfStyler, hf_styler_free)

/** hf_style_initial: what the standard begins with. */
HfStyle hf_style_initial(void);
/** hf_styler_style: @ret: the style of @node inside @parent. */
void hf_styler_style(HfStyler *styler, const HfXmlNode *node, const HfStyle *parent, HfStyle *ret);

/** hf_style_compute: the fields of @style by what it was told, inside @parent. */
void hf_style_compute(HfStyle *style, const HfStyle *parent);

/** hf_style_length: a length of CSS, font-relative and absolute units as px. %FALSE: it is none.
 *  @viewport: nullable, for vw and vh. */
gboolean hf_style_length(const char *text, const HfStyle *style, HfStyleLength *ret);
/** hf_style_scan_length: the same of the beginning of a text; moves @p behind it. */
gboolean hf_style_scan_length(const char **p, const HfStyle *style, HfStyleLength *ret);
/** hf_style_colour: %FALSE: no colour. @ret_alpha 0..1. */
gboolean hf_style_colour(const char *text, guint32 *ret_colour, double *ret_alpha);
/** hf_style_scan_colour: the same of the beginning of a text; moves @p behind it. */
gboolean hf_style_scan_colour(const char **p, guint32 *ret_colour, double *ret_alpha);

/* css.c */
typedef struct {
  const char *name, *value;
  gboolean important;
} HfCssDeclaration;

typedef struct HfCssSheet HfCssSheet;
/** hf_css_sheet_new: (transfer full) without a rule; @note is told what is left out. */
HfCssSheet *hf_css_sheet_new(HfStyleNote note, gpointer data);
/** hf_css_sheet_free: frees it and all that it owns; %NULL: nothing. */
void hf_css_sheet_free(HfCssSheet *sheet);
/** hf_css_sheet_add: the rules of @text, which begins at @line. O(bytes). */
void hf_css_sheet_add(HfCssSheet *sheet, const char *text, guint line);
/** hf_css_declarations: (transfer full) (element-type HfCssDeclaration) texts live as long as
 *  @sheet. */
GArray *hf_css_declarations(HfCssSheet *sheet, const char *text);
/** hf_css_match: calls @found for each rule that matches @node, in order of being special and then
 *  of the file. */
typedef void (*HfCssFound)(const GArray *declarations, guint64 rank, gpointer data);
void hf_css_match(HfCssSheet *sheet, const HfXmlNode *node, HfCssFound found, gpointer data);
/** hf_css_keep: a copy that lives as long as @sheet. */
const char *hf_css_keep(HfCssSheet *sheet, const char *text, gssize length);
