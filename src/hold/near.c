/* SPDX-License-Identifier: GPL-3.0-or-later
 * near.c - is a point in the metal? Asked often about one letter.
 *
 *      |      +--          From the lower left corner, whose answer is known, up the left side of
 *      |--->--|--> p       the box, then across to p: each edge that is crossed turns the answer.
 *      ^      +--          Only edges that meet the box can be crossed.
 *      corner
 */
#include "hold/ink-private.h"

typedef struct {
  HfPoint a, b;
  double side; /* y where it crosses the line of the left side; NAN: nowhere */
} Edge;

HfNear *
hf_near_new(const HfRegion *metal, HfIndex *index, HfBox box)
{
  HfNear *near = g_new0(HfNear, 1);
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  near->metal = metal;
  near->index = index;
  near->box = box;
  near->corner_in = hf_index_holds(index, box.min, ids);
  hf_index_query(index, box, ids);
  near->edges = g_array_sized_new(FALSE, FALSE, sizeof(Edge), ids->len);
  for (guint i = 0; i < ids->len; i++) {
    HfEdgeId id = g_array_index(ids, HfEdgeId, i);
    HfPoint a = hf_edge_start(metal, id), b = hf_edge_end(metal, id), o = box.min;
    gboolean crosses = (a.x > o.x) != (b.x > o.x);
    Edge edge = {a, b, crosses ? a.y + (b.y - a.y) * (o.x - a.x) / (b.x - a.x) : NAN};
    g_array_append_val(near->edges, edge);
  }
  return near;
}

void
hf_near_free(HfNear *near)
{
  if (near == NULL)
    return;
  g_array_unref(near->edges);
  g_free(near);
}

/* Half-open on both axes, so that a vertex counts once. */
gboolean
hf_near_contains(const HfNear *near, HfPoint p)
{
  gboolean in = near->corner_in;
  HfPoint o = near->box.min;
  const Edge *edges = (const Edge *)(const void *)near->edges->data;
  for (guint i = 0; i < near->edges->len; i++) {
    HfPoint a = edges[i].a, b = edges[i].b;
    in ^= edges[i].side > o.y && edges[i].side <= p.y;
    if ((a.y > p.y) != (b.y > p.y)) {
      double x = a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y);
      in ^= x > o.x && x <= p.x;
    }
  }
  return in;
}
