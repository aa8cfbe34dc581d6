/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-words.c - values that are words: yes and no, texts, names, choices.
 */
#include "base/seen.h"
#include "base/text.h"
#include "recipe/kind-private.h"
#include "recipe/value-private.h"
#include <string.h>

static gboolean
read_yes_at(const HfValue *value, gboolean *ret_yes)
{
  static const char *const yes[] = {"yes", "true", "on", NULL};
  static const char *const no[] = {"no", "false", "off", NULL};
  if (!hf_value_want(value, value->node, HF_NODE_TEXT))
    return FALSE;
  for (gsize i = 0; yes[i] != NULL; i++)
    if (g_ascii_strcasecmp(value->node->text, yes[i]) == 0)
      return *ret_yes = TRUE;
  for (gsize i = 0; no[i] != NULL; i++)
    if (g_ascii_strcasecmp(value->node->text, no[i]) == 0) {
      *ret_yes = FALSE;
      return TRUE;
    }
  hf_mistake(value->reader->mistakes, value->node->mark, "write yes or no", "%s is \"%s\"",
             value->field->key, value->node->text);
  return FALSE;
}

void
hf_value_yes(const HfValue *value)
{
  read_yes_at(value, value->at);
}

void
hf_value_maybe(const HfValue *value)
{
  gboolean yes = FALSE;
  if (read_yes_at(value, &yes))
    *(double *)value->at = yes ? 1 : 0;
}

/* A name or text of nothing but spaces and characters that nobody can see is none. */
static gboolean
is_seen(const HfValue *value, const HfNode *node)
{
  if (!hf_seen_is_blank(node->text))
    return TRUE;
  hf_mistake(value->reader->mistakes, node->mark,
             (value->field->flags & HF_REQUIRED) != 0 ? "write what is to be read there"
                                                      : "write a text, or leave the key out",
             node->text[0] == '\0' ? "%s is empty" : "%s has nothing that can be seen",
             value->field->key);
  return FALSE;
}

/* What names a font, its style, axes or features is quoted in messages of one line. */
static gboolean
is_one_line(const HfValue *value)
{
  gboolean names = value->table == &hf_table_font || value->field->type == HF_FIELD_FONT ||
                   value->field->type == HF_FIELD_PATH;
  if (!names || strchr(value->node->text, '\n') == NULL)
    return TRUE;
  g_autofree char *shown = hf_seen_value(value->node->text);
  hf_mistake(value->reader->mistakes, value->node->mark, "write it in one line",
             "%s is %s, which has a line break", value->field->key, shown);
  return FALSE;
}

void
hf_value_text(const HfValue *value)
{
  if (!hf_value_want(value, value->node, HF_NODE_TEXT) || !hf_value_text_fits(value, value->node))
    return;
  if (!is_seen(value, value->node) || !is_one_line(value))
    return;
  g_free(*(char **)value->at);
  *(char **)value->at = g_strdup(value->node->text);
}

/* A text of several lines is as good as a list of lines. */
static void
add_lines(GPtrArray *lines, const char *text)
{
  g_auto(GStrv) parts = g_strsplit(text, "\n", -1);
  guint n = g_strv_length(parts);
  for (guint i = 0; i < n; i++)
    if (parts[i][0] != '\0' || i + 1 < n)
      g_ptr_array_add(lines, g_strdup(parts[i]));
}

void
hf_value_texts(const HfValue *value)
{
  GPtrArray *lines = *(GPtrArray **)value->at;
  const HfNode *node = value->node;
  gsize total = 0;
  if (node->kind == HF_NODE_TABLE && !hf_value_want(value, node, HF_NODE_TEXT))
    return;
  guint n = node->kind == HF_NODE_LIST ? hf_node_size(node) : 1;
  g_ptr_array_set_size(lines, 0);
  for (guint i = 0; i < n; i++) {
    const HfNode *line = node->kind == HF_NODE_LIST ? hf_node_item(node, i) : node;
    if (!hf_value_want(value, line, HF_NODE_TEXT) || !hf_value_text_fits(value, line))
      return;
    total += (gsize)g_utf8_strlen(line->text, -1);
    add_lines(lines, line->text);
  }
  gboolean inked = FALSE;
  for (guint i = 0; i < lines->len; i++)
    inked = inked || !hf_seen_is_blank(g_strchug(g_ptr_array_index(lines, i)));
  if (!inked || total > HF_RECIPE_MAX_TEXT || lines->len > 100)
    hf_mistake(value->reader->mistakes, node->mark,
               inked ? "at most 2000 characters in 100 lines" : "write what the sign is to say",
               inked        ? "%s is too long"
               : total == 0 ? "%s is empty"
                            : "%s has nothing that can be seen",
               value->field->key);
}

/* What lies in a folder of the system is installed: a font there has a name. */
static const char *
path_fix(const HfValue *value, const char *path)
{
  static const char *const folders[] = {"/usr/", "/System/", "/Library/", "C:"};
  for (gsize i = 0; i < G_N_ELEMENTS(folders); i++)
    if (strcmp(value->table->name, "a font") == 0 && g_str_has_prefix(path, folders[i]))
      return "name an installed font by its family (family: Lobster Two), or put a copy of the "
             "file "
             "beside the recipe";
  return "put the file beside the recipe or below it, and say its path from there";
}

