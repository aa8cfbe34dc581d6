/* SPDX-License-Identifier: GPL-3.0-or-later
 * bench_ties.c - what ties cost: a recipe's verdict without its rule for ties, and with it.
 *
 * usage: bench_ties RECIPE...     each ends with a line that begins `  - ties:`; medians of 7
 */
#include "base/error.h"
#include "run/run.h"
#include <stdio.h>
#include <string.h>

#define RUNS 7

static int
by_size(gconstpointer a, gconstpointer b)
{
  double p = *(const double *)a, q = *(const double *)b;
  return (p > q) - (p < q);
}

static HfSign *
run_text(const char *text, gsize length, const char *file, double *ret_ms)
{
  g_autoptr(GError) error = NULL;
  gint64 from = g_get_monotonic_time();
  HfSign *sign = hf_run_text(text, length, file, &(HfRunOptions){NULL, NULL, FALSE}, &error);
  *ret_ms = (double)(g_get_monotonic_time() - from) / 1000;
  if (sign == NULL)
    g_error("%s", error->message);
  return sign;
}

static HfSign *
median_run(const char *text, gsize length, const char *file, double *ret_ms)
{
  double ms[RUNS];
  HfSign *sign = NULL;
  for (int i = 0; i < RUNS; i++) {
    hf_sign_free(sign);
    sign = run_text(text, length, file, &ms[i]);
  }
  qsort(ms, RUNS, sizeof ms[0], by_size);
  *ret_ms = ms[RUNS / 2];
  return sign;
}

static guint
count_loose(const HfHold *hold)
{
  guint n = 0;
  for (guint i = 0; i < hold->parts->len; i++)
    n += !g_array_index(hold->parts, HfPart, i).body;
  return n;
}

static void
measure(const char *file)
{
  g_autofree char *text = NULL;
  gsize length = 0;
  g_autoptr(GError) error = NULL;
  if (!g_file_get_contents(file, &text, &length, &error))
    g_error("%s", error->message);
  const char *rule = g_strrstr(text, "\n  - ties:");
  g_assert(rule != NULL);
  double plain_ms = 0, tied_ms = 0;
  g_autoptr(HfSign) plain = median_run(text, (gsize)(rule + 1 - text), file, &plain_ms);
  g_autoptr(HfSign) tied = median_run(text, length, file, &tied_ms);
  const HfWork *work = g_ptr_array_index(tied->works, 0);
  printf("%s: %u loose, then %u; %u ties, %.0f mm2 (bound %.0f); %s\n", file,
         count_loose(plain->hold), count_loose(tied->hold), work->ties->len, work->area,
         work->bound, tied->hold->whole ? "whole" : "not whole");
  printf("  verdict %.2f ms, with ties %.2f ms: chosen and proven in %.2f verdicts\n", plain_ms,
         tied_ms, (tied_ms - plain_ms) / plain_ms);
}

int
main(int argc, char **argv)
{
  for (int i = 1; i < argc; i++)
    measure(argv[i]);
  return 0;
}
