/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-cure.c - `holdfast cure`: what would make a sign hold; takes one of it.
 */
#include "cli/cli-private.h"
#include "run/treated.h"
#include "stock/cautions.h"
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { NOT_GIVEN = G_MININT };

typedef struct {
  char *shop, *output, *pictures, *units;
  HfOrder order; /* where the file is a drawing */
  int take;
  gboolean best, over, json, quiet;
} Wish;

/* ---- while it searches ------------------------------------------------------------------------
 */

static void
clear_line(void)
{
  fputs("\r\033[K", stderr);
}

static void
tell_found(const HfCured *cured, gpointer data)
{
  (void)data;
  clear_line();
  g_printerr("found: %s (%s)\n", cured->sentence, cured->whole ? "whole" : "not whole");
}

static void
tell_progress(guint tried, guint of, gpointer data)
{
  (void)data;
  clear_line();
  if (tried < of)
    fprintf(stderr, "%u of %u changes tried", tried, of);
  fflush(stderr);
}

static HfTreated *
treat(const char *file, const Wish *wish, GError **error)
{
  const HfCancel *cancel = hf_cli_interrupts();
  HfRunOptions options = {wish->shop, cancel, FALSE, &wish->order};
  HfCuresOptions cures = {.cancel = cancel};
  gboolean taking = wish->best || wish->take > 0;
  if (isatty(STDERR_FILENO) && !wish->quiet) {
    cures.found = wish->json || taking ? NULL : tell_found;
    cures.progress = tell_progress;
  }
  HfTreated *treated = hf_treated_file(
      file, &options, wish->best ? HF_SEARCH_FOR_WHOLE : HF_SEARCH_ALWAYS, &cures, error);
  if (cures.progress != NULL)
    clear_line();
  return treated;
}

/* ---- taking one -------------------------------------------------------------------------------
 */

/* %FALSE: there is none such, said on stderr. @ret_cured %NULL: the recipe as it is. */
static gboolean
choose(const HfTreated *treated, const Wish *wish, const HfCured **ret_cured, int *ret_code)
{
  guint n = treated->cures->len;
  *ret_cured = NULL;
  if (wish->best) {
    *ret_cured = hf_run_cures_best(treated->cures);
    if (*ret_cured != NULL || treated->given->hold->whole)
      return TRUE;
    g_printerr("holdfast: no cure was found that makes %s whole; 'holdfast cure %s' lists what "
               "helps\n",
               treated->file, treated->file);
    *ret_code = 1;
    return FALSE;
  }
  if (wish->take <= (int)n) {
    *ret_cured = treated->cures->pdata[wish->take - 1];
    return TRUE;
  }
  if (n == 0)
    g_printerr("holdfast: there is no cure to take: none was found\n");
  else
    g_printerr("holdfast: there is no cure %d; there %s %u\n", wish->take, n == 1 ? "is" : "are",
               n);
  *ret_code = 2;
  return FALSE;
}

/* With -o to stdout what was done; without it the recipe itself, and the words to stderr. */
static void
say_taken(const HfTreated *treated, const HfCured *cured, const Wish *wish, FILE *to)
{
  if (wish->quiet)
    return;
  if (cured == NULL) {
    fprintf(to, "%s is whole as it is\n", treated->file);
  } else {
    g_autofree char *line = hf_treated_line(cured);
    fprintf(to, "%s: %s\n%s\n", cured->whole ? "whole" : "not whole", cured->sentence, line);
  }
  if (wish->output == NULL)
    return;
  fprintf(to, "wrote %s\n", wish->output);
  const char *beside = hf_treated_beside(treated, wish->output);
  if (beside != NULL)
    fprintf(to, "mind: %s %s looked for beside a recipe; put %s beside %s too\n", beside,
            g_str_has_suffix(beside, "s") ? "are" : "is",
            g_str_has_suffix(beside, "s") ? "them" : "it", wish->output);
}

static int
take(const HfTreated *treated, const Wish *wish)
{
  const HfCured *cured = NULL;
  int code = 0;
  if (!choose(treated, wish, &cured, &code))
    return code;
  g_autoptr(GError) error = NULL;
  if (wish->output != NULL) {
    if (!hf_treated_save(treated, cured, wish->output, wish->over, &error))
      return hf_cli_fail(error);
  } else if (!wish->json) {
    if (cured != NULL)
      fwrite(cured->recipe, 1, cured->length, stdout);
    else
      fwrite(g_bytes_get_data(treated->text, NULL), 1, g_bytes_get_size(treated->text), stdout);
  }
  if (!wish->json)
    say_taken(treated, cured, wish, wish->output != NULL ? stdout : stderr);
  return cured != NULL && !cured->whole ? 1 : 0;
}

