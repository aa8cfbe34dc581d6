/* SPDX-License-Identifier: GPL-3.0-or-later
 * hole-private.h - where the holes of one entry are, by the plate that they are in.
 */
#pragma once
#include "layout/layout-private.h"

/** hf_hole_has_pattern: do its places follow from corners or edge of what it is on? */
gboolean hf_hole_has_pattern(const HfHoleEntry *hole);
/** hf_hole_frames: one frame for each of them. @own: box of one, about its middle. %FALSE with
 *  %HF_ERROR_BAD_VALUE (it has no corners), %HF_ERROR_NO_ROOM. */
gboolean hf_hole_frames(HfLaying *laying, guint entry, HfBox own, GError **error);
