/* SPDX-License-Identifier: GPL-3.0-or-later
 * compute.c - what the values of properties mean: one row each, with how its text is read.
 *
 * A text that is no value leaves the property as if it had not been told (CSS 2.1, 4.2).
 */
#include "drawing/stroke-private.h"
#include "drawing/style-private.h"
#include "drawing/svg-private.h"
#include <string.h>

typedef gboolean (*Reads)(const char *text, HfStyle *style, void *field);

/* ---- lengths --------------------------------------------------------------------------------- */

typedef struct {
  const char *name;
  double px; /* 0: of the font */
  double em;
} Unit;

/* CSS Values 3, 6; an ex and a ch are half an em where the face does not say, a line's height 1.2.
 */
static const Unit units[] = {
    {"px", 1, 0},         {"em", 0, 1},         {"rem", 0, 1},        {"ex", 0, 0.5},
    {"ch", 0, 0.5},       {"mm", 96 / 25.4, 0}, {"cm", 96 / 2.54, 0}, {"in", 96, 0},
    {"pt", 96.0 / 72, 0}, {"pc", 16, 0},        {"Q", 96 / 101.6, 0}, {"lh", 0, 1.2},
};

gboolean
hf_style_scan_length(const char **p, const HfStyle *style, HfStyleLength *ret)
{
  const char *c = *p;
  double value;
  if (!hf_svg_number(&c, &value))
    return FALSE;
  *ret = (HfStyleLength){value, HF_UNIT_PX};
  if (*c == '%') {
    ret->unit = HF_UNIT_PERCENT;
    *p = c + 1;
    return TRUE;
  }
  guint n = 0;
  while (g_ascii_isalpha(c[n]))
    n++;
  for (guint i = 0; n > 0 && i < G_N_ELEMENTS(units); i++)
    if (strlen(units[i].name) == n && g_ascii_strncasecmp(units[i].name, c, n) == 0) {
      double em = strcmp(units[i].name, "lh") == 0 && style->line_height > 0
                      ? style->line_height
                      : units[i].em * style->font_size;
      ret->value = value * (units[i].px > 0 ? units[i].px : em);
      *p = c + n;
      return TRUE;
    }
  *p = c;
  return n == 0;
}

gboolean
hf_style_length(const char *text, const HfStyle *style, HfStyleLength *ret)
{
  const char *p = text;
  HfStyleLength length;
  hf_svg_space(&p);
  if (!hf_style_scan_length(&p, style, &length))
    return FALSE;
  hf_svg_space(&p);
  if (*p != '\0')
    return FALSE;
  *ret = length;
  return TRUE;
}

static gboolean
reads_length(const char *text, HfStyle *style, void *field)
{
  HfStyleLength length;
  if (!hf_style_length(text, style, &length))
    return FALSE;
  *(HfStyleLength *)field = length;
  return TRUE;
}

static gboolean
reads_width(const char *text, HfStyle *style, void *field)
{
  HfStyleLength length;
  if (!hf_style_length(text, style, &length) || length.value < 0)
    return FALSE;
  *(HfStyleLength *)field = length;
  return TRUE;
}

static const struct {
  const char *word;
  double px;
} font_sizes[] = {{"medium", 16},  {"small", 16 * 8 / 9.0}, {"x-small", 12}, {"xx-small", 9.6},
                  {"large", 19.2}, {"x-large", 24},         {"xx-large", 32}};

static gboolean
reads_font_size(const char *text, HfStyle *style, void *field)
{
  double *size = (double *)field;
  for (guint i = 0; i < G_N_ELEMENTS(font_sizes); i++)
    if (strcmp(text, font_sizes[i].word) == 0) {
      *size = font_sizes[i].px;
      return TRUE;
    }
  if (strcmp(text, "larger") == 0 || strcmp(text, "smaller") == 0) {
    *size *= *text == 'l' ? 1.2 : 1 / 1.2;
    return TRUE;
  }
  HfStyleLength length;
  if (!hf_style_length(text, style, &length) || length.value < 0)
    return FALSE;
  *size = length.unit == HF_UNIT_PERCENT ? *size * length.value / 100 : length.value;
  return TRUE;
}

