/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-net.c - the axis as a net: from a place outward while it stays narrow.
 *
 *        mouth |----o-------p------o----| mouth      p: the place; o: nodes; the net is cut where
 *                    \                               the radius reaches what is asked for
 *                     o
 */
#include "mend/mend-private.h"

static void
fan_out(HfMendNet *net)
{
  guint n = net->axis->nodes->len, edges = net->axis->edges->len;
  net->fan = g_new0(guint, n + 2);
  net->spokes = g_new(guint, 2 * edges + 1);
  for (guint e = 0; e < edges; e++) {
    const HfAxisEdge *edge = &g_array_index(net->axis->edges, HfAxisEdge, e);
    net->fan[edge->node_a + 2]++;
    net->fan[edge->node_b + 2]++;
  }
  for (guint i = 2; i < n + 2; i++)
    net->fan[i] += net->fan[i - 1];
  for (guint e = 0; e < edges; e++) {
    const HfAxisEdge *edge = &g_array_index(net->axis->edges, HfAxisEdge, e);
    net->spokes[net->fan[edge->node_a + 1]++] = e;
    net->spokes[net->fan[edge->node_b + 1]++] = e;
  }
}

HfMendNet *
hf_mend_net_new(const HfRegion *metal, gboolean turned, const HfCancel *cancel)
{
  HfMendNet *net = g_new0(HfMendNet, 1);
  net->region = turned ? hf_region_turned(metal) : hf_region_copy(metal);
  net->turned = turned;
  net->axis = hf_axis_new(net->region, NULL, cancel);
  fan_out(net);
  return net;
}

void
hf_mend_net_free(HfMendNet *net)
{
  if (net == NULL)
    return;
  hf_region_free(net->region);
  hf_axis_free(net->axis);
  g_free(net->fan);
  g_free(net->spokes);
  g_free(net);
}

static const HfAxisEdge *
edge_of(const HfMendNet *net, guint edge)
{
  return &g_array_index(net->axis->edges, HfAxisEdge, edge);
}

static const HfAxisPoint *
point_of(const HfMendNet *net, guint edge, guint i)
{
  return &g_array_index(net->axis->points, HfAxisPoint, edge_of(net, edge)->first + i);
}

HfAxisPoint
hf_mend_net_point(const HfMendNet *net, guint edge, double where)
{
  guint i = MIN((guint)fmax(where, 0), edge_of(net, edge)->n - 2);
  const HfAxisPoint *p = point_of(net, edge, i), *q = point_of(net, edge, i + 1);
  double t = where - i;
  return (HfAxisPoint){hf_point_mix(p->at, q->at, t), p->radius + (q->radius - p->radius) * t,
                       hf_point_mix(p->foot_a, q->foot_a, t),
                       hf_point_mix(p->foot_b, q->foot_b, t)};
}

/* At its ends an edge has its node's radius, so that all edges of a node agree. */
static double
radius_at(const HfMendNet *net, guint edge, guint i)
{
  const HfAxisEdge *e = edge_of(net, edge);
  if (i == 0)
    return g_array_index(net->axis->nodes, HfAxisNode, e->node_a).radius;
  if (i == e->n - 1)
    return g_array_index(net->axis->nodes, HfAxisNode, e->node_b).radius;
  return point_of(net, edge, i)->radius;
}

/* Where the radius is @radius between points @i and @k, neighbours, the first of them under it. */
static double
crossing(const HfMendNet *net, guint edge, guint i, guint k, double radius)
{
  double a = radius_at(net, edge, i), b = radius_at(net, edge, k);
  double t = b > a ? CLAMP((radius - a) / (b - a), 0, 1) : 0;
  return i + ((double)k - i) * t;
}

