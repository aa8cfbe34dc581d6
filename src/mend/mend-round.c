/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-round.c - a sharp outer point gets a round end.
 *
 *          tip                The largest circle of radius r in the point touches its sides at a
 *          / \                and b. What lies beyond is taken off from a round the tip to b, and
 *       a /---\ b             the circle is put back: the sides run into it without a corner.
 *        (  r  )
 *
 * Where the point is too slender to hold a circle that is round enough, it is cut off square.
 */
#include "mend/mend-private.h"

#define HAIR         0.03 /* mm that the cut reaches beyond the metal */
#define LONGER       1.2  /* times two straight sides, and a blunt end: more than a point */
#define EVENLY       0.85 /* of a wedge's width at the same place */
#define ROOM         1.1  /* times the law's radius */
#define SQUARE       1.2  /* mm: a square end is so wide, */
#define REACH        8.0  /* mm from the tip */
#define LEAST_SQUARE 0.5  /* at the least: the law takes longer straights for no bend */
/* Area of what is taken off, before the circle is put back, that of a point of 25 degrees in
 * squares of the radius; mm2. */
#define MOST_ROUND  4.4
#define MOST_SQUARE 6.0
#define MOST_TAIL                                                                                  \
  14.0 /* of a tail that is pulled back: squares of the radius, a point of 8 degrees */

enum { PER_STEP = 16 }; /* places looked at between two points of the axis */

/* Where a circle of the wished radius rests in the point. */
typedef struct {
  HfAxisPoint rest;
  HfEdgeId site_a, site_b;
} Rest;

static double
way_of(const HfMendNet *net, const HfNetPiece *piece)
{
  return hf_point_distance(hf_mend_net_point(net, piece->edge, piece->from).at,
                           hf_mend_net_point(net, piece->edge, piece->to).at);
}

/* The mouth of the zone round @p that is fewest mm of axis away. */
static gboolean
nearest_rest(const HfMendNet *net, HfPoint p, double radius, Rest *ret_rest)
{
  g_autoptr(GArray) zone = hf_mend_net_zone(net, p, radius, 2 * radius);
  g_autoptr(GHashTable) way = g_hash_table_new_full(NULL, NULL, NULL, g_free);
  double best = INFINITY;
  for (guint i = 0; i < zone->len; i++) { /* pieces come in the order in which they are reached */
    const HfNetPiece *piece = &g_array_index(zone, HfNetPiece, i);
    double so_far = i == 0 ? 0 : INFINITY;
    for (int k = 0; k < 2; k++) {
      const double *known = g_hash_table_lookup(way, GUINT_TO_POINTER(piece->end[k]));
      if (piece->end[k] != HF_NET_MOUTH && known != NULL)
        so_far = fmin(so_far, *known);
    }
    so_far += way_of(net, piece);
    for (int k = 0; k < 2; k++) {
      if (piece->end[k] != HF_NET_MOUTH) {
        const double *known = g_hash_table_lookup(way, GUINT_TO_POINTER(piece->end[k]));
        if (known == NULL || *known > so_far)
          g_hash_table_insert(way, GUINT_TO_POINTER(piece->end[k]),
                              g_memdup2(&so_far, sizeof so_far));
        continue;
      }
      if (so_far >= best)
        continue;
      const HfAxisEdge *edge = &g_array_index(net->axis->edges, HfAxisEdge, piece->edge);
      best = so_far;
      *ret_rest = (Rest){hf_mend_net_point(net, piece->edge, k == 0 ? piece->from : piece->to),
                         edge->site_a, edge->site_b};
    }
  }
  return best < INFINITY;
}

/* Radius of the axis where it is nearest to @p. */
static double
radius_near(const HfMendNet *net, HfPoint p)
{
  double least = INFINITY, radius = 0;
  for (guint e = 0; e < net->axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(net->axis->edges, HfAxisEdge, e);
    for (guint i = 0; i + 1 < edge->n; i++) {
      const HfAxisPoint *a = &g_array_index(net->axis->points, HfAxisPoint, edge->first + i);
      double t;
      double away = hf_point_distance(hf_segment_nearest(a[0].at, a[1].at, p, &t), p);
      if (away >= least)
        continue;
      least = away;
      radius = a[0].radius + (a[1].radius - a[0].radius) * t;
    }
  }
  return radius;
}

/* A wedge opens evenly from its tip to the circle. What is narrower on the way is the end of
 * something slender, a serif: all of that would go. */
static gboolean
opens_evenly(const HfMendNet *net, HfPoint tip, const Rest *rest)
{
  for (double share = 0.5; share < 0.9; share += 0.125)
    if (radius_near(net, hf_point_mix(tip, rest->rest.at, share)) <
        EVENLY * share * rest->rest.radius)
      return FALSE;
  return TRUE;
}

/* ---- what is taken off ----------------------------------------------------------------------- */

/* mm along the ring from its first vertex. */
static double
station(const HfRing *ring, guint vertex, HfPoint p)
{
  double walked = 0;
  for (guint v = 0; v < vertex; v++)
    walked += hf_point_distance(hf_grid_point(ring->at[v]), hf_grid_point(ring->at[v + 1]));
  return walked + hf_point_distance(hf_grid_point(ring->at[vertex]), p);
}

