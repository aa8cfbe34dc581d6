/* SPDX-License-Identifier: GPL-3.0-or-later
 * libyaml's events into our node tree.
 *
 * libyaml counts characters of what it is fed. It is fed the text without the byte order mark, and
 * in JSON with each escaped surrogate pair (backslash ud83d, backslash ude00), which YAML does not
 * know, replaced by its character; `places` leads back to the bytes of the user's own text.
 */
#include "recipe/node-private.h"
#include <string.h>
#include <yaml.h>

typedef struct {
  const HfSource *source;
  HfMistakes *mistakes;
  yaml_parser_t yaml;
  GString *fed;   /* what libyaml reads; NULL: the text as it is */
  GArray *places; /* gsize: byte of the text for each character fed, and one for the end;
                     NULL: characters and bytes are the same */
  guint nodes;
} HfParser;

static HfMark
mark_at(const HfParser *parser, gsize offset)
{
  return hf_source_mark(parser->source, offset);
}

static gsize
place_of(const HfParser *parser, gsize character)
{
  if (parser->places == NULL)
    return parser->source->bom + character;
  return g_array_index(parser->places, gsize, MIN(character, parser->places->len - 1));
}

static gboolean
is_json_like(const HfSource *source)
{
  for (gsize i = source->bom; i < source->length; i++)
    if (!g_ascii_isspace(source->text[i]))
      return source->text[i] == '{' || source->text[i] == '[';
  return FALSE;
}

static gboolean
is_plain_ascii(const HfSource *source)
{
  for (gsize i = source->bom; i < source->length; i++)
    if ((guchar)source->text[i] >= 0x80)
      return FALSE;
  return TRUE;
}

static gboolean
read_hex4(const char *at, const char *end, guint *ret_value)
{
  if (end - at < 6 || at[0] != '\\' || at[1] != 'u')
    return FALSE;
  guint value = 0;
  for (int i = 2; i < 6; i++) {
    if (!g_ascii_isxdigit(at[i]))
      return FALSE;
    value = value * 16 + (guint)g_ascii_xdigit_value(at[i]);
  }
  *ret_value = value;
  return TRUE;
}

/* The character of an escaped surrogate pair at @at, 0 when there is none. */
static gunichar
surrogate_pair(const char *at, const char *end)
{
  guint high = 0, low = 0;
  if (!read_hex4(at, end, &high) || high < 0xd800 || high > 0xdbff)
    return 0;
  if (!read_hex4(at + 6, end, &low) || low < 0xdc00 || low > 0xdfff)
    return 0;
  return 0x10000 + ((high - 0xd800) << 10) + (low - 0xdc00);
}

static void
feed(HfParser *parser, const char *bytes, gsize n, gsize place)
{
  g_string_append_len(parser->fed, bytes, (gssize)n);
  g_array_append_val(parser->places, place);
}

/* Follows the quotes of a flow document: a quote opens a text only where a value can start
 * (3/16" has none), a comment reaches to the end of its line. */
static void
map_places(HfParser *parser)
{
  const HfSource *source = parser->source;
  const char *begin = source->text + source->bom, *end = source->text + source->length;
  gboolean json = is_json_like(source);
  char quote = '\0', before = '\n', last = '\n';
  for (const char *at = begin; at < end;) {
    gsize n = (gsize)(g_utf8_next_char(at) - at);
    gsize place = (gsize)(at - source->text);
    gunichar pair = json && quote == '"' ? surrogate_pair(at, end) : 0;
    if (pair != 0) {
      char utf8[6];
      feed(parser, utf8, (gsize)g_unichar_to_utf8(pair, utf8), place);
      at += 12;
      continue;
    }
    if (quote == '"' && *at == '\\' && at + 1 < end && (guchar)at[1] < 0x80) {
      feed(parser, at, 1, place);
      feed(parser, at + 1, 1, place + 1);
      at += 2;
      continue;
    }
    if (quote != '\0' && (*at == quote || (quote == '#' && (*at == '\n' || *at == '\r'))))
      quote = '\0';
    else if (quote == '\0' && *at == '#' && (g_ascii_isspace(last) || strchr("{[,", last) != NULL))
      quote = '#';
    else if (quote == '\0' && (*at == '"' || *at == '\'') && strchr("{[,:\n", before) != NULL)
      quote = *at;
    last = *at;
    if (quote != '#' && !g_ascii_isspace(*at))
      before = *at;
    feed(parser, at, n, place);
    at += n;
  }
  g_array_append_val(parser->places, source->length);
}

