/* SPDX-License-Identifier: GPL-3.0-or-later
 * own-words-private.h - words of a table that only its maker knows, as its shop file says them.
 */
#pragma once
#include "shop/shop.h"

/** hf_own_words_out: (transfer full) @text, a program, without the words of @shop that the report's
 *  language does not have: M3 and M5 stand for those of the arc, a comment for a line, so that
 *  every other line is as it was, in its place. @ret_lines: (out) how many were left out. */
char *hf_own_words_out(const HfShop *shop, const char *text, guint *ret_lines);
