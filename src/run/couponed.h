/* SPDX-License-Identifier: GPL-3.0-or-later
 * couponed.h - a coupon's files, and what was learned from one.
 */
#pragma once
#include "coupon/coupon.h"

typedef struct {
  const char *metal; /* as said */
  double thickness;  /* mm */
  double kerf;       /* mm; NAN: the shop's */
  const char *row;   /* (nullable) of the cut chart */
  const char *font;  /* (nullable) a stencil family for its row of letters; else one that may be
                        installed */
} HfCouponWish;

/** hf_coupon_make: @ret_recipe, @ret_results: (out) (transfer full) their texts. @shop_file: what
 *  hf_shop_find() looks beside, or, when @shop_said, the shop file. %FALSE with what the process of
 *  that sheet lacks. */
gboolean hf_coupon_make(const HfCouponWish *wish, const char *shop_file, gboolean shop_said,
                        char **ret_recipe, char **ret_results, GError **error);

/** hf_coupon_take: writes what @file teaches into @shop_file (nullable: the one that is found
 *  beside @file, else the user's own, which is made). Returns: (transfer full) the shop file's
 *  name; %NULL: nothing is written. @told: (out) (transfer full) what changed. */
char *hf_coupon_take(const char *file, const char *shop_file, char **told, GError **error);

/** hf_coupon_seen: (transfer full) JSON of the coupon whose recipe @text is, for the page
 *  (docs/page.md); `null` when it is none. */
GBytes *hf_coupon_seen(const char *text, gsize length);

/** hf_coupon_take_said: as hf_coupon_take(), of what was said beside the coupon whose recipe @text
 *  is, called @file: @said, keys of a file of results and their values in turn, ends with %NULL.
 *  %HF_ERROR_BAD_VALUE: it is no coupon. */
char *hf_coupon_take_said(const char *text, gsize length, const char *file, const char *const *said,
                          char **told, GError **error);
