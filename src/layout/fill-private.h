/* SPDX-License-Identifier: GPL-3.0-or-later
 * fill-private.h - the size and the baseline at which words fill the band between two rings.
 */
#pragma once
#include "layout/contact-private.h"

/* The band, seen from the common centre of its rings. */
typedef struct {
  double inner, outer;         /* radii of the band: outer edge of the inner ring, inner edge of the
                                  outer ring */
  double inner_far, outer_far; /* radii of the rings' far edges; inner_far 0: there is none */
  double bite;                 /* mm wanted */
} HfBand;

typedef struct {
  double size, radius;          /* mm an em; radius of the baseline */
  double least_foot, least_top; /* bites, mm */
  double foot_shows, top_shows; /* mm that show on the far side; <= 0: none */
  HfBiteMark foot, top;         /* what shows most */
} HfFilled;

/** hf_fill_edge: the edges that feet and tops of @setting bite into. */
HfBiteEdge hf_fill_edge(const HfBand *band, const HfSetting *setting, HfSide side);

/** hf_fill_solve: sets size and radius of @setting so that the shallowest foot and the shallowest
 *  top that can reach bite by exactly @band's bite (1e-6 mm). @feet, @tops: what can reach, of all
 *  lines by HF_REACH. What could only reach by pushing another out on the far side cannot.
 *  @ret_feet, @ret_tops: (transfer full) what does. %FALSE: nothing reaches, or the band is too
 *  narrow for any letters. */
gboolean hf_fill_solve(const HfCrown *feet, const HfCrown *tops, HfSetting *setting,
                       const HfBand *band, HfCrown **ret_feet, HfCrown **ret_tops,
                       HfFilled *ret_filled);
