/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice_dump.c - for the checks from outside: reads a choice of ties as text, prints what is
 * chosen.
 *
 * usage: choice_dump < TASK      one JSON object. TASK: lines of a word and numbers
 *   parts N                                              first
 *   weights OWN ALIKE OPPOSED ODD THROUGH                mm2
 *   need PART TIES SPREAD TWINS OPPOSED DIRECT           spread in rad
 *   tie A B AREA STYLE ANGLE ANGLE_B PLACE PLACE_B MIRROR MIRROR_B
 *   conflict TIE TIE
 */
#include "base/text.h"
#include "tie/choice-private.h"

#define MOST_NUMBERS 10

static guint
read_numbers(char **words, double *numbers)
{
  guint n = 0;
  for (guint i = 1; words[i] != NULL && n < MOST_NUMBERS; i++)
    if (*words[i] != '\0')
      numbers[n++] = g_ascii_strtod(words[i], NULL);
  return n;
}

static void
read_line(const char *line, HfChoiceTask *task, HfNeed **needs, GArray *ties, GArray *conflicts)
{
  g_auto(GStrv) words = g_strsplit(line, " ", -1);
  double v[MOST_NUMBERS] = {0};
  if (words[0] == NULL || read_numbers(words, v) == 0)
    return;
  if (g_str_equal(words[0], "parts")) {
    task->n_parts = (guint)v[0];
    *needs = g_new0(HfNeed, task->n_parts + 1);
  } else if (g_str_equal(words[0], "weights")) {
    task->weights = (HfChoiceWeights){v[0], v[1], v[2], v[3], v[4]};
  } else if (g_str_equal(words[0], "need")) {
    g_assert(*needs != NULL && v[0] >= 1 && v[0] <= task->n_parts);
    (*needs)[(guint)v[0]] = (HfNeed){(guint)v[1], v[2], (guint)v[3], v[4] > 0, v[5] > 0};
  } else if (g_str_equal(words[0], "tie")) {
    HfCandidate tie = {(guint)v[0], (guint)v[1], v[2],        v[3],        v[4],
                       v[5],        (guint)v[6], (guint)v[7], (guint)v[8], (guint)v[9]};
    g_array_append_val(ties, tie);
  } else if (g_str_equal(words[0], "conflict")) {
    HfConflict conflict = {(guint)v[0], (guint)v[1]};
    g_array_append_val(conflicts, conflict);
  }
}

static void
print_choice(const HfChoice *choice)
{
  g_autoptr(GString) out = g_string_new("{\"chosen\": [");
  for (guint i = 0; i < choice->chosen->len; i++)
    g_string_append_printf(out, "%s%u", i > 0 ? ", " : "", g_array_index(choice->chosen, guint, i));
  g_string_append(out, "], \"unheld\": [");
  for (guint i = 0; i < choice->unheld->len; i++) {
    const HfUnheld *unheld = &g_array_index(choice->unheld, HfUnheld, i);
    g_string_append_printf(out, "%s[%u, %u]", i > 0 ? ", " : "", unheld->part, unheld->why);
  }
  g_string_append(out, "], \"lacking\": [");
  for (guint i = 0; i < choice->lacking->len; i++) {
    const HfLack *lack = &g_array_index(choice->lacking, HfLack, i);
    g_string_append_printf(out, "%s[%u, %u, %d, %d]", i > 0 ? ", " : "", lack->part, lack->ties,
                           lack->spread != 0, lack->one_way != 0);
  }
  const struct {
    const char *name;
    double value;
  } figures[] = {{"cost", choice->cost}, {"area", choice->area}, {"bound", choice->bound}};
  g_string_append_c(out, ']');
  for (guint i = 0; i < G_N_ELEMENTS(figures); i++) {
    g_string_append_printf(out, ", \"%s\": ", figures[i].name);
    hf_text_append(out, figures[i].value, 6);
  }
  g_print("%s, \"optimal\": %s}\n", out->str, choice->optimal ? "true" : "false");
}

int
main(void)
{
  HfChoiceTask task = {0};
  g_autofree HfNeed *needs = NULL;
  g_autoptr(GArray) ties = g_array_new(FALSE, FALSE, sizeof(HfCandidate));
  g_autoptr(GArray) conflicts = g_array_new(FALSE, FALSE, sizeof(HfConflict));
  g_autofree char *text = NULL;
  if (!g_file_get_contents("/dev/stdin", &text, NULL, NULL))
    return 2;
  g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    read_line(lines[i], &task, &needs, ties, conflicts);
  if (needs == NULL)
    return 2;
  task.candidates = (const HfCandidate *)(gconstpointer)ties->data;
  task.n_candidates = ties->len;
  task.needs = needs;
  task.conflicts = (const HfConflict *)(gconstpointer)conflicts->data;
  task.n_conflicts = conflicts->len;
  g_autoptr(HfChoice) choice = hf_choice_new(&task, NULL, NULL);
  print_choice(choice);
  return 0;
}