static double
station_of_tip(const HfRing *ring, HfPoint tip)
{
  double least = INFINITY, walked = 0, found = 0;
  for (guint v = 0; v < ring->n; v++) {
    HfPoint p = hf_grid_point(ring->at[v]);
    if (hf_point_distance(p, tip) < least) {
      least = hf_point_distance(p, tip);
      found = walked;
    }
    walked += hf_point_distance(p, hf_grid_point(ring->at[(v + 1) % ring->n]));
  }
  return found;
}

/* The boundary from @a over the tip to @b, closed by a straight line; metal on the left. */
static HfRegion *
beyond(const HfRing *ring, const Rest *rest, HfPoint tip)
{
  double length = hf_ring_perimeter(ring), at_tip = station_of_tip(ring, tip);
  HfPoint from = rest->rest.foot_a, to = rest->rest.foot_b;
  guint v = rest->site_a.vertex, end = rest->site_b.vertex;
  double a = station(ring, v, from), b = station(ring, end, to);
  double a_to_tip = fmod(at_tip - a + 2 * length, length);
  double a_to_b = fmod(b - a + 2 * length, length);
  if (a_to_tip > a_to_b) { /* the tip lies the other way round */
    from = rest->rest.foot_b;
    to = rest->rest.foot_a;
    v = rest->site_b.vertex;
    end = rest->site_a.vertex;
    a_to_b = length - a_to_b;
  }
  if (a_to_b > LONGER * 2 * hf_point_distance(tip, rest->rest.at) + 3 * rest->rest.radius)
    return NULL;
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  HfGrid g = hf_grid_snap(from);
  g_array_append_val(points, g);
  for (guint i = 0; v != end && i < ring->n; i++) {
    v = (v + 1) % ring->n;
    g_array_append_val(points, ring->at[v]);
  }
  g = hf_grid_snap(to);
  g_array_append_val(points, g);
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_add_ring(raw, (HfGrid *)(void *)points->data, NULL, points->len);
  g_autoptr(HfRegion) clean = hf_region_clean(raw);
  return hf_region_offset(clean, HAIR, 0.005);
}

static gboolean
take_off(HfMendView *view, HfLawKind kind, HfPoint tip, const Rest *rest, gboolean round,
         double most)
{
  const HfRing *ring = hf_region_ring(view->sign->metal->region, rest->site_a.ring);
  if (rest->site_a.ring != rest->site_b.ring)
    return FALSE;
  g_autoptr(HfRegion) off = beyond(ring, rest, tip);
  if (off == NULL || hf_region_is_empty(off) || hf_region_area(off) > most)
    return FALSE;
  if (!hf_mend_add(view, kind, tip, hf_region_chords(off), TRUE,
                   round ? "the rounded point of %s" : "the blunted point of %s",
                   hf_mend_maker(view, view->metal_net, rest->site_a),
                   hf_mend_maker(view, view->metal_net, rest->site_b)))
    return FALSE;
  if (!round)
    return TRUE;
  HfMending *mending = &g_array_index(view->mendings, HfMending, view->mendings->len - 1);
  HfOutline *circle = hf_outline_new();
  hf_outline_add_circle(circle, rest->rest.at, rest->rest.radius);
  mending->shapes[1] =
      hf_shape_new(circle, g_strdup(mending->shapes[0]->label), view->entry, -1, FALSE);
  mending->shapes[1]->mends = mending->shapes[0]->mends;
  return TRUE;
}

/* ---- too slender for a circle ----------------------------------------------------------------
 */

/* The place nearest to the tip where the point is @wide from foot to foot. */
static gboolean
nearest_width(const HfMendNet *net, HfPoint tip, double wide, Rest *ret_rest)
{
  double least = INFINITY;
  for (guint e = 0; e < net->axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(net->axis->edges, HfAxisEdge, e);
    if (edge->site_a.ring != edge->site_b.ring)
      continue;
    for (double at = 0; at <= edge->n - 1; at += 1.0 / PER_STEP) {
      HfAxisPoint p = hf_mend_net_point(net, e, at);
      double away = hf_point_distance(p.at, tip);
      if (away > fmin(REACH, least) || p.radius > REACH ||
          hf_point_distance(p.foot_a, p.foot_b) < fmax(wide, 1.7 * p.radius))
        continue;
      least = away;
      *ret_rest = (Rest){p, edge->site_a, edge->site_b};
    }
  }
  return least < INFINITY;
}

gboolean
hf_mend_pull_back(HfMendView *view, HfLawKind kind, HfPoint tip, double wide)
{
  const HfMendNet *net = hf_mend_metal_net(view);
  double r = wide / 2 + HF_SLACK;
  Rest rest = {0};
  return nearest_rest(net, tip, r, &rest) &&
         take_off(view, kind, tip, &rest, TRUE, MOST_TAIL * r * r);
}

void
hf_mend_round(HfMendView *view, HfLawKind kind, HfPoint at, double radius)
{
  const HfMendNet *net = hf_mend_metal_net(view);
  double least = ROOM * view->sign->hold->figures[HF_FIGURE_POINT_RADIUS];
  Rest rest = {0};
  for (double r = fmax(radius, least); r >= least; r = r > 1.1 * least ? fmax(least, r * 0.9) : 0)
    if (nearest_rest(net, at, r, &rest) && opens_evenly(net, at, &rest) &&
        take_off(view, kind, at, &rest, TRUE, MOST_ROUND * r * r))
      return;
  for (double wide = SQUARE; wide > LEAST_SQUARE; wide *= 0.8)
    if (nearest_width(net, at, wide, &rest) && take_off(view, kind, at, &rest, FALSE, MOST_SQUARE))
      return;
}
