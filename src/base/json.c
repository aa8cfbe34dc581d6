/* SPDX-License-Identifier: GPL-3.0-or-later
 * json.c - a stack of open brackets and one growing text.
 */
#include "base/json.h"
#include "base/seen.h"
#include "base/text.h"
#include <math.h>
#include <string.h>

enum { DEEPEST = 32 };

struct HfJson {
  GString *text;
  guint depth;
  guint line_depth; /* brackets from this one on share a line; 0: none does */
  char closing[DEEPEST + 1];
  gboolean empty[DEEPEST + 1]; /* nothing in the bracket of that depth yet */
};

HfJson *
hf_json_new(void)
{
  HfJson *json = g_new0(HfJson, 1);
  json->text = g_string_sized_new(16384);
  json->empty[0] = TRUE;
  return json;
}

void
hf_json_free(HfJson *json)
{
  if (json == NULL)
    return;
  g_string_free(json->text, TRUE);
  g_free(json);
}

static gboolean
on_one_line(const HfJson *json)
{
  return json->line_depth != 0 && json->depth >= json->line_depth;
}

static void
break_line(HfJson *json)
{
  g_string_append_c(json->text, '\n');
  for (guint i = 0; i < json->depth; i++)
    g_string_append(json->text, "  ");
}

/* RFC 8259 section 7: quotation mark, reverse solidus and U+0000 to U+001F are escaped; here also
 * what a terminal obeys or what turns its neighbours: all of them, in the Basic Multilingual Plane.
 */
static void
append_quoted(GString *text, const char *value)
{
  g_autofree char *made = g_utf8_validate(value, -1, NULL) ? NULL : g_utf8_make_valid(value, -1);
  g_string_append_c(text, '"');
  for (const char *at = made != NULL ? made : value; *at != '\0'; at = g_utf8_next_char(at)) {
    gunichar c = g_utf8_get_char(at);
    if (c == '"' || c == '\\')
      g_string_append_c(text, '\\');
    if (c == '\n')
      g_string_append(text, "\\n");
    else if (c == '\t')
      g_string_append(text, "\\t");
    else if (hf_seen_is_obeyed(c))
      g_string_append_printf(text, "\\u%04x", c);
    else
      g_string_append_unichar(text, c);
  }
  g_string_append_c(text, '"');
}

/* What stands before every value: comma, line break, key. */
static void
begin_value(HfJson *json, const char *key)
{
  g_assert((key != NULL) == (json->depth > 0 && json->closing[json->depth] == '}'));
  if (!json->empty[json->depth])
    g_string_append(json->text, on_one_line(json) ? ", " : ",");
  json->empty[json->depth] = FALSE;
  if (json->depth > 0 && !on_one_line(json))
    break_line(json);
  if (key == NULL)
    return;
  append_quoted(json->text, key);
  g_string_append(json->text, ": ");
}

void
hf_json_open(HfJson *json, const char *key, char bracket)
{
  g_assert(bracket == '{' || bracket == '[');
  g_assert(json->depth < DEEPEST);
  begin_value(json, key);
  g_string_append_c(json->text, bracket);
  json->depth++;
  json->closing[json->depth] = bracket == '{' ? '}' : ']';
  json->empty[json->depth] = TRUE;
}

void
hf_json_line(HfJson *json, const char *key, char bracket)
{
  hf_json_open(json, key, bracket);
  if (json->line_depth == 0)
    json->line_depth = json->depth;
}

void
hf_json_close(HfJson *json)
{
  g_assert(json->depth > 0);
  gboolean broken = !on_one_line(json) && !json->empty[json->depth];
  char closing = json->closing[json->depth];
  if (json->line_depth == json->depth)
    json->line_depth = 0;
  json->depth--;
  if (broken)
    break_line(json);
  g_string_append_c(json->text, closing);
}

void
hf_json_text(HfJson *json, const char *key, const char *value)
{
  begin_value(json, key);
  if (value == NULL)
    g_string_append(json->text, "null");
  else
    append_quoted(json->text, value);
}

void
hf_json_number(HfJson *json, const char *key, double value, int decimals)
{
  begin_value(json, key);
  if (isfinite(value))
    hf_text_append(json->text, value, decimals);
  else
    g_string_append(json->text, "null");
}

void
hf_json_bool(HfJson *json, const char *key, gboolean value)
{
  begin_value(json, key);
  g_string_append(json->text, value ? "true" : "false");
}

void
hf_json_raw(HfJson *json, const char *key, const char *value, gsize length)
{
  begin_value(json, key);
  g_string_append_len(json->text, value, (gssize)length);
}

void
hf_json_members(HfJson *json, const char *members, gsize length)
{
  g_assert(json->depth > 0 && json->closing[json->depth] == '}' && length > 0);
  if (!json->empty[json->depth])
    g_string_append(json->text, on_one_line(json) ? ", " : ",");
  json->empty[json->depth] = FALSE;
  if (!on_one_line(json))
    break_line(json);
  g_string_append_len(json->text, members, (gssize)length);
}

GBytes *
hf_json_finish(HfJson *json)
{
  g_assert(json->depth == 0);
  g_string_append_c(json->text, '\n');
  GBytes *bytes = g_bytes_new(json->text->str, json->text->len);
  g_string_truncate(json->text, 0);
  json->empty[0] = TRUE;
  return bytes;
}
