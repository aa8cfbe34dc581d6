/* SPDX-License-Identifier: GPL-3.0-or-later
 * corner.h - a circle rolled into a corner of a ring until it touches both sides.
 *
 *     side i \   / side j        The corner may have a short floor or bent sides: sides are walked
 *             (o)                outward until the circle touches within them.
 *              V
 */
#pragma once
#include "geom/region.h"

typedef struct {
  const HfRing *ring;
  double r;
  int side;   /* +1: the circle lies left of the edges, -1: right of them */
  guint i, j; /* the two sides: edges of the ring, i before j */
  HfPoint centre, foot_i, foot_j;
  double turn; /* between the sides, radians, > 0 */
} HfCorner;

/** hf_corner_vertex, hf_corner_direction: of edge @v of @ring: its start; unit vector along it. */
HfPoint hf_corner_vertex(const HfRing *ring, guint v);
HfPoint hf_corner_direction(const HfRing *ring, guint v);

/** hf_corner_turn: by how much the ring turns at @v towards @side, radians. */
double hf_corner_turn(const HfRing *ring, guint v, int side);
/** hf_corner_turns: may it turn by @least or more, 0 < @least < pi / 2? %FALSE is sure, and had
 *  without a root or an angle: most vertices are joints of chords. */
gboolean hf_corner_turns(const HfRing *ring, guint v, int side, double least);

/** hf_corner_settle: rolls a circle of radius @r into the corner at vertex @v. %FALSE: it does not
 *  come to rest on two sides. */
gboolean hf_corner_settle(const HfRing *ring, guint v, double r, int side, HfCorner *ret_corner);
