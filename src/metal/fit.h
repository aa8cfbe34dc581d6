/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit.h - the metal's outline as lines and true arcs, for whatever is written or cut from it.
 *
 *   region   .-'-.-'-.      chords, 5 um from the true curve
 *   fit     (         )     arcs of the true curve, as few as the tolerance allows
 */
#pragma once
#include "metal/metal.h"

/* The region as lines and true arcs, ready for SVG and DXF. */
typedef struct {
  HfOutline *outline; /* one contour per ring of the region, in ring order; lines and arcs only */
  gint others;        /* owners beside the first; atomic */
} HfFit;

/**
 * hf_fit_new:
 * @tolerance: mm; both ways between the region and the result, 0.01
 * Fits arcs to the *source curves* that the edges remember, as few as the tolerance allows; full
 * circles become one arc of +-2 pi; neighbours' tangents agree within 1 degree except at source
 * corners and where outlines cross.
 * Returns: (transfer full)
 */
HfFit *hf_fit_new(const HfMetal *metal, const HfLayout *layout, double tolerance);
/** hf_fit_new_until: the same; %NULL when @cancel (nullable) said so. */
HfFit *hf_fit_new_until(const HfMetal *metal, const HfLayout *layout, double tolerance,
                        const HfCancel *cancel);
/** hf_fit_ref: one more owner, in any thread; each lets go by hf_fit_free(). */
HfFit *hf_fit_ref(HfFit *fit);
void hf_fit_free(HfFit *fit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFit, hf_fit_free)
