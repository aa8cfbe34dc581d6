/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-private.h - which of many possible ties: the combinatorics alone, no geometry.
 *
 *        body 0                  nodes: the body and n loose parts
 *       / |    \                 lines: candidates, each with the metal it shows and its style cost
 *      1  2 --- 3 = 4            wanted: a set of lines that holds every part as it needs, no two
 * of them in conflict, the least sum of metal, style and pair terms
 *
 * In this order: as many parts held as can be; as few wants unmet as can be (see HfLack); the least
 * cost. docs/maths.md#ties-the-choice has the objective, the method and the proofs.
 *
 * Held: joined to the body by chosen ties. Held both ways: still joined when any one tie is left
 * out. A part that needs two ties needs them because one alone would let it swing, and two ties to
 * a part that itself hangs on one tie are one tie: so a part with `ties` of 2 or more has to be
 * held both ways. Webs under the limit don't count here: what hangs on one is a part of its own.
 */
#pragma once
#include "base/cancel.h"

/* Costs are sums of whole grains, so that equal sums are equal in whatever order they are added. */
#define HF_CHOICE_GRAIN 1e-3 /* mm2 */

/* A tie that could be laid. What belongs to an end stands twice: at part a, at part b. */
typedef struct {
  guint a, b;             /* nodes: 0 the body, 1..n loose parts; not equal */
  double area;            /* mm2 that shows, > 0 */
  double style;           /* mm2, >= 0: what its own looks cost */
  double angle, angle_b;  /* rad: in which direction it leaves the part, in the part's own frame */
  guint place, place_b;   /* equal at twins for the same place in their letter; 0: no such place */
  guint mirror, mirror_b; /* the place that is its mirror image in the part; its own place: it lies
                             on the axis; 0: the part is not symmetric, or nobody minds */
} HfCandidate;

/* What a loose part asks of its ties. */
typedef struct {
  guint
      ties; /* at least so many, whichever end is on it; 0 counts as 1; from 2 on: held both ways */
  double spread; /* rad: with 2 ties or more, two of them leave it at least so far apart; 0: any */
  guint twins;   /* class of equal letters' equal parts, to be tied alike; 0: none */
  gboolean opposed; /* style: two of its ties should leave it in opposite directions */
  gboolean direct;  /* style: it should have a tie to the body itself */
} HfNeed;

/* Two candidates that can't both be laid: they overlap, or leave a sliver between them. */
typedef struct {
  guint a, b; /* indices of candidates */
} HfConflict;

/* Style weights, mm2. All zero: the metal that shows alone. */
typedef struct {
  double own;     /* factor of each candidate's own style, usually 1 */
  double alike;   /* for each place and twin that differs from most of its class */
  double opposed; /* for two ties in the same direction; none when opposite, linear in the angle */
  double odd;     /* for each end whose mirror image has no tie */
  double through; /* for each part that wants a tie to the body and has none */
} HfChoiceWeights;

typedef struct {
  guint n_parts; /* loose parts */
  const HfCandidate *candidates;
  guint n_candidates;
  const HfNeed *needs; /* n_parts + 1 of them; the first, the body's, is not looked at */
  const HfConflict *conflicts;
  guint n_conflicts;
  HfChoiceWeights weights;
} HfChoiceTask;

typedef enum {
  HF_UNHELD_NO_CANDIDATE, /* no candidate ends on it */
  HF_UNHELD_NEIGHBOURS,   /* candidates only to parts that can't be held themselves */
  HF_UNHELD_CONFLICTS,    /* what could hold it stands in the way of ties that hold others */
} HfUnheldWhy;

typedef struct {
  guint part;
  HfUnheldWhy why;
} HfUnheld;

/* A part that is held, but not as it needs: the candidates don't allow it. */
typedef struct {
  guint part;
  guint ties;       /* so many are missing */
  gboolean spread;  /* no two of its ties are far enough apart */
  gboolean one_way; /* one tie alone holds it, or holds what it hangs on */
} HfLack;

typedef struct {
  GArray *chosen;  /* guint: indices of candidates, ascending */
  GArray *unheld;  /* HfUnheld, by part */
  GArray *lacking; /* HfLack, by part */
  double cost;     /* mm2, style included */
  double area;     /* mm2 that shows */
  double bound;    /* mm2: no choice that holds as many parts and leaves no more unmet shows less */
  gboolean optimal; /* proven: no choice is better */
} HfChoice;

/**
 * hf_choice_new:
 * @cancel: (nullable)
 * The best choice that was found: of each cluster of parts that have to do with one another the
 *   optimum, proven, when it is small (up to 4 parts with 8 candidates each, often far more), else
 * a good one. Input listed in another order gives the same choice: ties in cost are broken by what
 * a candidate is, not by where it stands; parts too are told apart by their candidates, and only
 *   where that fails by their number. Cost O(n log n) in practice.
 * Returns: (transfer full); or %NULL with %HF_ERROR_CANCELLED. No part, no candidate: empty.
 */
HfChoice *hf_choice_new(const HfChoiceTask *task, const HfCancel *cancel, GError **error);
/** hf_choice_free: frees it and all that it owns; %NULL: nothing. */
void hf_choice_free(HfChoice *choice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfChoice, hf_choice_free)

/* The head of the group that @i is in; groups are joined by setting the one's head to the other's.
 */
static inline guint
hf_choice_root(guint *up, guint i)
{
  while (up[i] != i)
    i = up[i] = up[up[i]];
  return i;
}
