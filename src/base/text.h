/* SPDX-License-Identifier: GPL-3.0-or-later
 * text.h - numbers to text and back, never depending on the locale; nearest words.
 */
#pragma once
#include "base/units.h"
#include <glib.h>

/**
 * hf_text_number:
 * @value: any finite number
 * @decimals: 0..9, most digits behind the point
 *
 * Plain decimal text with a point, no exponent, trailing zeros and `-0` removed: 3.70 -> "3.7".
 * Returns: (transfer full)
 */
char *hf_text_number(double value, int decimals);

/** hf_text_append: appends what hf_text_number() gives to @text. Cost O(1), no allocation. */
void hf_text_append(GString *text, double value, int decimals);

/** hf_text_fixed: as hf_text_number() but keeps the zeros: 3.7 with 2 -> "3.70". (transfer full) */
char *hf_text_fixed(double value, int decimals);

/** hf_text_angle: "1.4°", @angle in radians. (transfer full) Lengths: base/units.h. */
char *hf_text_angle(double angle);

/**
 * hf_text_parse:
 * @text: (borrowed) starts with a decimal number: sign, digits, point, digits; no exponent,
 *   no infinity, no hexadecimal
 * @end: (out) first byte behind the number
 * Returns: %TRUE and the value when at least one digit was there. Never looks at the locale.
 */
gboolean hf_text_parse(const char *text, double *ret_value, const char **end);

/**
 * hf_text_nearest:
 * @words: (array zero-terminated=1) what is allowed
 * Returns: (transfer none) (nullable) the word of @words that looks like a slip of the pen for
 *   @given (Damerau-Levenshtein distance at most a third of the length, at least 1), or the only
 * one whose first words are @given, else %NULL
 */
const char *hf_text_nearest(const char *given, const char *const *words);

/** hf_text_distance: Damerau-Levenshtein (adjacent swaps count 1), in characters, case folded. */
guint hf_text_distance(const char *a, const char *b);

/** hf_text_list: `a, b or c` from a zero-terminated array. (transfer full) */
char *hf_text_list(const char *const *words, const char *conjunction);

/** hf_text_list_some: as hf_text_list(), of at most @most; what is left out is said: `a, b or c
 * (and 14 more)`. @n: how many there are in all, of which @words has at least the first @most or
 * all.
 */
char *hf_text_list_some(const char *const *words, guint n, guint most, const char *conjunction);

/** hf_text_ordinal: "1st", "2nd", "11th". (transfer full) */
char *hf_text_ordinal(guint n);
