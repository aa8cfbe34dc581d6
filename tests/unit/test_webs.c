/* SPDX-License-Identifier: GPL-3.0-or-later
 * Webs against closed forms of plane geometry (eccentric annulus, dumbbell, notched bar, parallel
 * bar, tapering tail), and the local axis against the full one.
 *
 * Limits used: t = 2, k = 1: short web 2 and 2.5 mm, long web 3 and 3.75 mm (handbook 3.1).
 */
#include "sign.h"
#include "thin/thin.h"

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

static HfBox
box(double x0, double y0, double x1, double y1)
{
  return (HfBox){{x0, y0}, {x1, y1}};
}

static void
circle(Sign *sign, const char *name, double x, double y, double r, gboolean opening)
{
  hf_outline_add_circle(sign_add(sign, HF_ENTRY_PLATE, name, opening), hf_point(x, y), r);
}

static void
bar(Sign *sign, const char *name, HfBox b, gboolean opening)
{
  hf_outline_add_rectangle(sign_add(sign, HF_ENTRY_BAR, name, opening), b, 0);
}

static guint
count(const Sign *sign, HfLawKind kind)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *f = sign->hold->findings->pdata[i];
    n += f->kind == kind ? f->count : 0;
  }
  return n;
}

static guint
webs(const Sign *sign)
{
  return count(sign, HF_LAW_THIN_WEB) + count(sign, HF_LAW_THIN_LONG_WEB) +
         count(sign, HF_LAW_WEAK_JOINT);
}

/* circle R with a hole r, centres e apart: narrowest R - r - e, on the line of the centres */
static void
test_eccentric_annulus(void)
{
  g_autoptr(GArray) unused = NULL;
  for (int i = 0; i < 3; i++) {
    double narrow = 0.8 + i * 1.1, turn = 0.3 + i;
    Sign *sign = sign_new(2, 1);
    circle(sign, "disc", 0, 0, 40, FALSE);
    HfPoint c = hf_point_polar(hf_point(0, 0), 10 - narrow, turn);
    circle(sign, "window", c.x, c.y, 30, TRUE);
    const HfHold *hold = sign_check(sign);
    g_assert_cmpuint(webs(sign), ==, 1);
    const HfWeb *web = &g_array_index(hold->webs, HfWeb, 0);
    near(web->width, narrow, 0.01);
    g_assert_cmpstr(web->form, ==, "loop");
    /* width w(phi) = R - r - e cos phi under the limit: a long web */
    g_assert_cmpuint(count(sign, HF_LAW_THIN_LONG_WEB), ==, 1);
    g_assert_false(hold->whole && narrow < 3);
    sign_free(sign);
  }
}

/* two discs joined by a bar of width w: neck of width w, the smaller disc hangs beyond */
static void
test_dumbbell(void)
{
  Sign *sign = sign_new(2, 1);
  HfOutline *outline = sign_add(sign, HF_ENTRY_PLATE, "dumbbell", FALSE);
  hf_outline_add_circle(outline, hf_point(0, 0), 20);
  hf_outline_add_circle(outline, hf_point(60, 0), 12);
  hf_outline_add_rectangle(outline, box(0, -1.35, 60, 1.35), 0);
  const HfHold *hold = sign_check(sign);
  g_assert_cmpuint(webs(sign), ==, 1);
  const HfFinding *f = sign_finding(sign, HF_LAW_THIN_LONG_WEB);
  near(f->measured, 2.7, 0.001);
  g_assert_cmpint(f->gravity, ==, HF_STOP);
  g_assert_cmpstr(f->form, ==, "neck");
  double cap = 12 - sqrt(144 - 1.35 * 1.35), visible = 60 - 20 - 12;
  g_assert_cmpfloat(f->area, >, G_PI * 144 - 1);
  g_assert_cmpfloat(f->area, <, G_PI * 144 + 2.7 * (visible + cap) + 1);
  g_assert_cmpfloat(f->reach, >, 24);
  g_assert_false(hold->whole);
  sign_free(sign);
}

/* circles of radius R, centres 2 c apart: neck 2 sqrt(R^2 - c^2) between two reflex corners.
 * Circles about either side cover it, so it leaves no residue when the region is opened. */
