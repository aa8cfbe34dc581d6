/* SPDX-License-Identifier: GPL-3.0-or-later
 * wishes.c - the outputs in words: which may be asked for, and what is made unasked.
 */
#include "base/text.h"
#include "out/format.h"
#include "run/job.h"
#include <string.h>

const char **
hf_wish_words(void)
{
  g_autoptr(GPtrArray) words = g_ptr_array_new();
  for (guint i = 0; hf_format(i) != NULL; i++) {
    const char *word = hf_format(i)->option;
    if (word != NULL && !g_ptr_array_find_with_equal_func(words, word, g_str_equal, NULL))
      g_ptr_array_add(words, (gpointer)word);
  }
  g_ptr_array_add(words, NULL);
  return (const char **)g_ptr_array_free(g_steal_pointer(&words), FALSE);
}

gboolean
hf_wish_also(HfWishes *wishes, const char *word)
{
  gboolean found = FALSE;
  for (guint i = 0; hf_format(i) != NULL; i++)
    if (g_strcmp0(hf_format(i)->option, word) == 0) {
      wishes->also |= (guint64)1 << i;
      found = TRUE;
    }
  return found;
}

void
hf_wish_all(HfWishes *wishes)
{
  wishes->also = G_MAXUINT64;
}

/* Are those on request all about outlines? */
static gboolean
only_outlines(void)
{
  for (guint i = 0; hf_format(i) != NULL; i++)
    if (hf_format(i)->option != NULL && hf_format(i)->about != HF_ABOUT_OUTLINES)
      return FALSE;
  return TRUE;
}

char *
hf_wish_help(void)
{
  g_autofree const char **words = hf_wish_words();
  g_autofree char *list = g_strjoinv(", ", (char **)words);
  return g_strdup_printf("more %s: %s", only_outlines() ? "outlines" : "outputs", list);
}

static gboolean
is_unasked(const HfFormat *format, HfAbout about)
{
  return format->about == about && format->option == NULL && !format->rest &&
         about != HF_ABOUT_CURED;
}

/* "metal.svg, metal.dxf" */
static char *
names_about(HfAbout about)
{
  g_autoptr(GString) names = g_string_new(NULL);
  for (guint i = 0; hf_format(i) != NULL; i++)
    if (is_unasked(hf_format(i), about)) {
      g_autofree char *name = hf_format_name(hf_format(i), HF_LAYER_UNSAID, TRUE);
      g_string_append_printf(names, "%s%s", names->len > 0 ? ", " : "", name);
    }
  return g_string_free(g_steal_pointer(&names), FALSE);
}

/* "not-to-be-cut.svg and .dxf": outlines of what is not whole. */
static char *
names_not_whole(void)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; hf_format(i) != NULL; i++)
    if (is_unasked(hf_format(i), HF_ABOUT_OUTLINES))
      g_ptr_array_add(names, names->len == 0 ? hf_format_name(hf_format(i), HF_LAYER_UNSAID, FALSE)
                                             : g_strdup(hf_format(i)->ending));
  g_ptr_array_add(names, NULL);
  return hf_text_list((const char *const *)names->pdata, "and");
}

char *
hf_wish_outputs_help(void)
{
  g_autoptr(GString) help = g_string_new(NULL);
  for (HfAbout about = 0; about < HF_N_ABOUT; about++) {
    g_autofree char *names = names_about(about);
    if (*names != '\0')
      g_string_append_printf(help, "  %-22s  %s\n", names, hf_about_says(about));
  }
  g_autofree char *not_whole = names_not_whole();
  g_string_append_printf(help, "A sign that is not whole gets %s instead.\n", not_whole);
  g_string_append(help, "A layer behind the front has outlines of its own: back-metal.svg.\n");
  return g_string_free(g_steal_pointer(&help), FALSE);
}
