/* SPDX-License-Identifier: GPL-3.0-or-later
 * specks.c - what hangs together in a picture and is too small to be drawing: by runs of one colour
 * along the rows, each joined to those of its colour that it touches in the row before (also by a
 * corner), by the least number.
 */
#include "raster/raster-private.h"

typedef struct {
  guint x0, x1; /* from x0, up to before x1 */
  guint of;     /* the run that stands for all that hang together; itself: this one */
  guint area;   /* of all of them, at that one; elsewhere 0 */
} Run;

static Run *
run_at(GArray *runs, guint i)
{
  return &g_array_index(runs, Run, i);
}

static guint
root(GArray *runs, guint i)
{
  while (run_at(runs, i)->of != i) {
    run_at(runs, i)->of = run_at(runs, run_at(runs, i)->of)->of;
    i = run_at(runs, i)->of;
  }
  return i;
}

static void
unite(GArray *runs, guint a, guint b)
{
  a = root(runs, a);
  b = root(runs, b);
  if (a == b)
    return;
  guint low = MIN(a, b), high = MAX(a, b);
  run_at(runs, high)->of = low;
  run_at(runs, low)->area += run_at(runs, high)->area;
}

/* The first place from @x on where the row is not @dark, or its end. */
static guint
run_end(const gulong *row, guint x, guint width, gboolean dark)
{
  while (x < width) {
    gulong word = (dark ? ~row[x / 64] : row[x / 64]) << (x % 64);
    if (word != 0)
      return MIN(width, x + (guint)__builtin_clzl(word));
    x = (x / 64 + 1) * 64;
  }
  return width;
}

/* Runs of one row take turns: the first is light, of no length where the row begins dark. */
static void
add_row(GArray *runs, const gulong *row, guint width)
{
  gboolean dark = FALSE;
  for (guint x = 0; x < width || dark; dark = !dark) {
    guint end = run_end(row, x, width, dark);
    Run run = {x, end, runs->len, end - x};
    g_array_append_val(runs, run);
    x = end;
  }
}

static void
unite_if(GArray *runs, guint a, guint b)
{
  if (run_at(runs, a)->x0 < run_at(runs, a)->x1 && run_at(runs, b)->x0 < run_at(runs, b)->x1)
    unite(runs, a, b);
}

/* Two runs are of one colour where both are even in their row or both odd. Where two of different
 * colour end at one place, each touches by a corner the one behind the other. */
static void
join_rows(GArray *runs, guint above, guint here, guint end)
{
  guint i = above, j = here;
  while (i < here && j < end) {
    guint ends_above = run_at(runs, i)->x1, ends_here = run_at(runs, j)->x1;
    gboolean same = (i - above) % 2 == (j - here) % 2;
    if (same)
      unite_if(runs, i, j);
    if (ends_above == ends_here && !same && i + 1 < here)
      unite_if(runs, i + 1, j);
    if (ends_above == ends_here && !same && j + 1 < end)
      unite_if(runs, i, j + 1);
    i += ends_above <= ends_here ? 1 : 0;
    j += ends_here <= ends_above ? 1 : 0;
  }
}

static void
turn_over(gulong *row, const Run *run)
{
  for (guint x = run->x0; x < run->x1; x++)
    row[x / 64] ^= 1ul << (63 - x % 64);
}

void
hf_bits_drop_specks(HfBits *bits, double least, guint *ret_dark, guint *ret_light)
{
  g_autoptr(GArray) runs = g_array_new(FALSE, FALSE, sizeof(Run));
  g_autofree guint *starts = g_new(guint, bits->height + 1);
  for (guint y = 0; y < bits->height; y++) {
    starts[y] = runs->len;
    add_row(runs, hf_bits_row(bits, y), bits->width);
    if (y > 0)
      join_rows(runs, starts[y - 1], starts[y], runs->len);
  }
  starts[bits->height] = runs->len;
  for (guint y = 0; y < bits->height; y++)
    for (guint i = starts[y]; i < starts[y + 1]; i++) {
      const Run *run = run_at(runs, i), *all = run_at(runs, root(runs, i));
      if (run->x0 == run->x1 || all->area >= least)
        continue;
      turn_over(hf_bits_row(bits, y), run);
      if (all == run)
        ++*((i - starts[y]) % 2 == 1 ? ret_dark : ret_light);
    }
}
