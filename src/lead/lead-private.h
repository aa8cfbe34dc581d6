/* SPDX-License-Identifier: GPL-3.0-or-later
 * lead-private.h - what the files of the paths share.
 *
 *   lead.c       paths of a sign      half-kerf.c  the torch's middle for one ring
 *   starts.c     where to begin       ways.c       ways in and out, and whether there is room
 *   wished.c     where and how the recipe wants it begun
 *   stretches.c  a path as it is cut
 */
#pragma once
#include "geom/index.h"
#include "lead/lead.h"

/* Which way in, and out, belongs to a start. */
typedef struct {
  HfCurve in[2]; /* from the pierce to the contour */
  guint n_in;
  HfCurve out; /* from the contour's end into the scrap */
  guint n_out; /* 0 or 1 */
  double past; /* mm along the contour, over the start */
} HfLeadWay;

/* What the door keeps to itself. */
typedef struct {
  GArray *ways; /* HfLeadWay */
  HfLeadOptions options;
} HfLeadOwn;

/* One contour while starts are looked for. */
typedef struct {
  HfPaths *paths;
  const HfLeadOptions *options;
  const HfRegion *metal;
  HfIndex *index; /* of the metal */
  GArray *ids;    /* HfEdgeId, for its queries */
  GArray *ways;   /* HfLeadWay, of all paths */
  double side;    /* 1: scrap lies to the left of travel; -1: to the right */
  guint path;
  HfWayWish way; /* what is wanted of its ways in */
} HfLeadWork;

/** hf_half_kerf: adds to @to the contours that half a kerf to the scrap side of contour @contour of
 *  @fit is, wound as they are cut. Returns: how many; 0: the torch has no room in it. */
guint hf_half_kerf(const HfFit *fit, guint contour, gboolean is_opening,
                   const HfLeadOptions *options, HfOutline *to);

/** hf_lead_gap: mm from the segment a-b to the nearest metal; @at_most when it is that or more. */
double hf_lead_gap(HfLeadWork *work, HfPoint a, HfPoint b, double at_most);

/* A place of a contour where it may be begun. */
typedef struct {
  guint curve;
  double t, cost; /* cost: mm of travel */
} HfLeadPlace;

/** hf_lead_wished: of the ring of path @work->path; all of it usual where nothing is wanted. */
HfLeadWish hf_lead_wished(const HfLeadWork *work);
/** hf_lead_wished_places: (transfer full) (element-type HfLeadPlace) of one contour, @n curves: the
 *  one that @spot means, then those beside it, the nearest first; their cost is how far they are
 *  off. */
GArray *hf_lead_wished_places(const HfCurve *curves, guint n, const HfSpot *spot);
/** hf_lead_tell_unmet: takes @says. */
void hf_lead_tell_unmet(HfLeadWork *work, HfPoint at, char *says);

/** hf_lead_find_starts: fills starts of path @work->path, the best first, and says where room was
 * short. */
void hf_lead_find_starts(HfLeadWork *work);

/** hf_lead_best_way: the best way in at @at, travel in direction @along (a unit).
 * @centre, @room: of the largest circle in an opening; NAN: none
 * Returns: %FALSE: there is none. @ret_cost: mm; @ret_has: mm from the pierce to the metal. */
gboolean hf_lead_best_way(HfLeadWork *work, HfPoint at, HfPoint along, HfPoint centre, double room,
                          HfLeadWay *ret_way, double *ret_cost, double *ret_has);

/** hf_lead_needs: mm that a pierce should be from finished metal: crater, half a kerf and 1 mm
 *  (common practice, no source). */
static inline double
hf_lead_needs(const HfLeadOptions *options)
{
  return options->crater + options->kerf / 2 + 1;
}

/** hf_lead_small_hole: mm: a hole of less across is cut slowly: 25 mm or 5 t (common practice, no
 *  source). */
static inline double
hf_lead_small_hole(const HfLeadOptions *options)
{
  return fmax(25, 5 * options->thickness);
}

/* Direction of travel at a place of a curve, a unit. */
static inline HfPoint
hf_lead_along(const HfCurve *curve, double t)
{
  HfPoint d = hf_curve_derivative(curve, t);
  double length = hf_point_length(d);
  return length > 0 ? hf_point_scale(d, 1 / length) : hf_point(1, 0);
}
