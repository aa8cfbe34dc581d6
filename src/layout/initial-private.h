/* SPDX-License-Identifier: GPL-3.0-or-later
 * initial-private.h - what the files about initials share.
 */
#pragma once
#include "layout/contact-private.h"

/** hf_smallest_circle: radius of the smallest circle round all of @shapes (HfShape), and its
 * centre; 0 for nothing. On the true curves, to 1e-9 of its size. */
double hf_smallest_circle(const GPtrArray *shapes, HfPoint *ret_centre);

/** hf_interlace: @shapes: two or three letters (HfShape) that overlap, in their own frame. Adds
 *  behind them the gaps (openings of @gap mm) where one passes over another, those stretches of
 *  the upper ones once more, and ties of @tie mm so that nothing comes loose. */
void hf_interlace(GPtrArray *shapes, double gap, double tie);

/** hf_interlace_step: where the second of two letters (ems) stands against the first so that they
 *  cross well: strokes across each other and not along each other. */
HfPoint hf_interlace_step(const HfLetter *a, const HfLetter *b, double cap, gboolean down);

/** hf_split: cuts the letters among @shapes, which are in the sign's frame, by the level slot of
 * the words @words (laid), and adds the bars where the recipe wants them. @first: the initial's
 * first shape in @shapes. */
gboolean hf_split(HfLaying *laying, guint entry, GPtrArray *shapes, guint first, GError **error);
