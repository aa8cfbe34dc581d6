/* SPDX-License-Identifier: GPL-3.0-or-later
 * Proposals: the knob in words and edits; each family where it applies and where it must not.
 */
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
      hf_node_new_entry("bar", hf_node_new_table("name", hf_node_new_text("a"), NULL)));
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
      hf_proposal_new(ties->family, hf_phrase_knob(hf_phrase("tie what is loose"), "%s", ""));
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
    g_assert_nonnull(law->cures[0]);
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
  g_assert_cmpuint(rows, ==, 27);
  for (guint k = 0; k < HF_N_LAWS; k++)
    for (guint i = 0; hf_law((HfLawKind)k)->cures[i] != NULL; i++) {
      g_autofree char *row = g_strdup_printf("\n| `%s` |", hf_law((HfLawKind)k)->cures[i]);
      g_assert_nonnull(strstr(text, row));
    }
}

/* ---- families: a recipe, the key looked for, what must come of it
 * -------------------------------- */

#define HEAD  "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
#define BEBAS "font: Bebas Neue"

typedef enum { NOT_OFFERED, OFFERED, TAKES, MAKES_WHOLE } Outcome;

static const struct {
  const char *name, *key;
  Outcome outcome;
  const char *edit; /* (nullable) stands in the cured recipe */
  const char *text;
} cases[] = {
    {"ties", "ties", MAKES_WHOLE, "  - ties: {}\n",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: round, diameter: 200 mm}\n"
          "  - ring: {name: moat, outer: 120 mm, inner: 100 mm, as: opening}\n"},
    {"no-ties-for-a-stencil", "ties", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 500 mm, height: 200 mm}\n"
          "  - words: {text: BOARD, font: {family: Allerta, style: Stencil}, height: 90 mm, "
          "spacing: 10 %, as: opening}\n"},
    {"second-tie", "ties", TAKES, "count: 2",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 400 mm, height: 240 mm}\n"
          "  - words: {name: door, text: O, " BEBAS ", height: 120 mm, as: opening}\n"
          "  - tie: {name: top, of: O of door, opening: 1, em: [0.19, 0.65], direction: top, "
          "width: 6 mm}\n"},
    {"missed-pin", "ties", TAKES, "ties: {}",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm}\n"
          "  - words: {name: shop, text: SIT, " BEBAS ", height: 80 mm, as: opening}\n"
          "  - tie: {of: 2nd A of shop, opening: 1, em: [0.2, 0.1], direction: bottom}\n"},
    {"brace", "ties", OFFERED, "tie: {of: rail",
     HEAD
     "entries:\n"
     "  - plate: {name: left, shape: rectangle, width: 50 mm, height: 200 mm, shift: [-180 mm, "
     "0 mm]}\n"
     "  - plate: {name: right, shape: rectangle, width: 50 mm, height: 200 mm, shift: [180 mm, "
     "0 mm]}\n"
     "  - bar: {name: rail, length: 320 mm, height: 12 mm}\n"
     "  - bar: {name: upper, length: 320 mm, height: 40 mm, at: [0 mm, 60 mm]}\n"},
    {"joined", "joined", MAKES_WHOLE, "spacing: joined",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HELM, " BEBAS ", height: 100 mm, spacing: 2 mm}\n"},
    {"closer", "closer", MAKES_WHOLE, "spacing: -",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HEEL, " BEBAS ", height: 100 mm, spacing: 2 mm}\n"},
    {"closer-as-a-share", "closer", MAKES_WHOLE, " %",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HEEL, " BEBAS ", height: 100 mm, spacing: 2 %}\n"},
    {"closer-in-inches", "closer", MAKES_WHOLE, " in",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HEEL, " BEBAS ", height: 4 in}\n"},
    {"cut-through-is-never-closer", "closer", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm}\n"
          "  - words: {name: shop, text: BO, " BEBAS ", height: 80 mm, as: opening}\n"},
    {"further", "further", MAKES_WHOLE, "spacing: -",
     HEAD "entries:\n  - bar: {name: rail, length: 300 mm, height: 20 mm}\n"
          "  - words: {name: pier, text: HH, " BEBAS ", height: 80 mm, stand on: rail, "
          "spacing: -8 mm}\n"},
    {"bolder", "bolder", MAKES_WHOLE, "bolder: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 60 mm}\n"
          "  - words: {name: small, text: I, " BEBAS ", height: 26 mm, as: opening}\n"},
    {"larger", "larger", MAKES_WHOLE, " in, as",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: small, text: X, " BEBAS ", height: 1/2 in, as: opening}\n"},
    {"larger-by-font-size", "larger", MAKES_WHOLE, "font size: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: small, text: X, " BEBAS ", font size: 20 mm, as: opening}\n"},
    {"filled-has-no-height", "larger", NOT_OFFERED, NULL,
     HEAD "read from: 80 m\nentries:\n"
          "  - ring: {name: outer, outer: 400 mm, width: 16 mm}\n"
          "  - ring: {name: inner, outer: 240 mm, width: 16 mm}\n"
          "  - words: {name: club, text: ROWING, " BEBAS ", band: [inner, outer], fill band: yes, "
          "at: top}\n"},
    {"scale", "scale", MAKES_WHOLE, "diameter: 2",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
     "  - plate: {name: port, shape: round, diameter: 20 mm, as: opening, shift: [-11.45 mm, 0 "
     "mm]}\n"
     "  - plate: {name: starboard, shape: round, diameter: 20 mm, as: opening, at: [11.45 mm, 0 "
     "mm]}\n"},
    {"off-the-thin-web", "inward", MAKES_WHOLE, "at: [11.",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
     "  - plate: {name: port, shape: round, diameter: 20 mm, as: opening, shift: [-11.45 mm, 0 "
     "mm]}\n"
     "  - plate: {name: starboard, shape: round, diameter: 20 mm, as: opening, at: [11.45 mm, 0 "
     "mm]}\n"},
    {"hole-inward", "inward", MAKES_WHOLE, "shift: [0 mm, 4",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - hole: {name: hook, diameter: 8 mm, shift: [0 mm, 43.1 mm]}\n"},
    {"nearer", "nearer", MAKES_WHOLE, "shift: [",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 100 mm}\n"
          "  - star: {name: star, diameter: 40 mm, shift: [80 mm, 0 mm]}\n"},
    {"nearer-by-its-gap", "nearer", MAKES_WHOLE, "gap: -",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 100 mm}\n"
     "  - plate: {name: tag, shape: rectangle, width: 40 mm, height: 20 mm, below: board, gap: "
     "10 mm}\n"},
    {"a-piece-cut-off-moves-no-plate", "nearer", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - bar: {name: slot, length: 10 mm, height: 120 mm, as: opening, at: [70 mm, 0 mm]}\n"},
    {"words-apart", "further", MAKES_WHOLE, "at: [0 mm, -28 mm]",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: top, text: HILL, " BEBAS
          ", height: 50 mm, as: opening, spacing: 10 %, "
          "at: [0 mm, 26 mm]}\n"
          "  - words: {name: low, text: IT, " BEBAS ", height: 50 mm, as: opening, spacing: 10 %, "
          "at: [0 mm, -25 mm]}\n"},
    {"wider", "ring", MAKES_WHOLE, "width: ",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 10 mm}\n"
          "  - plate: {name: tag, shape: rectangle, width: 170 mm, height: 20 mm}\n"},
    {"ring-in-by-its-inner", "ring", MAKES_WHOLE, "inner: 1",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, inner: 180 mm}\n"
          "  - plate: {name: tag, shape: rectangle, width: 170 mm, height: 20 mm}\n"},
    {"fill-band", "fill", MAKES_WHOLE, "fill band: yes",
     HEAD "entries:\n"
          "  - ring: {name: outer, outer: 400 mm, width: 16 mm}\n"
          "  - ring: {name: inner, outer: 240 mm, width: 16 mm}\n"
          "  - words: {name: a, text: ROWING, " BEBAS ", band: [inner, outer], height: 40 mm, at: "
          "top, spacing: 20 %}\n"},
    {"star-fills-its-band", "fill", MAKES_WHOLE, "star: {name: stars, band",
     HEAD "entries:\n"
          "  - ring: {name: outer, outer: 400 mm, width: 16 mm}\n"
          "  - ring: {name: inner, outer: 240 mm, width: 16 mm}\n"
          "  - star: {name: stars, diameter: 40 mm, band: [inner, outer], "
          "at: [9 o'clock, 3 o'clock]}\n"},
    {"initial-reaches-its-ring", "fill", MAKES_WHOLE, "fill window of: hoop",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 12 mm}\n"
          "  - initial: {name: big, text: H, " BEBAS ", height: 100 mm}\n"},
    {"bite-not-clear", "fill", MAKES_WHOLE, "bite: ",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 12 mm}\n"
          "  - initial: {name: big, text: H, " BEBAS ", fill window of: hoop, clear: 8 mm}\n"},
    {"bar", "bar", MAKES_WHOLE, "stand on: rail",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HELM, " BEBAS ", height: 100 mm, at: [10 mm, 20 mm]}\n"},
    {"bar-through", "bar", MAKES_WHOLE, "bar: {name: through",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 200 mm}\n"
          "  - words: {name: door, text: DO, " BEBAS ", height: 60 mm, as: opening}\n"},
    {"bar-longer", "bar", MAKES_WHOLE, "rail, length: 1",
     HEAD "entries:\n"
          "  - bar: {name: rail, length: 60 mm, height: 12 mm}\n"
          "  - words: {name: lane, text: HHH, " BEBAS ", height: 80 mm, stand on: rail, "
          "spacing: 10 %}\n"},
    {"one-plate-under-two-words", "plate", MAKES_WHOLE,
     "plate: {name: board, shape: outline, grow: ",
     HEAD
     "entries:\n"
     "  - words: {name: inn, text: HIT IT, " BEBAS ", height: 60 mm, spacing: 10 %, as: opening}\n"
     "  - plate: {name: port, shape: round, diameter: 30 mm, as: opening, at: [0 mm, 140 mm]}\n"},
    {"link", "bar", MAKES_WHOLE, "turn: ",
     HEAD
     "mount: holes\nalone: [quay, boat]\nentries:\n"
     "  - plate: {name: quay, shape: rectangle, width: 100 mm, height: 60 mm}\n"
     "  - plate: {name: boat, shape: rectangle, width: 100 mm, height: 60 mm, shift: [120 mm, 0 "
     "mm]}\n"
     "  - hole: {diameter: 8 mm, shift: [0 mm, 20 mm]}\n"
     "  - hole: {diameter: 8 mm, shift: [120 mm, 20 mm]}\n"},
    {"ends", "ends", MAKES_WHOLE, "bar: {name: ends",
     HEAD "entries:\n"
          "  - bar: {name: lower, length: 400 mm, height: 16 mm}\n"
          "  - bar: {name: upper, length: 400 mm, height: 16 mm, at: [0 mm, 80 mm]}\n"},
    {"level", "level", TAKES, "shift: [0 mm, 40 mm]",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - hole: {name: hook, diameter: 8 mm, shift: [2 mm, 40 mm]}\n"},
    {"level-ear", "level", TAKES, " deg",
     HEAD "mount: holes\nentries:\n"
          "  - ring: {name: hoop, outer: 300 mm, width: 20 mm}\n"
          "  - ear: {hole: 8 mm, on: hoop, at: 80 deg}\n"},
    {"level-one-of-a-list", "level", TAKES, "80 mm, 36 mm]",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - hole: {diameter: 8 mm, at: [[-80 mm, 36 mm], [80 mm, 40 mm]]}\n"},
    {"feet", "feet", TAKES, "at: [",
     HEAD "mount: stake\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - foot: {name: heel, width: 40 mm, height: 20 mm, on: board, at: [70 mm, -50 mm]}\n"},
    {"ears", "ear", TAKES, "ear: {name: hooks",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 100 mm}\n"},
    {"stake", "ear", TAKES, "stake: {name: stake",
     HEAD "mount: stake\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 100 mm}\n"},
    {"hole", "hole", MAKES_WHOLE, "diameter: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 100 mm}\n"
          "  - hole: {diameter: 4.2 mm, hanging: no}\n"},
    {"opening", "opening", TAKES, "as: opening",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: yard, text: BOAT YARD, " BEBAS ", height: 60 mm}\n"},
    {"smaller", "smaller", MAKES_WHOLE, "height: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: long, text: III, " BEBAS
          ", height: 100 mm, spacing: 20 %, as: opening, "
          "at: [110 mm, 0 mm]}\n"},
    {"plate", "plate", MAKES_WHOLE, "shape: outline",
     HEAD "entries:\n"
          "  - plate: {name: window, shape: round, diameter: 100 mm, as: opening}\n"},
    {"acceptance", "acceptance", TAKES, NULL,
     HEAD "accept: [{finding: thin-web, reason: garden}]\nentries:\n"
          "  - plate: {name: board, shape: round, diameter: 100 mm}\n"},
    {"alone", "alone", MAKES_WHOLE, "alone: [boat]",
     HEAD "entries:\n"
          "  - plate: {name: quay, shape: round, diameter: 100 mm}\n"
          "  - plate: {name: boat, shape: round, diameter: 40 mm, at: [100 mm, 0 mm]}\n"},
    {"dots-alone", "alone", MAKES_WHOLE, "dots of number",
     HEAD "mount: studs\nalone: [number]\nentries:\n"
          "  - words: {name: number, text: ij, font: {family: DejaVu Sans, style: Bold}, height: "
          "100 mm, spacing: 20 mm}\n"},
    {"ring-under-an-arc", "bar", TAKES, "ring: {name: hoop",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HELM, " BEBAS ", height: 40 mm, arc radius: 90 mm, at: "
          "top}\n"},
    {"bar-in-inches", "bar", MAKES_WHOLE, " in, height: ",
     HEAD "entries:\n"
          "  - words: {text: HELM, " BEBAS ", height: 4 in}\n"},
    {"letters-on-metal-tied", "opening", MAKES_WHOLE, "ties: {}",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: yard, text: BOAT YARD, " BEBAS ", height: 60 mm}\n"},
    {"bolder-not-beyond-the-face", "bolder", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 60 mm}\n"
          "  - words: {name: small, text: I, " BEBAS ", height: 10 mm, as: opening}\n"},
    {"lighter", "lighter", MAKES_WHOLE, "bolder: -",
     HEAD "entries:\n  - bar: {name: rail, length: 300 mm, height: 20 mm}\n"
          "  - words: {name: pier, text: HH, " BEBAS ", height: 80 mm, stand on: rail, "
          "spacing: -8 mm}\n"},
    {"a-stencil-plate-is-left-alone", "mend", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 500 mm, height: 200 mm}\n"
          "  - words: {text: BOARD, font: {family: Allerta, style: Stencil}, height: 90 mm, "
          "spacing: 10 %, as: opening}\n"},
    {"round-again-is-larger", "round", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: round, diameter: 200 mm}\n"},
    {"round", "round", TAKES, "mend: {round: ",
     HEAD "entries:\n"
          "  - star: {name: lamp, diameter: 120 mm, points: 5}\n"},
    {"mend", "mend", MAKES_WHOLE, "mend: {thicken: yes}",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
     "  - plate: {name: port, shape: round, diameter: 20 mm, as: opening, shift: [-11.45 mm, 0 "
     "mm]}\n"
     "  - plate: {name: starboard, shape: round, diameter: 20 mm, as: opening, at: [11.45 mm, 0 "
     "mm]}\n"},
    {"bite", "bite", MAKES_WHOLE, "bite: ",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 12 mm}\n"
          "  - initial: {name: big, text: X, font: {family: DejaVu Sans, style: Bold}, fill window "
          "of: hoop, bite: 0.1 mm}\n"},
    {"a-counter-is-never-alone", "alone", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm}\n"
          "  - words: {name: shop, text: BO, " BEBAS ", height: 80 mm, as: opening}\n"},
};