/* What libyaml says, and what a sign maker would want to know. */
static const struct {
  const char *problem, *what, *fix;
} problems[] = {
    {"mapping values are not allowed in this context", "\":\" where no key can stand",
     "put a value that holds \":\" into quotes, and start each key on a line of its own"},
    {"found character that cannot start any token", "a value can't start with this character",
     "put the value into quotes; indent with spaces, not tabs"},
    {"found a tab character that violates indentation", "a tab where spaces are needed",
     "indent with spaces"},
    {"found a tab character where an indentation space is expected",
     "a tab where spaces are needed", "indent with spaces"},
    {"did not find expected ',' or '}'", "\"{\" is not closed, or a comma is missing",
     "write {key: value, key: value}; put a value that holds a comma, a bracket or a # into "
     "quotes"},
    {"did not find expected ',' or ']'", "\"[\" is not closed, or a comma is missing",
     "write [one, two]; put a value that holds a comma, a bracket or a # into quotes"},
    {"did not find expected key", "this does not line up with the keys before it",
     "start all keys of one table in the same column"},
    {"could not find expected ':'", "a key without \":\"",
     "write key: value, with a space behind \":\""},
    {"did not find expected '-' indicator", "this does not line up with the entries before it",
     "start each entry with \"- \" in the same column"},
    {"found unexpected end of stream", "quotes that are not closed", "close the quotes"},
    {"found unexpected document indicator", "quotes that are not closed", "close the quotes"},
    {"block sequence entries are not allowed in this context", "\"- \" where no list can start",
     "start the list on a line of its own"},
    {"did not find expected <document start>", "text behind the end of the recipe",
     "one file holds one recipe"},
    {"did not find expected node content", "a value is missing here", "write a value"},
    {"found unknown escape character", "an unknown escape in quotes",
     "write \\\\ for a backslash, or use single quotes"},
    {"found invalid Unicode character escape code", "an escape that is no character",
     "write the character itself"},
    {"control characters are not allowed", "a control character", "take it out"},
};

/* What was opened on an earlier line and never closed is noticed far behind it, often only at the
 * end of the file: the place to look at is where it was opened. */
static gsize
problem_at(HfParser *parser)
{
  const yaml_parser_t *yaml = &parser->yaml;
  const char *context = yaml->context != NULL ? yaml->context : "";
  gboolean opened = strstr(context, " flow ") != NULL || strstr(context, "quoted scalar") != NULL ||
                    strstr(context, "simple key") != NULL;
  if (opened && yaml->context_mark.line < yaml->problem_mark.line)
    return place_of(parser, yaml->context_mark.index);
  return place_of(parser, yaml->problem_mark.index);
}

static void
report_problem(HfParser *parser)
{
  const yaml_parser_t *yaml = &parser->yaml;
  const char *problem = yaml->problem != NULL ? yaml->problem : "this can't be read";
  gsize offset = problem_at(parser);
  if (yaml->error == YAML_READER_ERROR) { /* says bytes of what it was fed, and no mark */
    const char *fed = parser->fed != NULL ? parser->fed->str : parser->source->text;
    offset = place_of(parser, (gsize)g_utf8_strlen(fed, (gssize)yaml->problem_offset));
  }
  HfMark mark = mark_at(parser, offset);
  for (gsize i = 0; i < G_N_ELEMENTS(problems); i++)
    if (strcmp(problem, problems[i].problem) == 0) {
      hf_mistake(parser->mistakes, mark, problems[i].fix, "%s", problems[i].what);
      return;
    }
  hf_mistake(parser->mistakes, mark, "holdfast new writes a recipe to look at",
             "this is no YAML, in which a recipe is written (%s)", problem);
}

