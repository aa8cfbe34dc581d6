/* SPDX-License-Identifier: GPL-3.0-or-later
 * overlay-private.h - a boolean of very many rings, piece by piece.
 */
#pragma once
#include "base/cancel.h"
#include "geom/clip-private.h"

/* What a boolean is of: @subject and @clip are clean. */
typedef struct {
  HfClipKind kind;
  const HfRegion *const *subject;
  guint n_subject;
  const HfRegion *const *clip;
  guint n_clip;
} HfOverlay;

/** hf_overlay_work: about how many steps the clipper takes for all of it at once: edges times how
 *  many of them a line across meets, the way that meets fewer. Cost O(edges). */
double hf_overlay_work(const HfOverlay *overlay);

/** hf_overlay_run: appends the outcome to @result as hf_clip() does, in another order of rings.
 *  %FALSE: stopped. Cost O(n log n + crossings) where no piece has very many shapes. */
gboolean hf_overlay_run(const HfOverlay *overlay, HfRegion *result, const HfCancel *cancel);
