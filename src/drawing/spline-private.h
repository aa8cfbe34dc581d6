/* SPDX-License-Identifier: GPL-3.0-or-later
 * spline-private.h - B-splines as lines, arcs and cubics.
 */
#pragma once
#include "geom/outline.h"

#define HF_SPLINE_MOST_DEGREE 15

typedef struct {
  guint degree;          /* 1 to HF_SPLINE_MOST_DEGREE */
  guint n;               /* control points; more than the degree */
  const HfPoint *at;     /* n of them */
  const double *weights; /* (nullable) n of them, > 0; %NULL: all alike */
  const double *knots;   /* n + degree + 1, none less than the one before it */
} HfSpline;

/** hf_spline_is_sound: are its figures such as the structure says? O(n). */
gboolean hf_spline_is_sound(const HfSpline *spline, guint n_knots);

/**
 * hf_spline_run: adds the spline's curves to @run (HfCurve), from its knot `degree` to its knot n.
 *
 * Up to degree 3 without weights exactly (each span is a cubic); spans of degree 2 with the weights
 * of a circle become arcs; all others cubics that depart by at most 1e-7 of the size of the
 * control points. The spline must be sound. O(n degree^3 + curves).
 */
void hf_spline_run(const HfSpline *spline, GArray *run);

/**
 * hf_spline_through: adds to @run the smooth curve of cubics through @n (at least 2) points, its
 * parameter the length of the chords, its ends' directions @start and @end (nullable: estimated
 * by the parabola through the first, or last, three points). O(n).
 */
void hf_spline_through(const HfPoint *at, guint n, const HfPoint *start, const HfPoint *end,
                       GArray *run);
