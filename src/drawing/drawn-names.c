/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawn-names.c - names out of a file as people can say and type them.
 */
#include "base/text.h"
#include "drawing/drawing-private.h"

#define LONGEST_NAME 60 /* characters */

/* Ids may be anything: only what people can say and type is kept. */
char *
hf_drawing_tidy(const char *text)
{
  g_autofree char *valid = g_utf8_make_valid(text, -1);
  GString *out = g_string_new(NULL);
  glong n = 0;
  for (const char *p = valid; *p != '\0' && n < LONGEST_NAME; p = g_utf8_next_char(p)) {
    gunichar c = g_utf8_get_char(p);
    gboolean plain = g_unichar_isprint(c) && c != '"' && !g_unichar_isspace(c);
    if (!plain && (out->len == 0 || out->str[out->len - 1] == ' '))
      continue;
    if (plain)
      g_string_append_unichar(out, c);
    else
      g_string_append_c(out, ' ');
    n++;
  }
  return g_strchomp(g_string_free(out, FALSE));
}

char *
hf_drawing_letter_name(const char *letter, guint nth, const char *text)
{
  g_autofree char *plain = hf_drawing_tidy(letter), *ordinal = hf_text_ordinal(nth);
  return g_strdup_printf("the %s%s\"%s\" in text \"%s\"", nth > 0 ? ordinal : "",
                         nth > 0 ? " " : "", plain, text);
}
