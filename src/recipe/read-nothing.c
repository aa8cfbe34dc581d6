/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-nothing.c - a struct as when nothing was given, and its end.
 */
#include "recipe/value-private.h"
#include <string.h>

static void
set_nothing(const HfField *field, void *base, void *at)
{
  switch (field->type) {
  case HF_FIELD_LENGTH:
  case HF_FIELD_THICKNESS:
  case HF_FIELD_QUANTITY:
  case HF_FIELD_NUMBER:
  case HF_FIELD_RATIO:
  case HF_FIELD_MAYBE:
  case HF_FIELD_SPOT:
    *(double *)at = NAN;
    break;
  case HF_FIELD_POINT:
  case HF_FIELD_NUMBERS:
    ((double *)at)[0] = ((double *)at)[1] = NAN;
    break;
  case HF_FIELD_MARGIN:
    for (int i = 0; i < 4; i++)
      ((double *)at)[i] = NAN;
    break;
  case HF_FIELD_SHARE:
  case HF_FIELD_SPACING:
    *(HfMeasure *)at = (HfMeasure){NAN, FALSE};
    break;
  case HF_FIELD_TEXTS:
  case HF_FIELD_NAMES:
  case HF_FIELD_PINS:
    *(GPtrArray **)at = g_ptr_array_new_with_free_func(g_free);
    break;
  case HF_FIELD_CHOICES:
    *(GArray **)at = g_array_new(FALSE, FALSE, sizeof(int));
    break;
  case HF_FIELD_SPOTS:
    *(GArray **)at = g_array_new(FALSE, FALSE, sizeof(HfSpot));
    break;
  case HF_FIELD_POINTS:
    *(GArray **)at = g_array_new(FALSE, FALSE, sizeof(HfPoint));
    break;
  case HF_FIELD_ROWS:
    *(GArray **)at = g_array_new(FALSE, TRUE, (guint)field->row_size);
    break;
  case HF_FIELD_LIMITS:
    *(GArray **)at = g_array_new(FALSE, TRUE, sizeof(HfLimitOverride));
    break;
  case HF_FIELD_ENTRIES:
    *(GPtrArray **)at = g_ptr_array_new_with_free_func((GDestroyNotify)hf_entry_free);
    break;
  case HF_FIELD_FONT:
  case HF_FIELD_FINISH:
    hf_read_defaults(field->table, at);
    break;
  case HF_FIELD_TABLE:
    hf_read_defaults(field->table, base);
    break;
  default:
    break; /* texts, names, whole numbers and choices start as zero */
  }
}

static HfNode *
otherwise_node(const char *text, HfMistakes *mistakes)
{
  HfNode *node = NULL;
  if (text[0] == '[') {
    HfSource source;
    hf_source_init(&source, text, strlen(text));
    node = hf_node_read(&source, mistakes);
    hf_source_clear(&source);
  } else { /* spares starting libyaml for one word */
    node = g_new0(HfNode, 1);
    node->kind = HF_NODE_TEXT;
    node->text = g_strdup(text);
  }
  return node;
}

/* What the table says for "when nothing is given" goes through the same readers. */
static void
set_otherwise(const HfTable *table, const HfField *field, void *base)
{
  HfMistakes mistakes;
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) node = otherwise_node(field->otherwise, &mistakes);
  HfReader reader = {.mistakes = &mistakes, .entry = -1};
  HfValue value = {&reader, table, field, node, base, (char *)base + field->offset};
  hf_value_read(&value);
  g_assert(mistakes.total == 0);
  hf_mistakes_clear(&mistakes);
}

void
hf_read_defaults(const HfTable *table, void *base)
{
  for (const HfTable *part = table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++) {
      set_nothing(field, base, (char *)base + field->offset);
      if (field->otherwise != NULL)
        set_otherwise(table, field, base);
    }
}

static void
free_rows(const HfField *field, GArray *rows)
{
  for (guint i = 0; i < rows->len; i++)
    hf_read_free(field->table, rows->data + (gsize)i * field->row_size);
  g_array_unref(rows);
}

static void
free_limits(GArray *limits)
{
  for (guint i = 0; i < limits->len; i++)
    g_free(g_array_index(limits, HfLimitOverride, i).key);
  g_array_unref(limits);
}

static void
free_field(const HfField *field, void *base, void *at)
{
  switch (field->type) {
  case HF_FIELD_TEXT:
  case HF_FIELD_PATH:
  case HF_FIELD_METAL:
  case HF_FIELD_NAME:
  case HF_FIELD_PIN:
    g_free(*(char **)at);
    break;
  case HF_FIELD_TEXTS:
  case HF_FIELD_NAMES:
  case HF_FIELD_PINS:
  case HF_FIELD_ENTRIES:
    g_ptr_array_unref(*(GPtrArray **)at);
    break;
  case HF_FIELD_CHOICES:
  case HF_FIELD_SPOTS:
  case HF_FIELD_POINTS:
    g_array_unref(*(GArray **)at);
    break;
  case HF_FIELD_ROWS:
    free_rows(field, *(GArray **)at);
    break;
  case HF_FIELD_LIMITS:
    free_limits(*(GArray **)at);
    break;
  case HF_FIELD_FONT:
    hf_read_free(field->table, at);
    break;
  case HF_FIELD_TABLE:
    hf_read_free(field->table, base);
    break;
  default:
    break;
  }
}

void
hf_read_free(const HfTable *table, void *base)
{
  for (const HfTable *part = table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++)
      free_field(field, base, (char *)base + field->offset);
}
