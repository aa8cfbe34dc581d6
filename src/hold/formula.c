/* SPDX-License-Identifier: GPL-3.0-or-later
 * formula.c - reads a formula from left to right and works it out on the way.
 *
 * Invariant: `at` is the first character that was not understood; nothing is read beyond it, so
 * that a slip in a formula ends there and is seen (test_law.c reads every formula of every law).
 */
#include "hold/formula-private.h"
#include <string.h>

typedef struct {
  const char *at;
  HfFormulaTerms *terms;
  gboolean broken; /* something that must follow does not */
} Reader;

static double
break_off(Reader *reader, const char *at)
{
  reader->at = at;
  reader->broken = TRUE;
  return NAN;
}

static gboolean
take(Reader *reader, const char *word)
{
  gsize length = strlen(word);
  if (strncmp(reader->at, word, length) != 0)
    return FALSE;
  reader->at += length;
  return TRUE;
}

/* A name ends where no letter follows: `k` is not the beginning of `kg`. */
static gboolean
take_name(Reader *reader, const char *name)
{
  gsize length = strlen(name);
  return strncmp(reader->at, name, length) == 0 && !g_ascii_isalpha(reader->at[length]) &&
         take(reader, name);
}

static gboolean
take_number(Reader *reader, double *ret_number)
{
  if (!g_ascii_isdigit(*reader->at))
    return FALSE;
  char *end;
  *ret_number = g_ascii_strtod(reader->at, &end);
  reader->at = end;
  return TRUE;
}

/* "reading distance", t, k, c. */
static gboolean
take_quantity(Reader *reader, double *ret_value)
{
  const HfFormulaTerms *terms = reader->terms;
  const struct {
    const char *name;
    double value;
  } names[] = {{"t", terms->process->thickness},
               {"k", terms->process->kerf},
               {"c", terms->process->crater},
               {"reading distance", terms->recipe->read_from}};
  for (gsize i = 0; i < G_N_ELEMENTS(names); i++)
    if (strncmp(reader->at, names[i].name, strlen(names[i].name)) == 0 &&
        take_name(reader, names[i].name)) {
      *ret_value = names[i].value;
      return TRUE;
    }
  return FALSE;
}

/* The figure of the key in braces; who says it speaks for the limit. */
static gboolean
take_figure(Reader *reader, double *ret_value)
{
  HfFormulaTerms *terms = reader->terms;
  for (guint i = 0; i < HF_N_FIGURES; i++) {
    g_autofree char *word = g_strdup_printf("{%s}", hf_law_figure_row((HfFigure)i)->key);
    if (take(reader, word)) {
      *ret_value = hf_law_figure((HfFigure)i, terms->shop, terms->recipe, &terms->said_by);
      return TRUE;
    }
  }
  return FALSE;
}

/* What follows a name. */
static double
read_quotient(Reader *reader, double value)
{
  double below;
  const char *before = reader->at;
  if (take(reader, "/") && take_number(reader, &below))
    return value / below;
  reader->at = before;
  if (take(reader, " / ") && take_figure(reader, &below))
    return value / below;
  reader->at = before;
  return value;
}

/* What follows a number: it must say what it is a number of. */
static double
read_multiple(Reader *reader, double number)
{
  double of;
  const char *before = reader->at;
  if (take(reader, " times the stop"))
    return number * reader->terms->stop;
  if (take(reader, " ")) {
    if (take_name(reader, reader->terms->unit))
      return number;
    if (take_quantity(reader, &of))
      return number * of;
  }
  return break_off(reader, before);
}

static double read_sum(Reader *reader);

static double
read_most(Reader *reader)
{
  double most = read_sum(reader);
  while (take(reader, ", "))
    most = fmax(most, read_sum(reader));
  return take(reader, ")") ? most : break_off(reader, reader->at);
}

static double
read_term(Reader *reader)
{
  double value;
  if (take_name(reader, "any"))
    return 0;
  if (take(reader, "max("))
    return read_most(reader);
  if (take_number(reader, &value))
    return read_multiple(reader, value);
  if (take_quantity(reader, &value))
    return read_quotient(reader, value);
  return break_off(reader, reader->at);
}

static double
read_sum(Reader *reader)
{
  double sum = read_term(reader);
  while (take(reader, " + "))
    sum += read_term(reader);
  return sum;
}

static double
read_formula(Reader *reader)
{
  double thin = read_sum(reader), up_to;
  const char *before = reader->at;
  if (!take(reader, " on sheet up to "))
    return thin;
  if (!take_number(reader, &up_to) || !take(reader, " mm, "))
    return break_off(reader, before);
  double thick = read_sum(reader);
  if (!take(reader, " above"))
    return break_off(reader, reader->at);
  return reader->terms->process->thickness <= up_to ? thin : thick;
}

double
hf_formula_value(const char *formula, HfFormulaTerms *terms, const char **ret_rest)
{
  if (ret_rest != NULL)
    *ret_rest = NULL;
  if (formula == NULL)
    return NAN;
  Reader reader = {formula, terms, FALSE};
  double value = read_formula(&reader);
  gboolean whole = *reader.at == '\0' && !reader.broken;
  g_assert(whole || ret_rest != NULL);
  if (ret_rest != NULL)
    *ret_rest = whole ? NULL : reader.at;
  return value;
}
