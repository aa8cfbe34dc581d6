/* SPDX-License-Identifier: GPL-3.0-or-later
 * zones-private.h - zones of a part of the axis.
 */
#pragma once
#include "thin/thin.h"

/** hf_zones_along: as hf_zones_new(), of nothing but axis @edges (in order, each once). Zones that
 *  go on along other edges are cut off there. Cost O(n log n) in the points of these edges. */
HfZones *hf_zones_along(const HfThin *thin, double limit, const guint *edges, guint n);

/** hf_zone_set_has_place: is there one in @set whose narrowest place lies from @from to @to on axis
 *  edge @edge? */
gboolean hf_zone_set_has_place(const HfZoneSet *set, guint edge, double from, double to);