static HfRun *
run_text(const char *text, gsize length)
{
  g_autoptr(GError) error = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  HfRun *run = hf_run_text(text, length, "quay.yaml", &options, &error);
  if (run == NULL)
    g_test_message("%s", error->message);
  return run;
}

/* The first target has gone, or was several and is fewer. */
static gboolean
is_taken(const HfRun *before, const HfRun *after, const HfProposal *proposal)
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
try_at(const HfRun *run, const HfProposal *proposal, double value, const char *text,
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
  g_autoptr(HfRun) after = run_text(cured, length);
  if (after == NULL || !is_taken(run, after, proposal))
    return OFFERED;
  return after->hold->whole ? MAKES_WHOLE : TAKES;
}

static Outcome
try_proposal(const HfRun *run, const HfProposal *proposal, const char *text, const char *wanted)
{
  gboolean knob = !isnan(proposal->step);
  Outcome best = NOT_OFFERED;
  for (int i = 0; i <= (knob ? 8 : 0) && best < MAKES_WHOLE; i++) {
    double value = proposal->least + (proposal->most - proposal->least) * i / 8;
    Outcome here = try_at(run, proposal, value, text, wanted);
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
check_proposal(const HfRun *run, const HfProposal *proposal)
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
        run->hold->findings->pdata[g_array_index(proposal->targets, guint, i)];
    g_assert_true(g_strv_contains(hf_law(target->kind)->cures, proposal->family->key));
  }
}

