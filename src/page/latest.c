/* SPDX-License-Identifier: GPL-3.0-or-later
 * latest.c - the sign of the newest text, for whoever needs it: worked out once, by the worker.
 *
 *   worker ── put 9 ──> sign 9 ──┬── view      what is shown
 *                                ├── make      is what is made
 *                                └── cures     and what cures are looked for
 *
 * Whoever comes before it is there waits for it. Whoever comes with an older text, whose run was
 * skipped or stopped for a newer one, works that out alone.
 */
#include "page/page-private.h"

enum { LOOK_US = 100000 }; /* how often one who waits looks whether the page ends */

HfVersion *
hf_version_of(const HfPage *page)
{
  HfVersion *version = g_new0(HfVersion, 1);
  const char *text = hf_document_text(page->document, &version->length);
  version->text = g_strndup(text, version->length);
  version->file = g_strdup(hf_document_file(page->document));
  version->revision = page->revision;
  return version;
}

void
hf_version_free(HfVersion *version)
{
  if (version == NULL)
    return;
  g_free(version->file);
  g_free(version->text);
  g_free(version);
}

struct HfLatest {
  GMutex lock;
  GCond changed;
  guint64 revision; /* of what was put last; all below belongs to it */
  HfJob *job;       /* (nullable) of that sign; nothing of it is made */
  GError *error;    /* (nullable) why there is none */
};

HfLatest *
hf_latest_new(void)
{
  HfLatest *latest = g_new0(HfLatest, 1);
  g_mutex_init(&latest->lock);
  g_cond_init(&latest->changed);
  return latest;
}

void
hf_latest_free(HfLatest *latest)
{
  if (latest == NULL)
    return;
  hf_job_free(latest->job);
  g_clear_error(&latest->error);
  g_cond_clear(&latest->changed);
  g_mutex_clear(&latest->lock);
  g_free(latest);
}

void
hf_latest_put(HfLatest *latest, guint64 revision, const HfSign *sign, const GError *error)
{
  g_mutex_lock(&latest->lock);
  HfJob *old = latest->job;
  g_clear_error(&latest->error);
  latest->revision = revision;
  latest->job = sign != NULL ? hf_job_new(sign, (HfWishes){0}) : NULL;
  latest->error = error != NULL ? g_error_copy(error) : NULL;
  g_cond_broadcast(&latest->changed);
  g_mutex_unlock(&latest->lock);
  hf_job_free(old);
}

/* %FALSE: a newer one is there, or the page ends. */
static gboolean
wait_for(HfLatest *latest, guint64 revision, const HfCancel *cancel)
{
  while (latest->revision < revision && hf_cancel_check(cancel, NULL))
    g_cond_wait_until(&latest->changed, &latest->lock, g_get_monotonic_time() + LOOK_US);
  return latest->revision == revision;
}

HfJob *
hf_latest_job(HfLatest *latest, const HfVersion *version, HfWishes wishes, const HfCancel *cancel,
              GError **error)
{
  HfJob *job = NULL;
  g_mutex_lock(&latest->lock);
  gboolean there = wait_for(latest, version->revision, cancel);
  if (there && latest->job != NULL)
    job = hf_job_new(hf_job_sign(latest->job, 0), wishes);
  else if (there)
    g_propagate_error(error, g_error_copy(latest->error));
  g_mutex_unlock(&latest->lock);
  if (there || !hf_cancel_check(cancel, error))
    return job;
  HfRunOptions options = {NULL, cancel, FALSE};
  g_autoptr(HfSign) sign =
      hf_run_text(version->text, version->length, version->file, &options, error);
  return sign != NULL ? hf_job_new(sign, wishes) : NULL;
}
