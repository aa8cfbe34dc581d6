/* SPDX-License-Identifier: GPL-3.0-or-later
 * cut-wished-private.h - the recipe's key `cut`: its names as contours of the sign.
 */
#pragma once
#include "cut/plan.h"
#include "sign/sign.h"

/** hf_cut_wished_names: does each name of `cut` mean something of some sheet of @sign?
 *  Returns: %FALSE: %HF_ERROR_NOT_FOUND, which one, and what is near it. O(edges) with such names,
 *  else O(1). */
gboolean hf_cut_wished_names(const HfSign *sign, GError **error);

/** hf_cut_wished_ways: (transfer full) (nullable) one for each ring of @layer's metal; %NULL:
 *  nothing is wished for. @names: of the rings. */
HfLeadWish *hf_cut_wished_ways(const HfSign *layer, const char *const *names);

/**
 * hf_cut_wished_order: (transfer full) (element-type HfPlanBefore) what of @paths is to come before
 * what; none: nothing is wished for.
 * Returns: %NULL with %HF_ERROR_BAD_VALUE: an order that can't be, with both names;
 * %HF_ERROR_TOO_BIG. Cost: the pairs.
 */
GArray *hf_cut_wished_order(const HfSign *layer, const char *const *names, const HfPaths *paths,
                            GError **error);
