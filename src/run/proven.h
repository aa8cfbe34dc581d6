/* SPDX-License-Identifier: GPL-3.0-or-later
 * proven.h - the program of a sheet: planned, written, and proven by reading it back.
 */
#pragma once
#include "out/cutting.h"

/* Where the rest of a program begins. */
typedef struct {
  HfLayerAt layer; /* whose program; UNSAID: there is one */
  guint cut;       /* from 1; 0: no rest is wanted */
} HfFromCut;

/**
 * hf_prove_cutting:
 * @from: of the rest of the program. More than there are cuts: %HF_ERROR_BAD_VALUE, it is proven
 *   as a whole
 * @layer: one sheet with its true arcs and its own check; whole
 * Returns: (transfer full) also where there can be no program: `why_not` says why. %NULL with
 * %HF_ERROR_CANCELLED, or what can't go on. Nothing of the plan is taken on trust: the text is read
 * by program/ and what it leaves is held against the metal by replay/.
 */
HfCutting *hf_prove_cutting(const HfSign *layer, HfFromCut from, const HfCancel *cancel,
                            GError **error);

/** hf_prove_words: (transfer full) lines for a terminal, of all sheets of one job (element-type
 *  HfCutting). */
char *hf_prove_words(const GPtrArray *cuttings);
