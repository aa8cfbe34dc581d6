/* SPDX-License-Identifier: GPL-3.0-or-later
 * cancel.h - a flag that stops heavy work between two of its pieces, and what was done until then.
 *
 *   the user's flag <── of a search <── of one trial: `most` units of work, then it stops by itself
 *
 * A flag may hang on another one: it stops with that one, and what it counts is counted there too.
 * Work is counted in units that are the same on every machine: about a microsecond of processor
 * each, on a desk of the 2020s. So a budget ends a search at the same place everywhere.
 */
#pragma once
#include "base/error.h"

typedef struct HfCancel HfCancel;
struct HfCancel {
  gint asked;         /* atomic; 0 go on, 1 stop. A signal handler may set it. */
  gint work;          /* atomic; units counted so far, see hf_cancel_count() */
  gint most;          /* units after which it stops by itself; 0: never */
  const HfCancel *of; /* (nullable) the one that it hangs on; must outlive it */
};

static inline void
hf_cancel_ask(HfCancel *cancel)
{
  g_atomic_int_set(&cancel->asked, 1);
}

/** hf_cancel_count: @units more were done. @cancel nullable. Counts to G_MAXINT at the most; in any
 *  thread, and in any order the same sum. */
static inline void
hf_cancel_count(const HfCancel *cancel, guint units)
{
  for (HfCancel *c = (HfCancel *)cancel; c != NULL; c = (HfCancel *)c->of) {
    gint before = g_atomic_int_get(&c->work);
    while (!g_atomic_int_compare_and_exchange(
        &c->work, before, before + (gint)MIN(units, (guint)(G_MAXINT - before))))
      before = g_atomic_int_get(&c->work);
  }
}

/** hf_cancel_work: units counted so far; 0 for %NULL. */
static inline guint
hf_cancel_work(const HfCancel *cancel)
{
  return cancel != NULL ? (guint)g_atomic_int_get(&((HfCancel *)cancel)->work) : 0;
}

/** hf_cancel_is_over: was more done than it may do? */
static inline gboolean
hf_cancel_is_over(const HfCancel *cancel)
{
  return cancel->most > 0 && hf_cancel_work(cancel) > (guint)cancel->most;
}

/** hf_cancel_check: %FALSE with %HF_ERROR_CANCELLED when it, or one that it hangs on, was asked to
 *  stop or has done more than it may. @cancel nullable. */
static inline gboolean
hf_cancel_check(const HfCancel *cancel, GError **error)
{
  for (const HfCancel *c = cancel; c != NULL; c = c->of)
    if (g_atomic_int_get(&((HfCancel *)c)->asked) != 0 || hf_cancel_is_over(c)) {
      hf_error_set(error, HF_ERROR_CANCELLED, NULL, NULL, "stopped");
      return FALSE;
    }
  return TRUE;
}
