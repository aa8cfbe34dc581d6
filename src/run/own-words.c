/* SPDX-License-Identifier: GPL-3.0-or-later
 * own-words.c - a program without what can't be read of it, line for line.
 *
 *      M62 P1        (the table's own word)       unknown to the language of docs/program.md, and
 *      M3 $0    ──>  M3                           said by the shop file
 *      G1 X10        G1 X10                       all else stays
 */
#include "program/program.h"
#include "run/own-words-private.h"
#include <string.h>

#define NOTHING "(the table's own word)"

/* Is the line one that can be read? */
static gboolean
is_read(const char *line)
{
  g_autofree char *text = g_strdup_printf("G21 G90 F1000\n%s\nM2\n", line);
  g_autoptr(HfProgram) program = hf_program_read("line", text, strlen(text), NULL, NULL);
  return program != NULL;
}

/* What stands for each unreadable line; keys and values borrowed from @shop, or static. */
static void
add_line(GHashTable *known, const char *line, const char *instead)
{
  if (line != NULL && !is_read(line))
    g_hash_table_insert(known, (gpointer)line, (gpointer)instead);
}

static GHashTable *
known_of(const HfShop *shop)
{
  GHashTable *known = g_hash_table_new(g_str_hash, g_str_equal);
  const GPtrArray *lists[] = {shop->before, shop->after};
  for (guint l = 0; l < G_N_ELEMENTS(lists); l++)
    for (guint i = 0; lists[l] != NULL && i < lists[l]->len; i++)
      add_line(known, lists[l]->pdata[i], NOTHING);
  add_line(known, shop->height_held, NOTHING);
  add_line(known, shop->height_free, NOTHING);
  add_line(known, shop->arc_on, "M3");
  add_line(known, shop->arc_off, "M5");
  return known;
}

char *
hf_own_words_out(const HfShop *shop, const char *text, guint *ret_lines)
{
  g_autoptr(GHashTable) known = known_of(shop);
  *ret_lines = 0;
  if (g_hash_table_size(known) == 0)
    return g_strdup(text);
  GString *out = g_string_sized_new(strlen(text));
  for (const char *at = text; *at != '\0';) {
    gsize n = strcspn(at, "\r\n");
    g_autofree char *line = g_strndup(at, n);
    const char *instead = g_hash_table_lookup(known, g_strstrip(line));
    if (instead != NULL)
      g_string_append(out, instead);
    else
      g_string_append_len(out, at, (gssize)n);
    *ret_lines += instead != NULL;
    at += n;
    gsize end = strspn(at, "\r\n");
    g_string_append_len(out, at, (gssize)end);
    at += end;
  }
  return g_string_free(out, FALSE);
}
