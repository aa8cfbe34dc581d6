/* SPDX-License-Identifier: GPL-3.0-or-later
 * answer.c - what every answer carries, and what is asked.
 */
#include "base/text.h"
#include "page/page-private.h"
#include <string.h>

enum { MOST_NESTED = 32 };

/* Nothing from elsewhere, nothing kept, nothing guessed. Source: Content Security Policy Level 3
 * (W3C), HTTP caching (RFC 9111). */
static const struct {
  const char *name, *value;
} HEAD[] = {
    {"Content-Security-Policy",
     "default-src 'self'; img-src 'self' data: blob:; base-uri 'none'; form-action 'none'; "
     "frame-ancestors 'self'; object-src 'self'"},
    {"Cache-Control", "no-store"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
};

void
hf_answer_head(SoupServerMessage *message)
{
  SoupMessageHeaders *headers = soup_server_message_get_response_headers(message);
  for (gsize i = 0; i < G_N_ELEMENTS(HEAD); i++)
    soup_message_headers_replace(headers, HEAD[i].name, HEAD[i].value);
}

void
hf_answer(SoupServerMessage *message, guint status, const char *type, GBytes *bytes)
{
  hf_answer_head(message);
  soup_message_headers_set_content_type(soup_server_message_get_response_headers(message), type,
                                        NULL);
  soup_message_body_append_bytes(soup_server_message_get_response_body(message), bytes);
  soup_server_message_set_status(message, status, NULL);
}

void
hf_answer_json(SoupServerMessage *message, guint status, HfJson *json)
{
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  hf_answer(message, status, "application/json; charset=utf-8", bytes);
}

void
hf_answer_refusal(SoupServerMessage *message, guint status, const char *what, const char *fix)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_json_line(json, "error", '{');
  hf_json_text(json, "what", what);
  hf_json_text(json, "fix", fix);
  hf_json_close(json);
  hf_json_close(json);
  hf_answer_json(message, status, json);
}

/* ---- errors -------------------------------------------------------------------------------- */

/* The line and column at the end of `boats.yaml:4:9`; 0 0: there are none. */
static HfMark
mark_of(const char *where)
{
  HfMark none = {0, 0};
  g_auto(GStrv) parts = g_strsplit(where != NULL ? where : "", ":", -1);
  guint n = g_strv_length(parts);
  guint64 line, column;
  if (n < 3 || !g_ascii_string_to_unsigned(parts[n - 2], 10, 1, G_MAXINT, &line, NULL) ||
      !g_ascii_string_to_unsigned(parts[n - 1], 10, 1, G_MAXINT, &column, NULL))
    return none;
  return (HfMark){(guint)line, (guint)column};
}

/* Only what was found: where and fix have fields of their own. Of several mistakes the first. */
static char *
what_of(const GError *error)
{
  const char *where = hf_error_where(error), *fix = hf_error_fix(error);
  g_autofree char *line = g_strdup(error->message);
  if (where != NULL && g_str_has_prefix(line, where) && strchr(line, '\n') != NULL)
    *strchr(line, '\n') = '\0';
  const char *from = line;
  gsize length = strlen(from);
  if (where != NULL && g_str_has_prefix(from, where) && length > strlen(where) + 2) {
    from += strlen(where) + 2;
    length = strlen(from);
  }
  if (fix != NULL && length > strlen(fix) + 2 && g_str_has_suffix(from, fix))
    length -= strlen(fix) + 2;
  return g_strndup(from, length);
}

