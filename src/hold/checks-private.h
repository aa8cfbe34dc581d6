/* SPDX-License-Identifier: GPL-3.0-or-later
 * checks-private.h - what webs.c, parts.c, openings.c and gaps.c hand each other.
 */
#pragma once
#include "hold/hold-private.h"
#include "thin/splice.h"
#include "thin/thin.h"

/** hf_check_mass: kg of @area mm2 of this sheet. */
static inline double
hf_check_mass(const HfCheck *check, double area)
{
  return area * check->hold->process.thickness * check->hold->process.density * 1e-9;
}

/** hf_check_shape_beyond: the shape that made the boundary @far mm from @foot, which lies on @site:
 *  on along the ring (@way +1) or back (-1). */
guint hf_check_shape_beyond(const HfCheck *check, HfEdgeId site, HfPoint foot, int way, double far);

/** hf_gaps_finish_with: (gaps.c) the axes of @webs, begun, and of the gaps, of one diagram where
 * they ask of the same edges. Before the gaps are checked. */
void hf_gaps_finish_with(HfCheck *check, HfThin *webs);

/** hf_webs_widest: the widest limit of webs and joints. */
double hf_webs_widest(const HfCheck *check);

/** hf_check_name_ring: names the shapes that made ring @r of the metal, the longest share first. */
void hf_check_name_ring(HfCheck *check, HfFinding *finding, guint r);

/** hf_check_round_hole: diameter of ring @r when all of it is one drawn circle; else 0. */
double hf_check_round_hole(const HfCheck *check, guint r);

/** hf_room_say: (room.c) of cut-through letter @shape, in trouble at the edge of what it is cut
 * from: where its words are too large for that, @finding says how large they are, how much room
 * there is and which letters fit; else it stays as it is. */
void hf_room_say(const HfCheck *check, HfFinding *finding, guint shape);

/** hf_check_opening_of: (openings.c) of each ring of the metal the opening that it bounds or lies
 *  in, as the number of the opening's ring; -1: it borders on the outside. (transfer full) */
gint *hf_check_opening_of(const HfCheck *check);

/** hf_webs_report_tips: (burnt-tips.c) pointed ends that burn back; @thin: of webs. */
void hf_webs_report_tips(HfCheck *check, HfThin *thin);
