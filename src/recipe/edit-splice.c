/* SPDX-License-Identifier: GPL-3.0-or-later
 * Where to cut the text, and what to put there, for each kind of edit.
 *
 *   block                                flow
 *     - bar:            <- dash            {a: 1, b: 2}
 *         length: 1 m   # remark            ^item ^comma
 *         ^pair       ^end of line
 *
 * A line goes when nothing else stands on it; a remark on the line of what is removed goes along,
 * remarks on lines of their own stay.
 */
#include "recipe/edit-private.h"
#include <string.h>

/* --- scanning --- */

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

gboolean
hf_edit_blank(const HfEditor *editor, gsize from, gsize to)
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
static gsize
item_start(const HfNode *node, guint i)
{
  return node->kind == HF_NODE_TABLE ? hf_node_key(node, i)->start : hf_node_item(node, i)->start;
}

static gsize
item_end(const HfEditor *editor, const HfNode *node, guint i)
{
  gsize end = hf_edit_content_end(editor, hf_node_item(node, i));
  if (node->kind == HF_NODE_TABLE)
    end = MAX(end, hf_node_key(node, i)->end);
  return end;
}

/* Behind the colon of key @i; 0 when it has none ({a, b}). */
static gsize
behind_colon(const HfEditor *editor, const HfNode *table, guint i)
{
  gsize at = hf_edit_next(editor, hf_node_key(table, i)->end);
  return at < editor->source.length && editor->source.text[at] == ':' ? at + 1 : 0;
}

/* The dash of item @i of a block list: found forwards, so that remarks can't mislead. */
static gsize
dash_of(const HfEditor *editor, const HfNode *list, guint i)
{
  return i == 0 ? list->start : hf_edit_next(editor, item_end(editor, list, i - 1));
}

static gboolean
first_on_line(const HfEditor *editor, gsize at)
{
  return hf_edit_blank(editor, hf_edit_line_start(editor, at), at);
}

/* From @at to the end of its line there are at most spaces and a remark. */
static gboolean
last_on_line(const HfEditor *editor, gsize at)
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
static gboolean
is_json(const HfEditor *editor, const HfNode *parent)
{
  if (!editor->root->flow)
    return FALSE;
  return hf_node_size(parent) > 0 && parent->kind == HF_NODE_TABLE ? has_quoted_keys(parent)
                                                                   : has_quoted_keys(editor->root);
}

static gboolean
refuse(GError **error, const char *fix, const char *what)
{
  hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, fix, "%s", what);
  return FALSE;
}

/* --- set --- */

