/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit-private.h - what the two halves of the arc fit share: fit.c walks the rings, fit-chain.c lays
 * arcs along one smooth stretch.
 */
#pragma once
#include "base/cancel.h"
#include "geom/region.h"

/* A place on a smooth stretch where an arc may end, and where the result is held to the metal.
 *
 *          left  +
 *                |  tolerance
 *   region  -----o-----   at the same parameter the true curve is at `at`, up to one chord
 *                |        height (5 um) away
 *         right  +
 */
typedef struct {
  HfPoint at;          /* on the true curve */
  HfPoint along;       /* unit tangent of the true curve, the way the ring runs */
  HfPoint left, right; /* the result passes between these two */
  double s;            /* mm along the stretch from its first node */
} HfFitNode;

/* Radians by which an arc's tangent may turn, or turns, from the true tangent at a node. */
typedef struct {
  double from, to;
} HfFitTurn;

#define HF_FIT_ANY_TURN ((HfFitTurn){-G_PI, G_PI})

/* mm. Shorter pieces are not made: rounding their ends to 0.01 um would turn them by 0.05 degree.
 */
#define HF_FIT_SHORTEST 0.02

/* Neighbours in one smooth stretch keep within this: 1 degree, less what rounding to 0.1 um adds.
 */
#define HF_FIT_JUMP (0.9 * G_PI / 180)

/**
 * hf_fit_chain:
 * @out: the pen is at nodes[0].at; arcs and lines are appended up to nodes[n - 1].at
 * @start, @end: how far the first and the last arc may turn from the true tangent there
 * As few arcs as pass between left and right of every node and keep within %HF_FIT_JUMP of each
 * other; docs/maths.md#arcs.
 * Returns: mm, how far the result is from the region at the nodes and midway between them, where
 *   nothing held it. Cost about 10 us an arc.
 */
double hf_fit_chain(HfOutline *out, const HfFitNode *nodes, guint n, HfFitTurn start,
                    HfFitTurn end);

/** hf_fit_arc_to: draws the arc or line that leaves the pen turned by -@half from the chord to @p,
 *  and so turns by 2 @half in all. */
void hf_fit_arc_to(HfOutline *out, HfPoint pen, HfPoint p, double half);

/** hf_fit_angle: radians from direction @a to @b, in -pi..pi. */
double hf_fit_angle(HfPoint a, HfPoint b);

/** hf_fit_misfit: mm; how far the region from node @i to node @j is from the one arc between them,
 *  at the nodes and midway between two. */
double hf_fit_misfit(const HfFitNode *nodes, guint i, guint j, double half);

/* Two arcs that share a tangent at their joint. */
typedef struct {
  HfPoint joint;
  double half[2];
  double leave; /* turn from the true tangent at the start */
  double off;   /* as hf_fit_misfit() */
} HfFitBiarc;

/** hf_fit_biarc: the two arcs with equal tangent lengths that leave node @i and arrive at node @j
 *  turned by so much from the true tangents. docs/maths.md#arcs */
HfFitBiarc hf_fit_biarc(const HfFitNode *nodes, guint i, guint j, double leave, double arrive);

/** hf_fit_crossings: appends to @places (element-type HfPoint) where pieces of @outline, lines and
 *  arcs, cross each other within both; not all of them when @cancel (nullable) said stop. Cost
 *  O(n log n) for pieces that are short beside the whole.
 */
void hf_fit_crossings(const HfOutline *outline, GArray *places, const HfCancel *cancel);

/** hf_fit_common: the points, at most two, that the whole lines or circles of @a and @b have in
 *  common. */
guint hf_fit_common(const HfCurve *a, const HfCurve *b, HfPoint ret_at[2]);

/* The edges of one ring, for how far off it something is. */
typedef struct HfFitEdges HfFitEdges;

/** hf_fit_edges_new: @ring (borrowed) must outlive it. O(vertices). */
HfFitEdges *hf_fit_edges_new(const HfRing *ring);
/** hf_fit_edges_free: frees it and all that it owns; %NULL: nothing. */
void hf_fit_edges_free(HfFitEdges *edges);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFitEdges, hf_fit_edges_free)

/** hf_fit_off: mm; how far @curve runs from the edges at nine places of it, its ends among them;
 *  INFINITY where that is more than @reach mm and a cell. O(edges near). */
double hf_fit_off(HfFitEdges *edges, const HfCurve *curve, double reach);

/** hf_fit_gap: mm from @p to the line or arc @c. */
double hf_fit_gap(const HfCurve *c, HfPoint p);

/** hf_fit_join: makes one piece of neighbours that are one, and none shorter than
 *  %HF_FIT_SHORTEST, of @contour, one contour of lines and arcs. @ring: (nullable) what it was
 *  fitted to, and how far off it what takes the place of a short piece may run, mm. Returns: %FALSE
 *  when some of it runs farther off. Cost O(n), and n for each that is too short. */
gboolean hf_fit_join(HfOutline *contour, const HfRing *ring, double most);
