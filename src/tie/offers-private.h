/* SPDX-License-Identifier: GPL-3.0-or-later
 * offers-private.h - the bars that could hold a part.
 */
#pragma once
#include "tie/tie-bar-private.h"
#include "tie/tie.h"

/* What a maker's habit makes of a part, see middles.c and habit.c. */
typedef struct {
  gboolean counter;     /* the middle of a letter that is cut through */
  gboolean sides, ends; /* its letter's and its own sides are each other's mirror image; upper and
                           lower ends are */
  gboolean strokes;     /* of Hangul, Han or kana, see strokes.c: then it is no `counter` */
  gboolean pair;        /* to be held from two opposite sides */
  guint ties;           /* so many; 0: as any other part needs them */
  guint mates;          /* other middles of its letter that need ties */
  double high;          /* above the letter's middle, over the letter's height */
} HfHabit;

/* About the upward line through the middle; about the level one; turned by half a turn. */
typedef enum { HF_MIRROR_SIDES, HF_MIRROR_ENDS, HF_MIRROR_TURN } HfMirror;

/* What is being solved: who needs ties, and every bar that may be laid. */
typedef struct {
  HfGround *ground;
  HfTieLaw law;
  const HfTiesEntry *rule;
  guint *node; /* of each part: 0 body, from 1 on a part to be tied; HF_NO_PART: not to be used */
  gboolean *apart; /* of each part: may stand beside the sign, and so can't hold what may not */
  GArray *needy;   /* guint: the parts of node 1, 2, ... */
  GArray *bars;    /* HfBar, by needy part */
  guint *faults;   /* of each needy part: HF_N_BAR_FAULTS counts of what was wrong with bars */
  guint *twins;    /* of each needy part: class of equal parts of equal letters, from 1 */
  HfHabit *habits; /* of each needy part */
  gboolean *dot;   /* of each part: a piece of a standing letter that is more elsewhere */
  guint *kin;      /* of each entry: the first one of the same face */
  double unit;     /* mm2: a square tie; what style costs are counted in */
  double style;    /* factor of all style weights; 0: the metal that shows alone */
} HfOffers;

/** hf_offers_may_join: can what is tied to @other be held by it, as far as the recipe goes? */
gboolean hf_offers_may_join(const HfOffers *offers, guint part, guint other);

/** hf_tie_work: what the rule comes to, not laid. @style: factor of every style weight, as a
 * rule 1.
 */
HfWork *hf_tie_work(const HfSign *sign, guint entry, double style, const HfCancel *cancel,
                    GError **error);

/** hf_offers_find: fills bars and faults. %FALSE with %HF_ERROR_CANCELLED. */
gboolean hf_offers_find(HfOffers *offers, GError **error);

/** hf_bar_style: (style.c) what the looks of a bar cost, mm2. */
double hf_bar_style(const HfOffers *offers, const HfBar *bar);

/** hf_strokes_style: (strokes.c) what a bar of parts of such a letter costs, square ties. */
double hf_strokes_style(const HfOffers *offers, const HfBar *bar);

/** hf_offers_kin: (twins.c) fills kin. hf_offers_twins: fills twins, needs kin. hf_offers_places:
 * numbers each end's place in its letter and that of its mirror image. */
void hf_offers_kin(HfOffers *offers);
void hf_offers_twins(HfOffers *offers);

/** hf_view_mirrored: (mirror.c) is the part its own mirror image, in its own frame, as far as its
 *  hull and its weight tell? @within: of its size. */
gboolean hf_view_mirrored(const HfGround *ground, guint part, HfMirror mirror, double within);
/** hf_view_letter_box: of the letter that encloses it: mm along level and up from the part's
 * middle, the view turned by @angle. */
HfBox hf_view_letter_box(const HfGround *ground, const HfView *view, double angle);
/** hf_view_letter_mirrored: is the hull of the letter that encloses it, about the part's middle? */
gboolean hf_view_letter_mirrored(const HfGround *ground, const HfView *view, HfMirror mirror,
                                 double within);

/** hf_offers_habits: (middles.c) fills habits; needs twins. With no style: none. */
void hf_offers_habits(HfOffers *offers);
/** hf_middles_related: do two letters' middles, by needy number, look alike: boxes in ems of one
 *  face? */
gboolean hf_middles_related(const HfOffers *offers, guint i, guint k);
/** hf_habit_at: of a part; of one that needs no ties: none. */
const HfHabit *hf_habit_at(const HfOffers *offers, guint part);
/** hf_habit_style: what a bar of a letter's middle costs beside what every bar does, square ties.
 */
double hf_habit_style(const HfOffers *offers, const HfBar *bar);
/** hf_habit_spare: (habit.c) tells how many ties each letter's middle gets, and marks the bars that
 *  are no habit where there are some that are. To be told anew when @conflicts (element-type
 *  HfConflict) have come to be more, or bars were struck out. O(bars log conflicts). */
void hf_habit_spare(HfOffers *offers, const GArray *conflicts);

/* The place of one end of a bar in its part, and its mirror image; see HfCandidate. */
typedef struct {
  guint place, mirror;
} HfBarPlace;
HfBarPlace (*hf_offers_places(const HfOffers *offers))[2]; /* (transfer full) of each bar */
