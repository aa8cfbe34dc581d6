/* SPDX-License-Identifier: GPL-3.0-or-later
 * worker.c - takes the newest text through the stages, in a thread of its own.
 *
 *   main loop   text 7 ─┐   text 8 ─┐   text 9 ─┐          view 9
 *   thread              └─ run 7 ──── stopped   └─ run 9 ────┘
 *
 * At most one text waits; a newer one takes its place. The run of an older one is asked to stop,
 * but never two in a row: who drags faster than the sign can be worked out still sees it move.
 *
 * What comes of a run belongs to the worker until it is told: with the worker it goes untold.
 */
#include "page/page-private.h"

typedef struct {
  guint64 revision;
  char *file;
  char *text;
  gsize length;
  HfCancel cancel;
} Job;

typedef struct {
  guint64 revision;
  GBytes *view;  /* (nullable) */
  GError *error; /* (nullable) */
} Result;

struct HfWorker {
  HfPage *page; /* main loop only */
  GThread *thread;
  GAsyncQueue *results; /* Result *: not told yet; as many idle sources with the worker as data */
  GMutex lock;
  GCond changed;
  Job *next; /* all below: under the lock */
  Job *running;
  gboolean spared; /* the run before was stopped: this one may finish */
  gboolean over;
};

static void
job_free(Job *job)
{
  if (job == NULL)
    return;
  g_free(job->file);
  g_free(job->text);
  g_free(job);
}

static void
result_free(gpointer data)
{
  Result *result = data;
  g_clear_pointer(&result->view, g_bytes_unref);
  g_clear_error(&result->error);
  g_free(result);
}

/* ---- in the thread ------------------------------------------------------------------------- */

static GBytes *
make_view(const Job *job, GError **error)
{
  HfRunOptions options = {NULL, &job->cancel, TRUE};
  g_autoptr(HfSign) sign = hf_run_text(job->text, job->length, job->file, &options, error);
  if (sign == NULL)
    return NULL;
  return hf_run_view(sign, job->revision);
}

static void
tell(HfPage *page, Result *result)
{
  gboolean newest = result->revision == page->revision;
  if (result->view != NULL && result->revision > page->view_of) {
    g_clear_pointer(&page->view, g_bytes_unref);
    page->view = g_bytes_ref(result->view);
    page->view_of = result->revision;
    hf_events_tell(page->events, "view", page->view, TRUE);
  }
  if (result->error != NULL && newest &&
      !g_error_matches(result->error, HF_ERROR, HF_ERROR_CANCELLED)) {
    g_clear_error(&page->trouble);
    page->trouble = g_steal_pointer(&result->error);
    g_autoptr(GBytes) state = hf_state_bytes(page, FALSE);
    hf_events_tell(page->events, "state", state, TRUE);
  }
}

static gboolean
on_result(gpointer data)
{
  HfWorker *worker = data;
  Result *result = g_async_queue_pop(worker->results);
  tell(worker->page, result);
  result_free(result);
  return G_SOURCE_REMOVE;
}

static void
do_job(HfWorker *worker, const Job *job)
{
  Result *result = g_new0(Result, 1);
  result->revision = job->revision;
  result->view = make_view(job, &result->error);
  g_async_queue_push(worker->results, result);
  g_idle_add_full(G_PRIORITY_DEFAULT, on_result, worker, NULL);
}

static gpointer
work(gpointer data)
{
  HfWorker *worker = data;
  g_mutex_lock(&worker->lock);
  for (;;) {
    while (worker->next == NULL && !worker->over)
      g_cond_wait(&worker->changed, &worker->lock);
    if (worker->over)
      break;
    Job *job = worker->running = g_steal_pointer(&worker->next);
    g_mutex_unlock(&worker->lock);
    do_job(worker, job);
    g_mutex_lock(&worker->lock);
    worker->running = NULL;
    worker->spared = g_atomic_int_get(&job->cancel.asked) != 0;
    job_free(job);
  }
  g_mutex_unlock(&worker->lock);
  return NULL;
}

/* ---- in the main loop ---------------------------------------------------------------------- */

void
hf_worker_run(HfWorker *worker)
{
  HfPage *page = worker->page;
  Job *job = g_new0(Job, 1);
  const char *text = hf_document_text(page->document, &job->length);
  job->text = g_strndup(text, job->length);
  job->file = g_strdup(hf_document_file(page->document));
  job->revision = page->revision;
  g_mutex_lock(&worker->lock);
  job_free(worker->next);
  worker->next = job;
  if (worker->running != NULL && !worker->spared)
    hf_cancel_ask(&worker->running->cancel);
  g_cond_signal(&worker->changed);
  g_mutex_unlock(&worker->lock);
}

HfWorker *
hf_worker_new(HfPage *page)
{
  HfWorker *worker = g_new0(HfWorker, 1);
  worker->page = page;
  worker->results = g_async_queue_new_full(result_free);
  g_mutex_init(&worker->lock);
  g_cond_init(&worker->changed);
  worker->thread = g_thread_new("run", work, worker);
  return worker;
}

void
hf_worker_free(HfWorker *worker)
{
  if (worker == NULL)
    return;
  g_mutex_lock(&worker->lock);
  worker->over = TRUE;
  if (worker->running != NULL)
    hf_cancel_ask(&worker->running->cancel);
  g_cond_signal(&worker->changed);
  g_mutex_unlock(&worker->lock);
  g_thread_join(worker->thread);
  job_free(worker->next);
  g_mutex_clear(&worker->lock);
  g_cond_clear(&worker->changed);
  while (g_idle_remove_by_data(worker))
    ;
  g_async_queue_unref(worker->results);
  g_free(worker);
}
