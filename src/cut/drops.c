/* SPDX-License-Identifier: GPL-3.0-or-later
 * drops.c - does what was cut out fall, lie on the slats, or can it tip up?
 *
 *      |      |      |      |      slats, a pitch apart; seen along them
 *      |  ____|______|___   |
 *         '---o---x--o---'         it rests on what of it lies over slats (o); it lies still where
 *      |      |      |      |      its middle of mass (x) is within their convex hull
 *
 * Idea: the frame is turned so that the slats are level; for one place of the slats the hull is
 * that of the outermost points of the drop on each of them. Every place of the slats is tried, in
 * PLACES steps of a pitch: the drop lies where it lies in all of them. Common practice, no source:
 * drops narrower than a pitch slide off and fall, those of one to three pitches are the ones that
 * tip.
 * Limits: slats are blades and level; nothing holds the drop at its rim.
 */
#include "cut/plan.h"

enum {
  PLACES = 256,    /* of the slats, over one pitch */
  MOST_SLATS = 64, /* under one drop: of more those next to its middle */
};

/* Where a slat holds it. */
typedef struct {
  double y, left, right;
} Rest;

typedef struct {
  GArray *edges; /* HfPoint, two an edge, slats level */
  HfPoint middle;
  double from, to; /* across the slats */
} Turned;

static HfPoint
turned_point(HfPoint p, double c, double s)
{
  return hf_point(c * p.x + s * p.y, c * p.y - s * p.x);
}

static Turned
turn(const HfRegion *drop, double angle)
{
  double c = cos(angle), s = sin(angle);
  Turned turned = {g_array_new(FALSE, FALSE, sizeof(HfPoint)),
                   turned_point(hf_region_centroid(drop), c, s), INFINITY, -INFINITY};
  for (guint r = 0; r < drop->rings->len; r++) {
    const HfRing *ring = hf_region_ring(drop, r);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint edge[] = {turned_point(hf_grid_point(ring->at[v]), c, s),
                        turned_point(hf_grid_point(ring->at[v + 1 < ring->n ? v + 1 : 0]), c, s)};
      g_array_append_vals(turned.edges, edge, 2);
      turned.from = fmin(turned.from, edge[0].y);
      turned.to = fmax(turned.to, edge[0].y);
    }
  }
  return turned;
}

/* Widens the rests by what of one edge lies over slats: those at @first + i * @pitch. */
static void
rest_edge(const HfPoint *edge, double first, double pitch, Rest *rests, gint n)
{
  double low = fmin(edge[0].y, edge[1].y), high = fmax(edge[0].y, edge[1].y);
  gint from = MAX((gint)ceil((low - first) / pitch), 0);
  gint to = MIN((gint)floor((high - first) / pitch), n - 1);
  for (gint i = from; i <= to; i++) {
    double t = high == low ? 0 : (rests[i].y - edge[0].y) / (edge[1].y - edge[0].y);
    double x = hf_point_mix(edge[0], edge[1], t).x;
    rests[i].left = fmin(rests[i].left, x);
    rests[i].right = fmax(rests[i].right, x);
  }
}

/* Where the line through a rest below and one above is, at the height of the middle. */
static double
at_height(double x0, double y0, double x1, double y1, double y)
{
  return x0 + (x1 - x0) * (y - y0) / (y1 - y0);
}

/* Is the middle within the hull of the rests, not on its rim? */
static gboolean
lies_on(const Rest *rests, gint n, HfPoint middle)
{
  double left = INFINITY, right = -INFINITY;
  for (gint i = 0; i < n && rests[i].y <= middle.y; i++)
    for (gint k = n - 1; k > i && rests[k].y > middle.y; k--) {
      if (rests[i].left > rests[i].right || rests[k].left > rests[k].right)
        continue;
      left = fmin(left, at_height(rests[i].left, rests[i].y, rests[k].left, rests[k].y, middle.y));
      right =
          fmax(right, at_height(rests[i].right, rests[i].y, rests[k].right, rests[k].y, middle.y));
    }
  return left < middle.x && middle.x < right;
}

/* With a slat @by beyond the drop's lower end. */
static gboolean
lies_at(const Turned *turned, double by, double pitch)
{
  Rest rests[MOST_SLATS];
  double first = turned->from + by;
  gint below = (gint)floor((turned->middle.y - first) / pitch) + 1;
  if (below > MOST_SLATS / 2)
    first += pitch * (below - (gint)(MOST_SLATS / 2));
  gint n = MIN((gint)floor((turned->to - first) / pitch) + 1, MOST_SLATS);
  for (gint i = 0; i < n; i++)
    rests[i] = (Rest){first + i * pitch, INFINITY, -INFINITY};
  for (guint e = 0; e + 1 < turned->edges->len; e += 2)
    rest_edge(&g_array_index(turned->edges, HfPoint, e), first, pitch, rests, n);
  return lies_on(rests, n, turned->middle);
}

HfDrop
hf_drop_judge(const HfRegion *drop, const HfPlanTable *table)
{
  if (!(table->slat_pitch > 0) || hf_region_is_empty(drop))
    return HF_DROP_FALLS;
  Turned turned = turn(drop, table->slat_angle);
  HfDrop judged = turned.to - turned.from < table->slat_pitch ? HF_DROP_FALLS : HF_DROP_LIES;
  for (guint i = 0; judged == HF_DROP_LIES && i < PLACES; i++)
    if (!lies_at(&turned, (i + 0.5) / PLACES * table->slat_pitch, table->slat_pitch))
      judged = HF_DROP_TIPS;
  g_array_free(turned.edges, TRUE);
  return judged;
}
