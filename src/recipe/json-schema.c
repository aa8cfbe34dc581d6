/* SPDX-License-Identifier: GPL-3.0-or-later
 * The JSON Schema (draft 2020-12) of a recipe and of a shop file, from the schema table. It lets an
 * editor help while one types; holdfast itself goes by the table, which also knows what a schema
 * can't say (names, combinations, sizes in any unit).
 */
#include "base/text.h"
#include "recipe/schema-private.h"
#include <string.h>

/* A JSON text in the making. Every value is written by one call, with its key when in an object. */
typedef struct {
  GString *out;
  int depth;
  gboolean first;
} Json;

static void
append_string(GString *out, const char *text)
{
  g_string_append_c(out, '"');
  for (; *text != '\0'; text++) {
    if (*text == '"' || *text == '\\')
      g_string_append_c(out, '\\');
    g_string_append_c(out, *text);
  }
  g_string_append_c(out, '"');
}

static void
line(Json *json, const char *key)
{
  if (json->out->len > 0)
    g_string_append(json->out, json->first ? "\n" : ",\n");
  for (int i = 0; i < json->depth; i++)
    g_string_append(json->out, "  ");
  if (key != NULL) {
    append_string(json->out, key);
    g_string_append(json->out, ": ");
  }
  json->first = FALSE;
}

static void
open_with(Json *json, const char *key, char bracket)
{
  line(json, key);
  g_string_append_c(json->out, bracket);
  json->depth++;
  json->first = TRUE;
}

static void
close_with(Json *json, char bracket)
{
  json->depth--;
  if (!json->first) {
    g_string_append_c(json->out, '\n');
    for (int i = 0; i < json->depth; i++)
      g_string_append(json->out, "  ");
  }
  g_string_append_c(json->out, bracket);
  json->first = FALSE;
}

static void
put_text(Json *json, const char *key, const char *text)
{
  line(json, key);
  append_string(json->out, text);
}

static void
put_number(Json *json, const char *key, double number)
{
  line(json, key);
  hf_text_append(json->out, number, 6);
}

static void
put_word(Json *json, const char *key, const char *word)
{
  line(json, key);
  g_string_append(json->out, word);
}

static void
put_ref(Json *json, const char *key, const char *def)
{
  g_autofree char *path = g_strconcat("#/$defs/", def, NULL);
  open_with(json, key, '{');
  put_text(json, "$ref", path);
  close_with(json, '}');
}

/* --- values --- */

#define NUMBER "(\\d+/\\d+|\\d+[- ]\\d+/\\d+|\\d+ ?[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|\\d+\\.?\\d*|\\.\\d+)"
#define INCH   "(inches|inch|in|\"|″|”)"
#define FEET   "(feet|foot|ft|'|′|’)"
#define LENGTH                                                                                     \
  "[-+−]? ?" NUMBER " ?(mm|cm|m|" INCH ")|[-+−]? ?" NUMBER " ?" FEET "( ?-? ?" NUMBER " ?" INCH ")?"

static const struct {
  const char *name, *pattern;
} patterns[] = {
    {"length", "^(" LENGTH ")$"},
    {"thickness", "^(" LENGTH "|\\d+ ?(ga|ga\\.|gauge))$"},
    {"length or share", "^(" LENGTH "|[-+−]?" NUMBER " ?%)$"},
    {"spacing", "^(joined|joined pair by pair|" LENGTH "|[-+−]?" NUMBER " ?%)$"},
    {"quantity", "^[-+−]?" NUMBER " ?[A-Za-z°/]+$"},
    {"limit", "^(" NUMBER " ?(mm2|mm²|deg|°|K)?|" LENGTH ")$"},
    {"place", "^(top|bottom|left|right|(top|bottom) (left|right)|(left|right) end|cent(re|er)|"
              "(1[0-2]|[1-9]) ?o['’]?clock|[-+−]?" NUMBER " ?(deg|degree|degrees|°))$"},
    {"file", "^(?![/\\\\~])(?!.*\\.\\.).+$"},
};

/* A number stands as number or as text; plain words may look like numbers to a YAML reader. */
static void
put_defs(Json *json)
{
  for (gsize i = 0; i < G_N_ELEMENTS(patterns); i++) {
    open_with(json, patterns[i].name, '{');
    put_word(json, "type",
             strcmp(patterns[i].name, "limit") == 0 ? "[\"string\", \"number\"]" : "\"string\"");
    put_text(json, "pattern", patterns[i].pattern);
    close_with(json, '}');
  }
  open_with(json, "text", '{');
  put_word(json, "type", "[\"string\", \"number\", \"boolean\"]");
  put_number(json, "minLength", 1);
  put_number(json, "maxLength", HF_RECIPE_MAX_TEXT);
  close_with(json, '}');
  open_with(json, "yes or no", '{');
  put_word(json, "enum", "[true, false, \"yes\", \"no\"]");
  close_with(json, '}');
}

