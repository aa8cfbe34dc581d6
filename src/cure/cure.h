/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure.h - what would make the sign whole (the door of cure/).
 *
 *   findings, shapes, metal ──> changes to the recipe that may cure
 *
 * Pure: nothing is read, run or written here. run/ applies a change to a copy of the recipe, turns
 * its knob to the least that cures, and checks again.
 */
#pragma once
#include "recipe/edit.h"
#include "sign/sign.h"

/* ---- families ------------------------------------------------------------------------------ */

typedef struct HfProposing HfProposing; /* what a family may ask, see propose-private.h */

/* What a change must leave of the letters (cure-match.c): each family says what it may hurt. */
typedef enum {
  HF_GUARD_COVER = 1 << 0, /* as many letters show by more than half */
  HF_GUARD_CROWD = 1 << 1, /* no letter's outline goes into others for a good part */
  HF_GUARD_FORM = 1 << 2,  /* no letter loses an opening or breaks: its strokes change */
} HfGuard;

/* One way to cure. What it may be tried for, and how soon, is the law's list (hf_law()->cures). */
typedef struct {
  const char *key;  /* "ties": in the law's list, the report and the docs */
  gboolean is_rule; /* an entry that works itself out: a second one does no more */
  guint guards;     /* of HfGuard */
  void (*propose)(HfProposing *asked);
} HfFamily;

/** hf_cure_family: (nullable) that of @key. Each of hf_law()->cures has one. */
const HfFamily *hf_cure_family(const char *key);

/* ---- proposals ----------------------------------------------------------------------------- */

/* A sentence that has the knob's value in it once, or not at all. */
typedef struct {
  char *before; /* "bring the letters of bakery " */
  char *after;  /* " closer"; %NULL: no knob, `before` is all of it */
} HfPhrase;

HfPhrase hf_phrase(const char *format, ...) G_GNUC_PRINTF(1, 2); /* (transfer full) */
/** hf_phrase_knob: (transfer full) @before, the knob, and what comes behind it. Takes @before. */
HfPhrase hf_phrase_knob(HfPhrase before, const char *format, ...) G_GNUC_PRINTF(2, 3);
HfPhrase hf_phrase_knob_last(HfPhrase before); /* the same, nothing behind it */
void hf_phrase_clear(HfPhrase *phrase);

/* A change to the recipe that may cure, with at most one knob. */
typedef struct {
  const HfFamily *family;
  HfPhrase phrase;          /* see hf_proposal_sentence_at() */
  GArray *edits;            /* HfEdit; numbers in their values may hang on the knob */
  double least, most, step; /* the knob, from the smallest change on, which may be the larger
                               number; multiples of step; NAN: there is none */
  double from;              /* what it is now: the sentence says how far it is turned from there */
  const char *unit;         /* static, as the recipe says it: "mm", "in", "%", "deg", "" */
  GArray *targets;          /* guint: hold->findings that it may take away, the gravest first */
} HfProposal;

/** hf_cure_proposals: (transfer full) (element-type HfProposal) every change that may take a
 *  finding away, the likeliest and least visible first; empty when nothing is found. @cancel
 *  (nullable): stopped, it has what was found so far. */
GPtrArray *hf_cure_proposals(const HfSign *sign, const HfCancel *cancel);

HfProposal *hf_proposal_new(const HfFamily *family, HfPhrase phrase); /* takes @phrase; no knob */
/** hf_proposal_knob: (transfer full) the knob itself as a value; set its unit and step before. */
HfNode *hf_proposal_knob(const HfProposal *proposal);
gboolean hf_proposal_has_knob(const HfProposal *proposal);
void hf_proposal_free(HfProposal *proposal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfProposal, hf_proposal_free)

/**
 * hf_proposal_edits_at:
 * @value: of the knob; taken to the nearest multiple of its step; no matter without a knob
 * Returns: (transfer full) (element-type HfEdit) the edits with the knob there
 */
GArray *hf_proposal_edits_at(const HfProposal *proposal, double value);
/** hf_proposal_sentence_at: (transfer full) the sentence, the distance of @value from `from` in it,
 *  with its unit. */
char *hf_proposal_sentence_at(const HfProposal *proposal, double value);
/** hf_proposal_same: do both say the same, whatever the knob's place? */
gboolean hf_proposal_same(const HfProposal *a, const HfProposal *b);
