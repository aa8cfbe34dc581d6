/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-recipe.c - `holdfast recipe`: what a recipe can say.
 */
#include "cli/cli-private.h"
#include <stdio.h>

int
hf_command_recipe(int argc, char **argv)
{
  gboolean schema = FALSE, shop = FALSE;
  const GOptionEntry entries[] = {
      {"schema", 0, 0, G_OPTION_ARG_NONE, &schema, "the JSON Schema of a recipe", NULL},
      {"shop-schema", 0, 0, G_OPTION_ARG_NONE, &shop, "the JSON Schema of a shop file", NULL},
      {NULL}};
  if (!hf_cli_parse("recipe", entries, &argc, &argv))
    return 2;
  g_autofree char *text = schema ? hf_recipe_schema()
                          : shop ? hf_shop_schema()
                                 : hf_recipe_reference();
  g_autofree char *more = schema || shop ? NULL : hf_shop_reference();
  fputs(text, stdout); /* as it is: g_print would bend it to the terminal's character set */
  if (more != NULL)
    printf("\n%s", more);
  return 0;
}
