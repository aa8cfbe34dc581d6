/* SPDX-License-Identifier: GPL-3.0-or-later
 * row.c - where one level line crosses the rings of a region.
 */
#include "geom/row.h"

static void
add_ring(GArray *row, const HfRing *ring, double y)
{
  HfPoint a = hf_grid_point(ring->at[ring->n - 1]);
  for (guint v = 0; v < ring->n; v++) {
    HfPoint b = hf_grid_point(ring->at[v]);
    if ((a.y <= y) != (b.y <= y)) {
      HfCrossing crossing = {a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y), b.y > a.y ? 1 : -1,
                             ring->parent < 0};
      g_array_append_val(row, crossing);
    }
    a = b;
  }
}

GArray *
hf_row_of(const HfRegion *region, double y)
{
  GArray *row = g_array_new(FALSE, FALSE, sizeof(HfCrossing));
  for (guint r = 0; r < region->rings->len; r++)
    add_ring(row, hf_region_ring(region, r), y);
  return row;
}

HfWhere
hf_row_where(const GArray *row, double x)
{
  int winding = 0, about = 0;
  for (guint i = 0; i < row->len; i++) {
    const HfCrossing *crossing = &g_array_index(row, HfCrossing, i);
    if (crossing->x <= x)
      continue;
    winding += crossing->winding;
    about += crossing->outer ? crossing->winding : 0;
  }
  return winding != 0 ? HF_IN_METAL : about != 0 ? HF_IN_OPENING : HF_IN_OPEN;
}

GArray *
hf_row_places(const HfRegion *region, guint n)
{
  GArray *places = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  HfBox box = hf_region_box(region);
  double step = sqrt(hf_region_area(region) / n);
  for (double y = box.min.y + step / 2; step > 0 && y < box.max.y; y += step) {
    g_autoptr(GArray) row = hf_row_of(region, y);
    for (double x = box.min.x + step / 2; x < box.max.x; x += step)
      if (hf_row_where(row, x) == HF_IN_METAL)
        g_array_append_vals(places, &(HfPoint){x, y}, 1);
  }
  return places;
}