static gboolean
next_event(HfParser *parser, yaml_event_t *event)
{
  if (yaml_parser_parse(&parser->yaml, event) == 1)
    return TRUE;
  report_problem(parser);
  return FALSE;
}

static HfNode *
node_new(HfParser *parser, HfNodeKind kind, const yaml_event_t *event)
{
  HfNode *node = g_new0(HfNode, 1);
  node->kind = kind;
  node->start = place_of(parser, event->start_mark.index);
  node->end = place_of(parser, event->end_mark.index);
  node->mark = mark_at(parser, node->start);
  if (kind != HF_NODE_TEXT)
    node->items = g_ptr_array_new_with_free_func((GDestroyNotify)hf_node_free);
  if (kind == HF_NODE_TABLE)
    node->keys = g_ptr_array_new_with_free_func((GDestroyNotify)hf_node_free);
  return node;
}

static gboolean
refuse_extras(HfParser *parser, const yaml_event_t *event)
{
  HfMark mark = mark_at(parser, place_of(parser, event->start_mark.index));
  const yaml_char_t *anchor = NULL, *tag = NULL;
  if (event->type == YAML_SCALAR_EVENT) {
    anchor = event->data.scalar.anchor;
    tag = event->data.scalar.tag;
  } else if (event->type == YAML_SEQUENCE_START_EVENT) {
    anchor = event->data.sequence_start.anchor;
    tag = event->data.sequence_start.tag;
  } else if (event->type == YAML_MAPPING_START_EVENT) {
    anchor = event->data.mapping_start.anchor;
    tag = event->data.mapping_start.tag;
  }
  if (event->type == YAML_ALIAS_EVENT)
    hf_mistake(parser->mistakes, mark, "write the value out, or put the text into quotes",
               "\"*%s\" is an alias, which a recipe can't have", event->data.alias.anchor);
  else if (anchor != NULL)
    hf_mistake(parser->mistakes, mark, "leave it out, or put the text into quotes",
               "\"&%s\" is an anchor, which a recipe can't have", anchor);
  else if (tag != NULL)
    hf_mistake(parser->mistakes, mark, "leave it out, or put the text into quotes",
               "a tag (\"!\"), which a recipe can't have");
  else
    return TRUE;
  return FALSE;
}

static HfNode *compose(HfParser *parser, yaml_event_t *event, guint depth);

static HfNode *
compose_text(HfParser *parser, const yaml_event_t *event)
{
  HfNode *node = node_new(parser, HF_NODE_TEXT, event);
  const char *value = (const char *)event->data.scalar.value;
  if (strlen(value) != event->data.scalar.length) {
    hf_mistake(parser->mistakes, node->mark, "take it out", "a zero character in a text");
    hf_node_free(node);
    return NULL;
  }
  node->text = g_strdup(value);
  switch (event->data.scalar.style) {
  case YAML_SINGLE_QUOTED_SCALAR_STYLE:
    node->style = HF_STYLE_SINGLE;
    break;
  case YAML_DOUBLE_QUOTED_SCALAR_STYLE:
    node->style = HF_STYLE_DOUBLE;
    break;
  case YAML_LITERAL_SCALAR_STYLE:
  case YAML_FOLDED_SCALAR_STYLE:
    node->style = HF_STYLE_BLOCK;
    break;
  default:
    node->style = HF_STYLE_PLAIN;
  }
  return node;
}

/* A block list or table ends where its last item ends; libyaml would say the next token. So does
 * the one pair of [key: value], which is a table without brackets. */
