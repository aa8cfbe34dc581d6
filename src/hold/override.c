/* SPDX-License-Identifier: GPL-3.0-or-later
 * override.c - is every limit that recipe and shop change, and every finding that the recipe
 * accepts, one that there is? A slip of the pen must not leave a limit as it was in silence.
 */
#include "base/text.h"
#include "hold/law.h"
#include <string.h>

/* No sign is larger than 10 m, and no figure of it (mm, mm2, deg, K, lengths of one or so many) is
 * more than this: beyond, numbers only serve to break what prints them. */
#define MOST 1e8

/* Every key that a limit may be set by. (transfer full) */
static GPtrArray *
limit_keys(void)
{
  GPtrArray *keys = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    if (law->unit[0] == '\0') /* any is found */
      continue;
    g_ptr_array_add(keys, g_strdup(law->key));
    g_ptr_array_add(keys, g_strconcat(law->key, " caution", NULL));
  }
  for (guint i = 0; i < HF_N_FIGURES; i++)
    g_ptr_array_add(keys, g_strdup(hf_law_figure_row((HfFigure)i)->key));
  g_ptr_array_add(keys, NULL);
  return keys;
}

static gboolean
is_among(const GPtrArray *keys, const char *key)
{
  for (guint i = 0; keys->pdata[i] != NULL; i++)
    if (g_ascii_strcasecmp((const char *)keys->pdata[i], key) == 0)
      return TRUE;
  return FALSE;
}

static char *
place(const char *file, HfMark mark)
{
  return mark.line > 0
             ? g_strdup_printf("%s:%u:%u", file != NULL ? file : "recipe", mark.line, mark.column)
             : g_strdup(file);
}

static char *
nearest_fix(const char *key, const char *const *words, const char *otherwise)
{
  const char *near = hf_text_nearest(key, words);
  return near != NULL ? g_strdup_printf("did you mean \"%s\"?", near) : g_strdup(otherwise);
}

/* The unit of a key: of the law that it begins with, of a figure by itself. */
static const char *
unit_of(const char *key)
{
  for (guint i = 0; i < HF_N_FIGURES; i++)
    if (g_ascii_strcasecmp(key, hf_law_figure_row((HfFigure)i)->key) == 0)
      return hf_law_figure_row((HfFigure)i)->unit;
  for (guint i = 0; i < HF_N_LAWS; i++)
    if (g_ascii_strncasecmp(key, hf_law((HfLawKind)i)->key, strlen(hf_law((HfLawKind)i)->key)) ==
            0 &&
        strchr(" ", key[strlen(hf_law((HfLawKind)i)->key)]) != NULL)
      return hf_law((HfLawKind)i)->unit;
  return "";
}

static gboolean
unit_fits(const HfLimitOverride *limit)
{
  return strcmp(limit->unit != NULL ? limit->unit : "", unit_of(limit->key)) == 0;
}

static void
refuse_unit(const HfLimitOverride *limit, const char *where, GError **error)
{
  const char *unit = unit_of(limit->key);
  gboolean sane = isfinite(limit->value) && fabs(limit->value) <= MOST;
  g_autofree char *number = sane ? hf_text_number(limit->value, 6) : g_strdup("a number");
  g_autofree char *fix = unit[0] == '\0' ? g_strdup("give it as a bare number")
                         : sane ? g_strdup_printf("give it in %s: %s %s", unit, number, unit)
                                : g_strdup_printf("give it in %s", unit);
  if (limit->unit == NULL || limit->unit[0] == '\0')
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "\"%s\" is %s, without a unit", limit->key,
                 number);
  else
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "\"%s\" is not a matter of %s", limit->key,
                 limit->unit);
}

/* A width is found when it is less than its limit by more than the slack: under that none is. */
static gboolean
is_silent(const HfLimitOverride *limit)
{
  g_autofree char *key = g_strdup(limit->key);
  if (g_str_has_suffix(key, " caution"))
    key[strlen(key) - strlen(" caution")] = '\0';
  const HfLaw *law = hf_law_by_key(key);
  return law != NULL && law->at_least && limit->value <= 2 * HF_SLACK;
}

