/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure.h - which changes to the recipe make the sign hold, proven by checking again (the door of
 * cure/).
 *
 *   sign ──> proposals ──> each: knob turned to the least that cures, recipe changed, sign made
 * anew ──> kept only if it cures ──> ranked by how little it changes what is seen
 *
 * Nothing is taken on trust: every cure in the list has been through all stages, and its figures
 * and findings are those of the sign that came out. Which stages there are is none of our business:
 * run/ hands in a function that makes a sign of a text. Nothing is read or written here.
 * docs/maths.md#cures
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
  const char *key;    /* "ties": in the law's list, the report and the docs */
  gboolean is_resort; /* tried only where nothing else makes the sign whole */
  gboolean is_rule;   /* an entry that works itself out: a second one does no more */
  guint guards;       /* of HfGuard */
  double seen;        /* times that its cost counts in the ranking; 0: once */
  void (*propose)(HfProposing *asked);
} HfFamily;

/** hf_cure_family: (nullable) that of @key. Each of hf_law()->cures has one. */
const HfFamily *hf_cure_family(const char *key);

/* ---- proposals ----------------------------------------------------------------------------- */

/* A sentence that has the knob's value in it once, or not at all. */
typedef struct {
  char *before; /* "bring the letters of bakery " */
  char *after;  /* " closer"; %NULL: no knob, `before` is all of it */
  char *turns;  /* (nullable) " letters become ": before, what it is now, this, what it is then,
                   after;  else the distance between the two alone is said */
} HfPhrase;

HfPhrase hf_phrase(const char *format, ...) G_GNUC_PRINTF(1, 2); /* (transfer full) */
/** hf_phrase_knob: (transfer full) @before, the knob, and what comes behind it. Takes @before. */
HfPhrase hf_phrase_knob(HfPhrase before, const char *format, ...) G_GNUC_PRINTF(2, 3);
HfPhrase hf_phrase_knob_last(HfPhrase before); /* the same, nothing behind it */
/** hf_phrase_turns: (transfer full) "130 mm letters become 78 mm" between @before, which is taken,
 * and
 *  @after. */
HfPhrase hf_phrase_turns(HfPhrase before, const char *turns, const char *after);
/** hf_phrase_clear: frees what it owns, not itself. */
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
  gboolean last;            /* spoils what it cures: behind every other that makes the sign whole */
  GArray *targets;          /* guint: hold->findings that it may take away, the gravest first */
} HfProposal;

/** hf_cure_proposals: (transfer full) (element-type HfProposal) every change that may take a
 *  finding away, the likeliest and least visible first; empty when nothing is found. @cancel
 *  (nullable): stopped, it has what was found so far. */
GPtrArray *hf_cure_proposals(const HfSign *sign, const HfCancel *cancel);

HfProposal *hf_proposal_new(const HfFamily *family, HfPhrase phrase); /* takes @phrase; no knob */
/** hf_proposal_knob: (transfer full) the knob itself as a value; set its unit and step before. */
HfNode *hf_proposal_knob(const HfProposal *proposal);
/** hf_proposal_has_knob: was its step set? */
gboolean hf_proposal_has_knob(const HfProposal *proposal);
/** hf_proposal_free: frees it and all that it owns; %NULL: nothing. */
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
/** hf_proposal_sentence_from: (transfer full) the same, but that the knob was at @from before. */
char *hf_proposal_sentence_from(const HfProposal *proposal, double from, double value);
/** hf_proposal_same_knob: do both turn the same figure of the recipe? */
gboolean hf_proposal_same_knob(const HfProposal *a, const HfProposal *b);
/** hf_proposal_same: do both say the same, whatever the knob's place? */
gboolean hf_proposal_same(const HfProposal *a, const HfProposal *b);

/* ---- the search -------------------------------------------------------------------------------
 */

/* A changed recipe. Borrowed. */
typedef struct {
  const char *text;
  gsize length;
  gboolean goes_on; /* nothing is changed in it but that entries are added behind all others */
} HfTrialText;

/** HfTryFunc: (transfer full) the sign of the changed recipe @text, its shop and its place those of
 *  @given; %NULL: it can't be made, or stopped. @fonts: of the thread that asks, and kept by it:
 * what was opened for one text is open for the next. @cancel: counts the work, and may end it. */
typedef HfSign *(*HfTryFunc)(const HfSign *given, const HfTrialText *text, HfFonts *fonts,
                             const HfCancel *cancel);

typedef struct {
  char *key;                    /* "ties"; of a combination all of them: "closer+ties" */
  char *sentence;               /* "tie the loose parts of bakery"; "A, and B" */
  GPtrArray *steps;             /* char *: the same one by one, in the order they are made */
  char *recipe;                 /* the changed recipe's text: comments kept */
  gsize length;                 /* bytes of it */
  double added, removed;        /* mm2 of metal against the given sign, as it lies */
  double shift;                 /* mm: farthest that a point of either outline is from the other */
  guint ties;                   /* bars in it, pinned or by rule */
  guint stops, cautions, notes; /* findings left */
  gboolean whole;
  gboolean last;  /* one of its changes spoils what it cures, see HfProposal */
  gboolean as_is; /* the metal stays as it is: only what is asked of it changes, */
  gboolean studs; /* or its studs do */
  GArray *takes;  /* guint: findings of the given sign that are gone */
  double cost;    /* per cent: what it is ranked by (docs/maths.md#cures-ranking), */
  double seen;    /* so many times; 0: once */
  HfSign *sign;   /* the cured sign */
  GArray *links;  /* of the search; %NULL in what is handed out */
} HfCured;

/** hf_cured_free: frees it and all that it owns; %NULL: nothing. */
void hf_cured_free(HfCured *cured);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCured, hf_cured_free)

/* Both are called in the thread that called hf_cures_find(). @cured is borrowed for the call. */
typedef void (*HfCuredFunc)(const HfCured *cured, gpointer data);
typedef void (*HfCuresProgress)(guint tried, guint of, gpointer data);

typedef struct {
  const HfCancel *cancel;   /* (nullable) */
  guint hands;              /* threads; 0: as many as there are processors, at most 4 */
  HfCuredFunc found;        /* (nullable) each cure as it comes, in no certain order */
  HfCuresProgress progress; /* (nullable) how many changes were tried; @of may grow */
  gpointer data;
  gboolean *ret_no_further; /* (nullable) set when the budget ended before all was tried */
} HfCuresOptions;

/**
 * hf_cures_find:
 * @sign: the given sign
 * @text: the recipe that it was made from
 * @try_text: makes a sign of a changed recipe; called in several threads
 * Returns: (transfer full) (element-type HfCured) ranked: whole first, then by stops left, then by
 *   cost, but what leaves the metal as it is behind all that does as much; of several that give the
 *   same metal the first proposed. The same list whatever the number
 *   of hands. Empty: nothing cures. %NULL with %HF_ERROR_CANCELLED.
 *
 * A single change is in it when it takes away a finding that it was proposed for, or a stop, and
 * there is no stop that was not there before; not when it leaves stops and costs above 100. When no
 * single change makes the sign whole, changes are combined, at most four, and those combinations
 * are in it that do.
 */
GPtrArray *hf_cures_find(const HfSign *sign, const char *text, gsize length, HfTryFunc try_text,
                         const HfCuresOptions *options, GError **error);

/** hf_cures_best: (transfer none) (nullable) the cheapest of them that is whole and changes the
 *  metal. To ask less of a sign is for its maker to say. */
const HfCured *hf_cures_best(const GPtrArray *cures);
