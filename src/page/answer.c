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
  g_autofree char *what = what_of(error);
  HfMark mark = mark_of(hf_error_where(error));
  const HfReading *reading = hf_reader_reading(page->reader);
  gboolean known = reading != NULL && reading->revision == page->revision;
  const char *path = known && mark.line > 0 ? hf_places_at(reading->places, mark) : NULL;
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

/* What the library makes of JSON it makes by calling itself, and by reading what is none: remarks,
 * quotes of another kind (RFC 8259 knows neither), half a character. All that is sorted out here.
 */
typedef enum { FINE, NO_JSON, TOO_DEEP, NO_TEXT } Fault;

/* The four digits behind `\u`; -1: there are none. */
static int
escaped_unit(const char *at, const char *end)
{
  int unit = 0;
  if (end - at < 6 || at[0] != '\\' || at[1] != 'u')
    return -1;
  for (int i = 2; i < 6; i++) {
    if (!g_ascii_isxdigit(at[i]))
      return -1;
    unit = 16 * unit + g_ascii_xdigit_value(at[i]);
  }
  return unit;
}

/* The place behind the escape at @at; %NULL: it is no character of a text: U+0000, or half a pair
 * (Unicode 15, 23.6; RFC 8259, 8.2). */
static const char *
skip_escape(const char *at, const char *end)
{
  if (end - at < 2)
    return NULL;
  if (at[1] != 'u')
    return at + 2;
  int unit = escaped_unit(at, end);
  if (unit <= 0 || (unit >= 0xdc00 && unit < 0xe000))
    return NULL;
  if (unit < 0xd800 || unit >= 0xe000)
    return at + 6;
  int other = escaped_unit(at + 6, end);
  return other >= 0xdc00 && other < 0xe000 ? at + 12 : NULL;
}

/* Past the quote that ends the text which begins at @at; %NULL as skip_escape(). */
static const char *
skip_text(const char *at, const char *end)
{
  while (at != NULL && at < end && *at != '"')
    at = *at == '\\' ? skip_escape(at, end) : at + 1;
  return at != NULL && at < end ? at + 1 : at;
}

static Fault
fault_of(const char *text, gsize length)
{
  int depth = 0;
  const char *end = text + length;
  for (const char *at = text; at != NULL && at < end;) {
    if (*at == '"') {
      at = skip_text(at + 1, end);
      if (at == NULL)
        return NO_TEXT;
      continue;
    }
    if (strchr("'/#\\", *at) != NULL) /* also NUL */
      return NO_JSON;
    if (*at == '[' || *at == '{')
      depth++;
    if (*at == ']' || *at == '}')
      depth--;
    if (depth > MOST_NESTED)
      return TOO_DEEP;
    at++;
  }
  return FINE;
}

JsonObject *
hf_ask_read(const char *text, gsize length, GError **error)
{
  if (length == 0)
    return json_object_new();
  g_autoptr(JsonParser) parser = json_parser_new_immutable();
  JsonNode *root = NULL;
  Fault fault = g_utf8_validate_len(text, length, NULL) ? fault_of(text, length) : NO_JSON;
  if (fault == NO_TEXT) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "send the text itself, in UTF-8",
                 "an escape in it is no character: U+0000, or half of a surrogate pair");
    return NULL;
  }
  if (fault == FINE && json_parser_load_from_data(parser, text, (gssize)length, NULL))
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
