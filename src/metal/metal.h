/* SPDX-License-Identifier: GPL-3.0-or-later
 * metal.h - from placed shapes to the metal that stays (the door of metal/).
 *
 * One valid, oriented region on the grid. Booleans forget who made an edge, so each edge of the
 * result is looked up again among the flattened input edges (within one grid unit; coincident
 * edges go to the later entry) and keeps its source shape, curve and parameter range.
 */
#pragma once
#include "geom/region.h"
#include "layout/layout.h"

#define HF_MEET_MM 0.001 /* gaps and bites up to this are none */

/* Two shapes that meet along an edge, nothing of one within the other. */
typedef struct {
  guint a, b;     /* numbers of the shapes, a < b */
  HfPoint at;     /* middle of the longest stretch */
  double length;  /* mm, of all stretches */
  double longest; /* mm */
} HfMeeting;

typedef struct {
  HfRegion *region;   /* with sources: HfEdge.shape indexes layout->shapes */
  double sliver_area; /* mm2 of slivers that were dropped or filled, for the report */
  GArray *meetings;   /* HfMeeting: made one, though they only meet edge to edge */
  gint others;        /* owners beside the first; atomic */
} HfMetal;

/** hf_metal_new: (transfer full) or %NULL with %HF_ERROR_CANCELLED, %HF_ERROR_BUG (the region
 * failed its own proof). Empty layout gives an empty region. @cancel: (nullable) looked at between
 * shapes and between the pieces of a boolean that do not touch. Cost O(n log n + crossings). */
HfMetal *hf_metal_new(const HfLayout *layout, const HfCancel *cancel, GError **error);
/** hf_metal_ref: one more owner, in any thread; each lets go by hf_metal_free(). */
HfMetal *hf_metal_ref(HfMetal *metal);
void hf_metal_free(HfMetal *metal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfMetal, hf_metal_free)
