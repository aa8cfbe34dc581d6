/* SPDX-License-Identifier: GPL-3.0-or-later
 * The shop file: what the table and the process are like, read as a recipe is.
 */
#include "shop/shop.h"
#include "base/file.h"
#include "shop/shop-private.h"
#include <string.h>

enum { MARK_BYTES = 1 << 20, MARK_PIXELS = 4000, PROGRAM_LINE = 256 };

static HfShop *
shop_new(const char *file)
{
  HfShop *shop = g_new0(HfShop, 1);
  hf_table_init(&hf_table_shop, shop);
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
  hf_table_clear(&hf_table_shop, shop);
  g_clear_pointer(&shop->mark_png, g_bytes_unref);
  g_free(shop->file);
  g_free(shop);
}

static void
check_rows(HfTold *told, int i, const HfChartRow *a, const HfChartRow *b)
{
  if (b->name != NULL && g_strcmp0(a->name, b->name) == 0)
    hf_told_refuse(told, "chart", i, "give it a name of its own", "two rows are called \"%s\"",
                   b->name);
  else if (a->name == NULL && b->name == NULL && g_strcmp0(a->metal, b->metal) == 0 &&
           a->thickness == b->thickness)
    hf_told_refuse(told, "chart", i, "keep one of them, or give each a name that recipes can say",
                   "two rows are for the same metal and thickness");
}

/* What goes into a program as it is: lines of ASCII that a program may have. */
static gboolean
is_program_line(const char *line)
{
  for (const char *c = line; *c != '\0'; c++)
    if (*c < ' ' || *c > '~')
      return FALSE;
  return line[0] != '\0' && strlen(line) < PROGRAM_LINE;
}

static void
check_line(HfTold *told, const char *line)
{
  if (line != NULL && !is_program_line(line))
    hf_told_refuse(told, "program", -1, "give plain letters, figures and signs, at most 255 a line",
                   "this can't stand in a program");
}

static void
check_program(HfTold *told, const HfShop *shop)
{
  const char *const lines[] = {shop->arc_on, shop->arc_off, shop->height_held, shop->height_free};
  for (gsize i = 0; i < G_N_ELEMENTS(lines); i++)
    check_line(told, lines[i]);
  const GPtrArray *const about[] = {shop->before, shop->after};
  for (gsize i = 0; i < G_N_ELEMENTS(about); i++)
    for (guint k = 0; about[i] != NULL && k < about[i]->len; k++)
      check_line(told, about[i]->pdata[k]);
  if ((shop->height_held == NULL) != (shop->height_free == NULL))
    hf_told_refuse(told, "program", -1, "give both, or none",
                   "\"height held\" and \"height free\" belong together");
}

static void
check_shop(HfTold *told, const void *base)
{
  const HfShop *shop = base;
  check_program(told, shop);
  if (hf_told_says(told, "chart") && hf_told_says(told, "kerf"))
    hf_told_refuse(told, "chart", -1,
                   "keep one of them: a chart says the kerf for each metal and thickness",
                   "a shop file can't have both \"kerf\" and \"chart\"");
  for (guint i = 0; i < shop->chart->len; i++)
    for (guint j = 0; j < i; j++)
      check_rows(told, (int)i, &g_array_index(shop->chart, HfChartRow, j),
                 &g_array_index(shop->chart, HfChartRow, i));
}

/* Width and height stand behind the signature and the first chunk's length and name, most
 * significant byte first (PNG specification, IHDR, from memory): looked at before anything is
 * unpacked. */
static gboolean
is_small_png(GBytes *bytes)
{
  static const guchar head[] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'};
  gsize n;
  const guchar *at = g_bytes_get_data(bytes, &n);
  if (n < 33 || memcmp(at, head, sizeof head) != 0 || memcmp(at + 12, "IHDR", 4) != 0)
    return FALSE;
  guint side[2];
  for (int i = 0; i < 2; i++) {
    const guchar *p = at + 16 + 4 * i;
    side[i] = (guint)p[0] << 24 | (guint)p[1] << 16 | (guint)p[2] << 8 | p[3];
  }
  return side[0] >= 1 && side[1] >= 1 && side[0] <= MARK_PIXELS && side[1] <= MARK_PIXELS;
}

static gboolean
read_mark(HfShop *shop, GError **error)
{
  if (shop->mark == NULL)
    return TRUE;
  g_autofree char *folder = g_path_get_dirname(shop->file);
  g_autofree char *path = g_build_filename(folder, shop->mark, NULL);
  g_autoptr(GBytes) bytes = hf_file_read(path, MARK_BYTES, error);
  if (bytes == NULL)
    return FALSE;
  if (!is_small_png(bytes)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, shop->file,
                 "save it as a PNG of at most 4000 pixels a side", "the mark \"%s\" can't be used",
                 shop->mark);
    return FALSE;
  }
  shop->mark_png = g_steal_pointer(&bytes);
  return TRUE;
}

HfShop *
hf_shop_read(const char *text, gsize length, const char *file, GError **error)
{
  g_autoptr(HfShop) shop = shop_new(file);
  if (!hf_table_read(&hf_table_shop, "a shop file", text != NULL ? text : "", length, file,
                     check_shop, shop, error))
    return NULL;
  return g_steal_pointer(&shop);
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
  g_autoptr(HfShop) shop = hf_shop_read(text, length, file, error);
  return shop != NULL && read_mark(shop, error) ? g_steal_pointer(&shop) : NULL;
}

char *
hf_shop_own_file(void)
{
  return g_build_filename(g_get_user_config_dir(), "holdfast", "shop.yaml", NULL);
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
  g_autofree char *own = hf_shop_own_file();
  if (g_file_test(own, G_FILE_TEST_EXISTS))
    return hf_shop_read_file(own, error);
  return shop_new(NULL);
}