static void put_object(Json *json, const HfTable *table);

static void
put_list_of(Json *json, const char *def, guint min, guint max)
{
  put_text(json, "type", "array");
  put_number(json, "minItems", min);
  put_number(json, "maxItems", max);
  put_ref(json, "items", def);
}

static void
put_one_or_list(Json *json, const char *def, guint max)
{
  open_with(json, "anyOf", '[');
  put_ref(json, NULL, def);
  open_with(json, NULL, '{');
  put_list_of(json, def, 1, max);
  close_with(json, '}');
  close_with(json, ']');
}

static void
put_choice_words(Json *json, const HfField *field)
{
  open_with(json, "enum", '[');
  for (const HfChoice *choice = field->choices; choice->word != NULL; choice++)
    put_text(json, NULL, choice->word);
  close_with(json, ']');
}

static void
put_range(Json *json, const HfField *field)
{
  if (!isnan(hf_field_min(field))) {
    put_number(json, "minimum", hf_field_min(field));
    put_number(json, "maximum", hf_field_max(field));
  }
}

static void
put_places(Json *json)
{
  open_with(json, "anyOf", '[');
  put_ref(json, NULL, "place");
  open_with(json, NULL, '{');
  put_list_of(json, "length", 2, 2);
  close_with(json, '}');
  open_with(json, NULL, '{');
  put_text(json, "type", "array");
  put_number(json, "minItems", 1);
  put_number(json, "maxItems", HF_RECIPE_MAX_ENTRIES);
  open_with(json, "items", '{');
  open_with(json, "anyOf", '[');
  put_ref(json, NULL, "place");
  open_with(json, NULL, '{');
  put_list_of(json, "length", 2, 2);
  close_with(json, '}');
  close_with(json, ']');
  close_with(json, '}');
  close_with(json, '}');
  close_with(json, ']');
}

static void
put_font(Json *json, const HfField *field)
{
  open_with(json, "anyOf", '[');
  put_ref(json, NULL, "text");
  open_with(json, NULL, '{');
  put_object(json, field->table);
  close_with(json, '}');
  close_with(json, ']');
}

static void
put_entries(Json *json)
{
  put_text(json, "type", "array");
  put_number(json, "minItems", 1);
  put_number(json, "maxItems", HF_RECIPE_MAX_ENTRIES);
  open_with(json, "items", '{');
  put_text(json, "type", "object");
  put_number(json, "minProperties", 1);
  put_number(json, "maxProperties", 1);
  put_word(json, "additionalProperties", "false");
  open_with(json, "properties", '{');
  for (int kind = 0; kind < HF_N_ENTRY_KINDS; kind++)
    put_ref(json, hf_table_entries[kind]->name, hf_table_entries[kind]->name);
  close_with(json, '}');
  close_with(json, '}');
}

static void
put_metal(Json *json)
{
  open_with(json, "enum", '[');
  for (const HfMetalKind *metal = hf_metals(); metal->key != NULL; metal++) {
    put_text(json, NULL, metal->key);
    if (metal->also != NULL)
      put_text(json, NULL, metal->also);
  }
  close_with(json, ']');
}

