/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_ties.c - what one tie holds alone: 25 mm of reach on sheet up to 2 mm, 40 mm above (handbook
 * 3.1, common practice, no source).
 */
#include "hold-fixture.h"

/* A window of 200 x 150 in a board, in it an island from x = -60 on, @length long and 20 high. */
static Sign *
window(double thickness, double length)
{
  Sign *sign = sign_new(thickness, 1.5);
  sign_add_box(sign, "board", -150, -100, 150, 100);
  sign_cut_box(sign, "window", -100, -75, 100, 75);
  sign_add_box(sign, "island", -60, -10, -60 + length, 10);
  return sign;
}

static void
add_tie(Sign *sign, const char *name, double x0, double y0, double x1, double y1)
{
  guint shape = sign_add_box(sign, name, x0, y0, x1, y1);
  ((HfEntry *)sign->recipe.entries->pdata[sign_shape(sign, shape)->entry])->kind = HF_ENTRY_TIE;
}

/* The tie is 6 high and bites 3 into the island: from its end at (-57, 3) to the island's far
 * corner at (length - 60, 10) it is sqrt((length - 3)^2 + 7^2). */
static void
test_reach(void)
{
  const struct {
    double thickness, length;
    gboolean found;
  } cases[] = {
      {3, 42, FALSE}, /* sqrt(39^2 + 49) = 39.62 */
      {3, 43, TRUE},  /* sqrt(40^2 + 49) = 40.61 */
      {2, 26, FALSE}, /* sqrt(23^2 + 49) = 24.04 */
      {2, 28, TRUE},  /* sqrt(25^2 + 49) = 25.96 */
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = window(cases[i].thickness, cases[i].length);
    add_tie(sign, "arm", -103, -3, -57, 3);
    const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_ONE_TIE);
    g_assert_cmpint(finding != NULL, ==, cases[i].found);
    if (finding == NULL)
      continue;
    g_assert_cmpint(finding->gravity, ==, HF_CAUTION);
    g_assert_cmpfloat_with_epsilon(finding->measured, hypot(cases[i].length - 3, 7), 1e-3);
  }
}

/* A second tie, or a bar that is no tie, holds it as well. */
static void
test_two(void)
{
  g_autoptr(Sign) sign = window(3, 120);
  add_tie(sign, "arm", -103, -3, -57, 3);
  add_tie(sign, "leg", -3, -78, 3, -7);
  g_assert_null(sign_find(sign_check(sign), HF_LAW_ONE_TIE));
  g_autoptr(Sign) barred = window(3, 120);
  add_tie(barred, "arm", -103, -3, -57, 3);
  sign_add_box(barred, "bar", -3, -78, 3, -7);
  g_assert_null(sign_find(sign_check(barred), HF_LAW_ONE_TIE));
}

/* A chain: the near tie holds both islands alone, the far one the second. */
static void
test_chain(void)
{
  g_autoptr(Sign) sign = window(3, 30);
  sign_add_box(sign, "second", 0, -10, 60, 10);
  add_tie(sign, "near", -103, -3, -57, 3);
  add_tie(sign, "far", -33, -3, 3, 3);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpuint(sign_count(hold, HF_LAW_ONE_TIE), ==, 2);
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = hold->findings->pdata[i];
    if (finding->kind != HF_LAW_ONE_TIE)
      continue;
    gboolean near = g_str_equal(finding->names->pdata[0], "plate \"near\"");
    g_assert_cmpfloat_with_epsilon(finding->measured, hypot(near ? 117 : 57, 7), 1e-3);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/ties/reach", test_reach);
  g_test_add_func("/ties/two", test_two);
  g_test_add_func("/ties/chain", test_chain);
  return g_test_run();
}
