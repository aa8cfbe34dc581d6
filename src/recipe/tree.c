/* SPDX-License-Identifier: GPL-3.0-or-later
 * The recipe as it was typed, as JSON with the place of each value.
 */
#include "recipe/tree.h"
#include "recipe/node-private.h"
#include <string.h>

static HfNode *
read_nodes(HfSource *source, const char *text, gsize length, GError **error)
{
  HfMistakes mistakes;
  hf_source_init(source, text, length);
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) root = hf_node_read(source, &mistakes);
  gboolean good = hf_mistakes_raise(&mistakes, "recipe", error);
  hf_mistakes_clear(&mistakes);
  return good ? g_steal_pointer(&root) : NULL;
}

static void
write_node(HfJson *json, const char *key, const HfNode *node)
{
  if (node->kind == HF_NODE_TEXT) {
    hf_json_text(json, key, hf_node_is_empty(node) ? NULL : node->text);
    return;
  }
  gboolean table = node->kind == HF_NODE_TABLE;
  hf_json_line(json, key, table ? '{' : '[');
  for (guint i = 0; i < hf_node_size(node); i++)
    write_node(json, table ? hf_node_key(node, i)->text : NULL, hf_node_item(node, i));
  hf_json_close(json);
}

/* ---- paths --------------------------------------------------------------------------------- */

/* Called for each value, holders before what they hold; %FALSE stops. */
typedef gboolean (*Visit)(const char *path, const HfNode *key, const HfNode *node, gpointer data);

static gboolean
walk(GString *path, const HfNode *node, Visit visit, gpointer data)
{
  gsize length = path->len;
  for (guint i = 0; i < hf_node_size(node); i++) {
    const HfNode *key = node->kind == HF_NODE_TABLE ? hf_node_key(node, i) : NULL;
    if (key != NULL)
      g_string_append_printf(path, "%s%s", length > 0 ? "." : "", key->text);
    else
      g_string_append_printf(path, "[%u]", i);
    if (!visit(path->str, key, hf_node_item(node, i), data) ||
        !walk(path, hf_node_item(node, i), visit, data))
      return FALSE;
    g_string_truncate(path, length);
  }
  return TRUE;
}

static void
walk_all(const HfNode *root, Visit visit, gpointer data)
{
  g_autoptr(GString) path = g_string_new(NULL);
  walk(path, root, visit, data);
}

static gboolean
write_mark(const char *path, const HfNode *key, const HfNode *node, gpointer data)
{
  (void)key;
  HfJson *json = data;
  hf_json_line(json, path, '{');
  hf_json_number(json, "line", node->mark.line, 0);
  hf_json_number(json, "column", node->mark.column, 0);
  hf_json_close(json);
  return TRUE;
}

gboolean
hf_recipe_tree(const char *text, gsize length, HfJson *json, GError **error)
{
  g_return_val_if_fail(text != NULL && json != NULL, FALSE);
  HfSource source;
  g_autoptr(HfNode) root = read_nodes(&source, text, length, error);
  hf_source_clear(&source);
  if (root == NULL)
    return FALSE;
  write_node(json, "tree", root);
  hf_json_line(json, "marks", '{');
  walk_all(root, write_mark, json);
  hf_json_close(json);
  return TRUE;
}

/* ---- looking one up ------------------------------------------------------------------------ */

struct HfPlaces {
  GHashTable *paths; /* guint64: line and column -> path */
};

static void
keep_path(HfPlaces *places, HfMark mark, const char *path)
{
  guint64 *key = g_new(guint64, 1);
  *key = (guint64)mark.line << 32 | mark.column;
  g_hash_table_replace(places->paths, key, g_strdup(path));
}

/* The innermost is met last. */
static gboolean
note_places(const char *path, const HfNode *key, const HfNode *node, gpointer data)
{
  HfPlaces *places = data;
  keep_path(places, node->mark, path);
  if (key != NULL)
    keep_path(places, key->mark, path);
  return TRUE;
}

HfPlaces *
hf_recipe_places(const char *text, gsize length)
{
  g_return_val_if_fail(text != NULL, NULL);
  HfSource source;
  HfPlaces *places = g_new0(HfPlaces, 1);
  places->paths = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr(HfNode) root = read_nodes(&source, text, length, NULL);
  hf_source_clear(&source);
  if (root != NULL)
    walk_all(root, note_places, places);
  return places;
}

void
hf_places_free(HfPlaces *places)
{
  if (places == NULL)
    return;
  g_hash_table_unref(places->paths);
  g_free(places);
}

const char *
hf_places_at(const HfPlaces *places, HfMark mark)
{
  guint64 key = (guint64)mark.line << 32 | mark.column;
  return places != NULL ? g_hash_table_lookup(places->paths, &key) : NULL;
}
