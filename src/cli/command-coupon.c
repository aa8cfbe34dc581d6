/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-coupon.c - `holdfast coupon`: a test piece, and what the shop learned from it.
 */
#include "base/file.h"
#include "base/seen.h"
#include "cli/cli-private.h"
#include "run/couponed.h"
#include <math.h>
#include <string.h>

typedef struct {
  char *metal, *thickness, *kerf, *row, *font, *shop, *folder, *learn, *units;
  gboolean quiet;
} Said;

static void
said_clear(Said *said)
{
  char **all[] = {&said->metal, &said->thickness, &said->kerf,  &said->row,  &said->font,
                  &said->shop,  &said->folder,    &said->learn, &said->units};
  for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
    g_free(*all[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Said, said_clear)

static int
learn(const Said *said)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *told = NULL;
  g_autofree char *file = hf_coupon_take(said->learn, said->shop, &told, &error);
  if (file == NULL)
    return hf_cli_fail(error);
  g_autofree char *seen = hf_seen_place(file);
  if (!said->quiet)
    g_print("%swrote %s; findings say from now on: your process\n", told, seen);
  return 0;
}

static gboolean
read_sheet(const Said *said, HfCouponWish *wish, GError **error)
{
  if (said->metal == NULL || said->thickness == NULL) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "say --metal \"mild steel\" --thickness \"3 mm\"",
                 "a coupon is for one metal and thickness");
    return FALSE;
  }
  wish->metal = said->metal;
  wish->row = said->row;
  wish->font = said->font;
  wish->kerf = NAN;
  return hf_recipe_length(said->thickness, said->metal, &wish->thickness, error) &&
         (said->kerf == NULL || hf_recipe_length(said->kerf, NULL, &wish->kerf, error));
}

/* Never over what is there: results may be written in it. */
static gboolean
write_new(const char *folder, const char *name, const char *text, GError **error)
{
  g_autofree char *path = g_build_filename(folder, name, NULL);
  if (!g_file_test(path, G_FILE_TEST_EXISTS))
    return hf_file_write_new(path, text, strlen(text), error);
  hf_error_set(error, HF_ERROR_BAD_VALUE, path, "name another folder: -o FOLDER",
               "there is a coupon here already");
  return FALSE;
}

static int
make(const Said *said)
{
  g_autoptr(GError) error = NULL;
  HfCouponWish wish = {.metal = NULL};
  const char *folder = said->folder != NULL ? said->folder : "coupon";
  g_autofree char *recipe = NULL, *results = NULL;
  g_autofree char *file = g_build_filename(folder, "coupon.yaml", NULL);
  if (!read_sheet(said, &wish, &error) ||
      !hf_coupon_make(&wish, said->shop != NULL ? said->shop : file, said->shop != NULL, &recipe,
                      &results, &error) ||
      !hf_file_make_folder(folder, &error) || !write_new(folder, "coupon.yaml", recipe, &error) ||
      !write_new(folder, "coupon-results.yaml", results, &error))
    return hf_cli_fail(error);
  HfBatch batch = {.make = TRUE, .folder = folder, .quiet = said->quiet, .shop_file = said->shop};
  batch.wishes.pixels = 1600;
  char *files[] = {file, NULL};
  int code = hf_cli_batch(&batch, files);
  g_autofree char *seen = hf_seen_place(folder);
  if (!said->quiet)
    g_print("cut %s/coupon, write what came out into %s/coupon-results.yaml, then:\n"
            "holdfast coupon --learn %s/coupon-results.yaml\n",
            seen, seen, seen);
  return code;
}

int
hf_command_coupon(int argc, char **argv)
{
  g_auto(Said) said = {NULL};
  const GOptionEntry entries[] = {
      {"metal", 0, 0, G_OPTION_ARG_STRING, &said.metal, "mild steel, stainless steel, aluminium",
       "METAL"},
      {"thickness", 0, 0, G_OPTION_ARG_STRING, &said.thickness, "of the sheet: 3 mm, 1/8 in, 10 ga",
       "LENGTH"},
      {"kerf", 0, 0, G_OPTION_ARG_STRING, &said.kerf, "that it is cut with; else the shop file's",
       "LENGTH"},
      {"row", 0, 0, G_OPTION_ARG_STRING, &said.row, "or a row of the shop's cut chart", "NAME"},
      {"font", 0, 0, G_OPTION_ARG_STRING, &said.font, "a stencil family for its row of letters",
       "FAMILY"},
      {"output", 'o', 0, G_OPTION_ARG_FILENAME, &said.folder, "folder to write into (coupon)",
       "DIR"},
      {"learn", 0, 0, G_OPTION_ARG_FILENAME, &said.learn,
       "write what came out into the shop file: the file of results, filled in", "FILE"},
      {"shop", 0, 0, G_OPTION_ARG_FILENAME, &said.shop, "shop file to use instead of the one found",
       "FILE"},
      {"units", 0, 0, G_OPTION_ARG_STRING, &said.units, "mark and tell in mm, in or in-decimal",
       "UNIT"},
      {"quiet", 'q', 0, G_OPTION_ARG_NONE, &said.quiet, "print nothing but mistakes", NULL},
      {NULL}};
  HfUnits units;
  if (!hf_cli_parse("coupon", entries, &argc, &argv) || !hf_cli_units(said.units, &units))
    return 2;
  g_auto(HfUnitsScope) scope = hf_units_scope(units);
  if (argc == 1)
    return said.learn != NULL ? learn(&said) : make(&said);
  g_printerr("holdfast: a coupon is said by its sheet: holdfast coupon --metal \"mild steel\" "
             "--thickness \"3 mm\"\n");
  return 2;
}