static void
test_two_circles(void)
{
  for (int joint = 0; joint < 2; joint++) {
    Sign *sign = sign_new(2, 1);
    double half = 0.9, c = sqrt(400 - half * half);
    HfOutline *outline = sign_add(sign, HF_ENTRY_PLATE, "left", FALSE);
    hf_outline_add_circle(outline, hf_point(-c, 0), 20);
    if (joint)
      outline = sign_add(sign, HF_ENTRY_PLATE, "right", FALSE);
    hf_outline_add_circle(outline, hf_point(c, 0), 20);
    sign_check(sign);
    g_assert_cmpuint(webs(sign), ==, 1);
    const HfFinding *f = sign_finding(sign, joint ? HF_LAW_WEAK_JOINT : HF_LAW_THIN_WEB);
    g_assert_nonnull(f);
    near(f->measured, 1.8, 0.01);
    g_assert_cmpstr(f->form, ==, "neck");
    near(f->area, G_PI * 400, 2);
    sign_free(sign);
  }
}

/* a bar with a pointed notch from either side */
static void
test_notched_bar(void)
{
  for (int i = 0; i < 3; i++) {
    double narrow = 1.2 + 0.6 * i; /* 1.2 stop, 1.8 stop, 2.4 caution */
    HfPoint points[] = {{0, 0},   {28, 0},  {30, 5 - narrow / 2}, {32, 0},  {60, 0},
                        {60, 10}, {32, 10}, {30, 5 + narrow / 2}, {28, 10}, {0, 10}};
    Sign *sign = sign_new(2, 1);
    hf_outline_add_polygon(sign_add(sign, HF_ENTRY_BAR, "rail", FALSE), points, 10);
    const HfHold *hold = sign_check(sign);
    g_assert_cmpuint(webs(sign), ==, 1);
    const HfFinding *f = sign_finding(sign, HF_LAW_THIN_WEB);
    near(f->measured, narrow, 0.001);
    near(f->limit, i < 2 ? 2 : 2.5, 1e-9);
    g_assert_cmpint(f->gravity, ==, i < 2 ? HF_STOP : HF_CAUTION);
    g_assert_true(hold->whole == (i == 2));
    near(f->area, 300 - 10 + narrow / 1 * 1, 12);
    sign_free(sign);
  }
}

/* A parallel bar just over, at, and just under the long-web limit; it is thin everywhere. */
static void
test_parallel_bar(void)
{
  static const struct {
    double width;
    gboolean thin;
    HfGravity gravity;
  } cases[] = {
      {2.98, TRUE, HF_STOP}, {3, TRUE, HF_CAUTION}, {3.73, TRUE, HF_CAUTION}, {3.75, FALSE}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    Sign *sign = sign_new(2, 1);
    bar(sign, "rail", box(0, 0, 100, cases[i].width), FALSE);
    sign_check(sign);
    g_assert_cmpuint(webs(sign), ==, cases[i].thin);
    const HfFinding *f = sign_finding(sign, HF_LAW_THIN_LONG_WEB);
    if (f != NULL) {
      near(f->measured, cases[i].width, 0.001);
      g_assert_cmpint(f->gravity, ==, cases[i].gravity);
      const HfWeb *web = &g_array_index(sign->hold->webs, HfWeb, 0);
      near(web->length, 100 - cases[i].width + 2 * cases[i].width / G_SQRT2, 0.01);
    }
    sign_free(sign);
  }
}

/* A wedge on a plate: under the limit over (limit / 2) / sin(half angle). Shorter than two limits
 * it only runs into its corner and is not reported; longer its point burns back. Up to 10 mm it is
 * a note, up to 30 mm a caution: 2 mm / 2 sin(a / 2) is 10 mm at 11.48 degrees, 30 mm at 3.82. */
static void
test_tapering_tail(void)
{
  static const struct {
    double angle; /* whole, degrees */
    gboolean reported;
    HfGravity gravity;
  } cases[] = {{90, FALSE},
               {60, FALSE},
               {40, FALSE},
               {30, FALSE},
               {28, TRUE, HF_NOTE},
               {15, TRUE, HF_NOTE},
               {11.6, TRUE, HF_NOTE},
               {11.3, TRUE, HF_CAUTION},
               {3.9, TRUE, HF_CAUTION},
               {3.7, TRUE, HF_STOP}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    double half = cases[i].angle / 2 * G_PI / 180, length = 10 / tan(half);
    HfPoint points[] = {{0, -10}, {length, 0}, {0, 10}, {-30, 10}, {-30, -10}};
    Sign *sign = sign_new(2, 1);
    hf_outline_add_polygon(sign_add(sign, HF_ENTRY_PLATE, "wedge", FALSE), points, 5);
    sign_check(sign);
    g_assert_cmpuint(webs(sign), ==, 0);
    const HfFinding *f = sign_finding(sign, HF_LAW_BURNT_TIP);
    g_assert_true((f != NULL) == cases[i].reported);
    if (f != NULL) {
      near(f->measured, (2 - 0.01) / 2 / sin(half), 0.01);
      g_assert_cmpint(f->gravity, ==, cases[i].gravity);
    }
    sign_free(sign);
  }
}

