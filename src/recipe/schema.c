/* SPDX-License-Identifier: GPL-3.0-or-later
 * Looking up in the tables of what a recipe may say. See kind.h for what a row is.
 *
 * A length is 0.1 mm to 10 m unless its row says otherwise. `otherwise` is itself read by the
 * reader, so what the reference prints as default is what is used; where the default has to be
 * worked out from the sign, the line on the field says how and the field stays NAN.
 */
#include "base/text.h"
#include "recipe/schema-private.h"
#include <string.h>

const HfField *
hf_table_field(const HfTable *table, const char *key)
{
  for (; table != NULL; table = table->also)
    for (const HfField *field = table->fields; field->key != NULL; field++)
      if (strcmp(field->key, key) == 0)
        return field;
  return NULL;
}

const char **
hf_table_keys(const HfTable *table)
{
  GPtrArray *keys = g_ptr_array_new();
  for (; table != NULL; table = table->also)
    for (const HfField *field = table->fields; field->key != NULL; field++)
      g_ptr_array_add(keys, (gpointer)field->key);
  g_ptr_array_add(keys, NULL);
  return (const char **)g_ptr_array_free(keys, FALSE);
}

static gboolean
has_range(const HfField *field)
{
  return field->min != 0 || field->max != 0;
}

double
hf_field_min(const HfField *field)
{
  if (has_range(field))
    return field->min;
  return field->type == HF_FIELD_LENGTH ? HF_RECIPE_MIN_MM : NAN;
}

double
hf_field_max(const HfField *field)
{
  if (has_range(field))
    return field->max;
  return field->type == HF_FIELD_LENGTH ? HF_RECIPE_MAX_MM : NAN;
}

char *
hf_field_say(const HfField *field, double number)
{
  if (field->type == HF_FIELD_WHOLE || field->type == HF_FIELD_NUMBER ||
      field->type == HF_FIELD_NUMBERS)
    return hf_text_number(number, 3);
  if (field->type == HF_FIELD_RATIO) {
    g_autofree char *share = hf_text_number(number * 100, 2);
    return g_strconcat(share, " %", NULL);
  }
  if (field->type == HF_FIELD_QUANTITY) {
    g_autofree char *text = hf_text_number(number / field->units->factor, 3);
    return g_strconcat(text, " ", field->units->unit, NULL);
  }
  if (fabs(number) >= 1000)
    return hf_text_run(number, 4);
  return hf_text_mm(number);
}

char *
hf_table_called(const HfTable *table)
{
  const HfKind *kind = hf_kind_of_word(table->name);
  if (kind == NULL || (kind->flags & HF_KIND_PLURAL) != 0)
    return g_strdup(table->name);
  return g_strconcat(strchr("aeiou", table->name[0]) != NULL ? "an " : "a ", table->name, NULL);
}

/* Words that people also say, and the key of ours that they mean. */
static const struct {
  const char *said, *key;
} hints[] = {
    {"letter height", "height"},
    {"cap height", "height"},
    {"letter spacing", "spacing"},
    {"font family", "font"},
    {"face", "font"},
    {"size", "font size"},
    {"radius", "arc radius"},
    {"arc", "arc radius"},
    {"curve", "through"},
    {"points", "through"},
    {"oval", "ellipse"},
    {"rise", "arch"},
    {"edge", "edge of"},
    {"rotate", "turn"},
    {"rotation", "turn"},
    {"angle", "turn"},
    {"offset", "shift"},
    {"position", "at"},
    {"outer diameter", "outer"},
    {"inner diameter", "inner"},
    {"shape", "shape"},
    {"material", "metal"},
    {"gauge", "thickness"},
    {"type", "kind"},
    {"string", "text"},
    {"window", "fill window of"},
    {"fill", "fill band"},
    {"fill", "fill window of"},
    {"material", "kind"},
    {"hole", "diameter"},
    {"span", "chord"},
    {"direction", "tops"},
    {"direction", "writing"},
    {"thick", "thickness"},
    {"shapes", "entries"},
    {"letter", "of"},
    {"opening", "as"},
};

const char *
hf_table_hint(const HfTable *table, const char *key)
{
  for (gsize i = 0; i < G_N_ELEMENTS(hints); i++)
    if (g_ascii_strcasecmp(hints[i].said, key) == 0 && hf_table_field(table, hints[i].key) != NULL)
      return hints[i].key;
  return NULL;
}
