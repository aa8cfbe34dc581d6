/* SPDX-License-Identifier: GPL-3.0-or-later
 * Numbers as text, nearest words, errors, whole files.
 */
#include "base/beside.h"
#include "base/error.h"
#include "base/file.h"
#include "base/folder.h"
#include "base/text.h"
#include <glib/gstdio.h>
#include <locale.h>
#include <math.h>
#include <sys/stat.h>

static void
test_number(void)
{
  static const struct {
    double value;
    int decimals;
    const char *text;
  } rows[] = {{3.7, 2, "3.7"},    {3.7037034000000002, 4, "3.7037"},
              {-0.00001, 3, "0"}, {100, 0, "100"},
              {0.5, 0, "0"},      {-12.50, 3, "-12.5"},
              {1e6, 2, "1000000"}};
  setlocale(LC_ALL, "de_DE.UTF-8"); /* a comma in a cut file is scrap metal */
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autofree char *text = hf_text_number(rows[i].value, rows[i].decimals);
    g_assert_cmpstr(text, ==, rows[i].text);
  }
  g_autofree char *fixed = hf_text_fixed(3.7, 2);
  g_assert_cmpstr(fixed, ==, "3.70");
}

/* Against the C library's own printf, which rounds the exact value (C11 7.21.6.1, F.5): random
 * values of all sizes, halves and their neighbours. */
static void
test_number_as_printf(void)
{
  setlocale(LC_ALL, "C");
  g_autoptr(GRand) rand = g_rand_new_with_seed(20261125);
  for (guint i = 0; i < 400000; i++) {
    int decimals = g_rand_int_range(rand, 0, 10);
    double size = pow(10, g_rand_double_range(rand, -10, 14));
    double value = g_rand_double_range(rand, -size, size);
    if (i % 4 == 0) /* halfway between two numbers of so many decimals, or as near as can be */
      value = (floor(value * pow(10, decimals)) + 0.5) / pow(10, decimals);
    if (i % 8 == 0)
      value = nextafter(value, i % 16 == 0 ? INFINITY : -INFINITY);
    char expected[64];
    g_snprintf(expected, sizeof expected, "%.*f", decimals, value);
    g_autofree char *text = hf_text_fixed(value, decimals);
    g_assert_cmpstr(text, ==, expected);
  }
}

/* 1 in = 25.4 mm exactly (international yard and pound agreement of 1959). */
static void
test_units(void)
{
  static const struct {
    double mm;
    const char *in_mm, *in, *decimal;
  } rows[] = {
      {25.4, "25.4 mm", "1 in", "1 in"},         {4.7625, "4.76 mm", "3/16 in", "0.188 in"},
      {2.5, "2.5 mm", "0.098 in", "0.098 in"},   {139.7, "139.7 mm", "5-1/2 in", "5.5 in"},
      {860, "860 mm", "33-7/8 in", "33.86 in"},  {-38.1, "-38.1 mm", "-1-1/2 in", "-1.5 in"},
      {0.004, "0 mm", "0.0002 in", "0.0002 in"}, {0, "0 mm", "0 in", "0 in"}};
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
    for (HfUnits units = HF_UNITS_UNSAID; units < HF_N_UNITS; units++) {
      g_auto(HfUnitsScope) scope = hf_units_scope(units);
      g_autofree char *text = hf_text_mm(rows[i].mm);
      g_assert_cmpstr(text, ==,
                      units == HF_UNITS_INCH           ? rows[i].in
                      : units == HF_UNITS_INCH_DECIMAL ? rows[i].decimal
                                                       : rows[i].in_mm);
    }
  g_assert_cmpint(hf_units_now(), ==, HF_UNITS_UNSAID);
}

