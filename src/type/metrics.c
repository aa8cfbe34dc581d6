/* SPDX-License-Identifier: GPL-3.0-or-later
 * metrics.c - the lines that a face says its letters keep to.
 */
#include "type/type-private.h"

/* In ems; @otherwise where the font does not say, or says what can't be. */
static double
measure(const HfFace *face, hb_ot_metrics_tag_t tag, double otherwise)
{
  hb_position_t value = 0;
  if (!hb_ot_metrics_get_position(face->font, tag, &value))
    return otherwise;
  double ems = value / face->em;
  return fabs(ems) <= HF_GLYPH_MAX_EMS ? ems : otherwise;
}

HfFaceMetrics
hf_face_metrics(const HfFace *face)
{
  HfFaceMetrics m = {
      .ascent = measure(face, HB_OT_METRICS_TAG_HORIZONTAL_ASCENDER, 0.8),
      .descent = -measure(face, HB_OT_METRICS_TAG_HORIZONTAL_DESCENDER, -0.2),
      .x_height = measure(face, HB_OT_METRICS_TAG_X_HEIGHT, 0),
      .underline = measure(face, HB_OT_METRICS_TAG_UNDERLINE_OFFSET, -0.1),
      .underline_thick = measure(face, HB_OT_METRICS_TAG_UNDERLINE_SIZE, 0.05),
      .strike = measure(face, HB_OT_METRICS_TAG_STRIKEOUT_OFFSET, 0.25),
      .strike_thick = measure(face, HB_OT_METRICS_TAG_STRIKEOUT_SIZE, 0.05),
      .superscript = measure(face, HB_OT_METRICS_TAG_SUPERSCRIPT_EM_Y_OFFSET, 1 / 3.0),
      .subscript = measure(face, HB_OT_METRICS_TAG_SUBSCRIPT_EM_Y_OFFSET, 0.2),
  };
  if (m.x_height <= 0) /* as CSS Values 4, 6.1 takes it where a font does not say */
    m.x_height = 0.5;
  return m;
}
