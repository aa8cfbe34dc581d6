/* SPDX-License-Identifier: GPL-3.0-or-later
 * look-private.h - what walls and finishes look like on a cairo page, for picture and paper.
 *
 * All of it is drawn by code, in paths, so a paper stays sharp. Nothing is random: each brick and
 * each leaf asks a hash of its own number.
 */
#pragma once
#include "geom/point.h"
#include "out/pen-private.h"
#include "stock/finish.h"

/** hf_look_wall: fills @box with @wall. @scale: page units to a millimetre: bricks and boards are
 * as large as they are (docs/recipe.md). Cost: at most some thousands of paths. */
void hf_look_wall(cairo_t *cr, const HfWall *wall, HfBox box, double scale);

/** hf_look_face: fills the clip with the face of metal that reaches over @box. @unit: width of a
 *  fine line. */
void hf_look_face(cairo_t *cr, const HfSurface *surface, HfBox box, double unit);

/* What is drawn on a wall: sizes, and the ground that they stand on. */
typedef struct {
  guint ink, soft;
  gboolean busy; /* figures need a ground of their own */
  guint ground;
} HfOnWall;

/** hf_look_on_wall: colours that stand out on @wall. */
HfOnWall hf_look_on_wall(const HfWall *wall);
