/* SPDX-License-Identifier: GPL-3.0-or-later
 * A file that one schema table describes, read whole.
 */
#include "recipe/table.h"
#include "recipe/read-private.h"

struct HfTold {
  HfReader *reader;
  const HfNode *root;
};

void
hf_table_init(const HfTable *table, void *base)
{
  hf_read_defaults(table, base);
}

void
hf_table_clear(const HfTable *table, void *base)
{
  hf_read_free(table, base);
}

gboolean
hf_told_says(const HfTold *told, const char *key)
{
  return hf_node_get(told->root, key) != NULL;
}

void
hf_told_refuse(HfTold *told, const char *key, int row, const char *fix, const char *format, ...)
{
  const HfNode *at = hf_node_get(told->root, key);
  if (at != NULL && row >= 0)
    at = hf_node_item(at, (guint)row);
  g_return_if_fail(at != NULL);
  va_list arguments;
  va_start(arguments, format);
  g_autofree char *what = g_strdup_vprintf(format, arguments);
  va_end(arguments);
  hf_mistake(told->reader->mistakes, at->mark, fix, "%s", what);
}

gboolean
hf_table_read(const HfTable *table, const char *what, const char *text, gsize length,
              const char *file, void (*check)(HfTold *told, const void *base), void *base,
              GError **error)
{
  HfSource source;
  HfMistakes mistakes;
  hf_source_init(&source, text, length);
  hf_mistakes_init(&mistakes);
  HfReader reader = {&mistakes, g_array_new(FALSE, FALSE, sizeof(HfMention)), NULL, -1};
  g_autoptr(HfNode) root = hf_node_read(&source, &mistakes);
  if (root != NULL && root->kind != HF_NODE_TABLE)
    hf_mistake(&mistakes, root->mark, "start with holdfast: 1", "%s is a table of keys", what);
  else if (root != NULL && hf_read_version(&reader, root)) {
    hf_read_table(&reader, root, table, base);
    if (mistakes.total == 0 && check != NULL)
      check(&(HfTold){&reader, root}, base);
  }
  gboolean good = hf_mistakes_raise(&mistakes, file, error);
  g_array_unref(reader.mentions);
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
  return good;
}
