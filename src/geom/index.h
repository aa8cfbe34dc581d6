/* SPDX-License-Identifier: GPL-3.0-or-later
 * index.h - finds the edges near a place: a uniform grid of square cells over a region's edges.
 */
#pragma once
#include "geom/region.h"

typedef struct {
  guint ring, vertex; /* the edge at[vertex] -> at[vertex + 1] of that ring */
} HfEdgeId;

typedef struct HfIndex HfIndex;

/**
 * hf_index_new:
 * @regions: (borrowed) must outlive the index; not changed meanwhile
 * @cell: mm, > 0; about the size of the usual query. Cells are coarsened so that there are at most
 *   four per edge.
 * Cost O(edges + cells crossed).
 */
HfIndex *hf_index_new(const HfRegion *region, double cell);
/** hf_index_new_reaching: the same, in which two edges no farther than @reach mm apart have a cell
 *  in common: see hf_index_cell_of_rings(). */
HfIndex *hf_index_new_reaching(const HfRegion *region, double cell, double reach);
/** hf_index_cell: mm, a cell for queries at single places: as large as the usual edge, but where
 * long edges are far between no more than one of them has. */
double hf_index_cell(const HfRegion *region);
/** hf_index_free: frees it and all that it owns; %NULL: nothing. */
void hf_index_free(HfIndex *index);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfIndex, hf_index_free)

/**
 * hf_index_query:
 * @ids: (element-type HfEdgeId) cleared, then filled, each edge once, in index order
 * Every edge whose box meets @box is in @ids; some others may be too.
 */
void hf_index_query(HfIndex *index, HfBox box, GArray *ids);

/** hf_index_query_numbers: the same, @numbers (element-type guint) of the edges: those of the first
 *  ring, then those of the second, and so on. */
void hf_index_query_numbers(HfIndex *index, HfBox box, GArray *numbers);

/** hf_index_query_cells: as hf_index_query_numbers(), without the cells that @wants refuses: an
 * edge that stands in one of them only is left out. Cost: those cells ask once each. */
typedef gboolean (*HfCellFunc)(guint cell, gconstpointer data);
void hf_index_query_cells(HfIndex *index, HfBox box, HfCellFunc wants, gconstpointer data,
                          GArray *numbers);
/** hf_index_cell_numbers: the numbers of the @ret_n edges that stand in @cell; borrowed. */
const guint *hf_index_cell_numbers(const HfIndex *index, guint cell, guint *ret_n);

/** hf_index_n_cells: cells are numbered from 0. */
guint hf_index_n_cells(const HfIndex *index);
/** hf_index_cell_of_rings: the edges that stand in cell @cell, in the order of the region, where
 *  they are of two rings or more; else 0. Two edges that have a point in common stand in one cell.
 *  @ids: (nullable) room for as many as it returns without. */
guint hf_index_cell_of_rings(const HfIndex *index, guint cell, HfEdgeId *ids);

/** hf_index_is_alone: certainly no edge of another ring comes within @reach mm of the box of ring
 *  @ring; %FALSE where that would cost more than asking edge by edge. @ids: used on the way. */
gboolean hf_index_is_alone(HfIndex *index, guint ring, double reach, GArray *ids);

/**
 * hf_index_crossed:
 * @ids: (element-type HfEdgeId) cleared, then filled, each edge once
 * The edges that a ray from @p crosses, to the right or (@up) upward. An edge has its end that is
 * nearer to the start of the other axis and not its other one, so a ring that @p does not lie on
 * holds it exactly when it is crossed an odd number of times.
 */
void hf_index_crossed(HfIndex *index, HfPoint p, gboolean up, GArray *ids);

/** hf_index_round: as hf_index_crossed(), but of each ring that holds @p one edge, by ring. */
void hf_index_round(HfIndex *index, HfPoint p, gboolean up, GArray *ids);

/** hf_index_rings_round: the same, by the short way. */
void hf_index_rings_round(HfIndex *index, HfPoint p, GArray *ids);

/** hf_index_holds: is @p within an odd number of rings? A valid region holds it then.
 *  @ids: (element-type HfEdgeId) used on the way. Cost: that of a ray the short way. */
gboolean hf_index_holds(HfIndex *index, HfPoint p, GArray *ids);

static inline HfPoint
hf_edge_start(const HfRegion *region, HfEdgeId id)
{
  return hf_grid_point(hf_region_ring(region, id.ring)->at[id.vertex]);
}

static inline HfPoint
hf_edge_end(const HfRegion *region, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(region, id.ring);
  return hf_grid_point(ring->at[id.vertex + 1 < ring->n ? id.vertex + 1 : 0]); /* % is dear */
}

/** hf_segment_nearest: the point of segment a-b that is nearest to p; @t (nullable) in 0..1. */
static inline HfPoint
hf_segment_nearest(HfPoint a, HfPoint b, HfPoint p, double *t)
{
  HfPoint along = hf_point_sub(b, a);
  double square = hf_point_dot(along, along);
  double at = square == 0 ? 0 : CLAMP(hf_point_dot(hf_point_sub(p, a), along) / square, 0, 1);
  if (t != NULL)
    *t = at;
  return hf_point_mix(a, b, at);
}

/** hf_segment_gap: least distance between segments a-b and c-d, mm; 0 when they cross.
 *  @ret_on_ab, @ret_on_cd (nullable): the nearest points. */
double hf_segment_gap(HfPoint a, HfPoint b, HfPoint c, HfPoint d, HfPoint *ret_on_ab,
                      HfPoint *ret_on_cd);
