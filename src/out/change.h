/* SPDX-License-Identifier: GPL-3.0-or-later
 * change.h - what a change does to the metal, as a small picture: before and after.
 */
#pragma once
#include "geom/region.h"

/**
 * hf_out_change:
 * @pixels: width of the picture, 100..4000
 * Returns: (transfer full) an SVG of two panels, side by side, or one above the other where that
 *   shows them larger; both cropped to what differs, with room around it. Metal that goes is
 *   crossed out in the first, metal that comes is hatched in the second; what would be too small
 *   to see has a ring round it. There is no text in it.
 */
GBytes *hf_out_change(const HfRegion *before, const HfRegion *after, guint pixels);

/** hf_out_changes: (transfer full) a sheet of such pictures, @pixels wide: each of the @n @after
 *  with its number, from 1. */
GBytes *hf_out_changes(const HfRegion *before, const HfRegion *const *after, guint n, guint pixels);
