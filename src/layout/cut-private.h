/* SPDX-License-Identifier: GPL-3.0-or-later
 * cut-private.h - a shape cut along a straight line, on its true curves.
 */
#pragma once
#include "geom/outline.h"

/** hf_cut_line: (transfer full) what of @outline lies on the left of the line through @at in
 *  direction @along, closed along that line. Where a contour leaves and comes back, the closing
 *  edges may lie on each other; they enclose nothing. Empty when nothing is left. */
HfOutline *hf_cut_line(const HfOutline *outline, HfPoint at, HfPoint along);

/** hf_cut_level: the same along a level line: what is above it, or below. */
HfOutline *hf_cut_level(const HfOutline *outline, double y, gboolean keep_above);
