/* SPDX-License-Identifier: GPL-3.0-or-later
 * border-private.h - what the files about borders share: a line along a plate's
 * edge, by length.
 */
#pragma once
#include "layout/layout-private.h"

/* A closed line, flattened finely; `s` is the length up to a point. */
typedef struct {
  HfPoint at;
  double s;
} HfTrackPoint;

typedef struct {
  GArray *points; /* HfTrackPoint; the first once more at the end */
  GArray *sides;  /* HfTrackSide */
  double length;
} HfTrack;

/* From corner to corner; a line without corners is one side, from its top on.
 */
typedef struct {
  double from, length;
  gboolean closed;
} HfTrackSide;

/* What a border is made of, while it is laid. */
typedef struct {
  HfLaying *laying;
  guint entry;
  const HfBorderEntry *own;
  const HfOutline *edge;            /* of the plate, sign's frame */
  double tie;                       /* mm: width of a tie, and the least between two openings */
  double farthest;                  /* mm from tie to tie */
  HfOutline *open, *bars, *scrolls; /* cut, laid over that, cut from that */
} HfLining;

/** hf_border_line: (transfer full) the edge moved in by @by: one line; %NULL: it is none. */
HfOutline *hf_border_line(const HfLining *lining, double by, GError **error);
/** hf_border_refuse: %FALSE, with the error @what and what to do. */
gboolean hf_border_refuse(const HfLining *lining, GError **error, const char *fix,
                          const char *what);
/** hf_border_ornaments: (border-ornaments.c) the ornament that is said, again and again. */
gboolean hf_border_ornaments(HfLining *lining, GError **error);

/** hf_track_new: (transfer full) contour @contour of @outline, which winds
 * counter-clockwise. */
HfTrack *hf_track_new(const HfOutline *outline, guint contour);
/** hf_track_free: frees it and all that it owns; %NULL: nothing. */
void hf_track_free(HfTrack *way);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTrack, hf_track_free)

/** hf_track_at: the point @s along; any s. @ret_way: (nullable) its direction,
 * rad. */
HfPoint hf_track_at(const HfTrack *way, double s, double *ret_way);
