/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-fonts.c - `holdfast fonts`: which there are, what they look like, how small they may be
 * cut.
 */
#include "base/text.h"
#include "cli/cli-private.h"
#include "faces/faces.h"
#include "stock/metals.h"
#include <stdio.h>
#include <string.h>
#include <unistd.h>

typedef struct {
  char *picture, *metal, *thickness, *kerf, *text, *shop;
  gboolean smallest, symbols, json;
} Wish;

static void
wish_clear(Wish *wish)
{
  char **all[] = {&wish->picture, &wish->metal, &wish->thickness,
                  &wish->kerf,    &wish->text,  &wish->shop};
  for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
    g_free(*all[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Wish, wish_clear)

/* One line on a terminal that is written over and wiped in the end; nothing elsewhere. */
static void
tell(guint done, guint total, const char *face, gpointer data)
{
  (void)data;
  if (isatty(STDERR_FILENO) && total > 4)
    fprintf(stderr, "\r\033[K%u of %u  %s", done + 1, total, face);
}

static void
wipe(void)
{
  if (isatty(STDERR_FILENO))
    fputs("\r\033[K", stderr);
}

static gboolean
read_length(const char *text, const char *option, const char *metal, double *mm, GError **error)
{
  return hf_recipe_length(text, metal, mm, error) ||
         (g_prefix_error(error, "--%s: ", option), FALSE);
}

static gboolean
read_metal(const Wish *wish, const HfMetalKind **metal, GError **error)
{
  *metal = hf_metal(wish->metal != NULL ? wish->metal : "mild steel");
  if (*metal != NULL)
    return TRUE;
  g_autofree char *list = hf_text_list(hf_metal_keys(), "or");
  g_autofree char *fix = g_strdup_printf("choose %s", list);
  hf_error_set(error, HF_ERROR_BAD_VALUE, "--metal", fix, "there is no metal \"%s\"", wish->metal);
  return FALSE;
}

/* Metal, thickness and kerf as a recipe would give them; a kerf from the shop file where it is not
 * said here. */
static gboolean
read_process(const Wish *wish, const HfShop *shop, HfProcess *process, GError **error)
{
  const HfMetalKind *metal;
  if (!read_metal(wish, &metal, error))
    return FALSE;
  if (wish->thickness == NULL) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "say --thickness \"3 mm\"",
                 "how small letters may be depends on the sheet's thickness");
    return FALSE;
  }
  double thickness, kerf = NAN;
  if (!read_length(wish->thickness, "thickness", metal->key, &thickness, error) ||
      (wish->kerf != NULL && !read_length(wish->kerf, "kerf", NULL, &kerf, error)))
    return FALSE;
  if (!(thickness >= 0.1 && thickness <= 100) ||
      (wish->kerf != NULL && !(kerf >= 0.1 && kerf <= 20))) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL,
                 "a thickness from 0.1 to 100 mm, a kerf from 0.1 to 20 mm",
                 "that is no sheet that is cut");
    return FALSE;
  }
  if (hf_fonts_process(metal->key, thickness, kerf, shop, process, NULL))
    return TRUE;
  hf_error_set(error, HF_ERROR_BAD_VALUE, NULL,
               "measure yours and say --kerf \"1.5 mm\", or write it into shop.yaml",
               "no kerf is given for this metal and thickness");
  return FALSE;
}

static int
print_smallest(HfFonts *fonts, const GPtrArray *faces, const Wish *wish)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfShop) shop =
      wish->shop != NULL ? hf_shop_read_file(wish->shop, &error) : hf_shop_find("./x", &error);
  HfProcess process;
  if (shop == NULL || !read_process(wish, shop, &process, &error))
    return hf_cli_fail(error);
  g_autoptr(GPtrArray) found = hf_fonts_smallest(fonts, faces, wish->text, &process, shop, tell,
                                                 NULL, hf_cli_interrupts(), &error);
  wipe();
  if (found == NULL)
    return hf_cli_fail(error);
  g_autofree char *said = wish->json ? hf_fonts_smallest_json(found, wish->text, &process)
                                     : hf_fonts_smallest_report(found, wish->text, &process);
  g_print("%s", said);
  return 0;
}

static int
print_picture(HfFonts *fonts, const GPtrArray *faces, const Wish *wish)
{
  g_autoptr(GError) error = NULL;
  const char *sample = wish->text != NULL ? wish->text : "Saltmarsh Quay 1847";
  guint sheets = wish->symbols ? hf_fonts_symbols_picture(fonts, faces, wish->picture, tell, NULL,
                                                          hf_cli_interrupts(), &error)
                               : hf_fonts_picture(fonts, faces, sample, wish->picture, tell, NULL,
                                                  hf_cli_interrupts(), &error);
  wipe();
  if (sheets == 0)
    return hf_cli_fail(error);
  if (sheets == 1)
    g_print("wrote %s\n", wish->picture);
  else
    g_print("wrote %s and %u more sheets beside it\n", wish->picture, sheets - 1);
  return 0;
}

static int
print_symbols(HfFonts *fonts, const GPtrArray *faces)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *said = hf_fonts_symbols_report(fonts, faces, hf_cli_interrupts(), &error);
  if (said == NULL)
    return hf_cli_fail(error);
  g_print("%s", said);
  return 0;
}

int
hf_command_fonts(int argc, char **argv)
{
  g_auto(Wish) wish = {NULL};
  const GOptionEntry entries[] = {
      {"picture", 0, 0, G_OPTION_ARG_FILENAME, &wish.picture, "draw each face on a sheet", "FILE"},
      {"smallest", 0, 0, G_OPTION_ARG_NONE, &wish.smallest,
       "tell the smallest letter height that can be cut", NULL},
      {"symbols", 0, 0, G_OPTION_ARG_NONE, &wish.symbols,
       "list the symbols that may be ornaments; with --picture draw them", NULL},
      {"metal", 0, 0, G_OPTION_ARG_STRING, &wish.metal, "mild steel unless you say otherwise",
       "METAL"},
      {"thickness", 0, 0, G_OPTION_ARG_STRING, &wish.thickness, "of the sheet: 3 mm, 1/8 in, 10 ga",
       "LENGTH"},
      {"kerf", 0, 0, G_OPTION_ARG_STRING, &wish.kerf, "as measured; else from the shop file",
       "LENGTH"},
      {"text", 0, 0, G_OPTION_ARG_STRING, &wish.text, "the words that are wanted", "WORDS"},
      {"shop", 0, 0, G_OPTION_ARG_FILENAME, &wish.shop, "shop file to use instead of the one found",
       "FILE"},
      {"json", 0, 0, G_OPTION_ARG_NONE, &wish.json, "for programs to read", NULL},
      {NULL}};
  if (!hf_cli_parse("fonts", entries, &argc, &argv))
    return 2;
  g_autoptr(GError) error = NULL;
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autofree char *word = g_strjoinv(" ", argv + 1);
  g_autoptr(GPtrArray) faces = hf_fonts_matching(fonts, word, &error);
  if (faces == NULL)
    return hf_cli_fail(error);
  if (wish.smallest)
    return print_smallest(fonts, faces, &wish);
  if (wish.picture != NULL)
    return print_picture(fonts, faces, &wish);
  if (wish.symbols)
    return print_symbols(fonts, faces);
  g_autofree char *said = wish.json ? hf_fonts_report_json(faces) : hf_fonts_report(fonts, faces);
  g_print("%s", said);
  return 0;
}
