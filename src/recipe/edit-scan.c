/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit-scan.c - lines, dashes, colons and commas around the nodes of a text.
 *
 *   block                                flow
 *     - bar:            <- dash            {a: 1, b: 2}
 *         length: 1 m   # remark            ^item ^comma
 *         ^pair       ^end of line
 *
 * Places are found forwards from what was read, so that remarks can't mislead.
 */
#include "recipe/edit-private.h"
#include <string.h>

/* --- lines --- */

static gboolean
is_break(char c)
{
  return c == '\n' || c == '\r';
}

static gboolean
is_blank(char c)
{
  return c == ' ' || c == '\t';
}

gsize
hf_edit_line_start(const HfEditor *editor, gsize at)
{
  while (at > editor->source.bom && !is_break(editor->source.text[at - 1]))
    at--;
  return at;
}

gsize
hf_edit_line_end(const HfEditor *editor, gsize at)
{
  while (at < editor->source.length && !is_break(editor->source.text[at]))
    at++;
  return at;
}

gsize
hf_edit_next_line(const HfEditor *editor, gsize at)
{
  const char *text = editor->source.text;
  at = hf_edit_line_end(editor, at);
  if (at < editor->source.length && text[at] == '\r')
    at++;
  if (at < editor->source.length && text[at] == '\n')
    at++;
  return at;
}

gsize
hf_edit_next(const HfEditor *editor, gsize at)
{
  return hf_source_next(&editor->source, at);
}

gsize
hf_edit_content_end(const HfEditor *editor, const HfNode *node)
{
  const char *text = editor->source.text;
  gsize end = node->end;
  while (end > node->start && (is_blank(text[end - 1]) || is_break(text[end - 1])))
    end--;
  return end;
}

static gboolean
is_blank_between(const HfEditor *editor, gsize from, gsize to)
{
  for (; from < to; from++)
    if (!is_blank(editor->source.text[from]))
      return FALSE;
  return TRUE;
}

void
hf_edit_splice(HfEditor *editor, gsize start, gsize end, const char *text)
{
  /* {"a": 1#remark: what comes to stand before a remark keeps clear of it */
  const char *source = editor->source.text;
  gboolean glued = end < editor->source.length && source[end] == '#' &&
                   (text[0] != '\0' || (start > 0 && !is_blank(source[start - 1])));
  HfSplice splice = {start, end, g_strconcat(text, glued ? " " : "", NULL)};
  g_array_append_val(editor->splices, splice);
}

/* --- places of items --- */

/* Where item @i of @node starts, its key included. */
gsize
hf_edit_item_start(const HfNode *node, guint i)
{
  return node->kind == HF_NODE_TABLE ? hf_node_key(node, i)->start : hf_node_item(node, i)->start;
}

gsize
hf_edit_item_end(const HfEditor *editor, const HfNode *node, guint i)
{
  gsize end = hf_edit_content_end(editor, hf_node_item(node, i));
  if (node->kind == HF_NODE_TABLE)
    end = MAX(end, hf_node_key(node, i)->end);
  return end;
}

/* Behind the colon of key @i; 0 when it has none ({a, b}). */
gsize
hf_edit_colon(const HfEditor *editor, const HfNode *table, guint i)
{
  gsize at = hf_edit_next(editor, hf_node_key(table, i)->end);
  return at < editor->source.length && editor->source.text[at] == ':' ? at + 1 : 0;
}

/* The dash of item @i of a block list: found forwards, so that remarks can't mislead. */
gsize
hf_edit_dash(const HfEditor *editor, const HfNode *list, guint i)
{
  return i == 0 ? list->start : hf_edit_next(editor, hf_edit_item_end(editor, list, i - 1));
}

gboolean
hf_edit_first_on_line(const HfEditor *editor, gsize at)
{
  return is_blank_between(editor, hf_edit_line_start(editor, at), at);
}

/* From @at to the end of its line there are at most spaces and a remark. */
gboolean
hf_edit_last_on_line(const HfEditor *editor, gsize at)
{
  return hf_edit_next(editor, at) >= hf_edit_line_end(editor, at);
}

static gboolean
has_quoted_keys(const HfNode *node)
{
  for (guint i = 0; node->kind == HF_NODE_TABLE && i < hf_node_size(node); i++)
    if (hf_node_key(node, i)->style == HF_STYLE_DOUBLE)
      return TRUE;
  return FALSE;
}

/* Written the way of JSON: the nearest table with keys says so. */
gboolean
hf_edit_is_json(const HfEditor *editor, const HfNode *parent)
{
  if (!editor->root->flow)
    return FALSE;
  return hf_node_size(parent) > 0 && parent->kind == HF_NODE_TABLE ? has_quoted_keys(parent)
                                                                   : has_quoted_keys(editor->root);
}

gboolean
hf_edit_refuse(GError **error, const char *fix, const char *what)
{
  hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, fix, "%s", what);
  return FALSE;
}

/* The white space that a new line below item 0 of @node starts with. */
char *
hf_edit_indent(const HfEditor *editor, gsize first)
{
  gsize start = hf_edit_line_start(editor, first);
  if (is_blank_between(editor, start, first))
    return g_strndup(editor->source.text + start, first - start);
  guint column = hf_source_mark(&editor->source, first).column;
  return g_strnfill(column - 1, ' ');
}

/* The one pair of [key: value]: a table without brackets. */
gboolean
hf_edit_is_bare(const HfEditor *editor, const HfNode *node)
{
  return node->flow && node->kind == HF_NODE_TABLE && editor->source.text[node->start] != '{';
}
