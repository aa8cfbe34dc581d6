/* SPDX-License-Identifier: GPL-3.0-or-later
 * level.c - cuts the axis at a limit: the sublevel set { r < limit / 2 } of its radius, as a graph.
 *
 *     r |  \       /\           /        The radius is linear between two samples of an axis edge,
 *   r_0 |---m-----m--m---------m----     so an edge is under r_0 = limit / 2 along stretches, each
 *       |    \___/    \__o____/          from a mouth m or its first node to a mouth or its last.
 *
 * Invariant, kept by cut_edge() and number_ends(): *the pieces are the axis under the limit, each
 * point of it once, and two pieces share an end exactly where the axis goes on from the one to the
 * other under the limit.* All else follows from it:
 *   - a zone is a connected component of pieces (union of their ends, hf_forest_root());
 *   - it has as many mouths as it has ends that are mouths, for these are shared with none;
 *   - it is a tree exactly when it has one end more than pieces (Euler);
 *   - the zones of a smaller limit lie each within one of a larger one.
 *
 * Accuracy: that of the axis, whose chords are 2 um off; a mouth lies where the chord meets r_0. At
 * its ends an edge has its node's radius, so that all edges of a node agree on which side it is.
 *
 * Degenerate cases are limits of the usual one. At exactly r_0 nothing is under it: a node there is
 * a mouth to each of its edges and joins none, a sample there divides its edge into two pieces. A
 * piece may have no length. An edge from a node to itself has one end twice. A part that is all
 * under the limit has no mouth. As the limit goes to 0 all pieces go to the leaves.
 *
 * Source: sublevel sets and their components by union-find, as in the merge tree of a function
 * (H. Carr, J. Snoeyink, U. Axen, Computing contour trees in all dimensions, 2003; from memory).
 */
#include "geom/forest.h"
#include "thin/level-private.h"
#include <stdlib.h>

#define MOUTH G_MAXUINT /* instead of a node's number, until the ends are numbered */

/* ---- pieces ---------------------------------------------------------------------------------- */

/* There is room: make_room() was called. */
static inline void
put_point(HfLevel *level, HfAxisPoint point, double where)
{
  ((HfAxisPoint *)(void *)level->points->data)[level->points->len++] = point;
  ((double *)(void *)level->wheres->data)[level->wheres->len++] = where;
}

/* For @n more points. */
static void
make_room(HfLevel *level, guint n)
{
  guint len = level->points->len;
  g_array_set_size(level->points, len + n);
  g_array_set_size(level->points, len);
  g_array_set_size(level->wheres, len + n);
  g_array_set_size(level->wheres, len);
}

static HfPieceOfAxis
piece_begin(const HfLevel *level, guint edge, guint node)
{
  return (HfPieceOfAxis){.end = {node, MOUTH}, .stretch.edge = edge, .first = level->points->len};
}

static void
piece_finish(HfLevel *level, HfPieceOfAxis *piece, guint node)
{
  piece->end[1] = node;
  piece->n = level->points->len - piece->first;
  const HfAxisPoint *p = hf_level_points(level, piece);
  for (guint i = 1; i < piece->n; i++)
    piece->length += hf_point_distance(p[i - 1].at, p[i].at);
  piece->stretch.from = g_array_index(level->wheres, double, piece->first);
  piece->stretch.to = g_array_index(level->wheres, double, piece->first + piece->n - 1);
  g_array_append_val(level->pieces, *piece);
}

static double
radius_at(const HfAxis *axis, const HfAxisEdge *edge, guint i)
{
  if (i == 0)
    return g_array_index(axis->nodes, HfAxisNode, edge->node_a).radius;
  if (i == edge->n - 1)
    return g_array_index(axis->nodes, HfAxisNode, edge->node_b).radius;
  return hf_axis_edge_point(axis, edge, i)->radius;
}

/* All of it is under the limit: nothing to cut, nothing to copy. */
static void
take_edge(HfLevel *level, guint number)
{
  const HfAxisEdge *edge = hf_axis_edge(level->thin->axis, number);
  HfPieceOfAxis piece = {.end = {edge->node_a, edge->node_b},
                         .stretch = {.edge = number, .from = 0, .to = edge->n - 1},
                         .whole = TRUE,
                         .first = edge->first,
                         .n = edge->n,
                         .length = level->thin->facts[number].length};
  g_array_append_val(level->pieces, piece);
}

