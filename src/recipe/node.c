/* SPDX-License-Identifier: GPL-3.0-or-later
 * The node tree itself, and what leads from a byte of the text to its line and column.
 */
#include "recipe/node-private.h"
#include <string.h>

/* Of a character in UTF-8. */
static gboolean
is_first_byte(char byte)
{
  return ((guchar)byte & 0xc0) != 0x80;
}

/* A line ends with LF, CR LF or CR, as editors count. */
void
hf_source_init(HfSource *source, const char *text, gsize length)
{
  gboolean marked = length >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0;
  *source = (HfSource){.text = text,
                       .length = length,
                       .bom = marked ? 3 : 0,
                       .lines = g_array_new(FALSE, FALSE, sizeof(gsize)),
                       .steps = g_array_new(FALSE, FALSE, sizeof(guint))};
  gsize start = source->bom;
  g_array_append_val(source->lines, start);
  for (gsize i = start; i < length; i++)
    if (text[i] == '\n' || (text[i] == '\r' && (i + 1 == length || text[i + 1] != '\n'))) {
      gsize next = i + 1;
      g_array_append_val(source->lines, next);
    }
  guint characters = 0;
  for (gsize i = 0; i < length; i++) {
    if (i % HF_SOURCE_STEP == 0)
      g_array_append_val(source->steps, characters);
    characters += is_first_byte(text[i]) ? 1 : 0;
  }
}

void
hf_source_clear(HfSource *source)
{
  g_clear_pointer(&source->lines, g_array_unref);
  g_clear_pointer(&source->steps, g_array_unref);
}

gsize
hf_source_next(const HfSource *source, gsize at)
{
  gboolean remark = FALSE;
  for (; at < source->length; at++) {
    char c = source->text[at];
    if (c == '\n' || c == '\r')
      remark = FALSE;
    else if (c == '#')
      remark = TRUE;
    else if (!remark && c != ' ' && c != '\t')
      break;
  }
  return at;
}

static guint
characters_before(const HfSource *source, gsize offset)
{
  if (source->steps->len == 0)
    return 0;
  gsize step = MIN(offset / HF_SOURCE_STEP, source->steps->len - 1);
  guint characters = g_array_index(source->steps, guint, step);
  for (gsize i = step * HF_SOURCE_STEP; i < offset; i++)
    characters += is_first_byte(source->text[i]) ? 1 : 0;
  return characters;
}

/* Columns count characters, a tab is one. */
HfMark
hf_source_mark(const HfSource *source, gsize offset)
{
  offset = MIN(offset, source->length);
  guint low = 0, high = source->lines->len;
  while (high - low > 1) {
    guint middle = (low + high) / 2;
    if (g_array_index(source->lines, gsize, middle) <= offset)
      low = middle;
    else
      high = middle;
  }
  gsize start = g_array_index(source->lines, gsize, low);
  guint column = 1 + characters_before(source, offset) - characters_before(source, start);
  return (HfMark){low + 1, column};
}

void
hf_node_free(HfNode *node)
{
  if (node == NULL)
    return;
  g_clear_pointer(&node->keys, g_ptr_array_unref);
  g_clear_pointer(&node->items, g_ptr_array_unref);
  g_free(node->text);
  g_free(node->written);
  g_free(node);
}

guint
hf_node_size(const HfNode *node)
{
  return node->items != NULL ? node->items->len : 0;
}

HfNode *
hf_node_item(const HfNode *node, guint i)
{
  return g_ptr_array_index(node->items, i);
}

HfNode *
hf_node_key(const HfNode *table, guint i)
{
  return g_ptr_array_index(table->keys, i);
}

HfNode *
hf_node_get(const HfNode *table, const char *key)
{
  if (table == NULL || table->kind != HF_NODE_TABLE)
    return NULL;
  for (guint i = 0; i < table->keys->len; i++)
    if (strcmp(hf_node_key(table, i)->text, key) == 0)
      return hf_node_item(table, i);
  return NULL;
}

gboolean
hf_node_is_empty(const HfNode *node)
{
  return node->kind == HF_NODE_TEXT && node->style == HF_STYLE_PLAIN &&
         (node->text[0] == '\0' || strcmp(node->text, "~") == 0 || strcmp(node->text, "null") == 0);
}

gboolean
hf_node_equal(const HfNode *a, const HfNode *b)
{
  if (a->kind != b->kind)
    return FALSE;
  if (a->kind == HF_NODE_TEXT)
    return hf_node_is_empty(a) ? hf_node_is_empty(b)
                               : !hf_node_is_empty(b) && strcmp(a->text, b->text) == 0;
  if (hf_node_size(a) != hf_node_size(b))
    return FALSE;
  for (guint i = 0; i < hf_node_size(a); i++) {
    if (a->kind == HF_NODE_TABLE && strcmp(hf_node_key(a, i)->text, hf_node_key(b, i)->text) != 0)
      return FALSE; /* a key is a word, also one that as a value would be none: ~ */
    if (!hf_node_equal(hf_node_item(a, i), hf_node_item(b, i)))
      return FALSE;
  }
  return TRUE;
}
