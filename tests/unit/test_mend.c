/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_cure_mend.c - mending by closed forms: what a plate looks like after it.
 *
 * t = 3, kerf 1.5: webs 3 mm, long webs 3.6 mm, openings 2 mm of radius, gaps 1.5 mm, points 60
 * deg. Widths are measured on the finished metal by the full axis.
 */
#include "geom/axis.h"
#include "hold-fixture.h"
#include "mend/mend-private.h"

static guint
add_rule(Sign *sign, HfMendEntry wish)
{
  HfEntry *entry = g_new0(HfEntry, 1);
  entry->kind = HF_ENTRY_MEND;
  entry->name = g_strdup("mend");
  entry->mend = wish;
  g_ptr_array_add(sign->recipe.entries, entry);
  return sign->recipe.entries->len - 1;
}

/* Mends and checks again; gives how many shapes were added. */
static guint
mend(Sign *sign, HfMendEntry wish)
{
  g_autoptr(GError) error = NULL;
  guint rule = add_rule(sign, wish);
  sign_check(sign);
  HfSign given = sign_whole(sign);
  g_autoptr(HfSign) mended = hf_mend(&given, rule, HF_SIGN_CHECKED, NULL, &error);
  g_assert_no_error(error);
  const GPtrArray *shapes = hf_sign_work(mended, 0)->shapes;
  guint added = shapes->len;
  for (guint i = 0; i < added; i++)
    g_ptr_array_add(sign->layout.shapes, hf_shape_ref(shapes->pdata[i]));
  sign_check(sign);
  return added;
}

/* Twice the least radius of the axis within @reach of @at. */
static double
width_near(const Sign *sign, HfPoint at, double reach)
{
  g_autoptr(HfAxis) axis = hf_axis_new(sign->metal->region, NULL, NULL);
  double least = INFINITY;
  for (guint e = 0; e < axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, e);
    for (guint i = 0; i + 1 < edge->n; i++) {
      const HfAxisPoint *p = &g_array_index(axis->points, HfAxisPoint, edge->first + i);
      for (double t = 0; t <= 1; t += 0.05)
        if (hf_point_distance(hf_point_mix(p[0].at, p[1].at, t), at) <= reach)
          least = fmin(least, 2 * (p[0].radius + (p[1].radius - p[0].radius) * t));
    }
  }
  return least;
}

static const HfMendEntry FILL = {.fill = TRUE, .round = NAN};
static const HfMendEntry THICKEN = {.thicken = TRUE, .round = NAN};

static void
test_slot_is_filled(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 100, 60);
  sign_cut_box(sign, "slot", 40, 30, 60, 31);
  sign_check(sign);
  g_assert_false(sign->hold->whole);
  g_assert_cmpuint(mend(sign, FILL), ==, 1);
  g_assert_true(sign->hold->whole);
  g_assert_cmpfloat_with_epsilon(hf_region_area(sign->metal->region), 6000, 1e-6);
  g_assert_cmpstr(sign_shape(sign, 2)->label, ==, "the filled opening of plate \"slot\"");
}

/* A gap that is narrow only between two rooms is closed there and leaves two openings. */
static void
test_gap_is_filled(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 100, 60);
  sign_cut_box(sign, "left", 20, 20, 40, 40);
  sign_cut_box(sign, "right", 60, 20, 80, 40);
  sign_cut_box(sign, "slot", 39, 29.5, 61, 30.5);
  g_assert_nonnull(sign_find(sign_check(sign), HF_LAW_NARROW_GAP));
  mend(sign, FILL);
  g_assert_true(sign->hold->whole);
  g_assert_cmpuint(sign->metal->region->rings->len, ==, 3);
  /* closed up to where the way out is 1.2 gaps wide: a corner of 90 degrees beside a flat side */
  g_assert_cmpfloat_with_epsilon(hf_region_area(sign->metal->region), 6000 - 800, 1.5);
}

static void
test_web_is_thickened(void)
{
  for (int upright = 0; upright < 2; upright++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    sign_add_box(sign, "board", -50, -50, 50, 50);
    if (upright)
      sign_cut_box(sign, "a", -20.5, -8, -0.5, 8), sign_cut_box(sign, "b", 0.5, -8, 20.5, 8);
    else
      sign_cut_box(sign, "a", -8, -20.5, 8, -0.5), sign_cut_box(sign, "b", -8, 0.5, 8, 20.5);
    sign_check(sign);
    g_assert_cmpfloat_with_epsilon(width_near(sign, hf_point(0, 0), 5), 1, 1e-3);
    mend(sign, THICKEN);
    g_assert_true(sign->hold->whole);
    double limit = sign->hold->limits[HF_LAW_THIN_LONG_WEB].stop;
    g_assert_cmpfloat(width_near(sign, hf_point(0, 0), 8), >=, 1.25 * limit - 0.05);
    g_assert_cmpfloat_with_epsilon(width_near(sign, hf_point(0, 0), 5), 1.25 * limit, 0.05);
    g_assert_cmpuint(sign_count(sign->hold, HF_LAW_THIN_LONG_WEB), ==, 0);
  }
}

