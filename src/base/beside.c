/* SPDX-License-Identifier: GPL-3.0-or-later
 * beside.c - threads, each with a place to stand on when its own stack is at its end.
 *
 * Under a limit on memory some libraries (GLib's own message about it, fontconfig) call themselves
 * until their stack has no end. Who catches that signal needs another stack, and a thread has none
 * unless it asks: one thread in three hundred runs ended the program without a word.
 */
#include "base/beside.h"
#include "base/units.h"
#include <signal.h>
#include <sys/resource.h>

gboolean
hf_beside_memory_is_limited(void)
{
  struct rlimit limit;
  return getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY;
}

/* A sanitizer, which knows no such limit, has a stack of its own here, and wants it back. */
void
hf_beside_own_stack(void)
{
  static _Thread_local char own[1 << 14];
  if (hf_beside_memory_is_limited())
    (void)sigaltstack(&(stack_t){.ss_sp = own, .ss_size = sizeof own}, NULL);
}

typedef struct {
  GThreadFunc func;
  gpointer data;
  HfUnits units; /* of who begins it */
} Start;

static gpointer
run(gpointer data)
{
  g_autofree Start *start = data;
  hf_beside_own_stack();
  hf_units_swap(start->units);
  return start->func(start->data);
}

GThread *
hf_beside_thread(const char *name, GThreadFunc func, gpointer data)
{
  Start *start = g_new(Start, 1);
  *start = (Start){func, data, hf_units_now()};
  GThread *thread = g_thread_try_new(name, run, start, NULL);
  if (thread == NULL)
    g_free(start);
  return thread;
}