static gboolean
reads_line_height(const char *text, HfStyle *style, void *field)
{
  HfStyleLength length;
  if (!hf_style_length(text, style, &length))
    return FALSE;
  char last = text[strlen(text) - 1];
  double *height = (double *)field;
  *height = length.unit == HF_UNIT_PERCENT ? style->font_size * length.value / 100
            : g_ascii_isdigit(last)        ? style->font_size * length.value
                                           : length.value;
  return TRUE;
}

/* ---- numbers and words ----------------------------------------------------------------------- */

static gboolean
scan_whole(const char *text, double *ret, gboolean *ret_percent)
{
  const char *p = text;
  hf_svg_space(&p);
  if (!hf_svg_number(&p, ret))
    return FALSE;
  *ret_percent = *p == '%';
  p += *ret_percent ? 1 : 0;
  hf_svg_space(&p);
  return *p == '\0';
}

static gboolean
reads_opacity(const char *text, HfStyle *style G_GNUC_UNUSED, void *field)
{
  double value;
  gboolean percent;
  if (!scan_whole(text, &value, &percent))
    return FALSE;
  *(double *)field = CLAMP(percent ? value / 100 : value, 0, 1);
  return TRUE;
}

static gboolean
reads_miter_limit(const char *text, HfStyle *style G_GNUC_UNUSED, void *field)
{
  double value;
  gboolean percent;
  if (!scan_whole(text, &value, &percent) || percent || value < 1)
    return FALSE;
  *(double *)field = value;
  return TRUE;
}

typedef struct {
  const char *word; /* NULL ends the list */
  int value;
} Word;

static gboolean
reads_word(const char *text, const Word *words, int *field)
{
  for (; words->word != NULL; words++)
    if (g_ascii_strcasecmp(text, words->word) == 0) {
      *field = words->value;
      return TRUE;
    }
  return FALSE;
}

#define READS_WORD(name, ...)                                                                      \
  static gboolean name(const char *text, HfStyle *style G_GNUC_UNUSED, void *field)                \
  {                                                                                                \
    static const Word words[] = {__VA_ARGS__, {NULL, 0}};                                          \
    return reads_word(text, words, (int *)field);                                                  \
  }

READS_WORD(reads_rule, {"nonzero", FALSE}, {"evenodd", TRUE})
READS_WORD(reads_visible, {"visible", TRUE}, {"hidden", FALSE}, {"collapse", FALSE})
READS_WORD(reads_cap, {"butt", HF_CAP_BUTT}, {"round", HF_CAP_ROUND}, {"square", HF_CAP_SQUARE})
READS_WORD(reads_join, {"miter", HF_JOIN_MITER}, {"miter-clip", HF_JOIN_MITER_CLIP},
           {"arcs", HF_JOIN_MITER}, {"round", HF_JOIN_ROUND}, {"bevel", HF_JOIN_BEVEL})
READS_WORD(reads_overflow, {"visible", TRUE}, {"auto", TRUE}, {"hidden", FALSE}, {"scroll", FALSE},
           {"clip", FALSE})

static gboolean
reads_display(const char *text, HfStyle *style G_GNUC_UNUSED, void *field)
{
  *(gboolean *)field = g_ascii_strcasecmp(text, "none") != 0;
  return TRUE;
}

static gboolean
reads_text(const char *text, HfStyle *style G_GNUC_UNUSED, void *field)
{
  *(const char **)field = strcmp(text, "none") == 0 ? NULL : text;
  return TRUE;
}

/* ---- paint ----------------------------------------------------------------------------------- */

static gboolean
reads_colour(const char *text, HfStyle *style G_GNUC_UNUSED, void *field)
{
  HfPaint paint = {HF_PAINT_COLOUR, 0, 1, NULL};
  if (!hf_style_colour(text, &paint.colour, &paint.alpha))
    return FALSE;
  *(HfPaint *)field = paint;
  return TRUE;
}

