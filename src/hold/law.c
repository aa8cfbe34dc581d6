/* SPDX-License-Identifier: GPL-3.0-or-later
 * law.c - the rows of all laws by number and by key, and what a limit is for one sign.
 *
 * All defaults are common practice for sheet of 1.5 to 5 mm on machines of 40 to 60 A, without a
 * source, except where a standard is named and where a figure follows from the kerf's own geometry.
 * They are starting values: a shop replaces them by what its own test cut shows.
 */
#include "base/text.h"
#include "hold/formula-private.h"
#include <string.h>

#define LAW(NAME, name, file) [HF_LAW_##NAME] = &hf_##name##_law,
static const HfLaw *const laws[HF_N_LAWS] = {
#include "hold/laws.def"
};

#define FIGURE(NAME, name) [HF_FIGURE_##NAME] = &hf_##name##_figure,
static const HfFigureRow *const figures[HF_N_FIGURES] = {
#include "hold/laws.def"
};

const HfLaw *
hf_law(HfLawKind kind)
{
  g_assert((guint)kind < HF_N_LAWS);
  return laws[kind];
}

const HfLaw *
hf_law_by_key(const char *key)
{
  for (guint i = 0; i < HF_N_LAWS; i++)
    if (g_ascii_strcasecmp(laws[i]->key, key) == 0)
      return laws[i];
  return NULL;
}

gboolean
hf_law_is_of_gap(HfLawKind kind)
{
  HfMeasures measures = hf_law(kind)->measures;
  return measures == HF_MEASURES_GAP || measures == HF_MEASURES_OPENING;
}

const HfFigureRow *
hf_law_figure_row(HfFigure figure)
{
  g_assert((guint)figure < HF_N_FIGURES);
  return figures[figure];
}

/* ---- words ------------------------------------------------------------------------------------
 */

static const HfFigureRow *
figure_called(const char *key, gsize length)
{
  for (guint i = 0; i < HF_N_FIGURES; i++)
    if (strlen(figures[i]->key) == length && strncmp(figures[i]->key, key, length) == 0)
      return figures[i];
  return NULL;
}

/* @text (nullable) with each {key} replaced by that figure, as it is by default. */
static void
append_filled(GString *out, const char *text)
{
  for (const char *at = text; at != NULL && *at != '\0'; at++) {
    if (*at != '{') {
      g_string_append_c(out, *at);
      continue;
    }
    gsize length = strcspn(at + 1, "}");
    const HfFigureRow *figure = figure_called(at + 1, length);
    g_assert(figure != NULL);
    hf_text_append(out, figure->value, 2);
    if (figure->unit[0] != '\0')
      g_string_append_printf(out, " %s", figure->unit);
    at += length + 1;
  }
}

char *
hf_law_quantity(const HfLaw *law)
{
  g_autoptr(GString) text = g_string_new(NULL);
  append_filled(text, law->quantity);
  return g_string_free(g_steal_pointer(&text), FALSE);
}

char *
hf_law_formula(const HfLaw *law, gboolean stop)
{
  HfBound bound = stop ? law->stop : law->caution;
  if (bound.formula == NULL)
    return NULL;
  g_autoptr(GString) text = g_string_new(NULL);
  append_filled(text, bound.formula);
  append_filled(text, bound.words);
  return g_string_free(g_steal_pointer(&text), FALSE);
}

/* ---- the limit of one sign --------------------------------------------------------------------
 */

/* The value that @limits give to @key and @suffix; NAN when they do not. The last one counts. */
static double
given(const GArray *limits, const char *key, const char *suffix)
{
  g_autofree char *whole = g_strconcat(key, suffix, NULL);
  double value = NAN;
  for (guint i = 0; limits != NULL && i < limits->len; i++) {
    const HfLimitOverride *one = &g_array_index(limits, HfLimitOverride, i);
    if (g_ascii_strcasecmp(one->key, whole) == 0)
      value = one->value;
  }
  return value;
}

/* The graver limit must not be the milder one: a caution on the far side of its stop moves to it.
 */
static void
keep_order(const HfLaw *law, HfLimit *limit)
{
  if (isnan(limit->stop) || isnan(limit->caution))
    return;
  limit->caution =
      law->at_least ? fmax(limit->caution, limit->stop) : fmin(limit->caution, limit->stop);
}

static void
override(const HfLaw *law, HfLimit *limit, const GArray *limits, HfSaidBy speaker)
{
  double stop = given(limits, law->key, ""), caution = given(limits, law->key, " caution");
  if (isnan(stop) && isnan(caution))
    return;
  if (isnan(limit->stop)) { /* it has but one limit */
    limit->caution = isnan(caution) ? stop : caution;
  } else {
    if (!isnan(stop)) {
      if (!isnan(limit->caution) && limit->stop > 0)
        limit->caution *= stop / limit->stop;
      limit->stop = stop;
    }
    if (!isnan(caution))
      limit->caution = caution;
    keep_order(law, limit);
  }
  limit->said_by = speaker;
}

static HfSaidBy
default_speaker(const HfLaw *law)
{
  return g_str_has_prefix(law->source, "standard ") ? HF_SAID_BY_STANDARD : HF_SAID_BY_PRACTICE;
}