/* Two plates that touch at a corner of the one: a joint of no width. */
static void
test_joint_is_thickened(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  const HfPoint arrow[] = {{0, -0.5}, {20, 19.5}, {-20, 19.5}};
  sign_add_box(sign, "rail", -60, -20, 60, 0);
  sign_add_polygon(sign, "arrow", arrow, 3);
  sign_check(sign);
  g_assert_nonnull(sign_find(sign->hold, HF_LAW_WEAK_JOINT));
  mend(sign, THICKEN);
  g_assert_true(sign->hold->whole);
  g_assert_cmpuint(sign->hold->parts->len, ==, 1);
}

/* A point of angle a loses r^2 (cot(a / 2) - (pi - a) / 2) when it gets the radius r. */
static void
test_point_is_rounded(void)
{
  for (double r = 2.5; r < 4.1; r += 0.5) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    const HfPoint wedge[] = {{0, -10}, {40, 0}, {0, 10}, {-40, 10}, {-40, -10}};
    sign_add_polygon(sign, "wedge", wedge, G_N_ELEMENTS(wedge));
    double area = hf_region_area(((void)sign_check(sign), sign->metal->region));
    g_assert_nonnull(sign_find(sign->hold, HF_LAW_SHARP_POINT));
    mend(sign, (HfMendEntry){.round = r});
    g_assert_null(sign_find(sign->hold, HF_LAW_SHARP_POINT));
    double a = 2 * atan2(10, 40);
    double lost = r * r * (1 / tan(a / 2) - (G_PI - a) / 2);
    g_assert_cmpfloat_with_epsilon(hf_region_area(sign->metal->region), area - lost, 0.06);
    g_assert_cmpfloat_with_epsilon(hf_region_box(sign->metal->region).max.x,
                                   40 - r / sin(a / 2) + r, 0.006);
  }
}

static void
test_star_is_rounded(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  HfPoint star[10];
  for (int i = 0; i < 10; i++)
    star[i] = hf_point_polar(hf_point(0, 0), i % 2 == 0 ? 60 : 24, G_PI_2 + i * G_PI / 5);
  sign_add_polygon(sign, "star", star, 10);
  sign_check(sign);
  g_assert_cmpuint(sign_find(sign->hold, HF_LAW_SHARP_POINT)->count, ==, 5);
  g_assert_cmpuint(mend(sign, (HfMendEntry){.round = 3}), ==, 10);
  g_assert_null(sign_find(sign->hold, HF_LAW_SHARP_POINT));
  g_assert_true(sign->hold->whole);
}

/* Slender ends lose their points, not themselves: a stem with thin serifs keeps all but slivers. */
static void
test_slender_stays(void)
{
  g_autoptr(Sign) sign = sign_new(1.5, 1);
  const HfPoint stem[] = {{-2.3, 0}, {2.3, 0},   {2.3, 48}, {9, 48.6},
                          {9, 50},   {-9, 50.2}, {-9, 49},  {-2.3, 48}};
  const HfPoint tail[] = {{-20, -6}, {60, -1}, {-20, 0}};
  sign_add_box(sign, "rail", -30, -20, 30, 1);
  sign_add_polygon(sign, "stem", stem, G_N_ELEMENTS(stem));
  sign_add_polygon(sign, "tail", tail, G_N_ELEMENTS(tail));
  double area = hf_region_area(((void)sign_check(sign), sign->metal->region));
  g_assert_nonnull(sign_find(sign->hold, HF_LAW_SHARP_POINT));
  mend(sign, (HfMendEntry){.round = 3});
  g_assert_cmpfloat(hf_region_area(sign->metal->region), >, area - 20);
  g_assert_cmpfloat(hf_region_box(sign->metal->region).max.y, >, 49);
}

/* A square of side s grown by d: s^2 + 4 s d + pi d^2. */
static void
test_opening_is_enlarged(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 100, 60);
  sign_cut_box(sign, "window", 48, 30, 51, 33);
  mend(sign, (HfMendEntry){.enlarge = TRUE, .round = NAN});
  g_assert_true(sign->hold->whole);
  double d = 2 + 0.02 - 1.5;
  g_assert_cmpfloat_with_epsilon(hf_region_area(sign->metal->region),
                                 6000 - (9 + 12 * d + G_PI * d * d), 0.05);
}

