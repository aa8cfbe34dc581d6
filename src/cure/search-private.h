/* SPDX-License-Identifier: GPL-3.0-or-later
 * search-private.h - what the search for cures is made of.
 *
 *   cure-search.c    many hands, the list, its order      cure-match.c     which findings are gone
 *   cure-trial.c     one change: its knob                 cure-measure.c   what the eye sees of it
 *   cure-combine.c   several changes, one after another   cure-tidy.c      and none too many
 */
#pragma once
#include "cure/cure.h"

/* ---- cure-match.c ------------------------------------------------------------------------------
 */

/* What became of the findings of one sign in another. */
typedef struct {
  GArray *takes; /* guint: findings of the first that are gone in the second */
  guint taken;   /* how many of them are stops */
  guint fresh;   /* places of stops that the first had not, and letters that nobody reads */
  guint stops;   /* places of stops in the second */
} HfMatch;

/**
 * hf_match_findings:
 * @guards: of HfGuard: what the changes between the two may have hurt
 * Strict where in doubt: a finding is gone only when nothing is left that could be it under another
 * name, in another form or a little elsewhere. docs/maths.md#cures
 */
HfMatch hf_match_findings(const HfSign *before, const HfSign *after, guint guards);
/** hf_match_clear: frees what it owns, not itself. */
void hf_match_clear(HfMatch *match);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfMatch, hf_match_clear)
/** hf_match_hides: did one of @guards (of HfGuard) fail: more letters that are covered by half or
 *  more, or that went into each other, or fewer openings or more pieces of letters? */
gboolean hf_match_hides(const HfSign *before, const HfSign *after, guint guards);
/** hf_match_stops: places of stops in @sign. */
guint hf_match_stops(const HfSign *sign);

/* ---- cure-measure.c ----------------------------------------------------------------------------
 */

/** hf_measure_shift: mm: the farthest that a point of one boundary is from the other boundary, to
 *  0.01 mm; 0 for equal regions. Where one of them is empty: the diagonal of the other. */
double hf_measure_shift(const HfRegion *a, const HfRegion *b);
/** hf_measure_cured: fills in added, removed, shift, ties, counts, whole, takes, cost. */
void hf_measure_cured(const HfSign *given, HfCured *cured);
gboolean hf_measure_equal(const HfRegion *a, const HfRegion *b); /* ring by ring, point by point */
/** hf_measure_same_metal: hf_measure_equal() in every layer. */
gboolean hf_measure_same_metal(const HfSign *a, const HfSign *b);

/* ---- cure-trial.c ------------------------------------------------------------------------------
 */

typedef struct HfTried HfTried; /* signs of texts that were tried, see cure-tried.c */

/* With what one thread tries a text. */
typedef struct {
  HfTryFunc try_text;
  HfFonts *fonts; /* its own */
  const HfCancel *cancel;
  HfTried *tried; /* (nullable) of all threads */
  gboolean keep;  /* what is tried may be asked for again */
  guint most;     /* units of work that one run may take; 0: any */
} HfHand;

/* ---- cure-tried.c ------------------------------------------------------------------------------
 */

HfTried *hf_tried_new(void); /* nothing yet */
/** hf_tried_free: frees it and all that it owns; no hand may be at work. */
void hf_tried_free(HfTried *tried);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTried, hf_tried_free)
/** hf_tried_next_round: what was made so far is known to all hands from now on; none of them works.
 */
void hf_tried_next_round(HfTried *tried);
/** hf_tried_sign: (transfer full) (nullable) what @text was made into before, or is now. The units
 *  of work that it took are added to @work. */
HfSign *hf_tried_sign(const HfHand *hand, const HfSign *given, const HfTrialText *text,
                      guint *work);

/* What a change is tried on: the given sign, or what earlier changes made of it. All borrowed. */
typedef struct {
  const HfSign *sign;
  const char *text;
  gsize length;
} HfCureBase;

/* A change tried at one value of its knob, read and run. */
typedef struct {
  char *text;
  gsize length;
  HfSign *sign;
  HfMatch match; /* against the base */
  double value;
} HfTrial;

/** hf_trial_free: frees it and all that it owns; %NULL: nothing. */
void hf_trial_free(HfTrial *trial);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTrial, hf_trial_free)

/* The best that one change can do. */
typedef struct {
  HfTrial *cure;   /* (nullable) worth keeping by itself */
  HfTrial *nearer; /* (nullable) leaves fewer stops than the base and than `cure`, whatever else */
  guint work;      /* of all that was tried, see hf_trial_work() */
} HfTurned;

/** hf_trial_of: (nullable) @text (taken, its text nullable) read, run, and compared with @given
 *  under @guards. The units of work that it took are added to @work, also where nothing came of it.
 */
HfTrial *hf_trial_of(const HfSign *given, HfTrialText text, guint guards, const HfHand *hand,
                     guint *work);
/** hf_trial_goes_on: do @edits only add entries behind all others? */
gboolean hf_trial_goes_on(const GArray *edits);
/** hf_trial_work: units of work that a run of such a sign takes, at least 1. */
static inline guint
hf_trial_work(const HfSign *sign)
{
  return MAX(sign->work, 1);
}
/** hf_trial_value: of the knob, @i steps from its smallest change. */
double hf_trial_value(const HfProposal *proposal, int i);

