/* SPDX-License-Identifier: GPL-3.0-or-later
 * line.c - a line of text into placed glyphs, letter by letter.
 *
 *      origin            letter 0   letter 1 (base and accent share it)
 *      |-- advance ----|-- advance --|
 *      A               E'
 *
 * Spacing is added behind each letter, but never between two that the writing joins (Arabic and
 * its like): that would tear the stroke apart.
 */
#include "base/alike.h"
#include "base/text.h"
#include "type/type-private.h"
#include <string.h>

/* Where a line is while it is being made. */
typedef struct {
  const HfFace *face;
  const char *text, *where;
  const HfItems *items;
  double spacing;
  HfLine *line;
  double pen_x;
  guint lacking; /* byte of the first character without a glyph; G_MAXUINT: none */
  guint blank;   /* byte of the first visible letter without an outline; G_MAXUINT: none */
} HfSetter;

static void
glyph_range(hb_glyph_info_t *infos, guint n, guint first, guint *ret_end)
{
  guint end = first + 1;
  while (end < n && infos[end].cluster == infos[first].cluster)
    end++;
  *ret_end = end;
}

/* Not space, not control, not a format character, and not one of the few that are drawn blank. */
static gboolean
is_visible(gunichar c)
{
  static const gunichar blank[] = {0x034f, 0x115f, 0x1160, 0x17b4, 0x17b5,
                                   0x2800, 0x3164, 0xffa0, 0x1d159};
  for (gsize i = 0; i < G_N_ELEMENTS(blank); i++)
    if (blank[i] == c)
      return FALSE;
  if ((c >= 0xfe00 && c <= 0xfe0f) || (c >= 0x180b && c <= 0x180f) ||
      (c >= 0xe0100 && c <= 0xe01ef)) /* variation selectors */
    return FALSE;
  switch (g_unichar_type(c)) {
  case G_UNICODE_CONTROL:
  case G_UNICODE_FORMAT:
  case G_UNICODE_UNASSIGNED:
  case G_UNICODE_SURROGATE:
  case G_UNICODE_LINE_SEPARATOR:
  case G_UNICODE_PARAGRAPH_SEPARATOR:
  case G_UNICODE_SPACE_SEPARATOR:
    return FALSE;
  default:
    return TRUE;
  }
}

static gboolean
shows_something(const char *from, const char *end)
{
  for (; from < end; from = g_utf8_next_char(from))
    if (is_visible(g_utf8_get_char(from)))
      return TRUE;
  return FALSE;
}

/* Adds the glyphs of one letter; %FALSE with the error for a glyph that can't be used. */
static gboolean
add_letter(HfSetter *set, const hb_glyph_info_t *infos, const hb_glyph_position_t *places, guint n,
           guint start, guint end, GError **error)
{
  guint letter = set->line->letters->len;
  gboolean inked = FALSE;
  double em = set->face->em;
  for (guint i = 0; i < n; i++) {
    const HfGlyphShape *shape = hf_face_shape(set->face, infos[i].codepoint, set->where, error);
    if (shape == NULL)
      return FALSE;
    HfPoint at = {set->pen_x + places[i].x_offset / em, places[i].y_offset / em};
    HfGlyph glyph = {shape->outline, at, places[i].x_advance / em, start, letter, HF_BOX_EMPTY};
    if (!hf_box_is_empty(shape->ink)) {
      glyph.ink = (HfBox){hf_point_add(shape->ink.min, at), hf_point_add(shape->ink.max, at)};
      set->line->ink = hf_box_union(set->line->ink, glyph.ink);
      inked = TRUE;
    }
    if (infos[i].codepoint == 0)
      set->lacking = MIN(set->lacking, start);
    set->pen_x += glyph.advance;
    g_array_append_val(set->line->glyphs, glyph);
  }
  if (!inked && shows_something(set->text + start, set->text + end))
    set->blank = MIN(set->blank, start);
  g_ptr_array_add(set->line->letters, g_strndup(set->text + start, end - start));
  return TRUE;
}

/* @left and @right: bytes where two neighbouring letters of one piece begin. */
static void
add_spacing(HfSetter *set, const HfPiece *piece, guint left, guint right)
{
  guint later = piece->right_to_left ? left : right;
  gboolean joined = right != G_MAXUINT && set->items->joined[hf_items_at(set->items, later)];
  g_array_append_val(set->line->joined, joined);
  if (joined)
    return;
  HfGlyph *last = &g_array_index(set->line->glyphs, HfGlyph, set->line->glyphs->len - 1);
  last->advance += set->spacing;
  set->pen_x += set->spacing;
}

static gboolean
is_sane(const HfFace *face, const hb_glyph_position_t *place)
{
  double most = HF_GLYPH_MAX_EMS * face->em;
  return fabs((double)place->x_advance) <= most && fabs((double)place->x_offset) <= most &&
         fabs((double)place->y_offset) <= most && fabs((double)place->y_advance) <= most;
}

