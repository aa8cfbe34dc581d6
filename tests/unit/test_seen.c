/* SPDX-License-Identifier: GPL-3.0-or-later
 * Text from others: nothing that a terminal obeys, nothing that turns its neighbours, no page of
 * it. Sources: ECMA-48 (control characters), Unicode PropList.txt (Bidi_Control).
 */
#include "base/alike.h"
#include "base/error.h"
#include "base/seen.h"
#include <string.h>

static const struct {
  const char *text, *seen, *lines; /* lines: NULL: the same */
} rows[] = {
    {"HARBOUR", "HARBOUR", NULL},
    {"Bäckerei 港 \xf0\x9f\x9a\xa2", "Bäckerei 港 \xf0\x9f\x9a\xa2", NULL},
    {"\033[2Jharbour: whole", "<U+001B>[2Jharbour: whole", NULL},
    {"\302\2332J", "<U+009B>2J", NULL}, /* the same in one character */
    {"a\rb\bc\007", "a<U+000D>b<U+0008>c<U+0007>", NULL},
    {"a\nb", "a<U+000A>b", "a\nb"},
    {"a\tb", "a b", NULL},
    {"\u202egnp.exe", "<U+202E>gnp.exe", NULL},
    {"\u2066x\u2069\u200f\u061c", "<U+2066>x<U+2069><U+200F><U+061C>", NULL},
    {"a\u2028b\u2029", "a<U+2028>b<U+2029>", NULL},
    {"\xff\xfe caf\xe9", "<FF><FE> caf<E9>", NULL},
    {"\xe2\x80", "<E2><80>", NULL}, /* cut off within a character */
    {"", "", NULL},
};

static void
test_seen(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autofree char *seen = hf_seen(rows[i].text, FALSE), *lines = hf_seen(rows[i].text, TRUE);
    g_assert_cmpstr(seen, ==, rows[i].seen);
    g_assert_cmpstr(lines, ==, rows[i].lines != NULL ? rows[i].lines : rows[i].seen);
    g_autofree char *again = hf_seen(seen, FALSE);
    g_assert_cmpstr(again, ==, seen);
  }
  g_assert_null(hf_seen(NULL, FALSE));
}

/* Random bytes: UTF-8 comes out, with no control character in it. */
static void
test_any_bytes(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(20261129);
  for (guint i = 0; i < 20000; i++) {
    char text[40];
    gsize length = (gsize)g_rand_int_range(rand, 0, sizeof text);
    for (gsize k = 0; k < length; k++)
      text[k] = (char)g_rand_int_range(rand, 1, 256);
    text[length] = '\0';
    g_autofree char *seen = hf_seen_message(text, FALSE);
    g_assert_true(g_utf8_validate(seen, -1, NULL));
    for (const char *at = seen; *at != '\0'; at = g_utf8_next_char(at))
      g_assert_false(g_unichar_iscntrl(g_utf8_get_char(at)));
  }
}

static void
test_cut(void)
{
  g_autoptr(GString) value = g_string_new(NULL), all = g_string_new("\"");
  for (guint i = 0; i < 5000; i++)
    g_string_append(value, "é");
  g_string_append_printf(all, "%s\" is not a length; write \"3 mm\"", value->str);
  g_autofree char *seen = hf_seen_message(all->str, FALSE);
  g_assert_cmpint(g_utf8_strlen(seen, -1), ==,
                  HF_SEEN_QUOTED + 3 + (glong)strlen(" is not a length; write \"3 mm\""));
  g_assert_true(g_str_has_suffix(seen, "é…\" is not a length; write \"3 mm\""));
  g_autofree char *tail = g_strnfill(300, ' ');
  g_autofree char *inches = g_strconcat("plate \"12\" sign\": ", tail, NULL);
  g_autofree char *whole = hf_seen_message(inches, FALSE); /* the mark of inches opens nothing */
  g_assert_cmpstr(whole, ==, inches);
  g_autofree char *full = hf_seen(all->str, FALSE); /* not a message: nothing is cut */
  g_assert_cmpstr(full, ==, all->str);
  g_autofree char *long_word = g_strnfill(5000, 'x'), *word = hf_seen_message(long_word, FALSE);
  g_assert_cmpint(g_utf8_strlen(word, -1), ==, HF_SEEN_QUOTED + 1);
  g_autofree char *much = g_strnfill(100000, 'x');
  for (guint i = 0; i < 100000; i += 2)
    much[i] = ' ';
  g_autofree char *short_of_it = hf_seen_message(much, FALSE);
  g_assert_cmpint(g_utf8_strlen(short_of_it, -1), ==, HF_SEEN_MESSAGE + 1);
}

