/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-text-set.c - characters into letters: which face each is set in, and what is shaped together.
 *
 *   H a r b o u r   Q u a y      a run: one face, one size, one spacing; elements that only paint
 *   '------------' '---------'   otherwise do not part it, so that letters join across them
 */
#include "drawing/svg-text-private.h"
#include <string.h>

#define LONGEST_RUN 1000 /* characters: what is set at once has a cap */

static HfFaceLike
like_of(const HfStyle *style)
{
  return (HfFaceLike){
      .weight = style->weight, .slant = (HfSlant)style->slant, .width = style->stretch};
}

static gboolean
set_alike(const HfStyle *a, const HfStyle *b)
{
  return a->font_size == b->font_size && a->letter_spacing.value == b->letter_spacing.value &&
         a->small_caps == b->small_caps && a->unkerned == b->unkerned &&
         a->letter_spacing.unit == b->letter_spacing.unit && a->right_to_left == b->right_to_left &&
         g_strcmp0(a->features, b->features) == 0;
}

/* The face of each character: a mark and a blank keep to what stands before them, where it has
 * them. */
static gboolean
find_faces(HfSvgText *text, guint first, guint end, const HfFace **faces, GError **error)
{
  const GPtrArray *list = NULL;
  guint span = G_MAXUINT;
  for (guint i = first; i < end; i++) {
    const HfTextChar *c = hf_text_char(text, i);
    const HfStyle *style = &hf_text_span(text, c->span)->style;
    gboolean same = c->span == span;
    if (!same)
      list =
          hf_text_faces_find(text->svg->faces, style->family, like_of(style), text->where, error);
    if (list == NULL)
      return FALSE;
    span = c->span;
    const HfFace *before = i > first && same ? faces[i - first - 1] : NULL;
    gboolean keeps = before != NULL && hf_face_has(before, c->c) &&
                     (g_unichar_ismark(c->c) || g_unichar_isspace(c->c));
    faces[i - first] = keeps ? before : hf_text_faces_for(list, c->c);
  }
  return TRUE;
}

/* ---- features -------------------------------------------------------------------------------- */

static gboolean
has_feature(const HfFace *face, const char *tag)
{
  g_autofree char *all = hf_face_features(face);
  g_auto(GStrv) tags = g_strsplit(all != NULL ? all : "", ", ", -1);
  return g_strv_contains((const char *const *)tags, tag);
}

/* `"ss01" 1, "liga" off` of CSS as ours: those that the face has. */
static void
add_told(GString *out, const HfFace *face, const char *told)
{
  g_auto(GStrv) parts = g_strsplit(told, ",", 32);
  for (guint i = 0; parts[i] != NULL; i++) {
    const char *p = g_strstrip(parts[i]);
    if ((*p != '"' && *p != '\'') || strlen(p) < 6 || p[5] != *p)
      continue;
    g_autofree char *tag = g_strndup(p + 1, 4);
    const char *value = p + 6;
    hf_svg_space(&value);
    gboolean off = strcmp(value, "off") == 0 || strcmp(value, "0") == 0;
    if (has_feature(face, tag))
      g_string_append_printf(out, "%s%s%s", out->len > 0 ? "," : "", off ? "-" : "", tag);
  }
}

/* CSS Text 3, 8.2: letters that are set apart are not drawn as one. */
static char *
features_of(const HfSvgText *text, const HfFace *face, const HfStyle *style)
{
  GString *out = g_string_new(style->unkerned ? "-kern" : "");
  gboolean apart = style->letter_spacing.value != 0;
  const struct {
    gboolean wanted;
    const char *tag, *told;
  } own[] = {
      {style->small_caps, "smcp", "smcp"}, {apart, "liga", "-liga"}, {apart, "clig", "-clig"}};
  for (guint i = 0; i < G_N_ELEMENTS(own); i++)
    if (own[i].wanted && has_feature(face, own[i].tag))
      g_string_append_printf(out, "%s%s", out->len > 0 ? "," : "", own[i].told);
  if (style->small_caps && !has_feature(face, "smcp"))
    hf_drawing_note(text->svg->drawing, text->node->line,
                    "\"%s %s\" has no small capitals: letters stand as they were typed",
                    hf_face_family(face), hf_face_style(face));
  if (style->features != NULL && strcmp(style->features, "normal") != 0)
    add_told(out, face, style->features);
  return g_string_free(out, FALSE);
}

static const char *
language_of(const HfXmlNode *node)
{
  for (; node != NULL; node = node->parent) {
    const char *told = hf_xml_get(node, "xml:lang");
    told = told != NULL ? told : hf_xml_get(node, "lang");
    if (told != NULL)
      return hf_type_is_language(told) ? told : NULL;
  }
  return NULL;
}

/* ---- letters --------------------------------------------------------------------------------- */

/* Which character begins at byte @at of what was set. */
static guint
character_at(const GArray *bytes, guint at)
{
  guint low = 0, high = bytes->len;
  while (high - low > 1) {
    guint middle = (low + high) / 2;
    if (g_array_index(bytes, guint, middle) <= at)
      low = middle;
    else
      high = middle;
  }
  return low;
}

