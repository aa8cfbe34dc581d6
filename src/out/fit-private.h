/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit-private.h - what the two halves of the arc fit share: fit.c walks the rings, fit-chain.c lays
 * arcs along one smooth stretch.
 */
#pragma once
#include "geom/outline.h"

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

/* Shorter pieces are not made: rounding their ends to 0.1 um would turn them by 0.1 degree. */
#define HF_FIT_SHORTEST 0.06

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
