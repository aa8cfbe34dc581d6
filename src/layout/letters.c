/* SPDX-License-Identifier: GPL-3.0-or-later
 * letters.c - from shaped lines to letters: one rigid body a cluster, wound the same way round,
 * with the name that it keeps to the end.
 */
#include "base/text.h"
#include "geom/bolder.h"
#include "layout/words-private.h"

#include <stdlib.h>
#include <string.h>

enum { LONGEST_QUOTE = 24 };

#define DUST 1e-4 /* square ems: what nobody takes for a dot or stroke */

static void
letter_clear(gpointer data)
{
  HfLetter *letter = (HfLetter *)data;
  hf_outline_free(letter->outline);
  hf_outline_free(letter->drawn);
  g_free(letter->label);
}

static void
line_free(gpointer line)
{
  hf_line_free((HfLine *)line);
}

static HfWording *
wording_new(const HfFace *face)
{
  HfWording *wording = g_new0(HfWording, 1);
  wording->face = face;
  wording->shaped = g_ptr_array_new_with_free_func(line_free);
  wording->letters = g_array_new(FALSE, TRUE, sizeof(HfLetter));
  g_array_set_clear_func(wording->letters, letter_clear);
  wording->lines = g_array_new(FALSE, TRUE, sizeof(HfLetterLine));
  return wording;
}

HfWording *
hf_wording_empty(void)
{
  return wording_new(NULL);
}

void
hf_wording_free(HfWording *wording)
{
  if (wording == NULL)
    return;
  g_array_unref(wording->letters);
  g_array_unref(wording->lines);
  g_ptr_array_unref(wording->shaped);
  g_free(wording);
}

/* ---- letters out of glyphs ---------------------------------------------------------------- */

static void
add_glyph(HfLetter *letter, const HfGlyph *glyph)
{
  if (glyph->outline == NULL || hf_outline_n_contours(glyph->outline) == 0)
    return;
  if (letter->outline == NULL)
    letter->outline = hf_outline_new();
  hf_outline_append(letter->outline, glyph->outline,
                    hf_matrix_move(glyph->at.x - letter->pen, glyph->at.y));
}

static void
ink_letter(HfLetter *letter, HfLetterLine *line)
{
  letter->ink = HF_BOX_EMPTY;
  if (letter->outline == NULL)
    return;
  letter->ink = hf_outline_box(letter->outline);
  HfBox placed = {{letter->ink.min.x + letter->pen, letter->ink.min.y},
                  {letter->ink.max.x + letter->pen, letter->ink.max.y}};
  line->ink = hf_box_union(line->ink, placed);
}

static void
finish_letter(HfLetter *letter, HfLetterLine *line)
{
  if (letter->outline != NULL && hf_outline_area(letter->outline) < 0)
    hf_outline_reverse(letter->outline); /* TrueType winds the other way from CFF */
  ink_letter(letter, line);
}

static void
add_line(HfWording *wording, HfLine *shaped)
{
  HfLetterLine line = {.first = wording->letters->len, .ink = HF_BOX_EMPTY};
  guint line_index = wording->lines->len;
  double pen = 0;
  for (guint i = 0; i < shaped->glyphs->len; i++) {
    const HfGlyph *glyph = &g_array_index(shaped->glyphs, HfGlyph, i);
    if (line.first + glyph->letter >= wording->letters->len) {
      HfLetter fresh = {.pen = pen, .line = line_index, .cluster = glyph->cluster};
      fresh.text = (const char *)g_ptr_array_index(shaped->letters, glyph->letter);
      g_array_append_val(wording->letters, fresh);
    }
    HfLetter *letter = hf_wording_letter(wording, wording->letters->len - 1);
    add_glyph(letter, glyph);
    letter->advance += glyph->advance;
    pen += glyph->advance;
  }
  line.n = wording->letters->len - line.first;
  line.advance = pen;
  for (guint i = 0; i < line.n; i++)
    finish_letter(hf_wording_letter(wording, line.first + i), &line);
  line.length = hf_box_width(line.ink);
  g_array_append_val(wording->lines, line);
  g_ptr_array_add(wording->shaped, shaped);
}

/* ---- bolder, lighter ------------------------------------------------------------------------- */

static gboolean
same_outline(const HfOutline *a, const HfOutline *b)
{
  if (a == NULL || b == NULL || a->curves->len != b->curves->len ||
      a->starts->len != b->starts->len)
    return FALSE;
  return memcmp(a->starts->data, b->starts->data, a->starts->len * sizeof(guint)) == 0 &&
         memcmp(a->curves->data, b->curves->data, a->curves->len * sizeof(HfCurve)) == 0;
}