/* Advice holds: what it says in sixteenths, turned back, is on the right side of what is true. */
static void
test_units_bound(void)
{
  static const struct {
    double mm;
    const char *most, *least;
  } rows[] = {{88, "3-7/16 in", "3-1/2 in"}, /* 3.4646 */
              {25.4 * 3.5, "3-1/2 in", "3-1/2 in"},
              {4.76, "0.187 in", "0.188 in"}, /* 0.18740: 3/16 would be too much */
              {400, "15-11/16 in", "15-3/4 in"}};
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_auto(HfUnitsScope) scope = hf_units_scope(HF_UNITS_INCH);
    g_autofree char *most = hf_text_at_most(rows[i].mm), *least = hf_text_at_least(rows[i].mm);
    g_assert_cmpstr(most, ==, rows[i].most);
    g_assert_cmpstr(least, ==, rows[i].least);
  }
  g_autofree char *plain = hf_text_at_most(61.27);
  g_assert_cmpstr(plain, ==, "61.27 mm");
}

static gpointer
told_there(gpointer data)
{
  return hf_text_told(data);
}

/* A thread tells as who began it does; what is no length stays. */
static void
test_units_beside(void)
{
  char said[] = "round it to 3 mm, or 25.4 mm; 10 mm2 and a 5 mm/min stay";
  HfBeside plain = hf_beside("plain", told_there, said);
  g_auto(HfUnitsScope) scope = hf_units_scope(HF_UNITS_INCH);
  HfBeside inches = hf_beside("inches", told_there, said);
  g_autofree char *as_it_was = hf_beside_end(&plain), *told = hf_beside_end(&inches);
  g_assert_cmpstr(as_it_was, ==, said);
  g_assert_cmpstr(told, ==, "round it to 0.118 in, or 1 in; 10 mm2 and a 5 mm/min stay");
}

static void
test_parse(void)
{
  static const struct {
    const char *text;
    gboolean good;
    double value;
    const char *rest;
  } rows[] = {{"3 mm", TRUE, 3, " mm"}, {"-.5", TRUE, -0.5, ""},  {"1e5", TRUE, 1, "e5"},
              {"inf", FALSE, 0, NULL},  {"0x10", TRUE, 0, "x10"}, {".", FALSE, 0, NULL}};
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    double value = 0;
    const char *end = NULL;
    g_assert_cmpint(hf_text_parse(rows[i].text, &value, &end), ==, rows[i].good);
    if (rows[i].good) {
      g_assert_cmpfloat(value, ==, rows[i].value);
      g_assert_cmpstr(end, ==, rows[i].rest);
    }
  }
}

static void
test_nearest(void)
{
  static const char *const words[] = {"ring", "plate", "bar", "words", NULL};
  g_assert_cmpstr(hf_text_nearest("rnig", words), ==, "ring");
  g_assert_cmpstr(hf_text_nearest("Plates", words), ==, "plate");
  g_assert_null(hf_text_nearest("zebra crossing", words));
  static const char *const metals[] = {"mild steel", "stainless steel", "galvanised steel", NULL};
  g_assert_cmpstr(hf_text_nearest("Stainless", metals), ==, "stainless steel");
  g_assert_null(hf_text_nearest("steel", metals)); /* which? */
  g_assert_cmpuint(hf_text_distance("ca", "ac"), ==, 1);
  g_autofree char *list = hf_text_list(words, "or");
  g_assert_cmpstr(list, ==, "ring, plate, bar or words");
}

static void
test_error(void)
{
  g_autoptr(GError) error = NULL;
  hf_error_set(&error, HF_ERROR_BAD_VALUE, "a.yaml:4:9", "write 3 mm", "found '%s'", "3mn");
  g_assert_cmpstr(error->message, ==, "a.yaml:4:9: found '3mn'; write 3 mm");
  g_assert_cmpstr(hf_error_where(error), ==, "a.yaml:4:9");
  g_assert_cmpstr(hf_error_fix(error), ==, "write 3 mm");
  g_assert_cmpint(hf_error_exit_code(error), ==, 2);
  g_autoptr(GError) copy = g_error_copy(error);
  g_assert_cmpstr(hf_error_fix(copy), ==, "write 3 mm");
}

