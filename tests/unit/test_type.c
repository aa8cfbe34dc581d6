/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_type.c - fonts found or refused, texts shaped. Outlines and advances are held against
 * fontTools in tests/oracle/test_type.py; here are the rules that are ours, and the standards':
 * UAX 9 (bidirectional order), UAX 24 (scripts), CSS Text 3 (spacing and ligatures).
 */
#include "type/type.h"
#include <string.h>

#define INTER "/usr/share/fonts/truetype/inter-vf/Inter.var.ttf"

typedef struct {
  HfFonts *fonts;
  const HfFace *face;
  HfLine *line;
} Set;

static void
clear(Set *set)
{
  hf_line_free(set->line);
  hf_fonts_free(set->fonts);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Set, clear)

/* %FALSE, with a note in the log, where the font for a test is not installed. */
static gboolean
open_face(Set *set, const char *family, const char *style, const char *axes)
{
  g_autoptr(GError) error = NULL;
  set->fonts = hf_fonts_new();
  HfFaceWanted wanted = {family, style, NULL, axes};
  set->face = hf_fonts_open(set->fonts, &wanted, NULL, &error);
  if (set->face == NULL)
    g_test_skip(error->message);
  return set->face != NULL;
}

static const HfLine *
type(Set *set, const char *text, const HfTypeOptions *options)
{
  g_autoptr(GError) error = NULL;
  hf_line_free(set->line);
  set->line = hf_type_line(set->fonts, set->face, text, options, NULL, &error);
  g_assert_no_error(error);
  return set->line;
}

static const HfGlyph *
glyph(const HfLine *line, guint i)
{
  g_assert_cmpuint(i, <, line->glyphs->len);
  return &g_array_index(line->glyphs, HfGlyph, i);
}

static char *
letters(const HfLine *line)
{
  g_autoptr(GPtrArray) copy = g_ptr_array_new();
  for (guint i = 0; i < line->letters->len; i++)
    g_ptr_array_add(copy, g_ptr_array_index(line->letters, i));
  g_ptr_array_add(copy, NULL);
  return g_strjoinv("|", (char **)copy->pdata);
}

static void
test_kerning(void)
{
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "Bebas Neue", NULL, NULL))
    return;
  double pair = type(&set, "AV", NULL)->advance;
  HfTypeOptions off = {"-kern", NULL, HF_WAY_AUTO, 0};
  double apart = type(&set, "AV", &off)->advance;
  double a = type(&set, "A", NULL)->advance, v = type(&set, "V", NULL)->advance;
  g_assert_cmpfloat_with_epsilon(apart, a + v, 1e-12);
  g_assert_cmpfloat(pair, <, apart - 0.001);
  g_assert_cmpfloat_with_epsilon(set.line->cap_height, 0.7, 1e-6);
}

static void
test_ligature_is_one_letter(void)
{
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "DejaVu Sans", NULL, NULL))
    return;
  g_autofree char *joined = letters(type(&set, "fin", NULL));
  g_assert_cmpstr(joined, ==, "fi|n");
  g_assert_cmpuint(set.line->glyphs->len, ==, 2);
  HfTypeOptions off = {"-liga", NULL, HF_WAY_AUTO, 0};
  g_autofree char *apart = letters(type(&set, "fin", &off));
  g_assert_cmpstr(apart, ==, "f|i|n");
}

/* CSS Text 3, 8.2: no optional ligatures in spaced text; here the recipe may still ask for them. */
static void
test_spacing(void)
{
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "DejaVu Sans", NULL, NULL))
    return;
  HfTypeOptions none = {"-liga", NULL, HF_WAY_AUTO, 0};
  double plain = type(&set, "fine", &none)->advance;
  HfTypeOptions wide = {NULL, NULL, HF_WAY_AUTO, 0.25};
  const HfLine *line = type(&set, "fine", &wide);
  g_autofree char *apart = letters(line);
  g_assert_cmpstr(apart, ==, "f|i|n|e");
  g_assert_cmpfloat_with_epsilon(line->advance, plain + 4 * 0.25, 1e-9);
  HfTypeOptions asked = {"liga", NULL, HF_WAY_AUTO, 0.25};
  g_autofree char *joined = letters(type(&set, "fine", &asked));
  g_assert_cmpstr(joined, ==, "fi|n|e");
}

