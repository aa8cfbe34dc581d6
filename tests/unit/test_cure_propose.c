/* SPDX-License-Identifier: GPL-3.0-or-later
 * Proposals: the knob in words and edits; each family where it applies and where it must not.
 */
#include "cure/cure.h"
#include "run/run.h"
#include <string.h>

/* ---- the knob -------------------------------------------------------------------------------- */

static void
test_knob(void)
{
  g_autoptr(HfProposal) closer =
      hf_proposal_new("closer", g_strdup("bring the letters of bakery {} closer"));
  closer->least = 1;
  closer->most = -4;
  closer->step = 0.1;
  closer->from = 2;
  closer->unit = "mm";
  hf_proposal_edit(closer, HF_EDIT_SET, "entries[1].words.spacing", "{}");
  hf_proposal_edit(closer, HF_EDIT_PUT, "entries[2].bar.shift", "[{12;-0.5}, {0;1;in}]");
  hf_proposal_edit(closer, HF_EDIT_REMOVE, "entries[1].words.joint", NULL);
  hf_proposal_edit(closer, HF_EDIT_INSERT, "entries[0]", "bar: {name: a}");
  g_autofree char *sentence = hf_proposal_sentence_at(closer, -1.5000001);
  g_assert_cmpstr(sentence, ==, "bring the letters of bakery 3.5 mm closer");
  g_autoptr(GArray) edits = hf_proposal_edits_at(closer, -1.5000001);
  g_assert_cmpuint(edits->len, ==, 4);
  g_assert_cmpstr(g_array_index(edits, HfEdit, 0).value, ==, "-1.5 mm");
  g_assert_cmpstr(g_array_index(edits, HfEdit, 1).value, ==, "[12.75 mm, -1.5 in]");
  g_assert_null(g_array_index(edits, HfEdit, 2).value);
  g_assert_cmpstr(g_array_index(edits, HfEdit, 3).value, ==, "bar: {name: a}");
}

static void
test_no_knob(void)
{
  g_autoptr(HfProposal) ties = hf_proposal_new("ties", g_strdup("tie what is loose"));
  hf_proposal_edit(ties, HF_EDIT_INSERT, "entries", "ties: {}");
  g_autoptr(GArray) edits = hf_proposal_edits_at(ties, 7);
  g_assert_cmpstr(g_array_index(edits, HfEdit, 0).value, ==, "ties: {}");
  g_autofree char *sentence = hf_proposal_sentence_at(ties, 7);
  g_assert_cmpstr(sentence, ==, "tie what is loose");
}

/* ---- units as the user wrote them ------------------------------------------------------------ */

static void
test_units(void)
{
  static const char text[] =
      "holdfast: 1\n"
      "metal: {kind: mild steel, thickness: 3 mm}\n"
      "process: {kerf: 1.5 mm}\n"
      "entries:\n"
      "  - bar: {name: rail, length: 5' 6-1/2\", height: 3/4 in}\n"
      "  - plate: {shape: round, diameter: 12 cm, shift: [1 m, 0 mm]}\n"
      "  - words: {text: A, font: Lobster, height: 2 inches, spacing: 2 %}\n";
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  const HfEntry *bar = recipe->entries->pdata[0], *plate = recipe->entries->pdata[1],
                *words = recipe->entries->pdata[2];
  g_assert_cmpstr(hf_entry_unit(bar, "length"), ==, "in");
  g_assert_cmpstr(hf_entry_unit(plate, "diameter"), ==, "cm");
  g_assert_cmpstr(hf_entry_unit(plate, "shift"), ==, "m");
  g_assert_cmpstr(hf_entry_unit(plate, "corner"), ==, "cm");
  g_assert_cmpstr(hf_entry_unit(words, "spacing"), ==, "in");
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/propose/knob", test_knob);
  g_test_add_func("/propose/no-knob", test_no_knob);
  g_test_add_func("/propose/units", test_units);
  return g_test_run();
}
