/* SPDX-License-Identifier: GPL-3.0-or-later
 * level-private.h - the axis under a limit, as a graph of pieces and ends.
 *
 *       mouth                        mouth      r = limit / 2, where the piece is cut off
 *         |----- p0 -----o---- p1 ----|
 *                        |                      o  a node of the axis under the limit
 *                       p2
 *                        |
 *                        o leaf                 an end of one piece that is no mouth
 */
#pragma once
#include "thin/thin-private.h"

/* A stretch of one axis edge under the limit, with its points, cut to the limit. */
typedef struct {
  guint end[2]; /* at its first and its last point; of level->ends */
  HfStretch stretch;
  gboolean whole; /* all of its axis edge: its points are the axis's own */
  guint first, n; /* its points, of level->points (whole: of axis->points); n >= 2 */
  double length;  /* mm, >= 0 */
  double tip[2];  /* mm from either end that belong to a tip (tips.c) */
  guint zone;     /* 0 .. level->n_zones - 1 */
} HfPieceOfAxis;

typedef struct {
  guint first, n; /* the pieces that end here, as 2 * number + side, in order: of level->spokes */
  gboolean mouth; /* then n is 1 */
} HfEndOfPiece;

/* The pieces of one zone. */
typedef struct {
  const guint *pieces; /* numbers, in order */
  guint n, n_ends, n_mouths;
} HfMembers;

typedef struct {
  const HfThin *thin;
  double limit;
  GArray *pieces; /* HfPieceOfAxis */
  GArray *points; /* HfAxisPoint */
  GArray *wheres; /* double: number of each point on its axis edge */
  GArray *ends;   /* HfEndOfPiece */
  guint *spokes;
  guint n_zones;
  guint *members;   /* piece numbers, zone by zone */
  HfMembers *zones; /* of each zone */
} HfLevel;

/** hf_level_init: the level of @limit, mm. @edges: (nullable) the axis edges to look at, in order;
 *  %NULL: all that are no twigs. Cost O(n log n) for n points. */
void hf_level_init(HfLevel *level, const HfThin *thin, double limit, const guint *edges, guint n);
/** hf_level_clear: frees what it owns, not itself. */
void hf_level_clear(HfLevel *level);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfLevel, hf_level_clear)

/** hf_level_mark_tips: tips.c; fills in `tip` of every piece. */
void hf_level_mark_tips(HfLevel *level);

static inline HfPieceOfAxis *
hf_level_piece(const HfLevel *level, guint i)
{
  return &g_array_index(level->pieces, HfPieceOfAxis, i);
}

static inline const HfEndOfPiece *
hf_level_end(const HfLevel *level, guint i)
{
  return &g_array_index(level->ends, HfEndOfPiece, i);
}

static inline const HfAxisPoint *
hf_level_points(const HfLevel *level, const HfPieceOfAxis *piece)
{
  const GArray *points = piece->whole ? level->thin->axis->points : level->points;
  return &g_array_index(points, HfAxisPoint, piece->first);
}

/** hf_level_is_leaf: does the axis end here? */
static inline gboolean
hf_level_is_leaf(const HfLevel *level, guint end)
{
  return hf_level_end(level, end)->n == 1 && !hf_level_end(level, end)->mouth;
}

/** hf_piece_facts: (nullable) of a piece that is a whole axis edge. */
static inline const HfEdgeFacts *
hf_piece_facts(const HfLevel *level, const HfPieceOfAxis *piece)
{
  return piece->whole ? &level->thin->facts[piece->stretch.edge] : NULL;
}

/** hf_piece_at: the point of @piece @along mm from its first, and its number on the axis edge. */
HfAxisPoint hf_piece_at(const HfLevel *level, const HfPieceOfAxis *piece, double along,
                        double *ret_where);

/** hf_piece_inner: what of @piece lies outside tips, mm from its first point. %FALSE: nothing. */
gboolean hf_piece_inner(const HfPieceOfAxis *piece, double *ret_from, double *ret_to);

/** hf_axis_point_between: @t from @p (0) to @q (1). */
static inline HfAxisPoint
hf_axis_point_between(const HfAxisPoint *p, const HfAxisPoint *q, double t)
{
  return (HfAxisPoint){hf_point_mix(p->at, q->at, t), p->radius + (q->radius - p->radius) * t,
                       hf_point_mix(p->foot_a, q->foot_a, t),
                       hf_point_mix(p->foot_b, q->foot_b, t)};
}

static inline const HfAxisEdge *
hf_axis_edge(const HfAxis *axis, guint number)
{
  return &g_array_index(axis->edges, HfAxisEdge, number);
}

/** hf_axis_edge_point: point @i of @edge. */
static inline const HfAxisPoint *
hf_axis_edge_point(const HfAxis *axis, const HfAxisEdge *edge, guint i)
{
  return &g_array_index(axis->points, HfAxisPoint, edge->first + i);
}