static void
test_file(void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp("holdfast-XXXXXX", &error);
  g_autofree char *path = g_build_filename(folder, "a.txt", NULL);
  g_assert_true(hf_file_write(path, "one", 3, &error));
  g_assert_true(hf_file_write(path, "two!", 4, &error));
  g_autoptr(GBytes) bytes = hf_file_read(path, 100, &error);
  g_assert_cmpmem(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes), "two!", 4);
  g_assert_null(hf_file_read(path, 3, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_TOO_BIG);
  g_clear_error(&error);
  g_assert_null(hf_file_read(folder, 3, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_IO);
  g_clear_error(&error);
  g_autoptr(HfFolderLock) lock = hf_folder_lock(folder, 0, &error);
  g_assert_nonnull(lock);
  g_assert_null(hf_folder_lock(folder, 0.05, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_IO);
  g_unlink(path);
  g_rmdir(folder);
}

static void
test_write_again(void)
{
  g_autofree char *folder = g_dir_make_tmp("holdfast-XXXXXX", NULL);
  g_autofree char *path = g_build_filename(folder, "a.txt", NULL);
  struct stat info;
  g_assert_true(hf_file_write(path, "one", 3, NULL));
  g_assert_cmpint(g_chmod(path, 0600), ==, 0);
  g_assert_true(hf_file_write(path, "two", 3, NULL));
  g_assert_cmpint(stat(path, &info), ==, 0);
  g_assert_cmpint(info.st_mode & 0777, ==, 0600);
  g_autoptr(GError) error = NULL;
  g_assert_false(hf_file_write_new(path, "three", 5, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_NO_ROOM);
  g_autoptr(GBytes) bytes = hf_file_read(path, 100, NULL);
  g_assert_cmpmem(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes), "two", 3);
  g_unlink(path);
  g_assert_true(hf_file_write_new(path, "three", 5, NULL));
  g_unlink(path);
  g_assert_cmpint(g_rmdir(folder), ==, 0); /* nothing else was left */
}

static void
test_unfinished(void)
{
  g_autofree char *of = hf_file_unfinished("report.json.unfinished-a1B2c3");
  g_assert_cmpstr(of, ==, "report.json");
  const char *const others[] = {"report.json.backup", ".unfinished-a1B2c3", "report.json", "",
                                "report.json.unfinished-a1B2c34"};
  for (gsize i = 0; i < G_N_ELEMENTS(others); i++)
    g_assert_null(hf_file_unfinished(others[i]));
}

static GBytes *
bytes_of(const char *text)
{
  return g_bytes_new_static(text, strlen(text));
}

static void
assert_holds(const HfFolder *folder, const char *name, const char *text)
{
  g_autoptr(GBytes) bytes = hf_folder_read(folder, name, 100, NULL);
  g_assert_nonnull(bytes);
  g_assert_cmpmem(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes), text, strlen(text));
}

/* Staged it lies beside; placed it takes the place; what was not placed goes with the folder. */
static void
test_folder(void)
{
  g_autofree char *above = g_dir_make_tmp("holdfast-XXXXXX", NULL);
  g_autofree char *path = g_build_filename(above, "new", "folder", NULL);
  g_autoptr(HfFolder) folder = hf_folder_open(path, 0, NULL);
  g_assert_nonnull(folder);
  g_autoptr(GBytes) one = bytes_of("one"), two = bytes_of("two");
  struct stat info;
  g_assert_true(hf_folder_stage(folder, "a.txt", one, "", NULL));
  g_assert_false(hf_folder_stat(folder, "a.txt", &info));
  g_assert_true(hf_folder_place(folder, "a.txt", "", NULL));
  assert_holds(folder, "a.txt", "one");
  g_assert_true(hf_folder_stage(folder, "a.txt", two, "", NULL));
  assert_holds(folder, "a.txt", "one");
  g_clear_pointer(&folder, hf_folder_close);
  folder = hf_folder_open(path, 0, NULL);
  g_autoptr(GPtrArray) names = hf_folder_names(folder);
  g_assert_cmpuint(names->len, ==, 1);
  g_assert_true(hf_folder_sync(folder, "", NULL));
  g_assert_true(hf_folder_remove(folder, "a.txt", "", NULL));
  g_assert_true(hf_folder_remove(folder, "a.txt", "", NULL)); /* gone is gone */
  g_clear_pointer(&folder, hf_folder_close);
  g_assert_cmpint(g_rmdir(path), ==, 0);
  g_autofree char *between = g_path_get_dirname(path);
  g_assert_cmpint(g_rmdir(between), ==, 0);
  g_assert_cmpint(g_rmdir(above), ==, 0);
}

static void
test_folder_put_aside(void)
{
  g_autofree char *path = g_dir_make_tmp("holdfast-XXXXXX", NULL);
  g_autoptr(HfFolder) folder = hf_folder_open(path, 0, NULL);
  const char *const texts[] = {"one", "two"}, *const expected[] = {"a-1.yaml", "a-2.yaml"};
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
    g_autoptr(GBytes) bytes = bytes_of(texts[i]);
    g_autofree char *aside = NULL;
    g_assert_true(hf_folder_stage(folder, "a.yaml", bytes, "", NULL));
    g_assert_true(hf_folder_place(folder, "a.yaml", "", NULL));
    g_assert_true(hf_folder_put_aside(folder, "a.yaml", "", &aside, NULL));
    g_assert_cmpstr(aside, ==, expected[i]);
    assert_holds(folder, aside, texts[i]);
  }
  for (gsize i = 0; i < G_N_ELEMENTS(expected); i++)
    g_assert_true(hf_folder_remove(folder, expected[i], "", NULL));
  g_autofree char *aside = NULL;
  g_autoptr(GError) error = NULL;
  g_assert_false(hf_folder_put_aside(folder, "a.yaml", "all is well", &aside, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_IO);
  g_assert_nonnull(strstr(error->message, "all is well"));
  g_rmdir(path);
}

/* Of killed runs only what they staged for these names; a copy that somebody made is no such file.
 */
static void
test_folder_sweep(void)
{
  g_autofree char *path = g_dir_make_tmp("holdfast-XXXXXX", NULL);
  static const char *const files[] = {"a.txt.unfinished-000000", "a.txt.unfinished-a1B2c3",
                                      "b.txt.unfinished-000000", "a.txt.backup"};
  for (gsize i = 0; i < G_N_ELEMENTS(files); i++) {
    g_autofree char *file = g_build_filename(path, files[i], NULL);
    g_assert_true(g_file_set_contents(file, "x", 1, NULL));
  }
  g_autoptr(HfFolder) folder = hf_folder_open(path, 0, NULL);
  g_autoptr(GPtrArray) of = g_ptr_array_new();
  g_ptr_array_add(of, (gpointer) "a.txt");
  hf_folder_sweep(folder, of);
  g_autoptr(GPtrArray) left = hf_folder_names(folder);
  g_assert_cmpuint(left->len, ==, 2);
  g_assert_cmpstr(left->pdata[0], ==, "a.txt.backup");
  g_assert_cmpstr(left->pdata[1], ==, "b.txt.unfinished-000000");
  for (guint i = 0; i < left->len; i++)
    g_assert_true(hf_folder_remove(folder, left->pdata[i], "", NULL));
  g_rmdir(path);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/base/number", test_number);
  g_test_add_func("/base/number-as-printf", test_number_as_printf);
  g_test_add_func("/base/units", test_units);
  g_test_add_func("/base/units-bound", test_units_bound);
  g_test_add_func("/base/units-beside", test_units_beside);
  g_test_add_func("/base/parse", test_parse);
  g_test_add_func("/base/nearest", test_nearest);
  g_test_add_func("/base/error", test_error);
  g_test_add_func("/base/file", test_file);
  g_test_add_func("/base/write-again", test_write_again);
  g_test_add_func("/base/unfinished", test_unfinished);
  g_test_add_func("/base/folder", test_folder);
  g_test_add_func("/base/folder-put-aside", test_folder_put_aside);
  g_test_add_func("/base/folder-sweep", test_folder_sweep);
  return g_test_run();
}
