/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit-remove.c - what goes.
 *
 * A line goes when nothing else stands on it; a remark on the line of what is removed goes along,
 * remarks on lines of their own stay.
 */
#include "recipe/edit-private.h"
#include <string.h>

static gboolean
is_space(char c)
{
  return c == ' ' || c == '\t';
}

static void
remove_from_flow(HfEditor *editor, const HfNode *node, guint i)
{
  const char *text = editor->source.text;
  gsize start = hf_edit_item_start(node, i), end = hf_edit_item_end(editor, node, i);
  gsize after = hf_edit_next(editor, end);
  gboolean comma = after < editor->source.length && text[after] == ',';
  if (comma)
    end = after + 1;
  if (hf_edit_first_on_line(editor, start) && hf_edit_last_on_line(editor, end) &&
      hf_edit_line_end(editor, end) < node->end) {
    start = hf_edit_line_start(editor, start);
    end = hf_edit_next_line(editor, end);
  } else if (comma && !hf_edit_last_on_line(editor, end)) {
    while (is_space(text[end]))
      end++;
  } else if (!hf_edit_first_on_line(editor, start)) {
    while (is_space(text[start - 1]))
      start--;
  }
  if (!comma && i > 0) { /* the last one: the comma before it goes too */
    gsize before = hf_edit_next(editor, hf_edit_item_end(editor, node, i - 1));
    if (before + 1 >= start)
      start = before;
    else
      hf_edit_splice(editor, before, before + 1, "");
  }
  hf_edit_splice(editor, start, end, "");
}

/* A remark or an empty line between @from and @to. */
static gboolean
something_between(const HfEditor *editor, gsize from, gsize to)
{
  return memchr(editor->source.text + from, '#', to - from) != NULL;
}

static void
remove_from_block(HfEditor *editor, const HfNode *node, guint i)
{
  gsize start =
      node->kind == HF_NODE_LIST ? hf_edit_dash(editor, node, i) : hf_edit_item_start(node, i);
  gsize end = hf_edit_item_end(editor, node, i);
  if (hf_edit_first_on_line(editor, start)) {
    gsize from = hf_edit_line_start(editor, start), to = hf_edit_next_line(editor, end);
    hf_edit_splice(editor, from, to, "");
    return;
  }
  /* Behind a dash: what comes next moves up, or stays below when remarks stand between. */
  gsize next = i + 1 < hf_node_size(node)
                   ? (node->kind == HF_NODE_LIST ? hf_edit_dash(editor, node, i + 1)
                                                 : hf_edit_item_start(node, i + 1))
                   : editor->source.length;
  gsize line = hf_edit_line_end(editor, end);
  if (line > next || something_between(editor, line, next))
    hf_edit_splice(editor, start, line, "");
  else
    hf_edit_splice(editor, start, next, "");
}

gboolean
hf_edit_remove(HfEditor *editor, const HfTarget *target, GError **error)
{
  const HfNode *parent = target->parent;
  if (parent == NULL)
    return hf_edit_refuse(error, "remove its keys one by one", "the whole recipe can't be removed");
  if (hf_edit_is_bare(editor, parent))
    hf_edit_splice(editor, parent->start, hf_edit_item_end(editor, parent, 0), "{}");
  else if (parent->flow)
    remove_from_flow(editor, parent, (guint)target->index);
  else if (hf_node_size(parent) == 1)
    hf_edit_replace(editor, target->grand, target->parent_index, parent,
                    parent->kind == HF_NODE_LIST ? "[]" : "{}");
  else
    remove_from_block(editor, parent, (guint)target->index);
  return TRUE;
}