static void
test_marks_belong_to_their_base(void)
{
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "DejaVu Sans", NULL, NULL))
    return;
  /* q with a dot above has no single character: two glyphs, one letter. */
  const HfLine *line = type(&set, "aq\u0307b", NULL);
  g_autofree char *text = letters(line);
  g_assert_cmpstr(text, ==, "a|q\u0307|b");
  g_assert_cmpuint(line->glyphs->len, ==, 4);
  g_assert_cmpuint(glyph(line, 1)->letter, ==, glyph(line, 2)->letter);
  g_assert_cmpuint(glyph(line, 3)->letter, ==, 2);
  const HfLine *accent = type(&set, "E\u0301", NULL);
  g_assert_cmpuint(accent->letters->len, ==, 1);
}

/* UAX 9: in a Hebrew line numbers and Latin words keep their own direction. */
static void
test_mixed_direction(void)
{
  static const struct {
    const char *text;
    HfWay way;
    const char *letters;
  } cases[] = {
      {"שלום 12", HF_WAY_AUTO, "1|2| |ם|ו|ל|ש"},          {"AB שלום", HF_WAY_AUTO, "A|B| |ם|ו|ל|ש"},
      {"AB שלום", HF_WAY_RIGHT_TO_LEFT, "ם|ו|ל|ש| |A|B"}, {"שלום AB", HF_WAY_AUTO, "A|B| |ם|ו|ל|ש"},
      {"שלום AB", HF_WAY_LEFT_TO_RIGHT, "ם|ו|ל|ש| |A|B"}, {"12", HF_WAY_RIGHT_TO_LEFT, "1|2"},
      {"של (AB)", HF_WAY_AUTO, ")|A|B|(| |ל|ש"},
  };
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "DejaVu Sans", NULL, NULL))
    return;
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    HfTypeOptions how = {NULL, NULL, cases[i].way, 0};
    g_autofree char *text = letters(type(&set, cases[i].text, &how));
    g_assert_cmpstr(text, ==, cases[i].letters);
  }
}

/* Joined letters lie one on the other, and spacing must not tear them apart. */
static void
test_arabic_joins(void)
{
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "Amiri", NULL, NULL))
    return;
  const HfLine *line = type(&set, "سلام", NULL); /* seen, lam, alef; meem stands apart */
  double plain = line->advance, ink = hf_box_height(line->ink);
  g_assert_cmpfloat_with_epsilon(line->cap_height, ink, 1e-12);
  g_autofree char *text = letters(line);
  g_assert_cmpstr(text, ==, "م|ا|ل|س");
  const gboolean joined[] = {FALSE, TRUE, TRUE, FALSE};
  g_assert_cmpuint(line->joined->len, ==, 4);
  for (guint i = 0; i < 4; i++)
    g_assert_cmpint(g_array_index(line->joined, gboolean, i), ==, joined[i]);
  double alone = type(&set, "س", NULL)->advance;
  HfTypeOptions wide = {NULL, NULL, HF_WAY_AUTO, 0.5};
  line = type(&set, "سلام", &wide);
  g_assert_cmpfloat_with_epsilon(line->advance, plain + 2 * 0.5, 1e-9);
  g_assert_cmpfloat(glyph(line, 3)->advance - 0.5, <, alone - 0.01); /* the form that joins */
  /* A non-joiner (U+200C) breaks the join, and draws nothing. */
  line = type(&set, "سل\u200cام", &wide);
  g_assert_cmpuint(line->glyphs->len, ==, 4);
  g_assert_false(g_array_index(line->joined, gboolean, 1));
}

static void
test_many_strokes(void)
{
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "IPAゴシック", NULL, NULL)) /* its Japanese name */
    return;
  const HfLine *line = type(&set, "海辺の陶器", NULL);
  g_assert_cmpuint(line->letters->len, ==, 5);
  g_assert_cmpfloat_with_epsilon(line->advance, 5, 1e-9);
  g_assert_cmpfloat_with_epsilon(line->cap_height, hf_box_height(line->ink), 1e-12);
  g_assert_cmpuint(hf_outline_n_contours(glyph(line, 0)->outline), >, 5);
  g_assert_cmpfloat(type(&set, "12", NULL)->cap_height, ==, hf_face_cap_height(set.face));
}

