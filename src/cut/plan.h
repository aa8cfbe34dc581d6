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

/* The table, as far as the order hangs on it. */
typedef struct {
  double travel_speed;  /* mm/s, > 0 */
  double acceleration;  /* mm/s2, > 0 */
  double slat_pitch;    /* mm; 0: no slats, nothing falls or tips */
  double slat_angle;    /* rad, which way they run; 0: along x */
  double width, height; /* mm, where the torch may go; 0: anywhere */
} HfPlanTable;

/* What becomes of what a cut lets loose, wherever the slats are. */
typedef enum {
  HF_DROP_FALLS, /* narrower across the slats than they are apart: it slides off between them */
  HF_DROP_LIES,  /* on slats to both sides of its middle */
  HF_DROP_TIPS,  /* at some place of the slats it can stand up into the torch's way */
} HfDrop;

/* Torch on to torch off. */
typedef struct {
  guint sign;             /* which of the plan's placements */
  guint path;             /* of its paths */
  guint start;            /* of their starts */
  guint first, n;         /* of HfPlan.stretches */
  guint first_via, n_via; /* of HfPlan.vias: where the torch goes on its way to the pierce, torch
                             off: round what may have tipped up */
  HfPoint pierce, end;
  gboolean is_part; /* the sign or a part of it comes loose, else a drop */
  HfDrop drop;      /* how that lies */
  char *name;       /* what is cut, for comments and sentences; visible text, any language */
} HfCut;

/* Two paths of one sign: the one is cut before the other. */
typedef struct {
  guint first, then; /* of HfPaths.paths */
} HfPlanBefore;

typedef struct {
  const HfPaths *paths;       /* (borrowed) */
  HfPoint at;                 /* what is added to its coordinates; not turned */
  const HfPlanBefore *before; /* (nullable) (borrowed) an order that is wished for, besides: what
                                 lies in another one always comes before it */
  guint n_before;
} HfPlaced;

typedef struct {
  double kerf;
  GArray *cuts;      /* HfCut, in their order */
  GArray *stretches; /* HfCutStretch, cut after cut, in the sheet's frame */
  GArray *vias;      /* HfPoint */
  HfBox box;         /* all that is burnt, half the kerf added */
  double length;     /* mm of cutting, ways in and out counted */
  double travel;     /* mm, torch off, from 0 0 to the first pierce, ..., back to 0 0 */
  guint n_home;      /* the last of `vias`: those on the way back to 0 0 */
  guint wished;      /* HfPlanBefore of all signs: how much of the order was asked for */
  guint over;        /* travels for which there was no way round what may have tipped */
} HfPlan;

/**
 * hf_plan_new: chooses starts and order.
 * @placed: @n signs on one sheet, in a common frame; none may overlap another
 * @thickness: mm; the thinner, the more it costs to cut neighbours one after the other
 * (docs/maths.md#order)
 * @work: see hf_tour_find(); 0: as much as a sign of this size is worth
 * Returns: (transfer full), without a cut where there are no paths; %NULL: %HF_ERROR_BAD_VALUE a
 * path that has no start, or an order that can't be kept, %HF_ERROR_TOO_BIG, %HF_ERROR_CANCELLED.
 */
HfPlan *hf_plan_new(const HfPlaced *placed, guint n, const HfPlanTable *table, double thickness,
                    guint64 work, const HfCancel *cancel, GError **error);
/** hf_plan_free: with all that it owns; %NULL: nothing. */
void hf_plan_free(HfPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPlan, hf_plan_free)

static inline const HfCut *
hf_plan_cut(const HfPlan *plan, guint i)
{
  return &g_array_index(plan->cuts, HfCut, i);
}
static inline const HfCutStretch *
hf_plan_stretch(const HfPlan *plan, guint i)
{
  return &g_array_index(plan->stretches, HfCutStretch, i);
}

/** hf_plan_warmth: how much of the heat of the cut before is where cut @i is: 1 beside it, 0 when
 * 10 mm or more lie between their boxes, or it is the first (docs/maths.md#order). O(stretches of
 * the two). */
double hf_plan_warmth(const HfPlan *plan, guint i);

/** hf_plan_travel_seconds: @length mm from rest to rest: a triangle of speed, or a trapezoid where
 *  it is long enough to reach the table's. */
double hf_plan_travel_seconds(const HfPlanTable *table, double length);

/**
 * hf_drop_judge:
 * @drop: clean, one outer ring with openings; empty: it falls
 * Where it lies is as its middle of mass has it against the slats under it, of all places of the
 * slats (docs/maths.md#drops). Slats are blades. Cost O(n log n) for each of some hundred places.
 */
HfDrop hf_drop_judge(const HfRegion *drop, const HfPlanTable *table);