static void
close_node(HfParser *parser, HfNode *node, const yaml_event_t *event)
{
  char bracket = parser->source->text[node->start];
  if (node->flow && (bracket == '{' || bracket == '['))
    node->end = place_of(parser, event->end_mark.index);
  else if (node->items->len > 0)
    node->end = hf_node_item(node, node->items->len - 1)->end;
}

static HfNode *
compose_list(HfParser *parser, const yaml_event_t *start, guint depth)
{
  g_autoptr(HfNode) node = node_new(parser, HF_NODE_LIST, start);
  node->flow = start->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE;
  for (;;) {
    yaml_event_t event;
    if (!next_event(parser, &event))
      return NULL;
    if (event.type == YAML_SEQUENCE_END_EVENT) {
      close_node(parser, node, &event);
      yaml_event_delete(&event);
      return g_steal_pointer(&node);
    }
    HfNode *item = compose(parser, &event, depth + 1);
    if (item == NULL)
      return NULL;
    g_ptr_array_add(node->items, item);
  }
}

/* `? key` and `: value`: ways of YAML to write a key that only hide what is meant. */
static gboolean
is_odd_key(const HfParser *parser, const HfNode *table, const HfNode *key)
{
  const HfSource *source = parser->source;
  guint n = table->items->len;
  gsize at = n > 0 ? hf_node_item(table, n - 1)->end : table->start;
  if (n == 0 && at < key->start && source->text[at] == '{')
    at++;
  at = hf_source_next(source, at);
  if (at < source->length && source->text[at] == ',')
    at = hf_source_next(source, at + 1);
  gboolean empty = key->style == HF_STYLE_PLAIN && key->start == key->end;
  return empty || (at < key->start && source->text[at] == '?');
}

static gboolean
add_key(HfParser *parser, HfNode *table, GHashTable *seen, HfNode *key)
{
  g_ptr_array_add(table->keys, key);
  if (key->kind != HF_NODE_TEXT) {
    hf_mistake(parser->mistakes, key->mark, "write key: value", "a key that is not a plain word");
    return FALSE;
  }
  if (is_odd_key(parser, table, key)) {
    hf_mistake(parser->mistakes, key->mark, "write key: value",
               "a key that is not written plainly");
    return FALSE;
  }
  const HfNode *first = g_hash_table_lookup(seen, key->text);
  if (first != NULL) {
    g_autofree char *fix = g_strdup_printf("keep one of them (the first is in line %u, column %u)",
                                           first->mark.line, first->mark.column);
    hf_mistake(parser->mistakes, key->mark, fix, "\"%s\" stands twice", key->text);
  } else {
    g_hash_table_insert(seen, key->text, key);
  }
  return TRUE;
}

static HfNode *
compose_table(HfParser *parser, const yaml_event_t *start, guint depth)
{
  g_autoptr(HfNode) node = node_new(parser, HF_NODE_TABLE, start);
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  node->flow = start->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE;
  for (;;) {
    yaml_event_t event;
    if (!next_event(parser, &event))
      return NULL;
    if (event.type == YAML_MAPPING_END_EVENT) {
      close_node(parser, node, &event);
      yaml_event_delete(&event);
      return g_steal_pointer(&node);
    }
    HfNode *key = compose(parser, &event, depth + 1);
    if (key == NULL || !add_key(parser, node, seen, key) || !next_event(parser, &event))
      return NULL;
    HfNode *value = compose(parser, &event, depth + 1);
    if (value == NULL)
      return NULL;
    g_ptr_array_add(node->items, value);
  }
}

/* Consumes @event. */
static HfNode *
compose(HfParser *parser, yaml_event_t *event, guint depth)
{
  HfNode *node = NULL;
  HfMark mark = mark_at(parser, place_of(parser, event->start_mark.index));
  if (!refuse_extras(parser, event))
    ;
  else if (depth > HF_NODE_MAX_DEPTH)
    hf_mistake(parser->mistakes, mark, "take brackets out", "brackets within brackets too deep");
  else if (++parser->nodes > HF_NODE_MAX)
    hf_mistake(parser->mistakes, mark, "make the recipe smaller", "more than %d values",
               HF_NODE_MAX);
  else if (event->type == YAML_SCALAR_EVENT)
    node = compose_text(parser, event);
  else if (event->type == YAML_SEQUENCE_START_EVENT)
    node = compose_list(parser, event, depth);
  else if (event->type == YAML_MAPPING_START_EVENT)
    node = compose_table(parser, event, depth);
  yaml_event_delete(event);
  return node;
}