static void
test_family(gconstpointer data)
{
  guint c = GPOINTER_TO_UINT(data);
  g_autoptr(HfRun) run = run_text(cases[c].text, strlen(cases[c].text));
  g_assert_nonnull(run);
  HfPatient patient = {run->recipe, run->shop, run->layout, run->metal, run->hold, NULL};
  g_autoptr(GPtrArray) proposals = hf_cure_proposals(&patient);
  Outcome best = NOT_OFFERED;
  gboolean is_offered = FALSE;
  for (guint i = 0; i < proposals->len; i++) {
    const HfProposal *proposal = proposals->pdata[i];
    check_proposal(run, proposal);
    check_edits(proposal, cases[c].text);
    if (strcmp(proposal->family->key, cases[c].key) != 0)
      continue;
    is_offered = TRUE;
    if (best < MAKES_WHOLE)
      best = MAX(best, try_proposal(run, proposal, cases[c].text, cases[c].edit));
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
  g_autoptr(HfRun) run = run_text(text, strlen(text));
  HfPatient patient = {run->recipe, run->shop, run->layout, run->metal, run->hold, NULL};
  g_autoptr(GPtrArray) proposals = hf_cure_proposals(&patient);
  g_assert_cmpuint(proposals->len, ==, 0);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/propose/knob", test_knob);
  g_test_add_func("/propose/knob-units", test_knob_units);
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
