/* SPDX-License-Identifier: GPL-3.0-or-later
 * The JSON Schema (draft 2020-12) of a recipe or another file, from its schema table. It lets an
 * editor help while one types; holdfast itself goes by the table, which also knows what a schema
 * can't say (names, combinations, sizes in any unit).
 */
#include "base/json.h"
#include "recipe/schema-private.h"
#include <string.h>

/* A name that needs no escapes in a reference. */
static char *
def_name(const char *name)
{
  return g_strdelimit(g_strdup(name), " ", '-');
}

static void
put_ref(HfJson *json, const char *key, const char *def)
{
  g_autofree char *name = def_name(def);
  g_autofree char *path = g_strconcat("#/$defs/", name, NULL);
  hf_json_line(json, key, '{');
  hf_json_text(json, "$ref", path);
  hf_json_close(json);
}

static void
put_words(HfJson *json, const char *key, const char *const *words)
{
  hf_json_line(json, key, '[');
  for (; *words != NULL; words++)
    hf_json_text(json, NULL, *words);
  hf_json_close(json);
}

/* --- values --- */

/* Plain words may look like numbers or truth values to other readers of YAML. */
static const char *const any_text[] = {"string", "number", "boolean", NULL};
static const char *const number_or_text[] = {"number", "string", NULL};
static const char *const whole_or_text[] = {"integer", "string",
                                            NULL}; /* "5" in quotes is read too */

static void
put_defs(HfJson *json)
{
  for (gsize i = 0; hf_patterns[i] != NULL; i++) {
    hf_json_open(json, hf_patterns[i], '{');
    if (strcmp(hf_patterns[i], "limit") == 0)
      put_words(json, "type", number_or_text);
    else
      hf_json_text(json, "type", "string");
    g_autofree char *pattern = hf_pattern(hf_patterns[i]);
    hf_json_text(json, "pattern", pattern);
    hf_json_close(json);
  }
  hf_json_open(json, "text", '{');
  put_words(json, "type", any_text);
  hf_json_number(json, "minLength", 1, 6);
  hf_json_number(json, "maxLength", HF_RECIPE_MAX_TEXT, 6);
  hf_json_close(json);
  hf_json_open(json, "yes-or-no", '{');
  hf_json_line(json, "enum", '[');
  hf_json_bool(json, NULL, TRUE);
  hf_json_bool(json, NULL, FALSE);
  hf_json_text(json, NULL, "yes");
  hf_json_text(json, NULL, "no");
  hf_json_close(json);
  hf_json_close(json);
}

static void put_object(HfJson *json, const HfTable *table);

static void
put_list_of(HfJson *json, const char *def, guint min, guint max)
{
  hf_json_text(json, "type", "array");
  hf_json_number(json, "minItems", min, 6);
  hf_json_number(json, "maxItems", max, 6);
  put_ref(json, "items", def);
}

static void
put_one_or_list(HfJson *json, const char *def, guint max)
{
  hf_json_open(json, "anyOf", '[');
  put_ref(json, NULL, def);
  hf_json_open(json, NULL, '{');
  put_list_of(json, def, 1, max);
  hf_json_close(json);
  hf_json_close(json);
}

static void
put_choice_words(HfJson *json, const HfField *field)
{
  hf_json_open(json, "enum", '[');
  for (const HfChoice *choice = field->choices; choice->word != NULL; choice++)
    hf_json_text(json, NULL, choice->word);
  hf_json_close(json);
}

static void
put_range(HfJson *json, const HfField *field)
{
  if (!isnan(hf_field_min(field))) {
    hf_json_number(json, "minimum", hf_field_min(field), 6);
    hf_json_number(json, "maximum", hf_field_max(field), 6);
  }
}

static void
put_places(HfJson *json)
{
  hf_json_open(json, "anyOf", '[');
  put_ref(json, NULL, "place");
  hf_json_open(json, NULL, '{');
  put_list_of(json, "length", 2, 2);
  hf_json_close(json);
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "type", "array");
  hf_json_number(json, "minItems", 1, 6);
  hf_json_number(json, "maxItems", HF_RECIPE_MAX_ENTRIES, 6);
  hf_json_open(json, "items", '{');
  hf_json_open(json, "anyOf", '[');
  put_ref(json, NULL, "place");
  hf_json_open(json, NULL, '{');
  put_list_of(json, "length", 2, 2);
  hf_json_close(json);
  hf_json_close(json);
  hf_json_close(json);
  hf_json_close(json);
  hf_json_close(json);
}

static void
put_points(HfJson *json)
{
  hf_json_text(json, "type", "array");
  hf_json_number(json, "minItems", 2, 6);
  hf_json_number(json, "maxItems", HF_RECIPE_MAX_ENTRIES, 6);
  hf_json_open(json, "items", '{');
  put_list_of(json, "length", 2, 2);
  hf_json_close(json);
}

static void
put_text_or_table(HfJson *json, const HfField *field)
{
  hf_json_open(json, "anyOf", '[');
  put_ref(json, NULL, "text");
  hf_json_open(json, NULL, '{');
  put_object(json, field->table);
  hf_json_close(json);
  hf_json_close(json);
}

static void
put_entries(HfJson *json)
{
  hf_json_text(json, "type", "array");
  hf_json_number(json, "minItems", 1, 6);
  hf_json_number(json, "maxItems", HF_RECIPE_MAX_ENTRIES, 6);
  hf_json_open(json, "items", '{');
  hf_json_text(json, "type", "object");
  hf_json_number(json, "minProperties", 1, 6);
  hf_json_number(json, "maxProperties", 1, 6);
  hf_json_bool(json, "additionalProperties", FALSE);
  hf_json_open(json, "properties", '{');
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    put_ref(json, hf_kinds[i]->table.name, hf_kinds[i]->table.name);
  hf_json_close(json);
  hf_json_close(json);
}

