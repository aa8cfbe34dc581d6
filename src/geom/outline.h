/* SPDX-License-Identifier: GPL-3.0-or-later
 * outline.h - closed contours made of true curves: lines, circular arcs, cubic Beziers.
 *
 *      p0 ___ line ___ p1            Every contour is closed: the last curve ends where the
 *      |                \            first begins. Inside is where the winding number is not
 *      |  contour 0      ) arc       zero (non-zero rule), so contours may overlap themselves
 *      |________________/            and may wind either way.
 *
 * This is the exact form of a shape. Everything that is flattened keeps a link back to it
 * (HfEdge in region.h), so that arcs can be fitted to the true curve.
 */
#pragma once
#include "geom/point.h"

typedef enum { HF_CURVE_LINE, HF_CURVE_ARC, HF_CURVE_CUBIC } HfCurveKind;

typedef struct {
  HfCurveKind kind;
  HfPoint p0, p1; /* start, end; a full circle has p0 == p1 and sweep +-2 pi */
  HfPoint c0, c1; /* cubic: the two controls; arc: c0 is the centre */
  double sweep;   /* arc: radians, > 0 counter-clockwise; else 0 */
} HfCurve;

typedef struct {
  GArray *curves; /* HfCurve, contour after contour */
  GArray *starts; /* guint: index of each contour's first curve */
} HfOutline;

/** hf_outline_new: (transfer full) an outline without a contour: nothing, whose box is empty
 *  and whose area is 0. */
HfOutline *hf_outline_new(void);
/** hf_outline_copy: (transfer full) the same curves and contours. O(curves). */
HfOutline *hf_outline_copy(const HfOutline *outline);
/** hf_outline_free: frees it and all that it owns; %NULL: nothing. */
void hf_outline_free(HfOutline *outline);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfOutline, hf_outline_free)

/**
 * Building. begin() starts a contour at @p (closing an open one by a line where needed), the
 * others draw from the pen, close() ends the contour. Curves of no length are left out; a contour
 * of no curve vanishes. A full circle is one arc with sweep +-2 pi.
 */
void hf_outline_begin(HfOutline *outline, HfPoint p);
/** hf_outline_line_to: a straight line from the pen to @p, mm. */
void hf_outline_line_to(HfOutline *outline, HfPoint p);
void hf_outline_quad_to(HfOutline *outline, HfPoint control, HfPoint p); /* exact, as a cubic */
void hf_outline_cubic_to(HfOutline *outline, HfPoint c0, HfPoint c1, HfPoint p);
/** hf_outline_arc_to: a circular arc from the pen about @centre by @sweep radians (> 0:
 *  counter-clockwise, at most 2 pi either way) to @p, which lies on it. */
void hf_outline_arc_to(HfOutline *outline, HfPoint centre, double sweep, HfPoint p);
/** hf_outline_close: ends the open contour, by a line back to its start where the pen is
 *  elsewhere; nothing when none is open. */
void hf_outline_close(HfOutline *outline);

/* Whole contours, counter-clockwise. Lengths in mm, all > 0. */
void hf_outline_add_circle(HfOutline *outline, HfPoint centre, double radius);
/** hf_outline_add_rectangle: the sides of @box, its corners rounded by @corner_radius
 *  (clamped to 0, sharp, up to half the shorter side). */
void hf_outline_add_rectangle(HfOutline *outline, HfBox box, double corner_radius);
/** hf_outline_add_polygon: @n points (at least 3) joined by lines; kept in the order in which
 *  they come. */
void hf_outline_add_polygon(HfOutline *outline, const HfPoint *points, guint n);

/** hf_outline_append: adds all contours of @from, each point through @matrix (an arc stays an arc
 *  under a similarity and becomes cubics, true to 1e-6 of its radius, under any other matrix). */
void hf_outline_append(HfOutline *outline, const HfOutline *from, HfMatrix matrix);

/** hf_outline_reverse: turns every contour round. */
void hf_outline_reverse(HfOutline *outline);

/** hf_outline_box: the exact box of the curves (not of their controls); empty for no curve. */
HfBox hf_outline_box(const HfOutline *outline);

/** hf_outline_area: mm2, signed by Green's theorem on the true curves; overlaps count twice. */
double hf_outline_area(const HfOutline *outline);

/** hf_outline_n_contours: how many contours there are, an open one among them. O(1). */
guint hf_outline_n_contours(const HfOutline *outline);
/** hf_outline_contour: (transfer none) first curve of contour @i, and how many there are. */
const HfCurve *hf_outline_contour(const HfOutline *outline, guint i, guint *n);

/* One curve. t in 0..1. */
HfPoint hf_curve_point(const HfCurve *curve, double t);
HfPoint hf_curve_derivative(const HfCurve *curve, double t);        /* d point / dt, mm */
HfPoint hf_curve_second_derivative(const HfCurve *curve, double t); /* d2 point / dt2, mm */
HfBox hf_curve_box(const HfCurve *curve);
HfCurve hf_curve_between(const HfCurve *curve, double t0, double t1); /* t0 > t1 turns it round */
double hf_curve_radius(const HfCurve *arc);

/**
 * hf_curve_steps:
 * @tolerance: mm, > 0; largest gap between curve and chord
 * Returns: how many equal steps of t keep the chords within @tolerance; at least 1.
 *   Line 1; arc from the sagitta s = r (1 - cos(a/2)); cubic from n = sqrt(|P''|max / (8 tol)).
 *   docs/maths.md#flattening. At most 4096.
 */
guint hf_curve_steps(const HfCurve *curve, double tolerance);