/* A thin stroke with a blunt end: dropped when shorter than two limits, a tail when longer. */
static void
test_blunt_tail(void)
{
  for (int i = 0; i < 2; i++) {
    Sign *sign = sign_new(2, 1);
    HfOutline *outline = sign_add(sign, HF_ENTRY_PLATE, "plate", FALSE);
    hf_outline_add_rectangle(outline, box(0, 0, 40, 40), 0);
    hf_outline_add_rectangle(outline, box(39, 20, i == 0 ? 42.5 : 52, 21.5), 0);
    sign_check(sign);
    g_assert_cmpuint(webs(sign), ==, i);
    if (i == 1) {
      const HfFinding *f = sign->hold->findings->pdata[0];
      near(f->measured, 1.5, 0.001);
      g_assert_cmpstr(f->form, ==, "tail");
    }
    sign_free(sign);
  }
}

/* A thin frame all round: a loop without a narrowest place. */
static void
test_thin_ring(void)
{
  Sign *sign = sign_new(2, 1);
  circle(sign, "disc", 0, 0, 50, FALSE);
  circle(sign, "window", 0, 0, 47.5, TRUE);
  sign_check(sign);
  g_assert_cmpuint(webs(sign), ==, 1);
  const HfFinding *f = sign_finding(sign, HF_LAW_THIN_LONG_WEB);
  near(f->measured, 2.5, 0.01);
  g_assert_cmpstr(f->form, ==, "loop");
  near(g_array_index(sign->hold->webs, HfWeb, 0).length, 2 * G_PI * 48.75, 1);
  sign_free(sign);
}

/* A hole that touches the outline at one point: no width at all, though nothing falls out. */
static void
test_pinch(void)
{
  HfPoint hole[] = {{50, 10}, {40, 5}, {60, 5}};
  Sign *sign = sign_new(2, 1);
  bar(sign, "plate", box(0, 0, 100, 10), FALSE);
  hf_outline_add_polygon(sign_add(sign, HF_ENTRY_HOLE, "hole", TRUE), hole, 3);
  sign_check(sign);
  g_assert_false(sign->hold->whole);
  g_assert_cmpuint(webs(sign), >=, 1);
  sign_free(sign);
}

/* Nothing thin: nothing found, although there are corners of every angle over 30 degrees. */
static void
test_stout(void)
{
  Sign *sign = sign_new(2, 1);
  HfOutline *outline = sign_add(sign, HF_ENTRY_PLATE, "star", FALSE);
  HfPoint star[12];
  for (int i = 0; i < 12; i++)
    star[i] = hf_point_polar(hf_point(0, 0), i % 2 ? 25 : 50, i * G_PI / 6);
  hf_outline_add_polygon(outline, star, 12);
  sign_check(sign);
  g_assert_cmpuint(webs(sign), ==, 0);
  sign_free(sign);
}

/* Dots and squares that stand alone: too small to be a web anywhere. */
static void
test_small_dot(void)
{
  static const struct {
    double size;
    gboolean round, thin;
  } cases[] = {{1.5, TRUE, TRUE}, {1.5, FALSE, TRUE}, {2.6, TRUE, FALSE}, {2.6, FALSE, FALSE}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    double half = cases[i].size / 2;
    Sign *sign = sign_new(2, 1);
    HfOutline *dot = sign_add(sign, HF_ENTRY_SEPARATOR, "dot", FALSE);
    if (cases[i].round)
      hf_outline_add_circle(dot, hf_point(0, 0), half);
    else
      hf_outline_add_rectangle(dot, box(-half, -half, half, half), 0);
    sign_check(sign);
    g_assert_cmpuint(webs(sign), ==, cases[i].thin);
    g_assert_true(sign->hold->whole != cases[i].thin);
    if (cases[i].thin)
      near(sign_finding(sign, HF_LAW_THIN_WEB)->measured, cases[i].size, 0.02);
    sign_free(sign);
  }
}

