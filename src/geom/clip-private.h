/* SPDX-License-Identifier: GPL-3.0-or-later
 * clip-private.h - the C face of the polygon clipper (polyclipping, C++), in grid units.
 *
 * Rings come out oriented (outer counter-clockwise) but neither split where they touch themselves
 * nor nested: rings.c does that, so that it does not hang on how the clipper feels about touching.
 */
#pragma once
#include "geom/region.h"

G_BEGIN_DECLS

typedef enum { HF_CLIP_UNION, HF_CLIP_INTERSECT, HF_CLIP_SUBTRACT } HfClipKind;

/**
 * hf_clip:
 * @subject, @clip: (nullable) regions; fill rule non-zero on both
 * Appends the outcome to @result, oriented. %FALSE on an input the clipper refuses (coordinates out
 * of range).
 */
gboolean hf_clip(HfClipKind kind, const HfRegion *const *subject, guint n_subject,
                 const HfRegion *const *clip, guint n_clip, HfRegion *result);

/** hf_clip_even_odd: the area of the rings of @region by the even-odd rule, appended likewise. */
gboolean hf_clip_even_odd(const HfRegion *region, HfRegion *result);

/* @delta and @arc in grid units. */
gboolean hf_clip_offset(const HfRegion *region, double delta, double arc, HfRegion *result);

G_END_DECLS
