/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_coupon.c - figures of a coupon, and the kerf that its window shows.
 */
#include "coupon/coupon.h"
#include <math.h>

static void
test_figures(void)
{
  HfProcess process = {.thickness = 3, .kerf = 1.4, .crater = 1.4, .metal = "mild steel"};
  g_autoptr(HfCoupon) coupon = hf_coupon_new(&process);
  double usual = hf_law_usual(HF_LAW_THIN_LONG_WEB, &process).stop;
  const HfComb *webs = &coupon->combs[HF_COMB_LONG_WEBS];
  g_assert_cmpuint(webs->n, ==, HF_COMB_MOST);
  g_assert_cmpfloat(webs->figure[0], >, usual);
  g_assert_cmpfloat(webs->figure[webs->n - 1], <, usual / 2);
  g_assert_cmpfloat(webs->figure[webs->n - 1], >, usual / 3); /* less would be a lax limit */
  for (guint kind = 0; kind < HF_N_COMBS; kind++)
    for (guint i = 1; i < coupon->combs[kind].n; i++) {
      g_assert_cmpfloat(coupon->combs[kind].figure[i], <, coupon->combs[kind].figure[i - 1]);
      g_assert_cmpfloat(coupon->combs[kind].at[i].x, >, coupon->combs[kind].at[i - 1].x);
    }
}

/* No letters on thick sheet: they would be most of the plate. */
static void
test_thick(void)
{
  HfProcess process = {.thickness = 20, .kerf = 3, .crater = 3, .metal = "mild steel"};
  g_autoptr(HfCoupon) coupon = hf_coupon_new(&process);
  g_assert_cmpuint(coupon->combs[HF_COMB_LETTERS].n, ==, 0);
}

/* By hand: 40.12 for 40 was cut with 0.12 more than was said. */
static void
test_kerf(void)
{
  HfCouponResults results = {.kerf = 1.4, .window = 40.12, .window_drawn = 40};
  g_assert_cmpfloat_with_epsilon(hf_coupon_kerf(&results), 1.52, 1e-9);
  results.window = NAN;
  g_assert_cmpfloat(hf_coupon_kerf(&results), ==, 1.4);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/coupon/figures", test_figures);
  g_test_add_func("/coupon/thick", test_thick);
  g_test_add_func("/coupon/kerf", test_kerf);
  return g_test_run();
}
