/* SPDX-License-Identifier: GPL-3.0-or-later
 * asked.c - what the recipe asks for and could hardly mean, or did not get: a kerf as wide as thick
 * metal, letters nearer than asked for, a word in two alphabets. None of it is a fault of the
 * metal.
 */
#include "base/alike.h"
#include "base/text.h"
#include "hold/hold-private.h"
#include <string.h>

#define WIDE_KERF 2    /* thicknesses; ours */
#define SHOWN     0.05 /* mm: less is not told */

static guint
n_entries(const HfCheck *check)
{
  return check->recipe->entries != NULL ? check->recipe->entries->len : 0;
}

/* The first shape of @entry. */
static guint
shape_of(const HfCheck *check, guint entry)
{
  for (guint s = 0; s < check->layout->shapes->len; s++)
    if (hf_layout_shape(check->layout, s)->entry == entry)
      return s;
  return HF_NO_SHAPE;
}

/* A finding about a whole entry, called @name. */
static HfFinding *
add_about(HfCheck *check, HfLawKind law, guint entry, const char *name)
{
  guint shape = shape_of(check, entry);
  HfPoint at = check->hold->centroid;
  if (shape != HF_NO_SHAPE)
    at = hf_box_centre(hf_outline_box(hf_layout_shape(check->layout, shape)->outline));
  HfFinding *finding = hf_check_add(check, law, NAN, at);
  hf_finding_name(check, finding, shape);
  g_ptr_array_set_size(finding->names, 0); /* not one letter of it */
  hf_finding_call(finding, name);
  return finding;
}

/* ---- kerf ----------------------------------------------------------------------------------- */

static gboolean
check_kerf(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  double kerf = check->hold->process.kerf, thickness = check->hold->process.thickness;
  if (kerf < WIDE_KERF * thickness)
    return TRUE;
  HfFinding *finding = hf_check_add(check, HF_LAW_WIDE_KERF, NAN, check->hold->centroid);
  g_autofree char *wide = hf_text_mm(kerf), *thick = hf_text_mm(thickness);
  hf_finding_say(finding, "the kerf is %s in metal of %s, which is seldom meant", wide, thick);
  return TRUE;
}

/* ---- spacing -------------------------------------------------------------------------------- */

static double
solved_of(const HfCheck *check, guint entry, HfSolvedWhat what)
{
  const GArray *solved = check->layout->solved;
  for (guint i = 0; solved != NULL && i < solved->len; i++) {
    const HfSolved *one = &g_array_index(solved, HfSolved, i);
    if (one->entry == entry && one->what == what)
      return one->value;
  }
  return NAN;
}

static char *
asked_text(HfMeasure asked, double mm)
{
  g_autofree char *length = hf_text_mm(mm);
  if (!asked.is_share)
    return g_steal_pointer(&length);
  g_autofree char *share = hf_text_number(100 * asked.value, 1);
  return g_strdup_printf("%s %% (%s)", share, length);
}

static void
check_squeezed(HfCheck *check, guint entry, const HfWordsEntry *words)
{
  double given = solved_of(check, entry, HF_SOLVED_SPACING);
  guint shape = shape_of(check, entry);
  double height = shape != HF_NO_SHAPE ? hf_layout_shape(check->layout, shape)->letter_height : NAN;
  HfMeasure asked = words->spacing;
  double mm = asked.is_share ? asked.value * height : asked.value;
  if (words->band == NULL || words->band->len == 0 || isnan(given) || isnan(mm) ||
      !(mm - given > SHOWN))
    return;
  const HfEntry *of = hf_recipe_at(check->recipe, entry);
  g_autofree char *name = g_strdup_printf("\"%s\"", of->name);
  g_autofree char *want = asked_text(asked, mm), *have = hf_text_mm(given);
  HfFinding *finding = add_about(check, HF_LAW_SQUEEZED, entry, name);
  hf_finding_say(finding,
                 "letters are spaced by %s where %s was asked for: the band has no room "
                 "for more",
                 have, want);
}

static gboolean
check_spacing(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  for (guint i = 0; i < n_entries(check); i++) {
    const HfEntry *entry = hf_recipe_at(check->recipe, i);
    if (entry->kind == HF_ENTRY_WORDS)
      check_squeezed(check, i, &entry->words);
  }
  return TRUE;
}

/* ---- alphabets ------------------------------------------------------------------------------ */

static void
check_word(HfCheck *check, guint entry, const char *word)
{
  g_autofree char *odd = hf_alike_mixed(word) ? hf_alike_say(word) : NULL;
  if (odd == NULL)
    return;
  g_autofree char *name = g_strdup_printf("the word \"%s\"", word);
  HfFinding *finding = add_about(check, HF_LAW_MIXED_LETTERS, entry, name);
  hf_finding_say(finding, "%s", odd);
}

static gboolean
check_alphabets(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  for (guint i = 0; i < n_entries(check); i++) {
    const HfEntry *entry = hf_recipe_at(check->recipe, i);
    for (guint l = 0;
         entry->kind == HF_ENTRY_WORDS && entry->words.lines != NULL && l < entry->words.lines->len;
         l++) {
      g_auto(GStrv) words = g_strsplit_set(entry->words.lines->pdata[l], " \t", -1);
      for (gsize w = 0; words[w] != NULL; w++)
        check_word(check, i, words[w]);
    }
  }
  return TRUE;
}

/* ---- the laws ------------------------------------------------------------------------------- */

const HfLaw hf_wide_kerf_law = {
    .key = "wide-kerf",
    .quantity = "a kerf of twice the thickness of the metal, or more",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "a cut is seldom wider than the metal is thick: a slip in one of the two figures makes "
           "every other limit wrong",
    .what = "the kerf is wide for this metal",
    .fix = "measure a cut, and look at thickness and kerf again",
    .cures = HF_NO_CURES,
    .check = check_kerf,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_squeezed_law = {
    .key = "squeezed",
    .quantity = "letters in a band that are spaced by less than was asked for",
    .unit = "",
    .gravity = HF_NOTE,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the customer asked for more air between the letters",
    .what = "letters are spaced by less than was asked for",
    .fix = "shorten the text, make the rings larger, or say under give way what may give",
    .cures = HF_NO_CURES,
    .check = check_spacing,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_mixed_letters_law = {
    .key = "mixed-letters",
    .quantity = "a word with letters of another alphabet that look like its own",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = "standard UTS 39",
    .reference = "Unicode Technical Standard 39, confusables.txt",
    .why = "the two letters are drawn differently in many faces, and nobody ordered that",
    .what = "it mixes two alphabets",
    .fix = "type the word anew",
    .cures = HF_NO_CURES,
    .check = check_alphabets,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
