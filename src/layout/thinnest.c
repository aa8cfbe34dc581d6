/* SPDX-License-Identifier: GPL-3.0-or-later
 * thinnest.c - how thin a letter is where it is thinnest.
 *
 *      ________            along the axis the width has its least at a waist, or all along an even
 *     |  _____/ <- tip     stroke. Towards a corner or a tip it only falls: that is no waist, and
 *     | |__                what burns back there other laws tell
 *     |  __) <- waist
 *
 * Of the medial axis (geom/axis.h) of the letter's chords, less the legs that run into corners: the
 * least width at a point from which it falls no further either way. docs/maths.md#shaped-words
 */
#include "geom/axis.h"
#include "layout/shaped-private.h"

#define CORNER 0.01 /* mm of radius at a corner, or at a vertex of a flattened curve */
#define CHORDS 0.02 /* mm that chords may be off: a width is within twice that */
#define FALLS  0.05 /* radius by length: what narrows faster runs out to a tip */

static const double CLOSE = 1e-6; /* mm: rounding */

typedef struct {
  guint *arms;     /* a node: edges there that are no legs; */
  gboolean *falls; /* does it narrow along one of them? */
} Nodes;

static double
radius_of(const HfAxis *axis, guint node)
{
  return g_array_index(axis->nodes, HfAxisNode, node).radius;
}

static gboolean
is_leg(const HfAxis *axis, const HfAxisEdge *edge)
{
  return radius_of(axis, edge->node_a) < CORNER || radius_of(axis, edge->node_b) < CORNER;
}

static void
add_arm(const HfAxis *axis, Nodes *nodes, guint node, guint other)
{
  HfPoint here = g_array_index(axis->nodes, HfAxisNode, node).at;
  HfPoint there = g_array_index(axis->nodes, HfAxisNode, other).at;
  nodes->arms[node]++;
  nodes->falls[node] |=
      radius_of(axis, node) - radius_of(axis, other) > FALLS * hf_point_distance(here, there);
}

/* Least radius of an edge that is about even, or that has a waist within; else infinity. */
static double
least_along(const HfAxis *axis, const HfAxisEdge *edge)
{
  double least = INFINITY, a = radius_of(axis, edge->node_a), b = radius_of(axis, edge->node_b);
  double apart = hf_point_distance(g_array_index(axis->nodes, HfAxisNode, edge->node_a).at,
                                   g_array_index(axis->nodes, HfAxisNode, edge->node_b).at);
  for (guint k = edge->first + 1; k + 1 < edge->first + edge->n; k++)
    least = fmin(least, g_array_index(axis->points, HfAxisPoint, k).radius);
  if (least < fmin(a, b) - CLOSE)
    return least;
  return fabs(a - b) <= FALLS * apart ? fmin(a, b) : INFINITY;
}

static double
thinnest(const HfAxis *axis)
{
  guint n = axis->nodes->len;
  g_autofree guint *arms = g_new0(guint, n + 1);
  g_autofree gboolean *falls = g_new0(gboolean, n + 1);
  Nodes nodes = {arms, falls};
  double found = INFINITY;
  for (guint e = 0; e < axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, e);
    if (is_leg(axis, edge))
      continue;
    add_arm(axis, &nodes, edge->node_a, edge->node_b);
    add_arm(axis, &nodes, edge->node_b, edge->node_a);
    found = fmin(found, least_along(axis, edge));
  }
  for (guint i = 0; i < n; i++)
    if (arms[i] > 1 && !falls[i])
      found = fmin(found, radius_of(axis, i));
  return 2 * found;
}

double
hf_thinnest_stroke(const HfOutline *letter, const HfCancel *cancel)
{
  g_autoptr(HfRegion) region = hf_region_of_outline(letter, HF_NO_SHAPE, CHORDS);
  if (hf_region_is_empty(region))
    return INFINITY;
  g_autoptr(HfAxis) axis = hf_axis_new(region, NULL, cancel);
  return thinnest(axis);
}
