/* SPDX-License-Identifier: GPL-3.0-or-later
 * row.h - where one level line crosses the rings of a region, for many points on that line.
 *
 *        .--.   .--.          One walk along the edges for the whole line; then a point is asked by
 *     ---x--x---x--x--- y     summing the windings of the crossings to its right, as
 *        |  '---'  |          hf_region_contains() does with a walk for each point.
 */
#pragma once
#include "geom/region.h"

typedef struct {
  double x;       /* mm */
  gint8 winding;  /* 1: the edge goes up, -1: down */
  gboolean outer; /* of a ring with metal within, not of an opening */
} HfCrossing;

typedef enum {
  HF_IN_METAL,
  HF_IN_OPENING, /* within an outer ring, or several, but in no metal */
  HF_IN_OPEN,    /* within none */
} HfWhere;

/** hf_row_of: (transfer full) (element-type HfCrossing) the crossings of @region, clean, with the
 *  line at @y mm, in no order; those of a point on an edge may fall on either side of it, as with
 *  hf_region_contains(). O(edges). */
GArray *hf_row_of(const HfRegion *region, double y);
/** hf_row_where: what lies at @x mm of that line. O(crossings). */
HfWhere hf_row_where(const GArray *row, double x);
/** hf_row_places: (transfer full) (element-type HfPoint) about @n places in @region, clean, on a
 *  square lattice, row by row from below; empty: it has no area. O(rows * edges + n). */
GArray *hf_row_places(const HfRegion *region, guint n);
