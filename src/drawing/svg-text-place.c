/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-text-place.c - where each letter stands: SVG 2, 11.5.
 *
 *   a chunk begins where a place is told, and where a path begins or ends
 *
 *        |-- advance --|            on a path its middle lies on the line, and it is turned
 *        A             V            as the line runs there
 *        from
 */
#include "drawing/svg-text-private.h"
#include <string.h>

/* ---- chunks ---------------------------------------------------------------------------------- */

static const HfTextSpan *
span_at(const HfSvgText *text, guint character)
{
  return hf_text_span(text, hf_text_char(text, character)->span);
}

/* The element along whose path a character runs; NULL: none. */
static const HfXmlNode *
path_node(const HfSvgText *text, guint character)
{
  const HfTextSpan *span = span_at(text, character);
  while (span->follows && strcmp(span->node->name, "textPath") != 0 && span->outer >= 0)
    span = hf_text_span(text, (guint)span->outer);
  return span->follows ? span->node : NULL;
}

static gboolean
begins_chunk(const HfSvgText *text, guint i)
{
  const HfTextChar *c = hf_text_char(text, i);
  if (path_node(text, i) != path_node(text, i - 1))
    return TRUE;
  return !g_unichar_ismark(c->c) && (!isnan(c->at.x) || !isnan(c->at.y));
}

/* ---- told lengths ---------------------------------------------------------------------------- */

typedef struct {
  HfSvgText *text;
  HfPoint pen;        /* where the next letter stands */
  double across;      /* what was told besides across the line, since a height was told */
  guint first, end;   /* characters of the chunk */
  guint letter, stop; /* its letters */
} Chunk;

static HfTextLetter *
letter_at(const Chunk *chunk, guint i)
{
  return &g_array_index(chunk->text->letters, HfTextLetter, i);
}

/* What is told besides, along the line and across it. */
static HfPoint
told_by(const Chunk *chunk, const HfTextLetter *letter)
{
  HfPoint by = hf_text_char(chunk->text, letter->character)->by;
  return chunk->text->vertical ? hf_point(by.y, -by.x) : by;
}

static gboolean
is_in(const HfTextSpan *span, const HfTextLetter *letter)
{
  return letter->character >= span->first && letter->character < span->end;
}

/* `textLength` of one element that lies in one chunk: between its letters, or all of it. */
static void
stretch_span(Chunk *chunk, const HfTextSpan *span)
{
  const char *told = hf_xml_get(span->node, "textLength");
  const char *how = hf_xml_get(span->node, "lengthAdjust");
  HfSvgAt at = *chunk->text->at;
  at.style = span->style;
  double wanted = hf_svg_told(&at, told, chunk->text->vertical ? 1 : 0, -1), has = 0;
  guint n = 0, last = 0;
  if (!(wanted >= 0) || !isfinite(wanted) || span->first < chunk->first || span->end > chunk->end)
    return;
  for (guint i = chunk->letter; i < chunk->stop; i++) {
    const HfTextLetter *letter = letter_at(chunk, i);
    if (!is_in(span, letter))
      continue;
    has += letter->advance + (n > 0 ? told_by(chunk, letter).x : 0);
    last = i;
    n++;
  }
  gboolean all = how != NULL && strcmp(how, "spacingAndGlyphs") == 0;
  for (guint i = chunk->letter; n > 0 && i < chunk->stop; i++) {
    HfTextLetter *letter = letter_at(chunk, i);
    if (is_in(span, letter) && all && has > 0) {
      letter->stretch *= wanted / has;
      letter->advance *= wanted / has;
      letter->spacing *= wanted / has;
    } else if (is_in(span, letter) && !all && i != last) {
      letter->advance += (wanted - has) / (n - 1);
    }
  }
}

/* Inner ones first. */
static void
stretch_chunk(Chunk *chunk)
{
  for (guint i = chunk->text->spans->len; i > 0; i--) {
    const HfTextSpan *span = hf_text_span(chunk->text, i - 1);
    if (hf_xml_get(span->node, "textLength") != NULL && span->end > span->first)
      stretch_span(chunk, span);
  }
}

/* ---- heights --------------------------------------------------------------------------------- */

/* CSS Inline 3, 3.2, where a face does not tell its lines: hanging and mathematical as renderers
 * have them. */