/* The stretch of @edge round its point @i, which is under @radius. */
static HfNetPiece
piece_round(const HfMendNet *net, guint edge, guint i, double radius)
{
  const HfAxisEdge *e = edge_of(net, edge);
  HfNetPiece piece = {edge, 0, e->n - 1, {e->node_a, e->node_b}};
  guint a = i, b = i;
  while (a > 0 && radius_at(net, edge, a - 1) < radius)
    a--;
  while (b + 1 < e->n && radius_at(net, edge, b + 1) < radius)
    b++;
  if (a > 0) {
    piece.from = crossing(net, edge, a, a - 1, radius);
    piece.end[0] = HF_NET_MOUTH;
  }
  if (b + 1 < e->n) {
    piece.to = crossing(net, edge, b, b + 1, radius);
    piece.end[1] = HF_NET_MOUTH;
  }
  return piece;
}

static gboolean
nearest_point(const HfMendNet *net, HfPoint p, double radius, double reach, guint *ret_edge,
              guint *ret_i)
{
  double least = reach;
  gboolean found = FALSE;
  for (guint e = 0; e < net->axis->edges->len; e++)
    for (guint i = 0; i < edge_of(net, e)->n; i++) {
      double away = hf_point_distance(point_of(net, e, i)->at, p);
      if (away > least || radius_at(net, e, i) >= radius)
        continue;
      least = away;
      found = TRUE;
      *ret_edge = e;
      *ret_i = i;
    }
  return found;
}

/* A place may lie on an edge between two of its points. */
static gboolean
nearest_stretch(const HfMendNet *net, HfPoint p, double radius, double reach, guint *ret_edge,
                guint *ret_i)
{
  double least = reach;
  gboolean found = FALSE;
  for (guint e = 0; e < net->axis->edges->len; e++)
    for (guint i = 0; i + 1 < edge_of(net, e)->n; i++) {
      HfPoint a = point_of(net, e, i)->at, b = point_of(net, e, i + 1)->at;
      double away = hf_point_distance(hf_segment_nearest(a, b, p, NULL), p);
      if (away >= least)
        continue;
      guint k = radius_at(net, e, i) < radius_at(net, e, i + 1) ? i : i + 1;
      if (radius_at(net, e, k) >= radius)
        continue;
      least = away;
      found = TRUE;
      *ret_edge = e;
      *ret_i = k;
    }
  return found || nearest_point(net, p, radius, reach, ret_edge, ret_i);
}

GArray *
hf_mend_net_zone(const HfMendNet *net, HfPoint p, double radius, double reach)
{
  GArray *zone = g_array_new(FALSE, FALSE, sizeof(HfNetPiece));
  guint edge = 0, i = 0;
  if (!nearest_stretch(net, p, radius, reach, &edge, &i))
    return zone;
  g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL); /* edge ends that were entered */
  HfNetPiece first = piece_round(net, edge, i, radius);
  g_array_append_val(zone, first);
  for (guint k = 0; k < zone->len; k++) {
    HfNetPiece piece = g_array_index(zone, HfNetPiece, k);
    for (int side = 0; side < 2; side++) {
      guint node = piece.end[side];
      if (node == HF_NET_MOUTH)
        continue;
      g_hash_table_add(seen, GUINT_TO_POINTER(2 * piece.edge + (guint)side));
      for (guint s = net->fan[node]; s < net->fan[node + 1]; s++) {
        guint next = net->spokes[s];
        const HfAxisEdge *e = edge_of(net, next);
        for (guint end = 0; end < 2; end++) {
          if ((end == 0 ? e->node_a : e->node_b) != node ||
              !g_hash_table_add(seen, GUINT_TO_POINTER(2 * next + end)))
            continue;
          HfNetPiece one = piece_round(net, next, end == 0 ? 0 : e->n - 1, radius);
          if (one.end[1 - end] != HF_NET_MOUTH)
            g_hash_table_add(seen, GUINT_TO_POINTER(2 * next + 1 - end));
          g_array_append_val(zone, one);
        }
      }
    }
  }
  return zone;
}
