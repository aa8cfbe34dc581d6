/* SPDX-License-Identifier: GPL-3.0-or-later
 * diagram-private.h - what a diagram of edges holds.
 */
#pragma once
#include "geom/axis.h"
#include "geom/voronoi-private.h"

struct HfDiagram {
  HfEdgeId *ids; /* of each segment, in the region that it was made of */
  guint n;       /* segments; from there on the frame */
  HfVoronoi *voronoi;
};
