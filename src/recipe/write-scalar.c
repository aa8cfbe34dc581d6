/* SPDX-License-Identifier: GPL-3.0-or-later
 * Writing values so that they read back as what they are: plain where possible, else in quotes.
 */
#include "recipe/edit-private.h"
#include <string.h>

static gboolean
is_value(const HfNode *node, const char *value)
{
  return node != NULL && node->kind == HF_NODE_TEXT && node->style == HF_STYLE_PLAIN &&
         strcmp(node->text, value) == 0 && !hf_node_is_empty(node);
}

/* Whether @text reads as: k is @value, l is a list of two @values, m is 1. */
static gboolean
reads_back(const char *text, const char *value)
{
  HfSource source;
  HfMistakes mistakes;
  hf_source_init(&source, text, strlen(text));
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) root = hf_node_read(&source, &mistakes);
  gboolean good = mistakes.total == 0;
  const HfNode *list = good ? hf_node_get(root, "l") : NULL;
  good = good && is_value(hf_node_get(root, "k"), value) && list != NULL &&
         list->kind == HF_NODE_LIST && hf_node_size(list) == 2 &&
         is_value(hf_node_item(list, 0), value) && is_value(hf_node_item(list, 1), value) &&
         is_value(hf_node_get(root, "m"), "1");
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
  return good;
}

/* Tried in each place where the value may come to stand: as a value and as an item, before a
 * remark, a space, a bracket and a line break. */
static gboolean
is_plain(const char *value, HfContext context)
{
  if (value[0] == '\0' || strpbrk(value, "\n\r") != NULL)
    return FALSE;
  g_autofree char *text =
      context == HF_IN_FLOW
          ? g_strdup_printf("{k: %s # r\n, l: [%s , %s], m: 1}", value, value, value)
          : g_strdup_printf("k: %s # r\nl:\n- %s # r\n- %s\nm: 1\n", value, value, value);
  return reads_back(text, value);
}

/* What JSON writes without quotes. */
static gboolean
is_json_word(const char *value)
{
  if (strcmp(value, "true") == 0 || strcmp(value, "false") == 0)
    return TRUE;
  const char *at = value;
  if (*at == '-')
    at++;
  if (!g_ascii_isdigit(*at) || (*at == '0' && g_ascii_isdigit(at[1])))
    return FALSE;
  while (g_ascii_isdigit(*at))
    at++;
  if (*at == '.' && g_ascii_isdigit(at[1]))
    for (at++; g_ascii_isdigit(*at);)
      at++;
  return *at == '\0';
}

/* These escapes are the same in YAML and JSON. */
char *
hf_write_quoted(const char *value)
{
  g_autoptr(GString) out = g_string_new("\"");
  for (const char *at = value; *at != '\0'; at = g_utf8_next_char(at)) {
    gunichar c = g_utf8_get_char(at);
    if (c == '"' || c == '\\')
      g_string_append_printf(out, "\\%c", (char)c);
    else if (c == '\n')
      g_string_append(out, "\\n");
    else if (c == '\t')
      g_string_append(out, "\\t");
    else if (c < 0x20 || (c >= 0x7f && c < 0xa0) || c == 0x2028 || c == 0x2029 || c == 0xfeff ||
             c == 0xfffe || c == 0xffff)
      g_string_append_printf(out, "\\u%04x", c);
    else
      g_string_append_unichar(out, c);
  }
  g_string_append_c(out, '"');
  return g_string_free(g_steal_pointer(&out), FALSE);
}

static gboolean
fits_single_quotes(const char *value)
{
  for (; *value != '\0'; value = g_utf8_next_char(value)) {
    gunichar c = g_utf8_get_char(value);
    if (c < 0x20 || (c >= 0x7f && c < 0xa0) || c == 0x2028 || c == 0x2029 || c >= 0xfe00)
      return FALSE;
  }
  return TRUE;
}

static char *
in_single_quotes(const char *value)
{
  g_auto(GStrv) parts = g_strsplit(value, "'", -1);
  g_autofree char *twice = g_strjoinv("''", parts);
  return g_strconcat("'", twice, "'", NULL);
}

char *
hf_write_text(const char *value, HfContext context, const HfNode *like, gboolean json)
{
  gboolean text = like != NULL && like->kind == HF_NODE_TEXT;
  if (text && like->style == HF_STYLE_DOUBLE)
    return hf_write_quoted(value);
  if (json)
    return is_json_word(value) ? g_strdup(value) : hf_write_quoted(value);
  if (text && like->style == HF_STYLE_SINGLE && fits_single_quotes(value))
    return in_single_quotes(value);
  return is_plain(value, context) ? g_strdup(value) : hf_write_quoted(value);
}

static void
append_flow(GString *out, const HfNode *node, gboolean json)
{
  if (node->kind == HF_NODE_TEXT) {
    g_autofree char *text = hf_node_is_empty(node)
                                ? g_strdup("null")
                                : hf_write_text(node->text, HF_IN_FLOW, node, json);
    g_string_append(out, text);
    return;
  }
  g_string_append_c(out, node->kind == HF_NODE_LIST ? '[' : '{');
  for (guint i = 0; i < hf_node_size(node); i++) {
    if (i > 0)
      g_string_append(out, ", ");
    if (node->kind == HF_NODE_TABLE) {
      const HfNode *key = hf_node_key(node, i);
      g_autofree char *text =
          json ? hf_write_quoted(key->text) : hf_write_text(key->text, HF_IN_FLOW, key, FALSE);
      g_string_append_printf(out, "%s: ", text);
    }
    append_flow(out, hf_node_item(node, i), json);
  }
  g_string_append_c(out, node->kind == HF_NODE_LIST ? ']' : '}');
}

char *
hf_write_flow(const HfNode *node, gboolean json)
{
  g_autoptr(GString) out = g_string_new(NULL);
  append_flow(out, node, json);
  return g_string_free(g_steal_pointer(&out), FALSE);
}
