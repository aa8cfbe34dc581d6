/* SPDX-License-Identifier: GPL-3.0-or-later
 * strip.h - long thin strips of metal that are held at both ends.
 */
#pragma once
#include "base/cancel.h"
#include "geom/index.h"

typedef struct {
  HfPoint middle; /* half way along its middle line */
  HfPoint along;  /* its direction there, a unit vector */
  double length;  /* mm, free, along its middle line */
  double width;   /* mm, on average */
  HfEdgeId edge;  /* a boundary edge of it */
} HfStrip;

/* What is looked for, mm, all > 0. */
typedef struct {
  double widest;   /* a wider one is no strip */
  double shortest; /* a shorter one does not matter */
  double fine;     /* between looks when measuring: a joint is wider */
} HfStripWish;

/**
 * hf_strips_find:
 * @index: over @region
 * Returns: (transfer full) (element-type HfStrip) every strip with metal beyond both its ends,
 * once; or %NULL when stopped. Cost: a look for each eighth of `shortest` of the boundary, and for
 * each `fine` of a strip.
 */
GArray *hf_strips_find(const HfRegion *region, HfIndex *index, HfStripWish wish,
                       const HfCancel *cancel, GError **error);
