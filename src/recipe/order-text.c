/* SPDX-License-Identifier: GPL-3.0-or-later
 * order-text.c - the recipe of a drawing by itself.
 */
#include "recipe/edit-private.h"
#include "recipe/order.h"
#include "recipe/recipe.h"
#include <string.h>

/* Its options: as the command has them, and as the recipe does. */
static const struct {
  const char *option, *key;
  gsize at;
} rows[] = {
    {"metal", NULL, offsetof(HfOrder, metal)},
    {"thickness", NULL, offsetof(HfOrder, thickness)},
    {"kerf", NULL, offsetof(HfOrder, kerf)},
    {"width", "width", offsetof(HfOrder, width)},
    {"height", "height", offsetof(HfOrder, height)},
    {"unit", "unit", offsetof(HfOrder, unit)},
    {"piece", "piece", offsetof(HfOrder, piece)},
    {"font", "font", offsetof(HfOrder, font)},
    {"page", "page", offsetof(HfOrder, page)},
    {"white", "white is", offsetof(HfOrder, white)},
};

static char **
said_at(const HfOrder *order, gsize row)
{
  return (char **)(gpointer)((char *)(gpointer)order + rows[row].at);
}

void
hf_order_clear(HfOrder *order)
{
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
    g_clear_pointer(said_at(order, i), g_free);
}

const char *
hf_order_first(const HfOrder *order)
{
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
    if (*said_at(order, i) != NULL)
      return rows[i].option;
  return NULL;
}

char *
hf_order_words(const HfOrder *order)
{
  GString *words = g_string_new(NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    const char *said = *said_at(order, i);
    g_autofree char *quoted = said != NULL ? g_shell_quote(said) : NULL;
    if (said != NULL)
      g_string_append_printf(words, " --%s %s", rows[i].option, quoted);
  }
  return g_string_free(words, FALSE);
}

/* `, key: value` within braces */
static void
append(GString *text, const char *key, const char *value)
{
  if (value == NULL)
    return;
  g_autofree char *written = hf_write_text(value, HF_IN_FLOW, NULL, FALSE);
  if (text->str[text->len - 1] != '{')
    g_string_append(text, ", ");
  g_string_append_printf(text, "%s: %s", key, written);
}

/* A name that is good for an entry: else findings call it the drawing. */
static gboolean
is_plain_name(const char *name)
{
  for (const char *p = name; *p != '\0'; p++)
    if (!g_ascii_isalnum(*p) && strchr("-_ ", *p) == NULL)
      return FALSE;
  return g_ascii_isalpha(name[0]) && !g_str_has_suffix(name, " ");
}

char *
hf_order_text(const HfOrder *order, const char *file, const char *remark)
{
  g_autofree char *name = hf_recipe_name_of(file);
  GString *text = g_string_new(NULL);
  g_auto(GStrv) lines = g_strsplit(remark != NULL ? remark : "", "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    g_string_append_printf(text, "# %s\n", lines[i]);
  g_string_append(text, "holdfast: 1\nmetal: {");
  append(text, "kind", order->metal);
  append(text, "thickness", order->thickness);
  g_string_append(text, "}\n");
  if (order->kerf != NULL) {
    g_string_append(text, "process: {");
    append(text, "kerf", order->kerf);
    g_string_append(text, "}\n");
  }
  g_string_append(text, "entries:\n  - drawing: {");
  append(text, "name", is_plain_name(name) ? name : NULL);
  append(text, "file", file);
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
    if (rows[i].key != NULL)
      append(text, rows[i].key, *said_at(order, i));
  g_string_append(text, "}\n");
  return g_string_free(text, FALSE);
}
