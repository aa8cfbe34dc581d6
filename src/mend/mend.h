/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend.h - metal added or taken off where a place is too thin, too small or too sharp (the door of
 * mend/).
 */
#pragma once
#include "sign/sign.h"

/**
 * hf_mend:
 * @entry: the rule, an entry of kind HF_ENTRY_MEND
 * @sign: its check is whole
 * @use: what the new sign is made for
 * Metal added where openings can't be cut or webs are under their limit, removed where points are
 *   sharp or openings can grow.
 * Returns: (transfer full) the sign with that laid and checked, the rule's work last of its works;
 * or %NULL with %HF_ERROR_CANCELLED. Cost: metal and check of the whole sign for each of up to six
 *   rounds, and for each time that some of it is taken back.
 */
HfSign *hf_mend(const HfSign *sign, guint entry, HfSignUse use, const HfCancel *cancel,
                GError **error);

/** hf_mend_answers: does mending as @wish says work on findings of this law at all? */
gboolean hf_mend_answers(const HfMendEntry *wish, HfLawKind kind);
