/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-value.c - what all readers of values share: is it of the right sort and size? Mistakes with
 * their place.
 */
#include "base/text.h"
#include "recipe/value-private.h"
#include <string.h>

static const char *
kind_word(const HfNode *node)
{
  return node->kind == HF_NODE_LIST ? "a list" : node->kind == HF_NODE_TABLE ? "a table" : "a text";
}

/* The message of a value reader, with the place added. */
void
hf_value_mistake(const HfValue *value, const HfNode *node, const GError *error)
{
  const char *fix = hf_error_fix(error);
  g_autofree char *what = g_strdup(error->message);
  char *semicolon = fix != NULL ? g_strrstr(what, "; ") : NULL;
  g_autofree char *tail = g_strdup_printf("; %s", fix);
  if (semicolon != NULL && g_str_has_suffix(what, tail))
    what[strlen(what) - strlen(tail)] = '\0';
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s", what);
}

gboolean
hf_value_want(const HfValue *value, const HfNode *node, HfNodeKind kind)
{
  if (node->kind == kind && !hf_node_is_empty(node))
    return TRUE;
  g_autofree char *fix =
      g_strdup_printf("write it like this: %s: %s", value->field->key, value->field->example);
  if (hf_node_is_empty(node))
    hf_mistake(value->reader->mistakes, node->mark, fix, "\"%s\" has no value", value->field->key);
  else
    hf_mistake(value->reader->mistakes, node->mark, fix, "\"%s\" can't be %s", value->field->key,
               kind_word(node));
  return FALSE;
}

gboolean
hf_value_in_range(const HfValue *value, const HfNode *node, double number)
{
  const HfField *field = value->field;
  double min = hf_field_min(field), max = hf_field_max(field);
  double slack = 1e-9 * fabs(number);
  if (!(number < min - slack) && !(number > max + slack))
    return TRUE;
  g_autofree char *least = hf_field_say(field, min);
  g_autofree char *most = hf_field_say(field, max);
  g_autofree char *fix = g_strdup_printf("write something from %s to %s", least, most);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s is %s, which is too %s", field->key,
             node->text, number < min ? "small" : "large");
  return FALSE;
}

gboolean
hf_value_text_fits(const HfValue *value, const HfNode *node)
{
  if (g_utf8_strlen(node->text, -1) <= HF_RECIPE_MAX_TEXT)
    return TRUE;
  g_autofree char *fix = g_strdup_printf("at most %d characters", HF_RECIPE_MAX_TEXT);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s has %ld characters", value->field->key,
             g_utf8_strlen(node->text, -1));
  return FALSE;
}

void
hf_value_note_unit(const HfValue *value, const char *text)
{
  HfSaid said = {value->field->key, hf_measure_unit(text)};
  if (value->reader->said != NULL)
    g_array_append_val(value->reader->said, said);
}
