/* SPDX-License-Identifier: GPL-3.0-or-later
 * trial.c - one line on disk: `DIGEST w0`.
 *
 *   w   worked out      c   crashed meanwhile      -   it came to something
 *   0   how many times before it was begun and nobody lived to end it
 *
 * The handler of a crash may do next to nothing (POSIX.1-2017, 2.4.3): it writes one byte to a file
 * that is open, and lets the signal do what it did before. A thread whose stack is full has no room
 * for that: it counts as killed.
 */
#include "page/trial-private.h"
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

enum { DIGEST = 64, LINE = DIGEST + 4, AT_STATE = DIGEST + 1, AT_COUNT = DIGEST + 2 };
enum { ONCE_TOO_OFTEN = 1 };

struct HfTrial {
  int fd;              /* -1: none */
  char left[LINE + 1]; /* as it was found */
};

static const int CRASHES[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGTRAP, SIGSYS};
static volatile sig_atomic_t working = -1; /* fd of the trial under way */
static struct sigaction before[G_N_ELEMENTS(CRASHES)];

static void
on_crash(int number)
{
  if (working >= 0)
    (void)!pwrite(working, "c", 1, AT_STATE);
  for (gsize i = 0; i < G_N_ELEMENTS(CRASHES); i++)
    if (CRASHES[i] == number)
      sigaction(number, &before[i], NULL);
  raise(number);
}

void
hf_trial_watch(void)
{
  struct sigaction action = {.sa_handler = on_crash, .sa_flags = SA_ONSTACK};
  sigemptyset(&action.sa_mask);
  for (gsize i = 0; i < G_N_ELEMENTS(CRASHES); i++) {
    struct sigaction now;
    sigaction(CRASHES[i], NULL, &now);
    if (now.sa_handler == on_crash)
      continue;
    before[i] = now;
    sigaction(CRASHES[i], &action, NULL);
  }
}

HfTrial *
hf_trial_open(const char *file)
{
  HfTrial *trial = g_new0(HfTrial, 1);
  trial->fd = open(file, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (trial->fd < 0 || pread(trial->fd, trial->left, LINE, 0) != LINE)
    memset(trial->left, 0, sizeof trial->left);
  return trial;
}

void
hf_trial_close(HfTrial *trial)
{
  if (trial == NULL)
    return;
  hf_trial_end(trial);
  if (trial->fd >= 0)
    close(trial->fd);
  g_free(trial);
}

static gboolean
is_left(const HfTrial *trial, const char *digest)
{
  return strlen(digest) == DIGEST && memcmp(trial->left, digest, DIGEST) == 0;
}

gboolean
hf_trial_was_fatal(const HfTrial *trial, const char *digest)
{
  char state = trial->left[AT_STATE], count = trial->left[AT_COUNT];
  return is_left(trial, digest) &&
         (state == 'c' || (state == 'w' && count >= '0' + ONCE_TOO_OFTEN));
}

void
hf_trial_begin(HfTrial *trial, const char *digest)
{
  char line[LINE + 1];
  gboolean again = is_left(trial, digest) && trial->left[AT_STATE] == 'w';
  g_snprintf(line, sizeof line, "%.64s w%c\n", digest, again ? '0' + ONCE_TOO_OFTEN : '0');
  if (trial->fd < 0 || pwrite(trial->fd, line, LINE, 0) != LINE)
    return;
  working = trial->fd;
}

void
hf_trial_end(HfTrial *trial)
{
  if (trial->fd < 0 || working != trial->fd)
    return;
  working = -1;
  (void)!pwrite(trial->fd, "-", 1, AT_STATE);
}
