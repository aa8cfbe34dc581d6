/* SPDX-License-Identifier: GPL-3.0-or-later
 * shaped-private.h - words drawn out to fill what lies between a top and a bottom line.
 */
#pragma once
#include "layout/words-private.h"

/* Between which lines: about the middle of a box, mm. */
typedef struct {
  HfWordsShape form;
  double wide, high; /* of the box that it fills */
  double depth;      /* of its curve; < 0: the other way about */
} HfShaping;

/* The two lines at one x, and how steep they are there. */
typedef struct {
  double bottom, top;
  double bottom_slope, top_slope;
} HfShapingAt;

/** hf_shaping_at: at @x, -wide / 2 .. wide / 2. docs/maths.md#shaped-words */
HfShapingAt hf_shaping_at(const HfShaping *shaping, double x);
/** hf_shaping_highest: mm between the two lines where they are farthest apart. */
double hf_shaping_highest(const HfShaping *shaping);

/** hf_thinnest_stroke: mm wide where @letter (mm) is thinnest, tips that run out apart; within 0.04
 *  mm. Infinity: it has no stroke. Cost some 10 us a chord of 0.02 mm. docs/maths.md#shaped-words
 */
double hf_thinnest_stroke(const HfOutline *letter, const HfCancel *cancel);

/** hf_words_shape_size: letter height and width such that the words, straight, are as wide as the
 *  shape and as high as it is at most. %FALSE with %HF_ERROR_NO_ROOM. */
gboolean hf_words_shape_size(HfWordsLaying *own, GError **error);
/** hf_lay_shaped: lays such words. */
gboolean hf_lay_shaped(HfWordsLaying *own, GError **error);
