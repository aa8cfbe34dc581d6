/* SPDX-License-Identifier: GPL-3.0-or-later
 * nest.c - closed outlines within each other: a place just inside each is asked which rings go
 * round it. Crossings are looked for among chords on the grid, where right and left are exact.
 */
#include "drawing/nest-private.h"
#include "geom/index.h"

/* One ring a contour that has one; the edges' shape is the contour's number. */
static HfRegion *
rings_of(const HfOutline *loops)
{
  HfRegion *region = hf_region_new();
  for (guint i = 0; i < hf_outline_n_contours(loops); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(loops, i, &n);
    guint start = 0;
    HfOutline one = {g_array_new(FALSE, FALSE, sizeof(HfCurve)),
                     g_array_new(FALSE, FALSE, sizeof(guint))};
    g_array_append_vals(one.curves, curve, n);
    g_array_append_val(one.starts, start);
    hf_region_flatten(region, &one, i, HF_NEST_MM);
    g_array_unref(one.curves);
    g_array_unref(one.starts);
  }
  return region;
}

static guint
contour_of(const HfRegion *region, guint ring)
{
  return hf_region_ring(region, ring)->from[0].shape;
}

/* The rings round @p but @self: how many, and the smallest. */
static HfNest
nest_at(const HfRegion *region, HfIndex *index, HfPoint p, guint self, GArray *ids)
{
  HfNest nest = {0, -1};
  double least = INFINITY;
  hf_index_round(index, p, FALSE, ids);
  for (guint i = 0; i < ids->len; i++) {
    guint ring = g_array_index(ids, HfEdgeId, i).ring;
    if (ring == self)
      continue;
    nest.depth++;
    double area = fabs(hf_ring_area(hf_region_ring(region, ring)));
    if (area < least) {
      least = area;
      nest.parent = (int)contour_of(region, ring);
    }
  }
  return nest;
}

GArray *
hf_nest(const HfOutline *loops)
{
  const double just = 2.0 / HF_GRID_PER_MM;
  g_autoptr(HfRegion) region = rings_of(loops);
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  GArray *nests = g_array_new(FALSE, FALSE, sizeof(HfNest));
  HfNest alone = {0, -1};
  for (guint i = 0; i < hf_outline_n_contours(loops); i++)
    g_array_append_val(nests, alone);
  if (hf_region_is_empty(region))
    return nests;
  g_autoptr(HfIndex) index = hf_index_new(region, hf_index_cell(region));
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    HfPoint inside = hf_ring_beside(ring, hf_ring_area(ring) > 0 ? just : -just);
    g_array_index(nests, HfNest, contour_of(region, r)) = nest_at(region, index, inside, r, ids);
  }
  return nests;
}

/* ---- crossings ------------------------------------------------------------------------------- */

static HfGrid
start_of(const HfRegion *region, HfEdgeId id)
{
  return hf_region_ring(region, id.ring)->at[id.vertex];
}

static HfGrid
end_of(const HfRegion *region, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(region, id.ring);
  return ring->at[(id.vertex + 1) % ring->n];
}

/* > 0: c lies left of a-b. Exact: the grid has 32 bits, of which 29 are used. */
static int
side(HfGrid a, HfGrid b, HfGrid c)
{
  gint64 left = ((gint64)b.x - a.x) * ((gint64)c.y - a.y),
         right = ((gint64)b.y - a.y) * ((gint64)c.x - a.x);
  return (left > right) - (left < right);
}

static gboolean
cross_each_other(const HfRegion *region, HfEdgeId e, HfEdgeId f)
{
  HfGrid a = start_of(region, e), b = end_of(region, e), c = start_of(region, f),
         d = end_of(region, f);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

static HfPoint
where_they_cross(const HfRegion *region, HfEdgeId e, HfEdgeId f)
{
  HfPoint a = hf_edge_start(region, e), b = hf_edge_end(region, e), c = hf_edge_start(region, f);
  HfPoint u = hf_point_sub(b, a), v = hf_point_sub(hf_edge_end(region, f), c);
  double t = hf_point_cross(hf_point_sub(c, a), v) / hf_point_cross(u, v);
  return hf_point_mix(a, b, t);
}

static void
find_crossings(const HfRegion *region, HfIndex *index, guint most, GArray *at)
{
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n && at->len < most; v++) {
      HfEdgeId here = {r, v};
      HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, hf_edge_start(region, here)),
                                   hf_edge_end(region, here));
      hf_index_query(index, box, ids);
      for (guint i = 0; i < ids->len && at->len < most; i++) {
        HfEdgeId there = g_array_index(ids, HfEdgeId, i);
        gboolean later = there.ring > r || (there.ring == r && there.vertex > v);
        if (!later || !cross_each_other(region, here, there))
          continue;
        HfPoint p = where_they_cross(region, here, there);
        g_array_append_val(at, p);
      }
    }
}

GArray *
hf_nest_crossings(const HfOutline *loops, guint most)
{
  GArray *at = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  g_autoptr(HfRegion) region = rings_of(loops);
  if (hf_region_is_empty(region))
    return at;
  g_autoptr(HfIndex) index = hf_index_new(region, hf_index_cell(region));
  find_crossings(region, index, most, at);
  return at;
}
