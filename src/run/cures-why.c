/* SPDX-License-Identifier: GPL-3.0-or-later
 * cures-why.c - why no change makes the sign whole, and what would have to give.
 *
 *   stops of the given sign  -  what any cure of the list takes away  =  what is in the way
 *
 * Limits of width grow with the sheet and the kerf: letters whose strokes are a third of their
 * limit must be three times as high, or be cut from sheet a third as thick with a kerf a third as
 * wide. A rough figure: what grows unlike the rest is left out.
 */
#include "base/seen.h"
#include "base/text.h"
#include "run/cures.h"
#include <string.h>

enum { MOST_TOLD = 3 };
static const double MUCH = 1.02;  /* times: less is no matter of size */
static const double TOO_MUCH = 5; /* times: more is no matter of size either, nobody has the room */

static gboolean
is_taken(const GPtrArray *cures, guint finding)
{
  for (guint i = 0; i < cures->len; i++) {
    const HfCured *cured = cures->pdata[i];
    for (guint k = 0; k < cured->takes->len; k++)
      if (!cured->as_is && g_array_index(cured->takes, guint, k) == finding)
        return TRUE;
  }
  return FALSE;
}

/* How many times as large the place of a width would have to be; 1: it is no matter of size. */
static double
times_of(const HfFinding *finding)
{
  const HfLaw *law = hf_law(finding->kind);
  gboolean grows = law->measures == HF_MEASURES_METAL || law->measures == HF_MEASURES_GAP ||
                   law->measures == HF_MEASURES_OPENING;
  if (!grows || !law->at_least || isnan(finding->limit) || !(finding->measured > 0))
    return 1;
  return fmax(finding->limit / finding->measured, 1);
}

/* The words that the finding is about, with their letters' height; %NULL: none. */
static const HfEntry *
words_of(const HfSign *sign, const HfFinding *finding)
{
  for (guint i = 0; i < finding->entries->len; i++) {
    const HfEntry *e = hf_recipe_at(sign->recipe, g_array_index(finding->entries, guint, i));
    if (e->kind == HF_ENTRY_WORDS || e->kind == HF_ENTRY_INITIAL)
      return e;
  }
  return NULL;
}

static double
height_of(const HfEntry *words)
{
  return words->kind == HF_ENTRY_WORDS ? words->words.font.height : words->initial.font.height;
}

/* Is the worst place of it where two things meet? Names of the other places follow. */
static gboolean
is_of_two(const HfFinding *finding)
{
  if (finding == NULL || finding->names->len < 2)
    return FALSE;
  g_autofree char *both = g_strdup_printf("%s and %s", (const char *)finding->names->pdata[0],
                                          (const char *)finding->names->pdata[1]);
  return g_str_has_prefix(finding->text, both);
}

/* More than anybody has room for: which place asks for it, and how much is there. */
static void
tell_narrowest(GString *text, const HfEntry *words, const HfFinding *worst, double times)
{
  g_autofree char *name = hf_seen_value(words->name);
  g_autofree char *there = hf_text_mm(worst->measured), *needs = hf_text_mm(worst->limit);
  g_autofree char *factor = hf_text_number(ceil(times * 10) / 10, 1);
  const char *what = hf_law(worst->kind)->measures == HF_MEASURES_METAL ? "metal" : "room";
  if (is_of_two(worst)) {
    g_string_append_printf(text,
                           "what would have to give: where %s and %s meet there is %s of %s, and "
                           "%s is needed: %s\n",
                           (const char *)worst->names->pdata[0],
                           (const char *)worst->names->pdata[1], there, what, needs,
                           words->as == HF_AS_OPENING
                               ? "a larger plate, smaller letters, or more between the two"
                               : "let them meet deeper, or stand clear of each other");
    return;
  }
  g_string_append_printf(text,
                         "what would have to give: another face for %s, stouter and more open: in "
                         "%s there is %s of %s, and %s is needed, %s times as much\n",
                         name, worst->names->len > 0 ? (const char *)worst->names->pdata[0] : name,
                         there, what, needs, factor);
}

static void
tell_size(GString *text, const HfEntry *words, double times)
{
  double height = height_of(words);
  g_autofree char *name = hf_seen_value(words->name);
  g_autofree char *factor = hf_text_number(ceil(times * 10) / 10, 1);
  g_string_append_printf(text, "what would have to give: the letters of %s about %s times as high",
                         name, factor);
  if (!isnan(height)) {
    g_autofree char *figure = hf_text_at_least(ceil(height * times));
    g_string_append_printf(text, " (%s)", figure);
  }
  g_string_append_printf(text, "; or sheet and kerf so much thinner; or another face, stouter and "
                               "more open\n");
}