/**
 * hf_trial_turn:
 * @alone: look for a cure by itself; else only for what leaves the fewest stops (in `nearer`)
 * @most: no new value is tried for what it does once so many units of work were done; a value that
 *   does is still turned back, with half as many more
 * Turns the knob to the least value that does as much as any value tried. Runs at most about twenty
 * times. Returns: %FALSE only when stopped.
 */
gboolean hf_trial_turn(const HfCureBase *base, const HfProposal *proposal, gboolean alone,
                       guint most, const HfHand *hand, HfTurned *ret_turned, GError **error);

/* ---- cure-search.c
 * -----------------------------------------------------------------------------------
 */

/* One change to be tried; what it came to. */
typedef struct {
  HfCureBase base;
  const HfCured *after; /* (nullable) what the base was made by */
  const HfProposal *proposal;
  gboolean alone;
  guint most;             /* work, see hf_trial_turn() */
  HfCured *tidy;          /* (nullable) nothing is tried: this is freed of what it need not have */
  HfCured *cure, *nearer; /* (nullable) see HfTurned */
  guint work;
} HfCureTask;

/* One of the changes that made a cure: borrowed, the search keeps it. */
typedef struct {
  const HfProposal *proposal;
  double value;
  double moved; /* the knob was so far from proposal->from, as what turned it first is left out */
} HfCureLink;

/** hf_cure_task_clear: frees what it owns, not itself. */
void hf_cure_task_clear(gpointer task);
/** hf_cure_guards: of HfGuard: what changes @links (HfCureLink; nullable) may hurt, but for that at
 *  @without (-1: all of them). */
guint hf_cure_guards(const GArray *links, gint without);

typedef struct HfCrew HfCrew;
/** hf_crew_work: does every task of @tasks (HfCureTask), many at a time, as far as the budget goes.
 *  %FALSE when stopped. */
gboolean hf_crew_work(HfCrew *crew, GArray *tasks, GError **error);
/** hf_crew_looks_no_further: the budget has ended before all was tried: so it will be said. */
void hf_crew_looks_no_further(HfCrew *crew);
/** hf_crew_given: (transfer none) the sign that is to be cured. */
const HfSign *hf_crew_given(const HfCrew *crew);
const HfCancel *hf_crew_cancel(const HfCrew *crew); /* (nullable) */
/** hf_crew_work_left: units of work (base/cancel.h) that the search may still do. */
guint hf_crew_work_left(const HfCrew *crew);
/** hf_crew_tidies: what was kept back for tidying up is free. */
void hf_crew_tidies(HfCrew *crew);

/** hf_cure_say: sentence, steps and key of @cured from its links. */
void hf_cure_say(HfCured *cured);

/* ---- cure-tidy.c -------------------------------------------------------------------------------
 */

/**
 * hf_cure_tidy:
 * @cured: a combination that is whole
 * Leaves out each change that is not needed, now that the others are there, and turns each knob
 * back as far as the sign stays whole, until @most units of work are done. Returns: what it took.
 */
guint hf_cure_tidy(const HfCureBase *given, HfCured *cured, guint most, const HfHand *hand);

/** hf_cures_among: hf_cures_find() among @proposals (element-type HfProposal). */
GPtrArray *hf_cures_among(const HfSign *sign, const char *text, gsize length,
                          const GPtrArray *proposals, HfTryFunc try_text,
                          const HfCuresOptions *options, GError **error);

/** hf_cures_compare: (GCompareFunc over HfCured **) the order of the list. */
gint hf_cures_compare(gconstpointer a, gconstpointer b);

/* ---- cure-combine.c ----------------------------------------------------------------------------
 */

/** hf_cures_is_cheap: seen so little that several changes need not be tried for less. */
gboolean hf_cures_is_cheap(double cost);
typedef struct HfCombining HfCombining; /* combinations found so far, and what they are made of */
HfCombining *hf_combining_new(HfCrew *crew);
/** hf_combining_free: frees it and all that it owns. */
void hf_combining_free(HfCombining *combining);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCombining, hf_combining_free)

/**
 * hf_cures_combine_rules:
 * @first: (element-type HfCured) what the rules came to that were tried so far; borrowed
 * Tries every rule that aims at a stop behind them, unless a whole combination is there already.
 * What it finds is told at once, and stays in @combining. Returns: %FALSE only when stopped.
 */
gboolean hf_cures_combine_rules(HfCombining *combining, const GPtrArray *first, GError **error);

/**
 * hf_cures_combine:
 * @first: (element-type HfCured) what single changes came to; borrowed
 * @bound: cost of the cheapest of them that is whole; INFINITY
 * Returns: (transfer full) (element-type HfCured) combinations that make the sign whole, all
 *   cheaper than @bound; empty when none was found; %NULL when stopped.
 */
GPtrArray *hf_cures_combine(HfCombining *combining, const GPtrArray *first, double bound,
                            GError **error);