static void
tell_list(const HfTreated *treated, const Wish *wish)
{
  gboolean colour = hf_cli_colour(STDOUT_FILENO);
  g_autofree char *verdict = hf_run_verdict(treated->given, colour, FALSE);
  g_autofree char *list = hf_treated_list(treated, colour);
  fputs(verdict, stdout);
  fputs(list, stdout);
  g_autofree char *line = hf_cli_line(treated->file, &wish->order);
  if (treated->cures->len > 0)
    g_print("take one: holdfast cure %s --take 1 -o NEW.yaml\n", line);
  g_print("%s\n", hf_caution_line());
  if (wish->pictures != NULL)
    g_print("pictures: %s\n", wish->pictures);
}

static void
print_report(const HfTreated *treated)
{
  g_autoptr(HfJob) job = hf_treated_job(treated, NULL, (HfWishes){0});
  g_autoptr(GBytes) report = hf_job_report(job);
  fwrite(g_bytes_get_data(report, NULL), 1, g_bytes_get_size(report), stdout);
}

/* ---- the command ------------------------------------------------------------------------------
 */

static gboolean
wish_is_sound(const Wish *wish, gboolean take_given, char **files)
{
  const char *wrong = NULL;
  gboolean taking = wish->best || take_given;
  if (files[0] == NULL)
    wrong = "which recipe? name one";
  else if (files[1] != NULL)
    wrong = "one recipe at a time; 'holdfast make --cure best' takes many";
  else if (wish->best && take_given)
    wrong = "--best and --take are two ways to choose; keep one";
  else if (take_given && wish->take < 1)
    wrong = "--take counts from 1, as the list does";
  else if (wish->output != NULL && !taking)
    wrong = "-o writes the cured recipe; say which: --take N, or --best";
  else if (wish->over && wish->output == NULL)
    wrong = "--over goes with -o FILE";
  if (wrong != NULL)
    g_printerr("holdfast: %s\n", wrong);
  return wrong == NULL;
}

static int
cure(const char *file, const Wish *wish)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfTreated) treated = treat(file, wish, &error);
  if (treated == NULL)
    return hf_cli_fail(error);
  if (wish->pictures != NULL && !hf_treated_draw(treated, wish->pictures, &error))
    return hf_cli_fail(error);
  if (wish->json)
    print_report(treated);
  if (wish->best || wish->take > 0)
    return take(treated, wish);
  if (!wish->json && !wish->quiet)
    tell_list(treated, wish);
  return treated->given->hold->whole ? 0 : 1;
}

int
hf_command_cure(int argc, char **argv)
{
  Wish wish = {.take = NOT_GIVEN};
  const GOptionEntry entries[] = {
      {"take", 0, 0, G_OPTION_ARG_INT, &wish.take, "take cure N of the list", "N"},
      {"best", 0, 0, G_OPTION_ARG_NONE, &wish.best,
       "take the one that is seen least of those that make the sign whole", NULL},
      {"output", 'o', 0, G_OPTION_ARG_FILENAME, &wish.output,
       "write the cured recipe here (else it is printed)", "FILE"},
      {"over", 0, 0, G_OPTION_ARG_NONE, &wish.over,
       "write over FILE if it is there; never over RECIPE", NULL},
      {"pictures", 0, 0, G_OPTION_ARG_FILENAME, &wish.pictures,
       "draw each cure, before and after, into this folder", "FOLDER"},
      {"shop", 0, 0, G_OPTION_ARG_FILENAME, &wish.shop, "shop file to use instead of the one found",
       "FILE"},
      HF_CLI_ORDER_OPTIONS(wish.order),
      {"units", 0, 0, G_OPTION_ARG_STRING, &wish.units, HF_CLI_UNITS_HELP, "UNIT"},
      {"json", 0, 0, G_OPTION_ARG_NONE, &wish.json, "print the report with its cures", NULL},
      {"quiet", 'q', 0, G_OPTION_ARG_NONE, &wish.quiet, "print nothing but mistakes", NULL},
      {NULL}};
  HfUnits units;
  if (!hf_cli_parse("cure", entries, &argc, &argv) || !hf_cli_units(wish.units, &units))
    return 2;
  g_auto(HfUnitsScope) scope = hf_units_scope(units);
  gboolean take_given = wish.take != NOT_GIVEN;
  int code = wish_is_sound(&wish, take_given, argv + 1) ? cure(argv[1], &wish) : 2;
  g_free(wish.shop);
  g_free(wish.output);
  g_free(wish.pictures);
  g_free(wish.units);
  hf_order_clear(&wish.order);
  return code;
}
