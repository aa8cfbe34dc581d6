/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-text.c - the characters of a text: which are there after white space was put in order, which
 * element styles each, and what positions it was told.
 *
 *   <text x="1 2"> A <tspan dx="5">B</tspan></text>      A: x 1   ' ': x 2   B: dx 5
 */
#include "drawing/svg-text-private.h"
#include <string.h>

typedef struct {
  HfSvgText *text;
  HfSvgAt at;
} Gather;

/* ---- white space ----------------------------------------------------------------------------- */

/* xml:space and white-space: whichever is told nearest. */
static gboolean
is_preserved(const HfXmlNode *node, const HfStyle *style, gboolean outer)
{
  const char *space = hf_xml_get(node, "xml:space");
  if (style->told[HF_PROPERTY_WHITE_SPACE] != NULL)
    return style->preserved;
  return space == NULL ? outer : strcmp(space, "preserve") == 0;
}

static gboolean
is_preserved_above(const HfXmlNode *node)
{
  for (node = node->parent; node != NULL; node = node->parent) {
    const char *space = hf_xml_get(node, "xml:space");
    if (space != NULL)
      return strcmp(space, "preserve") == 0;
  }
  return FALSE;
}

/* A character of its own; 0: it draws nothing and takes no room. */
static gunichar
settled(gunichar c)
{
  if (c == '\t' || c == '\n' || c == '\r' || c == 0x2028 || c == 0x2029)
    return ' ';
  return g_unichar_iscntrl(c) ? 0 : c;
}

/* Of blanks that may be drawn together one is left (CSS Text 3, 4.1.1): whether another stands
 * before this one is seen here, what is at the end of all by trim(). */
static gboolean
is_too_much(const HfSvgText *text, gboolean preserved)
{
  if (preserved)
    return FALSE;
  if (text->chars->len == 0)
    return TRUE;
  const HfTextChar *last = hf_text_char(text, text->chars->len - 1);
  return last->c == ' ';
}

static void
trim(HfSvgText *text)
{
  while (text->chars->len > 0) {
    const HfTextChar *last = hf_text_char(text, text->chars->len - 1);
    if (last->c != ' ' || hf_text_span(text, last->span)->preserved)
      return;
    g_array_set_size(text->chars, text->chars->len - 1);
  }
}

/* ---- characters ------------------------------------------------------------------------------ */

static void
gather_characters(Gather *own, const char *from, gsize length, guint span)
{
  HfSvgText *text = own->text;
  gboolean preserved = hf_text_span(text, span)->preserved;
  for (const char *p = from; p < from + length; p = g_utf8_next_char(p)) {
    gunichar c = settled(g_utf8_get_char(p));
    if (c == 0 || (c == ' ' && is_too_much(text, preserved)))
      continue;
    if (text->chars->len >= HF_SVG_MOST_CHARACTERS) {
      hf_svg_refuse(text->svg, HF_ERROR_TOO_BIG, text->node->line,
                    "simplify the drawing, or take a part of it",
                    "a text has more than %d characters", HF_SVG_MOST_CHARACTERS);
      return;
    }
    HfTextChar one = {c, span, {NAN, NAN}, {0, 0}, 0};
    g_array_append_val(text->chars, one);
  }
}

typedef void GatherChild(Gather *own, const HfXmlNode *child, guint span);

/* In the order in which it reads: characters, and between them each element as @each_child says. */
static void
gather_inside(Gather *own, const HfXmlNode *node, guint span, GatherChild *each_child)
{
  const char *all = node->text != NULL ? node->text->str : "";
  gsize at = 0;
  for (const HfXmlNode *child = node->first; child != NULL && !hf_svg_ended(own->text->svg);
       child = child->next) {
    gather_characters(own, all + at, child->text_before - at, span);
    at = child->text_before;
    each_child(own, child, span);
  }
  gather_characters(own, all + at, node->text != NULL ? node->text->len - at : 0, span);
}

/* All character data, whoever styles it: what a `tref` means. */
static void
gather_data(Gather *own, const HfXmlNode *child, guint span)
{
  if (strcmp(child->name, "title") != 0 && strcmp(child->name, "desc") != 0)
    gather_inside(own, child, span, gather_data);
}

/* ---- paths ----------------------------------------------------------------------------------- */

/* What `path` says, else what `href` means (SVG 2, 11.8.1), in the text's units: the path's own
 * transform goes with it. Kept for copies of the text. */