/* A path is shown whole, as it has to be found; a name that no disk can have (NAME_MAX of
 * POSIX.1-2017, limits.h) is an echo of whatever was typed. */
static void
test_places(void)
{
  g_assert_null(hf_seen_place(NULL));
  for (guint n = 250; n <= 5000; n += n < 260 ? 1 : 79) {
    g_autofree char *name = g_strnfill(n, 'A'), *path = g_strconcat("/a\033/", name, "/b", NULL);
    g_autofree char *seen = hf_seen_place(path), *kept = g_strndup(name, n > 255 ? 120 : n);
    g_autofree char *wanted = g_strconcat("/a<U+001B>/", kept, n > 255 ? "…" : "", "/b", NULL);
    g_assert_cmpstr(seen, ==, wanted);
  }
}

static void
test_blank(void)
{
  static const char *const blank[] = {
      "",       " ",      "\t\n",         "\u200b", "\u00a0\u2003", "\u2060\ufeff",
      "\u3164", "\u2800", "\u200e\u202e", "\u00ad"};
  static const char *const seen[] = {"a", " . ", "é", "港", "\u200fא", "-"};
  for (gsize i = 0; i < G_N_ELEMENTS(blank); i++)
    g_assert_true(hf_seen_is_blank(blank[i]));
  for (gsize i = 0; i < G_N_ELEMENTS(seen); i++)
    g_assert_false(hf_seen_is_blank(seen[i]));
}

/* Unicode Technical Standard 39, confusables.txt; the whole table: tests/oracle/test_sentences.py.
 */
static void
test_alike(void)
{
  static const struct {
    const char *text, *plain, *said;
  } alike[] = {
      {"plate", "plate", NULL},
      {"\u0440late", "plate",
       "its 1st character '\u0440' (U+0440) is Cyrillic and only looks like p"},
      {"HARB\u041eUR", "HARBOUR",
       "its 5th character '\u041e' (U+041E) is Cyrillic and only looks like O"},
      {"\uff13 mm", "3 mm",
       "its 1st character '\uff13' (U+FF13) is full-width and only looks like 3"},
      {"\u0391\u0398\u0397\u039d\u0391", "A\u0398HNA", NULL}, /* Greek throughout */
      {"\u0430", "a", "its 1st character '\u0430' (U+0430) is Cyrillic and only looks like a"},
      {"ra\u200bil", "rail", NULL},
      {"B\u00e4ckerei \u6e2f", "B\u00e4ckerei \u6e2f", NULL},
      {"", "", NULL},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(alike); i++) {
    g_autofree char *plain = hf_alike_plain(alike[i].text), *said = hf_alike_say(alike[i].text);
    g_assert_cmpstr(plain, ==, alike[i].plain);
    g_assert_cmpstr(said, ==, alike[i].said);
  }
}

static void
test_errors(void)
{
  g_autoptr(GError) error = NULL;
  hf_error_set(&error, HF_ERROR_NOT_FOUND, "a\033[1m.yaml", "name \"\u202egnp\"",
               "there is no \"%s\"", "x\ry");
  g_assert_cmpstr(error->message, ==,
                  "a<U+001B>[1m.yaml: there is no \"x<U+000D>y\"; name \"<U+202E>gnp\"");
  g_assert_cmpstr(hf_error_where(error), ==, "a<U+001B>[1m.yaml");
  g_assert_cmpstr(hf_error_fix(error), ==, "name \"<U+202E>gnp\"");
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/base/seen/rows", test_seen);
  g_test_add_func("/base/seen/any-bytes", test_any_bytes);
  g_test_add_func("/base/seen/cut", test_cut);
  g_test_add_func("/base/seen/places", test_places);
  g_test_add_func("/base/seen/blank", test_blank);
  g_test_add_func("/base/seen/alike", test_alike);
  g_test_add_func("/base/seen/errors", test_errors);
  return g_test_run();
}
