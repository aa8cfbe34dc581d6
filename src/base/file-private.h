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
/** hf_folder_lock_fd: of the folder. */
int hf_folder_lock_fd(const HfFolderLock *lock);
