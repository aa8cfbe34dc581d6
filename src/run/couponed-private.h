/* SPDX-License-Identifier: GPL-3.0-or-later
 * couponed-private.h - results as text into the shop file.
 */
#pragma once
#include <glib.h>

/** hf_coupon_take_text: as hf_coupon_take(), of @text, results called @file, beside which the shop
 *  file is looked for unless @shop_said names it. */
char *hf_coupon_take_text(const char *text, const char *file, const char *shop_said, char **told,
                          GError **error);
