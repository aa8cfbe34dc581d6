/* SPDX-License-Identifier: GPL-3.0-or-later
 * hole-private.h - where the holes of one entry are, by the plate that they are in.
 */
#pragma once
#include "layout/layout-private.h"

/** hf_hole_inset: how far in from the edge of what it is on an opening keeps that is @across mm
 * wide.
 */
double hf_hole_inset(const HfLaying *laying, const HfEntry *entry, double across);
/** hf_hole_hangs: the sign hangs by each of its frames' origins, where the recipe has it so.
 *  @hanging: as the entry says it; @diameter: of what goes through, mm. */
void hf_hole_hangs(HfLaying *laying, guint entry, double hanging, double diameter);

/** hf_hole_has_pattern: do its places follow from corners or edge of what it is on? */
gboolean hf_hole_has_pattern(const HfHoleEntry *hole);
/** hf_hole_frames: one frame for each of them. @own: box of one, about its middle. %FALSE with
 *  %HF_ERROR_BAD_VALUE (it has no corners), %HF_ERROR_NO_ROOM. */
gboolean hf_hole_frames(HfLaying *laying, guint entry, HfBox own, GError **error);
