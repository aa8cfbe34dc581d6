/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-text-draw.c - letters as shapes: `the 2nd "R" in text "HARBOUR"`, and lines under, over and
 * through them as bars.
 */
#include "base/text.h"
#include "drawing/svg-text-private.h"
#include <string.h>

/* ---- as shapes ------------------------------------------------------------------------------- */

static void
append(HfLinework *lines, const HfOutline *outline, HfMatrix matrix)
{
  const HfRunEnd closed = HF_RUN_CLOSED;
  hf_outline_append(lines->outline, outline, matrix);
  while (lines->ends->len < hf_outline_n_contours(lines->outline))
    g_array_append_val(lines->ends, closed);
}

static void
append_letter(const HfSvgText *text, const HfTextLetter *letter, HfLinework *lines)
{
  const GArray *glyphs = hf_text_run_at(text, letter->run)->line->glyphs;
  for (guint g = letter->first_glyph; g < letter->end_glyph; g++) {
    const HfGlyph *glyph = &g_array_index(glyphs, HfGlyph, g);
    HfMatrix there = hf_matrix_move(glyph->at.x - letter->pen, glyph->at.y);
    append(lines, glyph->outline, hf_matrix_then(there, letter->matrix));
  }
}

static gboolean
is_finite(const HfTextLetter *letter)
{
  HfMatrix m = letter->matrix;
  double all = fabs(m.xx) + fabs(m.xy) + fabs(m.yx) + fabs(m.yy) + fabs(m.x0) + fabs(m.y0);
  return all < HF_DRAWING_FARTHEST && fabs(letter->advance) < HF_DRAWING_FARTHEST;
}

static const HfTextLetter *
letter_at(const HfSvgText *text, guint i)
{
  return &g_array_index(text->letters, HfTextLetter, i);
}

/* From the line to above it and below it, of the letter's own advance; in its text's units. */
static void
append_bar(const HfTextLetter *letter, double above, double below, HfLinework *lines)
{
  HfMatrix m = hf_matrix_turn(letter->way);
  m = hf_matrix_then(m, hf_matrix_move(letter->from.x, letter->from.y));
  hf_linework_begin(lines, hf_matrix_apply(m, hf_point(0, -above)));
  hf_linework_line(lines, hf_matrix_apply(m, hf_point(letter->advance, -above)));
  hf_linework_line(lines, hf_matrix_apply(m, hf_point(letter->advance, -below)));
  hf_linework_line(lines, hf_matrix_apply(m, hf_point(0, -below)));
  hf_linework_close(lines);
}

/* SVG 2, 8.10: of the cells of its letters, not of their ink. */
static HfBox
box_of(const HfSvgText *text)
{
  g_autoptr(HfLinework) cells = hf_linework_new();
  for (guint i = 0; i < text->letters->len; i++) {
    const HfTextLetter *letter = letter_at(text, i);
    const HfTextRun *run = hf_text_run_at(text, letter->run);
    HfFaceMetrics m = hf_face_metrics(run->face);
    if (letter->shown && is_finite(letter))
      append_bar(letter, m.ascent * run->size, -m.descent * run->size, cells);
  }
  return hf_outline_box(cells->outline);
}

/* ---- names ----------------------------------------------------------------------------------- */

static const char *
said(const HfSvgText *text, const HfTextLetter *letter)
{
  const HfLine *line = hf_text_run_at(text, letter->run)->line;
  const HfGlyph *glyph = &g_array_index(line->glyphs, HfGlyph, letter->first_glyph);
  return (const char *)g_ptr_array_index(line->letters, glyph->letter);
}

/* How often each letter stands in it. */
static GHashTable *
count_letters(const HfSvgText *text)
{
  GHashTable *counts = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < text->letters->len; i++) {
    const char *letter = said(text, letter_at(text, i));
    guint n = GPOINTER_TO_UINT(g_hash_table_lookup(counts, letter));
    g_hash_table_insert(counts, (gpointer)letter, GUINT_TO_POINTER(n + 1));
  }
  return counts;
}

/* `text "HARBOUR"`, `the 2nd text "HARBOUR"`. */
static char *
name_of(HfSvgText *text)
{
  GHashTable *names = text->svg->text_names;
  guint n = 1 + GPOINTER_TO_UINT(g_hash_table_lookup(names, text->content));
  g_hash_table_insert(names, g_strdup(text->content), GUINT_TO_POINTER(n));
  g_autofree char *ordinal = hf_text_ordinal(n);
  return n == 1 ? g_strdup_printf("text \"%s\"", text->content)
                : g_strdup_printf("the %s text \"%s\"", ordinal, text->content);
}

static GPtrArray *
called_of(const HfSvgText *text)
{
  GPtrArray *called = hf_svg_called(text->at->names);
  if (*text->content != '\0')
    g_ptr_array_insert(called, 0, g_strdup(text->content));
  return called;
}

/* ---- letters --------------------------------------------------------------------------------- */

