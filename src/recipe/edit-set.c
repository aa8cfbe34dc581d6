/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit-set.c - a value in the place of another, or behind a key that was not there.
 */
#include "recipe/edit-private.h"
#include <string.h>

/* Replaces a whole value, whatever it is, by @text on one line. */
void
hf_edit_replace(HfEditor *editor, const HfNode *parent, gint index, const HfNode *node,
                const char *text)
{
  gsize end = hf_edit_content_end(editor, node);
  gsize start = node->start;
  g_autofree char *spaced = g_strconcat(" ", text, NULL);
  if (parent == NULL || (node->kind != HF_NODE_TEXT && node->flow)) {
    hf_edit_splice(editor, start, end, text);
    return;
  }
  gsize before = parent->kind == HF_NODE_TABLE ? hf_edit_colon(editor, parent, (guint)index)
                 : parent->flow                ? 0
                                               : hf_edit_dash(editor, parent, (guint)index) + 1;
  gboolean empty = node->start >= node->end;
  if (empty && parent->kind == HF_NODE_TABLE && before == 0) { /* {a, b} */
    g_autofree char *colon = g_strconcat(": ", text, NULL);
    hf_edit_splice(editor, hf_node_key(parent, (guint)index)->end,
                   hf_node_key(parent, (guint)index)->end, colon);
  } else if (empty) {
    hf_edit_splice(editor, before, before, spaced);
  } else if (node->kind != HF_NODE_TEXT && before > 0 && hf_edit_next(editor, before) == start &&
             hf_edit_line_end(editor, before) < start &&
             memchr(editor->source.text + before, '#', start - before) == NULL) {
    hf_edit_splice(editor, before, end, spaced); /* up to the line of its key */
  } else if (node->kind == HF_NODE_LIST && parent->kind == HF_NODE_TABLE &&
             node->mark.column <= hf_node_key(parent, 0)->mark.column) {
    hf_edit_splice(editor, start, end, spaced); /* a list may stand as far left as its key */
  } else {
    hf_edit_splice(editor, start, end, text);
  }
}

/* Adds one item to a flow list or table, before item @index. */
void
hf_edit_add_to_flow(HfEditor *editor, const HfNode *node, guint index, const char *text)
{
  guint n = hf_node_size(node);
  if (hf_edit_is_bare(editor, node)) {
    gsize end = hf_edit_item_end(editor, node, n - 1);
    g_autofree char *made = g_strconcat(", ", text, "}", NULL);
    hf_edit_splice(editor, node->start, node->start, "{");
    hf_edit_splice(editor, end, end, made);
    return;
  }
  if (n == 0) {
    hf_edit_splice(editor, node->start + 1, node->start + 1, text);
    return;
  }
  guint beside = index < n ? index : n - 1;
  gsize start = hf_edit_item_start(node, beside);
  g_autofree char *indent = hf_edit_indent(editor, start);
  gboolean own_lines = hf_edit_first_on_line(editor, start);
  g_autofree char *gap = own_lines ? g_strconcat(",", editor->eol, indent, NULL) : g_strdup(", ");
  gsize at = index < n ? start : hf_edit_item_end(editor, node, n - 1);
  g_autofree char *made = index < n ? g_strconcat(text, gap, NULL) : g_strconcat(gap, text, NULL);
  hf_edit_splice(editor, at, at, made);
}

/* @like: (nullable) what it takes the place of. */
static char *
write_value(const HfNode *value, HfContext context, const HfNode *like, gboolean json)
{
  return value->kind == HF_NODE_TEXT ? hf_write_text(value->text, context, like, json)
                                     : hf_write_flow(value, json);
}

static gboolean
add_pair(HfEditor *editor, const HfTarget *target, const HfNode *value)
{
  const HfNode *table = target->parent;
  HfContext context = table->flow ? HF_IN_FLOW : HF_IN_BLOCK;
  gboolean json = table->flow && hf_edit_is_json(editor, table);
  g_autofree char *text = write_value(value, context, NULL, json);
  g_autofree char *key =
      json ? hf_write_quoted(target->key) : hf_write_text(target->key, context, NULL, FALSE);
  g_autofree char *pair = g_strconcat(key, ": ", text, NULL);
  if (table->flow) {
    hf_edit_add_to_flow(editor, table, hf_node_size(table), pair);
    return TRUE;
  }
  g_autofree char *indent = hf_edit_indent(editor, hf_edit_item_start(table, 0));
  g_autofree char *line = g_strconcat(editor->eol, indent, pair, NULL);
  gsize at = hf_edit_line_end(editor, hf_edit_item_end(editor, table, hf_node_size(table) - 1));
  hf_edit_splice(editor, at, at, line);
  return TRUE;
}

gboolean
hf_edit_set(HfEditor *editor, const HfTarget *target, const HfNode *value, GError **error)
{
  const HfNode *parent = target->parent;
  if (parent == NULL)
    return hf_edit_refuse(error, "name one of its keys", "the whole recipe can't be set");
  if (parent->kind == HF_NODE_TEXT && target->grand == NULL)
    return hf_edit_refuse(error, "holdfast new writes one to start from",
                          "there is nothing in this file");
  if (parent->kind == HF_NODE_TEXT) { /* `process:` with nothing behind it yet */
    g_autofree char *key = hf_write_text(target->key, HF_IN_FLOW, NULL, FALSE);
    g_autofree char *text = write_value(value, HF_IN_FLOW, NULL, FALSE);
    g_autofree char *table = g_strdup_printf("{%s: %s}", key, text);
    hf_edit_replace(editor, target->grand, target->parent_index, parent, table);
    return TRUE;
  }
  if (target->index < 0)
    return add_pair(editor, target, value);
  const HfNode *node = hf_node_item(parent, (guint)target->index);
  gboolean json = parent->flow && hf_edit_is_json(editor, parent);
  HfContext context = parent->flow ? HF_IN_FLOW : HF_IN_BLOCK;
  g_autofree char *text = write_value(value, context, node, json);
  hf_edit_replace(editor, parent, target->index, node, text);
  return TRUE;
}