static gboolean
reads_paint(const char *text, HfStyle *style, void *field)
{
  HfPaint *paint = (HfPaint *)field;
  const char *p = text;
  hf_svg_space(&p);
  if (g_ascii_strcasecmp(p, "none") == 0)
    *paint = (HfPaint){HF_PAINT_NONE, 0, 1, NULL};
  else if (g_ascii_strcasecmp(p, "currentColor") == 0)
    *paint = (HfPaint){HF_PAINT_CURRENT, 0, 1, NULL};
  else if (g_ascii_strncasecmp(p, "url(", 4) == 0)
    *paint = (HfPaint){HF_PAINT_SERVER, 0x808080, 1, p};
  else
    return reads_colour(p, style, field);
  return TRUE;
}

/* ---- text ------------------------------------------------------------------------------------ */

READS_WORD(reads_slant, {"normal", HF_SLANT_UPRIGHT}, {"italic", HF_SLANT_ITALIC},
           {"oblique", HF_SLANT_OBLIQUE})
READS_WORD(reads_variant, {"normal", FALSE}, {"small-caps", TRUE})
READS_WORD(reads_kerning, {"auto", FALSE}, {"normal", FALSE}, {"none", TRUE})
READS_WORD(reads_anchor, {"start", 0}, {"middle", 1}, {"end", 2})
READS_WORD(reads_direction, {"ltr", FALSE}, {"rtl", TRUE})
READS_WORD(reads_mode, {"lr", FALSE}, {"lr-tb", FALSE}, {"rl", FALSE}, {"rl-tb", FALSE},
           {"horizontal-tb", FALSE}, {"tb", TRUE}, {"tb-rl", TRUE}, {"vertical-rl", TRUE},
           {"vertical-lr", TRUE})
READS_WORD(reads_white_space, {"normal", FALSE}, {"nowrap", FALSE}, {"pre", TRUE},
           {"pre-wrap", TRUE}, {"break-spaces", TRUE})
READS_WORD(reads_baseline, {"auto", HF_BASELINE_AUTO}, {"baseline", HF_BASELINE_AUTO},
           {"alphabetic", HF_BASELINE_ALPHABETIC}, {"before-edge", HF_BASELINE_BEFORE},
           {"text-before-edge", HF_BASELINE_BEFORE}, {"text-top", HF_BASELINE_BEFORE},
           {"after-edge", HF_BASELINE_AFTER}, {"text-after-edge", HF_BASELINE_AFTER},
           {"text-bottom", HF_BASELINE_AFTER}, {"ideographic", HF_BASELINE_AFTER},
           {"middle", HF_BASELINE_MIDDLE}, {"central", HF_BASELINE_CENTRAL},
           {"center", HF_BASELINE_CENTRAL}, {"hanging", HF_BASELINE_HANGING},
           {"mathematical", HF_BASELINE_MATHEMATICAL})

/* CSS Fonts 4, 2.2.1: how `bolder` and `lighter` follow from what it is in. */
static gboolean
reads_weight(const char *text, HfStyle *style, void *field)
{
  static const Word words[] = {{"normal", 400}, {"bold", 700}, {NULL, 0}};
  int was = style->weight;
  double value;
  gboolean percent;
  if (reads_word(text, words, (int *)field))
    return TRUE;
  if (g_ascii_strcasecmp(text, "bolder") == 0)
    *(int *)field = was < 350 ? 400 : was < 550 ? 700 : MAX(was, 900);
  else if (g_ascii_strcasecmp(text, "lighter") == 0)
    *(int *)field = was < 100 ? was : was < 550 ? 100 : was < 750 ? 400 : 700;
  else if (scan_whole(text, &value, &percent) && !percent && value >= 1 && value <= 1000)
    *(int *)field = (int)value;
  else
    return FALSE;
  return TRUE;
}

/* CSS Fonts 4, 2.3. */
static gboolean
reads_stretch(const char *text, HfStyle *style G_GNUC_UNUSED, void *field)
{
  static const struct {
    const char *word;
    double percent;
  } words[] = {{"normal", 100},   {"ultra-condensed", 50},  {"extra-condensed", 62.5},
               {"condensed", 75}, {"semi-condensed", 87.5}, {"semi-expanded", 112.5},
               {"expanded", 125}, {"extra-expanded", 150},  {"ultra-expanded", 200}};
  double value;
  gboolean percent;
  for (guint i = 0; i < G_N_ELEMENTS(words); i++)
    if (g_ascii_strcasecmp(text, words[i].word) == 0) {
      *(double *)field = words[i].percent;
      return TRUE;
    }
  if (!scan_whole(text, &value, &percent) || !percent || value < 0)
    return FALSE;
  *(double *)field = value;
  return TRUE;
}