static gboolean
limit_is_known(const GPtrArray *keys, const HfLimitOverride *limit, const char *file,
               GError **error)
{
  g_autofree char *where = place(file, limit->mark);
  const HfLaw *law = hf_law_by_key(limit->key);
  if (!is_among(keys, limit->key) && law != NULL) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "take it out",
                 "\"%s\" has no limit that can be changed: any is found", limit->key);
    return FALSE;
  }
  if (!is_among(keys, limit->key)) {
    g_autofree char *fix = nearest_fix(limit->key, (const char *const *)keys->pdata,
                                       "docs/limits.md lists all limits");
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "there is no limit called \"%s\"",
                 limit->key);
    return FALSE;
  }
  gboolean fits = unit_fits(limit), counts = limit->value > 0 && isfinite(limit->value);
  if (!fits && counts) {
    refuse_unit(limit, where, error);
    return FALSE;
  }
  if (!counts || is_silent(limit)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where,
                 "give the figure that your process holds, or take the line out",
                 limit->value > 0 ? "with a limit this small \"%s\" would let everything pass"
                                  : "with a limit of 0 or less \"%s\" would let everything pass",
                 limit->key);
    return FALSE;
  }
  if (limit->value > MOST) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "give a figure that a sign can have",
                 "a limit this large would refuse everything: \"%s\"", limit->key);
    return FALSE;
  }
  return TRUE;
}

static gboolean
limits_are_known(const GPtrArray *keys, const GArray *limits, const char *file, GError **error)
{
  for (guint i = 0; limits != NULL && i < limits->len; i++)
    if (!limit_is_known(keys, &g_array_index(limits, HfLimitOverride, i), file, error))
      return FALSE;
  return TRUE;
}

/* Limits of the chart's rows; a figure beside the limits is of no one sheet. */
static gboolean
rows_are_known(const GPtrArray *keys, const HfShop *shop, GError **error)
{
  for (guint i = 0; shop->chart != NULL && i < shop->chart->len; i++) {
    const GArray *limits = g_array_index(shop->chart, HfChartRow, i).limits;
    if (!limits_are_known(keys, limits, shop->file, error))
      return FALSE;
    for (guint k = 0; limits != NULL && k < limits->len; k++) {
      const HfLimitOverride *limit = &g_array_index(limits, HfLimitOverride, k);
      for (guint f = 0; f < HF_N_FIGURES; f++)
        if (g_ascii_strcasecmp(limit->key, hf_law_figure_row((HfFigure)f)->key) == 0) {
          g_autofree char *where = place(shop->file, limit->mark);
          hf_error_set(error, HF_ERROR_BAD_VALUE, where,
                       "move it to the limits of the whole shop file",
                       "\"%s\" can't be said of one row of the cut chart", limit->key);
          return FALSE;
        }
    }
  }
  return TRUE;
}

static gboolean
finding_is_known(const HfRecipe *recipe, const HfAccepted *accepted, GError **error)
{
  if (hf_law_by_key(accepted->finding) != NULL)
    return TRUE;
  const char *words[HF_N_LAWS + 1] = {NULL};
  for (guint i = 0; i < HF_N_LAWS; i++)
    words[i] = hf_law((HfLawKind)i)->key;
  g_autofree char *where = place(recipe->file, accepted->mark);
  g_autofree char *fix = nearest_fix(accepted->finding, words, "docs/limits.md lists all findings");
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "there is no finding called \"%s\"",
               accepted->finding);
  return FALSE;
}

static gboolean
entry_is_known(const HfRecipe *recipe, const HfAccepted *accepted, GError **error)
{
  if (accepted->of == NULL)
    return TRUE;
  guint n = recipe->entries != NULL ? recipe->entries->len : 0;
  g_autofree const char **names = g_new0(const char *, n + 1);
  for (guint i = 0; i < n; i++) {
    names[i] = hf_recipe_at(recipe, i)->name;
    if (strcmp(names[i], accepted->of) == 0)
      return TRUE;
  }
  g_autofree char *where = place(recipe->file, accepted->mark);
  g_autofree char *fix = nearest_fix(accepted->of, names, "name an entry of this recipe");
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "there is no entry called \"%s\"",
               accepted->of);
  return FALSE;
}

gboolean
hf_law_check_overrides(const HfRecipe *recipe, const HfShop *shop, GError **error)
{
  g_autoptr(GPtrArray) keys = limit_keys();
  if (shop != NULL && !limits_are_known(keys, shop->limits, shop->file, error))
    return FALSE;
  if (shop != NULL && !rows_are_known(keys, shop, error))
    return FALSE;
  if (!limits_are_known(keys, recipe->limits, recipe->file, error))
    return FALSE;
  for (guint i = 0; recipe->accept != NULL && i < recipe->accept->len; i++) {
    const HfAccepted *accepted = &g_array_index(recipe->accept, HfAccepted, i);
    if (!finding_is_known(recipe, accepted, error) || !entry_is_known(recipe, accepted, error))
      return FALSE;
  }
  return TRUE;
}
