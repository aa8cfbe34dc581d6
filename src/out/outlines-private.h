/* SPDX-License-Identifier: GPL-3.0-or-later
 * outlines-private.h - what the outline files (SVG, DXF) share: their frame and what they say of
 * themselves.
 */
#pragma once
#include "out/out.h"

/* Files of outlines begin at a corner of the sign: every coordinate is >= 0 and the far corner
 * tells the size. Shifting by whole grid units keeps 0.1 um coordinates exact. */
typedef struct {
  HfPoint corner;       /* lower left of the sign, in the sign's own frame */
  double width, height; /* mm; 0 when there is no metal */
} HfOutlinesFrame;

/** hf_outlines_frame: their box on the grid, mm: lower corner, width, height; 0 wide and high
 *  for no outline. That of the whole sign for one of its layers. */
HfOutlinesFrame hf_outlines_frame(const HfSign *what);

/** hf_outlines_says: (transfer full) (array zero-terminated=1) what such a file must say, a
 * sentence each: what it is, the verdict, why it must not be cut, the cautions. The customer's
 * order is not among it. */
char **hf_outlines_says(const HfSign *what);

/** hf_outlines_part_made: is one of the part's shapes the source of an edge of the ring? */
gboolean hf_outlines_part_made(const HfPart *part, const HfRing *ring);

/** hf_outlines_part_name: (transfer full) what to call the metal within outer ring @ring. */
char *hf_outlines_part_name(const HfSign *what, guint ring);

/** hf_outlines_circle: is contour @i one full circle? */
gboolean hf_outlines_circle(const HfOutline *outline, guint i, HfPoint *ret_centre,
                            double *ret_radius);
