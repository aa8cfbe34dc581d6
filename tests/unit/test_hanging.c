/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_hanging.c - how a sign hangs, against cases worked by hand: the arithmetic is beside each.
 * Statics of a rigid plate; limit of 1 degree: common practice, no source.
 */
#include "hold-fixture.h"

#define DEG (G_PI / 180)

/* A plate of 200 x 100 about the origin, mild steel 3 mm. */
static Sign *
plate(void)
{
  Sign *sign = sign_new(3, 1.5);
  sign->recipe.mount = HF_MOUNT_HOLES;
  sign_add_box(sign, "board", -100, -50, 100, 50);
  return sign;
}

/* A hole of 8 mm takes 50.265 of 20000 mm2 away, so the centre of mass moves off from it by
 * 50.265 / (20000 - 50.265) = 0.0025196 of its place: hole at (0, 40) -> centre at (0, -0.10078).
 * Straight under the hole: no turn. */
static void
test_one_hole_above(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "hook", 0, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpfloat_with_epsilon(hold->centroid.y, -0.10078, 1e-3);
  g_assert_cmpuint(hold->hanging.n, ==, 1);
  g_assert_cmpfloat_with_epsilon(hold->hanging.turn, 0, 1e-4);
  g_assert_cmpfloat(g_array_index(hold->hanging.shares, double, 0), ==, 1);
  g_assert_null(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
  g_assert_null(sign_find(hold, HF_LAW_NOTHING_TO_HANG_BY));
}

/* Hole at (10, 40): centre of mass at (-0.025196, -0.100784). It lies to the left of the hole by
 * 10.025196 and below by 40.100784; to come under the hole it swings to the right, which is
 * counter-clockwise, by atan(10.025196 / 40.100784) = atan(0.25) = 14.036 degrees. */
static void
test_one_hole_beside(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "hook", 10, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpfloat_with_epsilon(hold->hanging.turn, 14.036 * DEG, 1e-3 * DEG);
  const HfFinding *finding = sign_find(hold, HF_LAW_OUT_OF_LEVEL);
  g_assert_nonnull(finding);
  g_assert_cmpint(finding->gravity, ==, HF_CAUTION);
  g_assert_cmpstr(
      finding->text, ==,
      "hole \"hook\": hung by this one hole, the sign turns 14° counter-clockwise; place "
      "the hole above the centre of mass, or give it two");
  g_assert_true(hold->whole);
}

/* On either side of 1 degree. The turn is atan of the place across over the place above, since the
 * centre of mass lies on the line from the hole through the origin: tan 1 deg = 0.017455; at a
 * height of 40: 0.698. */
static void
test_one_degree(void)
{
  const struct {
    double x;
    gboolean found;
  } cases[] = {{0.69, FALSE}, {0.71, TRUE}, {-0.69, FALSE}, {-0.71, TRUE}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = plate();
    sign_add_hole(sign, "hook", cases[i].x, 40, 8);
    const HfHold *hold = sign_check(sign);
    g_assert_cmpint(sign_find(hold, HF_LAW_OUT_OF_LEVEL) != NULL, ==, cases[i].found);
    g_assert_cmpint(hold->hanging.turn > 0, ==, cases[i].x > 0);
  }
}

/* A hole below the centre of mass: the sign turns over, by 180 degrees. */
static void
test_hole_below(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "hook", 0, -40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpfloat_with_epsilon(fabs(hold->hanging.turn), G_PI, 1e-3);
  g_assert_nonnull(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
}

static void
test_hole_in_the_centre(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "hook", 0, 0, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_true(isnan(hold->hanging.turn));
  g_assert_nonnull(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
}

/* Holes at (-80, 40) and (40, 40), level. Each moves the centre of mass by 50.265 / 19899.469 =
 * 0.00252597 of its place: x = -(-80 + 40) x 0.00252597 = 0.101039. Lever rule over the 120 mm:
 * right (0.101039 + 80) / 120 = 0.667509, left 0.332491. */
static void
test_two_level(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "left", -80, 40, 8);
  sign_add_hole(sign, "right", 40, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpfloat_with_epsilon(hold->centroid.x, 0.101039, 3e-4);
  g_assert_cmpfloat_with_epsilon(hold->hanging.turn, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon(g_array_index(hold->hanging.shares, double, 0), 0.332491, 3e-6);
  g_assert_cmpfloat_with_epsilon(g_array_index(hold->hanging.shares, double, 1), 0.667509, 3e-6);
  g_assert_null(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
}

/* Right hole 4 mm higher over 160 mm: slope atan(4 / 160) = 1.43210 degrees; on two level hooks the
 * right side comes down: clockwise. */
static void
test_two_sloping(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "left", -80, 36, 8);
  sign_add_hole(sign, "right", 80, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpfloat_with_epsilon(hold->hanging.turn, -1.43210 * DEG, 1e-4 * DEG);
  const HfFinding *finding = sign_find(hold, HF_LAW_OUT_OF_LEVEL);
  g_assert_nonnull(finding);
  g_assert_cmpfloat_with_epsilon(finding->measured, 1.4321, 1e-4);
  g_assert_cmpuint(finding->names->len, ==, 2);
}

/* Of three the outer two carry, whatever the order in the recipe. */
static void
test_three(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "middle", 0, 30, 8);
  sign_add_hole(sign, "right", 80, 40, 8);
  sign_add_hole(sign, "left", -80, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpuint(hold->hanging.n, ==, 3);
  g_assert_cmpfloat(g_array_index(hold->hanging.shares, double, 0), ==, 0);
  g_assert_cmpfloat_with_epsilon(g_array_index(hold->hanging.shares, double, 1), 0.5, 1e-6);
  g_assert_cmpfloat_with_epsilon(g_array_index(hold->hanging.shares, double, 2), 0.5, 1e-6);
  g_assert_null(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
}

/* Four at the corners: the upper two carry, though a lower one lies a little farther out. */
static void
test_four(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "lower left", -81, -40, 8);
  sign_add_hole(sign, "lower right", 80, -40, 8);
  sign_add_hole(sign, "upper left", -80, 40, 8);
  sign_add_hole(sign, "upper right", 80, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_null(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
  g_assert_cmpfloat(g_array_index(hold->hanging.shares, double, 0), ==, 0);
  g_assert_cmpfloat_with_epsilon(g_array_index(hold->hanging.shares, double, 2), 0.5, 1e-3);
  g_assert_cmpfloat_with_epsilon(g_array_index(hold->hanging.shares, double, 3), 0.5, 1e-3);
}

/* One hole above the other is no slope of 90 degrees: the upper carries, the line is to be plumb.
 */
static void
test_one_above_other(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "lower", 0, -40, 8);
  sign_add_hole(sign, "upper", 0, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_null(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
  g_assert_cmpfloat(g_array_index(hold->hanging.shares, double, 0), ==, 0);
  g_assert_cmpfloat(g_array_index(hold->hanging.shares, double, 1), ==, 1);
}

/* Both holes to the right of the centre of mass: the lever rule gives a share below nothing. */
static void
test_mass_beyond_the_holes(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "left", 20, 40, 8);
  sign_add_hole(sign, "right", 80, 40, 8);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpfloat(g_array_index(hold->hanging.shares, double, 1), <, 0);
  g_assert_nonnull(sign_find(hold, HF_LAW_OUT_OF_LEVEL));
}

static void
test_nothing(void)
{
  g_autoptr(Sign) sign = plate();
  const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_NOTHING_TO_HANG_BY);
  g_assert_nonnull(finding);
  g_assert_cmpint(finding->gravity, ==, HF_CAUTION);
  sign->recipe.mount = HF_MOUNT_WELDED;
  g_assert_null(sign_find(sign_check(sign), HF_LAW_NOTHING_TO_HANG_BY));
}

/* t 3, k 1.5: stop max(3, 2.25, 2) = 3; caution max(4.5, 3, 3.75) = 4.5 (handbook 3.1, common
 * practice, no source). A hole of 8 mm whose centre is D under the upper edge leaves D - 4. */
static void
test_hole_near_edge(void)
{
  const struct {
    double metal;
    int gravity; /* -1: nothing to say */
  } cases[] = {{2.9, HF_STOP}, {3.1, HF_CAUTION}, {4.4, HF_CAUTION}, {4.6, -1}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = plate();
    sign_add_hole(sign, "hook", 0, 50 - 4 - cases[i].metal, 8);
    const HfHold *hold = sign_check(sign);
    const HfFinding *finding = sign_find(hold, HF_LAW_HOLE_NEAR_EDGE);
    if (cases[i].gravity < 0) {
      g_assert_null(finding);
      continue;
    }
    g_assert_nonnull(finding);
    g_assert_cmpint(finding->gravity, ==, cases[i].gravity);
    g_assert_cmpfloat_with_epsilon(finding->measured, cases[i].metal, 0.01);
  }
}

static void
test_hole_breaks_out(void)
{
  g_autoptr(Sign) sign = plate();
  sign_add_hole(sign, "hook", 0, 48, 8);
  const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_HOLE_NEAR_EDGE);
  g_assert_nonnull(finding);
  g_assert_cmpint(finding->gravity, ==, HF_STOP);
  g_autoptr(Sign) air = plate();
  sign_add_hole(air, "hook", 0, 80, 8);
  finding = sign_find(sign_check(air), HF_LAW_HOLE_NEAR_EDGE);
  g_assert_nonnull(finding);
  g_assert_cmpint(finding->gravity, ==, HF_STOP);
  g_assert_nonnull(strstr(finding->text, "not in the metal"));
}

/* A board on one foot of 20 mm: the board's centre of mass is at x = 0, the foot's metal (20 x 30 =
 * 600 of 20600 mm2) draws it by 600 / 20600 = 0.029126 of the foot's place. With the foot's middle
 * at x the centre is at 0.029126 x; it stands while |x - 0.029126 x| <= 10: x <= 10.300. */
static void
test_one_foot(void)
{
  const struct {
    double x;
    gboolean found;
  } cases[] = {{10.25, FALSE}, {10.35, TRUE}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = plate();
    sign->recipe.mount = HF_MOUNT_STAKE;
    guint foot = sign_add_box(sign, "post", cases[i].x - 10, -80, cases[i].x + 10, -49.999);
    HfHang hang = {HF_HANG_FOOT, hf_point(cases[i].x, -80), 0, foot};
    g_array_append_val(sign->layout.hangs, hang);
    g_assert_cmpint(sign_find(sign_check(sign), HF_LAW_FEET) != NULL, ==, cases[i].found);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/hanging/one-hole-above", test_one_hole_above);
  g_test_add_func("/hanging/one-hole-beside", test_one_hole_beside);
  g_test_add_func("/hanging/one-degree", test_one_degree);
  g_test_add_func("/hanging/hole-below", test_hole_below);
  g_test_add_func("/hanging/hole-in-the-centre", test_hole_in_the_centre);
  g_test_add_func("/hanging/two-level", test_two_level);
  g_test_add_func("/hanging/two-sloping", test_two_sloping);
  g_test_add_func("/hanging/three", test_three);
  g_test_add_func("/hanging/four", test_four);
  g_test_add_func("/hanging/one-above-other", test_one_above_other);
  g_test_add_func("/hanging/mass-beyond-the-holes", test_mass_beyond_the_holes);
  g_test_add_func("/hanging/nothing", test_nothing);
  g_test_add_func("/hanging/hole-near-edge", test_hole_near_edge);
  g_test_add_func("/hanging/hole-breaks-out", test_hole_breaks_out);
  g_test_add_func("/hanging/one-foot", test_one_foot);
  return g_test_run();
}
