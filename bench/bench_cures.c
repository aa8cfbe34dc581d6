/* SPDX-License-Identifier: GPL-3.0-or-later
 * bench_cures.c - how long until the first cure is proven, and until all are listed, by the
 * clock and in processor seconds of all threads; medians of 5.
 *
 * usage: bench_cures RECIPE...
 */
#include "base/error.h"
#include "run/cures.h"
#include <stdio.h>
#include <time.h>

#define RUNS 5

/* ms: by the clock, and of the processor, all threads together. */
typedef struct {
  double clock, processor;
} Time;

typedef struct {
  Time from, first;
} Watch;

static Time
now(void)
{
  struct timespec used;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &used);
  return (Time){(double)g_get_monotonic_time() / 1000,
                (double)used.tv_sec * 1e3 + (double)used.tv_nsec / 1e6};
}

static Time
since(Time from)
{
  Time at = now();
  return (Time){at.clock - from.clock, at.processor - from.processor};
}

static void
note_first(const HfCured *cured, gpointer data)
{
  Watch *watch = data;
  if (cured->whole && !cured->as_is && watch->first.clock == 0)
    watch->first = since(watch->from);
}

static int
by_processor(gconstpointer a, gconstpointer b)
{
  double p = ((const Time *)a)->processor, q = ((const Time *)b)->processor;
  return (p > q) - (p < q);
}

static Time
median(Time *times)
{
  qsort(times, RUNS, sizeof times[0], by_processor);
  return times[RUNS / 2];
}

static void
measure(const char *file)
{
  g_autofree char *text = NULL;
  gsize length = 0;
  g_autoptr(GError) error = NULL;
  if (!g_file_get_contents(file, &text, &length, &error))
    g_error("%s", error->message);
  Time verdict[RUNS], first[RUNS], all[RUNS];
  guint n = 0;
  for (int i = 0; i < RUNS; i++) {
    Watch watch = {now(), {0, 0}};
    g_autoptr(HfSign) sign =
        hf_run_text(text, length, file, &(HfRunOptions){NULL, NULL, FALSE}, &error);
    if (sign == NULL)
      g_error("%s", error->message);
    verdict[i] = since(watch.from);
    HfCuresOptions options = {.found = note_first, .data = &watch};
    g_autoptr(GPtrArray) cures = hf_run_cures(sign, text, length, &options, &error);
    n = cures->len;
    all[i] = since(watch.from);
    first[i] = watch.first;
  }
  Time v = median(verdict), f = median(first), a = median(all);
  printf("%s: verdict %.0f ms, first whole cure %.0f ms (processor %.0f ms), all %u in %.0f ms "
         "(processor %.0f ms)\n",
         file, v.clock, f.clock, f.processor, n, a.clock, a.processor);
}

int
main(int argc, char **argv)
{
  for (int i = 1; i < argc; i++)
    measure(argv[i]);
  return 0;
}
