/* SPDX-License-Identifier: GPL-3.0-or-later
 * forest.h - which of n things hang together, by union-find.
 *
 * forest[i] is a thing with a number not above i that hangs together with i, or i itself: a root.
 * Invariant: things hang together exactly when their roots are the same, and a root is the lowest
 * of its things. Paths are halved on the way (R. E. Tarjan, J. van Leeuwen, Worst-case analysis of
 * set union algorithms, 1984; from memory): O(log n) each, next to O(1) in practice.
 */
#pragma once
#include <glib.h>

/** hf_forest_new: (transfer full, g_free) @n things that are each alone. O(n). */
static inline guint *
hf_forest_new(guint n)
{
  guint *forest = g_new(guint, n + 1);
  for (guint i = 0; i < n; i++)
    forest[i] = i;
  return forest;
}

/** hf_forest_root: the lowest of the things that hang together with @i. */
static inline guint
hf_forest_root(guint *forest, guint i)
{
  while (forest[i] != i)
    i = forest[i] = forest[forest[i]];
  return i;
}

/** hf_forest_join: @a and @b hang together from now on. */
static inline void
hf_forest_join(guint *forest, guint a, guint b)
{
  guint x = hf_forest_root(forest, a), y = hf_forest_root(forest, b);
  forest[MAX(x, y)] = MIN(x, y);
}
