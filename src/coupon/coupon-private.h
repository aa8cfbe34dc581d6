/* SPDX-License-Identifier: GPL-3.0-or-later
 * coupon-private.h - what the files of the coupon share.
 *
 *   combs.c   figures and places    coupon-recipe.c  the recipe    results.c  what came out
 *   learn.c   into the shop file      marks-cut.c      figures of slots
 *   known-again.c   from its recipe's text
 */
#pragma once
#include "base/units.h"
#include "coupon/coupon.h"
#include <math.h>

/* A coupon's recipe begins so. */
#define HF_COUPON_HEAD "# A coupon: cut it, look at each place"

/* Slots that figures are made of, mm. */
typedef struct {
  double slot; /* each is so wide */
  double web;  /* stays where one ends short */
  double cell; /* from node to node */
  double gap;  /* of metal from one figure to the next */
} HfMarkSize;

/* Middles (HfPoint) of slots: those that lie and stand, from node to node and half their width
 * over; that lie and end short; points. */
typedef struct {
  GArray *level, *upright, *shorter, *points;
} HfMarks;

/** hf_mark_size: for a sheet and a cut. hf_mark_width, hf_mark_height: of @mark, slots and all. */
HfMarkSize hf_mark_size(const HfProcess *process);
double hf_mark_width(const HfMarkSize *size, const char *mark);
double hf_mark_height(const HfMarkSize *size);
/** hf_mark_add: adds to @marks the slots of @mark, figures, A to G and a point, about @middle. */
void hf_mark_add(const HfMarkSize *size, const char *mark, HfPoint middle, const HfMarks *marks);

/** hf_coupon_process: what it is cut with. */
HfProcess hf_coupon_process(const HfCoupon *coupon);

/* mm: of the slots beside a long web: no test of theirs, so a little wider than the caution. */
static inline double
hf_coupon_slot(const HfCoupon *coupon)
{
  return 1.6 * fmax(coupon->thickness, coupon->kerf);
}

/* mm: of the holes beside a short web. */
static inline double
hf_coupon_bore(const HfCoupon *coupon)
{
  return 1.05 * fmax(fmax(2 * coupon->thickness, 4 * coupon->kerf), 6);
}

/* mm: a long web is this long: 30 mm, and 8 times the widest. */
static inline double
hf_coupon_web_length(const HfCoupon *coupon)
{
  return fmax(30, 8 * coupon->combs[HF_COMB_LONG_WEBS].figure[0]);
}

/* mm: of metal between what is tried and anything else: no test of its own. */
static inline double
hf_coupon_margin(const HfCoupon *coupon)
{
  return 2.2 * fmax(fmax(1.2 * coupon->thickness, 2 * coupon->kerf), 3);
}

/** hf_comb_law: which it tries, and how much of its limit a marked mm is; %HF_N_LAWS: none. */
HfLawKind hf_comb_law(HfCombKind kind, double *ret_share);
