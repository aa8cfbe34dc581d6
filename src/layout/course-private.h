/* SPDX-License-Identifier: GPL-3.0-or-later
 * course-private.h - a line that words follow, known by its length.
 *
 *      o--.           __x__          at s = 0 it begins; at any s it has a point, the way it
 *          `-._____.-'     `--o      runs, and how tightly it bends. Tops of letters are to its
 *      0      -- s -->      length   left
 *
 * A course is a row of spans, each a piece of a true curve, an ellipse or a wave. No chords: the
 * length up to a point is integrated (course.c).
 */
#pragma once
#include "geom/outline.h"

typedef struct {
  HfPoint at;  /* mm */
  HfPoint way; /* unit length */
  double bend; /* 1/mm, curvature; > 0: to the left, where the tops are */
} HfCoursePoint;

typedef struct {
  GArray *spans; /* of course.c */
  GArray *joins; /* double: s between two spans where its bend jumps, ascending */
  GArray *turns; /* double: s of its corners, ascending */
  double length; /* mm */
  gboolean closed;
} HfCourse;

/** hf_course_new: (transfer full) no length yet, open. */
HfCourse *hf_course_new(void);
/** hf_course_close: its end is its start, s = 0 again. */
void hf_course_close(HfCourse *course);
/** hf_course_free: frees it and all that it owns; %NULL: nothing. */
void hf_course_free(HfCourse *course);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCourse, hf_course_free)

/** hf_course_add_curve: goes on along @curve, which begins where it ends so far. */
void hf_course_add_curve(HfCourse *course, const HfCurve *curve);
/** hf_course_add_ellipse: goes on along (a cos t, b sin t) from @from to @to rad (either way). */
void hf_course_add_ellipse(HfCourse *course, double a, double b, double from, double to);
/** hf_course_add_wave: goes on along (x, a sin (k x)) from @from to @to mm. */
void hf_course_add_wave(HfCourse *course, double a, double k, double from, double to);

/** hf_course_at: the point @s mm from its start. Of a closed one any s; an open one goes on
 *  straight beyond its ends. Within 1e-9 mm of the true length. */
HfCoursePoint hf_course_at(const HfCourse *course, double s);

/** hf_course_toward: s of the place farthest from @centre in @direction (rad); NAN: it does not
 *  pass there. */
double hf_course_toward(const HfCourse *course, HfPoint centre, double direction);

/* ---- course-lines.c: the lines that a recipe says ------------------------------------------- */

/** hf_course_ellipse: (transfer full) closed, about (0, 0), @wide and @high mm; tops @inward or
 *  outward. */
HfCourse *hf_course_ellipse(double wide, double high, gboolean inward);
/** hf_course_wave: (transfer full) @high mm from trough to crest, @length from crest to crest, at
 *  least @reach mm to either side of its middle, where it rises through (0, 0). */
HfCourse *hf_course_wave(double high, double length, double reach);
/** hf_course_through: (transfer full) the natural cubic spline through @n >= 2 points, no two
 *  neighbours in one place; its parameter grows by the root of their distance. */
HfCourse *hf_course_through(const HfPoint *points, guint n);
/** hf_course_contour: (transfer full) closed: contour @contour of @outline, which winds
 *  counter-clockwise; tops @inward or outward. */
HfCourse *hf_course_contour(const HfOutline *outline, guint contour, gboolean inward);