static gboolean
set_bad_font(const HfSetter *set, GError **error)
{
  g_autofree char *label = hf_face_label(set->face);
  hf_error_set(error, HF_ERROR_BAD_FONT, set->where, "choose another font",
               "the font %s (%s) places its letters in a way that can't be used", label,
               set->face->file);
  return FALSE;
}

/* Letters of one shaped piece, from left to right. */
static gboolean
add_piece(HfSetter *set, const HfPiece *piece, hb_buffer_t *buffer, GError **error)
{
  guint n = 0;
  hb_glyph_info_t *infos = hb_buffer_get_glyph_infos(buffer, &n);
  hb_glyph_position_t *places = hb_buffer_get_glyph_positions(buffer, &n);
  if (set->line->glyphs->len + n > HF_LINE_MAX_GLYPHS)
    return set_bad_font(set, error);
  guint behind = piece->start + piece->length; /* right to left: where the last letter began */
  for (guint i = 0, end; i < n; i = end) {
    glyph_range(infos, n, i, &end);
    for (guint k = i; k < end; k++)
      if (!is_sane(set->face, &places[k]))
        return set_bad_font(set, error);
    guint start = infos[i].cluster, next = end < n ? infos[end].cluster : G_MAXUINT;
    guint stop = piece->right_to_left ? behind : MIN(next, piece->start + piece->length);
    if (start < piece->start || start >= stop)
      return set_bad_font(set, error);
    if (!add_letter(set, infos + i, places + i, end - i, start, stop, error))
      return FALSE;
    add_spacing(set, piece, start, next);
    behind = start;
  }
  return TRUE;
}

static gboolean
shape_piece(HfSetter *set, const HfPiece *piece, hb_buffer_t *buffer, hb_language_t language,
            const GArray *features, GError **error)
{
  gsize length = strlen(set->text);
  hb_buffer_clear_contents(buffer);
  guint flags = HB_BUFFER_FLAG_REMOVE_DEFAULT_IGNORABLES;
  if (piece->start == 0)
    flags |= HB_BUFFER_FLAG_BOT;
  if (piece->start + piece->length == length)
    flags |= HB_BUFFER_FLAG_EOT;
  hb_buffer_set_flags(buffer, (hb_buffer_flags_t)flags);
  hb_buffer_set_direction(buffer, piece->right_to_left ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
  hb_buffer_set_script(buffer, piece->script);
  hb_buffer_set_language(buffer, language);
  /* The whole text as context: letters join across pieces. */
  hb_buffer_add_utf8(buffer, set->text, (int)length, piece->start, (int)piece->length);
  /* Only the OpenType shaper: which others there are depends on how HarfBuzz was built. */
  static const char *const shapers[] = {"ot", NULL};
  if (!hb_shape_full(set->face->font, buffer, (const hb_feature_t *)(const void *)features->data,
                     features->len, shapers) ||
      !hb_buffer_allocation_successful(buffer))
    return set_bad_font(set, error);
  return add_piece(set, piece, buffer, error);
}

/* 'e' (U+0065); the mark alone where a character can't be shown */
static char *
character_text(gunichar c)
{
  char utf8[7] = {0};
  g_unichar_to_utf8(c, utf8);
  if (!is_visible(c))
    return g_strdup_printf("U+%04X", c);
  const char *under = g_unichar_ismark(c) ? "\u25cc" : "";
  return g_strdup_printf("'%s%s' (U+%04X)", under, utf8, c);
}

static char *
place_text(const HfSetter *set, guint character)
{
  enum { SHOWN = 40 };
  g_autofree char *which = hf_text_ordinal(character + 1);
  g_autofree char *begin = g_utf8_substring(set->text, 0, MIN(set->items->n, SHOWN));
  for (char *at = begin; *at != '\0'; at++)
    if (g_ascii_iscntrl(*at))
      *at = ' ';
  g_autofree char *place =
      g_strdup_printf("%s character of \"%s%s\"", which, begin, set->items->n > SHOWN ? "..." : "");
  return set->where != NULL ? g_strconcat(set->where, ": ", place, NULL) : g_steal_pointer(&place);
}

/* Which character of the letter that begins at byte @start the face lacks. */
static guint
which_lacks(const HfSetter *set, guint start)
{
  guint first = hf_items_at(set->items, start);
  for (guint i = first; i < set->items->n; i++) {
    gunichar c = set->items->characters[i];
    if (is_visible(c) && !hf_face_has(set->face, c))
      return i;
    if (i > first && !g_unichar_ismark(c))
      break;
  }
  return first;
}

static void
set_lacking(HfFonts *fonts, const HfSetter *set, guint character, const char *what, GError **error)
{
  gunichar c = set->items->characters[character];
  g_autofree char *where = place_text(set, character), *name = character_text(c);
  g_autofree char *label = hf_face_label(set->face);
  g_autofree char *others = hf_installed_covering(fonts, c, set->text);
  g_autofree char *fix = others != NULL
                             ? g_strdup_printf("installed fonts that have it: %s", others)
                             : g_strdup("no installed font has it; leave it out or install one");
  const char *alphabet = NULL;
  char plain = hf_alike_of(c, &alphabet);
  g_autofree char *odd =
      plain != 0 ? g_strdup_printf(", which is %s and only looks like %c", alphabet, plain)
                 : g_strdup("");
  hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "the font %s has no %s %s%s", label, what,
               name, odd);
}

