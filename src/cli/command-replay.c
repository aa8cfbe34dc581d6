/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-replay.c - `holdfast replay`: what metal a cutting program leaves.
 */
#include "base/file.h"
#include "base/seen.h"
#include "cli/cli-private.h"
#include "run/replayed.h"
#include "stock/cautions.h"
#include <stdio.h>
#include <string.h>

typedef struct {
  char *kerf, *against, *within, *at, *table, *picture, *shop, *units, *layer;
  gboolean json, quiet;
} Wish;

static void
wish_clear(Wish *wish)
{
  char **all[] = {&wish->kerf,    &wish->against, &wish->within, &wish->at,   &wish->table,
                  &wish->picture, &wish->shop,    &wish->units,  &wish->layer};
  for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
    g_free(*all[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Wish, wish_clear)

/* ---- lengths ----------------------------------------------------------------------------------
 */

static gboolean
read_length(const char *text, const char *option, double least, double most, double *mm,
            GError **error)
{
  if (text == NULL)
    return TRUE;
  if (!hf_recipe_length(text, NULL, mm, error)) {
    g_prefix_error(error, "--%s: ", option);
    return FALSE;
  }
  if (*mm >= least && *mm <= most)
    return TRUE;
  g_autofree char *a = hf_text_mm(least), *b = hf_text_mm(most);
  g_autofree char *where = g_strconcat("--", option, NULL);
  g_autofree char *fix = g_strdup_printf("give %s to %s", a, b);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "\"%s\" is out of reach", text);
  return FALSE;
}

/* Two lengths with @between them. */
static gboolean
read_two(const char *text, const char *option, const char *between, double least, double *a,
         double *b, GError **error)
{
  if (text == NULL)
    return TRUE;
  g_auto(GStrv) both = g_strsplit(text, between, 2);
  if (g_strv_length(both) == 2)
    return read_length(g_strstrip(both[0]), option, least, 15000, a, error) &&
           read_length(g_strstrip(both[1]), option, least, 15000, b, error);
  g_autofree char *where = g_strconcat("--", option, NULL);
  g_autofree char *fix = g_strdup_printf("write two lengths with \"%s\" between them", between);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "\"%s\" is not two lengths", text);
  return FALSE;
}

static gboolean
read_layer(const char *text, HfLayerAt *layer, GError **error)
{
  *layer = text == NULL ? HF_LAYER_UNSAID : hf_layer_of_word(text);
  if (text == NULL || *layer != HF_LAYER_UNSAID)
    return TRUE;
  hf_error_set(error, HF_ERROR_BAD_VALUE, "--layer", "say front, middle or back",
               "there is no layer \"%s\"", text);
  return FALSE;
}

static gboolean
read_wish(const Wish *said, HfReplayedWish *wish, GError **error)
{
  return read_length(said->kerf, "kerf", 0.1, 20, &wish->kerf, error) &&
         read_length(said->within, "within", 0.001, 10, &wish->within, error) &&
         read_layer(said->layer, &wish->layer, error) &&
         read_two(said->at, "at", ",", -15000, &wish->at.x, &wish->at.y, error) &&
         read_two(said->table, "table", "x", 1, &wish->table_width, &wish->table_height, error);
}

/* ---- what comes of it -------------------------------------------------------------------------
 */

static gboolean
save_picture(const HfReplayed *replayed, const char *file, GError **error)
{
  if (file == NULL)
    return TRUE;
  g_autoptr(GBytes) bytes = hf_replayed_picture(replayed);
  gsize length;
  const void *data = g_bytes_get_data(bytes, &length);
  return hf_file_write(file, data, length, error);
}

static void
tell(const HfReplayed *replayed, const Wish *said)
{
  if (said->json) {
    g_autoptr(GBytes) json = hf_replayed_json(replayed);
    gsize length;
    const void *data = g_bytes_get_data(json, &length);
    fwrite(data, 1, length, stdout);
  } else if (!said->quiet) {
    g_autofree char *words = hf_replayed_words(replayed);
    g_print("%s", words);
    if (said->picture != NULL)
      g_print("wrote %s\n", said->picture);
    g_print("%s\n", hf_caution_line());
  }
}

static int
replay(const char *file, const Wish *said)
{
  g_autoptr(GError) error = NULL;
  HfReplayedWish wish = {
      .kerf = NAN, .against = said->against, .within = HF_REPLAY_WITHIN_MM, .at = {NAN, NAN}};
  HfRunOptions options = {.shop_file = said->shop};
  if (!read_wish(said, &wish, &error))
    return hf_cli_fail(error);
  options.cancel = hf_cli_interrupts();
  g_autoptr(HfReplayed) replayed = hf_replayed_file(file, &wish, &options, &error);
  if (replayed == NULL || !save_picture(replayed, said->picture, &error))
    return hf_cli_fail(error);
  tell(replayed, said);
  return hf_replayed_is_good(replayed) ? 0 : 1;
}

int
hf_command_replay(int argc, char **argv)
{
  g_auto(Wish) said = {NULL};
  const GOptionEntry entries[] = {
      {"kerf", 0, 0, G_OPTION_ARG_STRING, &said.kerf, "its width, such as \"1.5 mm\"", "LENGTH"},
      {"against", 0, 0, G_OPTION_ARG_FILENAME, &said.against, "the recipe that it is to cut",
       "RECIPE"},
      {"layer", 0, 0, G_OPTION_ARG_STRING, &said.layer,
       "which sheet of it, where it has several: front, middle or back", "LAYER"},
      {"within", 0, 0, G_OPTION_ARG_STRING, &said.within,
       "how far metal may lie off the sign; 0.05 mm", "LENGTH"},
      {"at", 0, 0, G_OPTION_ARG_STRING, &said.at,
       "where the sign's lower left corner lies, \"10 mm, 10 mm\"; else it is found", "X,Y"},
      {"table", 0, 0, G_OPTION_ARG_STRING, &said.table,
       "where the torch may go, \"1250 mm x 2500 mm\"; else the shop's", "SIZE"},
      {"picture", 0, 0, G_OPTION_ARG_FILENAME, &said.picture, "an SVG of what is left", "FILE"},
      {"shop", 0, 0, G_OPTION_ARG_FILENAME, &said.shop, "shop file to use instead of the one found",
       "FILE"},
      {"units", 0, 0, G_OPTION_ARG_STRING, &said.units, HF_CLI_UNITS_HELP, "UNIT"},
      {"json", 0, 0, G_OPTION_ARG_NONE, &said.json, "print what is found as JSON", NULL},
      {"quiet", 'q', 0, G_OPTION_ARG_NONE, &said.quiet, "print nothing but mistakes", NULL},
      {NULL}};
  HfUnits units;
  if (!hf_cli_parse("replay", entries, &argc, &argv) || !hf_cli_units(said.units, &units))
    return 2;
  g_auto(HfUnitsScope) scope = hf_units_scope(units);
  if (argc == 2)
    return replay(argv[1], &said);
  g_printerr("holdfast: name one program: holdfast replay boats.nc --kerf \"1.5 mm\"\n");
  return 2;
}
