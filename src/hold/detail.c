/* SPDX-License-Identifier: GPL-3.0-or-later
 * detail.c - what a round kerf leaves standing in inside corners; docs/maths.md#lost-detail.
 *
 *        metal  |         A circle of the kerf's radius r rolls along the edge and touches both
 *      _________|  .      sides of the corner; between it and the corner metal stays. Straight
 *      lost -> ( \   )    sides that turn by T:  r^2 (tan(T/2) - T/2).
 *               '---'
 *
 * Corners may have a short floor or be bent: sides are walked outward until the circle touches
 * within them, and the lost area is that of feet, corner and centre less the circle's sector.
 */
#include "hold/checks-private.h"

#define LEAST_TURN (8 * G_PI / 180) /* chords of a curve that the kerf can follow turn by less */
#define MOST_TURN  (179.9 * G_PI / 180) /* the sides run alongside: look farther out */
#define MOST_STEPS 400

typedef struct {
  const HfRing *ring;
  double r;
  guint i, j; /* the two sides: edges of the ring, i before j */
  HfPoint centre, foot_i, foot_j;
  double turn;
} Corner;

static HfPoint
vertex(const HfRing *ring, guint v)
{
  return hf_grid_point(ring->at[v % ring->n]);
}

static HfPoint
direction(const HfRing *ring, guint v)
{
  HfPoint d = hf_point_sub(vertex(ring, v + 1), vertex(ring, v));
  return hf_point_scale(d, 1 / hf_point_length(d));
}

/* > 0: to the right, away from the metal: an inside corner of what is cut */
static double
turn_at(const HfRing *ring, guint v)
{
  HfPoint a = direction(ring, v + ring->n - 1), b = direction(ring, v);
  return -atan2(hf_point_cross(a, b), hf_point_dot(a, b));
}

/* The circle on the right of both sides; where it touches them, in mm from their starts. */
static gboolean
touch(Corner *c, double *ret_on_i, double *ret_on_j)
{
  HfPoint a = vertex(c->ring, c->i), u = direction(c->ring, c->i);
  HfPoint b = vertex(c->ring, c->j), w = direction(c->ring, c->j);
  HfPoint na = {u.y, -u.x}, nb = {w.y, -w.x};
  double det = hf_point_cross(u, w);
  c->turn = atan2(-det, hf_point_dot(u, w));
  if (c->turn <= 1e-6)
    return FALSE;
  HfPoint pa = hf_point_add(a, hf_point_scale(na, c->r));
  HfPoint pb = hf_point_add(b, hf_point_scale(nb, c->r));
  double s = hf_point_cross(hf_point_sub(pb, pa), w) / det;
  c->centre = hf_point_add(pa, hf_point_scale(u, s));
  c->foot_i = hf_point_add(a, hf_point_scale(u, s));
  c->foot_j = hf_point_sub(c->centre, hf_point_scale(nb, c->r));
  *ret_on_i = s;
  *ret_on_j = hf_point_dot(hf_point_sub(c->foot_j, b), w);
  return TRUE;
}

/* Widens the corner until the circle touches within both sides. %FALSE: it does not fit in. */
static gboolean
settle(Corner *c)
{
  double turned = turn_at(c->ring, c->j);
  for (int step = 0; step < MOST_STEPS; step++) {
    double on_i = -1, on_j = INFINITY;
    gboolean alongside = turned >= MOST_TURN;
    if (turned <= 1e-6 || (!alongside && !touch(c, &on_i, &on_j)))
      return FALSE;
    double length = hf_point_distance(vertex(c->ring, c->j), vertex(c->ring, c->j + 1));
    if (!alongside && on_j <= length && on_i >= 0)
      return TRUE;
    if (on_j > length) {
      c->j = (c->j + 1) % c->ring->n;
      turned += turn_at(c->ring, c->j);
    }
    if (c->i == c->j)
      return FALSE;
    if (on_i < 0) {
      turned += turn_at(c->ring, c->i);
      c->i = (c->i + c->ring->n - 1) % c->ring->n;
    }
    if (c->i == c->j)
      return FALSE;
  }
  return FALSE;
}

static double
lost_in(const Corner *c)
{
  double twice = 0;
  HfPoint last = c->foot_i;
  for (guint v = (c->i + 1) % c->ring->n;; v = (v + 1) % c->ring->n) {
    HfPoint p = vertex(c->ring, v);
    twice += hf_point_cross(hf_point_sub(last, c->centre), hf_point_sub(p, c->centre));
    last = p;
    if (v == c->j)
      break;
  }
  twice += hf_point_cross(hf_point_sub(last, c->centre), hf_point_sub(c->foot_j, c->centre));
  return fmax(fabs(twice) / 2 - c->r * c->r * c->turn / 2, 0);
}

typedef struct {
  double area, most;
  HfPoint at;
} Lost;

static guint
letter_of(const HfCheck *check, guint r, const Corner *c)
{
  guint a = hf_check_shape_at(check, (HfEdgeId){r, c->i});
  guint b = hf_check_shape_at(check, (HfEdgeId){r, c->j}), n = check->layout->shapes->len;
  if (a < n && hf_layout_shape(check->layout, a)->letter >= 0)
    return a;
  return b < n && hf_layout_shape(check->layout, b)->letter >= 0 ? b : HF_NO_SHAPE;
}

static void
add_ring(const HfCheck *check, guint r, Lost *lost)
{
  const HfRing *ring = hf_region_ring(check->metal->region, r);
  for (guint v = 0; v < ring->n;) {
    guint at = v++;
    if (turn_at(ring, at) < LEAST_TURN)
      continue;
    Corner c = {.ring = ring,
                .r = check->hold->process.kerf / 2,
                .i = (at + ring->n - 1) % ring->n,
                .j = at};
    if (!settle(&c))
      continue;
    guint letter = letter_of(check, r, &c);
    if (c.j > at) /* the corner's other vertices are done */
      v = c.j + 1;
    if (letter == HF_NO_SHAPE)
      continue;
    double area = lost_in(&c);
    lost[letter].area += area;
    if (area > lost[letter].most) {
      lost[letter].most = area;
      lost[letter].at = vertex(ring, at);
    }
  }
}

void
hf_check_lost_detail(HfCheck *check)
{
  guint n = check->layout->shapes->len;
  g_autofree Lost *lost = g_new0(Lost, n + 1);
  for (guint r = 0; r < check->metal->region->rings->len; r++)
    add_ring(check, r, lost);
  for (guint s = 0; s < n; s++) {
    double whole = fabs(hf_outline_area(hf_layout_shape(check->layout, s)->outline));
    if (lost[s].area <= 0 || whole <= 0)
      continue;
    HfFinding *finding =
        hf_check_add(check, HF_LAW_LOST_DETAIL, 100 * lost[s].area / whole, lost[s].at);
    if (finding == NULL)
      continue;
    finding->area = lost[s].area;
    hf_finding_name(check, finding, s);
  }
}
