/* SPDX-License-Identifier: GPL-3.0-or-later
 * checks-private.h - what webs.c, parts.c, openings.c and gaps.c hand each other.
 */
#pragma once
#include "hold/hold-private.h"
#include "hold/splice-private.h"

/** hf_check_mass: kg of @area mm2 of this sheet. */
static inline double
hf_check_mass(const HfCheck *check, double area)
{
  return area * check->hold->process.thickness * check->hold->process.density * 1e-9;
}

/** hf_check_shape_beyond: the shape that made the boundary @far mm from @foot, which lies on @site:
 *  on along the ring (@way +1) or back (-1). */
guint hf_check_shape_beyond(const HfCheck *check, HfEdgeId site, HfPoint foot, int way, double far);

/** hf_webs_widest: the widest limit of webs and joints. */
double hf_webs_widest(const HfCheck *check);
