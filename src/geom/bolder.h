/* SPDX-License-Identifier: GPL-3.0-or-later
 * bolder.h - an outline with its edge moved outward or inward by the same distance everywhere.
 */
#pragma once
#include "geom/region.h"

/**
 * hf_outline_bolder:
 * @outline: mm; contours may overlap and wind either way
 * @by: mm that the edge moves outward all round; < 0 inward. A stem gets wider by twice that
 * Outer corners become arcs of radius @by, inner ones stay sharp; openings that close are filled,
 * strokes thinner than twice -@by vanish.
 * Returns: (transfer full) the true curves of the edge, within 2 um, outer contours
 *   counter-clockwise and openings clockwise, none crossing; no contour when nothing is left.
 * Cost about that of two booleans. docs/maths.md#bolder
 */
HfOutline *hf_outline_bolder(const HfOutline *outline, double by);
