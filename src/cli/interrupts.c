/* SPDX-License-Identifier: GPL-3.0-or-later
 * interrupts.c - Ctrl-C and its like: asked once, the work ends at its next pause; asked twice, at
 * once.
 *
 *   every thread   the signals are blocked
 *   one thread     waits for them and asks: there is no handler, and nothing global for one
 */
#include "cli/cli-private.h"
#include <pthread.h>
#include <signal.h>
#include <unistd.h>

static sigset_t
signals(void)
{
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  sigaddset(&set, SIGTERM);
  return set;
}

static gpointer
wait_for_them(gpointer data)
{
  HfCancel *cancel = data;
  sigset_t set = signals();
  int number;
  while (sigwait(&set, &number) == 0) {
    if (!hf_cancel_check(cancel, NULL))
      _exit(130); /* files are whole or as they were */
    hf_cancel_ask(cancel);
  }
  return NULL;
}

const HfCancel *
hf_cli_interrupts(void)
{
  HfCancel *cancel = g_new0(HfCancel, 1); /* the thread's: it ends with the program */
  sigset_t set = signals();
  pthread_sigmask(SIG_BLOCK, &set, NULL);
  g_autoptr(GThread) thread = g_thread_try_new("interrupts", wait_for_them, cancel, NULL);
  if (thread == NULL)
    pthread_sigmask(SIG_UNBLOCK, &set, NULL); /* then a signal ends the program as it always does */
  return cancel;
}
