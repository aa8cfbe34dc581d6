/* SPDX-License-Identifier: GPL-3.0-or-later
 * Proposals: the knob in words and edits; each family where it applies and where it must not.
 */
#include "cure-cases.h"
#include "cure/cure.h"
#include "run/run.h"
#include <string.h>

/* ---- the knob -------------------------------------------------------------------------------- */

static void
add(HfProposal *proposal, HfEditKind kind, const char *path, HfNode *value)
{
  hf_edits_add(proposal->edits, kind, hf_path_read(path, NULL), value);
}

static HfProposal *
turned(double least, double most, double step, double from, const char *unit)
{
  HfProposal *proposal =
      hf_proposal_new(hf_cure_family("closer"),
                      hf_phrase_knob(hf_phrase("bring the letters of bakery "), " closer"));
  proposal->least = least;
  proposal->most = most;
  proposal->step = step;
  proposal->from = from;
  proposal->unit = unit;
  return proposal;
}

/* What became of the edits in a recipe that has room for them. */
static char *
edited(const HfProposal *proposal, double value)
{
  static const char text[] = "a: 0\nentries:\n  - bar: {length: 1 m}\n  - words: {joint: 2 mm}\n";
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) edits = hf_proposal_edits_at(proposal, value);
  gsize length = 0;
  char *after = hf_recipe_edit(text, strlen(text), edits, &length, &error);
  g_assert_no_error(error);
  return after;
}

static void
test_knob(void)
{
  g_autoptr(HfProposal) closer = turned(1, -4, 0.1, 2, "mm");
  add(closer, HF_EDIT_SET, "entries[1].words.spacing", hf_proposal_knob(closer));
  add(closer, HF_EDIT_SET, "entries[0].bar.shift",
      hf_node_new_list(hf_node_new_number(12, -0.5, 2, "mm"), hf_node_new_number(0, 1, 3, "in"),
                       NULL));
  add(closer, HF_EDIT_REMOVE, "entries[1].words.joint", NULL);
  add(closer, HF_EDIT_INSERT, "entries[0]",
      hf_node_new_entry("bar", hf_table({"name", hf_node_new_text("a")})));
  g_autofree char *sentence = hf_proposal_sentence_at(closer, -1.5000001);
  g_assert_cmpstr(sentence, ==, "bring the letters of bakery 3.5 mm closer");
  g_autofree char *after = edited(closer, -1.5000001);
  g_assert_cmpstr(after, ==,
                  "a: 0\nentries:\n  - bar: {name: a}\n"
                  "  - bar: {length: 1 m, shift: [12.75 mm, -1.5 in]}\n"
                  "  - words: {spacing: -1.5 mm}\n");
}

/* A number has the decimals of its step, in the unit of the user: what a rule can show. */
static void
test_knob_units(void)
{
  static const struct {
    double step, value;
    const char *unit, *said;
  } rows[] = {
      {0.5, 12.74, "mm", "a: 12.5 mm\n"},    {0.25, 12.8, "mm", "a: 12.75 mm\n"},
      {0.005, 0.7512, "in", "a: 0.75 in\n"}, {0.02, 1.119, "in", "a: 1.12 in\n"},
      {1, -3.6, "%", "a: -4 %\n"},           {0.1, 1.26, "deg", "a: 1.3 deg\n"},
      {1e-4, 1.23456, "m", "a: 1.2346 m\n"}, {1, 2, "", "a: 2\n"},
      {0.1, -0.04, "mm", "a: 0 mm\n"},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(HfProposal) knob = turned(0, 10, rows[i].step, 0, rows[i].unit);
    add(knob, HF_EDIT_SET, "a", hf_proposal_knob(knob));
    g_autofree char *after = edited(knob, rows[i].value);
    g_assert_true(g_str_has_prefix(after, rows[i].said));
  }
}

/* What becomes of it, not by how much. */
static void
test_turns(void)
{
  g_autoptr(HfProposal) smaller =
      hf_proposal_new(hf_cure_family("smaller"),
                      hf_phrase_turns(hf_phrase("make the letters of bakery smaller: "),
                                      " letters become ", ", so that they fit on the metal"));
  smaller->least = 129;
  smaller->most = 65;
  smaller->step = 1;
  smaller->from = 130;
  smaller->unit = "mm";
  g_autofree char *sentence = hf_proposal_sentence_at(smaller, 78);
  g_assert_cmpstr(
      sentence, ==,
      "make the letters of bakery smaller: 130 mm letters become 78 mm, so that they fit "
      "on the metal");
}