static HfSvgAt
at_of(const HfSvgText *text, guint span, const HfSvgAt *at)
{
  HfSvgAt own = *at;
  own.style = hf_text_span(text, span)->style;
  own.style.fill_even_odd = FALSE; /* SVG 2, 11.9: of no meaning for text */
  return own;
}

typedef struct {
  HfSvgText *text;
  const HfSvgAt *at; /* with its clip */
  HfBox box;
  char *name;
  GHashTable *counts, *seen;
} Drawing;

static void
draw_letter(Drawing *own, const HfTextLetter *letter)
{
  HfSvgText *text = own->text;
  g_autoptr(HfLinework) lines = hf_linework_new();
  const char *says = said(text, letter);
  guint nth = 1 + GPOINTER_TO_UINT(g_hash_table_lookup(own->seen, says));
  g_hash_table_insert(own->seen, (gpointer)says, GUINT_TO_POINTER(nth));
  if (!letter->shown)
    return;
  append_letter(text, letter, lines);
  if (hf_linework_is_empty(lines) || !hf_svg_may_draw(text->svg, text->node->line))
    return;
  g_autofree char *plain = hf_drawing_tidy(says), *ordinal = hf_text_ordinal(nth);
  gboolean more = GPOINTER_TO_UINT(g_hash_table_lookup(own->counts, says)) > 1;
  char *name = g_strdup_printf("the %s%s\"%s\" in %s", more ? ordinal : "", more ? " " : "", plain,
                               own->name);
  HfSvgAt at = at_of(text, hf_text_char(text, letter->character)->span, own->at);
  hf_svg_add_item(text->svg, &at, g_steal_pointer(&lines), own->box, text->node->line, name,
                  called_of(text));
}

/* ---- bars ------------------------------------------------------------------------------------ */

static const struct {
  const char *name;
} bars[HF_N_BARS] = {{"line under"}, {"line over"}, {"line through"}};

static void
bar_of(const HfSvgText *text, const HfTextLetter *letter, HfBar bar, double *ret_middle,
       double *ret_thick)
{
  const HfTextRun *run = hf_text_run_at(text, letter->run);
  HfFaceMetrics m = hf_face_metrics(run->face);
  const double middle[] = {m.underline, m.ascent, m.strike};
  *ret_middle = middle[bar] * run->size;
  *ret_thick = m.underline_thick * run->size;
}

static gboolean
same_paint(const HfBarStyle *a, const HfBarStyle *b)
{
  return a->on == b->on && a->fill.kind == b->fill.kind && a->fill.colour == b->fill.colour &&
         a->stroke.kind == b->stroke.kind && a->stroke.colour == b->stroke.colour &&
         g_strcmp0(a->fill.server, b->fill.server) == 0;
}

static const HfBarStyle *
style_of(const HfSvgText *text, guint i, HfBar bar)
{
  const HfTextLetter *letter = letter_at(text, i);
  return &hf_text_span(text, hf_text_char(text, letter->character)->span)->style.bars[bar];
}

static void
add_bar(Drawing *own, HfBar bar, const HfBarStyle *style, HfLinework *lines)
{
  HfSvgText *text = own->text;
  if (hf_linework_is_empty(lines) || !hf_svg_may_draw(text->svg, text->node->line)) {
    hf_linework_free(lines);
    return;
  }
  HfSvgAt at = at_of(text, 0, own->at);
  at.style.fill = style->fill;
  at.style.stroke = style->stroke;
  at.style.fill_opacity = style->fill_opacity;
  at.style.stroke_opacity = style->stroke_opacity;
  hf_svg_add_item(text->svg, &at, lines, own->box, text->node->line,
                  g_strdup_printf("%s %s", bars[bar].name, own->name), called_of(text));
}

/* Letters on one straight line have one bar. */
static gboolean
goes_on(const HfTextLetter *before, const HfTextLetter *next, double above, double below,
        const double figures[2])
{
  HfPoint end = hf_point_polar(before->from, before->advance, before->way);
  return next->shown && before->way == next->way && above == figures[0] && below == figures[1] &&
         hf_point_distance(end, next->from) < 1e-6 * (1 + fabs(end.x) + fabs(end.y));
}

static void
draw_bars(Drawing *own, HfBar bar)
{
  const HfSvgText *text = own->text;
  for (guint i = 0; i < text->letters->len;) {
    const HfBarStyle *style = style_of(text, i, bar);
    g_autoptr(HfLinework) lines = hf_linework_new();
    for (; i < text->letters->len && same_paint(style, style_of(text, i, bar));) {
      HfTextLetter one = *letter_at(text, i++);
      double middle, thick, next_middle, next_thick;
      if (!style->on || !one.shown || !is_finite(&one))
        continue;
      bar_of(text, &one, bar, &middle, &thick);
      for (; i < text->letters->len && same_paint(style, style_of(text, i, bar)); i++) {
        const HfTextLetter *next = letter_at(text, i);
        bar_of(text, next, bar, &next_middle, &next_thick);
        if (!is_finite(next) ||
            !goes_on(&one, next, next_middle, next_thick, (double[]){middle, thick}))
          break;
        one.advance += next->advance;
      }
      append_bar(&one, middle + thick / 2, middle - thick / 2, lines);
    }
    if (style->on)
      add_bar(own, bar, style, g_steal_pointer(&lines));
  }
}

