/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-make.c - `holdfast make`.
 */
#include "base/seen.h"
#include "base/text.h"
#include "cli/cli-private.h"
#include <string.h>

static gboolean
read_also(char **also, HfWishes *wishes)
{
  for (guint i = 0; also != NULL && also[i] != NULL; i++) {
    if (hf_wish_also(wishes, also[i]))
      continue;
    g_autofree const char **words = hf_wish_words();
    g_autofree char *list = hf_text_list(words, "and");
    g_autofree char *shown = hf_seen_value(also[i]);
    g_printerr("holdfast: --also '%s' is not known; there is %s\n", shown, list);
    return FALSE;
  }
  return TRUE;
}

static gboolean
read_paper(const char *paper, HfPaper *ret_paper)
{
  if (paper == NULL || g_ascii_strcasecmp(paper, "a4") == 0) {
    *ret_paper = HF_PAPER_A4;
    return TRUE;
  }
  *ret_paper = HF_PAPER_LETTER;
  if (g_ascii_strcasecmp(paper, "letter") == 0)
    return TRUE;
  g_autofree char *shown = hf_seen_value(paper);
  g_printerr("holdfast: --paper '%s' is not known; there is a4 and letter\n", shown);
  return FALSE;
}

static gboolean
read_cure(const char *cure, gboolean *ret_cure)
{
  *ret_cure = cure != NULL;
  if (cure == NULL || strcmp(cure, "best") == 0)
    return TRUE;
  g_autofree char *shown = hf_seen_value(cure);
  g_printerr("holdfast: --cure '%s' is not known; there is best; 'holdfast cure' lists them all\n",
             shown);
  return FALSE;
}

/* "12", "back 12" */
static gboolean
read_from(const char *text, HfFromCut *from)
{
  if (text == NULL)
    return TRUE;
  g_auto(GStrv) words = g_strsplit_set(text, " ", 0);
  guint n = g_strv_length(words);
  guint64 cut = 0;
  from->layer = n == 2 ? hf_layer_of_word(words[0]) : HF_LAYER_UNSAID;
  gboolean good = (n == 1 || (n == 2 && from->layer != HF_LAYER_UNSAID)) &&
                  g_ascii_string_to_unsigned(words[n - 1], 10, 1, G_MAXINT, &cut, NULL);
  from->cut = (guint)cut;
  if (good)
    return TRUE;
  g_autofree char *shown = hf_seen_value(text);
  g_printerr("holdfast: --from-cut '%s' names no cut; they are counted from 1: 12, or of several "
             "sheets \"back 12\"\n",
             shown);
  return FALSE;
}

int
hf_command_make(int argc, char **argv)
{
  g_autofree char *folder = NULL, *shop = NULL, *paper = NULL, *cure = NULL, *units = NULL;
  g_autofree char *from = NULL;
  g_autofree char *more = hf_wish_help();
  g_auto(GStrv) also = NULL;
  int pixels = 1600;
  HfBatch batch = {.make = TRUE};
  const GOptionEntry entries[] = {
      {"output", 'o', 0, G_OPTION_ARG_FILENAME, &folder, "folder to write into (out)", "DIR"},
      {"also", 0, 0, G_OPTION_ARG_STRING_ARRAY, &also, more, "WHAT"},
      {"paper", 0, 0, G_OPTION_ARG_STRING, &paper, "paper of the proof: a4 or letter", "PAPER"},
      {"pixels", 0, 0, G_OPTION_ARG_INT, &pixels, "longer side of proof.png (1600)", "N"},
      {"cure", 0, 0, G_OPTION_ARG_STRING, &cure,
       "best: if it is not whole, make it with the best cure", "WHICH"},
      {"shop", 0, 0, G_OPTION_ARG_FILENAME, &shop, "shop file to use instead of the one found",
       "FILE"},
      {"watch", 'w', 0, G_OPTION_ARG_NONE, &batch.watch, "make again whenever a file changes",
       NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &batch.json, "print the report instead of words", NULL},
      {"all", 0, 0, G_OPTION_ARG_NONE, &batch.all, "list every place of a finding", NULL},
      {"from-cut", 0, 0, G_OPTION_ARG_STRING, &from,
       "also cut-rest.nc: the program from this cut on, for a torch that died; of several sheets "
       "\"back 12\"",
       "N"},
      HF_CLI_ORDER_OPTIONS(batch.order),
      {"units", 0, 0, G_OPTION_ARG_STRING, &units, HF_CLI_UNITS_HELP, "UNIT"},
      {"sizes", 0, 0, G_OPTION_ARG_NONE, &batch.sizes, "tell the size of every entry", NULL},
      {"quiet", 'q', 0, G_OPTION_ARG_NONE, &batch.quiet, "print nothing but mistakes", NULL},
      {NULL}};
  if (!hf_cli_parse("make", entries, &argc, &argv) || !read_also(also, &batch.wishes) ||
      !read_paper(paper, &batch.wishes.paper) || !read_cure(cure, &batch.cure) ||
      !read_from(from, &batch.wishes.from) || !hf_cli_units(units, &batch.units))
    return 2;
  if (pixels < 200 || pixels > 8000) {
    g_printerr("holdfast: --pixels %d is out of range; 200 to 8000\n", pixels);
    return 2;
  }
  batch.folder = folder == NULL ? "out" : folder;
  batch.wishes.pixels = (guint)pixels;
  batch.shop_file = shop;
  int code = hf_cli_batch(&batch, argv + 1);
  hf_order_clear(&batch.order);
  return code;
}