static void
test_no_knob(void)
{
  g_autoptr(HfProposal) ties =
      hf_proposal_new(hf_cure_family("ties"), hf_phrase("tie what is loose"));
  add(ties, HF_EDIT_INSERT, "entries", hf_node_new_entry("ties", hf_node_new_empty_table()));
  g_autofree char *after = edited(ties, 7);
  g_assert_true(g_str_has_suffix(after, "\n  - ties: {}\n"));
  g_autofree char *sentence = hf_proposal_sentence_at(ties, 7);
  g_assert_cmpstr(sentence, ==, "tie what is loose");
  g_autoptr(HfProposal) same = hf_proposal_new(ties->family, hf_phrase("tie what is loose"));
  g_autoptr(HfProposal) other =
      hf_proposal_new(ties->family, hf_phrase_knob_last(hf_phrase("tie what is loose")));
  g_assert_true(hf_proposal_same(ties, same));
  g_assert_false(hf_proposal_same(ties, other));
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

/* ---- the vocabulary ----------------------------------------------------------------------------
 */

static void
test_every_cure_has_a_family(void)
{
  for (guint k = 0; k < HF_N_LAWS; k++) {
    const HfLaw *law = hf_law((HfLawKind)k);
    for (guint i = 0; law->cures[i] != NULL; i++) {
      if (!hf_cure_family(law->cures[i]))
        g_error("%s lists %s, which no family has", law->key, law->cures[i]);
      for (guint j = 0; j < i; j++)
        g_assert_cmpstr(law->cures[i], !=, law->cures[j]);
    }
  }
  g_assert_null(hf_cure_family("wish"));
}

/* docs/cures.md has a row for each key, and none for another. */
static void
test_docs(void)
{
  g_autofree char *text = NULL;
  gsize length = 0;
  g_assert_true(g_file_get_contents(HF_SOURCE_ROOT "/docs/cures.md", &text, &length, NULL));
  g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
  guint rows = 0;
  for (guint i = 0; lines[i] != NULL; i++) {
    if (!g_str_has_prefix(lines[i], "| `"))
      continue;
    g_auto(GStrv) parts = g_strsplit(lines[i], "`", 3);
    g_assert_nonnull(hf_cure_family(parts[1]));
    rows++;
  }
  g_assert_cmpuint(rows, ==, 43);
  for (guint k = 0; k < HF_N_LAWS; k++)
    for (guint i = 0; hf_law((HfLawKind)k)->cures[i] != NULL; i++) {
      g_autofree char *row = g_strdup_printf("\n| `%s` |", hf_law((HfLawKind)k)->cures[i]);
      g_assert_nonnull(strstr(text, row));
    }
}

/* ---- families: a recipe, the key looked for, what must come of it
 * -------------------------------- */

static HfSign *
run_text(const char *text, gsize length)
{
  g_autoptr(GError) error = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  HfSign *sign = hf_run_text(text, length, "quay.yaml", &options, &error);
  if (sign == NULL)
    g_test_message("%s", error->message);
  return sign;
}

/* The first target has gone, or was several and is fewer. */
static gboolean
is_taken(const HfSign *before, const HfSign *after, const HfProposal *proposal)
{
  const HfFinding *target =
      before->hold->findings->pdata[g_array_index(proposal->targets, guint, 0)];
  for (guint i = 0; i < after->hold->findings->len; i++) {
    const HfFinding *finding = after->hold->findings->pdata[i];
    if (finding->kind == target->kind && finding->gravity >= target->gravity)
      return FALSE;
  }
  return TRUE;
}

/* What @proposal comes to at one place of its knob. */
static Outcome
try_at(const HfSign *sign, const HfProposal *proposal, double value, const char *text,
       const char *wanted)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) edits = hf_proposal_edits_at(proposal, value);
  gsize length = 0;
  g_autofree char *cured = hf_recipe_edit(text, strlen(text), edits, &length, &error);
  g_assert_no_error(error);
  g_autoptr(HfRecipe) again = hf_recipe_read(cured, length, "quay.yaml", &error);
  if (again == NULL)
    g_error("%s: %s\n%s", proposal->phrase.before, error->message, cured);
  if (wanted != NULL && strstr(cured, wanted) == NULL)
    return NOT_OFFERED;
  g_autoptr(HfSign) after = run_text(cured, length);
  if (after == NULL || !is_taken(sign, after, proposal))
    return OFFERED;
  return after->hold->whole ? MAKES_WHOLE : TAKES;
}

