/* SPDX-License-Identifier: GPL-3.0-or-later
 * file.h - reading with a cap, writing whole or not at all, one writer to a folder.
 */
#pragma once
#include "base/error.h"

/**
 * hf_file_read:
 * @cap: bytes; a larger file is %HF_ERROR_TOO_BIG before it is read
 * Returns: (transfer full) the bytes (not zero-terminated), or %NULL with %HF_ERROR_NOT_FOUND,
 *   %HF_ERROR_IO (also when it is not a plain file), %HF_ERROR_TOO_BIG
 */
GBytes *hf_file_read(const char *path, gsize cap, GError **error);

/**
 * hf_file_write:
 * Writes into a temporary file beside @path, syncs it, then renames it over @path: whoever looks
 * finds the old file whole or the new file whole. The temporary file is removed on failure; of a
 * run that was killed it stays (hf_file_unfinished()). Who may read the old file may read the new
 * one. Returns: %FALSE with %HF_ERROR_IO that says what to do (disk full, folder read-only)
 */
gboolean hf_file_write(const char *path, const void *bytes, gsize length, GError **error);

/** hf_file_write_new: as hf_file_write(), but never over anything: %HF_ERROR_NO_ROOM when there is
 *  something called @path already. */
gboolean hf_file_write_new(const char *path, const void *bytes, gsize length, GError **error);

/** hf_file_unfinished: (transfer full) (nullable) the name of the file that the temporary file
 * @name would have become; %NULL: it is none. A copy that somebody made, as a.yaml.backup, is none.
 */
char *hf_file_unfinished(const char *name);

/** hf_file_make_folder: makes @path and its parents where missing. */
gboolean hf_file_make_folder(const char *path, GError **error);

/** hf_file_begin, hf_file_end: (beside folder.c only) round what is half written. */
void hf_file_begin(void);
void hf_file_end(void);
/** hf_file_is_writing: is a file or folder of this process half written? Who ends the process waits
 *  until it is not: nothing is left behind then. In any thread. */
gboolean hf_file_is_writing(void);

/** hf_file_digest: SHA-256 in hexadecimal of @bytes. (transfer full) */
char *hf_file_digest(const void *bytes, gsize length);

/** HfFolderLock: held while one run writes into a folder. */
typedef struct HfFolderLock HfFolderLock;

/**
 * hf_folder_lock:
 * Waits up to @seconds for another run to leave @folder, then %HF_ERROR_IO.
 * Returns: (transfer full) the lock, let go by hf_folder_unlock() or by the end of the process
 */
HfFolderLock *hf_folder_lock(const char *folder, double seconds, GError **error);
void hf_folder_unlock(HfFolderLock *lock);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFolderLock, hf_folder_unlock)
