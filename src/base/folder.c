/* SPDX-License-Identifier: GPL-3.0-or-later
 * folder.c - many files of one folder replaced together, by the folder's descriptor.
 *
 * Only the holder of the lock stages, so the names of what is staged need not be random: what has
 * one and is not ours was left by a run that was killed.
 */
#include "base/folder.h"
#include "base/file-private.h"
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

typedef struct {
  char *name, *beside;
} Staged;

struct HfFolder {
  char *path;
  HfFolderLock *lock;
  int fd;            /* of the lock */
  gboolean begun;    /* something was staged */
  GPtrArray *staged; /* Staged *: not placed yet */
};

static void
staged_free(gpointer data)
{
  Staged *staged = data;
  g_free(staged->name);
  g_free(staged->beside);
  g_free(staged);
}

static gboolean
done(const HfFolder *folder, const char *name, const char *doing, int code, const char *state,
     GError **error)
{
  if (code == 0)
    return TRUE;
  g_autofree char *path =
      name != NULL ? g_build_filename(folder->path, name, NULL) : g_strdup(folder->path);
  hf_file_set_error(error, path, doing, code, state);
  return FALSE;
}

HfFolder *
hf_folder_open(const char *path, double seconds, GError **error)
{
  if (!hf_file_make_folder(path, error))
    return NULL;
  HfFolderLock *lock = hf_folder_lock(path, seconds, error);
  if (lock == NULL)
    return NULL;
  HfFolder *folder = g_new0(HfFolder, 1);
  folder->path = g_strdup(path);
  folder->lock = lock;
  folder->fd = hf_folder_lock_fd(lock);
  folder->staged = g_ptr_array_new_with_free_func(staged_free);
  return folder;
}

void
hf_folder_close(HfFolder *folder)
{
  if (folder == NULL)
    return;
  for (guint i = 0; i < folder->staged->len; i++)
    (void)unlinkat(folder->fd, ((Staged *)folder->staged->pdata[i])->beside, 0);
  g_ptr_array_unref(folder->staged);
  if (folder->begun)
    hf_file_end();
  hf_folder_unlock(folder->lock);
  g_free(folder->path);
  g_free(folder);
}

const char *
hf_folder_path(const HfFolder *folder)
{
  return folder->path;
}

/* ---- looking ------------------------------------------------------------------------------- */

gboolean
hf_folder_stat(const HfFolder *folder, const char *name, struct stat *ret_info)
{
  return fstatat(folder->fd, name, ret_info, 0) == 0;
}

GBytes *
hf_folder_read(const HfFolder *folder, const char *name, gsize cap, GError **error)
{
  g_autofree char *path = g_build_filename(folder->path, name, NULL);
  return hf_file_read_at(folder->fd, name, path, cap, error);
}

static gint
by_name(gconstpointer a, gconstpointer b)
{
  return strcmp(*(const char *const *)a, *(const char *const *)b);
}

GPtrArray *
hf_folder_names(const HfFolder *folder)
{
  GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
  int fd = openat(folder->fd, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  DIR *dir = fd >= 0 ? fdopendir(fd) : NULL;
  if (dir == NULL && fd >= 0)
    close(fd);
  const struct dirent *entry;
  while (dir != NULL && (entry = readdir(dir)) != NULL)
    if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0)
      g_ptr_array_add(names, g_strdup(entry->d_name));
  if (dir != NULL)
    closedir(dir);
  g_ptr_array_sort(names, by_name);
  return names;
}

void
hf_folder_sweep(const HfFolder *folder, const GPtrArray *of)
{
  g_autoptr(GPtrArray) names = hf_folder_names(folder);
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *name = hf_file_unfinished(names->pdata[i]);
    if (name != NULL && g_ptr_array_find_with_equal_func((GPtrArray *)of, name, g_str_equal, NULL))
      (void)unlinkat(folder->fd, names->pdata[i], 0);
  }
}

/* ---- writing ------------------------------------------------------------------------------- */

/* -1: errno says why. */
static int
open_beside(const HfFolder *folder, const char *name, char **ret_beside)
{
  for (guint n = 0;; n++) {
    g_autofree char *beside = g_strdup_printf("%s" HF_FILE_UNFINISHED "%06u", name, n);
    int fd = openat(folder->fd, beside, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
    if (fd < 0 && errno == EEXIST)
      continue;
    if (fd >= 0)
      *ret_beside = g_steal_pointer(&beside);
    return fd;
  }
}

gboolean
hf_folder_stage(HfFolder *folder, const char *name, GBytes *bytes, const char *state,
                GError **error)
{
  char *beside = NULL;
  int fd = open_beside(folder, name, &beside);
  if (fd < 0)
    return done(folder, name, "write the file", errno, state, error);
  Staged *staged = g_new(Staged, 1);
  *staged = (Staged){g_strdup(name), beside};
  if (!folder->begun)
    hf_file_begin();
  folder->begun = TRUE;
  g_ptr_array_add(folder->staged, staged);
  struct stat old;
  if (fstatat(folder->fd, name, &old, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(old.st_mode))
    (void)!fchmod(fd, old.st_mode & 0777);
  gsize length;
  const char *from = g_bytes_get_data(bytes, &length);
  int code = hf_file_put(fd, from, length);
  if (close(fd) != 0 && code == 0)
    code = errno;
  return done(folder, name, "write the file", code, state, error);
}

gboolean
hf_folder_place(HfFolder *folder, const char *name, const char *state, GError **error)
{
  for (guint i = 0; i < folder->staged->len; i++) {
    const Staged *staged = folder->staged->pdata[i];
    if (strcmp(staged->name, name) != 0)
      continue;
    if (renameat(folder->fd, staged->beside, folder->fd, name) != 0)
      return done(folder, name, "put the file in its place", errno, state, error);
    g_ptr_array_remove_index(folder->staged, i);
    return TRUE;
  }
  g_return_val_if_reached(FALSE);
}

gboolean
hf_folder_remove(HfFolder *folder, const char *name, const char *state, GError **error)
{
  int code = unlinkat(folder->fd, name, 0) == 0 || errno == ENOENT ? 0 : errno;
  return done(folder, name, "remove the file", code, state, error);
}

/* Never over anything: a second name, and the first one goes; file systems without second names
 * have a rename that is as careful. 0, or an errno. */
static int
move_new(int fd, const char *from, const char *to)
{
  if (linkat(fd, from, fd, to, 0) == 0)
    return unlinkat(fd, from, 0) == 0 ? 0 : errno;
  if (errno == EEXIST)
    return EEXIST;
  return renameat2(fd, from, fd, to, RENAME_NOREPLACE) == 0 ? 0 : errno;
}

gboolean
hf_folder_put_aside(HfFolder *folder, const char *name, const char *state, char **ret_name,
                    GError **error)
{
  const char *dot = strrchr(name, '.');
  int stem = dot != NULL ? (int)(dot - name) : (int)strlen(name);
  for (guint n = 1;; n++) {
    g_autofree char *aside = g_strdup_printf("%.*s-%u%s", stem, name, n, dot != NULL ? dot : "");
    int code = move_new(folder->fd, name, aside);
    if (code == EEXIST)
      continue;
    if (code == 0)
      *ret_name = g_steal_pointer(&aside);
    return done(folder, name, "put the file aside", code, state, error);
  }
}

gboolean
hf_folder_sync(const HfFolder *folder, const char *state, GError **error)
{
  /* some file systems have nothing to sync of a folder, and say so */
  int code = fsync(folder->fd) == 0 || errno == EINVAL ? 0 : errno;
  return done(folder, NULL, "write the folder to the disk", code, state, error);
}
