/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-name.c - what a piece is called: its title, else its id, else how many of its kind came
 * before it.
 */
#include "base/text.h"
#include "drawing/svg-private.h"
#include <string.h>

const char *
hf_svg_title(HfSvg *svg, const HfXmlNode *node)
{
  for (const HfXmlNode *child = node->first; child != NULL; child = child->next)
    if (strcmp(child->name, "title") == 0 && child->text != NULL) {
      g_autofree char *title = hf_drawing_tidy(child->text->str);
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
    g_autofree char *name = hf_drawing_tidy(own);
    if (*name != '\0')
      return g_strdup_printf("%s \"%s\"", word, name);
  }
  g_autofree char *nth = hf_text_ordinal(n);
  return g_strdup_printf("%s %s", nth, word);
}

static void
add_name(GPtrArray *to, const char *name)
{
  g_autofree char *own = name == NULL ? NULL : hf_drawing_tidy(name);
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
