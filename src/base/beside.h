/* SPDX-License-Identifier: GPL-3.0-or-later
 * beside.h - work in a thread of its own, or here and now where there is none to be had.
 */
#pragma once
#include <glib.h>

/** hf_beside_memory_is_limited: does this process have a limit on its address space? */
gboolean hf_beside_memory_is_limited(void);
/** hf_beside_own_stack: under such a limit, a handler of signals that asks for another stack
 *  (SA_ONSTACK) has one in this thread from now on. 16 kB a thread. */
void hf_beside_own_stack(void);
/** hf_beside_thread: (nullable) g_thread_try_new(), with such a stack; it tells lengths
 *  in the unit of who begins it. %NULL: no thread is left. */
GThread *hf_beside_thread(const char *name, GThreadFunc func, gpointer data);

typedef struct {
  GThread *thread; /* (nullable) */
  gpointer result; /* without a thread: what came of it */
} HfBeside;

/** hf_beside: begins @func(@data); a machine that has no thread left does it before this returns.
 */
static inline HfBeside
hf_beside(const char *name, GThreadFunc func, gpointer data)
{
  GThread *thread = hf_beside_thread(name, func, data);
  return (HfBeside){thread, thread == NULL ? func(data) : NULL};
}

/** hf_beside_end: waits for it. Returns: what it came to. Once. */
static inline gpointer
hf_beside_end(HfBeside *beside)
{
  return beside->thread != NULL ? g_thread_join(g_steal_pointer(&beside->thread)) : beside->result;
}

/** hf_beside_hands: up to @most hands that all do @func(@data) until nothing is left to do; without
 *  any thread it is all done before this returns. @ret_hands: room for @most. Returns: how many. */
static inline guint
hf_beside_hands(const char *name, GThreadFunc func, gpointer data, guint most, GThread **ret_hands)
{
  guint n = 0;
  while (n < most && (ret_hands[n] = hf_beside_thread(name, func, data)) != NULL)
    n++;
  if (n == 0 && most > 0)
    func(data);
  return n;
}
