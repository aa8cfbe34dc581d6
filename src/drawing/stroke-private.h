/* SPDX-License-Identifier: GPL-3.0-or-later
 * stroke-private.h - what a pen of some width leaves when it follows a line.
 *
 *    ,-------------.        Each curve gives one outline beside it, each joint and each end one of
 *   ( o-----------o )       its own (SVG 1.1, 11.4 and SVG 2, 13.5): all counter-clockwise, so that
 *    `-------------'        together they are the stroke by the non-zero rule.
 */
#pragma once
#include "base/error.h"
#include "drawing/linework-private.h"

typedef enum { HF_CAP_BUTT, HF_CAP_ROUND, HF_CAP_SQUARE } HfCap;
typedef enum { HF_JOIN_MITER, HF_JOIN_MITER_CLIP, HF_JOIN_ROUND, HF_JOIN_BEVEL } HfJoin;

typedef struct {
  double width; /* > 0 */
  HfCap cap;
  HfJoin join;
  double miter_limit;   /* >= 1: of the miter's length to the width */
  const GArray *dashes; /* (nullable) double: dash, gap, dash ...; an even number, none negative,
                         some positive; %NULL: drawn through */
  double dash_offset;   /* how far into the dashes the line begins */
} HfStroke;

#define HF_MOST_DASHES 100000 /* of one line */

/**
 * hf_stroke_outline:
 * @scale: what each length is multiplied by, so that the outcome is in about mm
 * Returns: (transfer full) outlines that overlap each other, all counter-clockwise; no contour when
 *   nothing shows. %NULL with %HF_ERROR_TOO_BIG: too many dashes. Lines and arcs exactly, cubics
 *   within 1 um but where they bend tighter than half the width, there within 2 um in chords.
 */
HfOutline *hf_stroke_outline(const HfLinework *lines, const HfStroke *stroke, double scale,
                             GError **error);

/** hf_dash_run: cuts @curves (HfCurve, one run) into dashes: each a (element-type HfCurve) array in
 *  @ret_runs; a dash of no length is one curve of kind line with p0 = p1 and c0 one unit ahead.
 *  Where @closed runs through its start in the middle of a dash, that dash is one. %FALSE: too
 * many.
 */
gboolean hf_dash_run(const GArray *curves, gboolean closed, const HfStroke *stroke, double scale,
                     GPtrArray *ret_runs);
/** hf_curve_heading: unit vector along the curve at its start or its end, also where a control lies
 *  on the end. */
HfPoint hf_curve_heading(const HfCurve *curve, gboolean at_end);
