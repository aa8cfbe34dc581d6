/* SPDX-License-Identifier: GPL-3.0-or-later
 * plan.h - what is cut, in which order, from where (the door of cut/).
 *
 *   paths of signs, where they lie ──> one start each, an order ──> cuts, stretch after stretch
 *
 * In the frame of the sheet: mm, x to the right, y up, 0 0 its lower left corner, which is the zero
 * of the program.
 */
#pragma once
#include "lead/lead.h"

/* What becomes of what a cut lets loose. */
typedef enum {
  HF_DROP_PART,  /* it is the sign, or a part of it */
  HF_DROP_FALLS, /* between two slats, wherever they are */
  HF_DROP_LIES,  /* on two slats at least, its middle between them, wherever they are */
  HF_DROP_TIPS,  /* at the worst place of the slats it can stand up into the torch's way */
} HfDrop;

/* Torch on to torch off. */
typedef struct {
  guint sign;     /* which of the plan's placements */
  guint path;     /* of its paths */
  guint start;    /* of their starts */
  guint first, n; /* of HfPlan.stretches */
  HfPoint pierce, end;
  HfDrop drop;
  char *name; /* what is cut, for comments and sentences; visible text, any language */
} HfCut;

/* The table, as far as the order hangs on it. */
typedef struct {
  double travel_speed;  /* mm/s, > 0 */
  double acceleration;  /* mm/s2, > 0 */
  double slat_pitch;    /* mm; 0: no slats, nothing falls or tips */
  double slat_width;    /* mm, of a slat's edge; 0: a blade */
  double slat_angle;    /* rad, which way they run; 0: along x */
  double width, height; /* mm, where the torch may go; 0: anywhere */
} HfPlanTable;

typedef struct {
  const HfPaths *paths; /* (borrowed) */
  HfPoint at;           /* what is added to its coordinates; not turned */
} HfPlaced;

typedef struct {
  double kerf;
  GArray *cuts;      /* HfCut, in their order */
  GArray *stretches; /* HfStretch, cut after cut, in the sheet's frame */
  HfBox box;         /* all that is burnt, half the kerf added */
  double length;     /* mm of cutting, ways in and out counted */
  double travel;     /* mm, torch off, from 0 0 and back to it */
  double bound;      /* mm: no order and no starts travel less (proved) */
} HfPlan;

/**
 * hf_plan_new: chooses starts and order.
 * @placed: @n signs on one sheet, in a common frame; none may overlap another
 * @work: see hf_tour_find()
 * Returns: (transfer full), or %NULL: %HF_ERROR_BAD_VALUE a path that has no start,
 *   %HF_ERROR_TOO_BIG, %HF_ERROR_CANCELLED.
 */
HfPlan *hf_plan_new(const HfPlaced *placed, guint n, const HfPlanTable *table, guint64 work,
                    const HfCancel *cancel, GError **error);
/** hf_plan_free: with all that it owns; %NULL: nothing. */
void hf_plan_free(HfPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPlan, hf_plan_free)
