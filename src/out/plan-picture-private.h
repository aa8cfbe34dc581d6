/* SPDX-License-Identifier: GPL-3.0-or-later
 * plan-picture-private.h - what pictures of a plan share: a sheet in mm, zero of the program at the
 * lower left, metal pale, and a legend below.
 */
#pragma once
#include "out/format.h"
#include "out/path-private.h"

enum { HF_PLAN_DECIMALS = 4 };

typedef struct {
  GString *text;
  const HfCutting *cutting;
  double width, height; /* mm, of the sheet's part that is shown */
  double large;         /* mm, of a number */
  guint told;           /* places of the legend that are filled */
} HfPlanDrawing;

/** hf_plan_drawing: begins a picture; @what: what it shows, for its title; @extra: (nullable) as it
 *  stands, behind the title: styles. */
HfPlanDrawing hf_plan_drawing(const HfCutting *cutting, const char *what, const char *extra);
/** hf_plan_drawing_end: (transfer full) the picture. */
GBytes *hf_plan_drawing_end(HfPlanDrawing *d);

/** hf_plan_put: an attribute: ` NAME="VALUE"`. */
void hf_plan_put(HfPlanDrawing *d, const char *name, double value);
/** hf_plan_put_metal: what is cut out, where it lies on the sheet. */
void hf_plan_put_metal(HfPlanDrawing *d, const HfOutline *outline);
/** hf_plan_put_stretches: path data of a cut: of its way in, or of all else. */
void hf_plan_put_stretches(HfPlanDrawing *d, const HfCut *cut, gboolean in);
/** hf_plan_put_layer: the same of all cuts, as one path. */
void hf_plan_put_layer(HfPlanDrawing *d, const char *id, const char *colour, double width,
                       gboolean in);
/** hf_plan_put_title: `<title>3: inside letter 'A' ...@more</title>` */
void hf_plan_put_title(HfPlanDrawing *d, const HfCut *cut, guint number, const char *more);
/** hf_plan_tell: one place of the legend: a sign, as it stands, about 0 0 and as high as a number,
 *  and what it means. */
void hf_plan_tell(HfPlanDrawing *d, const char *sign, const char *means);
