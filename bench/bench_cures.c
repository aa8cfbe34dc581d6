/* SPDX-License-Identifier: GPL-3.0-or-later
 * bench_cures.c - how long until the first cure is proven, and until all are listed; medians of 5.
 *
 * usage: bench_cures RECIPE...
 */
#include "base/error.h"
#include "run/cures.h"
#include <stdio.h>

#define RUNS 5

typedef struct {
  gint64 from;
  double first;
} Watch;

static double
ms_since(gint64 from)
{
  return (double)(g_get_monotonic_time() - from) / 1000;
}

static void
note_first(const HfCured *cured, gpointer data)
{
  Watch *watch = data;
  if (cured->whole && watch->first == 0)
    watch->first = ms_since(watch->from);
}

static int
by_size(gconstpointer a, gconstpointer b)
{
  double p = *(const double *)a, q = *(const double *)b;
  return (p > q) - (p < q);
}

static double
median(double *ms)
{
  qsort(ms, RUNS, sizeof ms[0], by_size);
  return ms[RUNS / 2];
}

static void
measure(const char *file)
{
  g_autofree char *text = NULL;
  gsize length = 0;
  g_autoptr(GError) error = NULL;
  if (!g_file_get_contents(file, &text, &length, &error))
    g_error("%s", error->message);
  double verdict[RUNS], first[RUNS], all[RUNS];
  guint n = 0;
  for (int i = 0; i < RUNS; i++) {
    Watch watch = {g_get_monotonic_time(), 0};
    g_autoptr(HfSign) sign =
        hf_run_text(text, length, file, &(HfRunOptions){NULL, NULL, FALSE}, &error);
    if (sign == NULL)
      g_error("%s", error->message);
    verdict[i] = ms_since(watch.from);
    HfCuresOptions options = {.found = note_first, .data = &watch};
    g_autoptr(GPtrArray) cures = hf_run_cures(sign, text, length, &options, &error);
    n = cures->len;
    all[i] = ms_since(watch.from);
    first[i] = watch.first;
  }
  printf("%s: verdict %.0f ms, first whole cure %.0f ms, all %u in %.0f ms\n", file,
         median(verdict), median(first), n, median(all));
}

int
main(int argc, char **argv)
{
  for (int i = 1; i < argc; i++)
    measure(argv[i]);
  return 0;
}
