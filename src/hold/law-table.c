/* SPDX-License-Identifier: GPL-3.0-or-later
 * law-table.c - docs/limits.md, written from the rows of the laws so that the two can't differ.
 */
#include "base/text.h"
#include "hold/law.h"
#include <string.h>

static const char intro[] =
    "# Limits\n"
    "\n"
    "Written by `tools/limits` from the rows of the laws in `src/hold/`; a test compares the two.\n"
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
    "file or recipe). Widths are computed to " G_STRINGIFY(
        HF_SLACK) " mm; less than that under a limit counts as kept. "
                  "A caution can be accepted in the recipe with a reason and stays visible; a stop "
                  "can't. A limit of one's own that is three times laxer than the usual one for "
                  "this "
                  "thickness and kerf silences its check, and is a stop (`lax-limit`; of a caution "
                  "a "
                  "caution); a gap is never under one kerf. A shop that cuts finer gives the "
                  "thickness and the kerf that it cuts with, and the usual limits follow. What "
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
  g_autofree char *quantity = hf_law_quantity(law);
  g_autofree char *stop = hf_law_formula(law, TRUE), *caution = hf_law_formula(law, FALSE);
  g_string_append_printf(text, "| `%s` | %s%s | %s | %s | %s | %s | ", law->key, quantity, side,
                         stop != NULL ? stop : "-", caution != NULL ? caution : "-",
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
  g_string_append(text, "\n## Figures beside the limits\n\nChanged by their own keys.\n\n"
                        "| key | default | what |\n|---|---|---|\n");
  for (guint i = 0; i < HF_N_FIGURES; i++) {
    const HfFigureRow *figure = hf_law_figure_row((HfFigure)i);
    g_string_append_printf(text, "| `%s` | ", figure->key);
    append_value(text, figure->value, figure->unit);
    g_string_append_printf(text, " | %s |\n", figure->meaning);
  }
}

/* What the formulas come to on usual sheet: stop / caution. */
static void
append_examples(GString *text)
{
  static const HfProcess sheets[] = {{1.5, 1.2, 1.2, 7850, 12e-6, "mild steel"},
                                     {3, 1.5, 1.5, 7850, 12e-6, "mild steel"},
                                     {5, 1.8, 1.8, 7850, 12e-6, "mild steel"}};
  g_string_append(text,
                  "\n## Worked out\n\nStop / caution, when neither shop nor recipe speaks.\n\n"
                  "| key | t 1.5, k 1.2 | t 3, k 1.5 | t 5, k 1.8 |\n|---|---|---|---|\n");
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    if (isnan(hf_law_usual((HfLawKind)i, &sheets[0]).caution)) /* any is found; or by the recipe */
      continue;
    g_string_append_printf(text, "| `%s` |", law->key);
    for (guint s = 0; s < G_N_ELEMENTS(sheets); s++) {
      HfLimit limit = hf_law_usual((HfLawKind)i, &sheets[s]);
      g_string_append_c(text, ' ');
      append_value(text, limit.stop, law->unit);
      g_string_append(text, " / ");
      append_value(text, limit.caution, law->unit);
      g_string_append(text, " |");
    }
    g_string_append_c(text, '\n');
  }
}

/* What a row of the table has no room for. */
static const char judged[] =
    "\n## How tapering gaps are judged\n\n"
    "A cut is one kerf wide, so the arc goes into a gap that tapers as far as it is a kerf wide; "
    "what lies beyond stays shut. Along\n\n"
    "- **3 kerfs or less** (a taper of 19.2 degrees or more) nothing is said: the corner comes out "
    "rounded, which `lost-detail` counts in letters.\n"
    "- **more than 3 kerfs** it is a crack, and a stop: between two shutters, along two letters, "
    "at "
    "the horns of a crescent. So is what is nowhere as wide as the kerf.\n"
    "- **up to 10 kerfs** (5.7 degrees) it is none where it is the tip of a corner: its end is "
    "metal, it has one mouth, and from there it goes on to open to one and a half kerfs as evenly "
    "as "
    "it began, or faster. That is so where a letter runs into its ring or its rail at a slant: the "
    "arc fills the tip, what joins there joins so much longer, and the corner is rounder. From 6 "
    "kerfs on a note says how much longer.\n\n"
    "A gap that does not taper, or ends blunt, is held against `narrow-gap`. docs/maths.md#cracks "
    "has the formulas.\n"
    "\n## How points of metal are judged\n\n"
    "Metal that narrows to a point and carries nothing is no web: the heat of two cuts that meet "
    "takes it, back to where it is as wide as a web must be. That is computed and told with its "
    "length: a note within a tenth of the letter's height, a caution above, a stop from three "
    "tenths on. A tail that does not narrow steadily, ends in something wider, or is held at both "
    "ends is a web.\n";

char *
hf_law_table(void)
{
  g_autoptr(GString) text = g_string_new(intro);
  append_laws(text);
  g_string_append(text, judged);
  append_figures(text);
  append_examples(text);
  return g_string_free(g_steal_pointer(&text), FALSE);
}