static Outcome
try_proposal(const HfSign *sign, const HfProposal *proposal, const char *text, const char *wanted)
{
  gboolean knob = !isnan(proposal->step);
  Outcome best = NOT_OFFERED;
  for (int i = 0; i <= (knob ? 8 : 0) && best < MAKES_WHOLE; i++) {
    double value = proposal->least + (proposal->most - proposal->least) * i / 8;
    Outcome here = try_at(sign, proposal, value, text, wanted);
    best = MAX(best, here);
  }
  return best;
}

/* Both ends of every knob give a recipe that reads. */
static void
check_edits(const HfProposal *proposal, const char *text)
{
  double ends[] = {proposal->least, proposal->most};
  for (gsize i = 0; i < G_N_ELEMENTS(ends); i++) {
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) edits = hf_proposal_edits_at(proposal, ends[i]);
    gsize length = 0;
    g_autofree char *cured = hf_recipe_edit(text, strlen(text), edits, &length, &error);
    g_assert_no_error(error);
    g_autoptr(HfRecipe) again = hf_recipe_read(cured, length, "quay.yaml", &error);
    if (again == NULL)
      g_error("%s: %s\n%s", proposal->phrase.before, error->message, cured);
  }
}

static void
check_proposal(const HfSign *sign, const HfProposal *proposal)
{
  g_assert_true(hf_cure_family(proposal->family->key) == proposal->family);
  g_assert_cmpuint(proposal->targets->len, >, 0);
  g_assert_cmpuint(proposal->edits->len, >, 0);
  g_autofree char *sentence = hf_proposal_sentence_at(proposal, proposal->least);
  g_assert_false(g_str_has_suffix(sentence, "."));
  g_assert_cmpint(g_ascii_isupper(sentence[0]), ==, FALSE);
  g_assert_cmpint(isnan(proposal->least), ==, isnan(proposal->step));
  g_assert_cmpint(isnan(proposal->most), ==, isnan(proposal->step));
  for (guint i = 0; i < proposal->targets->len; i++) {
    const HfFinding *target =
        sign->hold->findings->pdata[g_array_index(proposal->targets, guint, i)];
    g_assert_true(g_strv_contains(hf_law(target->kind)->cures, proposal->family->key));
  }
}

static void
test_family(gconstpointer data)
{
  guint c = GPOINTER_TO_UINT(data);
  g_autoptr(HfSign) sign = run_text(cases[c].text, strlen(cases[c].text));
  g_assert_nonnull(sign);
  g_autoptr(GPtrArray) proposals = hf_cure_proposals(sign, NULL);
  Outcome best = NOT_OFFERED;
  gboolean is_offered = FALSE;
  for (guint i = 0; i < proposals->len; i++) {
    const HfProposal *proposal = proposals->pdata[i];
    check_proposal(sign, proposal);
    check_edits(proposal, cases[c].text);
    if (strcmp(proposal->family->key, cases[c].key) != 0)
      continue;
    is_offered = TRUE;
    if (best < MAKES_WHOLE)
      best = MAX(best, try_proposal(sign, proposal, cases[c].text, cases[c].edit));
  }
  g_assert_cmpint(is_offered, ==, cases[c].outcome != NOT_OFFERED);
  g_assert_cmpint(best, >=, cases[c].outcome);
}

/* Nothing wrong, nothing proposed. */
static void
test_whole(void)
{
  static const char text[] =
      HEAD "entries:\n  - plate: {name: board, shape: round, diameter: 200 mm}\n";
  g_autoptr(HfSign) sign = run_text(text, strlen(text));
  g_autoptr(GPtrArray) proposals = hf_cure_proposals(sign, NULL);
  g_assert_cmpuint(proposals->len, ==, 0);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/propose/knob", test_knob);
  g_test_add_func("/propose/knob-units", test_knob_units);
  g_test_add_func("/propose/turns", test_turns);
  g_test_add_func("/propose/no-knob", test_no_knob);
  g_test_add_func("/propose/units", test_units);
  g_test_add_func("/propose/every-cure-has-a-family", test_every_cure_has_a_family);
  g_test_add_func("/propose/docs", test_docs);
  g_test_add_func("/propose/whole", test_whole);
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *path = g_strconcat("/propose/family/", cases[i].name, NULL);
    g_test_add_data_func(path, GUINT_TO_POINTER(i), test_family);
  }
  return g_test_run();
}
