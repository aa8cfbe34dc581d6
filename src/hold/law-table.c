/* SPDX-License-Identifier: GPL-3.0-or-later
 * law-table.c - docs/limits.md, written from the table of law.c so that the two can't differ.
 */
#include "base/text.h"
#include "hold/law.h"
#include <string.h>

static const char intro[] =
    "# Limits\n"
    "\n"
    "Written by `tools/limits` from the table in `src/hold/law.c`; a test compares the two.\n"
    "\n"
    "What the hold check measures, and against what. t is the thickness of the sheet, k the width "
    "of "
    "the kerf, c the radius of the crater of a pierce (the kerf, unless shop or recipe say "
    "otherwise). Below the limit is trouble where the table says *at least*, above it where it "
    "says "
    "*at most*. A *stop* means: must not be cut. A *caution*: look at it. A *note*: for "
    "information. "
    "A sign without a stop is whole, which says nothing of strength, wind or fixings.\n"
    "\n"
    "All figures are starting values for sheet of 1.5 to 5 mm on machines of 40 to 60 A. They are "
    "common practice without a source, except where the table names a standard, and except what "
    "follows from the geometry of the kerf, which is computed. Replace them by what your own test "
    "cut shows, in `shop.yaml` or, for one sign, in its recipe (the recipe wins):\n"
    "\n"
    "```yaml\n"
    "limits:\n"
    "  thin-web: 2.5 mm           # the stop; its caution keeps its proportion\n"
    "  thin-web caution: 4 mm     # the caution alone\n"
    "```\n"
    "\n"
    "The report says who spoke: *common practice*, *standard X clause Y*, or *your process* (shop "
    "file or recipe). Widths are computed to 0.01 mm; less than that under a limit counts as kept. "
    "A caution can be accepted in the recipe with a reason and stays visible; a stop can't. What "
    "each "
    "cure changes is in [cures.md](cures.md).\n";

/* A worked-out limit as `3.75 mm`; `-` when there is none. */
static void
append_value(GString *text, double value, const char *unit)
{
  if (isnan(value)) {
    g_string_append_c(text, '-');
    return;
  }
  hf_text_append(text, value, 2);
  if (strcmp(unit, "deg") == 0)
    g_string_append(text, "\u00b0");
  else if (unit[0] != '\0')
    g_string_append_printf(text, " %s", unit);
}

static const char *
gravity_word(const HfLaw *law)
{
  static const char *const words[] = {"note", "caution", "stop"};
  return words[law->gravity];
}

static void
append_law(GString *text, const HfLaw *law)
{
  const char *side = law->unit[0] == '\0' ? "" : law->at_least ? " (at least)" : " (at most)";
  g_string_append_printf(text, "| `%s` | %s%s | %s | %s | %s | %s | ", law->key, law->quantity,
                         side, law->formula_stop != NULL ? law->formula_stop : "-",
                         law->formula_caution != NULL ? law->formula_caution : "-",
                         gravity_word(law), law->source);
  g_string_append_printf(text, "%s | %s | ", law->reference, law->why);
  for (guint i = 0; law->cures[i] != NULL; i++)
    g_string_append_printf(text, "%s%s", i > 0 ? ", " : "", law->cures[i]);
  g_string_append(text, " |\n");
}

static void
append_laws(GString *text)
{
  g_string_append(
      text, "\n## The law\n\n"
            "| key | what is measured | stop | caution or note | gravest | source | about the "
            "source | why | cures |\n"
            "|---|---|---|---|---|---|---|---|---|\n");
  for (guint i = 0; i < HF_N_LAWS; i++)
    append_law(text, hf_law((HfLawKind)i));
}

static void
append_figures(GString *text)
{
  static const char *const meaning[HF_N_FIGURES] = {
      "an outer point rounder than this does not hurt",
      "a web longer than so many of its widths is a long web",
      "stroke of a house number, at least; standard IFC clause 505.1",
      "letters are read with ease from so many letter heights away",
  };
  const HfRecipe nobody = {.read_from = NAN};
  g_string_append(text, "\n## Figures beside the limits\n\nChanged by their own keys.\n\n"
                        "| key | default | what |\n|---|---|---|\n");
  for (guint i = 0; i < HF_N_FIGURES; i++) {
    HfFigure figure = (HfFigure)i;
    g_string_append_printf(text, "| `%s` | ", hf_law_figure_key(figure));
    append_value(text, hf_law_figure(figure, NULL, &nobody, NULL), hf_law_figure_unit(figure));
    g_string_append_printf(text, " | %s |\n", meaning[i]);
  }
}

/* What the formulas come to on usual sheet: stop / caution. */
static void
append_examples(GString *text)
{
  static const HfProcess sheets[] = {{1.5, 1.2, 1.2, 7850, 12e-6, "mild steel"},
                                     {3, 1.5, 1.5, 7850, 12e-6, "mild steel"},
                                     {5, 1.8, 1.8, 7850, 12e-6, "mild steel"}};
  const HfRecipe nobody = {.read_from = NAN};
  g_string_append(text,
                  "\n## Worked out\n\nStop / caution, when neither shop nor recipe speaks.\n\n"
                  "| key | t 1.5, k 1.2 | t 3, k 1.5 | t 5, k 1.8 |\n|---|---|---|---|\n");
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    if ((law->stop == NULL && law->caution == NULL) || law->kind == HF_LAW_SMALL_LETTERS)
      continue;
    g_string_append_printf(text, "| `%s` |", law->key);
    for (guint s = 0; s < G_N_ELEMENTS(sheets); s++) {
      HfLimit limit = hf_law_limit(law->kind, &sheets[s], NULL, &nobody);
      g_string_append_c(text, ' ');
      append_value(text, limit.stop, law->unit);
      g_string_append(text, " / ");
      append_value(text, limit.caution, law->unit);
      g_string_append(text, " |");
    }
    g_string_append_c(text, '\n');
  }
}

char *
hf_law_table(void)
{
  g_autoptr(GString) text = g_string_new(intro);
  append_laws(text);
  append_figures(text);
  append_examples(text);
  return g_string_free(g_steal_pointer(&text), FALSE);
}
