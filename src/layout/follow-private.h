/* SPDX-License-Identifier: GPL-3.0-or-later
 * follow-private.h - words along a line: letters on a course, and who builds it.
 */
#pragma once
#include "layout/course-private.h"
#include "layout/words-private.h"

/** hf_words_follow: does the recipe say a line that words follow (an arc of a given radius and a
 *  band are not meant)? */
gboolean hf_words_follow(const HfWordsEntry *words);
/** hf_lay_following: lays such words. %FALSE with %HF_ERROR_NO_ROOM (it says what would fit) or
 *  %HF_ERROR_BAD_VALUE. docs/maths.md#words-along-a-line */
gboolean hf_lay_following(HfWordsLaying *own, GError **error);

/** hf_place_along: (transfer full) the letters of the first line, its start @start mm along
 *  @course: each with the middle of its advance there, square to the line (SVG 2, text on a path);
 *  bent: the letter follows the line. Box exact. */
HfPlaced *hf_place_along(const HfWording *wording, const HfSetting *setting, const HfCourse *course,
                         double start);

/** hf_arch_half_angle: half the angle in rad of an arc of @length that rises by @rise > 0 over its
 *  chord; NAN: no arc of that length rises so far. */
double hf_arch_half_angle(double length, double rise);
