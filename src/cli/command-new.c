/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-new.c - `holdfast new`: a commented recipe to start from.
 */
#include "base/file.h"
#include "base/seen.h"
#include "base/text.h"
#include "cli/cli-private.h"
#include <string.h>

/* hf_recipe_starter_kinds() alternates a kind and a line on it. */
static void
list_kinds(void)
{
  const char *const *kinds = hf_recipe_starter_kinds();
  for (guint i = 0; kinds[i] != NULL; i += 2)
    g_print("  %-14s %s\n", kinds[i], kinds[i + 1]);
}

static int
unknown_kind(const char *kind)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  for (const char *const *k = hf_recipe_starter_kinds(); *k != NULL; k += 2)
    g_ptr_array_add(names, (gpointer)*k);
  g_ptr_array_add(names, NULL);
  const char *near = hf_text_nearest(kind, (const char *const *)names->pdata);
  g_autofree char *shown = hf_seen_value(kind);
  if (near != NULL)
    g_printerr("holdfast: there is no kind of sign '%s'; did you mean '%s'?\n", shown, near);
  else
    g_printerr("holdfast: there is no kind of sign '%s'; 'holdfast new' lists them\n", shown);
  return 2;
}

int
hf_command_new(int argc, char **argv)
{
  const GOptionEntry entries[] = {{NULL}};
  if (!hf_cli_parse("new", entries, &argc, &argv))
    return 2;
  if (argc < 2) {
    list_kinds();
    return 0;
  }
  g_autofree char *text = hf_recipe_starter(argv[1]);
  if (text == NULL)
    return unknown_kind(argv[1]);
  if (argc < 3) {
    g_print("%s", text);
    return 0;
  }
  if (g_file_test(argv[2], G_FILE_TEST_EXISTS)) {
    g_printerr("holdfast: %s is there already; name another file\n", argv[2]);
    return 2;
  }
  g_autoptr(GError) error = NULL;
  if (!hf_file_write(argv[2], text, strlen(text), &error))
    return hf_cli_fail(error);
  g_print("wrote %s; the kerf in it is a guess: measure yours, then: holdfast make %s\n", argv[2],
          argv[2]);
  return 0;
}
