/* SPDX-License-Identifier: GPL-3.0-or-later
 * bend-private.h - outlines through a map of the plane, as true curves.
 */
#pragma once
#include "geom/outline.h"

/* A map: smooth, but for the derivative's jumps at `breaks`. What maps
 * keep besides stands behind it in a struct of their own. */
typedef struct HfBend HfBend;
struct HfBend {
  HfPoint (*point)(const HfBend *bend, HfPoint p);
  HfPoint (*derivative)(const HfBend *bend, HfPoint p, HfPoint d); /* of a move @d at @p */
  /* (nullable) adds the image of @line where that is a simple curve; %FALSE: it is none */
  gboolean (*line)(const HfBend *bend, const HfCurve *line, HfOutline *out);
  const GArray *breaks; /* (nullable) double, ascending: such x */
  gboolean leans;       /* upright lines do not stay straight */
};

/** hf_bend_outline: (transfer full) the image of @outline: cubics within 1 um of it, and lines
 *  where upright ones were. docs/maths.md#bent-letters */
HfOutline *hf_bend_outline(const HfBend *bend, const HfOutline *outline);
