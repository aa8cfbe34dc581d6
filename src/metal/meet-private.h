/* SPDX-License-Identifier: GPL-3.0-or-later
 * meet-private.h - shapes that meet edge to edge, within a micrometre, are made one on the spot.
 */
#pragma once
#include "metal/metal.h"

/**
 * hf_regions_meet:
 * @regions: clean, without sources; their vertices move by at most a few HF_MEET_MM, and only where
 *   they meet
 * @opening: of each, whether it removes metal
 * Two meet where metal would end on both sides of one line: two that add metal or two that remove
 * it, edge against edge; an opening and metal, edge along edge. Makes their edges the very same
 * ones wherever they are no farther apart than HF_MEET_MM, on either side, so that a boolean leaves
 * nothing between them. Returns: (transfer full) (element-type HfMeeting) by a, then b: numbers in
 * @regions; none where a third one covers the middle of the longest stretch. %NULL, and nothing is
 * changed, when @cancel (nullable) said so. Cost O(n log n + pairs).
 */
GArray *hf_regions_meet(HfRegion *const *regions, const gboolean *opening, guint n,
                        const HfCancel *cancel);

/**
 * hf_regions_merge:
 * @regions: clean, all adding metal or all removing it, with the numbers @number, @number + 1 ...
 * @meetings: (element-type HfMeeting) of these numbers; those of others are passed over
 * Those that meet become one clean region, in the place of the first of them; the others become
 * empty. Cost O(n log n) for n edges of what meets.
 */
void hf_regions_merge(HfRegion *const *regions, guint n, const GArray *meetings, guint number);
