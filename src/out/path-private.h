/* SPDX-License-Identifier: GPL-3.0-or-later
 * path-private.h - contours as SVG path data, the same for the outline file and for the page.
 */
#pragma once
#include "geom/outline.h"

typedef struct {
  GString *text;
  HfPoint origin; /* of the page, in the sign's frame: its upper left corner */
  int decimals;   /* 0..6; of mm */
} HfPath;

/** hf_path_move: begins at @to. hf_path_curve: goes on along @curve, from where it begins. */
void hf_path_move(HfPath *path, HfPoint to);
void hf_path_curve(HfPath *path, const HfCurve *curve);

/** hf_path_contour: appends contour @i of @outline, y down, arcs as arcs: "M 0 0 L 10 0 ... Z". */
void hf_path_contour(HfPath *path, const HfOutline *outline, guint i);