static void
test_variable(void)
{
  g_auto(Set) thin = {NULL}, bold = {NULL}, named = {NULL}, regular = {NULL};
  if (!open_face(&thin, "Inter", NULL, "wght=100") || !open_face(&bold, "Inter", NULL, "wght=700"))
    return;
  g_assert_true(open_face(&named, "Inter", "Bold", NULL));
  g_assert_true(open_face(&regular, "Inter", NULL, NULL));
  double at_100 = type(&thin, "Mo", NULL)->advance, at_700 = type(&bold, "Mo", NULL)->advance;
  g_assert_cmpfloat(at_100, <, at_700 - 0.01);
  g_assert_cmpfloat_with_epsilon(type(&named, "Mo", NULL)->advance, at_700, 1e-9);
  g_assert_cmpstr(hf_face_style(named.face), ==, "Bold");
  double at_400 = type(&regular, "Mo", NULL)->advance;
  g_assert_cmpfloat(at_400, >, at_100);
  g_assert_cmpfloat(at_400, <, at_700);
}

static void
test_closed_contours(void)
{
  static const char *const families[] = {"Bebas Neue", "Lobster Two", "DejaVu Sans", "Amiri"};
  for (gsize f = 0; f < G_N_ELEMENTS(families); f++) {
    g_auto(Set) set = {NULL};
    if (!open_face(&set, families[f], NULL, NULL))
      return;
    const HfLine *line = type(&set, "BOAT yard & Pottery 0123456789", NULL);
    for (guint i = 0; i < line->glyphs->len; i++) {
      const HfOutline *outline = glyph(line, i)->outline;
      for (guint c = 0; c < hf_outline_n_contours(outline); c++) {
        guint n = 0;
        const HfCurve *curves = hf_outline_contour(outline, c, &n);
        g_assert_cmpuint(n, >=, 2);
        for (guint k = 0; k < n; k++) {
          HfPoint end = curves[k].p1, next = curves[(k + 1) % n].p0;
          g_assert_cmpfloat(end.x, ==, next.x);
          g_assert_cmpfloat(end.y, ==, next.y);
          g_assert_true(curves[k].kind == HF_CURVE_LINE || curves[k].kind == HF_CURVE_CUBIC);
        }
      }
    }
  }
}

static void
test_empty_text(void)
{
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "Bebas Neue", NULL, NULL))
    return;
  const HfLine *line = type(&set, "", NULL);
  g_assert_cmpuint(line->glyphs->len, ==, 0);
  g_assert_cmpfloat(line->advance, ==, 0);
  g_assert_true(hf_box_is_empty(line->ink));
  line = type(&set, "  ", NULL);
  g_assert_cmpuint(line->letters->len, ==, 2);
  g_assert_true(hf_box_is_empty(line->ink));
}

