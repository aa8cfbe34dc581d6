/* SPDX-License-Identifier: GPL-3.0-or-later
 * worker.c - takes the newest text through the stages, in a thread of its own.
 *
 *   main loop   text 7 ─┐   text 8 ─┐   text 9 ─┐          view 9
 *   thread              └─ run 7 ──── stopped   └─ run 9 ────┘
 *
 * At most one text waits; a newer one takes its place. The run of an older one is asked to stop,
 * but the one after it has a second: who drags faster than the sign can be worked out still sees it
 * move.
 *
 * What comes of a run belongs to the worker until it is told: with the worker it goes untold.
 */
#include "page/page-private.h"

enum { SPARED_MS = 1000 };

typedef struct {
  HfVersion *version;
  HfCancel cancel;
} Turn;

typedef struct {
  guint64 revision;
  GBytes *view;  /* (nullable) */
  GError *error; /* (nullable) */
} Result;

struct HfWorker {
  HfPage *page; /* main loop only */
  HfLatest *latest;
  GThread *thread;
  guint enough;         /* source, main loop only; 0: none */
  GAsyncQueue *results; /* Result *: not told yet; as many idle sources with the worker as data */
  GMutex lock;
  GCond changed;
  Turn *next; /* all below: under the lock */
  Turn *running;
  gboolean spared; /* the run before was stopped: this one has some time */
  gboolean over;
};

static void
turn_free(Turn *turn)
{
  if (turn == NULL)
    return;
  hf_version_free(turn->version);
  g_free(turn);
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

/* What was stopped comes to nothing: a newer text is on its way. */
static GBytes *
make_view(HfLatest *latest, const Turn *turn, GError **error)
{
  const HfVersion *version = turn->version;
  HfRunOptions options = {NULL, &turn->cancel, TRUE};
  g_autoptr(GError) inner = NULL;
  g_autoptr(HfSign) sign =
      hf_run_text(version->text, version->length, version->file, &options, &inner);
  if (!g_error_matches(inner, HF_ERROR, HF_ERROR_CANCELLED))
    hf_latest_put(latest, version->revision, sign, inner);
  if (inner != NULL)
    g_propagate_error(error, g_steal_pointer(&inner));
  return sign != NULL ? hf_run_view(sign, version->revision, &turn->cancel) : NULL;
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
  gboolean stopped = g_error_matches(result->error, HF_ERROR, HF_ERROR_CANCELLED);
  if (newest && !stopped) {
    page->run_of = result->revision;
    hf_page_settled(page);
  }
  if (result->error != NULL && newest && !stopped) {
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
take_turn(HfWorker *worker, const Turn *turn)
{
  Result *result = g_new0(Result, 1);
  result->revision = turn->version->revision;
  result->view = make_view(worker->latest, turn, &result->error);
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
    Turn *turn = worker->running = g_steal_pointer(&worker->next);
    g_mutex_unlock(&worker->lock);
    take_turn(worker, turn);
    g_mutex_lock(&worker->lock);
    worker->running = NULL;
    worker->spared = g_atomic_int_get(&turn->cancel.asked) != 0;
    turn_free(turn);
  }
  g_mutex_unlock(&worker->lock);
  return NULL;
}

/* ---- in the main loop ---------------------------------------------------------------------- */

/* A newer text has waited long enough for the run that was spared. */
static gboolean
on_enough(gpointer data)
{
  HfWorker *worker = data;
  worker->enough = 0;
  g_mutex_lock(&worker->lock);
  if (worker->running != NULL && worker->next != NULL)
    hf_cancel_ask(&worker->running->cancel);
  g_mutex_unlock(&worker->lock);
  return G_SOURCE_REMOVE;
}

void
hf_worker_run(HfWorker *worker)
{
  Turn *turn = g_new0(Turn, 1);
  turn->version = hf_version_of(worker->page);
  g_mutex_lock(&worker->lock);
  turn_free(worker->next);
  worker->next = turn;
  if (worker->running != NULL && !worker->spared)
    hf_cancel_ask(&worker->running->cancel);
  else if (worker->running != NULL && worker->enough == 0)
    worker->enough = g_timeout_add(SPARED_MS, on_enough, worker);
  g_cond_signal(&worker->changed);
  g_mutex_unlock(&worker->lock);
}

HfWorker *
hf_worker_new(HfPage *page, GError **error)
{
  HfWorker *worker = g_new0(HfWorker, 1);
  worker->page = page;
  worker->latest = page->latest;
  worker->results = g_async_queue_new_full(result_free);
  g_mutex_init(&worker->lock);
  g_cond_init(&worker->changed);
  worker->thread = hf_page_thread("run", work, worker, error);
  if (worker->thread != NULL)
    return worker;
  hf_worker_free(worker);
  return NULL;
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
  if (worker->thread != NULL)
    g_thread_join(worker->thread);
  turn_free(worker->next);
  g_clear_handle_id(&worker->enough, g_source_remove);
  g_mutex_clear(&worker->lock);
  g_cond_clear(&worker->changed);
  while (g_idle_remove_by_data(worker))
    ;
  g_async_queue_unref(worker->results);
  g_free(worker);
}
