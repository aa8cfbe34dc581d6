/* SPDX-License-Identifier: GPL-3.0-or-later
 * found-picture.h - what was found in a drawing, as a picture.
 */
#pragma once
#include "drawing/drawing.h"

/** hf_out_found: (transfer full) an SVG, @pixels wide or high, 100..4000: metal filled, and each
 *  doubt marked: white paint of which nobody said what it is is hatched (@white UNSAID), and what a
 *  note tells of a place has a ring with the note's number, from 1. @piece: (nullable) only of that
 *  name. Cost O(curves). */
GBytes *hf_out_found(HfDrawing *drawing, HfDrawingWhite white, const char *piece, guint pixels);