/* Where larger would leave too thin a web it stays as it is, or is filled where that is asked. */
static void
test_no_room_to_enlarge(void)
{
  for (int fill = 0; fill < 2; fill++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    sign_add_box(sign, "board", 0, 0, 100, 60);
    sign_cut_box(sign, "window", 48, 3.2, 51, 6.2);
    sign_check(sign);
    mend(sign, (HfMendEntry){.fill = fill == 1, .enlarge = TRUE, .round = NAN});
    g_assert_cmpint(sign->hold->whole, ==, fill == 1);
    const HfFinding *web = sign_find(sign->hold, HF_LAW_THIN_WEB);
    g_assert_true(web == NULL || web->gravity < HF_STOP);
    if (fill == 1)
      g_assert_cmpfloat_with_epsilon(hf_region_area(sign->metal->region), 6000, 1e-6);
  }
}

static void
test_only_what_is_meant(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  g_autoptr(GPtrArray) of = g_ptr_array_new();
  sign_add_box(sign, "board", 0, 0, 100, 60);
  sign_cut_box(sign, "one", 20, 30, 30, 31);
  sign_cut_box(sign, "two", 60, 30, 70, 31);
  g_ptr_array_add(of, (char *)"two");
  mend(sign, (HfMendEntry){.of = of, .fill = TRUE, .round = NAN});
  const HfFinding *left = sign_find(sign->hold, HF_LAW_SMALL_OPENING);
  g_assert_nonnull(left);
  g_assert_cmpuint(left->count, ==, 1);
  g_assert_cmpfloat(left->at.x, <, 40);
}

static void
test_nothing_to_mend(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 100, 60);
  sign_add_hole(sign, "hole", 50, 30, 3); /* too small, but it is there to hang by */
  g_assert_cmpuint(mend(sign, (HfMendEntry){.fill = TRUE, .thicken = TRUE, .round = 3}), ==, 0);
}

static void
test_stops(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 100, 60);
  sign_cut_box(sign, "slot", 40, 30, 60, 31);
  guint rule = add_rule(sign, FILL);
  sign_check(sign);
  HfCancel cancel = {0};
  hf_cancel_ask(&cancel);
  HfSign given = sign_whole(sign);
  g_assert_null(hf_mend(&given, rule, HF_SIGN_CHECKED, &cancel, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_CANCELLED);
}

/* Six cracks in a row; each is filled when there is time. */
static Sign *
many_cracks(guint *ret_rule)
{
  Sign *sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 150, 60);
  for (int i = 0; i < 6; i++)
    sign_cut_box(sign, "slot", 15 + 20 * i, 30, 30 + 20 * i, 31);
  *ret_rule = add_rule(sign, FILL);
  sign_check(sign);
  return sign;
}

/* How many places are told as not come to. */
static guint
count_not_come_to(const HfSign *sign)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(sign, i);
    if (finding->fix != NULL && strstr(finding->fix, "did not come to it") != NULL)
      n += finding->places->len;
  }
  return n;
}

/* The least work that there is: it comes to one place or to none, and says so of the others. */
static void
test_bound(void)
{
  g_autoptr(GError) error = NULL;
  guint rule;
  g_autoptr(Sign) sign = many_cracks(&rule);
  HfSign given = sign_whole(sign);
  g_autoptr(HfSign) all = hf_mend(&given, rule, HF_SIGN_CHECKED, NULL, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(hf_sign_work(all, 0)->shapes->len, ==, 6);
  g_assert_cmpuint(count_not_come_to(all), ==, 0);
  g_autoptr(HfSign) some = hf_mend_bounded(&given, rule, HF_SIGN_CHECKED, 1, NULL, &error);
  g_assert_no_error(error);
  guint laid = hf_sign_work(some, 0)->shapes->len;
  g_assert_cmpuint(laid, <=, 1);
  g_assert_cmpuint(count_not_come_to(some), ==, 6 - laid);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/mend/slot", test_slot_is_filled);
  g_test_add_func("/mend/gap", test_gap_is_filled);
  g_test_add_func("/mend/web", test_web_is_thickened);
  g_test_add_func("/mend/joint", test_joint_is_thickened);
  g_test_add_func("/mend/point", test_point_is_rounded);
  g_test_add_func("/mend/star", test_star_is_rounded);
  g_test_add_func("/mend/slender", test_slender_stays);
  g_test_add_func("/mend/larger", test_opening_is_enlarged);
  g_test_add_func("/mend/no-room", test_no_room_to_enlarge);
  g_test_add_func("/mend/of", test_only_what_is_meant);
  g_test_add_func("/mend/nothing", test_nothing_to_mend);
  g_test_add_func("/mend/stopped", test_stops);
  g_test_add_func("/mend/bound", test_bound);
  return g_test_run();
}
