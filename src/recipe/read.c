/* SPDX-License-Identifier: GPL-3.0-or-later
 * From nodes to structs: one small reader for each type of field, chosen by a table.
 */
#include "base/text.h"
#include "recipe/read-private.h"
#include <string.h>

typedef struct {
  HfReader *reader;
  const HfTable *table; /* whose field it is, for messages */
  const HfField *field;
  const HfNode *node;
  void *base, *at; /* the struct, and the field in it */
} HfValue;

/* The message of a value reader, with the place added. */
static void
mistake_from(const HfValue *value, const HfNode *node, const GError *error)
{
  const char *fix = hf_error_fix(error);
  g_autofree char *what = g_strdup(error->message);
  char *semicolon = fix != NULL ? g_strrstr(what, "; ") : NULL;
  g_autofree char *tail = g_strdup_printf("; %s", fix);
  if (semicolon != NULL && g_str_has_suffix(what, tail))
    what[strlen(what) - strlen(tail)] = '\0';
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s", what);
}

static const char *
kind_word(const HfNode *node)
{
  return node->kind == HF_NODE_LIST ? "a list" : node->kind == HF_NODE_TABLE ? "a table" : "a text";
}

static gboolean
want(const HfValue *value, const HfNode *node, HfNodeKind kind)
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

static gboolean
in_range(const HfValue *value, const HfNode *node, double number)
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

static gboolean
text_fits(const HfValue *value, const HfNode *node)
{
  if (g_utf8_strlen(node->text, -1) <= HF_RECIPE_MAX_TEXT)
    return TRUE;
  g_autofree char *fix = g_strdup_printf("at most %d characters", HF_RECIPE_MAX_TEXT);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s has %ld characters", value->field->key,
             g_utf8_strlen(node->text, -1));
  return FALSE;
}

static void
note_unit(const HfValue *value, const char *text)
{
  HfSaid said = {value->field->key, hf_measure_unit(text)};
  if (value->reader->said != NULL)
    g_array_append_val(value->reader->said, said);
}

static gboolean
read_length_at(const HfValue *value, const HfNode *node, double *ret_mm)
{
  g_autoptr(GError) error = NULL;
  double mm = 0;
  if (!want(value, node, HF_NODE_TEXT))
    return FALSE;
  HfGaugeUse use = value->field->type == HF_FIELD_THICKNESS ? HF_GAUGE_ALLOWED : HF_NO_GAUGE;
  if (!hf_measure_length(node->text, use, value->reader->metal, &mm, &error)) {
    mistake_from(value, node, error);
    return FALSE;
  }
  if (!in_range(value, node, mm))
    return FALSE;
  note_unit(value, node->text);
  *ret_mm = mm;
  return TRUE;
}

static void
read_length(const HfValue *value)
{
  read_length_at(value, value->node, value->at);
}

static void
read_share(const HfValue *value)
{
  g_autoptr(GError) error = NULL;
  HfMeasure measure;
  if (!want(value, value->node, HF_NODE_TEXT))
    return;
  if (!hf_measure_share(value->node->text, &measure, &error))
    mistake_from(value, value->node, error);
  else if (measure.is_share && fabs(measure.value) > 10)
    hf_mistake(value->reader->mistakes, value->node->mark, "write at most 1000 %",
               "%s is %s, which is too large", value->field->key, value->node->text);
  else if (measure.is_share || in_range(value, value->node, measure.value)) {
    *(HfMeasure *)value->at = measure;
    if (!measure.is_share)
      note_unit(value, value->node->text);
  }
}

static void
read_quantity(const HfValue *value)
{
  g_autoptr(GError) error = NULL;
  double number = 0;
  if (!want(value, value->node, HF_NODE_TEXT))
    return;
  if (!hf_measure_quantity(value->node->text, value->field->units, value->field->example, &number,
                           &error))
    mistake_from(value, value->node, error);
  else if (in_range(value, value->node, number))
    *(double *)value->at = number;
}

