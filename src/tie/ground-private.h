/* SPDX-License-Identifier: GPL-3.0-or-later
 * ground-private.h - the metal as ties see it: where the parts lie, and what a ray meets.
 *
 *     part a |  nothing  | part b       the metal is cut at every joint that counts as open; such
 *     -------+---->------+-------       a cut has no width, and no ray meets it
 */
#pragma once
#include "geom/index.h"
#include "tie/tie.h"

#define HF_NO_PART G_MAXUINT

enum { HF_VIEW_WAYS = 32 };

/* The frame in which a part is looked at: that of the letter (or entry) it mostly belongs to. */
typedef struct {
  guint shape; /* of the layout; HF_NO_SHAPE: none */
  HfPoint level, up;
  double lean;                   /* rad that what counts as upright leans to the right of up */
  HfMatrix em;                   /* from ems (entry: mm from its centre) to the sign */
  double size;                   /* mm of one em; entry: 1 */
  HfPoint middle;                /* of its box in that frame, sign's mm */
  HfBox box;                     /* the box: mm along level and up, from the middle */
  HfPoint extreme[HF_VIEW_WAYS]; /* its outermost points, all round from level on */
  double support[HF_VIEW_WAYS];  /* mm that they lie from the middle in that direction */
  gboolean weak;                 /* it has a joint that counts as open */
  GArray *rings;                 /* guint */
  double girth;                  /* mm of edge */
} HfView;

typedef struct {
  const HfSign *sign;
  const HfCancel *cancel; /* (nullable) */
  const HfRegion *region;
  gboolean leaning; /* upright is as each letter leans */
  HfIndex *index;
  double cell, farthest;
  guint *part;        /* of each ring: of hold->parts */
  GHashTable *seams;  /* (nullable) edges that are a cut's own, as ring << 32 | vertex */
  GArray *seam_pairs; /* guint: rings on either side of each cut, two by two */
  HfView *views;      /* of each part */
  GArray *ids;        /* scratch */
} HfGround;

/** hf_ground_new: (transfer full) what bars are tried against: index, parts by edge, views of
 *  the parts. @leaning: what is upright is as each letter leans, not square to its line.
 *  O(n log n). */
HfGround *hf_ground_new(const HfSign *sign, gboolean leaning, const HfCancel *cancel);
/** hf_ground_free: frees it and all that it owns; %NULL: nothing. */
void hf_ground_free(HfGround *ground);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfGround, hf_ground_free)

/* The first edge that a ray meets. */
typedef struct {
  double at;       /* mm along it */
  gboolean enters; /* metal; else it leaves it */
  HfEdgeId edge;
  guint part;
} HfMet;

/** hf_ground_ray: what it meets farther than @least mm; %FALSE: nothing. @way of length 1. */
gboolean hf_ground_ray(HfGround *ground, HfPoint from, HfPoint way, double least, HfMet *ret_met);

/** hf_ground_nearest: the nearest point of another part than @part, within @within mm. */
gboolean hf_ground_nearest(HfGround *ground, HfPoint p, guint part, double within, HfPoint *ret_at,
                           guint *ret_part);

/** hf_ground_shape: the layout's shape that made an edge; HF_NO_SHAPE. */
guint hf_ground_shape(const HfGround *ground, HfEdgeId id);

/** hf_ground_is_seam: is it an edge along which a joint was cut open? Such an edge has no
 *  source. */
gboolean hf_ground_is_seam(const HfGround *ground, HfEdgeId id);

/** hf_view_point: from the sign into the frame of the view, mm from its middle. */
HfPoint hf_view_point(const HfView *view, HfPoint p);

/** hf_view_way: a direction along level and along what counts as upright (`up`, or as the letter
 *  leans): (1, 0) is level, (0, 1) upright; of length 1. */
HfPoint hf_view_way(const HfView *view, HfPoint way);
/** hf_view_upright: the direction that counts as upright; of length 1. */
HfPoint hf_view_upright(const HfView *view);

/** hf_view_off: how far beside the part's middle a bar from @foot along @way runs, over how far the
 *  part goes on that side: -1..1. */
double hf_view_off(const HfView *view, HfPoint foot, HfPoint way);
