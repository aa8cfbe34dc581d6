/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-look.c - `holdfast look`: what is in a drawing's file.
 */
#include "base/beside.h"
#include "base/file.h"
#include "cli/cli-private.h"
#include "run/found.h"
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct {
  char *picture, *recipe;
  gboolean all;
  HfOrder order;
} Wish;

static void
wish_clear(Wish *wish)
{
  g_free(wish->picture);
  g_free(wish->recipe);
  hf_order_clear(&wish->order);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Wish, wish_clear)

/* By whatever name. */
static gboolean
is_same_file(const char *a, const char *b)
{
  struct stat x, y;
  return stat(a, &x) == 0 && stat(b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

static gboolean
write_picture(HfFound *found, const char *drawing, const char *file, GError **error)
{
  if (is_same_file(drawing, file)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "name another file", "%s is the drawing itself",
                 file);
    return FALSE;
  }
  g_autoptr(GBytes) picture = hf_found_picture(found);
  gsize length;
  const void *data = g_bytes_get_data(picture, &length);
  if (!hf_file_write(file, data, length, error))
    return FALSE;
  g_print("wrote %s\n", file);
  return TRUE;
}

static gboolean
write_recipe(HfFound *found, const char *file, GError **error)
{
  g_autofree char *text = hf_found_recipe(found, file, error);
  if (text == NULL || !hf_file_write_new(file, text, strlen(text), error))
    return FALSE;
  g_print("wrote %s; what is a guess in it is called one. Then: holdfast make %s\n", file, file);
  return TRUE;
}

/* ---- reading, with a word on a terminal where it takes longer -------------------------------- */

typedef struct {
  const char *file;
  const HfOrder *order;
  HfFound *found;
  GError *error;
  gint done; /* atomic */
} Reading;

static gpointer
read_it(gpointer data)
{
  Reading *reading = data;
  reading->found = hf_found_read(reading->file, reading->order, &reading->error);
  g_atomic_int_set(&reading->done, 1);
  return NULL;
}

static HfFound *
read_file(const char *file, const HfOrder *order, GError **error)
{
  enum { STEP_MS = 20, PATIENCE = 25 };
  Reading reading = {.file = file, .order = order};
  HfBeside beside = hf_beside("look", read_it, &reading);
  gboolean told = FALSE;
  for (guint i = 0; g_atomic_int_get(&reading.done) == 0; i++) {
    g_usleep(i < 5 ? 1000 : STEP_MS * 1000);
    if (i == PATIENCE && isatty(STDERR_FILENO)) {
      told = TRUE;
      fputs("reading; Ctrl-C stops it", stderr);
    }
  }
  hf_beside_end(&beside);
  if (told)
    fputs("\r\033[K", stderr);
  if (reading.error != NULL)
    g_propagate_error(error, reading.error);
  return reading.found;
}

static int
look(const char *file, const Wish *wish)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfFound) found = read_file(file, &wish->order, &error);
  if (found == NULL)
    return hf_cli_fail(error);
  g_autofree char *told = hf_found_told(found, wish->all);
  fputs(told, stdout);
  if ((wish->picture != NULL && !write_picture(found, file, wish->picture, &error)) ||
      (wish->recipe != NULL && !write_recipe(found, wish->recipe, &error)))
    return hf_cli_fail(error);
  g_autofree char *line = hf_cli_line(file, &wish->order);
  if (wish->picture == NULL && wish->recipe == NULL)
    g_print("to see it, and to go on: holdfast look %s --picture look.svg --recipe NEW.yaml\n",
            line);
  return 0;
}

int
hf_command_look(int argc, char **argv)
{
  g_auto(Wish) wish = {NULL};
  const GOptionEntry entries[] = {
      {"picture", 0, 0, G_OPTION_ARG_FILENAME, &wish.picture,
       "draw it, an SVG: metal filled, doubts marked", "FILE"},
      {"recipe", 0, 0, G_OPTION_ARG_FILENAME, &wish.recipe,
       "write a recipe to start from; never over a file", "FILE"},
      HF_CLI_ORDER_OPTIONS(wish.order),
      {"all", 0, 0, G_OPTION_ARG_NONE, &wish.all, "list every piece", NULL},
      {NULL}};
  if (!hf_cli_parse("look", entries, &argc, &argv))
    return 2;
  if (argc != 2) {
    g_printerr("holdfast: %s\n", argc < 2 ? "which drawing? name its file" : "one file at a time");
    return 2;
  }
  return look(argv[1], &wish);
}
