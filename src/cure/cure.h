/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure.h - what would make the sign whole (the door of cure/).
 *
 *   findings, shapes, metal ──> rules worked out into shapes (ties, mending)
 *                          └──> changes to the recipe that may cure
 *
 * Pure: nothing is read, run or written here. run/ lays the shapes and checks again; run/ applies a
 * change to a copy of the recipe, turns its knob to the least that cures, and checks again.
 */
#pragma once
#include "hold/hold.h"
#include "recipe/edit.h"

/* A bar of metal that a rule chose. */
typedef struct {
  HfPoint from, to; /* where its middle line leaves metal, and where it meets metal again */
  double width;     /* mm */
  double length;    /* as a pin says it: NAN: from metal to metal; else all of it, centred on em */
  double area;      /* mm2 that shows: outside the metal that was there */
  guint part_a, part_b; /* of hold->parts: what it joins; part_a is the one that needed it */
  guint shape;          /* of the layout: letter or entry that it is pinned to */
  int opening;          /* as a pin says it: which opening of that letter, from 1; 0: its outside */
  HfPoint em;   /* as a pin says it: place in the letter's ems, or mm from the entry's centre */
  double angle; /* rad, in the letter's or entry's own frame */
  HfOutline *outline; /* the bar, run into metal at both ends */
  char *label;        /* `tie 2 of letter 'A' of "BAKERY"` */
} HfTie;

/* A part that no tie can hold. */
typedef struct {
  guint part; /* of hold->parts */
  HfPoint at;
  char *name, *why, *help; /* "the metal inside letter 'e' of \"rte\"", why not, what would help */
} HfUntied;

/* What one rule of the recipe came to. */
typedef struct {
  guint entry;       /* the rule */
  GPtrArray *shapes; /* HfShape *, for hf_layout_extend(); stolen by it */
  GArray *ties;      /* HfTie; of a mending rule empty */
  GArray *untied;    /* HfUntied */
  double cost;  /* mm2: what was minimised, style included (docs/maths.md#ties); NAN: mending */
  double area;  /* mm2 of ties that shows: the same with the style weights off */
  double bound; /* mm2: no admissible choice shows less (docs/maths.md#ties-bound) */
} HfWork;

HfWork *hf_work_new(guint entry); /* empty, figures NAN */
void hf_work_free(HfWork *work);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfWork, hf_work_free)

/* What a proposal or a rule may look at. All borrowed. */
typedef struct {
  const HfRecipe *recipe;
  const HfShop *shop;
  const HfLayout *layout;
  const HfMetal *metal;
  const HfHold *hold;
  const HfCancel *cancel; /* (nullable) */
} HfPatient;

/**
 * hf_cure_ties:
 * @entry: the rule, an entry of kind HF_ENTRY_TIES
 * Straight bars of metal that hold the loose parts: each at least the tie width all along, between
 *   solid metal at both ends, no opening left that can't be cut. Chosen by one documented cost.
 * Returns: (transfer full) the bars and what could not be tied; or %NULL with %HF_ERROR_CANCELLED.
 *   No loose part: empty. Same metal turned or moved: same ties.
 */
HfWork *hf_cure_ties(const HfPatient *patient, guint entry, GError **error);

/**
 * hf_cure_mend:
 * @entry: the rule, an entry of kind HF_ENTRY_MEND
 * Metal added where openings can't be cut or webs are under their limit, removed where points are
 *   sharp or openings can grow.
 * Returns: (transfer full); or %NULL with %HF_ERROR_CANCELLED
 */
HfWork *hf_cure_mend(const HfPatient *patient, guint entry, GError **error);

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
