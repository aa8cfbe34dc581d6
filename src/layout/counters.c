/* SPDX-License-Identifier: GPL-3.0-or-later
 * counters.c - the openings of a letter, in the order in which a pin counts them.
 *
 *      B     counter 1: the upper one       From the top, then from the left, as the letter stands
 *            counter 2: the lower one       by itself: the same when the word is turned.
 */
#include "layout/layout.h"

#define ONE_ROW 0.01 /* ems: counters in a row are counted from the left */

static void
counter_clear(gpointer counter)
{
  hf_region_free(((HfCounter *)counter)->filled);
}

static HfPoint
middle_of(HfMatrix frame, const HfRing *ring)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint v = 0; v < ring->n; v++)
    box = hf_box_add_point(box, hf_matrix_undo(frame, hf_grid_point(ring->at[v])));
  return hf_box_centre(box);
}

static int
by_reading(gconstpointer a, gconstpointer b)
{
  HfPoint p = ((const HfCounter *)a)->middle, q = ((const HfCounter *)b)->middle;
  double above = rint(p.y / ONE_ROW) - rint(q.y / ONE_ROW);
  if (above != 0)
    return above > 0 ? -1 : 1;
  return p.x < q.x ? -1 : p.x > q.x;
}

GArray *
hf_shape_counters(const HfShape *shape, HfMatrix frame)
{
  GArray *counters = g_array_new(FALSE, FALSE, sizeof(HfCounter));
  g_array_set_clear_func(counters, counter_clear);
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, shape->outline, HF_NO_SHAPE, HF_FLATTEN_MM);
  g_autoptr(HfRegion) clean = hf_region_clean(raw);
  g_autoptr(HfRegion) turned = hf_region_turned(clean);
  for (guint i = 0; i < clean->rings->len; i++) {
    if (hf_region_ring(clean, i)->parent < 0)
      continue;
    const HfRing *ring = hf_region_ring(turned, i);
    HfCounter counter = {hf_region_new(), middle_of(frame, ring)};
    hf_region_add_ring(counter.filled, ring->at, NULL, ring->n);
    g_array_append_val(counters, counter);
  }
  g_array_sort(counters, by_reading);
  return counters;
}

guint
hf_counters_find(const GArray *counters, HfPoint p)
{
  for (guint i = 0; i < counters->len; i++)
    if (hf_ring_holds(hf_region_ring(g_array_index(counters, HfCounter, i).filled, 0), p))
      return i + 1;
  return 0;
}
