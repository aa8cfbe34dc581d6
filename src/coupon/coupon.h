/* SPDX-License-Identifier: GPL-3.0-or-later
 * coupon.h - a test piece for one sheet and one cut, and what was learned from it (the door of
 * coupon/).
 *
 *      A |2.4||  |2.1||  |1.8||      combs of webs, slots, holes and openings, each place with its
 *      B  oo 2   oo 1.6  oo 1.3      figure cut through beside it; a window to measure the kerf by
 *              |
 *      recipe as text ──> cut, and looked at ──> results as text ──> a row of the shop's chart
 *
 * Lengths mm. Figures are round in the thread's unit (base/units.h).
 */
#pragma once
#include "hold/law.h"

/* What is tried, row after row. Only those with a law are learned; the others are for the eye. */
typedef enum {
  HF_COMB_SLOTS,      /* open at the edge */
  HF_COMB_LONG_WEBS,  /* between two slots */
  HF_COMB_SHORT_WEBS, /* between two holes */
  HF_COMB_HOLES,
  HF_COMB_OPENINGS, /* square */
  HF_COMB_LETTERS,
  HF_COMB_POINTS, /* in degrees */
  HF_N_COMBS
} HfCombKind;

enum { HF_COMB_MOST = 6 };
#define HF_COUPON_LETTERS_MM 6.0 /* no letters on thicker sheet: they would be most of it */

typedef struct {
  guint n;
  double figure[HF_COMB_MOST]; /* as it is marked, mm (points: degrees); the largest first */
  HfPoint at[HF_COMB_MOST];    /* middle of what is tried, from the plate's centre */
} HfComb;

typedef struct {
  char *metal; /* key of stock/ */
  double thickness, kerf, crater;
  HfComb combs[HF_N_COMBS];
  double window;        /* side of the square that the kerf is measured by */
  HfPoint window_at;    /* its middle */
  double width, height; /* of the plate */
  double mark;          /* height of the marks */
} HfCoupon;

/** hf_coupon_new: (transfer full) for a sheet and a cut. Cost O(1). */
HfCoupon *hf_coupon_new(const HfProcess *process);
/** hf_coupon_free: %NULL: nothing. */
void hf_coupon_free(HfCoupon *coupon);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCoupon, hf_coupon_free)

/** hf_comb_letter: 'A' for the first row. hf_comb_key: "long webs", as results call it;
 * hf_comb_says: how to judge it, a sentence without its end. */
char hf_comb_letter(HfCombKind kind);
const char *hf_comb_key(HfCombKind kind);
const char *hf_comb_says(HfCombKind kind);

/** hf_coupon_figure: (transfer full) as it is marked: "2.4"; in inches ".094"; degrees "30".
 *  hf_coupon_length: (transfer full) as recipes and results say it: "2.4 mm", "0.0945 in". */
char *hf_coupon_figure(HfCombKind kind, double figure);
char *hf_coupon_length(double mm);
/** hf_comb_reach: half the diagonal of place @i of a row: what is tried lies within it of its
 *  middle, mm. */
double hf_comb_reach(const HfCoupon *coupon, HfCombKind kind, guint i);

/** hf_coupon_recipe: (transfer full) the recipe, with remarks; its limits are a third of the usual
 *  ones, so that what may fail is cut. @font: (nullable) a stencil family for the row of letters;
 *  %NULL: without it; @style: (nullable) of it. */
char *hf_coupon_recipe(const HfCoupon *coupon, const char *font, const char *style);
/** hf_coupon_of_recipe: (transfer full) (nullable) the coupon that @text, as hf_coupon_recipe()
 *  wrote it, is of, in the unit of that recipe; %NULL: it is none, or was changed so that its
 * places may lie elsewhere. */
HfCoupon *hf_coupon_of_recipe(const char *text, gsize length);
/** hf_coupon_results: (transfer full) the file to fill in, with remarks. */
char *hf_coupon_results(const HfCoupon *coupon);

/* What came out of one. */
typedef struct {
  int format;
  char *metal;
  double thickness, kerf; /* it was cut with */
  char *date;
  double window;            /* as measured; NAN: not */
  double window_drawn;      /* as drawn; NAN: not */
  double least[HF_N_COMBS]; /* the smallest figure that came out well; NAN: not judged */
  char *row;  /* (nullable) of the chart: which one, where several are for the sheet */
  char *file; /* (nullable) */
} HfCouponResults;

/** hf_coupon_results_read: (transfer full) the file, filled in; %NULL with every mistake and its
 *  place, as hf_recipe_read() gives them. */
HfCouponResults *hf_coupon_results_read(const char *text, gsize length, const char *file,
                                        GError **error);
/** hf_coupon_results_free: %NULL: nothing. */
void hf_coupon_results_free(HfCouponResults *results);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCouponResults, hf_coupon_results_free)

/** hf_coupon_kerf: the true kerf: what the window came out wider than it was drawn was cut too
 *  much, half on each side: kerf + (measured - drawn). As cut with, where it was not measured. */
double hf_coupon_kerf(const HfCouponResults *results);

/**
 * hf_coupon_learn:
 * @shop: the text of the shop file, "" for a new one; @shop_file: (nullable) name in messages
 * @told: (out) (transfer full) lines that say what changes
 * Writes kerf, limits and date into the row of the chart for that sheet, or adds one; all else of
 * the text stays as it is.
 * Returns: (transfer full) the new text, which reads as a shop file; or %NULL with
 *   %HF_ERROR_BAD_VALUE (nothing was learned, several rows, a `kerf` for everything, a kerf that
 *   can't be) or the mistakes of the shop file.
 */
char *hf_coupon_learn(const HfCouponResults *results, const char *shop, const char *shop_file,
                      char **told, GError **error);
