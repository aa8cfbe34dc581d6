/* SPDX-License-Identifier: GPL-3.0-or-later
 * window.c - what of a region lies in a box, at the cost of what lies there.
 *
 *      .--.    .----.         A way that stays beyond the line of one side of the box winds round
 *     /    \__/      \        no point of the box, and neither does the straight way: within the
 *    a - - - - - - - - b      box the area is the same, and one edge is left of thousands. Edges
 *      +----------+           that reach into the box stay as they are, to the grid.
 *      |   box    |
 *      +----------+
 */
#include "geom/region.h"

/* Which sides of the box @p lies beyond: bits. */
static guint
beyond(HfGrid p, HfGrid low, HfGrid high)
{
  return (p.x < low.x ? 1U : 0) | (p.x > high.x ? 2U : 0) | (p.y < low.y ? 4U : 0) |
         (p.y > high.y ? 8U : 0);
}

/* Adds @ring with its ways beyond a side made straight. @at: HfGrid, used again and again. */
static void
add_shortened(HfRegion *some, const HfRing *ring, HfGrid low, HfGrid high, GArray *at)
{
  guint way = 0, last = 0; /* sides: that the last edge lies beyond, that the last point does */
  g_array_set_size(at, 0);
  for (guint v = 0; v < ring->n; v++) {
    guint sides = beyond(ring->at[v], low, high);
    if ((way & sides) != 0) {
      g_array_index(at, HfGrid, at->len - 1) = ring->at[v];
      way &= sides;
    } else {
      g_array_append_val(at, ring->at[v]);
      way = last & sides;
    }
    last = sides;
  }
  if (at->len >= 3)
    hf_region_add_ring(some, (HfGrid *)(void *)at->data, NULL, at->len);
}

HfRegion *
hf_region_about(const HfRegion *region, HfBox box)
{
  HfRegion *some = hf_region_new();
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  HfGrid low = hf_grid_snap(box.min), high = hf_grid_snap(box.max);
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    if (hf_box_overlaps(hf_ring_box(ring), box))
      add_shortened(some, ring, low, high, at);
  }
  return some;
}

HfRegion *
hf_region_within(const HfRegion *region, HfBox box)
{
  const HfGrid low = hf_grid_snap(box.min), high = hf_grid_snap(box.max);
  const HfGrid corners[] = {low, {high.x, low.y}, high, {low.x, high.y}};
  g_autoptr(HfRegion) some = hf_region_about(region, box), window = hf_region_new();
  hf_region_add_ring(window, corners, NULL, G_N_ELEMENTS(corners));
  return hf_region_intersect(some, window);
}
