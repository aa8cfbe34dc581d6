/* SPDX-License-Identifier: GPL-3.0-or-later
 * interrupts.c - Ctrl-C and its like: asked once, the work ends at its next pause, and where that
 * is too far off the program ends without it; asked twice, at once.
 *
 *   every thread   the signals are blocked
 *   one thread     waits for them and asks: there is no handler, and nothing global for one
 *
 *   signal ── asked ── PATIENCE ── (half written: until it is whole or gone) ── _exit
 *
 * Work that does not look at the flag is in the midst of geometry and holds nothing that outlives
 * the program. What writes is waited for, so nothing is left behind.
 */
#include "base/beside.h"
#include "base/file.h"
#include "cli/cli-private.h"
#include <pthread.h>
#include <signal.h>
#include <stdio.h>
#include <unistd.h>

enum { PATIENCE_US = 100000, WRITING_US = 3000000, LOOK_US = 5000 };

static sigset_t
signals(void)
{
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  sigaddset(&set, SIGTERM);
  return set;
}

/* What was printed before is not lost; whoever is printing right now does not hold this up. */
static void
flush_what_was_printed(void)
{
  if (ftrylockfile(stdout) != 0)
    return;
  fflush_unlocked(stdout);
  funlockfile(stdout);
}

void
hf_cli_leave(int code)
{
  gint64 asked = g_get_monotonic_time();
  g_usleep(PATIENCE_US);
  while (hf_file_is_writing() && g_get_monotonic_time() < asked + WRITING_US)
    g_usleep(LOOK_US);
  flush_what_was_printed();
  _exit(code);
}

static gpointer
leave(gpointer data G_GNUC_UNUSED)
{
  hf_cli_leave(130);
  return NULL;
}

static gpointer
wait_for_them(gpointer data)
{
  HfCancel *cancel = data;
  sigset_t set = signals();
  int number;
  while (sigwait(&set, &number) == 0) {
    if (g_atomic_int_get(&cancel->asked) != 0)
      _exit(130); /* files are whole or as they were */
    hf_cancel_ask(cancel);
    g_autoptr(GThread) leaving = hf_beside_thread("leave", leave, NULL);
    if (leaving == NULL)
      hf_cli_leave(130);
  }
  return NULL;
}

const HfCancel *
hf_cli_interrupts(void)
{
  HfCancel *cancel = g_new0(HfCancel, 1); /* the thread's: it ends with the program */
  sigset_t set = signals();
  pthread_sigmask(SIG_BLOCK, &set, NULL);
  g_autoptr(GThread) thread = hf_beside_thread("interrupts", wait_for_them, cancel);
  if (thread == NULL)
    pthread_sigmask(SIG_UNBLOCK, &set, NULL); /* then a signal ends the program as it always does */
  return cancel;
}
