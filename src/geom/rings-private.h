/* SPDX-License-Identifier: GPL-3.0-or-later
 * rings-private.h - brings loose oriented rings into the form that region.h promises.
 */
#pragma once
#include "geom/region.h"

/** hf_rings_settle: removes repeated points, spikes and rings of no area, splits each ring where it
 *  touches itself, nests openings in outer rings. Sources are dropped. Cost O(n log n + rings^2).
 */
void hf_rings_settle(HfRegion *region);

/** hf_rings_nest: sets every ring's parent. */
void hf_rings_nest(HfRegion *region);

/** hf_region_offset_chords: hf_region_offset() without sources. */
HfRegion *hf_region_offset_chords(const HfRegion *region, double distance, double tolerance);
