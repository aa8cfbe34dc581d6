/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-state-private.h - a choice that is changed tie by tie, its cost kept up to date.
 *
 *   flip, flip, flip ... is it better? ── yes: keep
 *   \___ journal ___/                  └─ no: flip all of them back
 *
 * Each step costs about as much as the ties about it; only hf_state_reaches() and
 * hf_state_keeps_both() walk further, as far as the body is away.
 */
#pragma once
#include "tie/choice-net-private.h"

typedef struct {
  const HfNet *net;
  gboolean *in;
  gboolean *fixed;  /* by tie: to stay as it is, in or out; looked at by the search alone */
  HfChoiceKey key;  /* lacks: without those that hang on one tie, see `both` */
  guint *on, *n_on; /* by loose part p: chosen ties on[at_start[p]..+n_on[p]) */
  guint *to;        /* beside on: their other ends, so that walks stay among the parts */
  guint *lacks;     /* by part, spread included; 0 when unheld */
  gint64 *terms;    /* by part; 0 when unheld */
  gboolean *held;   /* by part */
  gboolean *both;   /* by part that needs it: was held both ways when last counted; to be kept */
  gboolean any_both;
  guint *seat[2]; /* by tie and end: the twin's seat at its place; G_MAXUINT: it has none */
  guint *seat_ties, *seat_row, *row_taken, *row_size; /* size 0: strays */
  guint *level;       /* by part: steps from the body when last counted; a guide alone */
  guint *mark, stamp; /* by part: seen in this walk */
  guint *on_way;      /* by part: the first way of this walk passes it, and leaves it by `came` */
  guint *stack, *came, *seen; /* of a walk; by part: the tie it came by; parts come across */
  GArray *journal;            /* guint: ties flipped; with HF_STATE_HELD: a part newly held */
} HfState;

#define HF_STATE_HELD 0x80000000u

/** hf_state_new: @in is changed in place from here on. */
HfState *hf_state_new(const HfNet *net, gboolean *in);
/** hf_state_free: frees it and all that it owns; %NULL: nothing. */
void hf_state_free(HfState *state);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfState, hf_state_free)

/** hf_state_flip: takes tie @tie in or out, mends every count that hangs on it, and remembers
 *  it, so that it can go back. O(ties on its parts). */
void hf_state_flip(HfState *state, guint tie);
/** hf_state_hold: a part that was not held is now. */
void hf_state_hold(HfState *state, guint part);
/** hf_state_undo: back to when the journal was @length long. */
void hf_state_undo(HfState *state, guint length);
/** hf_state_count: all that is only known by looking at everything: held, both, level. */
void hf_state_count(HfState *state);
/** hf_state_reaches: do chosen ties join a part to the body? */
gboolean hf_state_reaches(HfState *state, guint part);
/** hf_state_keeps_both: with a tie at @part gone, is what was held both ways still so? Only asked
 *  of a part that reaches the body. */
gboolean hf_state_keeps_both(HfState *state, guint part);