static void
put_metal(HfJson *json)
{
  hf_json_open(json, "enum", '[');
  for (const HfMetalKind *metal = hf_metals(); metal->key != NULL; metal++) {
    hf_json_text(json, NULL, metal->key);
    if (metal->also != NULL)
      hf_json_text(json, NULL, metal->also);
  }
  hf_json_close(json);
}

static void
put_type(HfJson *json, const HfField *field)
{
  const char *ref = hf_field_ref(field->type);
  if (ref != NULL) {
    g_autofree char *path = g_strconcat("#/$defs/", ref, NULL);
    hf_json_text(json, "$ref", path);
    return;
  }
  switch (field->type) {
  case HF_FIELD_NUMBER:
    put_words(json, "type", number_or_text);
    put_range(json, field);
    break;
  case HF_FIELD_RATIO:
    put_words(json, "type", number_or_text);
    break;
  case HF_FIELD_WHOLE:
    put_words(json, "type", whole_or_text);
    put_range(json, field);
    break;
  case HF_FIELD_TEXTS:
    put_one_or_list(json, "text", 100);
    break;
  case HF_FIELD_NAMES:
  case HF_FIELD_PINS:
    put_one_or_list(json, "text", HF_RECIPE_MAX_ENTRIES);
    break;
  case HF_FIELD_METAL:
    put_metal(json);
    break;
  case HF_FIELD_CHOICE:
    put_choice_words(json, field);
    break;
  case HF_FIELD_CHOICES:
    hf_json_text(json, "type", "array");
    hf_json_bool(json, "uniqueItems", TRUE);
    hf_json_open(json, "items", '{');
    put_choice_words(json, field);
    hf_json_close(json);
    break;
  case HF_FIELD_SPOTS:
    put_places(json);
    break;
  case HF_FIELD_POINT:
    put_list_of(json, "length", 2, 2);
    break;
  case HF_FIELD_POINTS:
    put_points(json);
    break;
  case HF_FIELD_MARGIN:
    put_one_or_list(json, "length", 4);
    break;
  case HF_FIELD_NUMBERS:
    hf_json_text(json, "type", "array");
    hf_json_number(json, "minItems", 2, 6);
    hf_json_number(json, "maxItems", 2, 6);
    hf_json_open(json, "items", '{');
    hf_json_text(json, "type", "number");
    hf_json_close(json);
    break;
  case HF_FIELD_FONT:
  case HF_FIELD_FINISH:
    put_text_or_table(json, field);
    break;
  case HF_FIELD_TABLE:
    put_object(json, field->table);
    break;
  case HF_FIELD_ROWS:
    hf_json_text(json, "type", "array");
    hf_json_number(json, "maxItems", HF_RECIPE_MAX_ENTRIES, 6);
    hf_json_open(json, "items", '{');
    put_object(json, field->table);
    hf_json_close(json);
    break;
  case HF_FIELD_LIMITS:
    hf_json_text(json, "type", "object");
    put_ref(json, "additionalProperties", "limit");
    break;
  case HF_FIELD_ENTRIES:
    put_entries(json);
    break;
  default:
    g_assert_not_reached();
  }
}

static void
put_properties(HfJson *json, const HfTable *table)
{
  for (; table != NULL; table = table->also)
    for (const HfField *field = table->fields; field->key != NULL; field++) {
      hf_json_open(json, field->key, '{');
      hf_json_text(json, "description", field->doc);
      put_type(json, field);
      hf_json_close(json);
    }
}

static void
put_required(HfJson *json, const HfTable *table)
{
  gboolean any = FALSE;
  for (const HfField *field = table->fields; field->key != NULL; field++)
    any = any || (field->flags & HF_REQUIRED) != 0;
  if (!any)
    return;
  hf_json_open(json, "required", '[');
  for (const HfField *field = table->fields; field->key != NULL; field++)
    if ((field->flags & HF_REQUIRED) != 0)
      hf_json_text(json, NULL, field->key);
  hf_json_close(json);
}

/* The members of an object schema; the caller opens and closes it. */
static void
put_object(HfJson *json, const HfTable *table)
{
  hf_json_text(json, "type", "object");
  hf_json_bool(json, "additionalProperties", FALSE);
  put_required(json, table);
  hf_json_open(json, "properties", '{');
  put_properties(json, table);
  hf_json_close(json);
}

static char *
schema_of(const HfTable *table, const char *title, gboolean entries)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "$schema", "https://json-schema.org/draft/2020-12/schema");
  hf_json_text(json, "title", title);
  hf_json_text(json, "description", table->doc);
  put_object(json, table);
  hf_json_open(json, "$defs", '{');
  put_defs(json);
  for (gsize i = 0; entries && hf_kinds[i] != NULL; i++) {
    const HfTable *kind = &hf_kinds[i]->table;
    g_autofree char *name = def_name(kind->name);
    hf_json_open(json, name, '{');
    hf_json_text(json, "description", kind->doc);
    put_object(json, kind);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  gsize length = 0;
  const char *text = g_bytes_get_data(bytes, &length);
  return g_strndup(text, length);
}

char *
hf_recipe_schema(void)
{
  return schema_of(&hf_table_recipe, "holdfast recipe, version 1", TRUE);
}

char *
hf_table_schema(const HfTable *table, const char *title)
{
  return schema_of(table, title, FALSE);
}