/* Two corners of a plate that all but touch across a cut: a neck of one grid unit is a neck. */
static void
test_hairline_neck(void)
{
  static const double hair[] = {0.0001, 0.0002, 0.001, 0.01};
  for (guint i = 0; i < G_N_ELEMENTS(hair); i++) {
    HfPoint points[] = {{0, 0},   {25, 0},  {30, 10},           {35, 0},  {60, 0},
                        {60, 20}, {35, 20}, {30, 10 + hair[i]}, {25, 20}, {0, 20}};
    Sign *sign = sign_new(2, 1);
    hf_outline_add_polygon(sign_add(sign, HF_ENTRY_PLATE, "plate", FALSE), points, 10);
    sign_check(sign);
    g_assert_false(sign->hold->whole);
    g_assert_cmpuint(webs(sign) + (sign->hold->parts->len > 1), >=, 1);
    sign_free(sign);
  }
  for (guint i = 0; i < G_N_ELEMENTS(hair); i++) { /* a corner over a slanting edge */
    HfPoint points[] = {{0, 0},   {60, 7}, {60, 30}, {35, 30}, {30, 3.5 + hair[i]},
                        {25, 30}, {0, 30}};
    Sign *sign = sign_new(2, 1);
    hf_outline_add_polygon(sign_add(sign, HF_ENTRY_PLATE, "plate", FALSE), points, 7);
    sign_check(sign);
    g_assert_false(sign->hold->whole);
    sign_free(sign);
  }
}

/* ---- local against full ---------------------------------------------------------------------- */

static HfRegion *
random_region(guint seed)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
  g_autoptr(HfRegion) raw = hf_region_new(), holes_raw = hf_region_new();
  for (int i = 0; i < 14; i++) {
    g_autoptr(HfOutline) outline = hf_outline_new(), turned = hf_outline_new();
    double x = g_rand_double_range(rand, 0, 90), y = g_rand_double_range(rand, 0, 60);
    double w = g_rand_double_range(rand, 1, 40), h = g_rand_double_range(rand, 1, 9);
    if (g_rand_boolean(rand))
      hf_outline_add_circle(outline, hf_point(0, 0), w / 2);
    else
      hf_outline_add_rectangle(outline, box(-w, -h, w, h), i % 3 ? 0 : h * 0.7);
    HfMatrix m =
        hf_matrix_then(hf_matrix_turn(g_rand_double_range(rand, 0, 3)), hf_matrix_move(x, y));
    hf_outline_append(turned, outline, m);
    hf_region_flatten(i < 9 ? raw : holes_raw, turned, 0, HF_FLATTEN_MM);
  }
  g_autoptr(HfRegion) metal = hf_region_clean(raw), holes = hf_region_clean(holes_raw);
  return hf_region_subtract(metal, holes);
}

/* Order is by width, which two corners may share: the partner is the nearest. */
static const HfZone *
partner(const HfZones *zones, const HfZone *zone)
{
  const HfZone *best = NULL;
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *z = &g_array_index(zones->zones, HfZone, i);
    if (best == NULL || hf_point_distance(z->place.at, zone->place.at) <
                            hf_point_distance(best->place.at, zone->place.at))
      best = z;
  }
  return best;
}

/* Corners (of gaps: all that only tapers) may be left out early; the rest must agree. */
static gboolean
counts(const HfZones *zones, const HfZone *zone, gboolean tapers)
{
  return !(tapers ? hf_zone_only_tapers : hf_zone_is_corner)(zones, zone);
}

static guint
count_zones(const HfZones *zones, gboolean tapers)
{
  guint n = 0;
  for (guint i = 0; i < zones->zones->len; i++)
    n += counts(zones, &g_array_index(zones->zones, HfZone, i), tapers);
  return n;
}

static void
compare_zones(const HfRegion *region, double widest, double limit, gboolean tapers)
{
  g_autoptr(HfIndex) index = hf_index_new(region, widest);
  g_autoptr(HfThin) local = hf_thin_new(region, index, widest, tapers, NULL);
  g_autoptr(HfThin) full = hf_thin_new_full(region, index, widest);
  g_autoptr(HfZones) a = hf_zones_new(local, limit), b = hf_zones_new(full, limit);
  g_assert_cmpuint(count_zones(a, tapers), ==, count_zones(b, tapers));
  for (guint i = 0; i < a->zones->len; i++) {
    const HfZone *p = &g_array_index(a->zones, HfZone, i), *q = partner(b, p);
    g_assert_true(counts(a, p, tapers) == counts(b, q, tapers));
    if (!counts(a, p, tapers))
      continue;
    near(p->width, q->width, 1e-3);
    near(p->length, q->length, 0.05); /* samples lie elsewhere: 2 um of radius at a flat mouth */
    g_assert_cmpuint(p->mouths, ==, q->mouths);
  }
}