/* What is refused, and that the message says what was found and what would be right. */
static void
test_refused_fonts(void)
{
  static const struct {
    HfFaceWanted wanted;
    HfErrorKind kind;
    const char *what, *fix;
  } cases[] = {
      {{"Lobster"}, HF_ERROR_NOT_FOUND, "the font \"Lobster\" is not installed", "\"Lobster Two\""},
      {{"Bebas Nue"}, HF_ERROR_NOT_FOUND, "is not installed", "nearest installed: \"Bebas Neue\""},
      {{"Lobster Two Bold Italic"},
       HF_ERROR_NOT_FOUND,
       "is not installed",
       "write {family: Lobster Two, style: Bold Italic}"},
      {{"Sans"}, HF_ERROR_NOT_FOUND, "is not installed", "\"DejaVu Sans\""}, /* an alias */
      {{"Bebas Neue", "Black"}, HF_ERROR_NOT_FOUND, "has no style \"Black\"", "\"Bold\""},
      {{"Bebas Neue Bold", "Thin"}, HF_ERROR_NOT_FOUND, "has no style \"Thin\"", "\"Regular\""},
      {{"Bebas Neue", NULL, NULL, "wght=500"}, HF_ERROR_BAD_VALUE, "is not variable", "leave"},
      {{"Inter", NULL, NULL, "wght=1200"}, HF_ERROR_BAD_VALUE, "not reach 1200", "100 to 900"},
      {{"Inter", NULL, NULL, "wdth=80"}, HF_ERROR_BAD_VALUE, "no axis \"wdth\"", "it has wght"},
      {{"Inter", NULL, NULL, "wght"}, HF_ERROR_BAD_VALUE, "\"wght\" is not", "wght=650"},
      {{"Inter", NULL, NULL, "wght=nan"}, HF_ERROR_BAD_VALUE, "is not", "wght=650"},
      {{"Inter", NULL, NULL, "wght=400,wght=500"}, HF_ERROR_BAD_VALUE, "twice", "keep one"},
      {{NULL, NULL, "/nowhere/at-all.ttf"}, HF_ERROR_NOT_FOUND, "/nowhere/at-all.ttf", "path"},
      {{NULL, NULL, "/etc/passwd"}, HF_ERROR_BAD_FONT, "is not a font file", ".otf"},
      {{NULL, "Heavy", INTER}, HF_ERROR_NOT_FOUND, "no style \"Heavy\"", "\"Regular\""},
  };
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(GPtrArray) listed = hf_fonts_list(fonts);
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(GError) error = NULL;
    g_assert_null(hf_fonts_open(fonts, &cases[i].wanted, "boats.yaml:4:9", &error));
    gboolean inter = g_strcmp0(cases[i].wanted.family, "Inter") == 0 ||
                     g_strcmp0(cases[i].wanted.file, INTER) == 0;
    if (inter && !g_file_test(INTER, G_FILE_TEST_EXISTS))
      continue;
    g_test_message("%s", error->message);
    g_assert_error(error, HF_ERROR, (int)cases[i].kind);
    g_assert_true(g_str_has_prefix(error->message, "boats.yaml:4:9: "));
    g_assert_nonnull(strstr(error->message, cases[i].what));
    g_assert_nonnull(strstr(hf_error_fix(error), cases[i].fix));
  }
}

static void
test_refused_texts(void)
{
  static const struct {
    const char *text, *features, *language;
    HfErrorKind kind;
    const char *where, *what, *fix;
  } cases[] = {
      {"Caf\u2603", NULL, NULL, HF_ERROR_NOT_FOUND, "a.yaml:1:2: 4th character of \"Caf\u2603\"",
       "has no character '\u2603' (U+2603)", "\"DejaVu Sans\""},
      {"Boat שלום", NULL, NULL, HF_ERROR_NOT_FOUND, "6th character", "(U+05E9)", "\"DejaVu Sans\""},
      {"Bo\tat", NULL, NULL, HF_ERROR_BAD_VALUE, "3rd character", "a tab", "leave it out"},
      {"Bo\nat", NULL, NULL, HF_ERROR_BAD_VALUE, "3rd character", "a line break", "leave it out"},
      {"Boat", "ss77", NULL, HF_ERROR_BAD_VALUE, "a.yaml:1:2", "no feature \"ss77\"", "kern"},
      {"Boat", "on please", NULL, HF_ERROR_BAD_VALUE, "a.yaml:1:2", "\"on please\"", "ss01"},
      {"Boat", NULL, "no such!", HF_ERROR_BAD_VALUE, "a.yaml:1:2", "\"no such!\"", "de-AT"},
      {"\U000F0000", NULL, NULL, HF_ERROR_NOT_FOUND, "1st", "(U+F0000)", "no installed font"},
  };
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "Bebas Neue", NULL, NULL))
    return;
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(GError) error = NULL;
    HfTypeOptions how = {cases[i].features, cases[i].language, HF_WAY_AUTO, 0};
    g_assert_null(hf_type_line(set.fonts, set.face, cases[i].text, &how, "a.yaml:1:2", &error));
    g_test_message("%s", error->message);
    g_assert_error(error, HF_ERROR, (int)cases[i].kind);
    g_assert_nonnull(strstr(hf_error_where(error), cases[i].where));
    g_assert_nonnull(strstr(error->message, cases[i].what));
    g_assert_nonnull(strstr(hf_error_fix(error), cases[i].fix));
  }
  g_autofree char *long_text = g_strnfill(2001, 'x');
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_type_line(set.fonts, set.face, long_text, NULL, NULL, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_TOO_BIG);
}

