/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-places.c - directions and places; the spacing of words.
 */
#include "base/text.h"
#include "recipe/value-private.h"
#include <string.h>

void
hf_value_direction(const HfValue *value)
{
  g_autoptr(GError) error = NULL;
  HfSpot spot;
  if (!hf_value_want(value, value->node, HF_NODE_TEXT))
    return;
  if (!hf_measure_spot(value->node->text, &spot, &error))
    hf_value_mistake(value, value->node, error);
  else if (spot.kind != HF_SPOT_DIRECTION)
    hf_mistake(value->reader->mistakes, value->node->mark, "write top, 11 o'clock or 30 deg",
               "\"%s\" is a place, a direction is wanted", value->node->text);
  else
    *(double *)value->at = spot.angle;
}

static gboolean
is_point(const HfNode *node)
{
  return node->kind == HF_NODE_LIST && hf_node_size(node) == 2 &&
         hf_node_item(node, 0)->kind == HF_NODE_TEXT &&
         hf_node_item(node, 1)->kind == HF_NODE_TEXT &&
         hf_measure_looks_like_length(hf_node_item(node, 0)->text) &&
         hf_measure_looks_like_length(hf_node_item(node, 1)->text);
}

static void
add_spot(const HfValue *value, const HfNode *node, GArray *list)
{
  static const HfField point = {
      "at", HF_FIELD_LENGTH, 0, 0, "", "[10 mm, 20 mm]", NULL, -HF_RECIPE_MAX_MM, HF_RECIPE_MAX_MM};
  HfSpot spot = {HF_SPOT_POINT, 0, {0, 0}};
  if (node->kind == HF_NODE_LIST) {
    HfValue inner = *value;
    inner.field = &point;
    double pair[2];
    if (!hf_value_pair(&inner, node, hf_value_length_at, pair))
      return;
    spot.point = (HfPoint){pair[0], pair[1]};
  } else {
    g_autoptr(GError) error = NULL;
    if (!hf_value_want(value, node, HF_NODE_TEXT))
      return;
    if (!hf_measure_spot(node->text, &spot, &error)) {
      hf_value_mistake(value, node, error);
      return;
    }
  }
  g_array_append_val(list, spot);
}

/* One spot, or a list; [10 mm, 20 mm] is one point, not two spots. */
void
hf_value_spots(const HfValue *value)
{
  GArray *list = *(GArray **)value->at;
  const HfNode *node = value->node;
  if (node->kind != HF_NODE_LIST || is_point(node)) {
    add_spot(value, node, list);
    return;
  }
  if (hf_node_size(node) == 0 || hf_node_size(node) > HF_RECIPE_MAX_ENTRIES) {
    hf_mistake(value->reader->mistakes, node->mark,
               "give 1 to " G_STRINGIFY(HF_RECIPE_MAX_ENTRIES) " places", "at has %u places",
               hf_node_size(node));
    return;
  }
  for (guint i = 0; i < hf_node_size(node); i++)
    add_spot(value, hf_node_item(node, i), list);
}

/* Two points at least, no two neighbours in one place. */
void
hf_value_points(const HfValue *value)
{
  GArray *list = *(GArray **)value->at;
  const HfNode *node = value->node;
  if (!hf_value_want(value, node, HF_NODE_LIST))
    return;
  guint n = hf_node_size(node);
  if (n < 2 || n > HF_RECIPE_MAX_ENTRIES || hf_node_item(node, 0)->kind != HF_NODE_LIST) {
    g_autofree char *fix =
        g_strdup_printf("write it like this: %s: %s", value->field->key, value->field->example);
    hf_mistake(value->reader->mistakes, node->mark, fix, "\"%s\" wants a list of points",
               value->field->key);
    return;
  }
  for (guint i = 0; i < n; i++) {
    double pair[2];
    if (!hf_value_pair(value, hf_node_item(node, i), hf_value_length_at, pair))
      continue; /* all mistakes are told */
    HfPoint point = {pair[0], pair[1]};
    const HfPoint *last = list->len > 0 ? &g_array_index(list, HfPoint, list->len - 1) : NULL;
    if (last != NULL && hf_point_distance(*last, point) < HF_RECIPE_MIN_MM)
      hf_mistake(value->reader->mistakes, hf_node_item(node, i)->mark, "take one of them out",
                 "two points of \"%s\" are in one place", value->field->key);
    g_array_append_val(list, point);
  }
}

void
hf_value_spacing(const HfValue *value)
{
  HfWordsEntry *words = &((HfEntry *)value->base)->words;
  if (!hf_value_want(value, value->node, HF_NODE_TEXT))
    return;
  const char *text = value->node->text;
  if (strcmp(text, "joined") == 0)
    words->spacing_rule = HF_SPACING_JOINED;
  else if (strcmp(text, "joined pair by pair") == 0)
    words->spacing_rule = HF_SPACING_PAIRS;
  else if (g_ascii_isalpha(text[0])) {
    static const char *const rules[] = {"joined", "joined pair by pair", NULL};
    const char *near = hf_text_nearest(text, rules);
    g_autofree char *fix = near != NULL
                               ? g_strdup_printf("write \"%s\"", near)
                               : g_strdup("write 2 mm, 10 %, joined or joined pair by pair");
    hf_mistake(value->reader->mistakes, value->node->mark, fix, "spacing can't be \"%s\"", text);
  } else {
    hf_value_share(value);
  }
}
