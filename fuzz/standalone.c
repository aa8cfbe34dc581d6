/* SPDX-License-Identifier: GPL-3.0-or-later
 * standalone.c - replays a corpus through a fuzz target, each file once, in the order of names:
 * whatever once crashed a door stays tried for good.   fuzz_NAME FOLDER-OR-FILE...
 */
#include <gio/gio.h>
#include <stdio.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

static gboolean
replay(const char *path)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;
  g_autoptr(GError) error = NULL;
  if (!g_file_get_contents(path, &bytes, &length, &error)) {
    fprintf(stderr, "%s\n", error->message);
    return FALSE;
  }
  /* A copy of just this length, so that a sanitizer sees a byte too far. */
  g_autofree guint8 *exact = g_memdup2(bytes, length);
  LLVMFuzzerTestOneInput(exact != NULL ? exact : (const guint8 *)"", length);
  return TRUE;
}

static int
by_name(gconstpointer a, gconstpointer b)
{
  return g_strcmp0(*(char *const *)a, *(char *const *)b);
}

static guint
replay_folder(const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  g_autoptr(GPtrArray) paths = g_ptr_array_new_with_free_func(g_free);
  for (const char *name; dir != NULL && (name = g_dir_read_name(dir)) != NULL;)
    g_ptr_array_add(paths, g_build_filename(folder, name, NULL));
  g_ptr_array_sort(paths, by_name);
  guint done = 0;
  for (guint i = 0; i < paths->len; i++)
    done += replay(g_ptr_array_index(paths, i));
  return done;
}

int
main(int argc, char **argv)
{
  guint done = 0;
  for (int i = 1; i < argc; i++)
    done +=
        g_file_test(argv[i], G_FILE_TEST_IS_DIR) ? replay_folder(argv[i]) : (guint)replay(argv[i]);
  printf("%u inputs\n", done);
  return done > 0 ? 0 : 1;
}
