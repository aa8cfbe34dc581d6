/* SPDX-License-Identifier: GPL-3.0-or-later
 * sentence.c - the words of a finding: WHERE: WHAT; FIX, from one table of patterns.
 *
 * In a pattern {measured} and the like are filled in; a stretch in [brackets] is left out when one
 * of its fields is not there.
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include <string.h>

/* kg: what weighs less would be said to weigh 0 g */
#define LEAST_MASS 5e-5

typedef struct {
  HfLawKind kind;
  const char *what, *fix;
} Pattern;

static const Pattern patterns[HF_N_LAWS] = {
    {HF_LAW_LOOSE_PART, "loose, nothing holds it[: {mass} would fall out]",
     "tie it, let it bite deeper, or name it under alone"},
    {HF_LAW_STANDS_ALONE, "stands alone, which the recipe does not ask for[: {mass}]",
     "tie it, let it bite deeper, or name it under alone"},
    {HF_LAW_HANGING_SPLIT, "hanging points are on different parts", "join the parts by a bar"},
    {HF_LAW_THIN_WEB,
     "web is {measured}{worst}, {needs} {limit}[, a {form}[ with {mass} beyond it]]",
     "make it wider, or have holdfast thicken it"},
    {HF_LAW_THIN_LONG_WEB,
     "long web is {measured}{worst}, {needs} {limit}[, a {form}[ with {mass} beyond it]]",
     "make it wider, or have holdfast thicken it"},
    {HF_LAW_WEAK_JOINT, "joint is {measured} wide{worst}, {needs} {limit}[, with {mass} beyond it]",
     "let one bite deeper into the other, or have holdfast thicken it"},
    {HF_LAW_SMALL_OPENING,
     "opening is too small to pierce: room for a circle of {measured} radius{worst}, {needs} "
     "{limit}",
     "make it larger or fill it"},
    {HF_LAW_SMALL_HOLE, "round hole is {measured} across{worst}, {needs} {limit}",
     "make it larger, or mark it and drill it"},
    {HF_LAW_NARROW_GAP, "gap is {measured} wide{worst}, {needs} {limit}", "widen it or close it"},
    {HF_LAW_LOST_DETAIL,
     "inside corners come out rounded by the kerf: {measured} of the letter is lost{worst}[, "
     "{area}]",
     "make it larger, or cut with a finer kerf"},
    {HF_LAW_RUN_TOGETHER, "only {measured} apart{worst}, {needs} {limit}", "widen the spacing"},
    {HF_LAW_SHARP_POINT, "outer point of {measured} can hurt someone, {needs} {limit}",
     "round it to 3 mm"},
    {HF_LAW_BOWING_STRIP,
     "strip buckles when it is {measured} hotter than its ends, {needs} {limit}",
     "add a joint in between, make it wider, or take thicker sheet"},
    {HF_LAW_SMALL_LETTERS, "letters are {measured} high, {needs} {limit} for that reading distance",
     "make them larger"},
    {HF_LAW_SMALL_NUMBER, "number is {measured} high, {needs} {limit} for a house number",
     "make it larger, and ask your fire department what your town wants"},
    {HF_LAW_TOO_LARGE, "sign sticks out by {measured}", "make it smaller, or split it"},
    {HF_LAW_NOTHING_TO_HANG_BY, "the sign is mounted by holes, and has nothing to hang by",
     "add an ear or a hole, or say how it is mounted"},
    {HF_LAW_HOLE_NEAR_EDGE, "hole is {measured} from an edge{worst}, {needs} {limit}",
     "move it inward, or make the metal round it larger"},
    {HF_LAW_OUT_OF_LEVEL, "the sign hangs {measured} out of level, {needs} {limit}",
     "move a hanging point"},
    {HF_LAW_FEET, "the centre of mass lies {measured} outside the feet: the sign topples",
     "move a foot, or make it wider"},
    {HF_LAW_PIN_MISSED, "the tie no longer fits its place and is left out", "place it anew"},
    {HF_LAW_UNTIED, "the rule for ties could not hold it", "tie it by hand"},
    {HF_LAW_ONE_TIE,
     "alone it holds metal[ of {mass}] that reaches {measured} from it{worst}, {needs} {limit}",
     "give it a second tie"},
    {HF_LAW_HIDDEN, "only {measured} of its outline shows{worst}, {needs} {limit}",
     "move it to where it shows"},
    {HF_LAW_OFF_METAL, "it runs off the metal: {measured} of its outline{worst}, {needs} {limit}",
     "make it smaller, or the plate larger"},
    {HF_LAW_NO_METAL, "there is no metal", "add an entry that is metal"},
    {HF_LAW_ACCEPTANCE, "the recipe accepts what is not there", "take it out of the recipe"},
};

