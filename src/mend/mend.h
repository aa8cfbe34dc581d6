/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend.h - metal added or taken off where a place is too thin, too small or too sharp (the door of
 * mend/).
 */
#pragma once
#include "sign/sign.h"

/**
 * hf_cure_mend:
 * @entry: the rule, an entry of kind HF_ENTRY_MEND
 * Metal added where openings can't be cut or webs are under their limit, removed where points are
 *   sharp or openings can grow.
 * Returns: (transfer full); or %NULL with %HF_ERROR_CANCELLED
 */
HfWork *hf_cure_mend(const HfPatient *patient, guint entry, GError **error);
