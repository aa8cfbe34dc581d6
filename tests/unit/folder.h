/* SPDX-License-Identifier: GPL-3.0-or-later
 * folder.h - a test's own folder is taken away with all that is in it.
 */
#pragma once
#include <glib/gstdio.h>

/** remove_all: file or folder @path; a link goes, what it leads to stays. */
static inline void
remove_all(const char *path)
{
  g_autoptr(GDir) dir =
      g_file_test(path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open(path, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *child = g_build_filename(path, name, NULL);
    remove_all(child);
  }
  g_remove(path);
}