static double
baseline(HfBaseline which, const HfFaceMetrics *m, gboolean vertical)
{
  switch (which) {
  case HF_BASELINE_BEFORE:
    return m->ascent;
  case HF_BASELINE_AFTER:
    return -m->descent;
  case HF_BASELINE_MIDDLE:
    return m->x_height / 2;
  case HF_BASELINE_CENTRAL:
    return (m->ascent - m->descent) / 2;
  case HF_BASELINE_HANGING:
    return m->ascent * 0.8;
  case HF_BASELINE_MATHEMATICAL:
    return m->ascent / 2;
  case HF_BASELINE_AUTO:
    return vertical ? (m->ascent - m->descent) / 2 : 0;
  default:
    return 0;
  }
}

static double
shift_of(const HfStyle *style, const HfFaceMetrics *m)
{
  HfStyleLength length;
  const char *told = style->baseline_shift;
  if (told == NULL)
    return 0;
  if (g_ascii_strcasecmp(told, "super") == 0)
    return m->superscript * style->font_size;
  if (g_ascii_strcasecmp(told, "sub") == 0)
    return -m->subscript * style->font_size;
  if (!hf_style_length(told, style, &length))
    return 0;
  return length.unit == HF_UNIT_PERCENT ? length.value / 100 * style->font_size : length.value;
}

/* Shifts of all elements that it is in add up, but for the text itself. */
double
hf_svg_text_raise(const HfSvgText *text, guint i, const HfTextRun *run)
{
  HfFaceMetrics m = hf_face_metrics(run->face);
  const HfTextSpan *span = hf_text_span(text, i);
  HfBaseline which = (HfBaseline)span->style.dominant_baseline;
  double raise = 0;
  gboolean aligned = FALSE;
  for (; span->outer >= 0; span = hf_text_span(text, (guint)span->outer)) {
    raise += shift_of(&span->style, &m);
    if (!aligned && span->style.alignment_baseline != HF_BASELINE_AUTO) {
      which = (HfBaseline)span->style.alignment_baseline;
      aligned = TRUE;
    }
  }
  return raise - baseline(which, &m, text->vertical) * run->size;
}

/* ---- letters --------------------------------------------------------------------------------- */

/* A letter of a script that stands upright in a column. */
static gboolean
stands_upright(const HfSvgText *text, const HfTextLetter *letter)
{
  return text->vertical && g_unichar_iswide(hf_text_char(text, letter->character)->c);
}

/* In ems and y up, from its pen; stretched, raised, turned by itself, turned as the line runs. */
static void
finish(HfSvgText *text, HfTextLetter *letter)
{
  const HfTextRun *run = hf_text_run_at(text, letter->run);
  const HfTextChar *c = hf_text_char(text, letter->character);
  double raise = hf_svg_text_raise(text, c->span, run), way = letter->way;
  HfMatrix m = hf_matrix_scale(run->size * letter->stretch, -run->size);
  HfPoint at = hf_point(0, -raise);
  if (stands_upright(text, letter)) { /* its em square across the line, its top where it begins */
    HfFaceMetrics metrics = hf_face_metrics(run->face);
    double wide = g_array_index(run->line->glyphs, HfGlyph, letter->first_glyph).advance;
    m = hf_matrix_scale(run->size, -run->size * letter->stretch);
    at = hf_point(metrics.ascent / (metrics.ascent + metrics.descent) * run->size,
                  wide / 2 * run->size);
    m = hf_matrix_then(m, hf_matrix_turn(-G_PI_2));
  }
  m = hf_matrix_then(m, hf_matrix_turn(c->turn));
  m = hf_matrix_then(m, hf_matrix_move(at.x, at.y));
  m = hf_matrix_then(m, hf_matrix_turn(way));
  letter->matrix = hf_matrix_then(m, hf_matrix_move(letter->from.x, letter->from.y));
}

/* SVG 2, 11.5: from the first letter, wherever it was moved, to the end of the last. */
static double
width_of(const Chunk *chunk)
{
  double width = 0;
  for (guint i = chunk->letter; i < chunk->stop; i++)
    width += letter_at(chunk, i)->advance +
             (i > chunk->letter ? told_by(chunk, letter_at(chunk, i)).x : 0);
  return width;
}

/* 0: its left end stands where it was told to, 1: its middle, 2: its right end. */
static int
anchor_of(const HfStyle *style)
{
  return style->right_to_left ? 2 - style->anchor : style->anchor;
}

/* How far the chunk begins before the place that was told. */
static double
before_anchor(const Chunk *chunk)
{
  return width_of(chunk) * anchor_of(&span_at(chunk->text, chunk->first)->style) / 2;
}