/* "Bebas Neue Bold" calls itself "Regular" too, in its second pair of names. */
static void
test_never_another_style(void)
{
  static const struct {
    const char *family, *style, *file;
  } cases[] = {
      {"Bebas Neue", NULL, "BebasNeue-Regular.otf"},
      {"Bebas Neue", "Regular", "BebasNeue-Regular.otf"},
      {"BEBAS neue", "bold", "BebasNeue-Bold.otf"},
      {"Bebas Neue Bold", NULL, "BebasNeue-Bold.otf"},
      {"DejaVu Sans", NULL, "DejaVuSans.ttf"}, /* has no Regular; Book is the plainest */
      {"DejaVu Sans", "Condensed Bold", "DejaVuSansCondensed-Bold.ttf"},
      {"DejaVu Sans Condensed", "Bold", "DejaVuSansCondensed-Bold.ttf"},
      {"מרים", "כבד", "MiriamCLM-Bold.ttf"},
  };
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(GError) error = NULL;
    HfFaceWanted wanted = {cases[i].family, cases[i].style, NULL, NULL};
    const HfFace *face = hf_fonts_open(fonts, &wanted, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(g_str_has_suffix(hf_face_file(face), cases[i].file));
    g_assert_true(hf_fonts_open(fonts, &wanted, NULL, NULL) == face);
    g_assert_cmpuint(strlen(hf_face_digest(face)), ==, 64);
  }
}

static void
test_list(void)
{
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(GPtrArray) list = hf_fonts_list(fonts);
  g_assert_cmpuint(list->len, >, 10);
  for (guint i = 0; i < list->len; i++) {
    const HfFontListed *one = g_ptr_array_index(list, i);
    HfFaceWanted wanted = {one->family, one->style, NULL, NULL};
    g_autoptr(GError) error = NULL;
    const HfFace *face = hf_fonts_open(fonts, &wanted, NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpstr(hf_face_file(face), ==, one->file);
  }
}

static gpointer
set_in_a_thread(gpointer data)
{
  (void)data;
  g_auto(Set) set = {NULL};
  if (!open_face(&set, "Amiri", NULL, NULL))
    return NULL;
  GString *sum = g_string_new(NULL);
  for (guint round = 0; round < 50; round++) {
    const HfLine *line = type(&set, "سلام Boat", NULL);
    for (guint i = 0; i < line->glyphs->len; i++)
      g_string_append_printf(sum, "%.9f;", hf_outline_area(glyph(line, i)->outline));
  }
  return g_string_free(sum, FALSE);
}

/* One HfFonts to a thread, all at once, each starting Fontconfig. */
static void
test_threads(void)
{
  GThread *threads[8];
  for (gsize i = 0; i < G_N_ELEMENTS(threads); i++)
    threads[i] = g_thread_new("type", set_in_a_thread, NULL);
  g_autofree char *first = NULL;
  for (gsize i = 0; i < G_N_ELEMENTS(threads); i++) {
    char *sum = g_thread_join(threads[i]);
    if (i == 0) {
      first = sum;
      continue;
    }
    g_assert_cmpstr(sum, ==, first);
    g_free(sum);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/type/threads", test_threads);
  g_test_add_func("/type/kerning", test_kerning);
  g_test_add_func("/type/ligature-is-one-letter", test_ligature_is_one_letter);
  g_test_add_func("/type/spacing", test_spacing);
  g_test_add_func("/type/marks-belong-to-their-base", test_marks_belong_to_their_base);
  g_test_add_func("/type/mixed-direction", test_mixed_direction);
  g_test_add_func("/type/arabic-joins", test_arabic_joins);
  g_test_add_func("/type/many-strokes", test_many_strokes);
  g_test_add_func("/type/variable", test_variable);
  g_test_add_func("/type/closed-contours", test_closed_contours);
  g_test_add_func("/type/empty-text", test_empty_text);
  g_test_add_func("/type/refused-fonts", test_refused_fonts);
  g_test_add_func("/type/refused-texts", test_refused_texts);
  g_test_add_func("/type/never-another-style", test_never_another_style);
  g_test_add_func("/type/list", test_list);
  return g_test_run();
}