static const HfTextPath *
path_of(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  const char *data = hf_xml_get(node, "path");
  g_autoptr(HfLinework) lines = hf_linework_new();
  HfMatrix matrix = HF_MATRIX_IDENTITY;
  const HfXmlNode *target = node;
  if (data == NULL || !hf_svg_path(data, lines) || hf_linework_is_empty(lines)) {
    target = hf_svg_of_href(svg, node);
    data = NULL;
  }
  if (target == NULL)
    return NULL;
  HfTextPath *path = (HfTextPath *)g_hash_table_lookup(svg->text_paths, target);
  if (path != NULL)
    return path;
  if (data == NULL) {
    HfSvgAt there = *at;
    hf_svg_style_there(svg, target, &there.style);
    HfLinework *shape = hf_svg_shape(svg, target, &there);
    if (shape == NULL || !hf_svg_own_matrix(&there, &matrix)) {
      hf_linework_free(shape);
      return NULL;
    }
    hf_linework_free(lines);
    lines = shape;
  }
  path = hf_text_path_new(lines, matrix);
  if (path != NULL)
    g_hash_table_insert(svg->text_paths, (gpointer)target, path);
  return path;
}

/* `startOffset`, in the text's units; pathLength says what the whole shall count as. */
static double
start_of(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, const HfTextPath *path)
{
  const char *told = hf_xml_get(node, "startOffset");
  const HfXmlNode *target = hf_svg_of_href(svg, node);
  const char *said = target != NULL ? hf_xml_get(target, "pathLength") : NULL;
  double whole = hf_text_path_length(path), counts = hf_svg_told(at, said, 2, 0);
  HfStyleLength length;
  if (told == NULL || !hf_style_length(told, &at->style, &length))
    return 0;
  if (length.unit == HF_UNIT_PERCENT)
    return length.value / 100 * whole;
  return counts > 0 ? length.value * whole / counts : length.value;
}

static void
follow_path(Gather *own, const HfXmlNode *node, HfTextSpan *span)
{
  HfSvg *svg = own->text->svg;
  const char *side = hf_xml_get(node, "side"), *method = hf_xml_get(node, "method");
  span->follows = TRUE;
  span->path = path_of(svg, node, &own->at);
  span->path_back = side != NULL && strcmp(side, "right") == 0;
  if (span->path == NULL)
    hf_drawing_note(svg->drawing, node->line,
                    "text along a path that is not there, or is no line, was left out");
  else
    span->path_start = start_of(svg, node, &own->at, span->path);
  if (method != NULL && strcmp(method, "stretch") == 0)
    hf_drawing_note(svg->drawing, node->line,
                    "letters along a path stand as they are: they were not bent with it");
}

/* ---- elements -------------------------------------------------------------------------------- */

static guint
add_span(Gather *own, const HfXmlNode *node, int outer)
{
  HfSvgText *text = own->text;
  HfTextSpan span = {.node = node, .style = own->at.style, .outer = outer, .shown = TRUE};
  gboolean above = is_preserved_above(node);
  if (outer >= 0) {
    const HfTextSpan *from = hf_text_span(text, (guint)outer);
    span.shown = from->shown && own->at.style.opacity > 0;
    span.follows = from->follows;
    span.path = from->path;
    span.path_start = from->path_start;
    span.path_back = from->path_back;
    above = from->preserved;
  }
  span.preserved = is_preserved(node, &own->at.style, above);
  if (strcmp(node->name, "textPath") == 0)
    follow_path(own, node, &span);
  span.first = text->chars->len;
  g_array_append_val(text->spans, span);
  return text->spans->len - 1;
}

/* What a `tref` may mean: an element that SVG knows, whether it draws characters or not. */
static const HfXmlNode *
reference_of(HfSvg *svg, const HfXmlNode *node)
{
  static const char *const known[] = {"text",    "tspan",  "textPath", "tref",   "a",
                                      "g",       "defs",   "svg",      "symbol", "path",
                                      "rect",    "circle", "ellipse",  "line",   "polyline",
                                      "polygon", "desc",   "title",    NULL};
  const HfXmlNode *target = hf_svg_of_href(svg, node);
  if (target != NULL && g_strv_contains(known, target->name))
    return target;
  hf_drawing_note(svg->drawing, node->line,
                  "text that stands in another place, which is not there, was left out");
  return NULL;
}

static GatherChild gather_child;

static void
gather_span(Gather *own, const HfXmlNode *node, guint outer)
{
  guint span = add_span(own, node, (int)outer);
  gboolean reference = strcmp(node->name, "tref") == 0;
  const HfXmlNode *target = reference ? reference_of(own->text->svg, node) : NULL;
  if (target != NULL)
    gather_inside(own, target, span, gather_data);
  else if (!reference &&
           (!hf_text_span(own->text, span)->follows || hf_text_span(own->text, span)->path != NULL))
    gather_inside(own, node, span, gather_child);
  hf_text_span(own->text, span)->end = own->text->chars->len;
}

