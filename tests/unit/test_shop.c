/* SPDX-License-Identifier: GPL-3.0-or-later
 * The shop file: what is read, what is refused, where it is looked for.
 */
#include "shop/shop.h"
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

typedef struct {
  char *folder, *recipe, *beside, *own, *own_folder;
} Folders;

static void
set_up(Folders *f, gconstpointer data)
{
  (void)data;
  f->folder = g_dir_make_tmp("holdfast-XXXXXX", NULL);
  g_assert_nonnull(f->folder);
  f->recipe = g_build_filename(f->folder, "boats.yaml", NULL);
  f->beside = g_build_filename(f->folder, "shop.yaml", NULL);
  f->own_folder = g_build_filename(g_get_user_config_dir(), "holdfast", NULL);
  f->own = g_build_filename(f->own_folder, "shop.yaml", NULL);
}

static void
tear_down(Folders *f, gconstpointer data)
{
  (void)data;
  g_remove(f->beside);
  g_remove(f->own);
  g_rmdir(f->folder);
  g_free(f->folder);
  g_free(f->recipe);
  g_free(f->beside);
  g_free(f->own);
  g_free(f->own_folder);
}

static void
write_file(const char *path, const char *text)
{
  g_assert_true(g_file_set_contents(path, text, -1, NULL));
}

static void
test_values(Folders *f, gconstpointer data)
{
  (void)data;
  g_autoptr(GError) error = NULL;
  write_file(f->beside,
             "holdfast: 1\n"
             "crater: 2 mm\n"
             "chart:\n"
             "  - {metal: mild steel, thickness: 11 ga, kerf: 1.4 mm, feed: 100 in/min, "
             "current: 45 A, pierce delay: 400 ms, cut height: 1/16 in, pierce height: 3.8 "
             "mm}\n"
             "  - {name: coarse, metal: aluminum, thickness: 11 ga, kerf: 1.8 mm}\n"
             "limits: {thin-web: 3.5 mm}\n"
             "table: [1250 mm, 4 ft]\n"
             "sheet: [1 m, 2 m]\n");
  g_autoptr(HfShop) shop = hf_shop_find(f->recipe, &error);
  g_assert_no_error(error);
  g_assert_cmpstr(shop->file, ==, f->beside);
  g_assert_true(isnan(shop->kerf));
  g_assert_cmpfloat(shop->crater, ==, 2);
  g_assert_cmpuint(shop->chart->len, ==, 2);
  const HfChartRow *row = &g_array_index(shop->chart, HfChartRow, 0);
  g_assert_cmpstr(row->metal, ==, "mild steel");
  g_assert_cmpfloat_with_epsilon(row->thickness, 0.1196 * 25.4, 1e-9);
  g_assert_cmpfloat(row->feed, ==, 2540);
  g_assert_cmpfloat(row->current, ==, 45);
  g_assert_cmpfloat_with_epsilon(row->pierce_delay, 0.4, 1e-12);
  g_assert_cmpfloat_with_epsilon(row->cut_height, 1.5875, 1e-12);
  row = &g_array_index(shop->chart, HfChartRow, 1);
  g_assert_cmpstr(row->name, ==, "coarse");
  g_assert_cmpstr(row->metal, ==, "aluminium");
  g_assert_cmpfloat_with_epsilon(row->thickness, 0.0907 * 25.4, 1e-9);
  g_assert_true(isnan(row->feed));
  g_assert_cmpfloat(g_array_index(shop->limits, HfLimitOverride, 0).value, ==, 3.5);
  g_assert_cmpfloat(shop->table_width, ==, 1250);
  g_assert_cmpfloat_with_epsilon(shop->table_height, 1219.2, 1e-9);
  g_assert_cmpfloat(shop->sheet_height, ==, 2000);
}

static void
test_where(Folders *f, gconstpointer data)
{
  (void)data;
  g_autoptr(HfShop) none = hf_shop_find(f->recipe, NULL);
  g_assert_null(none->file);
  g_assert_true(isnan(none->kerf));
  g_assert_cmpuint(none->chart->len, ==, 0);
  g_assert_cmpint(g_mkdir_with_parents(f->own_folder, 0700), ==, 0);
  write_file(f->own, "holdfast: 1\nkerf: 1.6 mm\n");
  g_autoptr(HfShop) own = hf_shop_find(f->recipe, NULL);
  g_assert_cmpfloat(own->kerf, ==, 1.6);
  write_file(f->beside, "holdfast: 1\nkerf: 1.2 mm\n");
  g_autoptr(HfShop) beside = hf_shop_find(f->recipe, NULL);
  g_assert_cmpfloat(beside->kerf, ==, 1.2);
}

static void
test_mistakes(Folders *f, gconstpointer data)
{
  (void)data;
  static const struct {
    const char *text, *message;
  } rows[] = {
      {"kerf: 1 mm\n", ":1:1: a shop file needs \"holdfast\"; add holdfast: 1"},
      {"holdfast: 1\nkref: 1 mm\n", ":2:1: \"kref\" is not a key of a shop file; write \"kerf\""},
      {"holdfast: 1\nkerf: 11 mm\n",
       ":2:7: kerf is 11 mm, which is too large; write something from 0.1 mm to 10 mm"},
      {"holdfast: 1\nkerf: 1 mm\nchart: [{metal: mild steel, thickness: 3 mm, kerf: 1 mm}]\n",
       ":3:8: a shop file can't have both \"kerf\" and \"chart\"; keep one of them: a chart says "
       "the "
       "kerf for each metal and thickness"},
      {"holdfast: 1\nchart:\n- {metal: mild steel, thickness: 3 mm, kerf: 1 mm}\n- {metal: mild "
       "steel, thickness: 0.3 cm, kerf: 2 mm}\n",
       ":4:3: two rows are for the same metal and thickness; keep one of them, or give each a name "
       "that recipes can say"},
      {"holdfast: 1\nchart:\n- {metal: mild steel, thickness: 3 mm, kerf: 1 mm, feed: 2600}\n",
       ":3:58: \"2600\" is not a number in mm/min; write it like this: 2600 mm/min"},
      {"- kerf\n", ":1:1: a shop file is a table of keys; start with holdfast: 1"},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(GError) error = NULL;
    write_file(f->beside, rows[i].text);
    g_assert_null(hf_shop_find(f->recipe, &error));
    g_autofree char *message = g_strconcat(f->beside, rows[i].message, NULL);
    g_assert_cmpstr(error->message, ==, message);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add("/shop/values", Folders, NULL, set_up, test_values, tear_down);
  g_test_add("/shop/where", Folders, NULL, set_up, test_where, tear_down);
  g_test_add("/shop/mistakes", Folders, NULL, set_up, test_mistakes, tear_down);
  return g_test_run();
}
