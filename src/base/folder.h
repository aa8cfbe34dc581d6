/* SPDX-License-Identifier: GPL-3.0-or-later
 * folder.h - a folder whose files one run replaces together.
 *
 *   stage a, b, c      a.unfinished-000000 ...   beside their places; what is there stays
 *   place a, b, c      each is moved over the old one: no room is needed any more
 *
 * It is found once and held by its descriptor: renamed, moved, or a link put in its place
 * meanwhile, it stays the folder that was locked. Names are of files in it, never paths.
 */
#pragma once
#include "base/error.h"
#include <sys/stat.h>

typedef struct HfFolder HfFolder;

/**
 * hf_folder_open:
 * Makes @path where it is missing, and waits up to @seconds for another run to leave it.
 * Returns: (transfer full) held by this run alone until hf_folder_close() or the end of the
 *   process; %NULL with %HF_ERROR_IO that says what to do
 */
HfFolder *hf_folder_open(const char *path, double seconds, GError **error);
/** hf_folder_close: what was staged and not placed goes. */
void hf_folder_close(HfFolder *folder);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFolder, hf_folder_close)

const char *hf_folder_path(const HfFolder *folder); /* as it was given */

/** hf_folder_stat: %FALSE: there is no such file. Links are followed. */
gboolean hf_folder_stat(const HfFolder *folder, const char *name, struct stat *ret_info);
/** hf_folder_read: as hf_file_read(). */
GBytes *hf_folder_read(const HfFolder *folder, const char *name, gsize cap, GError **error);
/** hf_folder_names: (transfer full) (element-type char *) all that lies in it, sorted. */
GPtrArray *hf_folder_names(const HfFolder *folder);

/** hf_folder_sweep: removes what runs that were killed had staged for one of the names in @of. */
void hf_folder_sweep(const HfFolder *folder, const GPtrArray *of);

/* The rest: %FALSE with %HF_ERROR_IO, where @state says what has become of the folder. */

/** hf_folder_stage: writes @bytes beside @name, down to the disk. What @name allows to others, the
 *  new file will. */
gboolean hf_folder_stage(HfFolder *folder, const char *name, GBytes *bytes, const char *state,
                         GError **error);
/** hf_folder_place: what was staged for @name gets its place. */
gboolean hf_folder_place(HfFolder *folder, const char *name, const char *state, GError **error);
/** hf_folder_remove: fine when it is not there. */
gboolean hf_folder_remove(HfFolder *folder, const char *name, const char *state, GError **error);
/** hf_folder_put_aside: NAME.ENDING becomes NAME-1.ENDING, or the first such name that is free.
 *  @ret_name: (transfer full) that name */
gboolean hf_folder_put_aside(HfFolder *folder, const char *name, const char *state, char **ret_name,
                             GError **error);
/** hf_folder_sync: down to the disk: what happened before this happened before what comes. */
gboolean hf_folder_sync(const HfFolder *folder, const char *state, GError **error);
