/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-value.c - what all readers of values share: is it of the right sort and size? Mistakes with
 * their place.
 */
#include "base/seen.h"
#include "base/text.h"
#include "recipe/value-private.h"
#include <string.h>

static const char *
kind_word(HfNodeKind kind)
{
  return kind == HF_NODE_LIST ? "a list" : kind == HF_NODE_TABLE ? "a table of keys" : "one value";
}

/* `"entries" wants a list, not the text "hello"` */
static char *
not_wanted(const char *key, HfNodeKind wanted, const HfNode *node)
{
  if (node->kind == HF_NODE_TEXT)
    return g_strdup_printf("\"%s\" wants %s, not just \"%.60s\"", key, kind_word(wanted),
                           node->text);
  return g_strdup_printf("\"%s\" wants %s, not %s", key, kind_word(wanted), kind_word(node->kind));
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
  g_autofree char *what = hf_node_is_empty(node)
                              ? g_strdup_printf("\"%s\" has no value", value->field->key)
                              : not_wanted(value->field->key, kind, node);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s", what);
  return FALSE;
}

/* What was meant, where a figure out of range shows it: 45 for 45 %, a minus that has no meaning.
 * (nullable) (transfer full) */
static char *
meant(const HfField *field, const char *text, double number, double min, double max)
{
  g_autofree char *figure = g_strstrip(g_strdup(text));
  gboolean bare = figure[strspn(figure, "0123456789.")] == '\0';
  if (field->type == HF_FIELD_RATIO && bare && number / 100 >= min && number / 100 <= max)
    return g_strdup_printf("write %s %% if that is meant", figure);
  if (number < 0 && min >= 0 && -number >= min && -number <= max && figure[0] == '-')
    return g_strdup_printf("write it without the minus: %s", figure + 1);
  return NULL;
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
  g_autofree char *meaning = meant(field, node->text, number, min, max);
  g_autofree char *fix =
      g_strdup_printf("%s%swrite something from %s to %s", meaning != NULL ? meaning : "",
                      meaning != NULL ? "; or " : "", least, most);
  g_autofree char *shown = hf_seen_value(node->text);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s is %s, which is %s", field->key, shown,
             number < 0 && min >= 0 ? "below 0"
             : number < min         ? "too small"
                                    : "too large");
  return FALSE;
}

gboolean
hf_value_text_fits(const HfValue *value, const HfNode *node)
{
  if (g_utf8_strlen(node->text, -1) <= HF_RECIPE_MAX_TEXT)
    return TRUE;
  g_autofree char *fix = g_strdup_printf("write at most %d", HF_RECIPE_MAX_TEXT);
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
