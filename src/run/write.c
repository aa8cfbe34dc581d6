/* SPDX-License-Identifier: GPL-3.0-or-later
 * write.c - all outputs of a job into FOLDER/NAME/: wholly the old ones, wholly the new ones, or no
 * report.
 *
 *   1  the folder is made, locked, and from then on held by its descriptor
 *   2  every file is staged beside its place                     until here all is as it was
 *   3  the old report goes                                       from here on there is none
 *   4  a cured recipe that somebody went on with is put aside; outlines, programs and cured recipes
 *      of earlier runs that this job does not make go
 *   5  each file is moved into its place
 *   6  the report comes last, with the digest of every file      all is new
 *
 * The disk can be full at 2 only: the rest needs no room. Whoever is stopped between 3 and 6 leaves
 * a folder without a report, and the next job says so; outlines of a sign that is not whole never
 * lie beside outlines that may be cut, nor under their name.
 */
#include "base/file.h"
#include "base/folder.h"
#include "run/job.h"
#include <string.h>

enum { LOCK_SECONDS = 30 };
#define REPORT_MAX_BYTES ((gsize)64 << 20)

/* What has become of the folder when it could not go on. */
#define AS_IT_WAS "the folder is as it was"
#define HALF_DONE                                                                                  \
  "the folder has files of two runs and no report: do not cut from it, make it again"

static const HfOutput *
output_at(const GPtrArray *outputs, guint i)
{
  return g_ptr_array_index(outputs, i);
}

/* (nullable) the output of that name. */
static const HfOutput *
output_called(const GPtrArray *outputs, const char *name)
{
  for (guint i = 0; i < outputs->len; i++)
    if (strcmp(output_at(outputs, i)->name, name) == 0)
      return output_at(outputs, i);
  return NULL;
}

/* The one name of the files about @about, where the verdict does not change it. */
static char *
name_about(HfAbout about)
{
  for (guint i = 0; hf_format(i) != NULL; i++)
    if (hf_format(i)->about == about)
      return hf_format_name(hf_format(i), HF_LAYER_UNSAID, TRUE);
  g_return_val_if_reached(NULL);
}

/* ---- what lies there ----------------------------------------------------------------------- */

/* Whoever makes cured/cured.yaml or report/report.json into the folder they lie in would lose them.
 */
static gboolean
spares_inputs(const HfFolder *folder, const HfSign *sign, const GPtrArray *names, GError **error)
{
  const char *const files[] = {sign->recipe->file, sign->shop->file};
  struct stat input, there;
  for (guint k = 0; k < G_N_ELEMENTS(files); k++) {
    if (files[k] == NULL || stat(files[k], &input) != 0)
      continue;
    for (guint i = 0; i < names->len; i++) {
      if (!hf_folder_stat(folder, names->pdata[i], &there) || there.st_dev != input.st_dev ||
          there.st_ino != input.st_ino)
        continue;
      g_autofree char *path = g_build_filename(hf_folder_path(folder), names->pdata[i], NULL);
      hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "give another folder with -o",
                   "%s is the %s itself, and would be written over", path,
                   k == 0 ? "recipe" : "shop file");
      return FALSE;
    }
  }
  return TRUE;
}

/* Are there files of an earlier run, but no report of them? */
static gboolean
is_half_done(const HfFolder *folder, const GPtrArray *names, const char *report)
{
  struct stat info;
  if (hf_folder_stat(folder, report, &info))
    return FALSE;
  for (guint i = 0; i < names->len; i++)
    if (hf_folder_stat(folder, names->pdata[i], &info))
      return TRUE;
  return FALSE;
}

/* It is ours when it is just what we are about to write, or when the report tells of these bytes.
 */
static gboolean
is_as_left(const HfFolder *folder, GBytes *there, const HfOutput *ours, const char *report_name)
{
  if (ours != NULL && g_bytes_equal(ours->bytes, there))
    return TRUE;
  g_autoptr(GBytes) report = hf_folder_read(folder, report_name, REPORT_MAX_BYTES, NULL);
  g_autofree char *digest = hf_file_digest(g_bytes_get_data(there, NULL), g_bytes_get_size(there));
  return report != NULL && g_strstr_len(g_bytes_get_data(report, NULL),
                                        (gssize)g_bytes_get_size(report), digest) != NULL;
}