static void
place_straight(Chunk *chunk)
{
  HfSvgText *text = chunk->text;
  HfPoint told = hf_text_char(text, chunk->first)->at;
  chunk->pen.x = isnan(told.x) ? chunk->pen.x : told.x;
  chunk->pen.y = isnan(told.y) ? chunk->pen.y : told.y;
  chunk->across = isnan(told.y) ? chunk->across : 0;
  double back = before_anchor(chunk);
  HfPoint along = text->vertical ? hf_point(0, 1) : hf_point(1, 0);
  chunk->pen = hf_point_sub(chunk->pen, hf_point_scale(along, back));
  for (guint i = chunk->letter; i < chunk->stop; i++) {
    HfTextLetter *letter = letter_at(chunk, i);
    chunk->pen = hf_point_add(chunk->pen, hf_text_char(text, letter->character)->by);
    chunk->across += hf_text_char(text, letter->character)->by.y;
    letter->from = chunk->pen;
    letter->way = text->vertical ? G_PI_2 : 0;
    chunk->pen = hf_point_add(chunk->pen, hf_point_scale(along, letter->advance));
    finish(text, letter);
  }
}

/* ---- along a path ---------------------------------------------------------------------------- */

/* SVG 2, 11.8.3: round a closed path once, from wherever it begins. */
static gboolean
find_place(const HfTextSpan *span, double start, double at, HfPoint *ret, HfPoint *ret_heading)
{
  double all = hf_text_path_length(span->path), anchor = anchor_of(&span->style) / 2.0;
  if (span->path->closed && at - start >= -anchor * all && at - start <= (1 - anchor) * all)
    at = at < 0 || at > all ? fmod(fmod(at, all) + all, all) : at;
  if (!(at >= 0 && at <= all))
    return FALSE;
  *ret = hf_text_path_at(span->path, span->path_back ? all - at : at, ret_heading);
  if (span->path_back)
    *ret_heading = hf_point(-ret_heading->x, -ret_heading->y);
  return TRUE;
}

static void
place_along(Chunk *chunk)
{
  HfSvgText *text = chunk->text;
  const HfTextSpan *span = span_at(text, chunk->first);
  HfPoint told = hf_text_char(text, chunk->first)->at;
  double start = span->path_start + (isnan(told.x) ? 0 : told.x);
  double along = start - before_anchor(chunk);
  HfPoint heading = {1, 0}, at;
  for (guint i = chunk->letter; i < chunk->stop; i++) {
    HfTextLetter *letter = letter_at(chunk, i);
    HfPoint by = hf_text_char(text, letter->character)->by;
    along += by.x;
    chunk->across += by.y;
    double wide = letter->advance - letter->spacing, middle = along + wide / 2;
    letter->shown = letter->shown && find_place(span, start, middle, &at, &heading);
    along += letter->advance;
    if (!letter->shown)
      continue;
    HfPoint down = hf_point(-heading.y, heading.x);
    letter->from = hf_point_sub(at, hf_point_scale(heading, wide / 2));
    letter->from = hf_point_add(letter->from, hf_point_scale(down, chunk->across));
    letter->way = hf_angle_of(heading);
    finish(text, letter);
  }
  double all = hf_text_path_length(span->path);
  chunk->pen = hf_text_path_at(span->path, span->path_back ? 0 : all, &heading);
}

/* ---- all ------------------------------------------------------------------------------------- */

static gboolean
place_chunk(Chunk *chunk, GError **error)
{
  HfSvgText *text = chunk->text;
  const HfTextSpan *span = span_at(text, chunk->first);
  chunk->letter = text->letters->len;
  if (!hf_svg_text_set(text, chunk->first, chunk->end, error))
    return FALSE;
  chunk->stop = text->letters->len;
  for (guint i = chunk->letter; i < chunk->stop; i++) {
    HfTextLetter *letter = letter_at(chunk, i);
    if (stands_upright(text, letter))
      letter->advance = hf_text_run_at(text, letter->run)->size;
  }
  if (chunk->stop > chunk->letter) { /* CSS Text 3, 8.2: no letter's spacing at the end of a line */
    HfTextLetter *last = letter_at(chunk, chunk->stop - 1);
    last->advance -= last->spacing;
    last->spacing = 0;
  }
  stretch_chunk(chunk);
  if (span->follows)
    place_along(chunk);
  else
    place_straight(chunk);
  return TRUE;
}

gboolean
hf_svg_text_place(HfSvgText *text, GError **error)
{
  Chunk chunk = {.text = text};
  for (guint i = 0; i < text->chars->len; i = chunk.end) {
    chunk.first = i;
    for (chunk.end = i + 1; chunk.end < text->chars->len && !begins_chunk(text, chunk.end);)
      chunk.end++;
    if (!place_chunk(&chunk, error))
      return FALSE;
  }
  return TRUE;
}
