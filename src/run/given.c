/* SPDX-License-Identifier: GPL-3.0-or-later
 * given.c - the text that a run begins with: a recipe's, or the one that a drawing stands for.
 */
#include "base/file.h"
#include "drawing/drawing.h"
#include "run/run.h"
#include <string.h>

static gboolean
refuse_beside_recipe(const char *file, const HfOrder *order, GError **error)
{
  const char *option = order != NULL ? hf_order_first(order) : NULL;
  if (option == NULL)
    return FALSE;
  g_autofree char *fix = g_strdup_printf("leave --%s out", option);
  hf_error_set(error, HF_ERROR_BAD_VALUE, file, fix,
               "--%s is said of a drawing by itself; a recipe says its own", option);
  return TRUE;
}

GBytes *
hf_run_given(const char *file, const HfOrder *order, GError **error)
{
  if (!hf_drawing_is_called(file))
    return refuse_beside_recipe(file, order, error)
               ? NULL
               : hf_file_read(file, HF_RECIPE_MAX_BYTES, error);
  if (!g_file_test(file, G_FILE_TEST_EXISTS)) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, file, "look at its name and folder",
                 "there is no such file");
    return NULL;
  }
  if (order == NULL || order->metal == NULL || order->thickness == NULL) {
    hf_error_set(
        error, HF_ERROR_BAD_VALUE, file,
        "say --metal \"mild steel\" --thickness \"3 mm\" --kerf \"1.5 mm\", or put it into a "
        "recipe: holdfast look writes one to start from",
        "a drawing does not say what it is to be cut from");
    return NULL;
  }
  g_autofree char *base = g_path_get_basename(file);
  char *text =
      hf_order_text(order, base, "an order of a drawing by itself, as it was given to holdfast");
  return g_bytes_new_take(text, strlen(text));
}

GPtrArray *
hf_run_drawings(const char *file)
{
  GPtrArray *files = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(HfRecipe) recipe = hf_drawing_is_called(file) ? NULL : hf_recipe_read_file(file, NULL);
  g_autofree char *folder = g_path_get_dirname(file);
  for (guint i = 0; recipe != NULL && i < recipe->entries->len; i++) {
    const HfEntry *entry = hf_recipe_at(recipe, i);
    if (entry->kind == HF_ENTRY_DRAWING)
      g_ptr_array_add(files, g_build_filename(folder, entry->drawing.file, NULL));
  }
  return files;
}