/* A law without a quantity has no limit: any is found. */
static HfLimit
by_formula(const HfLaw *law, const HfProcess *process, const HfShop *shop, const HfRecipe *recipe)
{
  HfLimit limit = {NAN, NAN, default_speaker(law), NULL};
  if (law->unit[0] == '\0')
    return limit;
  HfFormulaTerms terms = {process, shop, recipe, law->unit, NAN, limit.said_by};
  if (!law->stop_within_reach)
    limit.stop = hf_formula_value(law->stop.formula, &terms, NULL);
  terms.stop = limit.stop;
  limit.caution = hf_formula_value(law->caution.formula, &terms, NULL);
  limit.said_by = terms.said_by;
  return limit;
}

HfLimit
hf_law_usual(HfLawKind kind, const HfProcess *process)
{
  static const HfRecipe silent = {.read_from = NAN};
  return by_formula(hf_law(kind), process, NULL, &silent);
}

static gboolean
is_stricter(const HfLaw *law, HfLimit a, HfLimit b)
{
  double one = isnan(a.stop) ? a.caution : a.stop, other = isnan(b.stop) ? b.caution : b.stop;
  return law->at_least ? one > other : one < other;
}

/* @limit as the shop's chart has it: of several rows for the sheet, which the recipe does not tell
 * apart, the strictest counts; one that says nothing of it leaves it as it is. */
static HfLimit
by_rows(const HfLaw *law, HfLimit limit, const HfProcess *process, const HfShop *shop,
        const HfRecipe *recipe)
{
  HfLimit strictest = limit;
  const HfChartRow *row = NULL;
  for (guint n = 0; (row = hf_process_row(process, shop, recipe, row)) != NULL; n++) {
    HfLimit one = limit;
    override(law, &one, row->limits, HF_SAID_BY_COUPON);
    if (one.said_by == HF_SAID_BY_COUPON)
      one.coupon = row->coupon != NULL ? g_intern_string(row->coupon) : NULL;
    if (n == 0 || is_stricter(law, one, strictest))
      strictest = one;
  }
  return strictest;
}

HfLimit
hf_law_limit(HfLawKind kind, const HfProcess *process, const HfShop *shop, const HfRecipe *recipe)
{
  const HfLaw *law = hf_law(kind);
  HfLimit limit = by_formula(law, process, shop, recipe);
  if (shop != NULL)
    override(law, &limit, shop->limits, HF_SAID_BY_SHOP);
  limit = by_rows(law, limit, process, shop, recipe);
  override(law, &limit, recipe->limits, HF_SAID_BY_RECIPE);
  if (law->stop_within_reach && recipe->within_reach)
    limit.stop = limit.caution;
  return limit;
}

double
hf_law_figure(HfFigure figure, const HfShop *shop, const HfRecipe *recipe, HfSaidBy *ret_said_by)
{
  const HfFigureRow *row = hf_law_figure_row(figure);
  double by_recipe = given(recipe->limits, row->key, "");
  double by_shop = shop != NULL ? given(shop->limits, row->key, "") : NAN;
  HfSaidBy speaker = !isnan(by_recipe) ? HF_SAID_BY_RECIPE
                     : !isnan(by_shop) ? HF_SAID_BY_SHOP
                                       : default_speaker(hf_law(row->law));
  if (ret_said_by != NULL)
    *ret_said_by = speaker;
  return !isnan(by_recipe) ? by_recipe : !isnan(by_shop) ? by_shop : row->value;
}

static const char *
said_by_coupon(const char *date)
{
  if (date == NULL)
    return "your process (cut chart)";
  g_autofree char *text = g_strdup_printf("your process (coupon of %s)", date);
  return g_intern_string(text);
}

const char *
hf_law_said_by(HfLawKind kind, HfSaidBy said_by, const char *coupon)
{
  switch (said_by) {
  case HF_SAID_BY_SHOP:
    return "your process (shop file)";
  case HF_SAID_BY_COUPON:
    return said_by_coupon(coupon);
  case HF_SAID_BY_RECIPE:
    return "your process (recipe)";
  case HF_SAID_BY_PRACTICE:
  case HF_SAID_BY_STANDARD:
    break;
  }
  return hf_law(kind)->source;
}

static gboolean
breaks(const HfLaw *law, double limit, double measured)
{
  if (isnan(limit))
    return FALSE;
  return law->at_least ? measured < limit - HF_SLACK : measured > limit + HF_SLACK;
}

gboolean
hf_law_weigh(HfLawKind kind, HfLimit limit, double measured, HfGravity *ret_gravity,
             double *ret_limit)
{
  const HfLaw *law = hf_law(kind);
  if (law->unit[0] == '\0') {
    *ret_gravity = law->gravity;
    *ret_limit = NAN;
    return TRUE;
  }
  g_assert(!isnan(measured));
  gboolean stop = breaks(law, limit.stop, measured), caution = breaks(law, limit.caution, measured);
  gboolean note = law->note_within && (law->at_least || measured > HF_SLACK);
  if (!stop && !caution && !note)
    return FALSE;
  *ret_gravity = stop ? HF_STOP : caution ? MIN(law->gravity, HF_CAUTION) : HF_NOTE;
  *ret_limit = stop ? limit.stop : limit.caution;
  return TRUE;
}