/* Replaces a whole value, whatever it is, by @text on one line. */
static void
replace_value(HfEditor *editor, const HfNode *parent, gint index, const HfNode *node,
              const char *text)
{
  gsize end = hf_edit_content_end(editor, node);
  gsize start = node->start;
  g_autofree char *spaced = g_strconcat(" ", text, NULL);
  if (parent == NULL || (node->kind != HF_NODE_TEXT && node->flow)) {
    hf_edit_splice(editor, start, end, text);
    return;
  }
  gsize before = parent->kind == HF_NODE_TABLE ? behind_colon(editor, parent, (guint)index)
                 : parent->flow                ? 0
                                               : dash_of(editor, parent, (guint)index) + 1;
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

/* The white space that a new line below item 0 of @node starts with. */
static char *
indent_of(const HfEditor *editor, const HfNode *node, gsize first)
{
  gsize start = hf_edit_line_start(editor, first);
  (void)node;
  if (hf_edit_blank(editor, start, first))
    return g_strndup(editor->source.text + start, first - start);
  guint column = hf_source_mark(&editor->source, first).column;
  return g_strnfill(column - 1, ' ');
}

/* The one pair of [key: value]: a table without brackets. */
static gboolean
is_bare(const HfEditor *editor, const HfNode *node)
{
  return node->flow && node->kind == HF_NODE_TABLE && editor->source.text[node->start] != '{';
}

/* Adds one item to a flow list or table, before item @index. */
static void
add_to_flow(HfEditor *editor, const HfNode *node, guint index, const char *text)
{
  guint n = hf_node_size(node);
  if (is_bare(editor, node)) {
    gsize end = item_end(editor, node, n - 1);
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
  gsize start = item_start(node, beside);
  g_autofree char *indent = indent_of(editor, node, start);
  gboolean own_lines = first_on_line(editor, start);
  g_autofree char *gap = own_lines ? g_strconcat(",", editor->eol, indent, NULL) : g_strdup(", ");
  gsize at = index < n ? start : item_end(editor, node, n - 1);
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
  gboolean json = table->flow && is_json(editor, table);
  g_autofree char *text = write_value(value, context, NULL, json);
  g_autofree char *key =
      json ? hf_write_quoted(target->key) : hf_write_text(target->key, context, NULL, FALSE);
  g_autofree char *pair = g_strconcat(key, ": ", text, NULL);
  if (table->flow) {
    add_to_flow(editor, table, hf_node_size(table), pair);
    return TRUE;
  }
  g_autofree char *indent = indent_of(editor, table, item_start(table, 0));
  g_autofree char *line = g_strconcat(editor->eol, indent, pair, NULL);
  gsize at = hf_edit_line_end(editor, item_end(editor, table, hf_node_size(table) - 1));
  hf_edit_splice(editor, at, at, line);
  return TRUE;
}

gboolean
hf_edit_set(HfEditor *editor, const HfTarget *target, const HfNode *value, GError **error)
{
  const HfNode *parent = target->parent;
  if (parent == NULL)
    return refuse(error, "name one of its keys", "the whole recipe can't be set");
  if (parent->kind == HF_NODE_TEXT && target->grand == NULL)
    return refuse(error, "holdfast new writes one to start from", "there is nothing in this file");
  if (parent->kind == HF_NODE_TEXT) { /* `process:` with nothing behind it yet */
    g_autofree char *key = hf_write_text(target->key, HF_IN_FLOW, NULL, FALSE);
    g_autofree char *text = write_value(value, HF_IN_FLOW, NULL, FALSE);
    g_autofree char *table = g_strdup_printf("{%s: %s}", key, text);
    replace_value(editor, target->grand, target->parent_index, parent, table);
    return TRUE;
  }
  if (target->index < 0)
    return add_pair(editor, target, value);
  const HfNode *node = hf_node_item(parent, (guint)target->index);
  gboolean json = parent->flow && is_json(editor, parent);
  HfContext context = parent->flow ? HF_IN_FLOW : HF_IN_BLOCK;
  g_autofree char *text = write_value(value, context, node, json);
  replace_value(editor, parent, target->index, node, text);
  return TRUE;
}

/* --- remove --- */

static void
remove_from_flow(HfEditor *editor, const HfNode *node, guint i)
{
  const char *text = editor->source.text;
  gsize start = item_start(node, i), end = item_end(editor, node, i);
  gsize after = hf_edit_next(editor, end);
  gboolean comma = after < editor->source.length && text[after] == ',';
  if (comma)
    end = after + 1;
  if (first_on_line(editor, start) && last_on_line(editor, end) &&
      hf_edit_line_end(editor, end) < node->end) {
    start = hf_edit_line_start(editor, start);
    end = hf_edit_next_line(editor, end);
  } else if (comma && !last_on_line(editor, end)) {
    while (is_blank(text[end]))
      end++;
  } else if (!first_on_line(editor, start)) {
    while (is_blank(text[start - 1]))
      start--;
  }
  if (!comma && i > 0) { /* the last one: the comma before it goes too */
    gsize before = hf_edit_next(editor, item_end(editor, node, i - 1));
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
  gsize start = node->kind == HF_NODE_LIST ? dash_of(editor, node, i) : item_start(node, i);
  gsize end = item_end(editor, node, i);
  if (first_on_line(editor, start)) {
    gsize from = hf_edit_line_start(editor, start), to = hf_edit_next_line(editor, end);
    hf_edit_splice(editor, from, to, "");
    return;
  }
  /* Behind a dash: what comes next moves up, or stays below when remarks stand between. */
  gsize next =
      i + 1 < hf_node_size(node)
          ? (node->kind == HF_NODE_LIST ? dash_of(editor, node, i + 1) : item_start(node, i + 1))
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
    return refuse(error, "remove its keys one by one", "the whole recipe can't be removed");
  if (is_bare(editor, parent))
    hf_edit_splice(editor, parent->start, item_end(editor, parent, 0), "{}");
  else if (parent->flow)
    remove_from_flow(editor, parent, (guint)target->index);
  else if (hf_node_size(parent) == 1)
    replace_value(editor, target->grand, target->parent_index, parent,
                  parent->kind == HF_NODE_LIST ? "[]" : "{}");
  else
    remove_from_block(editor, parent, (guint)target->index);
  return TRUE;
}

/* --- insert --- */

/* The lines of @value, the first behind a dash, the others as far in as the first. */
static char *
as_block_item(const HfEditor *editor, const char *indent, const char *value)
{
  g_autoptr(GString) out = g_string_new(indent);
  g_autofree char *trimmed = g_strchomp(g_strdup(value));
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

/* An item that ends in a block text goes on one line, in quotes: as a block it would take up the
 * deeper remarks that may follow, or lack its line break at the end of the file. */
static char *
block_item(const HfEditor *editor, const char *indent, const char *value, const HfNode *item)
{
  if (item->kind != HF_NODE_TEXT && last_leaf(item)->style != HF_STYLE_BLOCK &&
      !has_document_marks(value))
    return as_block_item(editor, indent, value);
  g_autofree char *flow = hf_write_flow(item, FALSE);
  return as_block_item(editor, indent, flow);
}

/* A list that has nothing yet: `entries:` */
static gboolean
insert_into_nothing(HfEditor *editor, const HfTarget *target, const HfNode *list, const char *value,
                    const HfNode *item)
{
  const HfNode *parent = target->parent;
  if (parent == NULL || parent->flow || parent->kind != HF_NODE_TABLE) {
    g_autofree char *flow = hf_write_flow(item, FALSE);
    g_autofree char *text = g_strconcat("[", flow, "]", NULL);
    replace_value(editor, parent, target->index, list, text);
    return TRUE;
  }
  g_autofree char *left = indent_of(editor, parent, item_start(parent, 0));
  g_autofree char *indent = g_strconcat(left, "  ", NULL);
  gsize from = behind_colon(editor, parent, (guint)target->index);
  gsize at = hf_edit_line_end(editor, from);
  g_autofree char *block = block_item(editor, indent, value, item);
  g_autofree char *text = g_strconcat(editor->eol, block, NULL);
  if (list->end > list->start) /* ~ or null gives way */
    hf_edit_splice(editor, list->start, list->end, "");
  hf_edit_splice(editor, at, at, text);
  return TRUE;
}

static void
insert_into_block(HfEditor *editor, const HfTarget *target, const HfNode *list, guint index,
                  const char *value, const HfNode *item)
{
  g_autofree char *indent = indent_of(editor, list, list->start);
  gsize colon = target->parent != NULL && target->parent->kind == HF_NODE_TABLE
                    ? behind_colon(editor, target->parent, (guint)target->index)
                    : 0;
  if (index > 0 || (colon > 0 && last_on_line(editor, colon))) {
    /* behind the line of what comes before, so that remarks stay with the entry below them */
    gsize at = hf_edit_line_end(editor, index > 0 ? item_end(editor, list, index - 1) : colon);
    g_autofree char *block = block_item(editor, indent, value, item);
    g_autofree char *text = g_strconcat(editor->eol, block, NULL);
    hf_edit_splice(editor, at, at, text);
  } else {
    g_autofree char *block = block_item(editor, indent, value, item);
    g_autofree char *text = g_strconcat(block + strlen(indent), editor->eol, indent, NULL);
    hf_edit_splice(editor, list->start, list->start, text);
  }
}

gboolean
hf_edit_insert(HfEditor *editor, const HfTarget *target, const HfNode *list, guint index,
               const char *value, const HfNode *item, GError **error)
{
  if (hf_node_is_empty(list) && target->parent == NULL)
    return refuse(error, "holdfast new writes one to start from", "there is nothing in this file");
  if (hf_node_is_empty(list))
    return insert_into_nothing(editor, target, list, value, item);
  if (list->kind != HF_NODE_LIST)
    return refuse(error, "name a list, such as entries", "only a list takes items");
  if (list->flow) {
    g_autofree char *text = hf_write_flow(item, is_json(editor, list));
    add_to_flow(editor, list, index, text);
  } else {
    insert_into_block(editor, target, list, index, value, item);
  }
  return TRUE;
}
