/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit-insert.c - one item more of a list.
 */
#include "recipe/edit-private.h"
#include <string.h>

static const HfNode *
last_leaf(const HfNode *node)
{
  while (hf_node_size(node) > 0)
    node = hf_node_item(node, hf_node_size(node) - 1);
  return node;
}

/* `---`, `...` and `%YAML` belong to a document, not into a list. */
static gboolean
has_document_marks(const char *value)
{
  for (const char *line = value; line != NULL; line = strpbrk(line, "\n\r")) {
    line += strspn(line, "\n\r");
    if (strncmp(line, "---", 3) == 0 || strncmp(line, "...", 3) == 0 || *line == '%')
      return TRUE;
  }
  return FALSE;
}

/* Of a table without brackets a line for each key. */
static char *
lines_of(const HfNode *table)
{
  g_autoptr(GString) out = g_string_new(NULL);
  for (guint i = 0; i < hf_node_size(table); i++) {
    const HfNode *key = hf_node_key(table, i);
    g_autofree char *word = hf_write_text(key->text, HF_IN_BLOCK, key, FALSE);
    g_autofree char *value = hf_write_flow(hf_node_item(table, i), FALSE);
    g_string_append_printf(out, "%s%s: %s", i > 0 ? "\n" : "", word, value);
  }
  return g_string_free(g_steal_pointer(&out), FALSE);
}

/* What somebody wrote stays as it was written. But an item that ends in a block text goes on one
 * line, in quotes: as a block it would take up the deeper remarks that may follow, or lack its line
 * break at the end of the file. */
static char *
item_text(const HfNode *item)
{
  if (item->written == NULL && item->kind == HF_NODE_TABLE && !item->flow)
    return lines_of(item);
  if (item->written == NULL || item->kind == HF_NODE_TEXT ||
      last_leaf(item)->style == HF_STYLE_BLOCK || has_document_marks(item->written))
    return hf_write_flow(item, FALSE);
  return g_strdup(item->written);
}

/* The lines of @item, the first behind a dash, the others as far in as the first. */
static char *
block_item(const HfEditor *editor, const char *indent, const HfNode *item)
{
  g_autoptr(GString) out = g_string_new(indent);
  g_autofree char *trimmed = g_strchomp(item_text(item));
  g_auto(GStrv) lines = g_strsplit(trimmed, "\n", -1);
  g_string_append(out, "- ");
  for (gsize i = 0; lines[i] != NULL; i++) {
    gsize n = strlen(lines[i]);
    if (n > 0 && lines[i][n - 1] == '\r')
      lines[i][n - 1] = '\0';
    if (i > 0)
      g_string_append(out, editor->eol);
    if (i > 0 && lines[i][0] != '\0')
      g_string_append_printf(out, "%s  ", indent);
    g_string_append(out, lines[i]);
  }
  return g_string_free(g_steal_pointer(&out), FALSE);
}

/* A list that has nothing yet: `entries:` */
static gboolean
insert_into_nothing(HfEditor *editor, const HfTarget *target, const HfNode *item)
{
  const HfNode *list = target->node;
  const HfNode *parent = target->parent;
  if (parent == NULL || parent->flow || parent->kind != HF_NODE_TABLE) {
    g_autofree char *flow = hf_write_flow(item, FALSE);
    g_autofree char *text = g_strconcat("[", flow, "]", NULL);
    hf_edit_replace(editor, parent, target->index, list, text);
    return TRUE;
  }
  g_autofree char *left = hf_edit_indent(editor, hf_edit_item_start(parent, 0));
  g_autofree char *indent = g_strconcat(left, "  ", NULL);
  gsize from = hf_edit_colon(editor, parent, (guint)target->index);
  gsize at = hf_edit_line_end(editor, from);
  g_autofree char *block = block_item(editor, indent, item);
  g_autofree char *text = g_strconcat(editor->eol, block, NULL);
  if (list->end > list->start) /* ~ or null gives way */
    hf_edit_splice(editor, list->start, list->end, "");
  hf_edit_splice(editor, at, at, text);
  return TRUE;
}

static void
insert_into_block(HfEditor *editor, const HfTarget *target, guint index, const HfNode *item)
{
  const HfNode *list = target->node;
  g_autofree char *indent = hf_edit_indent(editor, list->start);
  gsize colon = target->parent != NULL && target->parent->kind == HF_NODE_TABLE
                    ? hf_edit_colon(editor, target->parent, (guint)target->index)
                    : 0;
  if (index > 0 || (colon > 0 && hf_edit_last_on_line(editor, colon))) {
    /* behind the line of what comes before, so that remarks stay with the entry below them */
    gsize at =
        hf_edit_line_end(editor, index > 0 ? hf_edit_item_end(editor, list, index - 1) : colon);
    g_autofree char *block = block_item(editor, indent, item);
    g_autofree char *text = g_strconcat(editor->eol, block, NULL);
    hf_edit_splice(editor, at, at, text);
  } else {
    g_autofree char *block = block_item(editor, indent, item);
    g_autofree char *text = g_strconcat(block + strlen(indent), editor->eol, indent, NULL);
    hf_edit_splice(editor, list->start, list->start, text);
  }
}

gboolean
hf_edit_insert(HfEditor *editor, const HfTarget *target, guint index, const HfNode *item,
               GError **error)
{
  const HfNode *list = target->node;
  if (hf_node_is_empty(list) && target->parent == NULL)
    return hf_edit_refuse(error, "holdfast new writes one to start from",
                          "there is nothing in this file");
  if (hf_node_is_empty(list))
    return insert_into_nothing(editor, target, item);
  if (list->kind != HF_NODE_LIST)
    return hf_edit_refuse(error, "name a list, such as entries", "only a list takes items");
  if (list->flow) {
    g_autofree char *text = hf_write_flow(item, hf_edit_is_json(editor, list));
    hf_edit_add_to_flow(editor, list, index, text);
  } else {
    insert_into_block(editor, target, index, item);
  }
  return TRUE;
}