/* ---- what is no matter of size ----------------------------------------------------------------
 */

static gboolean
concerns(const HfFinding *finding, guint entry)
{
  for (guint i = 0; i < finding->entries->len; i++)
    if (g_array_index(finding->entries, guint, i) == entry)
      return TRUE;
  return FALSE;
}

static gboolean
is_at(const HfShape *shape, HfPoint at)
{
  if (!hf_box_contains(hf_outline_box(shape->outline), at))
    return FALSE;
  g_autoptr(HfRegion) region = hf_region_of_outline(shape->outline, HF_NO_SHAPE, HF_FLATTEN_MM);
  return hf_region_contains(region, at);
}

/* What lies over the letter where something of it is gone: metal over an opening, an opening
 * through metal, metal over metal. %NULL: nothing of another entry. */
static const HfShape *
what_hides(const HfSign *sign, const HfFinding *finding)
{
  const HfEntry *words = words_of(sign, finding);
  for (guint i = sign->layout->shapes->len; i-- > 0;) {
    const HfShape *shape = hf_layout_shape(sign->layout, i);
    const HfEntry *own = hf_recipe_at(sign->recipe, shape->entry);
    gboolean ground = words != NULL && words->as == HF_AS_OPENING && own->kind == HF_ENTRY_PLATE;
    if (!ground && (own->kind == HF_ENTRY_TIE || !concerns(finding, shape->entry)) &&
        is_at(shape, finding->at))
      return shape;
  }
  return NULL;
}

/* What is to say other than a size; %FALSE: nothing. */
static gboolean
tell_place(GString *text, const HfSign *sign, const HfFinding *finding)
{
  if (finding->kind == HF_LAW_CRACK && finding->names->len == 2) {
    g_string_append_printf(text,
                           "what would have to give: %s and %s stand a kerf apart all along, run "
                           "into each other all along, or part at a wider angle\n",
                           (const char *)finding->names->pdata[0],
                           (const char *)finding->names->pdata[1]);
    return TRUE;
  }
  const HfShape *over =
      words_of(sign, finding) != NULL && hf_law(finding->kind)->measures == HF_MEASURES_OTHER
          ? what_hides(sign, finding)
          : NULL;
  if (over != NULL)
    g_string_append_printf(text,
                           "what would have to give: %s lies there: move it, make it smaller, or "
                           "take it out\n",
                           over->label);
  return over != NULL;
}

/* The place of letters that asks for the largest size, up to @most times as large. */
typedef struct {
  const HfEntry *words; /* (nullable) none */
  const HfFinding *finding;
  double times;
} Narrowest;

static Narrowest
narrowest_of(const HfSign *sign, double most)
{
  Narrowest worst = {NULL, NULL, 1};
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(sign, i);
    const HfEntry *own = finding->gravity == HF_STOP ? words_of(sign, finding) : NULL;
    double times = own != NULL ? times_of(finding) : 1;
    if (times > worst.times && times <= most)
      worst = (Narrowest){own, finding, times};
  }
  return worst;
}

/* A pocket where two things meet is told as that, and the size that all the rest asks for. */
static void
tell_sizes(GString *text, const HfSign *sign)
{
  Narrowest worst = narrowest_of(sign, INFINITY), rest = narrowest_of(sign, TOO_MUCH);
  if (worst.words != NULL && worst.times > TOO_MUCH)
    tell_narrowest(text, worst.words, worst.finding, worst.times);
  if (rest.words != NULL && rest.times > MUCH &&
      (worst.times <= TOO_MUCH || is_of_two(worst.finding)))
    tell_size(text, rest.words, rest.times);
}

char *
hf_run_cures_why(const HfSign *sign, const GPtrArray *cures)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(sign->recipe->units);
  GString *text = g_string_new(NULL);
  const HfFinding *first = NULL; /* that no change takes away */
  guint told = 0, more = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(sign, i);
    if (finding->gravity != HF_STOP)
      continue;
    if (is_taken(cures, i))
      continue;
    if (first == NULL)
      first = finding;
    if (told == 0)
      g_string_append(text, "what no change takes away:\n");
    if (told < MOST_TOLD)
      g_string_append_printf(text, "  %s\n", finding->text);
    else
      more++;
    told++;
  }
  if (more > 0)
    g_string_append_printf(text, "  and %u more\n", more);
  if (told == 0)
    g_string_append(text, "each stop has a change that takes it away, but none was found of which "
                          "all go and no other comes\n");
  if (first == NULL || !tell_place(text, sign, first))
    tell_sizes(text, sign);
  return g_string_free(text, FALSE);
}
