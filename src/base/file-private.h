/* SPDX-License-Identifier: GPL-3.0-or-later
 * file-private.h - what single files and whole folders share.
 */
#pragma once
#include "base/file.h"

/* What a temporary file has behind the name that it will get, and six characters more: unlike what
 * people call a copy. */
#define HF_FILE_UNFINISHED ".unfinished-"

/** hf_file_set_error: %HF_ERROR_IO "PATH: can't DOING: why", with what to do about the errno @code
 *  and, in @state, what has become of what was there. */
void hf_file_set_error(GError **error, const char *path, const char *doing, int code,
                       const char *state);
/** hf_file_read_at: as hf_file_read(), @name in the folder @at; @path for the message. */
GBytes *hf_file_read_at(int at, const char *name, const char *path, gsize cap, GError **error);
/** hf_file_put: all of @bytes, down to the disk. 0, or an errno. */
int hf_file_put(int fd, const char *bytes, gsize length);
/** hf_file_refuse_read: why @path can't be opened for reading (the errno @code), with the nearest
 *  file, where a link leads, or whose file it is. Looks into its folder. */
void hf_file_refuse_read(GError **error, const char *path, int code);
/** hf_file_refuse_kind: it is no plain file; of a folder, with recipes that lie in it. */
void hf_file_refuse_kind(GError **error, const char *path, gboolean folder);
/** hf_file_refuse_size: it has @size bytes, and @cap are read. */
void hf_file_refuse_size(GError **error, const char *path, guint64 size, gsize cap);
/** hf_file_write_fix: (transfer full) (nullable) what to do where @path can't be written, as its
 *  folder is the system's or not there. */
char *hf_file_write_fix(const char *path, int code);
/** hf_folder_lock_fd: of the folder. */
int hf_folder_lock_fd(const HfFolderLock *lock);
