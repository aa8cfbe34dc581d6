/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_edit.c - any bytes as an edit of a recipe:
 *
 *   set|remove|insert|put LF path LF value LF text      (LF in the value is written as FS, 0x1c)
 *
 * hf_recipe_edit() proves its result itself; here its refusals must be honest: never "our bug".
 */
#include "recipe/edit.h"
#include <string.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  const char *at = (const char *)data, *end = at + size;
  g_autoptr(GPtrArray) heads = g_ptr_array_new_with_free_func(g_free);
  while (heads->len < 3) {
    const char *stop = memchr(at, '\n', (gsize)(end - at));
    if (stop == NULL)
      return 0;
    g_ptr_array_add(heads, g_strndup(at, (gsize)(stop - at)));
    at = stop + 1;
  }
  const char *word = g_ptr_array_index(heads, 0);
  char *value = g_strdelimit(g_ptr_array_index(heads, 2), "\x1c", '\n');
  const char *does = word[0] == 's'   ? "set"
                     : word[0] == 'r' ? "remove"
                     : word[0] == 'p' ? "put"
                                      : "insert";
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) edits = hf_edits_new();
  gsize length = 0;
  g_autofree char *after = hf_edits_read(edits, does, g_ptr_array_index(heads, 1), value, &error)
                               ? hf_recipe_edit(at, (gsize)(end - at), edits, &length, &error)
                               : NULL;
  g_assert((after == NULL) == (error != NULL));
  if (error != NULL)
    g_assert(error->domain == HF_ERROR && error->code != HF_ERROR_BUG);
  return 0;
}
