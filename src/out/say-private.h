/* SPDX-License-Identifier: GPL-3.0-or-later
 * say-private.h - the sentences that picture, paper and report share, so that all three say
 * the same in the same words.
 */
#pragma once
#include "out/out.h"
#include "stock/cautions.h"

typedef struct {
  guint stops, cautions, notes, accepted; /* an accepted caution counts as accepted only */
} HfTally;

/** hf_say_tally: findings by gravity. */
HfTally hf_say_tally(const HfHold *hold);

/** hf_say_gravity: "stop", "caution", "note". */
const char *hf_say_gravity(HfGravity gravity);

/** hf_say_verdict: "whole" or "not whole". */
const char *hf_say_verdict(const HfHold *hold);

/** hf_say_sentence: (transfer full) what the verdict means for this sign, in one sentence. */
char *hf_say_sentence(const HfHold *hold);

/** hf_say_finding: (transfer full) "stop: WHERE: WHAT; FIX [common practice]; accepted: REASON".
 */
char *hf_say_finding(const HfFinding *finding);

/** hf_say_metal: (transfer full) "3 mm mild steel", told in inches a gauge as it
 *  was said: "10 ga (0.135 in) mild steel". hf_say_size: "1200 x 240 mm". */
char *hf_say_metal(const HfSign *what);
/** hf_say_sheets: (transfer full) (nullable) what @say tells of each sheet: "front A, back B", and
 *  of all once where that is the same; @silent stands for %NULL where another has something. */
char *hf_say_sheets(const HfSign *what, char *(*say)(const HfSign *sheet), const char *between,
                    const char *silent);
/** hf_say_finish: (transfer full) (nullable) "raw", "front raw, back powder coat RAL 9005 (..)". */
char *hf_say_finish(const HfSign *what);
/** hf_say_coat: mm, the thickest of any sheet, on each surface; 0: none. */
double hf_say_coat(const HfSign *what);
char *hf_say_size(const HfHold *hold);

/** hf_say_kerf_said_by, hf_say_crater_said_by: who gave the figure. */
const char *hf_say_kerf_said_by(const HfSign *what);
const char *hf_say_crater_said_by(const HfSign *what);

/** hf_say_hung: does the sign hang by holes, so that the caution on hung signs applies? */
gboolean hf_say_hung(const HfSign *what);

/** hf_say_caution: does @caution concern the sign: the metal of any of its sheets, how it hangs? */
gboolean hf_say_caution(const HfSign *what, const HfCaution *caution);

/* What every output of the bench says of the outlines. */
#define HF_SAY_OUTLINES "the metal itself, seen from the front, no kerf allowance"
/* What the picture for the customer says of them: nothing of the bench. */
#define HF_SAY_PICTURE "the metal itself, seen from the front"
