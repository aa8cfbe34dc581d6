/* SPDX-License-Identifier: GPL-3.0-or-later
 * apart-private.h - the union of very many shapes, most of which don't touch.
 */
#pragma once
#include "base/cancel.h"
#include "geom/region.h"

/** hf_metal_union_apart: (transfer full) the union of @clean (element-type HfRegion, each clean),
 * in groups of which none can touch another; %NULL: stopped. Cost O(n log n), and a union of each
 *  group. */
HfRegion *hf_metal_union_apart(const GPtrArray *clean, const HfCancel *cancel, GError **error);
