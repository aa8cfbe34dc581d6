/* SPDX-License-Identifier: GPL-3.0-or-later
 * seen.c - one pass over the characters; a table says which are not shown as they are.
 */
#include "base/seen.h"
#include <limits.h>
#include <string.h>

/* Marks of direction and separators of lines. Source: Unicode, PropList.txt, Bidi_Control, and the
 * characters U+2028, U+2029. */
static const struct {
  gunichar from, to;
} HIDDEN[] = {{0x061c, 0x061c}, {0x200e, 0x200f}, {0x2028, 0x202e}, {0x2066, 0x2069}};

gboolean
hf_seen_is_obeyed(gunichar c)
{
  if (c < 0x20 || (c >= 0x7f && c < 0xa0))
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS(HIDDEN); i++)
    if (c >= HIDDEN[i].from && c <= HIDDEN[i].to)
      return TRUE;
  return FALSE;
}

static void
append_seen(GString *out, gunichar c, gboolean lines)
{
  if (c == '\t')
    g_string_append_c(out, ' ');
  else if (!hf_seen_is_obeyed(c) || (lines && c == '\n'))
    g_string_append_unichar(out, c);
  else
    g_string_append_printf(out, "<U+%04X>", c);
}

/* A quotation mark that a quoted value may begin with; of `12" sign` it is none. */
static gboolean
may_begin(const char *text, const char *at)
{
  return at == text || strchr(" (\n[{:", at[-1]) != NULL;
}

/* @quoted: at most so many characters between double quotes, or without a space; @most: in all. */
static char *
seen(const char *text, gboolean lines, guint quoted, guint most)
{
  GString *out = g_string_new(NULL);
  guint shown = 0, in_piece = 0;
  gboolean open = FALSE;
  for (const char *at = text; *at != '\0';) {
    gunichar c = g_utf8_get_char_validated(at, -1);
    gboolean broken = c == (gunichar)-1 || c == (gunichar)-2;
    if (shown++ == most) {
      g_string_append(out, "…");
      break;
    }
    if (c == '"' || c == '\n') {
      open = c == '"' && !open && may_begin(text, at);
      in_piece = 0;
    } else if (!open && c == ' ') {
      in_piece = 0;
    } else if (in_piece++ == quoted) {
      g_string_append(out, "…");
    }
    if (in_piece <= quoted) {
      if (broken)
        g_string_append_printf(out, "<%02X>", (guchar)*at);
      else
        append_seen(out, c, lines);
    }
    at = broken ? at + 1 : g_utf8_next_char(at);
  }
  return g_string_free(out, FALSE);
}

char *
hf_seen(const char *text, gboolean lines)
{
  return text != NULL ? seen(text, lines, G_MAXUINT, G_MAXUINT) : NULL;
}

char *
hf_seen_message(const char *text, gboolean lines)
{
  return text != NULL ? seen(text, lines, HF_SEEN_QUOTED, HF_SEEN_MESSAGE) : NULL;
}

char *
hf_seen_value(const char *text)
{
  return seen(text, FALSE, G_MAXUINT, 40);
}

char *
hf_seen_place(const char *path)
{
  if (path == NULL)
    return NULL;
  g_auto(GStrv) names = g_strsplit(path, "/", -1);
  for (guint i = 0; names[i] != NULL; i++) {
    g_autofree char *name = names[i];
    names[i] = seen(name, FALSE, G_MAXUINT, strlen(name) > NAME_MAX ? HF_SEEN_QUOTED : G_MAXUINT);
  }
  return g_strjoinv("/", names);
}

gboolean
hf_seen_is_blank(const char *text)
{
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char(at)) {
    gunichar c = g_utf8_get_char(at);
    GUnicodeType type = g_unichar_type(c);
    gboolean none = g_unichar_isspace(c) || hf_seen_is_obeyed(c) || g_unichar_iszerowidth(c) ||
                    type == G_UNICODE_FORMAT || type == G_UNICODE_CONTROL ||
                    type == G_UNICODE_SPACE_SEPARATOR || c == 0x2800 || c == 0x3164 ||
                    c == 0x115f || c == 0x1160 || c == 0xffa0;
    if (!none)
      return FALSE;
  }
  return TRUE;
}
