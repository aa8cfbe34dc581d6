/* SPDX-License-Identifier: GPL-3.0-or-later
 * pockets.c - corners that need no axis: their sides open so fast that what is narrow in them only
 * runs into the corner.
 *
 *      \          /      An empty circle, wider than the widest limit, rests on both sides: it
 *     i \  (  )  / j     closes the pocket off, for chords of largest circles never cross. Where
 *        \      /        every direction of one side leaves every direction of the other by 30
 *         \    /         degrees or more, feet lie at most 150 degrees apart, the radius grows by
 *          \  /          0.258 per mm, and the zone is shorter than two limits at every limit:
 *           \/           hf_zone_is_corner(). docs/maths.md#pockets
 *
 * Where only slow tapers count (gaps: cracks), a third of that will do, if the pocket has one tip.
 */
#include "geom/corner.h"
#include "thin/thin-private.h"

#define WIDER      0.56 /* radius of the circle, of the widest limit; over a half */
#define LEAST_TURN (60 * G_PI / 180)
#define OPENS      (30 * G_PI / 180)
#define OPENS_GAP  (9.53 * G_PI / 180) /* of gaps: under the kerf for six kerfs, no crack */
#define SIDE_BENDS (120 * G_PI / 180)  /* of one side, at most */
#define TIP_TURN   (20 * G_PI / 180)   /* a vertex that turns more is a tip of its own */
#define INTRUDES   0.005               /* mm: chords of the sides may reach into the circle */

/* Directions of one side as angles from the corner's middle. */
typedef struct {
  double least, most;
} Range;

static double
angle_from(HfPoint zero, HfPoint d)
{
  return atan2(hf_point_cross(zero, d), hf_point_dot(zero, d));
}

static void
range_add(Range *range, double angle)
{
  range->least = fmin(range->least, angle);
  range->most = fmax(range->most, angle);
}

/* Outward directions: of the side before the corner against its edges, of the one behind along. */
static gboolean
sides_open(const HfCorner *c, guint v, gboolean tapers, gboolean *ret_one_tip)
{
  const HfRing *ring = c->ring;
  HfPoint u = hf_point_scale(hf_corner_direction(ring, (v + ring->n - 1) % ring->n), -1);
  HfPoint w = hf_corner_direction(ring, v);
  double between = angle_from(w, u); /* counter-clockwise from w to u lies the pocket */
  if (between <= 0)
    return FALSE;
  HfPoint middle = {w.x * cos(between / 2) - w.y * sin(between / 2),
                    w.x * sin(between / 2) + w.y * cos(between / 2)};
  Range before = {INFINITY, -INFINITY}, behind = before;
  *ret_one_tip = TRUE;
  for (guint e = c->i; e != v; e = (e + 1) % ring->n) {
    range_add(&before, angle_from(middle, hf_point_scale(hf_corner_direction(ring, e), -1)));
    *ret_one_tip = *ret_one_tip && (e == c->i || hf_corner_turn(ring, e, +1) < TIP_TURN);
  }
  for (guint e = v;; e = (e + 1) % ring->n) {
    range_add(&behind, angle_from(middle, hf_corner_direction(ring, e)));
    *ret_one_tip = *ret_one_tip && (e == v || hf_corner_turn(ring, e, +1) < TIP_TURN);
    if (e == c->j)
      break;
  }
  return before.least - behind.most >= (tapers ? OPENS_GAP : OPENS) &&
         before.most - before.least <= SIDE_BENDS && behind.most - behind.least <= SIDE_BENDS &&
         before.most - behind.least <= G_PI;
}

static gboolean
is_empty(const HfThin *thin, HfIndex *index, const HfCorner *c, GArray *found)
{
  hf_index_query(index, hf_box_grow((HfBox){c->centre, c->centre}, c->r), found);
  for (guint k = 0; k < found->len; k++) {
    HfEdgeId id = g_array_index(found, HfEdgeId, k);
    HfPoint a = hf_edge_start(thin->region, id), b = hf_edge_end(thin->region, id);
    HfPoint p = hf_segment_nearest(a, b, c->centre, NULL);
    if (hf_point_distance(p, c->centre) < c->r - INTRUDES)
      return FALSE;
  }
  return TRUE;
}

static double
share_of(const HfRing *ring, guint e, HfPoint p)
{
  double t;
  hf_segment_nearest(hf_corner_vertex(ring, e), hf_corner_vertex(ring, e + 1), p, &t);
  return t;
}

/* What lies within the pocket takes no part. */
static void
close_pocket(HfThin *thin, guint ring_number, const HfCorner *c)
{
  const HfRing *ring = c->ring;
  double *from = thin->live_from + thin->first[ring_number];
  double *to = thin->live_to + thin->first[ring_number];
  to[c->i] = fmin(to[c->i], share_of(ring, c->i, c->foot_i));
  from[c->j] = fmax(from[c->j], share_of(ring, c->j, c->foot_j));
  for (guint e = (c->i + 1) % ring->n; e != c->j; e = (e + 1) % ring->n)
    to[e] = -1;
}

void
hf_thin_close_pockets(HfThin *thin, HfIndex *index, gboolean tapers, const HfCancel *cancel)
{
  g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < thin->region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(thin->region, r);
    for (guint v = 0; v < ring->n; v++) {
      HfCorner c;
      gboolean one_tip;
      if (v % HF_LOOK_EVERY == 0 && !hf_cancel_check(cancel, NULL))
        return;
      if (!hf_corner_turns(ring, v, +1, LEAST_TURN) || hf_corner_turn(ring, v, +1) < LEAST_TURN ||
          !hf_corner_settle(ring, v, WIDER * thin->widest, +1, &c) ||
          !sides_open(&c, v, tapers, &one_tip))
        continue;
      gboolean fast = sides_open(&c, v, FALSE, &one_tip);
      if ((fast || one_tip) && is_empty(thin, index, &c, found))
        close_pocket(thin, r, &c);
    }
  }
}