static void
cut_edge(HfLevel *level, guint number)
{
  const HfAxis *axis = level->thin->axis;
  const HfAxisEdge *edge = hf_axis_edge(axis, number);
  double r = level->limit / 2, before = radius_at(axis, edge, 0);
  gboolean open = before < r;
  HfPieceOfAxis piece = piece_begin(level, number, edge->node_a);
  make_room(level, 2 * edge->n); /* each sample, and a mouth before it */
  if (open)
    put_point(level, *hf_axis_edge_point(axis, edge, 0), 0);
  for (guint i = 1; i < edge->n; i++) {
    const HfAxisPoint *p = hf_axis_edge_point(axis, edge, i);
    double here = radius_at(axis, edge, i);
    if ((here < r) != open) { /* so here != before */
      double t = (r - before) / (here - before);
      if (!open)
        piece = piece_begin(level, number, MOUTH);
      put_point(level, hf_axis_point_between(p - 1, p, t), i - 1 + t);
      if (open)
        piece_finish(level, &piece, MOUTH);
      open = !open;
    }
    if (open)
      put_point(level, *p, i);
    before = here;
  }
  if (open)
    piece_finish(level, &piece, edge->node_b);
}

/* ---- ends ------------------------------------------------------------------------------------ */

typedef struct {
  guint node;  /* or MOUTH */
  guint spoke; /* 2 * piece + side */
} Spoke;

static int
by_node(gconstpointer p, gconstpointer q)
{
  const Spoke *a = p, *b = q;
  if (a->node != b->node)
    return a->node < b->node ? -1 : 1;
  return (a->spoke > b->spoke) - (a->spoke < b->spoke);
}

/* The same order, by counting: of most of the axis that is the faster way. Mouths come last. */
static void
count_out(const HfLevel *level, Spoke *all, guint n)
{
  guint nodes = level->thin->axis->nodes->len;
  g_autofree guint *next = g_new0(guint, nodes + 2);
  for (guint s = 0; s < n; s++)
    next[MIN(hf_level_piece(level, s / 2)->end[s % 2], nodes) + 1]++;
  for (guint v = 0; v <= nodes; v++)
    next[v + 1] += next[v];
  for (guint s = 0; s < n; s++) {
    guint node = hf_level_piece(level, s / 2)->end[s % 2];
    all[next[MIN(node, nodes)]++] = (Spoke){node, s};
  }
}

static Spoke *
spokes_by_node(const HfLevel *level, guint n)
{
  Spoke *all = g_new0(Spoke, n + 1);
  if (n > level->thin->axis->nodes->len / 4) {
    count_out(level, all, n);
    return all;
  }
  for (guint s = 0; s < n; s++)
    all[s] = (Spoke){hf_level_piece(level, s / 2)->end[s % 2], s};
  qsort(all, n, sizeof *all, by_node);
  return all;
}

/* Nodes become ends, and every mouth an end of its own. */
static void
number_ends(HfLevel *level)
{
  guint n = 2 * level->pieces->len;
  g_autofree Spoke *all = spokes_by_node(level, n);
  level->spokes = g_new(guint, n + 1);
  for (guint i = 0; i < n; i++) {
    if (i == 0 || all[i].node == MOUTH || all[i].node != all[i - 1].node) {
      HfEndOfPiece end = {i, 0, all[i].node == MOUTH};
      g_array_append_val(level->ends, end);
    }
    guint number = level->ends->len - 1;
    g_array_index(level->ends, HfEndOfPiece, number).n++;
    hf_level_piece(level, all[i].spoke / 2)->end[all[i].spoke % 2] = number;
    level->spokes[i] = all[i].spoke;
  }
}

/* ---- zones ----------------------------------------------------------------------------------- */

/* Numbers the zones in order of their first piece; @root (in: a forest over the ends) becomes the
 * zone of each end. */
static void
number_zones(HfLevel *level, guint *root)
{
  guint n_ends = level->ends->len;
  g_autofree guint *zone = g_new(guint, n_ends + 1);
  for (guint e = 0; e < n_ends; e++)
    zone[e] = G_MAXUINT;
  for (guint i = 0; i < level->pieces->len; i++) {
    HfPieceOfAxis *piece = hf_level_piece(level, i);
    guint at = hf_forest_root(root, piece->end[0]);
    if (zone[at] == G_MAXUINT)
      zone[at] = level->n_zones++;
    piece->zone = zone[at];
  }
  level->zones = g_new0(HfMembers, level->n_zones + 1);
  for (guint e = 0; e < n_ends; e++) {
    HfMembers *members = &level->zones[zone[hf_forest_root(root, e)]];
    members->n_ends++;
    members->n_mouths += hf_level_end(level, e)->mouth ? 1 : 0;
  }
}

