/* SPDX-License-Identifier: GPL-3.0-or-later
 * cancel.h - a flag that stops heavy work between two of its pieces.
 */
#pragma once
#include "base/error.h"

typedef struct {
  gint asked; /* atomic; 0 go on, 1 stop. A signal handler may set it. */
} HfCancel;

static inline void
hf_cancel_ask(HfCancel *cancel)
{
  g_atomic_int_set(&cancel->asked, 1);
}

/** hf_cancel_check: %FALSE with %HF_ERROR_CANCELLED when the user asked to stop. @cancel nullable.
 */
static inline gboolean
hf_cancel_check(const HfCancel *cancel, GError **error)
{
  if (cancel == NULL || g_atomic_int_get(&((HfCancel *)cancel)->asked) == 0)
    return TRUE;
  hf_error_set(error, HF_ERROR_CANCELLED, NULL, NULL, "stopped");
  return FALSE;
}
