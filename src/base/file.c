/* SPDX-License-Identifier: GPL-3.0-or-later
 * file.c - one file read whole or replaced whole.
 *
 *   write:  NAME.XXXXXX beside it ──> synced ──> renamed over NAME ──> folder synced
 *
 * Invariant: whoever looks sees the old file or the new one, never part of either; what a killed
 * process left is known by its name and swept by the next holder of the folder's lock. Nothing is
 * read past a cap that the caller names.
 */
#include "base/file-private.h"
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum { UNFINISHED_RANDOM = 6 };

struct HfFolderLock {
  int fd;
};

#define UNFINISHED HF_FILE_UNFINISHED
static const char *const AS_IT_WAS = "the old file is as it was";

/* What a sign maker can do about an errno; %NULL: nothing that is known. */
static const char *
cure_of(int code)
{
  switch (code) {
  case ENOSPC:
  case EDQUOT:
    return "make room on the disk and run it again";
  case EFBIG:
    return "files may not be this large here: raise the limit (ulimit -f) and run it again";
  case EMFILE:
  case ENFILE:
    return "too many files are open: raise the limit (ulimit -n) and run it again";
  case EACCES:
  case EPERM:
  case EROFS:
    return "choose a folder that you may write to with -o";
  case ENOTDIR:
  case EEXIST:
    return "a file stands where the folder would go: name another folder with -o";
  default:
    return NULL;
  }
}

void
hf_file_set_error(GError **error, const char *path, const char *doing, int code, const char *state)
{
  g_autofree char *own = hf_file_write_fix(path, code);
  const char *cure = own != NULL ? own : cure_of(code);
  if (state == AS_IT_WAS && !g_file_test(path, G_FILE_TEST_EXISTS))
    state = NULL; /* there is no old file */
  g_autofree char *fix = cure != NULL && state != NULL ? g_strconcat(cure, "; ", state, NULL)
                                                       : g_strdup(cure != NULL ? cure : state);
  hf_error_set(error, HF_ERROR_IO, path, fix, "can't %s: %s", doing, g_strerror(code));
}

GBytes *
hf_file_read(const char *path, gsize cap, GError **error)
{
  return hf_file_read_at(AT_FDCWD, path, path, cap, error);
}

