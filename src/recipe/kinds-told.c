/* SPDX-License-Identifier: GPL-3.0-or-later
 * kinds-told.c - what the page is told of recipes: every kind and every field with its type, its
 * sign, its roles and the words that it is said by, so that the page guesses nothing.
 *
 *   {head: [field ...],                     what is said outside the entries
 *    kinds: [{word: "ring", about, called, heard, first, sentence, flags: ["ground"],
 *             one_of: ["inner", "width"],
 *             clashes: [["outer", "around"]], needs: [["margin", "around"]],
 *             begin: {name, text, choice, on_ground, at, at_ends, at_alone},
 *             fields: [{key: "outer", type: "length", roles: ["picture"], signed: false,
 *                       required, pictured, help, label, before, after, yes, no, heard, pair,
 * otherwise, usual, pattern, min, max, choices: [{word, said, about, heard, must: ["width"], may,
 * unless, tall}], kinds: ["ring"], fields: [...]}]}]}
 *
 * A member that says nothing is left out.
 */
#include "base/json.h"
#include "recipe/schema-private.h"
#include <string.h>

static const char *const types[HF_N_FIELD_TYPES] = {
    [HF_FIELD_LENGTH] = "length",   [HF_FIELD_THICKNESS] = "thickness",
    [HF_FIELD_SHARE] = "share",     [HF_FIELD_QUANTITY] = "quantity",
    [HF_FIELD_NUMBER] = "number",   [HF_FIELD_RATIO] = "share",
    [HF_FIELD_WHOLE] = "whole",     [HF_FIELD_YES] = "yes",
    [HF_FIELD_MAYBE] = "yes",       [HF_FIELD_TEXT] = "text",
    [HF_FIELD_TEXTS] = "texts",     [HF_FIELD_PATH] = "file",
    [HF_FIELD_METAL] = "choice",    [HF_FIELD_NAME] = "name",
    [HF_FIELD_NAMES] = "names",     [HF_FIELD_PIN] = "name",
    [HF_FIELD_PINS] = "names",      [HF_FIELD_CHOICE] = "choice",
    [HF_FIELD_CHOICES] = "choices", [HF_FIELD_SPOT] = "place",
    [HF_FIELD_SPOTS] = "places",    [HF_FIELD_POINT] = "point",
    [HF_FIELD_NUMBERS] = "numbers", [HF_FIELD_SPACING] = "spacing",
    [HF_FIELD_FONT] = "font",       [HF_FIELD_TABLE] = "table",
    [HF_FIELD_ROWS] = "rows",       [HF_FIELD_LIMITS] = "limits",
    [HF_FIELD_ENTRIES] = "entries", [HF_FIELD_MARGIN] = "margin",
    [HF_FIELD_POINTS] = "points",   [HF_FIELD_COLOUR] = "text",
    [HF_FIELD_FINISH] = "text",     [HF_FIELD_WALL] = "text",
};

typedef struct {
  guint bit;
  const char *word;
} BitWord;

static const BitWord role_words[] = {
    {HF_ROLE_PICTURE, "picture"},
    {HF_ROLE_KEPT, "kept"},
    {HF_ROLE_IN_EMS, "in-ems"},
    {HF_ROLE_BITE, "bite"},
    {HF_ROLE_CLEAR, "clear"},
    {HF_ROLE_BORE, "bore"},
    {HF_ROLE_SIZE, "size"},
    {HF_ROLE_STAND, "stand"},
    {HF_ROLE_BESIDE, "beside"},
    {HF_ROLE_BAND, "band"},
    {HF_ROLE_WINDOW, "window"},
    {HF_ROLE_SPLIT, "split"},
    {HF_ROLE_OVER, "over"},
    {HF_ROLE_AROUND, "around"},
    {HF_ROLE_PART, "part"},
    {HF_ROLE_SPARED, "spared"},
    {HF_ROLE_FILL, "fill"},
    {HF_ROLE_MEMBERS, "members"},
    {0, NULL},
};