/* SVG 1.1, 7.10: percentages are of the viewport. */
static gboolean
reads_spacing(const char *text, HfStyle *style, void *field)
{
  HfStyleLength *length = (HfStyleLength *)field;
  if (g_ascii_strcasecmp(text, "normal") == 0) {
    *length = (HfStyleLength){0, HF_UNIT_PX};
    return TRUE;
  }
  return reads_length(text, style, field);
}

static HfPaint
resolved(HfPaint paint, const HfStyle *style)
{
  return paint.kind == HF_PAINT_CURRENT ? style->color : paint;
}

/* A line that was asked for farther out stays, in its own paint. */
static gboolean
reads_bars(const char *text, HfStyle *style, void *field)
{
  static const Word words[] = {{"underline", HF_BAR_UNDER},
                               {"overline", HF_BAR_OVER},
                               {"line-through", HF_BAR_THROUGH},
                               {NULL, 0}};
  HfBarStyle *bars = (HfBarStyle *)field;
  g_auto(GStrv) parts = g_strsplit_set(text, " \t\r\n", 20);
  for (guint i = 0; parts[i] != NULL; i++) {
    int bar;
    if (reads_word(parts[i], words, &bar))
      bars[bar] = (HfBarStyle){TRUE, resolved(style->fill, style), resolved(style->stroke, style),
                               style->fill_opacity, style->stroke_opacity};
  }
  return TRUE;
}

/* ---- the table ------------------------------------------------------------------------------- */

#define FIELD(name) offsetof(HfStyle, name), sizeof(((HfStyle *)NULL)->name)

