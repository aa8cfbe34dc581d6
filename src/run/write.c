/* SPDX-License-Identifier: GPL-3.0-or-later
 * write.c - all outputs of a job into FOLDER/NAME/, whole or not at all.
 *
 *   1  everything is computed in memory
 *   2  the folder is locked
 *   3  a cured recipe that somebody went on with is put aside; outlines, programs and cured recipes
 *      of earlier runs that this one does not make are removed
 *   4  each file is written beside its place and moved over the old one
 *   5  report.json comes last, with the digest of every file
 *
 * Whoever is stopped between 3 and 5 leaves a report whose digests do not fit, never outlines of
 * a sign that is not whole under the name metal.
 */
#include "base/file.h"
#include "run/job.h"
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#define CURED            "cured.yaml"
#define REPORT_MAX_BYTES ((gsize)64 << 20)

static const HfOutput *
output_at(const GPtrArray *outputs, guint i)
{
  return g_ptr_array_index(outputs, i);
}

/* ---- the folder ---------------------------------------------------------------------------- */

static gboolean
is_output(const GPtrArray *outputs, const char *name)
{
  for (guint i = 0; i < outputs->len; i++)
    if (strcmp(output_at(outputs, i)->name, name) == 0)
      return TRUE;
  return FALSE;
}

static void
remove_in(const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename(folder, name, NULL);
  g_unlink(path);
}

/* (element-type char *) Of earlier runs, what this one does not make. */
static GPtrArray *
earlier_of(const GPtrArray *outputs)
{
  GPtrArray *names = hf_format_earlier();
  for (guint i = names->len; i-- > 0;)
    if (is_output(outputs, names->pdata[i]))
      g_ptr_array_remove_index(names, i);
  return names;
}

static void
remove_earlier(const char *folder, const GPtrArray *outputs)
{
  g_autoptr(GPtrArray) names = earlier_of(outputs);
  for (guint i = 0; i < names->len; i++)
    remove_in(folder, names->pdata[i]);
}

/* What a run that was killed left; we hold the lock, so nobody writes them now. */
static void
remove_unfinished(const char *folder, const GPtrArray *outputs)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *of = hf_file_unfinished(name);
    if (of != NULL && is_output(outputs, of))
      remove_in(folder, name);
  }
}

/* ---- a cured recipe that somebody went on with ------------------------------------------------
 */

/* It is ours when it is just what we are about to write, or when the report tells of these bytes.
 */
static gboolean
is_as_left(const char *folder, GBytes *there, const GPtrArray *outputs)
{
  for (guint i = 0; i < outputs->len; i++)
    if (strcmp(output_at(outputs, i)->name, CURED) == 0 &&
        g_bytes_equal(output_at(outputs, i)->bytes, there))
      return TRUE;
  g_autofree char *path = g_build_filename(folder, "report.json", NULL);
  g_autoptr(GBytes) report = hf_file_read(path, REPORT_MAX_BYTES, NULL);
  g_autofree char *digest = hf_file_digest(g_bytes_get_data(there, NULL), g_bytes_get_size(there));
  return report != NULL && g_strstr_len(g_bytes_get_data(report, NULL),
                                        (gssize)g_bytes_get_size(report), digest) != NULL;
}

/* cured-1.yaml, or the first such name that is free. */
static gboolean
put_aside(const char *folder, const char *path, GBytes *there, char **ret_kept, GError **error)
{
  for (guint i = 1;; i++) {
    g_autofree char *name = g_strdup_printf("cured-%u.yaml", i);
    g_autofree char *aside = g_build_filename(folder, name, NULL);
    g_autoptr(GError) inner = NULL;
    if (hf_file_write_new(aside, g_bytes_get_data(there, NULL), g_bytes_get_size(there), &inner)) {
      g_unlink(path);
      if (ret_kept != NULL)
        *ret_kept = g_steal_pointer(&aside);
      return TRUE;
    }
    if (inner->code != HF_ERROR_NO_ROOM) {
      g_propagate_error(error, g_steal_pointer(&inner));
      return FALSE;
    }
  }
}

static gboolean
keep_cured(const char *folder, const GPtrArray *outputs, char **ret_kept, GError **error)
{
  g_autofree char *path = g_build_filename(folder, CURED, NULL);
  g_autoptr(GError) inner = NULL;
  g_autoptr(GBytes) there = hf_file_read(path, HF_RECIPE_MAX_BYTES, &inner);
  if (there == NULL && inner->code == HF_ERROR_NOT_FOUND)
    return TRUE;
  if (there == NULL) {
    g_propagate_error(error, g_steal_pointer(&inner));
    return FALSE;
  }
  return is_as_left(folder, there, outputs) || put_aside(folder, path, there, ret_kept, error);
}

static gboolean
write_into(const char *folder, const HfOutput *output, GError **error)
{
  g_autofree char *path = g_build_filename(folder, output->name, NULL);
  gsize length;
  const void *bytes = g_bytes_get_data(output->bytes, &length);
  return hf_file_write(path, bytes, length, error);
}

static gboolean
write_all(const char *folder, const GPtrArray *outputs, const HfCancel *cancel, char **ret_kept,
          GError **error)
{
  if (!hf_file_make_folder(folder, error))
    return FALSE;
  g_autoptr(HfFolderLock) lock = hf_folder_lock(folder, 30, error);
  if (lock == NULL || !hf_cancel_check(cancel, error))
    return FALSE;
  if (!keep_cured(folder, outputs, ret_kept, error))
    return FALSE;
  remove_unfinished(folder, outputs);
  remove_earlier(folder, outputs);
  for (guint i = 0; i < outputs->len; i++)
    if (!write_into(folder, output_at(outputs, i), error))
      return FALSE;
  return TRUE;
}

static gboolean
is_same_file(const char *path, const char *file)
{
  struct stat ours, theirs;
  return file != NULL && stat(path, &ours) == 0 && stat(file, &theirs) == 0 &&
         ours.st_dev == theirs.st_dev && ours.st_ino == theirs.st_ino;
}

/* Whoever makes cured/cured.yaml or report/report.json into the folder they lie in would lose them.
 */
static gboolean
spares_inputs(const HfSign *sign, const char *folder, const GPtrArray *outputs, GError **error)
{
  g_autoptr(GPtrArray) names = earlier_of(outputs);
  for (guint i = 0; i < outputs->len; i++)
    g_ptr_array_add(names, g_strdup(output_at(outputs, i)->name));
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *path = g_build_filename(folder, names->pdata[i], NULL);
    gboolean recipe = is_same_file(path, sign->recipe->file);
    if (!recipe && !is_same_file(path, sign->shop->file))
      continue;
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "give another folder with -o",
                 "%s is the %s itself, and would be written over", path,
                 recipe ? "recipe" : "shop file");
    return FALSE;
  }
  return TRUE;
}

gboolean
hf_job_write(const HfJob *job, const char *folder, const HfCancel *cancel, char **ret_kept,
             GError **error)
{
  g_return_val_if_fail(job->outputs != NULL, FALSE);
  const HfSign *sign = hf_job_sign(job, 0);
  g_autofree char *into = g_build_filename(folder, sign->recipe->name, NULL);
  return spares_inputs(sign, into, job->outputs, error) &&
         write_all(into, job->outputs, cancel, ret_kept, error);
}
