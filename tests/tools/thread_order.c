/* SPDX-License-Identifier: GPL-3.0-or-later
 * thread_order.c - tells the thread sanitizer what GLib orders.
 *
 * GLib's locks are futexes in a library that is not instrumented: the sanitizer sees neither them
 * nor that what one thread wrote before unlocking is what another reads after locking, and would
 * call every use of theirs a race. Linked into a test, these take the place of GLib's own (for our
 * calls), do what those do, and say the order. Threads themselves are pthreads, which the sanitizer
 * knows.
 *
 * What stays unseen: accesses inside of GLib, libsoup and the other libraries (a GHashTable of ours
 * that two threads share without a lock would not show; its keys and values would).
 */
#include <dlfcn.h>
#include <glib.h>

#undef g_once_init_enter
#undef g_once_init_leave

void __tsan_acquire(void *address);
void __tsan_release(void *address);

#define QUIET __attribute__((no_sanitize("thread")))

/* GLib's own; asked for when it is needed: other libraries' constructors lock before ours are run.
 */
#define THEIRS(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

/* ---- locks ---------------------------------------------------------------------------------- */

QUIET void
g_mutex_lock(GMutex *mutex)
{
  THEIRS(g_mutex_lock)(mutex);
  __tsan_acquire(mutex);
}

QUIET void
g_mutex_unlock(GMutex *mutex)
{
  __tsan_release(mutex);
  THEIRS(g_mutex_unlock)(mutex);
}

QUIET gboolean
g_mutex_trylock(GMutex *mutex)
{
  gboolean locked = THEIRS(g_mutex_trylock)(mutex);
  if (locked)
    __tsan_acquire(mutex);
  return locked;
}

QUIET void
g_cond_wait(GCond *cond, GMutex *mutex)
{
  __tsan_release(mutex);
  THEIRS(g_cond_wait)(cond, mutex);
  __tsan_acquire(mutex);
}

QUIET gboolean
g_cond_wait_until(GCond *cond, GMutex *mutex, gint64 end)
{
  __tsan_release(mutex);
  gboolean told = THEIRS(g_cond_wait_until)(cond, mutex, end);
  __tsan_acquire(mutex);
  return told;
}

QUIET
gboolean
g_once_init_enter(volatile void *location)
{
  gboolean first = THEIRS(g_once_init_enter)(location);
  __tsan_acquire((void *)location);
  return first;
}

QUIET void
g_once_init_leave(volatile void *location, gsize result)
{
  __tsan_release((void *)location);
  THEIRS(g_once_init_leave)(location, result);
}

/* ---- what goes from thread to thread --------------------------------------------------------- */

QUIET void
g_async_queue_push(GAsyncQueue *queue, gpointer data)
{
  __tsan_release(data);
  THEIRS(g_async_queue_push)(queue, data);
}

QUIET gpointer
g_async_queue_pop(GAsyncQueue *queue)
{
  gpointer data = THEIRS(g_async_queue_pop)(queue);
  __tsan_acquire(data);
  return data;
}

typedef struct {
  GSourceFunc func;
  gpointer data;
  GDestroyNotify notify;
} Idle;

QUIET static gboolean
on_idle(gpointer data)
{
  Idle *idle = data;
  __tsan_acquire(idle->data);
  return idle->func(idle->data);
}

QUIET static void
idle_free(gpointer data)
{
  Idle *idle = data;
  __tsan_acquire(idle->data);
  idle->notify(idle->data);
  g_free(idle);
}

/* Without a notify the source may be looked for by its data, and gets it through a queue. */
QUIET guint
g_idle_add_full(gint priority, GSourceFunc func, gpointer data, GDestroyNotify notify)
{
  if (notify == NULL)
    return THEIRS(g_idle_add_full)(priority, func, data, NULL);
  Idle *idle = g_new(Idle, 1);
  *idle = (Idle){func, data, notify};
  __tsan_release(data);
  return THEIRS(g_idle_add_full)(priority, on_idle, idle, idle_free);
}

typedef struct {
  GFunc func;
  gpointer data;
} Pool;

QUIET static void
on_work(gpointer work, gpointer data)
{
  Pool *pool = data;
  __tsan_acquire(work);
  pool->func(work, pool->data);
  __tsan_release(pool);
}

QUIET GThreadPool *
g_thread_pool_new(GFunc func, gpointer data, gint most, gboolean exclusive, GError **error)
{
  Pool *pool = g_new(Pool, 1);
  *pool = (Pool){func, data};
  return THEIRS(g_thread_pool_new)(on_work, pool, most, exclusive, error);
}

QUIET gboolean
g_thread_pool_push(GThreadPool *pool, gpointer work, GError **error)
{
  __tsan_release(work);
  return THEIRS(g_thread_pool_push)(pool, work, error);
}

/* All ours are waited for. */
QUIET void
g_thread_pool_free(GThreadPool *pool, gboolean immediate, gboolean wait)
{
  Pool *own = pool->user_data;
  g_assert_true(wait);
  THEIRS(g_thread_pool_free)(pool, immediate, wait);
  __tsan_acquire(own);
  g_free(own);
}
