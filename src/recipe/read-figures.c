/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-figures.c - values that are figures: lengths, shares, numbers, pairs.
 */
#include "base/seen.h"
#include "base/text.h"
#include "recipe/value-private.h"
#include <string.h>

#define MOST_BARE 1e6 /* what is larger is a length in no unit */

/* -100: to say the unit only would lead to the next refusal. */
static gboolean
tell_bare_negative(const HfValue *value, const HfNode *node)
{
  double number = 0;
  if (!hf_measure_number(node->text, &number, NULL) || number >= 0 || number < -MOST_BARE)
    return FALSE;
  g_autofree char *figure = hf_text_number(-number, 6);
  g_autofree char *fix = g_strdup_printf("write %s mm, or %s in", figure, figure);
  g_autofree char *shown = hf_seen_value(node->text);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s is %s, which is below 0 and has no unit",
             value->field->key, shown);
  return TRUE;
}

gboolean
hf_value_length_at(const HfValue *value, const HfNode *node, double *ret_mm)
{
  g_autoptr(GError) error = NULL;
  double mm = 0;
  if (!hf_value_want(value, node, HF_NODE_TEXT))
    return FALSE;
  double least = hf_field_min(value->field);
  HfGaugeUse use = value->field->type == HF_FIELD_THICKNESS ? HF_GAUGE_ALLOWED : HF_NO_GAUGE;
  if (!hf_measure_length(node->text, use, value->reader->metal, &mm, &error)) {
    if (!(least >= 0) || !tell_bare_negative(value, node))
      hf_value_mistake(value, node, error);
    return FALSE;
  }
  if (!hf_value_in_range(value, node, mm))
    return FALSE;
  hf_value_note_unit(value, node->text);
  *ret_mm = mm;
  return TRUE;
}

void
hf_value_length(const HfValue *value)
{
  hf_value_length_at(value, value->node, value->at);
}

void
hf_value_share(const HfValue *value)
{
  g_autoptr(GError) error = NULL;
  HfMeasure measure;
  if (!hf_value_want(value, value->node, HF_NODE_TEXT))
    return;
  if (!hf_measure_share(value->node->text, &measure, &error))
    hf_value_mistake(value, value->node, error);
  else if (measure.is_share && fabs(measure.value) > 10)
    hf_mistake(value->reader->mistakes, value->node->mark, "write at most 1000 %",
               "%s is %.60s, which is too large", value->field->key, value->node->text);
  else if (measure.is_share || hf_value_in_range(value, value->node, measure.value)) {
    *(HfMeasure *)value->at = measure;
    if (!measure.is_share)
      hf_value_note_unit(value, value->node->text);
  }
}

void
hf_value_quantity(const HfValue *value)
{
  g_autoptr(GError) error = NULL;
  double number = 0;
  if (!hf_value_want(value, value->node, HF_NODE_TEXT))
    return;
  if (!hf_measure_quantity(value->node->text, value->field->units, value->field->example, &number,
                           &error))
    hf_value_mistake(value, value->node, error);
  else if (hf_value_in_range(value, value->node, number))
    *(double *)value->at = number;
}

gboolean
hf_value_number_at(const HfValue *value, const HfNode *node, double *ret_number)
{
  g_autoptr(GError) error = NULL;
  double number = 0;
  if (!hf_value_want(value, node, HF_NODE_TEXT))
    return FALSE;
  if (!hf_measure_number(node->text, &number, &error)) {
    hf_value_mistake(value, node, error);
    return FALSE;
  }
  if (!hf_value_in_range(value, node, number))
    return FALSE;
  *ret_number = number;
  return TRUE;
}

void
hf_value_number(const HfValue *value)
{
  hf_value_number_at(value, value->node, value->at);
}

void
hf_value_ratio(const HfValue *value)
{
  HfMeasure measure;
  if (value->node->kind == HF_NODE_TEXT && strchr(value->node->text, '%') != NULL &&
      hf_measure_share(value->node->text, &measure, NULL)) {
    if (hf_value_in_range(value, value->node, measure.value))
      *(double *)value->at = measure.value;
    return;
  }
  hf_value_number(value);
}

void
hf_value_whole(const HfValue *value)
{
  double number = 0;
  if (value->node->kind == HF_NODE_TEXT && hf_measure_number(value->node->text, &number, NULL) &&
      number != floor(number)) {
    g_autofree char *shown = hf_seen_value(value->node->text);
    g_autofree char *least = hf_field_say(value->field, hf_field_min(value->field));
    g_autofree char *most = hf_field_say(value->field, hf_field_max(value->field));
    g_autofree char *fix = g_strdup_printf("write a whole number from %s to %s", least, most);
    hf_mistake(value->reader->mistakes, value->node->mark, fix,
               "%s is %s, which is not a whole number", value->field->key, shown);
    return;
  }
  if (!hf_value_number_at(value, value->node, &number))
    return;
  *(int *)value->at = (int)number;
}

gboolean
hf_value_pair(const HfValue *value, const HfNode *node,
              gboolean (*one)(const HfValue *, const HfNode *, double *), double *ret_pair)
{
  double pair[2];
  if (!hf_value_want(value, node, HF_NODE_LIST))
    return FALSE;
  if (hf_node_size(node) != 2) {
    g_autofree char *fix =
        g_strdup_printf("write it like this: %s: %s", value->field->key, value->field->example);
    hf_mistake(value->reader->mistakes, node->mark, fix, "\"%s\" has %u values, not two",
               value->field->key, hf_node_size(node));
    return FALSE;
  }
  gboolean first = one(value, hf_node_item(node, 0), &pair[0]);
  gboolean second = one(value, hf_node_item(node, 1), &pair[1]); /* both mistakes are told */
  if (!first || !second)
    return FALSE;
  memcpy(ret_pair, pair, sizeof pair);
  return TRUE;
}

void
hf_value_point(const HfValue *value)
{
  hf_value_pair(value, value->node, hf_value_length_at, value->at);
}

void
hf_value_numbers(const HfValue *value)
{
  hf_value_pair(value, value->node, hf_value_number_at, value->at);
}

/* One for all four sides; two: beside, then above and below; four: left, right, top, bottom. */
void
hf_value_margin(const HfValue *value)
{
  static const guint from[5][4] = {[1] = {0, 0, 0, 0}, [2] = {0, 0, 1, 1}, [4] = {0, 1, 2, 3}};
  gboolean is_list = value->node->kind == HF_NODE_LIST;
  guint n = is_list ? hf_node_size(value->node) : 1;
  double said[4];
  if (n != 1 && n != 2 && n != 4) {
    hf_mistake(value->reader->mistakes, value->node->mark,
               "write one length, two (beside; above and below) or four (left, right, top, bottom)",
               "\"%s\" has %u values", value->field->key, n);
    return;
  }
  gboolean good = TRUE;
  for (guint i = 0; i < n; i++) /* all mistakes are told */
    good &=
        hf_value_length_at(value, is_list ? hf_node_item(value->node, i) : value->node, &said[i]);
  for (guint i = 0; good && i < 4; i++)
    ((double *)value->at)[i] = said[from[n][i]];
}
