/* SPDX-License-Identifier: GPL-3.0-or-later
 * The recipe as it was typed, with the place of each value.
 */
#include "recipe/tree.h"
#include <string.h>

static char *
tree_of(const char *text, GError **error)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  gboolean good = hf_recipe_tree(text, strlen(text), json, error);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  return good ? g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes) - 1) : NULL;
}

/* Values stay as typed; nothing is checked; places count characters. */
static void
test_tree(void)
{
  static const struct {
    const char *text, *json;
  } rows[] = {
      {"a: 3 mm\n",
       "{\"tree\": {\"a\": \"3 mm\"}, \"marks\": {\"a\": {\"line\": 1, \"column\": 4}}}"},
      {"ä: {b: [1, ~]}\n", "{\"tree\": {\"ä\": {\"b\": [\"1\", null]}}, \"marks\": {\"ä\": "
                           "{\"line\": 1, \"column\": 4}, "
                           "\"ä.b\": {\"line\": 1, \"column\": 8}, \"ä.b[0]\": {\"line\": 1, "
                           "\"column\": 9}, \"ä.b[1]\": "
                           "{\"line\": 1, \"column\": 12}}}"},
      {"{\"a\": \"\\u00e4\"}",
       "{\"tree\": {\"a\": \"ä\"}, \"marks\": {\"a\": {\"line\": 1, \"column\": 7}}}"},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autofree char *json = tree_of(rows[i].text, NULL);
    g_assert_cmpstr(json, ==, rows[i].json);
  }
}

static void
test_unreadable(void)
{
  g_autoptr(GError) error = NULL;
  g_assert_null(tree_of("a: [", &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
}

static void
test_path_at(void)
{
  static const char text[] = "holdfast: 1\nentries:\n  - words: {text: A, height: 40 mm}\n";
  static const struct {
    guint line, column;
    const char *path;
  } rows[] = {
      {1, 11, "holdfast"},
      {1, 1, "holdfast"},
      {3, 30, "entries[0].words.height"},
      {3, 22, "entries[0].words.height"},
      {3, 5, "entries[0].words"},
      {9, 9, NULL},
  };
  g_autoptr(HfPlaces) places = hf_recipe_places(text, strlen(text));
  g_autoptr(HfPlaces) none = hf_recipe_places("a: [", 4);
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    HfMark mark = {rows[i].line, rows[i].column};
    g_assert_cmpstr(hf_places_at(places, mark), ==, rows[i].path);
    g_assert_null(hf_places_at(none, mark));
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/recipe/tree", test_tree);
  g_test_add_func("/recipe/tree/unreadable", test_unreadable);
  g_test_add_func("/recipe/tree/path-at", test_path_at);
  return g_test_run();
}
