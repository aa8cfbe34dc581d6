/* SPDX-License-Identifier: GPL-3.0-or-later
 * true-width-private.h - a zone that only its chords let pass, measured between the true curves.
 */
#pragma once
#include "hold/hold-private.h"

/* mm. Two edges, each flattened, leave a place so much wider or narrower than the curves do: zones
 * that are looked at are this much wider than those that are told. */
#define HF_CHORDS_OFF (2 * HF_FLATTEN_MM)

/* From an edge of the region that the zones are of to the same edge of the metal. */
typedef HfEdgeId (*HfSiteOf)(const HfRegion *metal, HfEdgeId site);
/** hf_site_of_metal, hf_site_of_turned: for zones of the metal; of hf_region_turned() of it. O(1).
 */
HfEdgeId hf_site_of_metal(const HfRegion *metal, HfEdgeId site);
HfEdgeId hf_site_of_turned(const HfRegion *metal, HfEdgeId site);

/**
 * hf_check_true_width:
 * @zone: its place, sites and width become those where it is truly narrowest, tips left out
 * Returns: is it narrower than @limit there? Cost: O(points of its middle line).
 */
gboolean hf_check_true_width(const HfCheck *check, const HfZones *zones, HfSiteOf site_of,
                             double limit, HfZone *zone);
