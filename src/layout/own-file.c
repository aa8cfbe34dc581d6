/* SPDX-License-Identifier: GPL-3.0-or-later
 * own-file.c - a file that a recipe names: it lies beside the recipe or below it.
 */
#include "layout/layout-private.h"
#include <stdlib.h>
#include <string.h>

/* @file was read without `..`. */
gboolean
hf_lay_find_file(const HfLaying *laying, const char *file, const char *what, const char *where,
                 char **ret_path, GError **error)
{
  const char *recipe = laying->recipe->file;
  g_autofree char *folder = recipe == NULL ? g_strdup(".") : g_path_get_dirname(recipe);
  g_autofree char *path = g_build_filename(folder, file, NULL);
  g_autofree char *real_folder = realpath(folder, NULL), *real = realpath(path, NULL);
  if (real_folder == NULL || real == NULL) {
    g_autofree char *fix = g_strdup_printf(
        "put the %s beside the recipe or below it, and say its path from there", what);
    hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "there is no %s file \"%s\"", what, file);
    return FALSE;
  }
  gsize length = strlen(real_folder);
  if (strncmp(real, real_folder, length) != 0 || (real[length] != '/' && length > 1)) {
    g_autofree char *fix = g_strdup_printf("put a copy of the %s beside the recipe", what);
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix,
                 "\"%s\" is a link that leads out of the recipe's own folder", file);
    return FALSE;
  }
  *ret_path = g_steal_pointer(&path);
  return TRUE;
}