/* A letter that comes again is worked out once. */
static HfOutline *
bolder_letter(const HfWording *wording, guint i, double by, HfMatrix to_mm)
{
  const HfLetter *letter = hf_wording_letter(wording, i);
  for (guint k = 0; k < i; k++) {
    const HfLetter *before = hf_wording_letter(wording, k);
    if (same_outline(before->drawn, letter->drawn))
      return before->outline == NULL ? NULL : hf_outline_copy(before->outline);
  }
  g_autoptr(HfOutline) mm = hf_outline_new();
  hf_outline_append(mm, letter->drawn, to_mm);
  g_autoptr(HfOutline) moved = hf_outline_bolder(mm, by);
  if (hf_outline_n_contours(moved) == 0)
    return NULL; /* lighter than its strokes: nothing is left */
  HfOutline *ems = hf_outline_new();
  hf_outline_append(ems, moved, hf_matrix_scale(1 / to_mm.xx, 1 / to_mm.yy));
  return ems;
}

/* Outer contours wind counter-clockwise. */
static guint
count_pieces(const HfOutline *outline)
{
  guint pieces = 0;
  for (guint i = 0; outline != NULL && i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(outline, i, &n);
    g_autoptr(HfOutline) contour = hf_outline_new();
    g_array_append_vals(contour->curves, curve, n);
    pieces += hf_outline_area(contour) > 0;
  }
  return pieces;
}

static HfRegion *
region_of(const HfOutline *ems, HfMatrix to_mm)
{
  g_autoptr(HfOutline) mm = hf_outline_new();
  hf_outline_append(mm, ems, to_mm);
  return hf_region_of_outline(mm, HF_NO_SHAPE, HF_FLATTEN_MM);
}

/* What is lighter lies within what was drawn: each piece must hold something of it. */
static gboolean
has_every_piece(const HfLetter *letter, HfMatrix to_mm)
{
  g_autoptr(HfRegion) drawn = region_of(letter->drawn, to_mm);
  g_autoptr(HfRegion) now = region_of(letter->outline, to_mm);
  for (guint i = 0; i < drawn->rings->len; i++) {
    const HfRing *piece = hf_region_ring(drawn, i);
    gboolean there = piece->parent >= 0 || hf_ring_area(piece) < DUST * to_mm.xx * to_mm.yy;
    for (guint k = 0; k < now->rings->len && !there; k++)
      there = hf_ring_holds(piece, hf_grid_point(hf_region_ring(now, k)->at[0]));
    if (!there)
      return FALSE;
  }
  return TRUE;
}

/* A letter, or a dot of it, that would be gone is refused: nothing is lost without a word. */
static gboolean
is_all_there(const HfLaying *laying, guint entry, const HfLetter *letter, double by, HfMatrix to_mm,
             GError **error)
{
  static const char *const fix = "make it less light, or the letters larger";
  if (letter->drawn == NULL || by >= 0)
    return TRUE;
  if (count_pieces(letter->outline) == 0)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                         "nothing is left of %s: its strokes are thinner than what is taken off",
                         letter->label);
  return has_every_piece(letter, to_mm) ||
         hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                       "a dot or stroke of %s would be gone: it is thinner than what is taken off",
                       letter->label);
}

gboolean
hf_wording_bolder(HfLaying *laying, guint entry, HfWording *wording, double by, double size,
                  double wide, GError **error)
{
  if (isnan(by) || by == 0)
    return TRUE;
  HfMatrix to_mm = hf_matrix_scale(size * wide, size);
  for (guint i = 0; i < wording->letters->len; i++) {
    HfLetter *letter = hf_wording_letter(wording, i);
    if (!hf_cancel_check(laying->cancel, error))
      return FALSE;
    if (letter->drawn == NULL)
      letter->drawn = g_steal_pointer(&letter->outline);
    g_clear_pointer(&letter->outline, hf_outline_free);
    if (letter->drawn != NULL)
      letter->outline = bolder_letter(wording, i, by, to_mm);
    if (!is_all_there(laying, entry, letter, by, to_mm, error))
      return FALSE;
  }
  for (guint l = 0; l < wording->lines->len; l++) {
    HfLetterLine *line = hf_wording_line(wording, l);
    line->ink = HF_BOX_EMPTY;
    for (guint i = 0; i < line->n; i++)
      ink_letter(hf_wording_letter(wording, line->first + i), line);
  }
  return TRUE;
}

