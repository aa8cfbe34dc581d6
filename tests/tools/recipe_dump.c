/* SPDX-License-Identifier: GPL-3.0-or-later
 * recipe_dump.c - for the checks from outside: how a recipe's text was understood.
 *
 * usage: recipe_dump tree|read FILE...      one JSON value a line, in the order of the files
 *   tree: [line, column, value], a value being a text, a list of those, or an object of pairs
 *   read: null when it is a good recipe, else the message
 */
#include "base/json.h"
#include "recipe/node-private.h"
#include <stdio.h>
#include <string.h>

static void
put_node(HfJson *json, const HfNode *node)
{
  hf_json_line(json, NULL, '[');
  hf_json_number(json, NULL, node->mark.line, 0);
  hf_json_number(json, NULL, node->mark.column, 0);
  if (node->kind == HF_NODE_TEXT)
    hf_json_text(json, NULL, node->text);
  else
    hf_json_line(json, NULL, '[');
  for (guint i = 0; i < hf_node_size(node); i++) {
    if (node->kind == HF_NODE_TABLE)
      put_node(json, hf_node_key(node, i));
    put_node(json, hf_node_item(node, i));
  }
  if (node->kind != HF_NODE_TEXT)
    hf_json_close(json);
  hf_json_text(json, NULL,
               node->kind == HF_NODE_TEXT   ? "text"
               : node->kind == HF_NODE_LIST ? "list"
                                            : "table");
  hf_json_close(json);
}

static void
dump_tree(HfJson *json, const char *text, gsize length)
{
  HfSource source;
  HfMistakes mistakes;
  g_autoptr(GError) error = NULL;
  hf_source_init(&source, text, length);
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) root = hf_node_read(&source, &mistakes);
  if (hf_mistakes_raise(&mistakes, "f", &error))
    put_node(json, root);
  else
    hf_json_text(json, NULL, error->message);
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
}

static void
dump_read(HfJson *json, const char *text, gsize length)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, length, "f", &error);
  hf_json_text(json, NULL, recipe == NULL ? error->message : NULL);
}

int
main(int argc, char **argv)
{
  for (int i = 2; i < argc; i++) {
    g_autofree char *text = NULL;
    gsize length = 0;
    if (!g_file_get_contents(argv[i], &text, &length, NULL))
      return 2;
    g_autoptr(HfJson) json = hf_json_new();
    hf_json_line(json, NULL, '[');
    (strcmp(argv[1], "tree") == 0 ? dump_tree : dump_read)(json, text, length);
    hf_json_close(json);
    g_autoptr(GBytes) bytes = hf_json_finish(json);
    gsize n = 0;
    const void *out = g_bytes_get_data(bytes, &n);
    fwrite(out, 1, n, stdout);
  }
  return 0;
}
