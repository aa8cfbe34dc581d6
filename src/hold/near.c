/* SPDX-License-Identifier: GPL-3.0-or-later
 * near.c - is a point in the metal? Asked often about one letter.
 *
 *      |      +--          From the lower left corner, whose answer is known, up the left side of
 *      |--->--|--> p       the box, then across to p: each edge that is crossed turns the answer.
 *      ^      +--          Only edges that meet the box can be crossed.
 *      corner
 */
#include "hold/ink-private.h"

HfNear *
hf_near_new(const HfRegion *metal, HfIndex *index, HfBox box)
{
  HfNear *near = g_new0(HfNear, 1);
  near->metal = metal;
  near->index = index;
  near->box = box;
  near->ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  near->corner_in = hf_index_holds(index, box.min, near->ids);
  hf_index_query(index, box, near->ids);
  return near;
}

void
hf_near_free(HfNear *near)
{
  if (near == NULL)
    return;
  g_array_unref(near->ids);
  g_free(near);
}

/* Half-open on both axes, so that a vertex counts once. */
gboolean
hf_near_contains(const HfNear *near, HfPoint p)
{
  gboolean in = near->corner_in;
  HfPoint o = near->box.min;
  for (guint i = 0; i < near->ids->len; i++) {
    HfEdgeId id = g_array_index(near->ids, HfEdgeId, i);
    HfPoint a = hf_edge_start(near->metal, id), b = hf_edge_end(near->metal, id);
    if ((a.x > o.x) != (b.x > o.x)) {
      double y = a.y + (b.y - a.y) * (o.x - a.x) / (b.x - a.x);
      in ^= y > o.y && y <= p.y;
    }
    if ((a.y > p.y) != (b.y > p.y)) {
      double x = a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y);
      in ^= x > o.x && x <= p.x;
    }
  }
  return in;
}