static const BitWord flag_words[] = {
    {HF_KIND_GROUND, "ground"},
    {HF_KIND_LETTERING, "lettering"},
    {HF_KIND_FIXTURE, "fixture"},
    {HF_KIND_EDGE, "edge"},
    {HF_KIND_OPENS, "opens"},
    {HF_KIND_PIN, "pin"},
    {HF_KIND_RULE, "rule"},
    {HF_KIND_ENDS, "ends"},
    {HF_KIND_AREA, "area"},
    {HF_KIND_GROUP, "group"},
    {0, NULL},
};

static void
put_bits(HfJson *json, const char *key, guint bits, const BitWord *words)
{
  hf_json_line(json, key, '[');
  for (; words->word != NULL; words++)
    if ((bits & words->bit) != 0)
      hf_json_text(json, NULL, words->word);
  hf_json_close(json);
}

static void
put_text(HfJson *json, const char *key, const char *text)
{
  if (text != NULL)
    hf_json_text(json, key, text);
}

static void
put_keys(HfJson *json, const char *key, const char *const keys[4])
{
  hf_json_line(json, key, '[');
  for (gsize i = 0; i < 4 && keys[i] != NULL; i++)
    hf_json_text(json, NULL, keys[i]);
  hf_json_close(json);
}

static void
put_choice(HfJson *json, const HfChoice *choice)
{
  hf_json_line(json, NULL, '{');
  hf_json_text(json, "word", choice->word);
  put_text(json, "said", choice->said);
  put_text(json, "about", choice->about);
  put_text(json, "heard", choice->heard);
  put_keys(json, "must", choice->must);
  put_keys(json, "may", choice->may);
  put_text(json, "unless", choice->unless);
  if (choice->tall > 0)
    hf_json_number(json, "tall", choice->tall, 3);
  hf_json_close(json);
}

/* One spelling of each. */
static void
put_choices(HfJson *json, const HfField *field)
{
  hf_json_open(json, "choices", '[');
  for (const HfChoice *choice = field->choices; choice != NULL && choice->word != NULL; choice++)
    if (choice == field->choices || choice->value != choice[-1].value)
      put_choice(json, choice);
  for (const HfMetalKind *metal = hf_metals(); field->type == HF_FIELD_METAL && metal->key != NULL;
       metal++)
    put_choice(json, &(HfChoice){.word = metal->key});
  hf_json_close(json);
}

static void
put_kinds_meant(HfJson *json, guint bits)
{
  hf_json_line(json, "kinds", '[');
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    if ((bits & (1u << hf_kinds[i]->kind)) != 0)
      hf_json_text(json, NULL, hf_kinds[i]->table.name);
  hf_json_close(json);
}

/* A place may be [right, up] from a centre, a direction may be less than 0 deg. */
static gboolean
is_signed(const HfField *field)
{
  return field->type == HF_FIELD_SPOT || field->type == HF_FIELD_SPOTS || hf_field_min(field) < 0;
}

static const char *const pairs[] = {
    [HF_PAIR_PLACE] = "place", [HF_PAIR_SIZE] = "size", [HF_PAIR_STEP] = "step"};

static void
put_words(HfJson *json, const HfField *field)
{
  const HfFieldWords *words = &field->words;
  hf_json_text(json, "label", words->label != NULL ? words->label : field->key);
  hf_json_text(json, "before", words->before != NULL ? words->before : field->key);
  put_text(json, "after", words->after);
  put_text(json, "yes", words->yes);
  put_text(json, "no", words->no);
  put_text(json, "heard", words->heard);
  if (field->type == HF_FIELD_POINT)
    hf_json_text(json, "pair", pairs[words->pair]);
  if (field->type == HF_FIELD_CHOICE)
    put_text(json, "otherwise", field->otherwise);
  if (words->usual > 0)
    hf_json_number(json, "usual", words->usual, 3);
}

