/* SPDX-License-Identifier: GPL-3.0-or-later
 * hull.c - convex hulls; see hull.h.
 *
 * A line a-b reaches into a convex ring when what is left of it, cut off by each of the ring's
 * half planes in turn, is not nothing (M. Cyrus, J. Beck, Generalized two- and three-dimensional
 * clipping, 1978; from memory). The half planes moved out by the slack hold all that is so near to
 * the ring, and at its corners a little more: the answer errs towards yes.
 */
#include "geom/hull.h"
#include <stdlib.h>

static int
by_place(gconstpointer a, gconstpointer b)
{
  return hf_grid_compare(*(const HfGrid *)a, *(const HfGrid *)b);
}

static double
turn(const HfGrid *a, const HfGrid *b, const HfGrid *c)
{
  return ((double)b->x - a->x) * ((double)c->y - a->y) -
         ((double)b->y - a->y) * ((double)c->x - a->x);
}

HfRegion *
hf_hull_of(const HfGrid *points, guint n_points)
{
  g_autofree HfGrid *at = g_memdup2(points, n_points * sizeof(HfGrid));
  g_autofree HfGrid *hull = g_new(HfGrid, 2 * n_points + 1);
  HfRegion *region = hf_region_new();
  guint n = 0;
  if (n_points < 3)
    return region;
  qsort(at, n_points, sizeof(HfGrid), by_place);
  for (guint side = 0; side < 2; side++) {
    guint least = n + (side == 0 ? 2 : 1);
    for (guint k = side; k < n_points; k++) {
      const HfGrid *next = &at[side == 0 ? k : n_points - 1 - k];
      while (n >= least && turn(&hull[n - 2], &hull[n - 1], next) <= 0)
        n--;
      hull[n++] = *next;
    }
  }
  if (n > 3)
    hf_region_add_ring(region, hull, NULL, n - 1); /* the first one comes again */
  return region;
}

/* Is anything left of @a to @b within all half planes? */
static gboolean
edge_reaches(const HfRing *hull, HfPoint a, HfPoint b, double slack)
{
  double from = 0, to = 1;
  for (guint v = 0; v < hull->n; v++) {
    HfPoint p = hf_grid_point(hull->at[v]), q = hf_grid_point(hull->at[(v + 1) % hull->n]);
    double length = hf_point_distance(p, q);
    double at_a = hf_point_cross(hf_point_sub(q, p), hf_point_sub(a, p)) / length + slack;
    double at_b = hf_point_cross(hf_point_sub(q, p), hf_point_sub(b, p)) / length + slack;
    if (at_a < 0 && at_b < 0)
      return FALSE;
    if (at_a < 0)
      from = fmax(from, at_a / (at_a - at_b));
    else if (at_b < 0)
      to = fmin(to, at_a / (at_a - at_b));
  }
  return from <= to;
}

gboolean
hf_hull_is_reached(const HfRing *hull, const HfRegion *region, double slack)
{
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint v = 0; v < ring->n; v++)
      if (edge_reaches(hull, hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]),
                       slack))
        return TRUE;
    if (hf_ring_holds(ring, hf_grid_point(hull->at[0])))
      return TRUE;
  }
  return FALSE;
}