static gboolean
read_number_at(const HfValue *value, const HfNode *node, double *ret_number)
{
  g_autoptr(GError) error = NULL;
  double number = 0;
  if (!want(value, node, HF_NODE_TEXT))
    return FALSE;
  if (!hf_measure_number(node->text, &number, &error)) {
    mistake_from(value, node, error);
    return FALSE;
  }
  if (!in_range(value, node, number))
    return FALSE;
  *ret_number = number;
  return TRUE;
}

static void
read_number(const HfValue *value)
{
  read_number_at(value, value->node, value->at);
}

static void
read_ratio(const HfValue *value)
{
  HfMeasure measure;
  if (value->node->kind == HF_NODE_TEXT && strchr(value->node->text, '%') != NULL &&
      hf_measure_share(value->node->text, &measure, NULL)) {
    if (in_range(value, value->node, measure.value))
      *(double *)value->at = measure.value;
    return;
  }
  read_number(value);
}

static void
read_whole(const HfValue *value)
{
  double number = 0;
  if (!read_number_at(value, value->node, &number))
    return;
  if (number != floor(number)) {
    hf_mistake(value->reader->mistakes, value->node->mark, "write a whole number",
               "%s is %s, which is not whole", value->field->key, value->node->text);
    return;
  }
  *(int *)value->at = (int)number;
}

static gboolean
read_yes_at(const HfValue *value, gboolean *ret_yes)
{
  static const char *const yes[] = {"yes", "true", "on", NULL};
  static const char *const no[] = {"no", "false", "off", NULL};
  if (!want(value, value->node, HF_NODE_TEXT))
    return FALSE;
  for (gsize i = 0; yes[i] != NULL; i++)
    if (g_ascii_strcasecmp(value->node->text, yes[i]) == 0)
      return *ret_yes = TRUE;
  for (gsize i = 0; no[i] != NULL; i++)
    if (g_ascii_strcasecmp(value->node->text, no[i]) == 0) {
      *ret_yes = FALSE;
      return TRUE;
    }
  hf_mistake(value->reader->mistakes, value->node->mark, "write yes or no", "%s is \"%s\"",
             value->field->key, value->node->text);
  return FALSE;
}

static void
read_yes(const HfValue *value)
{
  read_yes_at(value, value->at);
}

static void
read_maybe(const HfValue *value)
{
  gboolean yes = FALSE;
  if (read_yes_at(value, &yes))
    *(double *)value->at = yes ? 1 : 0;
}

static void
read_text(const HfValue *value)
{
  if (!want(value, value->node, HF_NODE_TEXT) || !text_fits(value, value->node))
    return;
  if (value->node->text[0] == '\0') {
    hf_mistake(value->reader->mistakes, value->node->mark, "write a text, or leave the key out",
               "%s is empty", value->field->key);
    return;
  }
  g_free(*(char **)value->at);
  *(char **)value->at = g_strdup(value->node->text);
}

/* A text of several lines is as good as a list of lines. */
static void
add_lines(GPtrArray *lines, const char *text)
{
  g_auto(GStrv) parts = g_strsplit(text, "\n", -1);
  guint n = g_strv_length(parts);
  for (guint i = 0; i < n; i++)
    if (parts[i][0] != '\0' || i + 1 < n)
      g_ptr_array_add(lines, g_strdup(parts[i]));
}

static void
read_texts(const HfValue *value)
{
  GPtrArray *lines = *(GPtrArray **)value->at;
  const HfNode *node = value->node;
  gsize total = 0;
  if (node->kind == HF_NODE_TABLE && !want(value, node, HF_NODE_TEXT))
    return;
  guint n = node->kind == HF_NODE_LIST ? hf_node_size(node) : 1;
  g_ptr_array_set_size(lines, 0);
  for (guint i = 0; i < n; i++) {
    const HfNode *line = node->kind == HF_NODE_LIST ? hf_node_item(node, i) : node;
    if (!want(value, line, HF_NODE_TEXT) || !text_fits(value, line))
      return;
    total += (gsize)g_utf8_strlen(line->text, -1);
    add_lines(lines, line->text);
  }
  gboolean inked = FALSE;
  for (guint i = 0; i < lines->len; i++)
    inked = inked || *g_strchug(g_ptr_array_index(lines, i)) != '\0';
  if (!inked || total > HF_RECIPE_MAX_TEXT || lines->len > 100)
    hf_mistake(value->reader->mistakes, node->mark,
               inked ? "at most 2000 characters in 100 lines" : "write what the sign is to say",
               inked ? "%s is too long" : "%s is empty", value->field->key);
}