static const struct Row {
  HfProperty property;
  Reads reads;
  gsize offset, size;
} rows[] = {
    {HF_PROPERTY_FONT_SIZE, reads_font_size, FIELD(font_size)},
    {HF_PROPERTY_FONT_FAMILY, reads_text, FIELD(family)},
    {HF_PROPERTY_FONT_STYLE, reads_slant, FIELD(slant)},
    {HF_PROPERTY_FONT_WEIGHT, reads_weight, FIELD(weight)},
    {HF_PROPERTY_FONT_STRETCH, reads_stretch, FIELD(stretch)},
    {HF_PROPERTY_FONT_VARIANT, reads_variant, FIELD(small_caps)},
    {HF_PROPERTY_FONT_KERNING, reads_kerning, FIELD(unkerned)},
    {HF_PROPERTY_FONT_FEATURES, reads_text, FIELD(features)},
    {HF_PROPERTY_LETTER_SPACING, reads_spacing, FIELD(letter_spacing)},
    {HF_PROPERTY_WORD_SPACING, reads_spacing, FIELD(word_spacing)},
    {HF_PROPERTY_TEXT_ANCHOR, reads_anchor, FIELD(anchor)},
    {HF_PROPERTY_WRITING_MODE, reads_mode, FIELD(vertical)},
    {HF_PROPERTY_DIRECTION, reads_direction, FIELD(right_to_left)},
    {HF_PROPERTY_DOMINANT_BASELINE, reads_baseline, FIELD(dominant_baseline)},
    {HF_PROPERTY_WHITE_SPACE, reads_white_space, FIELD(preserved)},
    {HF_PROPERTY_LINE_HEIGHT, reads_line_height, FIELD(line_height)},
    {HF_PROPERTY_COLOR, reads_colour, FIELD(color)},
    {HF_PROPERTY_FILL, reads_paint, FIELD(fill)},
    {HF_PROPERTY_STROKE, reads_paint, FIELD(stroke)},
    {HF_PROPERTY_FILL_OPACITY, reads_opacity, FIELD(fill_opacity)},
    {HF_PROPERTY_STROKE_OPACITY, reads_opacity, FIELD(stroke_opacity)},
    {HF_PROPERTY_FILL_RULE, reads_rule, FIELD(fill_even_odd)},
    {HF_PROPERTY_CLIP_RULE, reads_rule, FIELD(clip_even_odd)},
    {HF_PROPERTY_VISIBILITY, reads_visible, FIELD(visible)},
    {HF_PROPERTY_STROKE_WIDTH, reads_width, FIELD(stroke_width)},
    {HF_PROPERTY_STROKE_DASHOFFSET, reads_length, FIELD(dash_offset)},
    {HF_PROPERTY_STROKE_LINECAP, reads_cap, FIELD(cap)},
    {HF_PROPERTY_STROKE_LINEJOIN, reads_join, FIELD(join)},
    {HF_PROPERTY_STROKE_MITERLIMIT, reads_miter_limit, FIELD(miter_limit)},
    {HF_PROPERTY_STROKE_DASHARRAY, reads_text, FIELD(dashes)},
    {HF_PROPERTY_MARKER_START, reads_text, FIELD(marker[0])},
    {HF_PROPERTY_MARKER_MID, reads_text, FIELD(marker[1])},
    {HF_PROPERTY_MARKER_END, reads_text, FIELD(marker[2])},
    {HF_PROPERTY_TEXT_DECORATION, reads_bars, FIELD(bars)}, /* behind the paints that it takes */
    {HF_PROPERTY_BASELINE_SHIFT, reads_text, FIELD(baseline_shift)},
    {HF_PROPERTY_ALIGNMENT_BASELINE, reads_baseline, FIELD(alignment_baseline)},
    {HF_PROPERTY_OPACITY, reads_opacity, FIELD(opacity)},
    {HF_PROPERTY_DISPLAY, reads_display, FIELD(shown)},
    {HF_PROPERTY_OVERFLOW, reads_overflow, FIELD(overflow)},
    {HF_PROPERTY_CLIP_PATH, reads_text, FIELD(clip_path)},
    {HF_PROPERTY_MASK, reads_text, FIELD(mask)},
    {HF_PROPERTY_FILTER, reads_text, FIELD(filter)},
    {HF_PROPERTY_TRANSFORM, reads_text, FIELD(transform)},
    {HF_PROPERTY_TRANSFORM_ORIGIN, reads_text, FIELD(transform_origin)},
    {HF_PROPERTY_TRANSFORM_BOX, reads_text, FIELD(transform_box)},
};

static const gboolean inherited[] = {
#define PROPERTY(NAME, name, inherited) inherited,
#include "drawing/properties.def"
};

HfStyle
hf_style_initial(void)
{
  return (HfStyle){
      .font_size = 12, /* as renderers of drawings have it: CSS leaves `medium` to them */
      .weight = 400,
      .stretch = 100,
      .color = {HF_PAINT_COLOUR, 0, 1, NULL},
      .fill = {HF_PAINT_COLOUR, 0, 1, NULL},
      .stroke = {HF_PAINT_NONE, 0, 1, NULL},
      .fill_opacity = 1,
      .stroke_opacity = 1,
      .visible = TRUE,
      .stroke_width = {1, HF_UNIT_PX},
      .miter_limit = 4,
      .opacity = 1,
      .shown = TRUE,
  };
}

static void
take(HfStyle *style, const HfStyle *from, const struct Row *row)
{
  memcpy((char *)style + row->offset, (const char *)from + row->offset, row->size);
}

void
hf_style_compute(HfStyle *style, const HfStyle *parent)
{
  HfStyle initial = hf_style_initial();
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    const char *told = style->told[rows[i].property];
    gboolean from_parent = inherited[rows[i].property];
    if (!from_parent)
      take(style, &initial, &rows[i]);
    if (told == NULL)
      continue;
    if (strcmp(told, "inherit") == 0)
      take(style, parent, &rows[i]);
    else if (strcmp(told, "initial") == 0 || (strcmp(told, "unset") == 0 && !from_parent))
      take(style, &initial, &rows[i]);
    else
      rows[i].reads(told, style, (char *)style + rows[i].offset);
  }
}