static char *
with_unit(double value, const char *unit, int more)
{
  gboolean fine = strcmp(unit, "mm") == 0 || strcmp(unit, "%") == 0;
  int decimals = fine && fabs(value) < 100 ? 2 : 1;
  if (strcmp(unit, "mm2") == 0 && more == 0)
    return hf_text_area(value);
  g_autofree char *number = hf_text_number(value, MIN(decimals + more, 4));
  if (strcmp(unit, "deg") == 0)
    return g_strconcat(number, "\u00b0", NULL);
  if (strcmp(unit, "K") == 0) /* of a difference the same, and what people say */
    return g_strconcat(number, " \u00b0C", NULL);
  return g_strconcat(number, " ", unit, NULL);
}

/* Both in as many decimals as tell them apart: not `is 2 mm, needs 2 mm`. */
static void
both(const HfFinding *finding, char **ret_measured, char **ret_limit)
{
  const char *unit = hf_law(finding->kind)->unit;
  *ret_measured = *ret_limit = NULL;
  if (isnan(finding->measured))
    return;
  for (int more = 0; more < 4; more++) {
    g_free(*ret_measured);
    g_free(*ret_limit);
    *ret_measured = with_unit(finding->measured, unit, more);
    *ret_limit = isnan(finding->limit) ? NULL : with_unit(finding->limit, unit, more);
    if (g_strcmp0(*ret_measured, *ret_limit) != 0)
      return;
  }
}

static const char *
needs(const HfFinding *finding)
{
  gboolean at_least = hf_law(finding->kind)->at_least;
  if (finding->gravity == HF_STOP)
    return at_least ? "needs" : "may be at most";
  return at_least ? "should be" : "should be at most";
}

/* The text of one field; %NULL when it is not there. (transfer full) */
static char *
field(const HfFinding *finding, const char *name, gsize length)
{
  g_autofree char *measured = NULL, *limit = NULL;
  both(finding, &measured, &limit);
  const char *up_to = finding->count < 2 ? "" : "up to ";
#define IS(word) (length == strlen(word) && strncmp(name, word, length) == 0)
  if (IS("measured"))
    return g_steal_pointer(&measured);
  if (IS("worst"))
    return g_strdup(finding->count < 2 ? "" : " at the worst");
  if (IS("limit"))
    return g_steal_pointer(&limit);
  if (IS("needs"))
    return g_strdup(needs(finding));
  if (IS("form"))
    return g_strdup(finding->form);
  if (IS("mass")) {
    g_autofree char *mass = !(finding->mass >= LEAST_MASS) ? NULL : hf_text_grams(finding->mass);
    return mass != NULL ? g_strconcat(up_to, mass, NULL) : NULL;
  }
  if (IS("area")) {
    g_autofree char *area = isnan(finding->area) ? NULL : hf_text_area(finding->area);
    return area != NULL ? g_strconcat(up_to, area, NULL) : NULL;
  }
#undef IS
  g_assert_not_reached();
}

/* Fills @text from @pattern up to the closing bracket or the end; %FALSE when a field is missing.
 */
static gboolean
fill(const HfFinding *finding, const char **pattern, GString *text)
{
  gboolean complete = TRUE;
  for (const char *at = *pattern; *pattern = at, *at != '\0' && *at != ']'; at++) {
    if (*at == '{') {
      const char *end = strchr(at, '}');
      g_autofree char *value = field(finding, at + 1, (gsize)(end - at) - 1);
      if (value == NULL)
        complete = FALSE;
      else
        g_string_append(text, value);
      at = end;
    } else if (*at == '[') {
      g_autoptr(GString) part = g_string_new(NULL);
      at++;
      if (fill(finding, &at, part))
        g_string_append_len(text, part->str, (gssize)part->len);
    } else {
      g_string_append_c(text, *at);
    }
  }
  return complete;
}

static char *
what_of(const HfFinding *finding)
{
  const char *pattern = patterns[finding->kind].what;
  g_autoptr(GString) text = g_string_new(NULL);
  fill(finding, &pattern, text);
  return g_string_free(g_steal_pointer(&text), FALSE);
}

static char *
where_of(const HfFinding *finding, guint own)
{
  if (own == 0)
    return finding->count > 1 ? g_strdup_printf("%u places", finding->count) : NULL;
  g_autofree const char **names = g_new0(const char *, own + 1);
  for (guint i = 0; i < own; i++)
    names[i] = finding->names->pdata[i];
  g_autofree char *list = hf_text_list(names, "and");
  if (finding->count < 2)
    return g_steal_pointer(&list);
  return g_strdup_printf("%s, and %u more %s", list, finding->count - 1,
                         finding->count == 2 ? "place" : "places");
}

void
hf_finding_word(HfFinding *finding, guint where_count)
{
  const Pattern *pattern = &patterns[finding->kind];
  g_assert(pattern->kind == finding->kind);
  g_free(finding->where);
  finding->where = where_of(finding, MIN(where_count, finding->names->len));
  if (finding->what == NULL)
    finding->what = what_of(finding);
  if (finding->fix == NULL)
    finding->fix = g_strdup(pattern->fix);
  g_free(finding->text);
  finding->text =
      g_strconcat(finding->where != NULL ? finding->where : "", finding->where != NULL ? ": " : "",
                  finding->what, "; ", finding->fix, NULL);
}
