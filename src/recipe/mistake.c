/* SPDX-License-Identifier: GPL-3.0-or-later
 * The list of mistakes of one file: all are found in one reading, told in the order of the file.
 */
#include "base/alike.h"
#include "base/seen.h"
#include "drawing/drawing.h"
#include "recipe/node-private.h"
#include <string.h>

enum { KEPT = 400 }; /* enough to sort by place; a hostile file makes no more */

static void
mistake_free(gpointer data)
{
  HfMistake *mistake = data;
  g_free(mistake->what);
  g_free(mistake->fix);
  g_free(mistake);
}

void
hf_mistakes_init(HfMistakes *mistakes)
{
  mistakes->list = g_ptr_array_new_with_free_func(mistake_free);
  mistakes->total = 0;
}

void
hf_mistakes_clear(HfMistakes *mistakes)
{
  g_clear_pointer(&mistakes->list, g_ptr_array_unref);
}

/* What of the value that @what quotes nobody could see by looking; (nullable) (transfer full). */
static char *
unseen_of(const char *what)
{
  const char *from = strchr(what, '"'), *to = from != NULL ? strchr(from + 1, '"') : NULL;
  if (to == NULL || strstr(what, "only looks like") != NULL)
    return NULL;
  g_autofree char *value = g_strndup(from + 1, (gsize)(to - from - 1));
  return g_utf8_validate(value, -1, NULL) ? hf_alike_say(value) : NULL;
}

void
hf_mistake(HfMistakes *mistakes, HfMark mark, const char *fix, const char *format, ...)
{
  mistakes->total++;
  if (mistakes->list->len >= KEPT)
    return;
  HfMistake *mistake = g_new0(HfMistake, 1);
  va_list args;
  va_start(args, format);
  g_autofree char *said = g_strdup_vprintf(format, args);
  va_end(args);
  g_autofree char *unseen = unseen_of(said);
  g_autofree char *what =
      unseen != NULL ? g_strconcat(said, ": ", unseen, NULL) : g_steal_pointer(&said);
  mistake->what = hf_seen_message(what, FALSE);
  mistake->fix = hf_seen_message(fix, FALSE);
  mistake->mark = mark;
  g_ptr_array_add(mistakes->list, mistake);
}

/* By place; equal places stay in the order in which they were found (g_ptr_array_sort is stable).
 */
static int
by_place(gconstpointer a, gconstpointer b)
{
  const HfMark *p = &(*(HfMistake *const *)a)->mark, *q = &(*(HfMistake *const *)b)->mark;
  if (p->line != q->line)
    return p->line < q->line ? -1 : 1;
  return p->column < q->column ? -1 : p->column > q->column;
}

static void
sort(HfMistakes *mistakes)
{
  g_ptr_array_sort(mistakes->list, by_place);
}

GPtrArray *
hf_mistakes_give(HfMistakes *mistakes)
{
  sort(mistakes);
  g_ptr_array_set_size(mistakes->list, (int)MIN(mistakes->list->len, HF_MAX_MISTAKES));
  return g_ptr_array_ref(mistakes->list);
}

static char *
place(const char *file, HfMark mark)
{
  if (file != NULL && hf_drawing_is_called(file)) /* its recipe is nowhere to be seen */
    return g_strdup(file);
  g_autofree char *name = hf_seen(file, FALSE);
  return g_strdup_printf("%s:%u:%u", name, mark.line, mark.column);
}

gboolean
hf_mistakes_raise(HfMistakes *mistakes, const char *file, GError **error)
{
  if (mistakes->total == 0)
    return TRUE;
  if (error == NULL)
    return FALSE;
  sort(mistakes);
  g_autoptr(GString) all = g_string_new(NULL);
  guint shown = MIN(mistakes->list->len, HF_MAX_MISTAKES);
  for (guint i = 0; i < shown; i++) {
    const HfMistake *mistake = g_ptr_array_index(mistakes->list, i);
    g_autofree char *where = place(file, mistake->mark);
    g_string_append_printf(all, "%s%s: %s; %s", i > 0 ? "\n" : "", where, mistake->what,
                           mistake->fix);
  }
  if (mistakes->total > shown)
    g_string_append_printf(all, "\n%s: %u more mistake%s", file, mistakes->total - shown,
                           mistakes->total - shown == 1 ? "" : "s");
  const HfMistake *first = g_ptr_array_index(mistakes->list, 0);
  g_autofree char *where = place(file, first->mark);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, first->fix, "%s", first->what);
  g_free((*error)->message);
  (*error)->message = g_string_free(g_steal_pointer(&all), FALSE);
  return FALSE;
}