GBytes *
hf_file_read_at(int at, const char *name, const char *path, gsize cap, GError **error)
{
  int fd = openat(at, name, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (fd < 0) {
    hf_file_refuse_read(error, path, errno);
    return NULL;
  }
  struct stat info = {0};
  if (fstat(fd, &info) != 0 || !S_ISREG(info.st_mode)) {
    hf_file_refuse_kind(error, path, S_ISDIR(info.st_mode));
    close(fd);
    return NULL;
  }
  if ((guint64)info.st_size > cap) {
    hf_file_refuse_size(error, path, (guint64)info.st_size, cap);
    close(fd);
    return NULL;
  }
  gsize size = (gsize)info.st_size, have = 0;
  char *bytes = g_malloc(size + 1);
  while (have < size) {
    gssize got = read(fd, bytes + have, size - have);
    if (got < 0 && errno == EINTR)
      continue;
    if (got <= 0)
      break;
    have += (gsize)got;
  }
  close(fd);
  return g_bytes_new_take(bytes, have);
}

static gboolean
write_all(int fd, const char *bytes, gsize length)
{
  while (length > 0) {
    gssize put = write(fd, bytes, length);
    if (put < 0 && errno == EINTR)
      continue;
    if (put <= 0)
      return FALSE;
    bytes += put;
    length -= (gsize)put;
  }
  return TRUE;
}

int
hf_file_put(int fd, const char *bytes, gsize length)
{
  return write_all(fd, bytes, length) && fsync(fd) == 0 ? 0 : errno;
}

static void
sync_folder_of(const char *path)
{
  g_autofree char *folder = g_path_get_dirname(path);
  int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (fd >= 0) {
    (void)fsync(fd);
    close(fd);
  }
}

/* Puts the finished file in its place; an errno, 0: done. */
typedef int (*Place)(const char *beside, const char *path);

static int
place_over(const char *beside, const char *path)
{
  return g_rename(beside, path) == 0 ? 0 : errno;
}

/* A second name for the file, which fails where one is; file systems without second names have a
 * rename that does. */
static int
place_new(const char *beside, const char *path)
{
  if (link(beside, path) == 0) {
    g_unlink(beside);
    return 0;
  }
  if (errno == EEXIST)
    return EEXIST;
  return renameat2(AT_FDCWD, beside, AT_FDCWD, path, RENAME_NOREPLACE) == 0 ? 0 : errno;
}

/* A file that is written again stays as open or as closed to others as it was. */
static void
keep_mode(int fd, const char *path)
{
  struct stat info;
  if (stat(path, &info) == 0 && S_ISREG(info.st_mode))
    (void)!fchmod(fd, info.st_mode & 0777);
}

static gint writing; /* atomic: how many are half written */

void
hf_file_begin(void)
{
  g_atomic_int_inc(&writing);
}

void
hf_file_end(void)
{
  g_atomic_int_add(&writing, -1);
}

gboolean
hf_file_is_writing(void)
{
  return g_atomic_int_get(&writing) > 0;
}

/* 0, or an errno; nothing is left behind then. */
static int
put_beside(const char *path, const void *bytes, gsize length, Place place)
{
  g_autofree char *beside = g_strconcat(path, UNFINISHED "XXXXXX", NULL);
  int fd = g_mkstemp_full(beside, O_RDWR | O_CLOEXEC, 0666);
  if (fd < 0)
    return errno;
  keep_mode(fd, path);
  int code = hf_file_put(fd, bytes, length);
  if (close(fd) != 0 && code == 0)
    code = errno;
  if (code == 0)
    code = place(beside, path);
  if (code != 0)
    g_unlink(beside);
  else
    sync_folder_of(path);
  return code;
}

static int
write_beside(const char *path, const void *bytes, gsize length, Place place)
{
  hf_file_begin();
  int code = put_beside(path, bytes, length, place);
  hf_file_end();
  return code;
}

gboolean
hf_file_write(const char *path, const void *bytes, gsize length, GError **error)
{
  int code = write_beside(path, bytes, length, place_over);
  if (code != 0)
    hf_file_set_error(error, path, "write the file", code, AS_IT_WAS);
  return code == 0;
}

gboolean
hf_file_write_new(const char *path, const void *bytes, gsize length, GError **error)
{
  int code = write_beside(path, bytes, length, place_new);
  if (code == EEXIST)
    hf_error_set(error, HF_ERROR_NO_ROOM, path, "choose another name", "it is there already");
  else if (code != 0)
    hf_file_set_error(error, path, "write the file", code, AS_IT_WAS);
  return code == 0;
}

char *
hf_file_unfinished(const char *name)
{
  gsize length = strlen(name), behind = strlen(UNFINISHED) + UNFINISHED_RANDOM;
  if (length <= behind || strncmp(name + length - behind, UNFINISHED, strlen(UNFINISHED)) != 0)
    return NULL;
  return g_strndup(name, length - behind);
}

gboolean
hf_file_make_folder(const char *path, GError **error)
{
  if (g_mkdir_with_parents(path, 0777) == 0)
    return TRUE;
  hf_file_set_error(error, path, "make the folder", errno, NULL);
  return FALSE;
}

char *
hf_file_digest(const void *bytes, gsize length)
{
  return g_compute_checksum_for_data(G_CHECKSUM_SHA256, bytes, length);
}

HfFolderLock *
hf_folder_lock(const char *folder, double seconds, GError **error)
{
  int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (fd < 0) {
    hf_file_set_error(error, folder, "open the folder", errno, NULL);
    return NULL;
  }
  gint64 until = g_get_monotonic_time() + (gint64)(seconds * G_USEC_PER_SEC);
  while (flock(fd, LOCK_EX | LOCK_NB) != 0) {
    if (errno != EWOULDBLOCK || g_get_monotonic_time() > until) {
      hf_error_set(error, HF_ERROR_IO, folder,
                   "wait for it to end, or choose another folder with -o",
                   "another run is writing into this folder");
      close(fd);
      return NULL;
    }
    g_usleep(20000);
  }
  HfFolderLock *lock = g_new(HfFolderLock, 1);
  lock->fd = fd;
  return lock;
}

int
hf_folder_lock_fd(const HfFolderLock *lock)
{
  return lock->fd;
}

void
hf_folder_unlock(HfFolderLock *lock)
{
  if (lock == NULL)
    return;
  close(lock->fd);
  g_free(lock);
}
