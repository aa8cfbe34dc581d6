/* SPDX-License-Identifier: GPL-3.0-or-later
 * trial-private.h - a note of what is being worked out, so that the next start knows what brought
 * the last one down.
 *
 *   begin ── working ── end                  nothing to remember
 *   begin ── working ── a crash              noted by the handler of the signal: once is enough
 *   begin ── working ── killed ── begin ── working ── killed      twice is too often: no memory
 * left?
 *
 * Killed once may be anybody's whim or the power, and says nothing of the text.
 */
#pragma once
#include <glib.h>

typedef struct HfTrial HfTrial;

/** hf_trial_open: (transfer full) the note @file, made when it is not there; where it can't be
 *  written nothing is ever remembered. */
HfTrial *hf_trial_open(const char *file);
/** hf_trial_close: %NULL: nothing. */
void hf_trial_close(HfTrial *trial);
/** hf_trial_was_fatal: did the text of @digest bring down whoever worked it out before this was
 *  opened? */
gboolean hf_trial_was_fatal(const HfTrial *trial, const char *digest);
/** hf_trial_begin: the text of @digest (64 letters) is worked out from now on; hf_trial_end: it has
 *  come to something. One trial at a time is noted by the handler: the one that began last. */
void hf_trial_begin(HfTrial *trial, const char *digest);
void hf_trial_end(HfTrial *trial);
/** hf_trial_watch: from now on a crash of this program notes itself before it ends the program as
 * it would have. */
void hf_trial_watch(void);
