/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-name.c - what a piece is called: its title, else its id, else how many of its kind came
 * before it.
 */
#include "base/text.h"
#include "drawing/svg-private.h"
#include <string.h>

#define LONGEST_NAME 60 /* characters */

/* Ids may be anything: only what people can say and type is kept. */
static char *
tidy(const char *text)
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

const char *
hf_svg_title(HfSvg *svg, const HfXmlNode *node)
{
  for (const HfXmlNode *child = node->first; child != NULL; child = child->next)
    if (strcmp(child->name, "title") == 0 && child->text != NULL) {
      g_autofree char *title = tidy(child->text->str);
      return *title == '\0' ? NULL : g_string_chunk_insert_const(svg->xml->strings, title);
    }
  return NULL;
}

static const char *
word_for(const char *element)
{
  static const char *const words[][2] = {
      {"rect", "rectangle"}, {"polyline", "line"}, {"polygon", "polygon"}};
  for (guint i = 0; i < G_N_ELEMENTS(words); i++)
    if (strcmp(element, words[i][0]) == 0)
      return words[i][1];
  return element;
}

char *
hf_svg_say(HfSvg *svg, const HfXmlNode *node, const HfSvgName *names)
{
  const char *word = word_for(node->name);
  guint n = 1 + GPOINTER_TO_UINT(g_hash_table_lookup(svg->counts, word));
  g_hash_table_insert(svg->counts, (gpointer)word, GUINT_TO_POINTER(n));
  const char *own = names == NULL ? NULL : names->title != NULL ? names->title : names->id;
  if (own != NULL) {
    g_autofree char *name = tidy(own);
    if (*name != '\0')
      return g_strdup_printf("%s \"%s\"", word, name);
  }
  g_autofree char *nth = hf_text_ordinal(n);
  return g_strdup_printf("%s %s", nth, word);
}

static void
add_name(GPtrArray *to, const char *name)
{
  g_autofree char *own = name == NULL ? NULL : tidy(name);
  if (own != NULL && *own != '\0')
    g_ptr_array_add(to, g_steal_pointer(&own));
}

GPtrArray *
hf_svg_called(const HfSvgName *names)
{
  GPtrArray *called = g_ptr_array_new_with_free_func(g_free);
  for (; names != NULL; names = names->outer) {
    add_name(called, names->title);
    add_name(called, names->id);
  }
  return called;
}
