/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-shop.c - `holdfast shop`: the table, the chart and the metals as holdfast takes them.
 */
#include "base/seen.h"
#include "cli/cli-private.h"
#include "shop/chart.h"

static int
tell(const char *file)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfShop) shop =
      file != NULL ? hf_shop_read_file(file, &error) : hf_shop_find("recipe.yaml", &error);
  if (shop == NULL)
    return hf_cli_fail(error);
  g_autofree char *from = shop->file != NULL ? hf_seen_place(shop->file) : NULL;
  g_autofree char *words = hf_shop_told(shop);
  if (from != NULL)
    g_print("shop file %s\n%s", from, words);
  else
    g_print("no shop file: beside a recipe or in your config folder it is called shop.yaml\n%s",
            words);
  return 0;
}

int
hf_command_shop(int argc, char **argv)
{
  g_autofree char *said = NULL;
  const GOptionEntry entries[] = {
      {"units", 0, 0, G_OPTION_ARG_STRING, &said, "tell lengths in mm, in or in-decimal", "UNIT"},
      {NULL}};
  HfUnits units;
  if (!hf_cli_parse("shop", entries, &argc, &argv) || !hf_cli_units(said, &units))
    return 2;
  g_auto(HfUnitsScope) scope = hf_units_scope(units);
  if (argc <= 2)
    return tell(argv[1]);
  g_printerr("holdfast: name one shop file, or none: holdfast shop shop.yaml\n");
  return 2;
}
