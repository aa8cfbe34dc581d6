/* SPDX-License-Identifier: GPL-3.0-or-later
 * set-private.h - bars taken together: what stands in each other's way, what openings they leave,
 * and what the chosen ones are called.
 */
#pragma once
#include "tie/choice-private.h"
#include "tie/offers-private.h"

/** hf_bars_conflicts: (transfer full) (element-type HfConflict) pairs that can't both be laid. */
GArray *hf_bars_conflicts(const HfOffers *offers);

/** hf_bars_prove: (rooms.c) looks at the openings that the @chosen bars (element-type guint) close,
 *  and adds a conflict for those that leave one too small to pierce, or strikes one out that does
 * so alone. Returns: how many it added and struck. */
guint hf_bars_prove(const HfOffers *offers, const GArray *chosen, GArray *conflicts);

/** hf_bars_tell: (tie-words.c) the chosen bars as ties and shapes of @work, in the order of their
 *  letters. */
void hf_bars_tell(const HfOffers *offers, const GArray *chosen, HfWork *work);

/** hf_untied_tell: (tie-words.c) a part that no tie can hold. */
void hf_untied_tell(const HfOffers *offers, const HfUnheld *unheld, HfWork *work);