/* CSS Text 3, 8.2.2: scripts whose letters join are not set apart. */
static gboolean
is_cursive(gunichar c)
{
  switch (g_unichar_get_script(c)) {
  case G_UNICODE_SCRIPT_ARABIC:
  case G_UNICODE_SCRIPT_SYRIAC:
  case G_UNICODE_SCRIPT_MANDAIC:
  case G_UNICODE_SCRIPT_MONGOLIAN:
  case G_UNICODE_SCRIPT_NKO:
  case G_UNICODE_SCRIPT_PHAGS_PA:
  case G_UNICODE_SCRIPT_HANIFI_ROHINGYA:
    return TRUE;
  default:
    return FALSE;
  }
}

static void
add_letters(HfSvgText *text, guint index, const GArray *bytes)
{
  const HfTextRun *run = hf_text_run_at(text, index);
  const GArray *glyphs = run->line->glyphs;
  double pen = 0;
  for (guint g = 0; g < glyphs->len;) {
    const HfGlyph *first = &g_array_index(glyphs, HfGlyph, g);
    HfTextLetter letter = {.run = index, .first_glyph = g, .pen = pen, .stretch = 1};
    for (; g < glyphs->len && g_array_index(glyphs, HfGlyph, g).letter == first->letter; g++)
      pen += g_array_index(glyphs, HfGlyph, g).advance;
    letter.end_glyph = g;
    letter.character = run->first + character_at(bytes, first->cluster);
    letter.advance = (pen - letter.pen) * run->size;
    const HfTextChar *c = hf_text_char(text, letter.character);
    const HfTextSpan *span = hf_text_span(text, c->span);
    HfPoint viewport = text->at->viewport;
    if (c->c == ' ' || c->c == 0xa0)
      letter.advance += hf_svg_length(span->style.word_spacing, viewport, 0);
    if (!is_cursive(c->c))
      letter.spacing = hf_svg_length(span->style.letter_spacing, viewport, 0);
    letter.advance += letter.spacing;
    letter.shown = span->shown && span->style.visible;
    g_array_append_val(text->letters, letter);
  }
}

static gboolean
set_run(HfSvgText *text, guint first, guint end, const HfFace *face, GError **error)
{
  const HfTextSpan *span = hf_text_span(text, hf_text_char(text, first)->span);
  const HfStyle *style = &span->style;
  g_autoptr(GString) utf8 = g_string_new(NULL);
  g_autoptr(GArray) bytes = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = first; i < end; i++) {
    guint at = (guint)utf8->len;
    g_array_append_val(bytes, at);
    g_string_append_unichar(utf8, hf_text_char(text, i)->c);
  }
  g_autofree char *features = features_of(text, face, style);
  HfTypeOptions options = {.features = *features != '\0' ? features : NULL,
                           .language = language_of(span->node),
                           .way =
                               style->right_to_left ? HF_WAY_RIGHT_TO_LEFT : HF_WAY_LEFT_TO_RIGHT};
  HfLine *line =
      hf_type_line(text->svg->faces_wanted->fonts, face, utf8->str, &options, text->where, error);
  if (line == NULL)
    return FALSE;
  HfTextRun run = {face, style->font_size, line, first, end};
  g_array_append_val(text->runs, run);
  add_letters(text, text->runs->len - 1, bytes);
  return TRUE;
}

/* Where a run that begins at @first ends, before @end: never in the middle of a word where a blank
 * is near. */
static guint
end_of_run(const HfSvgText *text, guint first, guint end, const HfFace *const *faces)
{
  const HfStyle *style = &hf_text_span(text, hf_text_char(text, first)->span)->style;
  guint to = first + 1, blank = 0;
  for (; to < end && to - first < LONGEST_RUN && faces[to - first] == faces[0]; to++) {
    const HfTextChar *c = hf_text_char(text, to);
    if (!set_alike(style, &hf_text_span(text, c->span)->style))
      return to;
    if (c->c == ' ')
      blank = to + 1;
  }
  return to - first == LONGEST_RUN && blank > 0 ? blank : to;
}

gboolean
hf_svg_text_set(HfSvgText *text, guint first, guint end, GError **error)
{
  g_autofree const HfFace **faces = g_new0(const HfFace *, end - first + 1);
  guint letters = text->letters->len;
  if (!find_faces(text, first, end, faces, error))
    return FALSE;
  for (guint i = first, to; i < end; i = to) {
    to = end_of_run(text, i, end, faces + (i - first));
    const HfStyle *style = &hf_text_span(text, hf_text_char(text, i)->span)->style;
    guint before = text->letters->len;
    if (style->font_size > 0 && !set_run(text, i, to, faces[i - first], error))
      return FALSE;
    if (style->right_to_left && before > letters) { /* runs follow each other to the left */
      g_autoptr(GArray) new_ones = g_array_new(FALSE, FALSE, sizeof(HfTextLetter));
      HfTextLetter *all = (HfTextLetter *)(gpointer)text->letters->data;
      guint n = text->letters->len - before;
      g_array_append_vals(new_ones, all + before, n);
      g_array_set_size(text->letters, before);
      g_array_insert_vals(text->letters, letters, new_ones->data, n);
    }
  }
  return TRUE;
}
