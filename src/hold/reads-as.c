/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-as.c - what a letter reads like when its marks are gone: `u` where `ü` was ordered.
 *
 * Marks are what Unicode's canonical decomposition takes off a letter (Unicode Standard, section
 * 3.7; GLib has the table). i and j have a dot that is no mark of Unicode's; without it they read
 * as the dotless letters.
 */
#include "hold/ink-private.h"
#include <string.h>

char *
hf_reads_letter(const HfShape *shape)
{
  static const char *const begins[] = {"letter '", "initial '"};
  for (guint i = 0; i < G_N_ELEMENTS(begins); i++) {
    const char *at = strstr(shape->label, begins[i]);
    if (at == NULL)
      continue;
    at += strlen(begins[i]);
    const char *end = strchr(g_utf8_next_char(at), '\'');
    return end != NULL ? g_strndup(at, (gsize)(end - at)) : g_strdup(at);
  }
  return g_strdup("");
}

static const struct {
  gunichar dotted, plain;
} dotless[] = {{'i', 0x131}, {'j', 0x237}, {0x456, 0x131}, {0x458, 0x237}, {0x12f, 0x131}};

static gunichar
without_dot(gunichar letter)
{
  for (guint i = 0; i < G_N_ELEMENTS(dotless); i++)
    if (dotless[i].dotted == letter)
      return dotless[i].plain;
  return letter;
}

/* The bare letter under all marks. */
static gunichar
bare(gunichar letter)
{
  gunichar base, mark;
  while (g_unichar_decompose(letter, &base, &mark) && mark != 0 && base != 0)
    letter = base;
  return letter;
}

char *
hf_reads_without_marks(const char *letter, guint pieces)
{
  if (pieces < 2 || !g_utf8_validate(letter, -1, NULL) || letter[0] == '\0')
    return NULL;
  gunichar first = g_utf8_get_char(letter);
  if (!g_unichar_isalpha(first))
    return NULL;
  for (const char *at = g_utf8_next_char(letter); *at != '\0'; at = g_utf8_next_char(at))
    if (!g_unichar_ismark(g_utf8_get_char(at)))
      return NULL;
  gunichar reads = without_dot(bare(first));
  gboolean marked = reads != first || *g_utf8_next_char(letter) != '\0';
  if (!marked)
    return NULL;
  char utf8[7] = {0};
  utf8[g_unichar_to_utf8(reads, utf8)] = '\0';
  return g_strdup(utf8);
}
