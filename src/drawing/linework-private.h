/* SPDX-License-Identifier: GPL-3.0-or-later
 * linework-private.h - lines as they were drawn: open or closed, of true curves.
 *
 *    o----.                 A fill closes each run by a line (outline); a stroke does not, unless
 * it
 *          `---o            was drawn closed. Any unit; the way round is as drawn.
 */
#pragma once
#include "geom/outline.h"

typedef enum {
  HF_RUN_CLOSED, /* its last curve is drawn as all others */
  HF_RUN_OPEN,   /* it ends where it began, but was not closed */
  HF_RUN_FILLED, /* its last curve is the line by which a fill closes it */
} HfRunEnd;

typedef struct {
  HfOutline *outline; /* what a fill fills: one contour a run */
  GArray *ends;       /* HfRunEnd, one a contour */
  GArray *dots;       /* HfPoint: runs that were drawn and have no length */
  gboolean begun;     /* a run is open */
  HfPoint start, pen;
} HfLinework;

/** hf_linework_new: (transfer full) nothing drawn. */
HfLinework *hf_linework_new(void);
/** hf_linework_free: frees it and all that it owns; %NULL: nothing. */
void hf_linework_free(HfLinework *lines);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfLinework, hf_linework_free)

/* Drawing, O(1) each: begin() puts the pen down and ends a run that is open; close() draws back to
 * its start, from where a next curve begins a new run; end() when all is drawn. */
/** hf_linework_begin: at @p; draws nothing by itself. */
void hf_linework_begin(HfLinework *lines, HfPoint p);
/** hf_linework_line: a straight line from the pen to @p. */
void hf_linework_line(HfLinework *lines, HfPoint p);
/** hf_linework_quad: a quadratic curve, kept exactly as a cubic. */
void hf_linework_quad(HfLinework *lines, HfPoint control, HfPoint p);
/** hf_linework_cubic: a cubic curve. */
void hf_linework_cubic(HfLinework *lines, HfPoint c0, HfPoint c1, HfPoint p);
/** hf_linework_turn: by @sweep radians about @centre on a circle or, @axes its half axes, on an
 *  ellipse turned by @tilt radians. To @p, which lies there. An ellipse becomes cubics, true to
 * 1e-8 of its axes. */
void hf_linework_turn(HfLinework *lines, HfPoint centre, HfPoint axes, double tilt, double from,
                      double sweep, HfPoint p);
/** hf_linework_close: by a line to where the run began. */
void hf_linework_close(HfLinework *lines);
/** hf_linework_end: ends a run that is open. */
void hf_linework_end(HfLinework *lines);

/** hf_linework_is_empty: nothing was drawn that a fill or a stroke would show. */
gboolean hf_linework_is_empty(const HfLinework *lines);
/** hf_linework_box: of all runs and dots; empty when nothing is drawn. O(curves). */
HfBox hf_linework_box(const HfLinework *lines);
