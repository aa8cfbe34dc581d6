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

/* A change to the recipe that may cure, with at most one knob. */
typedef struct {
  const char *key; /* static, one of hf_law()->cures: "ties", "closer" */
  char *sentence;  /* "bring the letters of bakery {} closer", see hf_proposal_sentence_at() */
  GArray *edits;   /* HfEdit; its path and value are owned, see hf_proposal_edits_at() */
  double least, most, step; /* the knob, from the smallest change on, which may be the larger
                               number; multiples of step; NAN: there is none */
  double from;              /* what it is now: the sentence says how far it is turned from there */
  const char *unit;         /* static, as the recipe says it: "mm", "in", "%", "deg", "" */
  GArray *targets;          /* guint: hold->findings that it may take away, the gravest first */
} HfProposal;

/** hf_cure_proposals: (transfer full) (element-type HfProposal) every change that may take a
 *  finding away, the likeliest and least visible first; empty when nothing is found. */
GPtrArray *hf_cure_proposals(const HfPatient *patient);
/** hf_cure_is_key: is there a family of this key? Each of hf_law()->cures has one. */
gboolean hf_cure_is_key(const char *key);
HfProposal *hf_proposal_new(const char *key, char *sentence); /* takes @sentence; no knob */
/** hf_proposal_edit: adds an edit; copies @path and @value. */
void hf_proposal_edit(HfProposal *proposal, HfEditKind kind, const char *path, const char *value);
void hf_proposal_free(HfProposal *proposal);

/**
 * hf_proposal_edits_at:
 * @value: of the knob; taken to the nearest multiple of its step; no matter without a knob
 * Returns: (transfer full) (element-type HfEdit) the edits with the knob there. In their values
 *   `{}` became the value and its unit, `{a;b}` and `{a;b;in}` became a + b times the value, in
 *   the knob's unit or in another: `[{12;1}, {0;-1}]` moves two ways at once.
 */
GArray *hf_proposal_edits_at(const HfProposal *proposal, double value);
/** hf_proposal_sentence_at: (transfer full) the sentence, `{}` in it being the distance of @value
 *  from `from`, with its unit. */
char *hf_proposal_sentence_at(const HfProposal *proposal, double value);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfProposal, hf_proposal_free)