/* Line breaks and other controls have no place in one line of a sign. */
static gboolean
check_text(const HfSetter *set, GError **error)
{
  if (set->items->n > HF_LINE_MAX_CHARACTERS) {
    hf_error_set(error, HF_ERROR_TOO_BIG, set->where, "make it shorter",
                 "a text of %u characters; at most %d are set", set->items->n,
                 HF_LINE_MAX_CHARACTERS);
    return FALSE;
  }
  for (guint i = 0; i < set->items->n; i++) {
    gunichar c = set->items->characters[i];
    if (!g_unichar_iscntrl(c) && c != 0x2028 && c != 0x2029)
      continue;
    g_autofree char *where = place_text(set, i);
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "leave it out",
                 "%s (U+%04X) can't stand in a line of a sign",
                 c == '\t'                ? "a tab"
                 : c == '\n' || c == '\r' ? "a line break"
                                          : "a control character",
                 c);
    return FALSE;
  }
  return TRUE;
}

gboolean
hf_type_is_language(const char *text)
{
  gboolean good = strlen(text) <= 35 && g_ascii_isalpha(*text);
  for (const char *at = text; *at != '\0'; at++)
    good = good && (g_ascii_isalnum(*at) || *at == '-');
  return good;
}

static gboolean
read_language(const char *text, const char *where, hb_language_t *language, GError **error)
{
  *language = HB_LANGUAGE_INVALID; /* never the user's locale */
  if (text == NULL || *text == '\0')
    return TRUE;
  if (!hf_type_is_language(text)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "write it as " HF_TYPE_LANGUAGES,
                 "\"%.40s\" is not the name of a language", text);
    return FALSE;
  }
  *language = hb_language_from_string(text, -1);
  return TRUE;
}

static gboolean
set_pieces(HfSetter *set, hb_language_t language, const GArray *features, GError **error)
{
  hb_buffer_t *buffer = hb_buffer_create();
  gboolean good = TRUE;
  for (guint i = 0; good && i < set->items->pieces->len; i++)
    good = shape_piece(set, &g_array_index(set->items->pieces, HfPiece, i), buffer, language,
                       features, error);
  hb_buffer_destroy(buffer);
  return good;
}

static HfLine *
line_new(const HfFace *face)
{
  HfLine *line = g_new0(HfLine, 1);
  line->face = face;
  line->glyphs = g_array_new(FALSE, FALSE, sizeof(HfGlyph));
  line->letters = g_ptr_array_new_with_free_func(g_free);
  line->joined = g_array_new(FALSE, FALSE, sizeof(gboolean));
  line->ink = HF_BOX_EMPTY;
  return line;
}

HfLine *
hf_type_line(HfFonts *fonts, const HfFace *face, const char *text, const HfTypeOptions *options,
             const char *where, GError **error)
{
  g_return_val_if_fail(face != NULL && text != NULL && g_utf8_validate(text, -1, NULL), NULL);
  static const HfTypeOptions plain = {NULL, NULL, HF_WAY_AUTO, 0};
  if (options == NULL)
    options = &plain;
  g_return_val_if_fail(isfinite(options->spacing), NULL);
  g_autoptr(HfItems) items = hf_itemise(text, options->way);
  g_autoptr(HfLine) line = line_new(face);
  HfSetter set = {face, text, where, items, options->spacing, line, 0, G_MAXUINT, G_MAXUINT};
  hb_language_t language;
  if (!check_text(&set, error) || !read_language(options->language, where, &language, error))
    return NULL;
  g_autoptr(GArray) features =
      hf_features_parse(face, options->features, options->spacing != 0, where, error);
  if (features == NULL || !set_pieces(&set, language, features, error))
    return NULL;
  if (set.lacking != G_MAXUINT) {
    set_lacking(fonts, &set, which_lacks(&set, set.lacking), "character", error);
    return NULL;
  }
  if (set.blank != G_MAXUINT) {
    set_lacking(fonts, &set, hf_items_at(items, set.blank), "outline for", error);
    return NULL;
  }
  line->advance = set.pen_x;
  double ink = hf_box_height(line->ink);
  line->cap_height = items->capitals && face->cap_height > 0 ? face->cap_height : ink;
  return g_steal_pointer(&line);
}

void
hf_line_free(HfLine *line)
{
  if (line == NULL)
    return;
  g_array_unref(line->glyphs);
  g_ptr_array_unref(line->letters);
  g_array_unref(line->joined);
  g_free(line);
}
