/* SPDX-License-Identifier: GPL-3.0-or-later
 * later.c - answers that take a while: worked out in another thread, the exchange waits.
 *
 *   main loop   call ── pause ─────────────────────── answer, unpause
 *   pool               └─ work(snapshot) ── bytes ─┘
 *
 * The work sees a copy of what it needs, never the page itself. What is done belongs to HfLater
 * until it is answered: when the page ends it goes unanswered, with the connection that waited for
 * it.
 */
#include "base/beside.h"
#include "page/page-private.h"

enum { HANDS = 2 };

struct HfLater {
  HfPage *page;
  GThreadPool *pool;
  GAsyncQueue *done; /* Work *: not answered yet; as many idle sources with this as data */
  HfCancel cancel;   /* asked when the page ends */
};

typedef struct {
  SoupServerMessage *message;
  HfWorkFunc work;
  HfReadyFunc ready; /* (nullable) */
  gpointer data;
  GDestroyNotify free_data;
  const char *type;
  GBytes *bytes;
  GError *error;
} Work;

static void
work_free(gpointer pointer)
{
  Work *work = pointer;
  g_object_unref(work->message);
  work->free_data(work->data);
  g_clear_pointer(&work->bytes, g_bytes_unref);
  g_clear_error(&work->error);
  g_free(work);
}

static gboolean
on_done(gpointer pointer)
{
  const HfLater *later = pointer;
  HfPage *page = later->page;
  Work *work = g_async_queue_pop(later->done);
  if (work->ready != NULL && work->bytes != NULL)
    work->ready(page, work->data);
  if (work->bytes != NULL)
    hf_answer(work->message, SOUP_STATUS_OK, work->type, work->bytes);
  else
    hf_answer_error(page, work->message, 0, work->error);
  soup_server_message_unpause(work->message);
  work_free(work);
  return G_SOURCE_REMOVE;
}

static void
do_work(gpointer pointer, gpointer data)
{
  Work *work = pointer;
  HfLater *later = data;
  hf_beside_own_stack();
  work->type = "application/json; charset=utf-8";
  if (hf_cancel_check(&later->cancel, &work->error))
    work->bytes = work->work(work->data, &work->type, &later->cancel, &work->error);
  g_async_queue_push(later->done, work);
  g_idle_add_full(G_PRIORITY_DEFAULT, on_done, later, NULL);
}

void
hf_later(HfPage *page, SoupServerMessage *message, HfWorkFunc func, HfReadyFunc ready,
         gpointer data, GDestroyNotify free_data)
{
  Work *work = g_new0(Work, 1);
  *work = (Work){g_object_ref(message), func, ready, data, free_data, NULL, NULL, NULL};
  hf_visitors_serving(hf_gate_visitors(page->gate), message);
  soup_server_message_pause(message);
  g_thread_pool_push(page->later->pool, work, NULL);
}

HfLater *
hf_later_new(HfPage *page, GError **error)
{
  HfLater *later = g_new0(HfLater, 1);
  g_autoptr(GError) inner = NULL;
  later->page = page;
  later->done = g_async_queue_new_full(work_free);
  later->pool = g_thread_pool_new(do_work, later, HANDS, TRUE, &inner); /* all hands at once */
  if (inner == NULL)
    return later;
  hf_page_no_thread(error);
  hf_later_free(later);
  return NULL;
}

void
hf_later_free(HfLater *later)
{
  if (later == NULL)
    return;
  hf_cancel_ask(&later->cancel);
  if (later->pool != NULL)
    g_thread_pool_free(later->pool, FALSE, TRUE);
  while (g_idle_remove_by_data(later))
    ;
  g_async_queue_unref(later->done);
  g_free(later);
}
