/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls-list.c - what there is to choose from: recipes, starters, fields, cautions.
 */
#include "page/page-private.h"
#include <string.h>

enum { MOST_RECIPES = 500, HEAD_BYTES = 4096 };

/* ---- recipes ------------------------------------------------------------------------------- */

/* A recipe says so in its first lines. */
static gboolean
looks_like_recipe(const char *path)
{
  if (!g_str_has_suffix(path, ".yaml") && !g_str_has_suffix(path, ".yml") &&
      !g_str_has_suffix(path, ".json"))
    return FALSE;
  g_autoptr(GBytes) bytes = hf_file_read(path, HF_RECIPE_MAX_BYTES, NULL);
  if (bytes == NULL)
    return FALSE;
  gsize length;
  const char *text = g_bytes_get_data(bytes, &length);
  return length > 0 && g_strstr_len(text, (gssize)MIN(length, HEAD_BYTES), "holdfast") != NULL &&
         g_strstr_len(text, (gssize)length, "entries") != NULL;
}

static int
by_name(gconstpointer a, gconstpointer b)
{
  return strcmp(*(char *const *)a, *(char *const *)b);
}

static GPtrArray *
names_in(const char *folder)
{
  GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while (dir != NULL && names->len < MOST_RECIPES && (name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *path = g_build_filename(folder, name, NULL);
    if (*name != '.' && g_utf8_validate(name, -1, NULL) && looks_like_recipe(path))
      g_ptr_array_add(names, g_strdup(name));
  }
  g_ptr_array_sort(names, by_name);
  return names;
}

void
hf_call_recipes(HfPage *page, const HfAsked *asked)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '[');
  for (guint i = 0; i < page->folders->len; i++) {
    const char *folder = g_ptr_array_index(page->folders, i);
    g_autoptr(GPtrArray) names = names_in(folder);
    for (guint k = 0; k < names->len; k++) {
      const char *name = g_ptr_array_index(names, k);
      g_autofree char *path = g_build_filename(folder, name, NULL);
      hf_json_line(json, NULL, '{');
      hf_json_text(json, "file", path);
      hf_json_text(json, "name", name);
      hf_json_text(json, "folder", folder);
      hf_json_bool(json, "open",
                   page->document != NULL && strcmp(hf_document_file(page->document), path) == 0);
      hf_json_close(json);
    }
  }
  hf_json_close(json);
  hf_answer_json(asked->message, SOUP_STATUS_OK, json);
}

/* ---- the rest ------------------------------------------------------------------------------ */

void
hf_call_starters(HfPage *page, const HfAsked *asked)
{
  (void)page;
  const char *const *kinds = hf_recipe_starter_kinds();
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '[');
  for (guint i = 0; kinds[i] != NULL; i += 2) {
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "kind", kinds[i]);
    hf_json_text(json, "about", kinds[i + 1]);
    g_autofree char *kind = g_uri_escape_string(kinds[i], NULL, FALSE);
    g_autofree char *picture = g_strdup_printf("api/starter/%s.svg", kind);
    hf_json_text(json, "svg", picture);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_answer_json(asked->message, SOUP_STATUS_OK, json);
}

void
hf_call_kinds(HfPage *page, const HfAsked *asked)
{
  (void)page;
  char *kinds = hf_recipe_kinds();
  g_autoptr(GBytes) bytes = g_bytes_new_take(kinds, strlen(kinds));
  hf_answer(asked->message, SOUP_STATUS_OK, "application/json; charset=utf-8", bytes);
}

void
hf_call_cautions(HfPage *page, const HfAsked *asked)
{
  (void)page;
  guint n;
  const HfCaution *all = hf_cautions(&n);
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '[');
  for (guint i = 0; i < n; i++) {
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "key", all[i].key);
    hf_json_text(json, "text", all[i].text);
    hf_json_text(json, "said_by", all[i].says);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_answer_json(asked->message, SOUP_STATUS_OK, json);
}
