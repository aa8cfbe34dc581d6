/* SPDX-License-Identifier: GPL-3.0-or-later
 * treated-list.c - the cures in plain words, for a terminal.
 *
 *   3 cures, what is seen least first:
 *     1  whole      tie the loose parts of bakery
 *                   96.2 mm² added, lines move by 4.1 mm at most, 5 ties; left: 1 caution
 */
#include "base/seen.h"
#include "base/text.h"
#include "run/treated.h"

static void
add(GString *text, const char *between, const char *what)
{
  if (text->len > 0)
    g_string_append(text, between);
  g_string_append(text, what);
}

static void
add_count(GString *text, guint n, const char *word)
{
  if (n == 0)
    return;
  g_autofree char *count = g_strdup_printf("%u %s%s", n, word, n == 1 ? "" : "s");
  add(text, ", ", count);
}

static void
add_area(GString *text, double area, const char *what)
{
  if (area < 0.05)
    return;
  g_autofree char *figure = hf_text_area(area);
  g_autofree char *both = g_strconcat(figure, " ", what, NULL);
  add(text, ", ", both);
}

/* What is seen of it. */
static char *
seen(const HfCured *cured)
{
  g_autoptr(GString) text = g_string_new(NULL);
  add_area(text, cured->added, "added");
  add_area(text, cured->removed, "taken off");
  if (cured->shift >= 0.05) {
    g_autofree char *figure = hf_text_length(cured->shift, 1);
    g_autofree char *moves = g_strconcat("outlines move by ", figure, " at most", NULL);
    add(text, ", ", moves);
  }
  add_count(text, cured->ties, "tie");
  if (text->len == 0)
    g_string_append(text, "the metal stays as it is");
  return g_string_free(g_steal_pointer(&text), FALSE);
}

static char *
left(const HfCured *cured)
{
  g_autoptr(GString) text = g_string_new(NULL);
  add_count(text, cured->stops, "stop");
  add_count(text, cured->cautions, "caution");
  add_count(text, cured->notes, "note");
  if (text->len == 0)
    g_string_append(text, "nothing");
  return g_string_free(g_steal_pointer(&text), FALSE);
}

char *
hf_treated_line(const HfCured *cured)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(cured->sign->recipe->units);
  g_autofree char *what = seen(cured), *rest = left(cured);
  return g_strdup_printf("%s; left: %s", what, rest);
}

static void
add_cure(GString *text, const HfCured *cured, guint number, gboolean colour)
{
  g_autofree char *line = hf_treated_line(cured),
                  *sentence = hf_seen_message(cured->sentence, FALSE);
  const char *on = !colour ? "" : cured->whole ? "\033[1;32m" : "\033[33m";
  g_string_append_printf(text, "%4u  %s%-9s%s  %s\n", number, on,
                         cured->whole ? "whole" : "not whole", colour ? "\033[0m" : "", sentence);
  g_string_append_printf(text, "                 %s\n", line);
}

char *
hf_treated_list(const HfTreated *treated, gboolean colour)
{
  g_autoptr(GString) text = g_string_new(NULL);
  guint n = treated->cures->len;
  if (n == 0)
    g_string_append(text, treated->given->hold->whole && treated->given->hold->findings->len == 0
                              ? "nothing to cure\n"
                              : "no change was found that cures any of it\n");
  else
    g_string_append_printf(text, n == 1 ? "%u cure:\n" : "%u cures, what is seen least first:\n",
                           n);
  for (guint i = 0; i < n; i++)
    add_cure(text, treated->cures->pdata[i], i + 1, colour);
  if (n > 0 && hf_cures_best(treated->cures) == NULL)
    g_string_append(text, "none of them makes the sign whole\n");
  if (treated->searched && !treated->given->hold->whole && hf_cures_best(treated->cures) == NULL) {
    g_autofree char *why = hf_run_cures_why(treated->given, treated->cures);
    g_string_append(text, why);
  }
  if (treated->no_further)
    g_string_append(text,
                    "looked no further: there are more changes than are tried for one sign\n");
  return g_string_free(g_steal_pointer(&text), FALSE);
}
