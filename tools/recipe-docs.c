/* SPDX-License-Identifier: GPL-3.0-or-later
 * recipe-docs.c - writes what docs/ holds of the schema table: build/tools/recipe-docs docs
 * build/tools/recipe-docs --kinds prints what the page is told of every kind and field.
 * docs/recipe.md keeps everything before its heading "A recipe, key by key".
 */
#include "base/file.h"
#include "shop/shop.h"
#include <stdio.h>
#include <string.h>

static gboolean
write_to(const char *folder, const char *name, const char *text, GError **error)
{
  g_autofree char *path = g_build_filename(folder, name, NULL);
  return hf_file_write(path, text, strlen(text), error);
}

static gboolean
write_reference(const char *folder, GError **error)
{
  g_autofree char *path = g_build_filename(folder, "recipe.md", NULL);
  g_autofree char *old = NULL, *reference = hf_recipe_reference();
  g_autofree char *shop = hf_shop_reference();
  if (!g_file_get_contents(path, &old, NULL, error))
    return FALSE;
  char *part = strstr(old, "## A recipe, key by key");
  if (part != NULL)
    *part = '\0';
  g_autofree char *text = g_strconcat(old, reference, "\n", shop, NULL);
  return write_to(folder, "recipe.md", text, error);
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *recipe = hf_recipe_schema(), *shop = hf_shop_schema();
  const char *folder = argc > 1 ? argv[1] : "docs";
  if (strcmp(folder, "--kinds") == 0) {
    g_autofree char *kinds = hf_recipe_kinds();
    fputs(kinds, stdout);
    return 0;
  }
  if (write_reference(folder, &error) &&
      write_to(folder, "schema/recipe.schema.json", recipe, &error) &&
      write_to(folder, "schema/shop.schema.json", shop, &error))
    return 0;
  fprintf(stderr, "%s\n", error->message);
  return 3;
}