/* What `letter height` measures, and the levels between which the words have their middle. */
static void
measure(HfWording *wording)
{
  double caps = wording->face != NULL ? hf_face_cap_height(wording->face) : 0;
  for (guint i = 0; i < wording->shaped->len; i++) {
    const HfLine *line = (const HfLine *)g_ptr_array_index(wording->shaped, i);
    wording->cap = MAX(wording->cap, line->cap_height);
  }
  const HfLetterLine *first = hf_wording_line(wording, 0);
  const HfLetterLine *last = hf_wording_line(wording, wording->lines->len - 1);
  gboolean by_capitals = caps > 0 && fabs(wording->cap - caps) < 1e-9;
  gboolean no_ink = hf_box_is_empty(first->ink) || hf_box_is_empty(last->ink);
  wording->top = by_capitals || no_ink ? wording->cap : first->ink.max.y;
  wording->foot = by_capitals || no_ink ? 0 : last->ink.min.y;
}

/* ---- names --------------------------------------------------------------------------------- */

static char *
quoted(const char *text)
{
  if (g_utf8_strlen(text, -1) <= LONGEST_QUOTE)
    return g_strdup_printf("\"%s\"", text);
  g_autofree char *start = g_utf8_substring(text, 0, LONGEST_QUOTE - 1);
  return g_strdup_printf("\"%s…\"", start);
}

/* Counted as one reads, which for Hebrew and Arabic is from the right. */
static char *
letter_label(const HfWording *wording, const HfLetterLine *line, const HfLetter *letter,
             const char *quote)
{
  guint same = 0, before = 0;
  for (guint i = 0; i < line->n; i++) {
    const HfLetter *other = hf_wording_letter(wording, line->first + i);
    if (strcmp(other->text, letter->text) != 0)
      continue;
    same++;
    before += other->cluster < letter->cluster;
  }
  if (same < 2)
    return g_strdup_printf("letter '%s' of %s", letter->text, quote);
  g_autofree char *which = hf_text_ordinal(before + 1);
  return g_strdup_printf("%s letter '%s' of %s", which, letter->text, quote);
}

static void
name_letters(HfWording *wording, guint line_index, const char *text)
{
  const HfLetterLine *line = hf_wording_line(wording, line_index);
  g_autofree char *quote = quoted(text);
  for (guint i = 0; i < line->n; i++) {
    HfLetter *letter = hf_wording_letter(wording, line->first + i);
    letter->label = letter_label(wording, line, letter, quote);
  }
}

/* ---- making -------------------------------------------------------------------------------- */

HfWording *
hf_wording_from_line(HfLine *line)
{
  HfWording *wording = wording_new(line->face);
  add_line(wording, line);
  measure(wording);
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < line->letters->len; i++)
    g_string_append(text, (const char *)g_ptr_array_index(line->letters, i));
  name_letters(wording, 0, text->str);
  return wording;
}

static void
note_face(HfLayout *layout, const HfFace *face)
{
  if (!g_ptr_array_find(layout->faces, face, NULL))
    g_ptr_array_add(layout->faces, (gpointer)face);
}

/* Letters that are pushed apart are not drawn as one (CSS Text 3, letter-spacing). */
static char *
wanted_features(const HfFontWish *font, gboolean spaced)
{
  if (!spaced)
    return g_strdup(font->features);
  if (font->features == NULL)
    return g_strdup("-liga,-clig");
  return g_strconcat("-liga,-clig,", font->features, NULL);
}

HfWording *
hf_wording_new(HfLaying *laying, guint entry, GPtrArray *lines, const HfFontWish *font,
               gboolean spaced, GError **error)
{
  g_autofree char *where = hf_lay_where(laying, entry);
  g_autofree char *at_font =
      font->mark.line > 0 ? hf_recipe_where(laying->recipe, font->mark) : g_strdup(where);
  g_autofree char *file = NULL;
  if (font->file != NULL && !hf_lay_find_file(laying, font->file, "font", at_font, &file, error))
    return NULL;
  HfFaceWanted wanted = {font->family, font->style, file, font->axes};
  const HfFace *face = hf_fonts_open(laying->fonts, &wanted, at_font, error);
  if (face == NULL)
    return NULL;
  g_autofree char *features = wanted_features(font, spaced);
  HfTypeOptions options = {features, font->language, (HfWay)font->way, 0};
  g_autoptr(HfWording) wording = wording_new(face);
  wording->cancel = laying->cancel;
  for (guint i = 0; i < lines->len; i++) {
    const char *text = (const char *)g_ptr_array_index(lines, i);
    HfLine *line = hf_type_line(laying->fonts, face, text, &options, where, error);
    if (line == NULL)
      return NULL;
    add_line(wording, line);
    name_letters(wording, i, text);
  }
  if (!hf_wording_has_ink(wording)) {
    hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "write what the sign is to say",
                  "the text is blank: nothing of it can be seen");
    return NULL;
  }
  measure(wording);
  note_face(laying->layout, face);
  return g_steal_pointer(&wording);
}
