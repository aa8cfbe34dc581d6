/* SPDX-License-Identifier: GPL-3.0-or-later
 * solve-private.h - one unknown that is as large as still fits.
 *
 *   too much  |            /        false position with halved ends (Illinois; M. Dowell and
 *         0 --+----------/----      P. Jarratt, BIT 11, 1971, from memory), a halving
 *             |________/  ^ wanted  where one end stays, so that it never crawls
 */
#pragma once
#include "base/cancel.h"

/* What there is too much of at @x: <= 0: it fits, and rising with x; NAN: it can't be told. */
typedef double (*HfTooMuch)(double x, gpointer data);

/**
 * hf_solve_most:
 * @fits: where it fits; @over: where it does not, on either side of @fits
 * @close: what it may fall short of fitting exactly
 * Returns: the x nearest to @over at which it still fits, and by no more than @close, as far as
 *   rounding allows. At most 100 questions; where @cancel says so it ends early.
 */
double hf_solve_most(HfTooMuch too_much, gpointer data, double fits, double over, double close,
                     const HfCancel *cancel);

/**
 * hf_solve_size:
 * @guess: > 0
 * @most: > @guess * 2^-30
 * As hf_solve_most() for a size above 0 without ends: they are found by doubling and halving.
 * Returns: NAN when not even 2^-30 of @guess fits; @most when that fits.
 */
double hf_solve_size(HfTooMuch too_much, gpointer data, double guess, double most, double close,
                     const HfCancel *cancel);
