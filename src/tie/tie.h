/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie.h - bars of metal that hold what would fall out (the door of tie/).
 *
 *   parts, rings ──> bars that may be laid ──> which of them ──> shapes, and what can't be tied
 */
#pragma once
#include "sign/sign.h"

/**
 * hf_tie:
 * @entry: the rule, an entry of kind HF_ENTRY_TIES
 * @use: what the new sign is made for
 * Straight bars of metal that hold the loose parts: each at least the tie width all along, between
 *   solid metal at both ends, no opening left that can't be cut. Chosen by one documented cost.
 * Returns: (transfer full) the sign with the bars laid and checked, the rule's work last of its
 * works; or %NULL with %HF_ERROR_CANCELLED. No loose part: the work is empty. Same metal turned or
 * moved: same ties.
 */
HfSign *hf_tie(const HfSign *sign, guint entry, HfSignUse use, const HfCancel *cancel,
               GError **error);

/** hf_strokes_is: (strokes.c) is it a letter of a script in which a stroke more is another letter?
 */
gboolean hf_strokes_is(const HfShape *shape);