/* A recipe may not reach outside its own folder. */
static void
read_path(const HfValue *value)
{
  if (!want(value, value->node, HF_NODE_TEXT) || !text_fits(value, value->node))
    return;
  const char *path = value->node->text;
  g_auto(GStrv) parts = g_strsplit_set(path, "/\\", -1);
  gboolean outside = path[0] == '/' || path[0] == '\\' || path[0] == '~' || path[0] == '\0' ||
                     (g_ascii_isalpha(path[0]) && path[1] == ':');
  for (gsize i = 0; parts[i] != NULL; i++)
    outside = outside || strcmp(parts[i], "..") == 0;
  if (outside) {
    hf_mistake(value->reader->mistakes, value->node->mark,
               "put the file beside the recipe or below it, and say its path from there",
               "\"%s\" lies outside the recipe's own folder", path);
    return;
  }
  read_text(value);
}

static void
read_metal(const HfValue *value)
{
  if (!want(value, value->node, HF_NODE_TEXT))
    return;
  const HfMetalKind *metal = hf_metal(value->node->text);
  if (metal == NULL) {
    const char *near = hf_text_nearest(value->node->text, hf_metal_keys());
    g_autofree char *all = hf_text_list(hf_metal_keys(), "or");
    g_autofree char *fix =
        near != NULL ? g_strdup_printf("write \"%s\"", near) : g_strdup_printf("write %s", all);
    hf_mistake(value->reader->mistakes, value->node->mark, fix, "\"%s\" is not a metal",
               value->node->text);
    return;
  }
  value->reader->metal = metal;
  g_free(*(char **)value->at);
  *(char **)value->at = g_strdup(metal->key);
}

static gboolean
read_name_at(const HfValue *value, const HfNode *node, char **ret_name)
{
  if (!want(value, node, HF_NODE_TEXT) || !text_fits(value, node))
    return FALSE;
  HfMention mention = {node->mark, node->text, value->field, value->reader->entry};
  g_array_append_val(value->reader->mentions, mention);
  g_free(*ret_name);
  *ret_name = g_strdup(node->text);
  return TRUE;
}

static void
read_name(const HfValue *value)
{
  read_name_at(value, value->node, value->at);
}

static void
read_names(const HfValue *value)
{
  GPtrArray *names = *(GPtrArray **)value->at;
  const HfNode *node = value->node;
  if (node->kind == HF_NODE_TABLE && !want(value, node, HF_NODE_LIST))
    return;
  guint n = node->kind == HF_NODE_LIST ? hf_node_size(node) : 1;
  for (guint i = 0; i < n && i < HF_RECIPE_MAX_ENTRIES; i++) {
    char *name = NULL;
    if (read_name_at(value, node->kind == HF_NODE_LIST ? hf_node_item(node, i) : node, &name))
      g_ptr_array_add(names, name);
  }
}

static gboolean
read_choice_at(const HfValue *value, const HfNode *node, int *ret_choice)
{
  if (!want(value, node, HF_NODE_TEXT))
    return FALSE;
  const char *words[32] = {NULL};
  for (guint i = 0; value->field->choices[i].word != NULL; i++) {
    g_assert(i + 1 < G_N_ELEMENTS(words));
    words[i] = value->field->choices[i].word;
    if (g_ascii_strcasecmp(node->text, words[i]) == 0) {
      *ret_choice = value->field->choices[i].value;
      return TRUE;
    }
  }
  const char *near = hf_text_nearest(node->text, words);
  g_autofree char *all = hf_text_list(words, "or");
  g_autofree char *fix =
      near != NULL ? g_strdup_printf("write \"%s\"", near) : g_strdup_printf("write %s", all);
  hf_mistake(value->reader->mistakes, node->mark, fix, "%s can't be \"%s\"", value->field->key,
             node->text);
  return FALSE;
}

