/* SPDX-License-Identifier: GPL-3.0-or-later
 * corner.c - rolls a circle into a corner.
 */
#include "geom/corner.h"

#define MOST_TURN  (179.9 * G_PI / 180) /* the sides run alongside: look farther out */
#define MOST_STEPS 400
#define SURE       1e-9 /* of a tangent: more than rounding */

HfPoint
hf_corner_vertex(const HfRing *ring, guint v)
{
  return hf_grid_point(ring->at[v % ring->n]);
}

HfPoint
hf_corner_direction(const HfRing *ring, guint v)
{
  HfPoint d = hf_point_sub(hf_corner_vertex(ring, v + 1), hf_corner_vertex(ring, v));
  return hf_point_scale(d, 1 / hf_point_length(d));
}

double
hf_corner_turn(const HfRing *ring, guint v, int side)
{
  HfPoint a = hf_corner_direction(ring, (v + ring->n - 1) % ring->n);
  HfPoint b = hf_corner_direction(ring, v);
  return side * atan2(hf_point_cross(a, b), hf_point_dot(a, b));
}

gboolean
hf_corner_turns(const HfRing *ring, guint v, int side, double least)
{
  HfGrid last = ring->at[v > 0 ? v - 1 : ring->n - 1], at = ring->at[v];
  HfGrid next = ring->at[v + 1 < ring->n ? v + 1 : 0];
  HfPoint a = {(double)at.x - last.x, (double)at.y - last.y};
  HfPoint b = {(double)next.x - at.x, (double)next.y - at.y};
  double cross = side * hf_point_cross(a, b), dot = hf_point_dot(a, b);
  return dot <= 0 || cross >= sin(least) / cos(least) * (1 - SURE) * dot;
}

/* The circle beside both sides; where it touches them, in mm from their starts. */
static gboolean
touch(HfCorner *c, double *ret_on_i, double *ret_on_j)
{
  HfPoint a = hf_corner_vertex(c->ring, c->i), u = hf_corner_direction(c->ring, c->i);
  HfPoint b = hf_corner_vertex(c->ring, c->j), w = hf_corner_direction(c->ring, c->j);
  HfPoint na = {-c->side * u.y, c->side * u.x}, nb = {-c->side * w.y, c->side * w.x};
  double det = hf_point_cross(u, w);
  c->turn = atan2(c->side * det, hf_point_dot(u, w));
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

gboolean
hf_corner_settle(const HfRing *ring, guint v, double r, int side, HfCorner *ret_corner)
{
  HfCorner c = {.ring = ring, .r = r, .side = side, .i = (v + ring->n - 1) % ring->n, .j = v};
  double turned = hf_corner_turn(ring, v, side);
  for (int step = 0; step < MOST_STEPS; step++) {
    double on_i = -1, on_j = INFINITY;
    gboolean alongside = turned >= MOST_TURN;
    if (turned <= 1e-6 || (!alongside && !touch(&c, &on_i, &on_j)))
      return FALSE;
    double length = hf_point_distance(hf_corner_vertex(ring, c.j), hf_corner_vertex(ring, c.j + 1));
    if (!alongside && on_j <= length && on_i >= 0) {
      *ret_corner = c;
      return TRUE;
    }
    if (on_j > length) {
      c.j = (c.j + 1) % ring->n;
      turned += hf_corner_turn(ring, c.j, side);
    }
    if (c.i == c.j)
      return FALSE;
    if (on_i < 0) {
      turned += hf_corner_turn(ring, c.i, side);
      c.i = (c.i + ring->n - 1) % ring->n;
    }
    if (c.i == c.j)
      return FALSE;
  }
  return FALSE;
}
