/* SPDX-License-Identifier: GPL-3.0-or-later
 * contact-private.h - how deep letters bite into what they stand in, measured on the letters' true
 * outlines before any boolean.
 *
 *        ring   ,---------------------.     mark: a place of the outline where a contact may be at
 *     ----------|  T  flat: 2 corners |--   its shallowest: a top, the bottom of a dip between two
 *               |* and the middle     |     tops, a corner of a flat end. It can reach when it lies
 *               '*--------*---------*-'     within REACH of the level that the letters share and
 *                                           nothing of its own letter is between it and the ring.
 *
 * A dip that stays outside the metal is no part of a contact: it parts two contacts.
 * A mark's depth is taken from the ring's edge along the radius (from the bar's edge straight
 * down). The bite of a contact is its least mark's; docs/maths.md#can-reach, #contact, #bite.
 */
#pragma once
#include "layout/words-private.h"

/* Of the letter height: a slit that would be left between a dip and the edge is closed when it is
 * lower than this; ours. */
#define HF_SLIT 0.02

/* Of the letter height: how far below the highest top another one may lie and still be meant to
 * meet the same edge: round letters overshoot by 2 %, ascenders overtop capitals by up to 10 %;
 * ours. Feet: above the baseline. */
#define HF_REACH 0.12

typedef enum { HF_SIDE_FEET, HF_SIDE_TOPS } HfSide;

/* An edge that letters bite into, and how the letters stand to it. */
typedef struct {
  double size, across; /* mm an em, up and along */
  double radius;       /* of the baseline circle; 0: straight */
  gboolean inward;     /* tops toward the centre */
  gboolean bent;
  double edge; /* radius of the ring's edge; straight: height over the baseline */
  double sign; /* +1: depth grows with the level, -1: against it */
} HfBiteEdge;

/* One place that was measured. */
typedef struct {
  guint letter, contour;
  double along;    /* place on the contour: number of the curve and t */
  HfPoint em;      /* letter's ems, x from the middle of its advance */
  double depth;    /* mm */
  gboolean dip;    /* lies between two tops */
  gboolean counts; /* must bite: a top, a corner of a flat end, a dip that was closed */
} HfBiteMark;

typedef struct HfCrown HfCrown;

/** hf_crown_new: what of the letters of @wording can reach, on @side. @line: of this line only; -1:
 *  of all. @reach: ems. */
HfCrown *hf_crown_new(const HfWording *wording, HfSide side, gint line, double reach);
/** hf_crown_copy: (transfer full) as it was when it was new: no dip closed. */
HfCrown *hf_crown_copy(const HfCrown *crown);
/** hf_crown_free: frees it and all that it owns; %NULL: nothing. */
void hf_crown_free(HfCrown *crown);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCrown, hf_crown_free)

/** hf_crown_measure: least depth of the marks that count, greatest depth of all. %FALSE: nothing
 * can reach. */
gboolean hf_crown_measure(const HfCrown *crown, const HfBiteEdge *edge, HfBiteMark *ret_least,
                          HfBiteMark *ret_greatest);

/** hf_crown_close_dips: a dip that is in the metal, but not by @bite, makes its contact too
 * shallow; one that stays out by less than @slack mm would be a slit. From now on such dips must
 * bite as tops do. Returns: how many are new; measure again while there are any. */
guint hf_crown_close_dips(HfCrown *crown, const HfBiteEdge *edge, double bite, double slack);

/** hf_crown_contacts: (transfer full) (element-type HfBiteMark) the shallowest mark of each
 * contact, letter after letter: marks between which the outline does not leave the metal are one
 * contact. */
GArray *hf_crown_contacts(const HfCrown *crown, const HfBiteEdge *edge);

/** hf_crown_wording: (transfer none) whose letters these are. */
const HfWording *hf_crown_wording(const HfCrown *crown);

/** hf_bite_level: level of a place of a letter: its distance from the centre, or its height. */
double hf_bite_level(const HfBiteEdge *edge, HfPoint em);

/** hf_words_add_bites: adds a joint with @with (HF_LAID_SHAPE) for each contact of @crown; the
 *  letters' shapes begin at @first_shape of the entry. */
void hf_words_add_bites(HfWordsLaying *own, const HfCrown *crown, const HfBiteEdge *edge,
                        guint first_shape, guint with);

/* Who lays words by contact. */
gboolean hf_lay_standing(HfWordsLaying *own, GError **error);
/** hf_lay_band: words in a band between two rings: letter height and radius are solved where
 *  the recipe says `fill band`. %FALSE with %HF_ERROR_NO_ROOM (it says what would fit) or
 *  %HF_ERROR_BAD_VALUE. */
gboolean hf_lay_band(HfWordsLaying *own, GError **error);