/* Did somebody go on with the cured recipe that lies there? */
static gboolean
look_at_cured(const HfFolder *folder, const char *cured, const GPtrArray *outputs,
              const char *report, gboolean *ret_theirs, GError **error)
{
  g_autoptr(GError) inner = NULL;
  g_autoptr(GBytes) there = hf_folder_read(folder, cured, HF_RECIPE_MAX_BYTES, &inner);
  *ret_theirs = there != NULL && !is_as_left(folder, there, output_called(outputs, cured), report);
  if (there != NULL || inner->code == HF_ERROR_NOT_FOUND)
    return TRUE;
  g_propagate_error(error, g_steal_pointer(&inner));
  return FALSE;
}

/* ---- the folder turns from old to new ------------------------------------------------------ */

static gboolean
stage_all(HfFolder *folder, const GPtrArray *outputs, GError **error)
{
  for (guint i = 0; i < outputs->len; i++)
    if (!hf_folder_stage(folder, output_at(outputs, i)->name, output_at(outputs, i)->bytes,
                         AS_IT_WAS, error))
      return FALSE;
  return TRUE;
}

static gboolean
remove_earlier(HfFolder *folder, const GPtrArray *names, const GPtrArray *outputs, GError **error)
{
  for (guint i = 0; i < names->len; i++)
    if (output_called(outputs, names->pdata[i]) == NULL &&
        !hf_folder_remove(folder, names->pdata[i], HALF_DONE, error))
      return FALSE;
  return TRUE;
}

/* The report is the last of the outputs, and waits until all the others are down on the disk. */
static gboolean
place_all(HfFolder *folder, const GPtrArray *outputs, GError **error)
{
  for (guint i = 0; i < outputs->len; i++) {
    gboolean last = output_at(outputs, i)->format->about == HF_ABOUT_REPORT;
    if ((last && !hf_folder_sync(folder, HALF_DONE, error)) ||
        !hf_folder_place(folder, output_at(outputs, i)->name, HALF_DONE, error))
      return FALSE;
  }
  return hf_folder_sync(folder, "all of it is there", error);
}

static gboolean
put_aside(HfFolder *folder, const char *name, char **ret_kept, GError **error)
{
  g_autofree char *aside = NULL;
  if (!hf_folder_put_aside(folder, name, HALF_DONE, &aside, error))
    return FALSE;
  *ret_kept = g_build_filename(hf_folder_path(folder), aside, NULL);
  return TRUE;
}

static gboolean
turn_over(HfFolder *folder, const GPtrArray *names, const GPtrArray *outputs, HfLeft *left,
          GError **error)
{
  g_autofree char *report = name_about(HF_ABOUT_REPORT), *cured = name_about(HF_ABOUT_CURED);
  gboolean theirs = FALSE;
  if (is_half_done(folder, names, report))
    left->half_done = g_strdup(hf_folder_path(folder));
  return look_at_cured(folder, cured, outputs, report, &theirs, error) &&
         hf_folder_remove(folder, report, AS_IT_WAS, error) &&
         hf_folder_sync(folder, HALF_DONE, error) &&
         (!theirs || put_aside(folder, cured, &left->kept, error)) &&
         remove_earlier(folder, names, outputs, error) && place_all(folder, outputs, error);
}

gboolean
hf_job_write(const HfJob *job, const char *folder, const HfCancel *cancel, HfLeft *ret_left,
             GError **error)
{
  g_return_val_if_fail(job->outputs != NULL, FALSE);
  const HfSign *sign = hf_job_sign(job, 0);
  g_autofree char *path = g_build_filename(folder, sign->recipe->name, NULL);
  g_autoptr(HfFolder) into = hf_folder_open(path, LOCK_SECONDS, error);
  if (into == NULL || !hf_cancel_check(cancel, error))
    return FALSE;
  g_autoptr(GPtrArray) names = hf_format_earlier();
  g_auto(HfLeft) left = {NULL};
  if (!spares_inputs(into, sign, names, error))
    return FALSE;
  hf_folder_sweep(into, names);
  if (!stage_all(into, job->outputs, error) || !hf_cancel_check(cancel, error) ||
      !turn_over(into, names, job->outputs, &left, error))
    return FALSE;
  if (ret_left != NULL) {
    *ret_left = left;
    left = (HfLeft){NULL};
  }
  return TRUE;
}

void
hf_left_clear(HfLeft *left)
{
  g_clear_pointer(&left->kept, g_free);
  g_clear_pointer(&left->half_done, g_free);
}
