/* SPDX-License-Identifier: GPL-3.0-or-later
 * times.h - how long a plan takes on a table.
 *
 *   speed |   ____      one cut is driven from rest to rest; in each stretch it speeds up, goes at
 *         |  /    \__   the feed and slows down to what the next corner allows
 *         |_/________\_ time            docs/maths.md#times
 */
#pragma once
#include "cut/plan.h"
#include "shop/chart.h"

typedef struct {
  double length;   /* mm */
  HfRange seconds; /* of its motion, ways in and out counted */
} HfCutTime;

typedef struct {
  GArray *cuts;    /* HfCutTime, in the plan's order */
  HfRange moving;  /* s, torch on */
  HfRange waiting; /* s, for the pierces */
  double finding;  /* s, of the sheet's height before each pierce */
  double travel;   /* s, torch off */
  HfRange total;   /* s; low == high with the shop's own chart row */
} HfPlanTimes;

/** hf_plan_times: (transfer full). @slow: share of the feed in small holes. Cost O(stretches). */
HfPlanTimes *hf_plan_times(const HfPlan *plan, const HfShop *shop, const HfCutRow *row,
                           double slow);
/** hf_plan_times_free: with all that it owns; %NULL: nothing. */
void hf_plan_times_free(HfPlanTimes *times);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPlanTimes, hf_plan_times_free)

/** hf_motion_seconds: s, from rest to rest, over @n stretches (nullable when 0) at @feed mm/s, in
 *  slow ones @slow times that, with @acceleration mm/s2. */
double hf_motion_seconds(const HfCutStretch *stretches, guint n, double feed, double slow,
                         double acceleration);

/** hf_plan_table_of: the table of @shop as the plan needs it. */
HfPlanTable hf_plan_table_of(const HfShop *shop);
