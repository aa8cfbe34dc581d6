/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie.h - bars of metal that hold what would fall out (the door of tie/).
 *
 *   parts, rings ──> bars that may be laid ──> which of them ──> shapes, and what can't be tied
 */
#pragma once
#include "sign/sign.h"

/**
 * hf_cure_ties:
 * @entry: the rule, an entry of kind HF_ENTRY_TIES
 * Straight bars of metal that hold the loose parts: each at least the tie width all along, between
 *   solid metal at both ends, no opening left that can't be cut. Chosen by one documented cost.
 * Returns: (transfer full) the bars and what could not be tied; or %NULL with %HF_ERROR_CANCELLED.
 *   No loose part: empty. Same metal turned or moved: same ties.
 */
HfWork *hf_cure_ties(const HfPatient *patient, guint entry, GError **error);
