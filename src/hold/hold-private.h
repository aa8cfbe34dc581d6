/* SPDX-License-Identifier: GPL-3.0-or-later
 * hold-private.h - what the checks of hold/ share: one check a file, all with one signature.
 */
#pragma once
#include "geom/index.h"
#include "hold/hold.h"

/* What every check gets. `hold` is filled as they run, in the order of the table in hold.c. */
typedef struct {
  const HfRecipe *recipe;
  const HfShop *shop;
  const HfLayout *layout;
  const HfMetal *metal;
  const HfCancel *cancel;
  HfHold *hold;   /* process and limits are set before the first check */
  HfIndex *index; /* over metal->region, cell about the widest limit */
} HfCheck;

/* %FALSE only when stopped (error set by hf_cancel_check). */
typedef gboolean (*HfCheckFunc)(HfCheck *check, GError **error);

gboolean hf_check_webs(HfCheck *check, GError **error);     /* webs.c: zones of the axis */
gboolean hf_check_parts(HfCheck *check, GError **error);    /* parts.c: needs the webs */
gboolean hf_check_openings(HfCheck *check, GError **error); /* openings.c: pierce, round holes */
gboolean hf_check_gaps(HfCheck *check, GError **error);     /* gaps.c: narrow gaps, lost detail */
gboolean hf_check_points(HfCheck *check, GError **error);   /* points.c: outer points that hurt */
gboolean hf_check_strips(HfCheck *check, GError **error);   /* strips.c: bowing from heat */
gboolean hf_check_letters(HfCheck *check, GError **error);  /* letters.c: distance, house number */
gboolean hf_check_size(HfCheck *check, GError **error);     /* size.c: table and sheet */
gboolean hf_check_hanging(HfCheck *check, GError **error);  /* hanging.c */

/**
 * hf_check_add:
 * @measured: in the law's unit; NAN for laws without a quantity
 * Weighs @measured against the limit of @kind. Returns: (transfer none) a new finding to be filled
 *   in further, or %NULL when it is within the limit.
 */
HfFinding *hf_check_add(HfCheck *check, HfLawKind kind, double measured, HfPoint at);

/** hf_finding_name: adds the label of @shape unless it is there already or there are eight. */
void hf_finding_name(HfCheck *check, HfFinding *finding, guint shape);

/** hf_check_shape_at: the shape that made the boundary edge @id; %HF_NO_SHAPE when unknown. */
guint hf_check_shape_at(const HfCheck *check, HfEdgeId id);
