/* SPDX-License-Identifier: GPL-3.0-or-later
 * names-private.h - finds out again which source curve made each edge of the metal.
 */
#pragma once
#include "base/cancel.h"
#include "geom/region.h"

/** hf_metal_name_edges: fills the sources of every ring of @region, from @input: all shapes,
 *  flattened. Cost O(n log n). %FALSE: stopped. */
gboolean hf_metal_name_edges(HfRegion *region, const HfRegion *input, const HfCancel *cancel,
                             GError **error);
