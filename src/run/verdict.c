/* SPDX-License-Identifier: GPL-3.0-or-later
 * verdict.c - the verdict in plain words, for a terminal.
 */
#include "base/seen.h"
#include "base/text.h"
#include "run/run.h"
#include <string.h>

/* Colour only underlines what the word says. */
static const struct {
  const char *word, *on;
} GRAVITIES[] = {[HF_NOTE] = {"note", "\033[2m"},
                 [HF_CAUTION] = {"caution", "\033[33m"},
                 [HF_STOP] = {"stop", "\033[1;31m"}};

static void
add_count(GString *text, guint n, const char *word)
{
  if (n > 0)
    g_string_append_printf(text, "%s%u %s%s", text->len > 0 ? ", " : "", n, word,
                           n == 1 ? "" : "s");
}

static char *
counts(const HfHold *hold)
{
  guint n[HF_STOP + 1] = {0};
  for (guint i = 0; i < hold->findings->len; i++)
    n[((const HfFinding *)g_ptr_array_index(hold->findings, i))->gravity]++;
  g_autoptr(GString) text = g_string_new(NULL);
  for (int gravity = HF_STOP; gravity >= HF_NOTE; gravity--)
    add_count(text, n[gravity], GRAVITIES[gravity].word);
  if (text->len == 0)
    g_string_append(text, "nothing to remark");
  return g_string_free(g_steal_pointer(&text), FALSE);
}

static const char *
verdict_word(const HfHold *hold)
{
  return hold->whole ? "whole" : "NOT WHOLE";
}

static void
add_figures(GString *text, const HfHold *hold)
{
  double high = hf_box_height(hold->box);
  g_autofree char *size =
      hf_text_sides(hf_box_width(hold->box), 1, high, high < 100 ? 2 : 1, " x ");
  g_autofree char *mass = hf_text_grams(hold->mass);
  g_autofree char *cut = hf_text_run(hold->cut_length, 2);
  g_string_append_printf(text, "  %u part%s, %s, %s, %s of cut, %u pierce%s\n", hold->parts->len,
                         hold->parts->len == 1 ? "" : "s", size, mass, cut, hold->pierces,
                         hold->pierces == 1 ? "" : "s");
}

/* A line each; the sheet is told, as it need not be the same. */
static void
add_layers(GString *text, const HfSign *sign)
{
  for (guint i = 0; i < hf_sign_n_layers(sign); i++) {
    const HfSign *layer = hf_sign_layer(sign, i);
    g_autofree char *thickness = hf_text_mm(layer->hold->process.thickness);
    g_string_append_printf(text, "  %s: %s, %s of %s\n  ", hf_layer_word(layer->recipe->in_layer),
                           verdict_word(layer->hold), thickness, layer->hold->process.metal);
    add_figures(text, layer->hold);
  }
}

/* What no check of one sheet finds stands in no finding. */
static void
add_notes(GString *text, const HfSign *sign)
{
  for (guint i = 0; i < sign->layout->notes->len; i++) {
    g_autofree char *note = hf_seen_message(sign->layout->notes->pdata[i], FALSE);
    g_string_append_printf(text, "  mind    %s\n", note);
  }
}

/* What was understood of a file is to be agreed. */
static void
add_drawings(GString *text, const HfSign *sign)
{
  for (guint i = 0; i < sign->layout->drawings->len; i++) {
    const HfUsedDrawing *used = hf_layout_drawing(sign->layout, i);
    g_autofree char *file = hf_seen_value(used->file);
    for (guint k = 0; k < used->notes->len; k++) {
      g_autofree char *note = hf_seen_message((const char *)used->notes->pdata[k], FALSE);
      g_string_append_printf(text, "  drawing %s%s\n", file, note);
    }
  }
}

static void
add_finding(GString *text, const HfFinding *finding, gboolean colour, gboolean all)
{
  const char *word = GRAVITIES[finding->gravity].word;
  g_autofree char *sentence = hf_seen_message(finding->text, FALSE);
  g_autofree char *accepted = hf_seen_message(finding->accepted, FALSE);
  g_string_append_printf(text, "  %s%-8s%s%s", colour ? GRAVITIES[finding->gravity].on : "", word,
                         colour ? "\033[0m" : "", sentence);
  if (!isnan(finding->limit))
    g_string_append_printf(text, " [%s]",
                           hf_law_said_by(finding->kind, finding->said_by, finding->coupon));
  g_string_append_c(text, '\n');
  if (accepted != NULL)
    g_string_append_printf(text, "          accepted: %s\n", accepted);
  for (guint i = 0; all && i < finding->each->len; i++) {
    g_autofree char *place = hf_seen_message(finding->each->pdata[i], FALSE);
    g_string_append_printf(text, "          %s\n", place);
  }
}

char *
hf_run_verdict(const HfSign *sign, gboolean colour, gboolean all)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(sign->recipe->units);
  const HfHold *hold = sign->hold;
  g_autoptr(GString) text = g_string_new(NULL);
  g_autofree char *number = counts(hold);
  const char *verdict = verdict_word(hold);
  g_autofree char *name = hf_seen(sign->recipe->name, FALSE);
  g_string_append_printf(text, "%s: %s%s%s (%s)\n", name,
                         colour ? (hold->whole ? "\033[1;32m" : "\033[1;31m") : "", verdict,
                         colour ? "\033[0m" : "", number);
  if (sign->layers != NULL)
    add_layers(text, sign);
  else
    add_figures(text, hold);
  for (guint i = 0; i < sign->layout->solved->len; i++) {
    HfSolved solved = g_array_index(sign->layout->solved, HfSolved, i);
    const HfEntry *entry = hf_recipe_at(sign->recipe, solved.entry);
    gboolean share = hf_solved_is_share(solved.what);
    g_autofree char *value =
        share ? hf_text_number(solved.value * 100, 1) : hf_text_mm(solved.value);
    g_autofree char *called = hf_seen_value(entry->name);
    g_string_append_printf(text, "  %s of %s: %s%s\n", hf_solved_name(solved.what), called, value,
                           share ? " %" : "");
  }
  for (guint i = 0; i < hold->findings->len; i++)
    add_finding(text, g_ptr_array_index(hold->findings, i), colour, all);
  if (sign->layers != NULL)
    add_notes(text, sign);
  else
    add_drawings(text, sign);
  return g_string_free(g_steal_pointer(&text), FALSE);
}