static void
put_type(Json *json, const HfField *field)
{
  switch (field->type) {
  case HF_FIELD_LENGTH:
    put_text(json, "$ref", "#/$defs/length");
    break;
  case HF_FIELD_THICKNESS:
    put_text(json, "$ref", "#/$defs/thickness");
    break;
  case HF_FIELD_SHARE:
    put_text(json, "$ref", "#/$defs/length or share");
    break;
  case HF_FIELD_SPACING:
    put_text(json, "$ref", "#/$defs/spacing");
    break;
  case HF_FIELD_QUANTITY:
    put_text(json, "$ref", "#/$defs/quantity");
    break;
  case HF_FIELD_NUMBER:
    put_text(json, "type", "number");
    put_range(json, field);
    break;
  case HF_FIELD_RATIO:
    put_word(json, "type", "[\"number\", \"string\"]");
    break;
  case HF_FIELD_WHOLE:
    put_text(json, "type", "integer");
    put_range(json, field);
    break;
  case HF_FIELD_YES:
  case HF_FIELD_MAYBE:
    put_text(json, "$ref", "#/$defs/yes or no");
    break;
  case HF_FIELD_TEXT:
  case HF_FIELD_NAME:
  case HF_FIELD_PIN:
    put_text(json, "$ref", "#/$defs/text");
    break;
  case HF_FIELD_PATH:
    put_text(json, "$ref", "#/$defs/file");
    break;
  case HF_FIELD_TEXTS:
    put_one_or_list(json, "text", 100);
    break;
  case HF_FIELD_NAMES:
    put_one_or_list(json, "text", HF_RECIPE_MAX_ENTRIES);
    break;
  case HF_FIELD_METAL:
    put_metal(json);
    break;
  case HF_FIELD_CHOICE:
    put_choice_words(json, field);
    break;
  case HF_FIELD_CHOICES:
    put_text(json, "type", "array");
    put_word(json, "uniqueItems", "true");
    open_with(json, "items", '{');
    put_choice_words(json, field);
    close_with(json, '}');
    break;
  case HF_FIELD_SPOT:
    put_text(json, "$ref", "#/$defs/place");
    break;
  case HF_FIELD_SPOTS:
    put_places(json);
    break;
  case HF_FIELD_POINT:
    put_list_of(json, "length", 2, 2);
    break;
  case HF_FIELD_NUMBERS:
    put_text(json, "type", "array");
    put_number(json, "minItems", 2);
    put_number(json, "maxItems", 2);
    open_with(json, "items", '{');
    put_text(json, "type", "number");
    close_with(json, '}');
    break;
  case HF_FIELD_FONT:
    put_font(json, field);
    break;
  case HF_FIELD_TABLE:
    put_object(json, field->table);
    break;
  case HF_FIELD_ROWS:
    put_text(json, "type", "array");
    put_number(json, "maxItems", HF_RECIPE_MAX_ENTRIES);
    open_with(json, "items", '{');
    put_object(json, field->table);
    close_with(json, '}');
    break;
  case HF_FIELD_LIMITS:
    put_text(json, "type", "object");
    put_ref(json, "additionalProperties", "limit");
    break;
  case HF_FIELD_ENTRIES:
    put_entries(json);
    break;
  case HF_N_FIELD_TYPES:
    g_assert_not_reached();
  }
}

static void
put_properties(Json *json, const HfTable *table)
{
  for (; table != NULL; table = table->also)
    for (const HfField *field = table->fields; field->key != NULL; field++) {
      open_with(json, field->key, '{');
      put_text(json, "description", field->doc);
      put_type(json, field);
      close_with(json, '}');
    }
}

static void
put_required(Json *json, const HfTable *table)
{
  gboolean any = FALSE;
  for (const HfField *field = table->fields; field->key != NULL; field++)
    any = any || (field->flags & HF_REQUIRED) != 0;
  if (!any)
    return;
  open_with(json, "required", '[');
  for (const HfField *field = table->fields; field->key != NULL; field++)
    if ((field->flags & HF_REQUIRED) != 0)
      put_text(json, NULL, field->key);
  close_with(json, ']');
}

/* The members of an object schema; the caller opens and closes it. */
static void
put_object(Json *json, const HfTable *table)
{
  put_text(json, "type", "object");
  put_word(json, "additionalProperties", "false");
  put_required(json, table);
  open_with(json, "properties", '{');
  put_properties(json, table);
  close_with(json, '}');
}

static char *
schema_of(const HfTable *table, const char *title, gboolean entries)
{
  Json json = {g_string_new(NULL), 0, TRUE};
  open_with(&json, NULL, '{');
  put_text(&json, "$schema", "https://json-schema.org/draft/2020-12/schema");
  put_text(&json, "title", title);
  put_text(&json, "description", table->doc);
  put_object(&json, table);
  open_with(&json, "$defs", '{');
  put_defs(&json);
  for (int kind = 0; entries && kind < HF_N_ENTRY_KINDS; kind++) {
    open_with(&json, hf_table_entries[kind]->name, '{');
    put_text(&json, "description", hf_table_entries[kind]->doc);
    put_object(&json, hf_table_entries[kind]);
    close_with(&json, '}');
  }
  close_with(&json, '}');
  close_with(&json, '}');
  g_string_append_c(json.out, '\n');
  return g_string_free(json.out, FALSE);
}

char *
hf_recipe_schema(void)
{
  return schema_of(&hf_table_recipe, "holdfast recipe, version 1", TRUE);
}

char *
hf_shop_schema(void)
{
  return schema_of(&hf_table_shop, "holdfast shop file, version 1", FALSE);
}