/* ---- all ------------------------------------------------------------------------------------- */

static char *
faces_used(const HfSvgText *text)
{
  GString *all = g_string_new(NULL);
  for (guint i = 0; i < text->runs->len; i++) {
    const HfFace *face = hf_text_run_at(text, i)->face;
    g_autofree char *name = g_strdup_printf("%s %s", hf_face_family(face), hf_face_style(face));
    if (strstr(all->str, name) == NULL)
      g_string_append_printf(all, "%s%s", all->len > 0 ? ", " : "", name);
  }
  return g_string_free(all, FALSE);
}

/* (transfer full) (nullable) the text with its letters in their places. */
static HfSvgText *
placed(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, GError **error)
{
  g_autoptr(HfSvgText) text = hf_svg_text_new(svg, node, at);
  if (hf_svg_ended(svg) || !hf_svg_text_place(text, error))
    return NULL;
  for (guint i = 0; i < text->letters->len; i++) {
    HfTextLetter *letter = &g_array_index(text->letters, HfTextLetter, i);
    if (!letter->shown || is_finite(letter))
      continue;
    hf_svg_refuse(svg, HF_ERROR_TOO_BIG, node->line, "mend or remove it",
                  "a text reaches farther than any sign does");
    return NULL;
  }
  return g_steal_pointer(&text);
}

/* Told once for each text that is drawn: its words, and the faces asked for and found. */
static void
tell_text(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, const HfSvgText *set, GError *why)
{
  g_autoptr(HfSvgText) text = set == NULL ? hf_svg_text_new(svg, node, at) : NULL;
  const HfSvgText *known = set != NULL ? set : text;
  const char *asked = at->style.family;
  for (guint i = 0; i < known->chars->len; i++) /* of its first letter */
    if (hf_text_char(known, i)->c != ' ') {
      asked = hf_text_span(known, hf_text_char(known, i)->span)->style.family;
      break;
    }
  HfDrawingText *told =
      hf_drawing_text(svg->drawing, known->content, asked != NULL ? asked : "", node->line);
  told->face = set != NULL ? faces_used(set) : NULL;
  told->why = why;
}

static void
draw_placed(HfSvgText *text, const HfSvgAt *at)
{
  g_autoptr(GHashTable) counts = count_letters(text),
                        seen = g_hash_table_new(g_str_hash, g_str_equal);
  g_autofree char *name = name_of(text);
  Drawing own = {text, at, box_of(text), name, counts, seen};
  draw_bars(&own, HF_BAR_UNDER);
  draw_bars(&own, HF_BAR_OVER);
  for (guint i = 0; i < text->letters->len && !hf_svg_ended(text->svg); i++)
    draw_letter(&own, letter_at(text, i));
  draw_bars(&own, HF_BAR_THROUGH);
}

static void
measure(HfSvg *svg, HfBox box, HfMatrix matrix)
{
  const HfPoint corners[] = {box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
  for (guint i = 0; !hf_box_is_empty(box) && i < G_N_ELEMENTS(corners); i++)
    *svg->measured = hf_box_add_point(*svg->measured, hf_matrix_apply(matrix, corners[i]));
}

void
hf_svg_draw_text(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  if (svg->faces == NULL) {
    if (svg->measured == NULL)
      hf_drawing_note(svg->drawing, node->line, "live text was left out: turn it into outlines");
    return;
  }
  GError *why = NULL;
  g_autoptr(HfSvgText) text = placed(svg, node, at, &why);
  if (svg->measured != NULL) {
    if (text != NULL)
      measure(svg, box_of(text), at->matrix);
    g_clear_error(&why);
    return;
  }
  if (hf_svg_ended(svg)) {
    g_clear_error(&why);
    return;
  }
  gboolean none = FALSE;
  HfSvgAt own = *at;
  own.clip = hf_svg_clip(svg, node, at, &none);
  if (text == NULL || text->chars->len > 0)
    tell_text(svg, node, at, text, why);
  if (text != NULL && !none)
    draw_placed(text, &own);
}

HfLinework *
hf_svg_text_lines(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  GError *why = NULL;
  g_autoptr(HfSvgText) text = svg->faces != NULL ? placed(svg, node, at, &why) : NULL;
  if (text == NULL) {
    if (!hf_svg_ended(svg) && why != NULL)
      tell_text(svg, node, at, NULL, g_steal_pointer(&why));
    return NULL;
  }
  g_autoptr(HfLinework) lines = hf_linework_new();
  for (guint i = 0; i < text->letters->len; i++)
    if (letter_at(text, i)->shown)
      append_letter(text, letter_at(text, i), lines);
  return hf_linework_is_empty(lines) ? NULL : g_steal_pointer(&lines);
}