static void
test_local_is_full(void)
{
  guint n = g_test_thorough() ? 400 : 30;
  for (guint seed = 1; seed <= n; seed++) {
    g_autoptr(HfRegion) region = random_region(seed);
    if (!hf_region_is_valid(region, NULL))
      continue;
    g_autoptr(HfRegion) turned = hf_region_turned(region);
    compare_zones(region, 3.75, 2, FALSE);
    compare_zones(region, 3.75, 3.74, FALSE);
    compare_zones(turned, 3, 1, TRUE);
    compare_zones(turned, 3, 2.99, TRUE);
  }
}

/* ---- against erosion --------------------------------------------------------------------------
 */

static Sign *
random_sign(guint seed)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
  Sign *sign = sign_new(2, 1);
  for (int i = 0; i < 12; i++) {
    g_autoptr(HfOutline) outline = hf_outline_new();
    g_autofree char *name = g_strdup_printf("%d", i);
    double x = g_rand_double_range(rand, 0, 90), y = g_rand_double_range(rand, 0, 60);
    double w = g_rand_double_range(rand, 3, 30), h = g_rand_double_range(rand, 2, 12);
    if (g_rand_boolean(rand))
      hf_outline_add_circle(outline, hf_point(0, 0), w / 2);
    else
      hf_outline_add_rectangle(outline, box(-w, -h, w, h), i % 3 ? 0 : h * 0.7);
    HfMatrix m =
        hf_matrix_then(hf_matrix_turn(g_rand_double_range(rand, 0, 3)), hf_matrix_move(x, y));
    hf_outline_append(sign_add(sign, HF_ENTRY_PLATE, name, i >= 8), outline, m);
  }
  return sign;
}

static guint
n_outers(const HfRegion *region)
{
  guint n = 0;
  for (guint r = 0; r < region->rings->len; r++)
    n += hf_ring_area(hf_region_ring(region, r)) > 0;
  return n;
}

static guint
n_stops(const Sign *sign)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *f = sign->hold->findings->pdata[i];
    n += f->gravity == HF_STOP && (f->kind == HF_LAW_THIN_WEB || f->kind == HF_LAW_THIN_LONG_WEB ||
                                   f->kind == HF_LAW_WEAK_JOINT);
  }
  return n;
}

/* What comes back when the metal eroded by half the limit is grown by it and two limits more. */
static double
never_back(const HfRegion *region, const HfRegion *eroded, double limit)
{
  g_autoptr(HfRegion) grown = hf_region_offset(eroded, 2.5 * limit, 0.01);
  g_autoptr(HfRegion) rest = hf_region_subtract(region, grown);
  return hf_region_area(rest);
}

/* Where no web is a stop, eroding by half the short-web limit divides no part, and all metal lies
 * within two limits of what is left, but for points that burn back. Metal that is thin all over may
 * vanish: then it was a stop. */
static void
test_against_erosion(void)
{
  guint n = g_test_thorough() ? 2000 : 120, clean = 0;
  for (guint seed = 1; seed <= n; seed++) {
    Sign *sign = random_sign(seed);
    sign_check(sign);
    if (n_stops(sign) == 0) {
      const HfRegion *region = sign->metal->region;
      g_autoptr(HfRegion) eroded = hf_region_offset(region, -0.97, 0.005);
      double lost =
          sign_finding(sign, HF_LAW_BURNT_TIP) == NULL ? never_back(region, eroded, 2) : 0;
      if (n_outers(eroded) != sign->hold->parts->len || lost > 0.01)
        g_test_message("seed %u", seed);
      g_assert_cmpuint(n_outers(eroded), ==, sign->hold->parts->len);
      g_assert_cmpfloat(lost, <=, 0.01);
      clean++;
    }
    sign_free(sign);
  }
  g_assert_cmpuint(clean, >, n / 20);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/webs/eccentric-annulus", test_eccentric_annulus);
  g_test_add_func("/webs/dumbbell", test_dumbbell);
  g_test_add_func("/webs/two-circles", test_two_circles);
  g_test_add_func("/webs/notched-bar", test_notched_bar);
  g_test_add_func("/webs/parallel-bar", test_parallel_bar);
  g_test_add_func("/webs/tapering-tail", test_tapering_tail);
  g_test_add_func("/webs/blunt-tail", test_blunt_tail);
  g_test_add_func("/webs/thin-ring", test_thin_ring);
  g_test_add_func("/webs/pinch", test_pinch);
  g_test_add_func("/webs/stout", test_stout);
  g_test_add_func("/webs/small-dot", test_small_dot);
  g_test_add_func("/webs/hairline-neck", test_hairline_neck);
  g_test_add_func("/webs/local-is-full", test_local_is_full);
  g_test_add_func("/webs/against-erosion", test_against_erosion);
  return g_test_run();
}