static void
read_choice(const HfValue *value)
{
  read_choice_at(value, value->node, value->at);
}

static void
read_choices(const HfValue *value)
{
  GArray *choices = *(GArray **)value->at;
  const HfNode *node = value->node;
  if (node->kind == HF_NODE_TABLE && !want(value, node, HF_NODE_LIST))
    return;
  g_array_set_size(choices, 0);
  guint n = node->kind == HF_NODE_LIST ? hf_node_size(node) : 1;
  for (guint i = 0; i < n; i++) {
    const HfNode *item = node->kind == HF_NODE_LIST ? hf_node_item(node, i) : node;
    int choice = 0;
    if (!read_choice_at(value, item, &choice))
      continue;
    for (guint j = 0; j < choices->len; j++)
      if (g_array_index(choices, int, j) == choice) {
        hf_mistake(value->reader->mistakes, item->mark, "say each once", "\"%s\" stands twice",
                   item->text);
        return;
      }
    g_array_append_val(choices, choice);
  }
}

static void
read_direction(const HfValue *value)
{
  g_autoptr(GError) error = NULL;
  HfSpot spot;
  if (!want(value, value->node, HF_NODE_TEXT))
    return;
  if (!hf_measure_spot(value->node->text, &spot, &error))
    mistake_from(value, value->node, error);
  else if (spot.kind != HF_SPOT_DIRECTION)
    hf_mistake(value->reader->mistakes, value->node->mark, "write top, 11 o'clock or 30 deg",
               "\"%s\" is a place, a direction is wanted", value->node->text);
  else
    *(double *)value->at = spot.angle;
}

static gboolean
read_pair(const HfValue *value, const HfNode *node,
          gboolean (*one)(const HfValue *, const HfNode *, double *), double *ret_pair)
{
  double pair[2];
  if (!want(value, node, HF_NODE_LIST))
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

static void
read_point(const HfValue *value)
{
  read_pair(value, value->node, read_length_at, value->at);
}

static void
read_numbers(const HfValue *value)
{
  read_pair(value, value->node, read_number_at, value->at);
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
    if (!read_pair(&inner, node, read_length_at, pair))
      return;
    spot.point = (HfPoint){pair[0], pair[1]};
  } else {
    g_autoptr(GError) error = NULL;
    if (!want(value, node, HF_NODE_TEXT))
      return;
    if (!hf_measure_spot(node->text, &spot, &error)) {
      mistake_from(value, node, error);
      return;
    }
  }
  g_array_append_val(list, spot);
}

/* One spot, or a list; [10 mm, 20 mm] is one point, not two spots. */
static void
read_spots(const HfValue *value)
{
  GArray *list = *(GArray **)value->at;
  const HfNode *node = value->node;
  if (node->kind != HF_NODE_LIST || is_point(node)) {
    add_spot(value, node, list);
    return;
  }
  if (hf_node_size(node) == 0 || hf_node_size(node) > HF_RECIPE_MAX_ENTRIES) {
    hf_mistake(value->reader->mistakes, node->mark, "give 1 to 500 places", "at has %u places",
               hf_node_size(node));
    return;
  }
  for (guint i = 0; i < hf_node_size(node); i++)
    add_spot(value, hf_node_item(node, i), list);
}

static void
read_spacing(const HfValue *value)
{
  HfWordsEntry *words = &((HfEntry *)value->base)->words;
  if (!want(value, value->node, HF_NODE_TEXT))
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
    read_share(value);
  }
}

