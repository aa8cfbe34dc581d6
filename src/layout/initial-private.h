/* SPDX-License-Identifier: GPL-3.0-or-later
 * initial-private.h - what the files about initials share.
 */
#pragma once
#include "layout/contact-private.h"

/** hf_smallest_circle: radius of the smallest circle round all of @shapes (HfShape), and its
 * centre; 0 for nothing. On the true curves, to 1e-9 of its size. */
double hf_smallest_circle(const GPtrArray *shapes, HfPoint *ret_centre);

/** hf_initial_letters: (transfer full) (nullable) (element-type HfShape) the initial's letters in
 * their size, set or woven as it says, about the middle of their window (`fill`) or of their box.
 * Errors: nothing to cut, no room, or what would not read. */
GPtrArray *hf_initial_letters(HfLaying *laying, guint entry, HfWording *wording, GError **error);

/* How letters are set, in the unit of their shapes. */
typedef struct {
  HfInitialSet set;
  double cap;   /* height of a capital */
  double gap;   /* clear between them; < 0: they run into each other by that; NAN: joined */
  double joint; /* joined: how wide the metal between two is */
  double bite;  /* joined: and how deep they run into each other, at the least */
} HfMonogram;

/** hf_set_monogram: @shapes: as many letters (HfShape) as it takes, all in one size with the pen
 *  at the origin. Sizes and moves them; cost some hundred clear distances. %FALSE: the gaps alone
 *  take all the room. */
gboolean hf_set_monogram(GPtrArray *shapes, const HfMonogram *as);
/** hf_set_shaped_monogram: the same for a circle or a diamond as high as a capital; `gap` is said.
 */
gboolean hf_set_shaped_monogram(GPtrArray *shapes, const HfMonogram *as);

/**
 * hf_interlace:
 * @shapes: two or three letters (HfShape) that overlap, in their own frame
 * Adds behind them the gaps (openings of @gap mm) where one passes over another, those stretches of
 * the upper ones once more, and ties of @tie mm so that nothing comes loose.
 * Returns: (nullable) (transfer full) why it would not read: strokes that lie on each other, or a
 *   crumb of a letter; then nothing is added. "a crumb of initial 'H' ... would be left"
 */
char *hf_interlace(GPtrArray *shapes, double gap, double tie);

/** hf_interlace_steps: (transfer full) (element-type HfPoint) where the second of two letters (ems)
 *  may stand against the first, those first that cross best: strokes across each other and not
 *  along each other. Never empty. */
GArray *hf_interlace_steps(const HfLetter *a, const HfLetter *b, double cap, gboolean down);

/** hf_split: cuts the letters among @shapes, which are in the sign's frame, by the level slot of
 * the words @words (laid), and adds the bars where the recipe wants them. @first: the initial's
 * first shape in @shapes. */
gboolean hf_split(HfLaying *laying, guint entry, GPtrArray *shapes, guint first, GError **error);
