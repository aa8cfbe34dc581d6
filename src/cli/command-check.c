/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-check.c - `holdfast check`: the verdict only.
 */
#include "cli/cli-private.h"

int
hf_command_check(int argc, char **argv)
{
  g_autofree char *shop = NULL, *units = NULL;
  HfBatch batch = {.make = FALSE};
  const GOptionEntry entries[] = {
      {"shop", 0, 0, G_OPTION_ARG_FILENAME, &shop, "shop file to use instead of the one found",
       "FILE"},
      {"watch", 'w', 0, G_OPTION_ARG_NONE, &batch.watch, "check again whenever a file changes",
       NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &batch.json, "print the report instead of words", NULL},
      {"all", 0, 0, G_OPTION_ARG_NONE, &batch.all, "list every place of a finding", NULL},
      HF_CLI_ORDER_OPTIONS(batch.order),
      {"units", 0, 0, G_OPTION_ARG_STRING, &units, HF_CLI_UNITS_HELP, "UNIT"},
      {"sizes", 0, 0, G_OPTION_ARG_NONE, &batch.sizes, "tell the size of every entry", NULL},
      {"quiet", 'q', 0, G_OPTION_ARG_NONE, &batch.quiet, "print nothing but mistakes", NULL},
      {NULL}};
  if (!hf_cli_parse("check", entries, &argc, &argv) || !hf_cli_units(units, &batch.units))
    return 2;
  batch.shop_file = shop;
  int code = hf_cli_batch(&batch, argv + 1);
  hf_order_clear(&batch.order);
  return code;
}
