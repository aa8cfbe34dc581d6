/* SPDX-License-Identifier: GPL-3.0-or-later
 * sentence.c - the words of a finding: WHERE: WHAT; FIX, from the patterns in the row of its law.
 *
 * In a pattern {measured} and the like are filled in; a stretch in [brackets] is left out when one
 * of its fields is not there.
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include <string.h>

/* kg: what weighs less would be said to weigh 0 g */
#define LEAST_MASS 5e-5

static char *
with_unit(double value, const char *unit, int more)
{
  gboolean share = strcmp(unit, "%") == 0; /* nobody measures a hundredth of a share */
  int decimals = share                                          ? (fabs(value) < 1    ? 2
                                                                   : fabs(value) < 10 ? 1
                                                                                      : 0)
                 : strcmp(unit, "mm") == 0 && fabs(value) < 100 ? 2
                                                                : 1;
  if (strcmp(unit, "mm2") == 0 && more == 0)
    return hf_text_area(value);
  if (strcmp(unit, "mm") == 0)
    return hf_text_length(value, MIN(decimals + more, 4));
  if (strcmp(unit, "mm2") == 0)
    return hf_text_area_more(value, MIN(decimals + more, 4));
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
  const char *pattern = hf_law(finding->kind)->what;
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

char *
hf_finding_place(const HfFinding *finding)
{
  g_autofree char *measured = NULL, *limit = NULL;
  both(finding, &measured, &limit);
  g_autofree const char **names = g_new0(const char *, finding->names->len + 1);
  for (guint i = 0; i < finding->names->len; i++)
    names[i] = finding->names->pdata[i];
  g_autofree char *who = hf_text_list(names, "and"), *x = hf_text_mm(finding->at.x);
  g_autofree char *y = hf_text_mm(finding->at.y);
  return g_strdup_printf("%s%s%s%sat [%s, %s]", who, *who != '\0' ? ": " : "",
                         measured != NULL ? measured : "", measured != NULL ? ", " : "", x, y);
}

void
hf_finding_word(HfFinding *finding, guint where_count)
{
  g_free(finding->where);
  finding->where = where_of(finding, MIN(where_count, finding->names->len));
  if (finding->what == NULL)
    finding->what = what_of(finding);
  if (finding->fix == NULL)
    finding->fix = hf_text_told(hf_law(finding->kind)->fix);
  g_free(finding->text);
  finding->text =
      g_strconcat(finding->where != NULL ? finding->where : "", finding->where != NULL ? ": " : "",
                  finding->what, "; ", finding->fix, NULL);
}
