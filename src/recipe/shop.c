/* SPDX-License-Identifier: GPL-3.0-or-later
 * The shop file: what the table and the process are like, read as a recipe is.
 */
#include "base/file.h"
#include "recipe/read-private.h"
#include <string.h>

static HfShop *
shop_new(const char *file)
{
  HfShop *shop = g_new0(HfShop, 1);
  hf_read_defaults(&hf_table_shop, shop);
  shop->file = g_strdup(file);
  return shop;
}

HfShop *
hf_shop_ref(HfShop *shop)
{
  g_atomic_int_inc(&shop->others);
  return shop;
}

void
hf_shop_free(HfShop *shop)
{
  if (shop == NULL || g_atomic_int_add(&shop->others, -1) > 0)
    return;
  hf_read_free(&hf_table_shop, shop);
  g_free(shop->file);
  g_free(shop);
}

static void
check_chart(HfReader *reader, const HfNode *root, const HfShop *shop)
{
  const HfNode *chart = hf_node_get(root, "chart");
  if (chart != NULL && hf_node_get(root, "kerf") != NULL)
    hf_mistake(reader->mistakes, chart->mark,
               "keep one of them: a chart says the kerf for each metal and thickness",
               "a shop file can't have both \"kerf\" and \"chart\"");
  for (guint i = 0; i < shop->chart->len; i++)
    for (guint j = 0; j < i; j++) {
      const HfChartRow *a = &g_array_index(shop->chart, HfChartRow, j);
      const HfChartRow *b = &g_array_index(shop->chart, HfChartRow, i);
      if (b->name != NULL && g_strcmp0(a->name, b->name) == 0)
        hf_mistake(reader->mistakes, hf_node_item(chart, i)->mark, "give it a name of its own",
                   "two rows are called \"%s\"", b->name);
      else if (a->name == NULL && b->name == NULL && g_strcmp0(a->metal, b->metal) == 0 &&
               a->thickness == b->thickness)
        hf_mistake(reader->mistakes, hf_node_item(chart, i)->mark,
                   "keep one of them, or give each a name that recipes can say",
                   "two rows are for the same metal and thickness");
    }
}

static HfShop *
shop_read(const char *text, gsize length, const char *file, GError **error)
{
  g_autoptr(HfShop) shop = shop_new(file);
  HfSource source;
  HfMistakes mistakes;
  hf_source_init(&source, text, length);
  hf_mistakes_init(&mistakes);
  HfReader reader = {&mistakes, g_array_new(FALSE, FALSE, sizeof(HfMention)), NULL, -1};
  g_autoptr(HfNode) root = hf_node_read(&source, &mistakes);
  if (root != NULL && root->kind != HF_NODE_TABLE)
    hf_mistake(&mistakes, root->mark, "start with holdfast: 1", "a shop file is a table of keys");
  else if (root != NULL && hf_read_version(&reader, root)) {
    hf_read_table(&reader, root, &hf_table_shop, shop);
    if (mistakes.total == 0)
      check_chart(&reader, root, shop);
  }
  gboolean good = hf_mistakes_raise(&mistakes, file, error);
  g_array_unref(reader.mentions);
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
  return good ? g_steal_pointer(&shop) : NULL;
}

HfShop *
hf_shop_read_file(const char *file, GError **error)
{
  g_return_val_if_fail(file != NULL, NULL);
  g_autoptr(GBytes) bytes = hf_file_read(file, HF_RECIPE_MAX_BYTES, error);
  if (bytes == NULL)
    return NULL;
  gsize length = 0;
  const char *text = g_bytes_get_data(bytes, &length);
  return shop_read(text != NULL ? text : "", length, file, error);
}

HfShop *
hf_shop_find(const char *recipe_file, GError **error)
{
  if (recipe_file != NULL) {
    g_autofree char *folder = g_path_get_dirname(recipe_file);
    g_autofree char *beside = strcmp(folder, ".") == 0
                                  ? g_strdup("shop.yaml")
                                  : g_build_filename(folder, "shop.yaml", NULL);
    if (g_file_test(beside, G_FILE_TEST_EXISTS))
      return hf_shop_read_file(beside, error);
  }
  g_autofree char *own = g_build_filename(g_get_user_config_dir(), "holdfast", "shop.yaml", NULL);
  if (g_file_test(own, G_FILE_TEST_EXISTS))
    return hf_shop_read_file(own, error);
  return shop_new(NULL);
}
