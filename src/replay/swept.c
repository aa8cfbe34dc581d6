/* SPDX-License-Identifier: GPL-3.0-or-later
 * swept.c - what a round kerf takes along a path.
 *
 *   l0 ----------- l1.          One ring about all of the path: along its left side, about its end,
 *    |              | '.        back along its right side. An outer corner is a pie, an inner one
 *   p0 ----------- p1   '       the point where both sides meet; where the path is too short for
 *    |              \   \       that the ring goes by way of the corner itself.
 *   r0 ------------- m   \
 *                    |    |     Winding: the rectangles of all segments count 1 each, so do the
 * pies; a corner's kite m is counted in both rectangles and taken off once. So no place within
 * reach has less than 1: the non-zero rule gives just the union. docs/maths.md#swept
 */
#include "replay/replay-private.h"

#define PIE_CHORD_MM 0.0001
#define TURNED       1e-9    /* rad: straight back; either side may be the outer one, so both are */
#define ALMOST_MM    0.00005 /* a corner so blunt that one point serves for its pie */

typedef struct {
  const HfReplay *replay;
  guint burn;
  double half, pie; /* mm; rad of a chord of a pie */
  GArray *at, *from;
} Ring;

static void
put(Ring *ring, HfPoint p, guint point)
{
  HfGrid g = hf_grid_snap(p);
  HfEdge edge = {ring->burn, point, 0, 1};
  if (ring->at->len > 0 && hf_grid_equal(g_array_index(ring->at, HfGrid, ring->at->len - 1), g)) {
    g_array_index(ring->from, HfEdge, ring->from->len - 1) = edge;
    return;
  }
  g_array_append_val(ring->at, g);
  g_array_append_val(ring->from, edge);
}

static HfPoint
left_of(HfPoint unit, double by)
{
  return hf_point(-unit.y * by, unit.x * by);
}

/* From left of @a to left of @b about @p, clockwise by @turn > 0. */
static void
put_pie(Ring *ring, HfPoint p, HfPoint a, double turn, guint point)
{
  guint n = (guint)ceil(turn / ring->pie);
  double start = hf_angle_of(left_of(a, 1));
  for (guint i = 0; i <= n; i++)
    put(ring, hf_point_polar(p, ring->half, start - turn * i / n), point);
}

typedef struct {
  HfPoint p, in, out; /* the corner; unit vectors to and from it */
  double shorter;     /* mm, of the two segments */
  guint point;
} Corner;

/* The left side at a corner. To the right it turns about it, to the left it meets itself. */
static void
put_corner(Ring *ring, const Corner *corner)
{
  double cross = hf_point_cross(corner->in, corner->out),
         turn = atan2(cross, hf_point_dot(corner->in, corner->out)), slope = tan(fabs(turn) / 2),
         beyond = ring->half * (sqrt(1 + slope * slope) - 1);
  gboolean outer = turn < 0 || turn > G_PI - TURNED, fits = ring->half * slope <= corner->shorter;
  if (outer ? beyond <= ALMOST_MM : fits) {
    HfPoint side = left_of(corner->in, ring->half);
    double along = ring->half * slope * (outer ? 1 : -1);
    put(ring, hf_point_add(corner->p, hf_point_add(side, hf_point_scale(corner->in, along))),
        corner->point);
    return;
  }
  if (outer) {
    put_pie(ring, corner->p, corner->in, fabs(turn), corner->point);
    return;
  }
  put(ring, hf_point_add(corner->p, left_of(corner->in, ring->half)), corner->point);
  put(ring, corner->p, corner->point);
  put(ring, hf_point_add(corner->p, left_of(corner->out, ring->half)), corner->point);
}

static HfPoint
unit_between(HfPoint a, HfPoint b)
{
  HfPoint d = hf_point_sub(b, a);
  return hf_point_scale(d, 1 / hf_point_length(d));
}

/* One side, forward or back, with the end it runs to. */
static void
put_side(Ring *ring, const HfBurn *burn, gboolean back)
{
  const HfBurnPoint *path = hf_replay_point(ring->replay, burn->first);
  guint last = burn->n - 1;
  HfPoint before = path[back ? last : 0].at, here = path[back ? last - 1 : 1].at;
  HfPoint in = unit_between(before, here);
  for (guint i = 1; i < last; i++) {
    guint k = back ? last - i : i;
    HfPoint next = path[back ? k - 1 : k + 1].at, out = unit_between(here, next);
    double shorter = fmin(hf_point_distance(before, here), hf_point_distance(here, next));
    put_corner(ring, &(Corner){here, in, out, shorter, burn->first + (back ? k : k + 1)});
    before = here;
    here = next;
    in = out;
  }
  put_pie(ring, here, in, G_PI, burn->first + (back ? 1 : last));
}

static void
put_hole(Ring *ring, const HfBurn *burn)
{
  HfPoint p = hf_replay_point(ring->replay, burn->first)->at;
  put_pie(ring, p, hf_point(1, 0), G_PI, burn->first);
  put_pie(ring, p, hf_point(-1, 0), G_PI, burn->first);
}

static void
close_ring(Ring *ring, HfRegion *to)
{
  guint n = ring->at->len;
  const HfGrid *at = (const HfGrid *)(gconstpointer)ring->at->data;
  while (n > 1 && hf_grid_equal(at[0], at[n - 1]))
    n--;
  if (n >= 3)
    hf_region_add_ring(to, at, (const HfEdge *)(gconstpointer)ring->from->data, n);
  g_array_set_size(ring->at, 0);
  g_array_set_size(ring->from, 0);
}

/* Clockwise, as it goes left side first: the non-zero rule asks for neither. */
static HfRegion *
sweep_one(Ring *ring, HfRegion *all)
{
  const HfBurn *burn = hf_replay_burn(ring->replay, ring->burn);
  if (burn->n == 1) {
    put_hole(ring, burn);
  } else {
    put_side(ring, burn, FALSE);
    put_side(ring, burn, TRUE);
  }
  close_ring(ring, all);
  HfRegion alone = {g_array_new(FALSE, FALSE, sizeof(HfRing))};
  g_array_append_val(alone.rings, g_array_index(all->rings, HfRing, all->rings->len - 1));
  HfRegion *clean = hf_region_clean(&alone);
  g_array_free(alone.rings, TRUE);
  return clean;
}

gboolean
hf_replay_sweep(HfReplayWork *work, GError **error)
{
  HfReplay *replay = work->replay;
  Ring ring = {.replay = replay, .half = replay->kerf / 2};
  ring.pie = 2 * acos(1 - fmin(PIE_CHORD_MM, ring.half / 2) / ring.half);
  ring.at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  ring.from = g_array_new(FALSE, FALSE, sizeof(HfEdge));
  gboolean on = TRUE;
  for (ring.burn = 0; on && ring.burn < replay->burns->len; ring.burn++) {
    on = hf_cancel_check(work->cancel, error);
    if (on)
      g_ptr_array_add(work->takes, sweep_one(&ring, work->outline));
  }
  g_array_unref(ring.at);
  g_array_unref(ring.from);
  if (!on)
    return FALSE;
  replay->cut = hf_region_union_until((const HfRegion *const *)(gconstpointer)work->takes->pdata,
                                      work->takes->len, work->cancel);
  if (replay->cut == NULL)
    return hf_cancel_check(work->cancel, error);
  hf_replay_meet(work);
  return TRUE;
}
