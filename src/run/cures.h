/* SPDX-License-Identifier: GPL-3.0-or-later
 * cures.h - the search for cures (cure/) over the stages of run/.
 */
#pragma once
#include "cure/cure.h"
#include "run/run.h"

/** hf_run_cures: (transfer full) (element-type HfCured) hf_cures_find() of @sign, which was made
 * from
 *  @text. */
GPtrArray *hf_run_cures(const HfSign *sign, const char *text, gsize length,
                        const HfCuresOptions *options, GError **error);
/** hf_run_cures_best: hf_cures_best() */
const HfCured *hf_run_cures_best(const GPtrArray *cures);
/** hf_run_cures_why: (transfer full) why none of @cures makes @sign whole, which is not, and what
 * would have to give: lines of plain words. */
char *hf_run_cures_why(const HfSign *sign, const GPtrArray *cures);
/** hf_spread_of: mm from layer to layer where they are drawn below each other. */
static inline double
hf_spread_of(const HfSign *sign)
{
  return ceil(1.1 * hf_box_height(sign->hold->box)) + 10;
}
/** hf_cured_picture: (transfer full) an SVG of two panels, before and after, both
 *  cropped to what changes; metal that comes and metal that goes are hatched. No text in it.
 *  @pixels: its width. */
GBytes *hf_cured_picture(const HfSign *before, const HfCured *cured, guint pixels);