static void
read_font(const HfValue *value)
{
  HfFontWish *font = value->at;
  font->mark = value->node->mark;
  if (value->node->kind == HF_NODE_TABLE) {
    hf_read_table(value->reader, value->node, value->field->table, font);
  } else {
    HfValue family = *value;
    family.at = &font->family;
    read_text(&family);
    if (font->family == NULL)
      return;
  }
  hf_check_font(value->reader, value->node, font);
}

static void
read_inner_table(const HfValue *value)
{
  if (want(value, value->node, HF_NODE_TABLE))
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
read_rows(const HfValue *value)
{
  GArray *rows = *(GArray **)value->at;
  if (!want(value, value->node, HF_NODE_LIST))
    return;
  for (guint i = 0; i < hf_node_size(value->node); i++) {
    const HfNode *item = hf_node_item(value->node, i);
    if (i >= HF_RECIPE_MAX_ENTRIES) {
      hf_mistake(value->reader->mistakes, item->mark, "at most 500", "too many rows");
      return;
    }
    if (!want(value, item, HF_NODE_TABLE))
      continue;
    g_array_set_size(rows, i + 1);
    void *row = rows->data + (gsize)(rows->len - 1) * value->field->row_size;
    start_row(value->field, row, item->mark);
    value->reader->metal = NULL;
    hf_read_table(value->reader, item, value->field->table, row);
  }
}

static void
read_limits(const HfValue *value)
{
  GArray *limits = *(GArray **)value->at;
  if (!want(value, value->node, HF_NODE_TABLE))
    return;
  for (guint i = 0; i < hf_node_size(value->node); i++) {
    const HfNode *key = hf_node_key(value->node, i), *item = hf_node_item(value->node, i);
    g_autoptr(GError) error = NULL;
    HfLimitOverride limit = {NULL, NAN, "", key->mark};
    if (!want(value, item, HF_NODE_TEXT) || i >= HF_RECIPE_MAX_ENTRIES)
      continue;
    if (!hf_measure_limit(item->text, &limit.value, &limit.unit, &error)) {
      mistake_from(value, item, error);
      continue;
    }
    limit.key = g_strdup(key->text);
    g_array_append_val(limits, limit);
  }
}

static void
read_entries(const HfValue *value)
{
  if (want(value, value->node, HF_NODE_LIST))
    hf_read_entries(value->reader, value->node, *(GPtrArray **)value->at);
}

static void (*const readers[HF_N_FIELD_TYPES])(const HfValue *) = {
    [HF_FIELD_LENGTH] = read_length,   [HF_FIELD_THICKNESS] = read_length,
    [HF_FIELD_SHARE] = read_share,     [HF_FIELD_QUANTITY] = read_quantity,
    [HF_FIELD_NUMBER] = read_number,   [HF_FIELD_RATIO] = read_ratio,
    [HF_FIELD_WHOLE] = read_whole,     [HF_FIELD_YES] = read_yes,
    [HF_FIELD_MAYBE] = read_maybe,     [HF_FIELD_TEXT] = read_text,
    [HF_FIELD_TEXTS] = read_texts,     [HF_FIELD_PATH] = read_path,
    [HF_FIELD_METAL] = read_metal,     [HF_FIELD_NAME] = read_name,
    [HF_FIELD_NAMES] = read_names,     [HF_FIELD_PIN] = read_name,
    [HF_FIELD_PINS] = read_names,      [HF_FIELD_CHOICE] = read_choice,
    [HF_FIELD_CHOICES] = read_choices, [HF_FIELD_SPOT] = read_direction,
    [HF_FIELD_SPOTS] = read_spots,     [HF_FIELD_POINT] = read_point,
    [HF_FIELD_NUMBERS] = read_numbers, [HF_FIELD_SPACING] = read_spacing,
    [HF_FIELD_FONT] = read_font,       [HF_FIELD_TABLE] = read_inner_table,
    [HF_FIELD_ROWS] = read_rows,       [HF_FIELD_LIMITS] = read_limits,
    [HF_FIELD_ENTRIES] = read_entries,
};

/* --- one table --- */

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

/* --- defaults and freeing --- */

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
  readers[field->type](&value);
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
