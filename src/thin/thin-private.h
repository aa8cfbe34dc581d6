/* SPDX-License-Identifier: GPL-3.0-or-later
 * thin-private.h - the axis near thin places in the making.
 */
#pragma once
#include "thin/thin.h"

/* What levels and zones ask of a whole axis edge, known once. */
typedef struct {
  double least, most; /* radius, as level.c cuts it: at its ends its nodes' */
  double low, high;   /* radius of its points */
  double rise[2]; /* largest rise of that over the least before, from its first and last point */
  double length;  /* mm */
} HfEdgeFacts;

/* The axis near all places that are narrower than `widest`; exact there, and only there. */
struct HfThin {
  const HfRegion *region;
  double widest;
  guint *first;      /* of each ring: number of its first edge */
  guint8 *facing;    /* of each edge: HF_FACING bits */
  double *from, *to; /* of each facing edge: the stretch where it is, in shares of its length */
  double *live_from, *live_to; /* of each edge: the stretch outside pockets; none: from > to */
  GArray *near;                /* HfEdgeId: the edges that took part in the axis */
  const HfCancel *cancel;      /* (nullable) */
  HfDiagram *diagram;          /* (nullable) that the axis is to be taken from */
  HfAxis *axis;
  HfEdgeFacts *facts; /* of each axis edge */
  double *least; /* of each axis edge: that of its facts; INFINITY: a twig, which only runs into the
                    joint of two chords of one curve */
};

#define HF_FACING 1 /* edge, or a vertex of it, may be a foot of a narrow place */
#define HF_NEAR   2 /* takes part */

#define HF_LOOK_EVERY 64 /* edges: whether to stop; some milliseconds */

/** hf_thin_mark_facing: facing.c; fills thin->facing with every edge that may hold a foot of a
 *  circle of diameter < @widest whose feet lie 120 degrees or more apart; some others too. Stopped
 * by
 *  @cancel (nullable) it leaves some out, and the axis that is made of them stops too. */
void hf_thin_mark_facing(HfThin *thin, HfIndex *index, const HfCancel *cancel);

/** hf_thin_close_pockets: pockets.c; takes stretches of edges out of thin->live. */
void hf_thin_close_pockets(HfThin *thin, HfIndex *index, gboolean tapers, const HfCancel *cancel);

static inline guint
hf_thin_number(const HfThin *thin, HfEdgeId id)
{
  return thin->first[id.ring] + id.vertex;
}
