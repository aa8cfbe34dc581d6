/* SPDX-License-Identifier: GPL-3.0-or-later
 * From nodes to structs: one small reader for each type of field, chosen by a table.
 */
#include "base/text.h"
#include "recipe/value-private.h"
#include <string.h>

static void
hf_value_font(const HfValue *value)
{
  HfFontWish *font = value->at;
  font->mark = value->node->mark;
  if (value->node->kind == HF_NODE_TABLE) {
    hf_read_table(value->reader, value->node, value->field->table, font);
  } else {
    HfValue family = *value;
    family.at = &font->family;
    hf_value_text(&family);
    if (font->family == NULL)
      return;
  }
  hf_check_font(value->reader, value->node, font);
}

static void
hf_value_inner_table(const HfValue *value)
{
  if (hf_value_want(value, value->node, HF_NODE_TABLE))
    hf_read_table(value->reader, value->node, value->field->table, value->base);
}

static void
start_row(const HfField *field, void *row, HfMark mark)
{
  hf_read_defaults(field->table, row);
  if (field->row_mark != 0)
    memcpy((char *)row + field->row_mark, &mark, sizeof mark);
}

static void
hf_value_rows(const HfValue *value)
{
  GArray *rows = *(GArray **)value->at;
  if (!hf_value_want(value, value->node, HF_NODE_LIST))
    return;
  for (guint i = 0; i < hf_node_size(value->node); i++) {
    const HfNode *item = hf_node_item(value->node, i);
    if (i >= HF_RECIPE_MAX_ENTRIES) {
      hf_mistake(value->reader->mistakes, item->mark, "at most " G_STRINGIFY(HF_RECIPE_MAX_ENTRIES),
                 "too many rows");
      return;
    }
    if (!hf_value_want(value, item, HF_NODE_TABLE))
      continue;
    g_array_set_size(rows, i + 1);
    void *row = rows->data + (gsize)(rows->len - 1) * value->field->row_size;
    start_row(value->field, row, item->mark);
    value->reader->metal = NULL;
    hf_read_table(value->reader, item, value->field->table, row);
  }
}

static void
hf_value_limits(const HfValue *value)
{
  GArray *limits = *(GArray **)value->at;
  if (!hf_value_want(value, value->node, HF_NODE_TABLE))
    return;
  for (guint i = 0; i < hf_node_size(value->node); i++) {
    const HfNode *key = hf_node_key(value->node, i), *item = hf_node_item(value->node, i);
    g_autoptr(GError) error = NULL;
    HfLimitOverride limit = {NULL, NAN, "", key->mark};
    if (!hf_value_want(value, item, HF_NODE_TEXT) || i >= HF_RECIPE_MAX_ENTRIES)
      continue;
    if (!hf_measure_limit(item->text, &limit.value, &limit.unit, &error)) {
      hf_value_mistake(value, item, error);
      continue;
    }
    limit.key = g_strdup(key->text);
    g_array_append_val(limits, limit);
  }
}

static void
hf_value_entries(const HfValue *value)
{
  if (hf_value_want(value, value->node, HF_NODE_LIST))
    hf_read_entries(value->reader, value->node, *(GPtrArray **)value->at);
}

static void (*const readers[HF_N_FIELD_TYPES])(const HfValue *) = {
    [HF_FIELD_LENGTH] = hf_value_length,   [HF_FIELD_THICKNESS] = hf_value_length,
    [HF_FIELD_SHARE] = hf_value_share,     [HF_FIELD_QUANTITY] = hf_value_quantity,
    [HF_FIELD_NUMBER] = hf_value_number,   [HF_FIELD_RATIO] = hf_value_ratio,
    [HF_FIELD_WHOLE] = hf_value_whole,     [HF_FIELD_YES] = hf_value_yes,
    [HF_FIELD_MAYBE] = hf_value_maybe,     [HF_FIELD_TEXT] = hf_value_text,
    [HF_FIELD_TEXTS] = hf_value_texts,     [HF_FIELD_PATH] = hf_value_path,
    [HF_FIELD_METAL] = hf_value_metal,     [HF_FIELD_NAME] = hf_value_name,
    [HF_FIELD_NAMES] = hf_value_names,     [HF_FIELD_PIN] = hf_value_name,
    [HF_FIELD_PINS] = hf_value_names,      [HF_FIELD_CHOICE] = hf_value_choice,
    [HF_FIELD_CHOICES] = hf_value_choices, [HF_FIELD_SPOT] = hf_value_direction,
    [HF_FIELD_SPOTS] = hf_value_spots,     [HF_FIELD_POINT] = hf_value_point,
    [HF_FIELD_NUMBERS] = hf_value_numbers, [HF_FIELD_SPACING] = hf_value_spacing,
    [HF_FIELD_FONT] = hf_value_font,       [HF_FIELD_TABLE] = hf_value_inner_table,
    [HF_FIELD_ROWS] = hf_value_rows,       [HF_FIELD_LIMITS] = hf_value_limits,
    [HF_FIELD_ENTRIES] = hf_value_entries, [HF_FIELD_MARGIN] = hf_value_margin,
    [HF_FIELD_POINTS] = hf_value_points,   [HF_FIELD_COLOUR] = hf_value_colour,
    [HF_FIELD_FINISH] = hf_value_finish,   [HF_FIELD_WALL] = hf_value_wall,
};

void
hf_value_read(const HfValue *value)
{
  readers[value->field->type](value);
}

static void
report_unknown(HfReader *reader, const HfNode *key, const HfTable *table)
{
  g_autofree const char **keys = hf_table_keys(table);
  const char *near = hf_table_hint(table, key->text), *colon = strchr(key->text, ':');
  g_autofree char *fix = NULL,
                  *glued = colon != NULL ? g_strndup(key->text, (gsize)(colon - key->text)) : NULL;
  if (near == NULL)
    near = hf_text_nearest(key->text, keys);
  if (glued != NULL && g_strv_contains(keys, glued)) {
    fix = g_strdup_printf("write a space behind the colon: %s: %s", glued, colon + 1);
  } else if (near != NULL) {
    fix = g_strdup_printf("write \"%s\"", near);
  } else if (g_ascii_isdigit(key->text[0])) {
    fix = g_strdup("write decimals with a point: a comma ends the value");
  } else {
    g_autofree char *all = hf_text_list(keys, "or");
    fix = g_strdup_printf("use %s", all);
  }
  g_autofree char *called = hf_table_called(table);
  hf_mistake(reader->mistakes, key->mark, fix, "\"%s\" is not a key of %s", key->text, called);
}

void
hf_read_table(HfReader *reader, const HfNode *node, const HfTable *table, void *base)
{
  for (const HfTable *part = table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++) {
      const HfNode *child = hf_node_get(node, field->key);
      HfValue value = {reader, table, field, child, base, (char *)base + field->offset};
      if (child != NULL) {
        readers[field->type](&value);
      } else if ((field->flags & HF_REQUIRED) != 0) {
        g_autofree char *fix = g_strdup_printf("add %s: %s", field->key, field->example);
        g_autofree char *called = hf_table_called(table);
        hf_mistake(reader->mistakes, node->mark, fix, "%s needs \"%s\"", called, field->key);
      }
    }
  for (guint i = 0; i < hf_node_size(node); i++)
    if (hf_table_field(table, hf_node_key(node, i)->text) == NULL)
      report_unknown(reader, hf_node_key(node, i), table);
}
