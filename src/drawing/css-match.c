/* SPDX-License-Identifier: GPL-3.0-or-later
 * css-match.c - which rules are about an element: Selectors 3.
 */
#include "drawing/css-private.h"
#include <string.h>

#define MOST_STEPS 20000000

/* Is @word one of the words of @text? */
static gboolean
has_word(const char *text, const char *word)
{
  gsize length = strlen(word);
  for (const char *p = text; length > 0 && (p = strstr(p, word)) != NULL; p += length) {
    gboolean begins = p == text || g_ascii_isspace(p[-1]);
    if (begins && (p[length] == '\0' || g_ascii_isspace(p[length])))
      return TRUE;
  }
  return FALSE;
}

static gboolean
attribute_is(const HfXmlNode *node, const HfCssTest *test)
{
  const char *is = hf_xml_get(node, test->name), *value = test->value;
  if (is == NULL)
    return FALSE;
  gsize length = value == NULL ? 0 : strlen(value);
  switch (test->kind) {
  case HF_CSS_HAS:
    return TRUE;
  case HF_CSS_EQUALS:
    return strcmp(is, value) == 0;
  case HF_CSS_HAS_WORD:
    return has_word(is, value);
  case HF_CSS_HAS_PREFIX:
    return strncmp(is, value, length) == 0 && (is[length] == '\0' || is[length] == '-');
  case HF_CSS_BEGINS:
    return length > 0 && g_str_has_prefix(is, value);
  case HF_CSS_ENDS:
    return length > 0 && g_str_has_suffix(is, value);
  case HF_CSS_HOLDS:
    return length > 0 && strstr(is, value) != NULL;
  default:
    return FALSE;
  }
}

static const HfXmlNode *
before(const HfXmlNode *node)
{
  const HfXmlNode *last = NULL;
  if (node->parent != NULL)
    for (const HfXmlNode *n = node->parent->first; n != node; n = n->next)
      last = n;
  return last;
}

static gboolean
passes(const HfXmlNode *node, const HfCssTest *test)
{
  const char *text;
  switch (test->kind) {
  case HF_CSS_TYPE:
    return strcmp(node->name, test->name) == 0;
  case HF_CSS_ID:
    text = hf_xml_get(node, "id");
    return text != NULL && strcmp(text, test->name) == 0;
  case HF_CSS_CLASS:
    text = hf_xml_get(node, "class");
    return text != NULL && has_word(text, test->name);
  case HF_CSS_FIRST_CHILD:
    return node->parent != NULL && node->parent->first == node;
  case HF_CSS_LAST_CHILD:
    return node->parent != NULL && node->parent->last == node;
  case HF_CSS_ROOT:
    return node->parent == NULL;
  case HF_CSS_NEVER:
    return FALSE;
  default:
    return attribute_is(node, test);
  }
}

static gboolean
compound_passes(const HfXmlNode *node, const HfCssCompound *compound)
{
  for (guint i = 0; i < compound->tests->len; i++)
    if (!passes(node, &g_array_index(compound->tests, HfCssTest, i)))
      return FALSE;
  return TRUE;
}

/* Does @node pass compound @at, and what stands around it those left of it? */
static gboolean
matches(HfCssSheet *sheet, const HfXmlNode *node, const HfCssSelector *selector, guint at)
{
  const HfCssCompound *compound = &g_array_index(selector->compounds, HfCssCompound, at);
  if (++sheet->tried > MOST_STEPS || !compound_passes(node, compound))
    return FALSE;
  gboolean sideways = compound->hangs == '+' || compound->hangs == '~';
  if (at + 1 == selector->compounds->len)
    return TRUE;
  for (const HfXmlNode *n = sideways ? before(node) : node->parent; n != NULL;
       n = sideways ? before(n) : n->parent) {
    if (matches(sheet, n, selector, at + 1))
      return TRUE;
    if (compound->hangs == '>' || compound->hangs == '+')
      return FALSE;
  }
  return FALSE;
}

static void
match_bucket(HfCssSheet *sheet, const char *key, const HfXmlNode *node, HfCssFound found,
             gpointer data)
{
  const GPtrArray *bucket = (const GPtrArray *)g_hash_table_lookup(sheet->buckets, key);
  for (guint i = 0; bucket != NULL && i < bucket->len; i++) {
    const HfCssSelector *selector = (const HfCssSelector *)g_ptr_array_index(bucket, i);
    if (matches(sheet, node, selector, 0))
      found(selector->declarations, selector->special << 20 | selector->order, data);
  }
}

void
hf_css_match(HfCssSheet *sheet, const HfXmlNode *node, HfCssFound found, gpointer data)
{
  if (sheet->n_rules == 0)
    return;
  match_bucket(sheet, "*", node, found, data);
  match_bucket(sheet, node->name, node, found, data);
  const char *id = hf_xml_get(node, "id"), *classes = hf_xml_get(node, "class");
  if (id != NULL) {
    g_autofree char *key = g_strconcat("#", id, NULL);
    match_bucket(sheet, key, node, found, data);
  }
  if (classes == NULL)
    return;
  g_auto(GStrv) words = g_strsplit_set(classes, " \t\r\n\f", 200);
  for (guint i = 0; words[i] != NULL; i++) {
    if (*words[i] == '\0' || g_strv_contains((const char *const *)words + i + 1, words[i]))
      continue;
    g_autofree char *key = g_strconcat(".", words[i], NULL);
    match_bucket(sheet, key, node, found, data);
  }
}
