/* SPDX-License-Identifier: GPL-3.0-or-later
 * symbols.c - which symbols the installed fonts have that may serve as ornaments: in words, and as
 * picture sheets.
 *
 *   DejaVu Sans  Book  2600 to 2613      one face of each family; a row is up to 20 symbols, its
 *   ☀ ☁ ☂ ☃ ☄ ★ ☆ ...                    name tells their code points
 *
 * Of a recipe's kind `words` such a symbol is a text of one character, `box` gives its size.
 */
#include "base/text.h"
#include "faces/faces-private.h"
#include <string.h>

enum { A_ROW = 20, MOST_A_FACE = 2000 };

/* Blocks of pictures and ornaments; The Unicode Standard 15.0, Blocks.txt. */
static const struct {
  gunichar first, last;
} blocks[] = {
    {0x2190, 0x21ff},                     /* Arrows */
    {0x25a0, 0x25cb},                     /* Geometric Shapes; 25CC only carries accents */
    {0x25cd, 0x25ff},   {0x2600, 0x26ff}, /* Miscellaneous Symbols */
    {0x2700, 0x27bf},                     /* Dingbats */
    {0x2b00, 0x2bff},                     /* Miscellaneous Symbols and Arrows */
    {0x1f300, 0x1f5ff},                   /* Miscellaneous Symbols and Pictographs */
    {0x1f650, 0x1f67f},                   /* Ornamental Dingbats */
    {0x1f680, 0x1f6ff},                   /* Transport and Map Symbols */
};

static gboolean
is_plain(const HfFontListed *face)
{
  static const char *const styles[] = {"Regular", "Book", "Roman", "Normal", "Medium"};
  for (gsize i = 0; i < G_N_ELEMENTS(styles); i++)
    if (strcmp(face->style, styles[i]) == 0)
      return TRUE;
  return FALSE;
}

/* Its plain style, else the first of the list. */
static const HfFontListed *
plainest(const GPtrArray *faces, const char *family)
{
  const HfFontListed *first = NULL;
  for (guint i = 0; i < faces->len; i++) {
    const HfFontListed *face = g_ptr_array_index(faces, i);
    if (strcmp(face->family, family) != 0)
      continue;
    if (is_plain(face))
      return face;
    if (first == NULL)
      first = face;
  }
  return first;
}

static GArray *
symbols_of(const HfFace *face)
{
  GArray *symbols = g_array_new(FALSE, FALSE, sizeof(gunichar));
  for (gsize b = 0; b < G_N_ELEMENTS(blocks); b++)
    for (gunichar c = blocks[b].first; c <= blocks[b].last && symbols->len < MOST_A_FACE; c++)
      if (g_unichar_isdefined(c) && hf_face_has(face, c))
        g_array_append_val(symbols, c);
  return symbols;
}

/* What the face draws with an outline; a colour font keeps pictures instead. */
static GArray *
drawn_symbols(HfFonts *fonts, const HfFace *face)
{
  GArray *symbols = symbols_of(face);
  for (guint i = symbols->len; i-- > 0;) {
    char text[7] = {0};
    g_unichar_to_utf8(g_array_index(symbols, gunichar, i), text);
    g_autoptr(HfLine) line = hf_type_line(fonts, face, text, NULL, NULL, NULL);
    if (line == NULL || hf_box_is_empty(line->ink))
      g_array_remove_index(symbols, i);
  }
  return symbols;
}

static char *
row_text(const GArray *symbols, guint first, guint n)
{
  GString *text = g_string_new(NULL);
  for (guint i = first; i < first + n; i++) {
    if (i > first)
      g_string_append_c(text, ' ');
    g_string_append_unichar(text, g_array_index(symbols, gunichar, i));
  }
  return g_string_free(text, FALSE);
}

static void
add_rows(HfFonts *fonts, const HfFace *face, const GArray *symbols, GArray *samples)
{
  for (guint i = 0; i < symbols->len; i += A_ROW) {
    guint n = MIN(A_ROW, symbols->len - i);
    g_autofree char *text = row_text(symbols, i, n);
    HfSample sample = {NULL, NULL, NULL};
    sample.name = g_strdup_printf("%s  %s  %04X to %04X", hf_face_family(face), hf_face_style(face),
                                  g_array_index(symbols, gunichar, i),
                                  g_array_index(symbols, gunichar, i + n - 1));
    sample.line = hf_type_line(fonts, face, text, NULL, NULL, NULL);
    g_array_append_val(samples, sample);
  }
}

static void
add_line(const HfFace *face, const GArray *symbols, GString *out)
{
  if (symbols->len == 0)
    return;
  g_autofree char *text = row_text(symbols, 0, symbols->len);
  g_string_append_printf(out, "%s (%u): %s\n", hf_face_family(face), symbols->len, text);
}

static gboolean
each_family(HfFonts *fonts, const GPtrArray *faces, GArray *samples, GString *out, HfFontsTold told,
            gpointer data, const HfCancel *cancel, GError **error)
{
  const char *before = NULL;
  for (guint i = 0; i < faces->len; i++) {
    const HfFontListed *listed = g_ptr_array_index(faces, i);
    if (before != NULL && strcmp(before, listed->family) == 0)
      continue;
    before = listed->family;
    if (!hf_cancel_check(cancel, error))
      return FALSE;
    if (told != NULL)
      told(i, faces->len, listed->family, data);
    const HfFace *face = hf_fonts_open_listed(fonts, plainest(faces, listed->family), NULL);
    if (face == NULL)
      continue;
    g_autoptr(GArray) symbols = drawn_symbols(fonts, face);
    if (samples != NULL)
      add_rows(fonts, face, symbols, samples);
    else
      add_line(face, symbols, out);
  }
  return TRUE;
}

char *
hf_fonts_symbols_report(HfFonts *fonts, const GPtrArray *faces, const HfCancel *cancel,
                        GError **error)
{
  GString *out = g_string_new(NULL);
  gboolean done = each_family(fonts, faces, NULL, out, NULL, NULL, cancel, error);
  if (done && out->len == 0)
    g_string_append(out, "none of these faces has symbols that could be ornaments\n");
  return g_string_free(out, !done);
}

guint
hf_fonts_symbols_picture(HfFonts *fonts, const GPtrArray *faces, const char *file, HfFontsTold told,
                         gpointer data, const HfCancel *cancel, GError **error)
{
  g_autoptr(GArray) samples = hf_sheet_rows();
  if (!each_family(fonts, faces, samples, NULL, told, data, cancel, error))
    return 0;
  if (samples->len == 0) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, "look at other faces, or install a symbol font",
                 "none of these faces has symbols that could be ornaments");
    return 0;
  }
  guint number = 0;
  for (guint i = 0; i < samples->len; i += HF_SHEET_ROWS)
    if (!hf_sheet_write(&g_array_index(samples, HfSample, i), MIN(HF_SHEET_ROWS, samples->len - i),
                        "Symbols", file, ++number, error))
      return 0;
  return number;
}
