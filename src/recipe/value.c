/* SPDX-License-Identifier: GPL-3.0-or-later
 * value.c - nodes that code builds, or that one value was read into.
 */
#include "recipe/value.h"
#include "base/text.h"
#include "recipe/node-private.h"
#include <string.h>

/* ---- one value ----------------------------------------------------------------------------- */

HfNode *
hf_node_of_text(const char *text, HfTextStyle style)
{
  HfNode *node = g_new0(HfNode, 1);
  node->kind = HF_NODE_TEXT;
  node->style = style;
  node->text = g_strdup(text);
  return node;
}

/* No reader of YAML, of whatever version, takes it for anything but a text. */
static gboolean
is_simple(const char *text)
{
  static const char *const other[] = {"yes", "no", "true", "false", "on", "off", "null", NULL};
  if (!g_ascii_isalpha(text[0]) || g_strv_contains(other, text))
    return FALSE;
  for (const char *at = text; *at != '\0'; at++)
    if (!g_ascii_isalnum(*at) && *at != ' ' && *at != '-')
      return FALSE;
  return text[strlen(text) - 1] != ' ';
}

HfNode *
hf_node_new_text(const char *text)
{
  return hf_node_of_text(text, is_simple(text) ? HF_STYLE_PLAIN : HF_STYLE_DOUBLE);
}

HfNode *
hf_node_new_word(const char *word)
{
  return hf_node_of_text(word, HF_STYLE_PLAIN);
}

HfNode *
hf_node_new_number(double a, double b, int decimals, const char *unit)
{
  g_return_val_if_fail(isfinite(a) && isfinite(b) && unit != NULL, NULL);
  HfNode *node = g_new0(HfNode, 1);
  node->kind = HF_NODE_NUMBER;
  node->number = (HfNumber){a, b, decimals, unit};
  return node;
}

/* ---- several ------------------------------------------------------------------------------- */

void
hf_node_become(HfNode *node, HfNodeKind kind)
{
  g_clear_pointer(&node->text, g_free);
  node->kind = kind;
  node->items = g_ptr_array_new_with_free_func((GDestroyNotify)hf_node_free);
  if (kind == HF_NODE_TABLE)
    node->keys = g_ptr_array_new_with_free_func((GDestroyNotify)hf_node_free);
}

static HfNode *
holder_new(HfNodeKind kind)
{
  HfNode *node = g_new0(HfNode, 1);
  hf_node_become(node, kind);
  node->flow = TRUE;
  return node;
}

void
hf_node_add(HfNode *list, HfNode *item)
{
  g_return_if_fail(list->kind == HF_NODE_LIST && item != NULL);
  g_ptr_array_add(list->items, item);
}

void
hf_node_put(HfNode *table, const char *key, HfNode *item)
{
  g_return_if_fail(table->kind == HF_NODE_TABLE && item != NULL);
  g_ptr_array_add(table->keys, hf_node_of_text(key, HF_STYLE_PLAIN));
  g_ptr_array_add(table->items, item);
}

HfNode *
hf_node_new_empty_list(void)
{
  return holder_new(HF_NODE_LIST);
}

HfNode *
hf_node_new_empty_table(void)
{
  return holder_new(HF_NODE_TABLE);
}

HfNode *
hf_node_new_list(HfNode *first, ...)
{
  HfNode *list = holder_new(HF_NODE_LIST);
  va_list more;
  va_start(more, first);
  for (HfNode *item = first; item != NULL; item = va_arg(more, HfNode *))
    hf_node_add(list, item);
  va_end(more);
  return list;
}

HfNode *
hf_node_new_table(const HfPair *pairs, gsize n)
{
  HfNode *table = holder_new(HF_NODE_TABLE);
  for (gsize i = 0; i < n; i++)
    if (pairs[i].value != NULL)
      hf_node_put(table, pairs[i].key, pairs[i].value);
  return table;
}

HfNode *
hf_node_new_entry(const char *kind, HfNode *body)
{
  HfNode *entry = hf_table({kind, body});
  entry->flow = FALSE;
  return entry;
}

void
hf_node_put_in_entry(HfNode *entry, const char *key, HfNode *item)
{
  g_return_if_fail(entry->kind == HF_NODE_TABLE && entry->items->len == 1);
  hf_node_put(g_ptr_array_index(entry->items, 0), key, item);
}

/* ---- read, copied --------------------------------------------------------------------------- */

HfNode *
hf_node_new_read(const char *text, GError **error)
{
  HfSource source;
  HfMistakes mistakes;
  hf_source_init(&source, text, strlen(text));
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) node = hf_node_read(&source, &mistakes);
  gboolean good = hf_mistakes_raise(&mistakes, "the new value", error);
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
  if (!good)
    return NULL;
  node->written = g_strdup(text);
  return g_steal_pointer(&node);
}

static char *
number_text(HfNumber number, double k)
{
  GString *text = g_string_new(NULL);
  hf_text_append(text, number.b != 0 ? number.a + number.b * k : number.a, number.decimals);
  if (number.unit[0] != '\0')
    g_string_append_printf(text, " %s", number.unit);
  return g_string_free(text, FALSE);
}

static void
copy_all(GPtrArray *into, const GPtrArray *from, double k)
{
  for (guint i = 0; i < from->len; i++)
    g_ptr_array_add(into, hf_node_at(from->pdata[i], k));
}

HfNode *
hf_node_at(const HfNode *node, double k)
{
  HfNode *copy = g_new0(HfNode, 1);
  *copy = (HfNode){.kind = node->kind, .style = node->style, .flow = node->flow};
  copy->written = g_strdup(node->written);
  if (node->kind == HF_NODE_NUMBER) {
    copy->kind = HF_NODE_TEXT;
    copy->text = number_text(node->number, k);
  } else if (node->kind == HF_NODE_TEXT) {
    copy->text = g_strdup(node->text);
  } else {
    hf_node_become(copy, node->kind);
    copy_all(copy->items, node->items, k);
    if (node->kind == HF_NODE_TABLE)
      copy_all(copy->keys, node->keys, k);
  }
  return copy;
}