/* A recipe may not reach outside its own folder. */
void
hf_value_path(const HfValue *value)
{
  if (!hf_value_want(value, value->node, HF_NODE_TEXT) || !hf_value_text_fits(value, value->node))
    return;
  if (!is_one_line(value))
    return;
  const char *path = value->node->text;
  g_auto(GStrv) parts = g_strsplit_set(path, "/\\", -1);
  gboolean outside = path[0] == '/' || path[0] == '\\' || path[0] == '~' || path[0] == '\0' ||
                     (g_ascii_isalpha(path[0]) && path[1] == ':');
  for (gsize i = 0; parts[i] != NULL; i++)
    outside = outside || strcmp(parts[i], "..") == 0;
  if (outside) {
    hf_mistake(value->reader->mistakes, value->node->mark, path_fix(value, path),
               "\"%s\" lies outside the recipe's own folder", path);
    return;
  }
  hf_value_text(value);
}

void
hf_value_metal(const HfValue *value)
{
  if (!hf_value_want(value, value->node, HF_NODE_TEXT))
    return;
  const HfMetalKind *metal = hf_metal(value->node->text);
  if (metal == NULL) {
    const char *said = hf_said_instead("metal", value->node->text);
    const char *near = hf_text_nearest(value->node->text, hf_metal_keys());
    g_autofree char *all = hf_text_list(hf_metal_keys(), "or");
    g_autofree char *fix = said != NULL   ? g_strdup_printf("write %s", said)
                           : near != NULL ? g_strdup_printf("write \"%s\"", near)
                                          : g_strdup_printf("write %s", all);
    hf_mistake(value->reader->mistakes, value->node->mark, fix, "\"%s\" is not a metal",
               value->node->text);
    return;
  }
  value->reader->metal = metal;
  g_free(*(char **)value->at);
  *(char **)value->at = g_strdup(metal->key);
}

static gboolean
read_name_at(const HfValue *value, const HfNode *node, char **ret_name)
{
  if (!hf_value_want(value, node, HF_NODE_TEXT) || !hf_value_text_fits(value, node) ||
      !is_seen(value, node))
    return FALSE;
  HfMention mention = {node->mark, node->text, value->field, value->reader->entry};
  g_array_append_val(value->reader->mentions, mention);
  g_free(*ret_name);
  *ret_name = g_strdup(node->text);
  return TRUE;
}

void
hf_value_name(const HfValue *value)
{
  read_name_at(value, value->node, value->at);
}

void
hf_value_names(const HfValue *value)
{
  GPtrArray *names = *(GPtrArray **)value->at;
  const HfNode *node = value->node;
  if (node->kind == HF_NODE_TABLE && !hf_value_want(value, node, HF_NODE_LIST))
    return;
  guint n = node->kind == HF_NODE_LIST ? hf_node_size(node) : 1;
  for (guint i = 0; i < n && i < HF_RECIPE_MAX_ENTRIES; i++) {
    char *name = NULL;
    if (read_name_at(value, node->kind == HF_NODE_LIST ? hf_node_item(node, i) : node, &name))
      g_ptr_array_add(names, name);
  }
}

static gboolean
read_choice_at(const HfValue *value, const HfNode *node, int *ret_choice)
{
  if (!hf_value_want(value, node, HF_NODE_TEXT))
    return FALSE;
  const char *words[32] = {NULL};
  for (guint i = 0; value->field->choices[i].word != NULL; i++) {
    g_assert(i + 1 < G_N_ELEMENTS(words));
    words[i] = value->field->choices[i].word;
    if (g_ascii_strcasecmp(node->text, words[i]) == 0) {
      *ret_choice = value->field->choices[i].value;
      return TRUE;
    }
  }
  const char *said = hf_said_instead(value->field->key, node->text);
  const char *near = said == NULL ? hf_text_nearest(node->text, words) : NULL;
  g_autofree char *all = hf_text_list(words, "or");
  g_autofree char *fix = said != NULL   ? g_strdup_printf("write %s", said)
                         : near != NULL ? g_strdup_printf("write \"%s\"", near)
                                        : g_strdup_printf("write %s", all);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s can't be \"%s\"", value->field->key,
             node->text);
  return FALSE;
}

void
hf_value_choice(const HfValue *value)
{
  read_choice_at(value, value->node, value->at);
}

void
hf_value_choices(const HfValue *value)
{
  GArray *choices = *(GArray **)value->at;
  const HfNode *node = value->node;
  if (node->kind == HF_NODE_TABLE && !hf_value_want(value, node, HF_NODE_LIST))
    return;
  g_array_set_size(choices, 0);
  guint n = node->kind == HF_NODE_LIST ? hf_node_size(node) : 1;
  for (guint i = 0; i < n; i++) {
    const HfNode *item = node->kind == HF_NODE_LIST ? hf_node_item(node, i) : node;
    int choice = 0;
    if (!read_choice_at(value, item, &choice))
      continue;
    for (guint j = 0; j < choices->len; j++)
      if (g_array_index(choices, int, j) == choice) {
        hf_mistake(value->reader->mistakes, item->mark, "say each once", "\"%s\" stands twice",
                   item->text);
        return;
      }
    g_array_append_val(choices, choice);
  }
}
