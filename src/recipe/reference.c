/* SPDX-License-Identifier: GPL-3.0-or-later
 * The printed reference: every table and field of the schema, with an example of each. It is
 * Markdown that reads well in a terminal too, and is the second half of docs/recipe.md.
 */
#include "base/text.h"
#include "recipe/schema-private.h"
#include <string.h>

enum { WIDTH = 96, MOST_CHOICES = 64 };

/* Appends @words broken into lines of at most WIDTH characters; later lines start with @indent. */
static void
wrap(GString *out, const char *words, const char *indent)
{
  g_auto(GStrv) list = g_strsplit(words, " ", -1);
  glong column = 0;
  for (gsize i = 0; list[i] != NULL; i++) {
    glong n = g_utf8_strlen(list[i], -1);
    if (i > 0 && column + 1 + n > WIDTH) {
      g_string_append_printf(out, "\n%s", indent);
      column = (glong)strlen(indent);
    } else if (i > 0) {
      g_string_append_c(out, ' ');
      column++;
    }
    g_string_append(out, list[i]);
    column += n;
  }
  g_string_append_c(out, '\n');
}

static const char *const type_words[HF_N_FIELD_TYPES] = {
    [HF_FIELD_LENGTH] = "a length",
    [HF_FIELD_THICKNESS] = "a length or gauge",
    [HF_FIELD_SHARE] = "a length or share",
    [HF_FIELD_QUANTITY] = "a number and its unit",
    [HF_FIELD_NUMBER] = "a number",
    [HF_FIELD_RATIO] = "a share",
    [HF_FIELD_WHOLE] = "a whole number",
    [HF_FIELD_YES] = "yes or no",
    [HF_FIELD_MAYBE] = "yes or no",
    [HF_FIELD_TEXT] = "a text",
    [HF_FIELD_TEXTS] = "a text or list of texts",
    [HF_FIELD_PATH] = "a file",
    [HF_FIELD_METAL] = "a metal",
    [HF_FIELD_NAME] = "a name",
    [HF_FIELD_NAMES] = "names",
    [HF_FIELD_PIN] = "a letter or name",
    [HF_FIELD_PINS] = "letters or names",
    [HF_FIELD_CHOICE] = "one of",
    [HF_FIELD_CHOICES] = "some of",
    [HF_FIELD_SPOT] = "a direction",
    [HF_FIELD_SPOTS] = "a place, or a list of places",
    [HF_FIELD_POINT] = "two lengths",
    [HF_FIELD_POINTS] = "a list of points",
    [HF_FIELD_NUMBERS] = "two numbers",
    [HF_FIELD_MARGIN] = "one, two or four lengths",
    [HF_FIELD_SPACING] = "a length, share or rule",
    [HF_FIELD_FONT] = "a family or table",
    [HF_FIELD_COLOUR] = "a colour",
    [HF_FIELD_FINISH] = "a finish or table",
    [HF_FIELD_WALL] = "a material or colour",
    [HF_FIELD_TABLE] = "a table",
    [HF_FIELD_ROWS] = "a list of tables",
    [HF_FIELD_LIMITS] = "a table",
    [HF_FIELD_ENTRIES] = "a list",
};

static void
append_type(GString *line, const HfField *field)
{
  g_string_append(line, type_words[field->type]);
  if (field->type == HF_FIELD_CHOICE || field->type == HF_FIELD_CHOICES) {
    const char *words[MOST_CHOICES] = {NULL};
    for (guint i = 0, n = 0; field->choices[i].word != NULL; i++)
      if (i == 0 || field->choices[i].value != field->choices[i - 1].value) /* one spelling */
        words[n++] = field->choices[i].word;
    g_autofree char *all = hf_text_list(words, field->type == HF_FIELD_CHOICE ? "or" : "and");
    g_string_append_printf(line, " %s", all);
  }
  if (field->type == HF_FIELD_METAL) {
    g_autofree char *all = hf_text_list(hf_metal_keys(), "or");
    g_string_append_printf(line, ": %s", all);
  }
  if (field->max != 0 && field->min >= 0) {
    g_autofree char *least = hf_field_say(field, field->min);
    g_autofree char *most = hf_field_say(field, field->max);
    if (strcmp(least, most) != 0)
      g_string_append_printf(line, ", %s to %s", least, most);
  }
}

static void
append_field(GString *out, const HfField *field)
{
  g_autoptr(GString) line = g_string_new(NULL);
  g_string_append_printf(line, "- `%s: %s` (%s", field->key, field->example,
                         (field->flags & HF_REQUIRED) != 0 ? "needed; " : "");
  append_type(line, field);
  if (field->otherwise != NULL)
    g_string_append_printf(line, "; otherwise %s", field->otherwise);
  g_string_append_printf(line, "): %s", field->doc);
  wrap(out, line->str, "  ");
}

static void
append_fields(GString *out, const HfTable *table)
{
  for (const HfField *field = table->fields; field->key != NULL; field++)
    append_field(out, field);
}

static void
append_inner_tables(GString *out, const HfTable *table)
{
  for (const HfField *field = table->fields; field->key != NULL; field++)
    if (field->type == HF_FIELD_TABLE || field->type == HF_FIELD_ROWS) {
      g_string_append_printf(out, "\n### %s\n\n%s\n\n", field->key, field->table->doc);
      append_fields(out, field->table);
    }
}

static void
append_entry(GString *out, const HfTable *table)
{
  g_autofree char *example = g_strdup_printf("- %s: %s", table->name, table->example);
  g_string_append_printf(out, "\n### %s\n\n%s\n\n    %s\n\n", table->name, table->doc, example);
  append_fields(out, table);
}

static void
append_more(GString *out, const HfKind *kind)
{
  if (kind->more == NULL)
    return;
  g_autofree char *more = kind->more();
  g_string_append_c(out, '\n');
  g_string_append(out, more);
}

static const HfTable *
font_table(void)
{
  const HfField *font = hf_table_field(&hf_kind(HF_ENTRY_WORDS)->table, "font");
  return font->table;
}

char *
hf_recipe_reference(void)
{
  g_autoptr(GString) out = g_string_new("## A recipe, key by key\n\n");
  append_fields(out, &hf_table_recipe);
  append_inner_tables(out, &hf_table_recipe);
  g_string_append(out, "\n## Entries\n\n");
  wrap(out,
       "Each entry is its kind, and a table of what it is like. Besides what is listed under its "
       "kind, each may say:",
       "");
  g_string_append_c(out, '\n');
  append_fields(out, &hf_table_place);
  for (gsize i = 0; hf_kinds[i] != NULL; i++) {
    append_entry(out, &hf_kinds[i]->table);
    append_more(out, hf_kinds[i]);
  }
  g_string_append_printf(out, "\n### font\n\n%s\n\n    font: %s\n\n", font_table()->doc,
                         font_table()->example);
  append_fields(out, font_table());
  return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
hf_table_reference(const HfTable *table, const char *heading)
{
  g_autoptr(GString) out = g_string_new(NULL);
  g_string_append_printf(out, "## %s\n\n", heading);
  append_fields(out, table);
  append_inner_tables(out, table);
  return g_string_free(g_steal_pointer(&out), FALSE);
}