void
hf_answer_write_error(HfJson *json, const char *key, const HfPage *page, const GError *error)
{
  g_autofree char *what = what_of(error), *path = NULL;
  HfMark mark = mark_of(hf_error_where(error));
  if (mark.line > 0 && page != NULL && page->document != NULL) {
    gsize length;
    const char *text = hf_document_text(page->document, &length);
    path = hf_recipe_path_at(text, length, mark);
  }
  hf_json_line(json, key, '{');
  hf_json_text(json, "what", what);
  hf_json_text(json, "fix", hf_error_fix(error));
  hf_json_text(json, "where", mark.line > 0 ? NULL : hf_error_where(error));
  hf_json_number(json, "line", mark.line > 0 ? (double)mark.line : (double)NAN, 0);
  hf_json_number(json, "column", mark.line > 0 ? (double)mark.column : (double)NAN, 0);
  hf_json_text(json, "path", path);
  hf_json_text(json, "text", error->message);
  hf_json_close(json);
}

static guint
status_of(const GError *error)
{
  if (error->domain != HF_ERROR)
    return SOUP_STATUS_BAD_REQUEST;
  switch ((HfErrorKind)error->code) {
  case HF_ERROR_NOT_FOUND:
    return SOUP_STATUS_NOT_FOUND;
  case HF_ERROR_NO_ROOM:
    return SOUP_STATUS_CONFLICT;
  case HF_ERROR_TOO_BIG:
    return SOUP_STATUS_REQUEST_ENTITY_TOO_LARGE;
  case HF_ERROR_IO:
  case HF_ERROR_BUG:
    return SOUP_STATUS_INTERNAL_SERVER_ERROR;
  case HF_ERROR_BAD_VALUE:
  case HF_ERROR_BAD_FONT:
  case HF_ERROR_CANCELLED:
    break;
  }
  return SOUP_STATUS_BAD_REQUEST;
}

void
hf_answer_error(const HfPage *page, SoupServerMessage *message, guint status, const GError *error)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_answer_write_error(json, "error", page, error);
  hf_json_close(json);
  hf_answer_json(message, status != 0 ? status : status_of(error), json);
}

/* ---- what is asked ------------------------------------------------------------------------- */

/* The library reads nested brackets by calling itself. */
static gboolean
too_deep(const char *text, gsize length)
{
  int depth = 0;
  gboolean quoted = FALSE;
  for (gsize i = 0; i < length; i++) {
    if (quoted && text[i] == '\\')
      i++;
    else if (text[i] == '"')
      quoted = !quoted;
    else if (!quoted && (text[i] == '[' || text[i] == '{') && ++depth > MOST_NESTED)
      return TRUE;
    else if (!quoted && (text[i] == ']' || text[i] == '}'))
      depth--;
  }
  return FALSE;
}

JsonObject *
hf_ask_read(const char *text, gsize length, GError **error)
{
  if (length == 0)
    return json_object_new();
  g_autoptr(JsonParser) parser = json_parser_new_immutable();
  JsonNode *root = NULL;
  if (g_utf8_validate_len(text, length, NULL) && !too_deep(text, length) &&
      json_parser_load_from_data(parser, text, (gssize)length, NULL))
    root = json_parser_get_root(parser);
  if (root != NULL && JSON_NODE_HOLDS_OBJECT(root))
    return json_node_dup_object(root);
  hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "send one JSON object", "this can't be read");
  return NULL;
}

JsonObject *
hf_ask(SoupServerMessage *message, GError **error)
{
  g_autoptr(GBytes) bytes =
      soup_message_body_flatten(soup_server_message_get_request_body(message));
  gsize length;
  const char *text = g_bytes_get_data(bytes, &length);
  return hf_ask_read(text, length, error);
}

const char *
hf_ask_text(JsonObject *ask, const char *key)
{
  JsonNode *node = json_object_get_member(ask, key);
  return node != NULL && JSON_NODE_HOLDS_VALUE(node) &&
                 json_node_get_value_type(node) == G_TYPE_STRING
             ? json_node_get_string(node)
             : NULL;
}

gboolean
hf_ask_flag(JsonObject *ask, const char *key)
{
  JsonNode *node = json_object_get_member(ask, key);
  return node != NULL && JSON_NODE_HOLDS_VALUE(node) &&
         json_node_get_value_type(node) == G_TYPE_BOOLEAN && json_node_get_boolean(node);
}