static void
put_range(HfJson *json, const HfField *field)
{
  const char *ref = hf_field_ref(field->type);
  g_autofree char *pattern = ref != NULL ? hf_pattern(ref) : NULL;
  put_text(json, "pattern", pattern);
  if (field->type == HF_FIELD_WHOLE || field->type == HF_FIELD_NUMBER) {
    hf_json_number(json, "min", hf_field_min(field), 6);
    hf_json_number(json, "max", hf_field_max(field), 6);
  }
}

static void put_fields(HfJson *json, const HfTable *table);

static void
put_field(HfJson *json, const HfField *field)
{
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "key", field->key);
  hf_json_text(json, "type", types[field->type]);
  put_bits(json, "roles", field->roles, role_words);
  hf_json_bool(json, "signed", is_signed(field));
  hf_json_bool(json, "required", (field->flags & HF_REQUIRED) != 0);
  hf_json_bool(json, "pictured", (field->flags & HF_PICTURED) != 0);
  hf_json_text(json, "help", field->doc);
  put_words(json, field);
  put_range(json, field);
  put_choices(json, field);
  put_kinds_meant(json, field->kinds);
  put_fields(json, field->table);
  hf_json_close(json);
}

static void
put_fields(HfJson *json, const HfTable *table)
{
  hf_json_open(json, "fields", '[');
  for (; table != NULL; table = table->also)
    for (const HfField *field = table->fields; field->key != NULL; field++)
      put_field(json, field);
  hf_json_close(json);
}

/* What can't be said together, and what asks for one of others. */
static void
put_rules(HfJson *json, const HfTable *table)
{
  hf_json_open(json, "clashes", '[');
  for (const HfClash *clash = table->clashes; clash != NULL && clash->a != NULL; clash++) {
    hf_json_line(json, NULL, '[');
    hf_json_text(json, NULL, clash->a);
    hf_json_text(json, NULL, clash->b);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_open(json, "needs", '[');
  for (const HfNeed *need = table->needs; need != NULL && need->key != NULL; need++) {
    hf_json_line(json, NULL, '[');
    hf_json_text(json, NULL, need->key);
    for (gsize i = 0; i < G_N_ELEMENTS(need->needs) && need->needs[i] != NULL; i++)
      hf_json_text(json, NULL, need->needs[i]);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
put_kind(HfJson *json, const HfKind *kind)
{
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "word", kind->table.name);
  hf_json_text(json, "about", kind->table.doc);
  hf_json_text(json, "called", kind->called);
  hf_json_text(json, "heard", kind->heard != NULL ? kind->heard : kind->table.name);
  put_text(json, "first", kind->first);
  hf_json_text(json, "sentence", kind->sentence);
  put_bits(json, "flags", kind->flags, flag_words);
  hf_json_line(json, "one_of", '[');
  for (gsize i = 0; i < G_N_ELEMENTS(kind->one_of) && kind->one_of[i] != NULL; i++)
    hf_json_text(json, NULL, kind->one_of[i]);
  hf_json_close(json);
  hf_json_line(json, "begin", '{');
  put_text(json, "name", kind->begin.name);
  put_text(json, "text", kind->begin.text);
  put_text(json, "choice", kind->begin.choice);
  hf_json_bool(json, "on_ground", kind->begin.on_ground);
  put_text(json, "at", kind->begin.at);
  put_text(json, "at_ends", kind->begin.at_ends);
  put_text(json, "at_alone", kind->begin.at_alone);
  hf_json_close(json);
  put_rules(json, &kind->table);
  put_fields(json, &kind->table);
  hf_json_close(json);
}

char *
hf_recipe_kinds(void)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_open(json, "head", '[');
  for (const HfField *field = hf_table_recipe.fields; field->key != NULL; field++)
    if (field->type != HF_FIELD_ENTRIES && strcmp(field->key, "holdfast") != 0)
      put_field(json, field);
  hf_json_close(json);
  hf_json_open(json, "kinds", '[');
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    put_kind(json, hf_kinds[i]);
  hf_json_close(json);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  gsize length = 0;
  const char *text = g_bytes_get_data(bytes, &length);
  return g_strndup(text, length);
}