static HfNode *
compose_document(HfParser *parser)
{
  g_autoptr(HfNode) root = NULL;
  for (;;) {
    yaml_event_t event;
    if (!next_event(parser, &event))
      return NULL;
    yaml_event_type_t type = event.type;
    HfMark mark = mark_at(parser, place_of(parser, event.start_mark.index));
    gboolean value = type == YAML_SCALAR_EVENT || type == YAML_MAPPING_START_EVENT ||
                     type == YAML_SEQUENCE_START_EVENT || type == YAML_ALIAS_EVENT;
    if (value) {
      root = compose(parser, &event, 1);
      if (root == NULL)
        return NULL;
      continue;
    }
    yaml_event_delete(&event);
    if (type == YAML_DOCUMENT_START_EVENT && root != NULL) {
      hf_mistake(parser->mistakes, mark, "one file holds one recipe", "a second document");
      return NULL;
    }
    if (type == YAML_STREAM_END_EVENT)
      break;
  }
  if (root == NULL)
    hf_mistake(parser->mistakes, (HfMark){1, 1}, "holdfast new writes one to start from",
               "there is nothing in this file");
  return g_steal_pointer(&root);
}

/* libyaml would take other encodings by their first bytes: only UTF-8 is read, and no zeros. */
static gboolean
check_encoding(const HfSource *source, HfMistakes *mistakes)
{
  const char *end = NULL;
  if (source->length > HF_RECIPE_MAX_BYTES) {
    hf_mistake(mistakes, (HfMark){1, 1}, "a recipe may have 1 MiB", "this file is too large");
    return FALSE;
  }
  if (g_utf8_validate_len(source->text, source->length, &end)) {
    const char *begin = source->text + source->bom;
    const char *mark = g_strstr_len(begin, (gssize)(source->length - source->bom), "\xef\xbb\xbf");
    if (mark != NULL)
      hf_mistake(mistakes, hf_source_mark(source, (gsize)(mark - source->text)), "take it out",
                 "a byte order mark inside the text, which nobody sees");
    return mark == NULL;
  }
  gsize offset = (gsize)(end - source->text);
  hf_mistake(mistakes, hf_source_mark(source, offset), "save the file as UTF-8",
             source->text[offset] == '\0' ? "a zero byte" : "a byte that is not UTF-8");
  return FALSE;
}

HfNode *
hf_node_read(const HfSource *source, HfMistakes *mistakes)
{
  if (!check_encoding(source, mistakes))
    return NULL;
  HfParser parser = {.source = source, .mistakes = mistakes};
  const char *text = source->text + source->bom;
  gsize length = source->length - source->bom;
  if (is_json_like(source) || !is_plain_ascii(source)) {
    parser.fed = g_string_sized_new(length + 1);
    parser.places = g_array_sized_new(FALSE, FALSE, sizeof(gsize), (guint)length + 1);
    map_places(&parser);
    text = parser.fed->str;
    length = parser.fed->len;
  }
  HfNode *root = NULL;
  if (yaml_parser_initialize(&parser.yaml) == 1) {
    yaml_parser_set_encoding(&parser.yaml, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&parser.yaml, (const unsigned char *)text, length);
    root = compose_document(&parser);
    yaml_parser_delete(&parser.yaml);
  } else {
    hf_mistake(mistakes, (HfMark){1, 1}, "close other programs", "out of memory");
  }
  if (parser.fed != NULL)
    g_string_free(parser.fed, TRUE);
  g_clear_pointer(&parser.places, g_array_unref);
  return root;
}
