/* SPDX-License-Identifier: GPL-3.0-or-later
 * offers-private.h - the bars that could hold a part.
 */
#pragma once
#include "tie/tie-bar-private.h"

/* What is being solved: who needs ties, and every bar that may be laid. */
typedef struct {
  HfGround *ground;
  HfTieLaw law;
  const HfTiesEntry *rule;
  guint *node; /* of each part: 0 body, from 1 on a part to be tied; HF_NO_PART: not to be used */
  gboolean *apart;  /* of each part: may stand beside the sign, and so can't hold what may not */
  GArray *needy;    /* guint: the parts of node 1, 2, ... */
  GArray *bars;     /* HfBar, by needy part */
  guint *faults;    /* of each needy part: HF_N_BAR_FAULTS counts of what was wrong with bars */
  guint *twins;     /* of each needy part: class of equal parts of equal letters, from 1 */
  gboolean *shared; /* of each shape: more than one part has metal of it */
  double unit;      /* mm2: a square tie; what style costs are counted in */
  double style;     /* factor of all style weights; 0: the metal that shows alone */
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

/** hf_offers_twins: (twins.c) fills twins. hf_offers_places: numbers each end's place in its letter
 *  and that of its mirror image. */
void hf_offers_twins(HfOffers *offers);

/* The place of one end of a bar in its part, and its mirror image; see HfCandidate. */
typedef struct {
  guint place, mirror;
} HfBarPlace;
HfBarPlace (*hf_offers_places(const HfOffers *offers))[2]; /* (transfer full) of each bar */