static void
gather_members(HfLevel *level)
{
  guint n = level->pieces->len, first = 0;
  g_autofree guint *next = g_new0(guint, level->n_zones + 1);
  level->members = g_new(guint, n + 1);
  for (guint i = 0; i < n; i++)
    level->zones[hf_level_piece(level, i)->zone].n++;
  for (guint z = 0; z < level->n_zones; z++) {
    next[z] = first;
    level->zones[z].pieces = level->members + first;
    first += level->zones[z].n;
  }
  for (guint i = 0; i < n; i++)
    level->members[next[hf_level_piece(level, i)->zone]++] = i;
}

static void
find_zones(HfLevel *level)
{
  g_autofree guint *root = hf_forest_new(level->ends->len);
  for (guint i = 0; i < level->pieces->len; i++) {
    const HfPieceOfAxis *piece = hf_level_piece(level, i);
    hf_forest_join(root, piece->end[0], piece->end[1]);
  }
  number_zones(level, root);
  gather_members(level);
}

static gboolean
is_under(const HfThin *thin, guint edge, double limit)
{
  return thin->least[edge] < limit / 2;
}

void
hf_level_init(HfLevel *level, const HfThin *thin, double limit, const guint *edges, guint n)
{
  *level = (HfLevel){.thin = thin, .limit = limit};
  guint all = edges != NULL ? n : thin->axis->edges->len, under = 0;
  for (guint i = 0; i < all; i++)
    under += is_under(thin, edges != NULL ? edges[i] : i, limit) ? 1 : 0;
  level->pieces = g_array_sized_new(FALSE, FALSE, sizeof(HfPieceOfAxis), under);
  level->points = g_array_new(FALSE, FALSE, sizeof(HfAxisPoint));
  level->wheres = g_array_new(FALSE, FALSE, sizeof(double));
  level->ends = g_array_sized_new(FALSE, FALSE, sizeof(HfEndOfPiece), under);
  for (guint i = 0; i < all; i++) {
    guint edge = edges != NULL ? edges[i] : i;
    if (!is_under(thin, edge, limit))
      continue;
    if (thin->facts[edge].most < limit / 2)
      take_edge(level, edge);
    else
      cut_edge(level, edge);
  }
  number_ends(level);
  find_zones(level);
}

void
hf_level_clear(HfLevel *level)
{
  g_array_unref(level->pieces);
  g_array_unref(level->points);
  g_array_unref(level->wheres);
  g_array_unref(level->ends);
  g_free(level->spokes);
  g_free(level->members);
  g_free(level->zones);
}

/* ---- along a piece --------------------------------------------------------------------------- */

static double
where_of(const HfLevel *level, const HfPieceOfAxis *piece, guint i)
{
  return piece->whole ? i : g_array_index(level->wheres, double, piece->first + i);
}

HfAxisPoint
hf_piece_at(const HfLevel *level, const HfPieceOfAxis *piece, double along, double *ret_where)
{
  const HfAxisPoint *p = hf_level_points(level, piece);
  for (guint i = 1; i < piece->n; i++) {
    double step = hf_point_distance(p[i - 1].at, p[i].at);
    if (along <= step + 1e-12 || i == piece->n - 1) {
      double t = step > 0 ? CLAMP(along / step, 0, 1) : 0;
      double before = where_of(level, piece, i - 1);
      *ret_where = before + (where_of(level, piece, i) - before) * t;
      return hf_axis_point_between(&p[i - 1], &p[i], t);
    }
    along -= step;
  }
  *ret_where = where_of(level, piece, 0);
  return p[0];
}

gboolean
hf_piece_inner(const HfPieceOfAxis *piece, double *ret_from, double *ret_to)
{
  double from = piece->tip[0], to = piece->length - piece->tip[1];
  *ret_from = from;
  *ret_to = to;
  return from <= to && !(from > 0 && from >= piece->length) && to > 0;
}