static void
gather_child(Gather *own, const HfXmlNode *node, guint outer)
{
  static const char *const spans[] = {"tspan", "a", "tref", "textPath", NULL};
  if (!g_strv_contains(spans, node->name))
    return;
  HfSvgAt before = own->at;
  if (own->text->spans->len >= HF_SVG_MOST_SPANS) {
    hf_svg_refuse(own->text->svg, HF_ERROR_TOO_BIG, node->line, "take the text apart",
                  "a text is made of more than %d elements", HF_SVG_MOST_SPANS);
    return;
  }
  if (hf_svg_enter(own->text->svg, node, &before, &own->at))
    gather_span(own, node, outer);
  own->at = before;
}

/* ---- told positions -------------------------------------------------------------------------- */

/* The next length of a list, in user units. */
static gboolean
take_length(const char **p, const HfTextSpan *span, HfPoint viewport, int along, double *ret)
{
  HfStyleLength length;
  hf_svg_comma(p);
  if (!hf_style_scan_length(p, &span->style, &length))
    return FALSE;
  *ret = hf_svg_length(length, viewport, along);
  return isfinite(*ret) && fabs(*ret) < HF_DRAWING_FARTHEST;
}

static void
tell_lengths(HfSvgText *text, const HfTextSpan *span, const char *name, int along, gboolean by)
{
  const char *p = hf_xml_get(span->node, name);
  double value;
  for (guint i = span->first; p != NULL && i < span->end; i++) {
    if (!take_length(&p, span, text->at->viewport, along, &value))
      return;
    HfTextChar *c = hf_text_char(text, i);
    HfPoint *to = by ? &c->by : &c->at;
    *(along == 0 ? &to->x : &to->y) = value;
  }
}

/* Degrees; the last holds for all that follow: SVG 1.1, 10.5. */
static void
tell_turns(HfSvgText *text, const HfTextSpan *span)
{
  const char *p = hf_xml_get(span->node, "rotate");
  double value = 0;
  gboolean some = FALSE;
  const char *check = p;
  if (p == NULL)
    return;
  for (hf_svg_comma(&check); *check != '\0'; hf_svg_comma(&check))
    if (!hf_svg_number(&check, &value))
      return; /* no list of numbers */
  for (guint i = span->first; i < span->end; i++) {
    hf_svg_comma(&p);
    some = hf_svg_number(&p, &value) || some;
    if (some)
      hf_text_char(text, i)->turn = isfinite(value) ? value * G_PI / 180 : 0;
  }
}

/* Inner elements after those that they are in: theirs hold. */
static void
tell_positions(HfSvgText *text)
{
  for (guint i = 0; i < text->spans->len; i++) {
    HfTextSpan *span = hf_text_span(text, i);
    span->end = MIN(span->end, text->chars->len);
    if (strcmp(span->node->name, "textPath") == 0 || strcmp(span->node->name, "a") == 0)
      continue;
    tell_lengths(text, span, "x", 0, FALSE);
    tell_lengths(text, span, "y", 1, FALSE);
    tell_lengths(text, span, "dx", 0, TRUE);
    tell_lengths(text, span, "dy", 1, TRUE);
    tell_turns(text, span);
  }
}

/* ---- the door -------------------------------------------------------------------------------- */

static void
run_clear(gpointer data)
{
  hf_line_free(((HfTextRun *)data)->line);
}

static void
name_it(HfSvgText *text)
{
  g_autoptr(GString) all = g_string_new(NULL);
  for (guint i = 0; i < text->chars->len; i++)
    g_string_append_unichar(all, hf_text_char(text, i)->c);
  text->content = hf_drawing_tidy(all->str);
  text->where =
      g_strdup_printf("%s:%u: text \"%s\"", text->svg->where, text->node->line, text->content);
}

HfSvgText *
hf_svg_text_new(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  HfSvgText *text = g_new0(HfSvgText, 1);
  *text = (HfSvgText){.svg = svg, .at = at, .node = node, .vertical = at->style.vertical};
  text->spans = g_array_new(FALSE, FALSE, sizeof(HfTextSpan));
  text->chars = g_array_new(FALSE, FALSE, sizeof(HfTextChar));
  text->runs = g_array_new(FALSE, FALSE, sizeof(HfTextRun));
  text->letters = g_array_new(FALSE, FALSE, sizeof(HfTextLetter));
  g_array_set_clear_func(text->runs, run_clear);
  Gather own = {text, *at};
  guint span = add_span(&own, node, -1);
  gather_inside(&own, node, span, gather_child);
  hf_text_span(text, span)->end = text->chars->len;
  trim(text);
  tell_positions(text);
  name_it(text);
  return text;
}

void
hf_svg_text_free(HfSvgText *text)
{
  if (text == NULL)
    return;
  g_array_unref(text->spans);
  g_array_unref(text->chars);
  g_array_unref(text->runs);
  g_array_unref(text->letters);
  g_free(text->content);
  g_free(text->where);
  g_free(text);
}
