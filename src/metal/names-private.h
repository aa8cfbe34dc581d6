/* SPDX-License-Identifier: GPL-3.0-or-later
 * names-private.h - finds out again which source curve made each edge of the metal.
 */
#pragma once
#include "geom/region.h"
#include "layout/layout.h"

/** hf_metal_name_edges: fills the sources of every ring of @region. Cost O(n). %FALSE: stopped. */
gboolean hf_metal_name_edges(HfRegion *region, const HfLayout *layout, const HfCancel *cancel,
                             GError **error);
