/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_words_joined.c - joint widths against closed forms and against erosion; joined spacing.
 */
#include "geom/region.h"
#include "layout/joint-private.h"
#include "layout/words-private.h"
#include "words_kit.h"

static double
width_of(const HfOutline *a, const HfOutline *b)
{
  g_autoptr(HfPolygons) pa = hf_polygons_new(a, HF_MATRIX_IDENTITY, 0.0005);
  g_autoptr(HfPolygons) pb = hf_polygons_new(b, HF_MATRIX_IDENTITY, 0.0005);
  return hf_joint_width(pa, pb, 3, NULL);
}

/* Two circles of radius r whose centres are 2 r - e apart share a chord of 2 sqrt(r^2-(r-e/2)^2).
 */
static void
test_circles(void)
{
  for (double e = 0.05; e < 8; e *= 1.7) {
    const double r = 20;
    g_autoptr(HfOutline) a = hf_outline_new();
    g_autoptr(HfOutline) b = hf_outline_new();
    hf_outline_add_circle(a, hf_point(0, 0), r);
    hf_outline_add_circle(b, hf_point(2 * r - e, 1e-4), r);
    double chord = 2 * sqrt(r * r - (r - e / 2) * (r - e / 2));
    g_assert_cmpfloat(fabs(width_of(a, b) - chord), <, 0.05);
    g_assert_cmpfloat(fabs(width_of(b, a) - chord), <, 0.05);
  }
}

/* A strip of 4 mm that runs into a stem at an angle: 4 mm across, whatever the angle, and whether
 * it ends inside or comes out on the other side (four crossings). */
static void
test_strip_into_stem(void)
{
  for (int degrees = 0; degrees <= 35; degrees += 5)
    for (int through = 0; through < 2; through++) {
      g_autoptr(HfOutline) strip = hf_outline_new();
      g_autoptr(HfOutline) a = hf_outline_new();
      g_autoptr(HfOutline) stem = hf_outline_new();
      kit_box(strip, -60, -2, through ? 60 : 8, 2);
      hf_outline_append(a, strip, hf_matrix_turn(degrees * G_PI / 180));
      kit_box(stem, 0, -80, 16, 80);
      g_test_message("%d %d: %.5f %.5f", degrees, through, width_of(a, stem), width_of(stem, a));
      g_assert_cmpfloat(fabs(width_of(a, stem) - 4), <, 0.01);
      g_assert_cmpfloat(fabs(width_of(stem, a) - 4), <, 0.01);
    }
}

/* Two equal stems side by side, feet and tops exactly in line: as wide as they are high. */
static void
test_stems_in_line(void)
{
  g_autoptr(HfOutline) a = hf_outline_new();
  g_autoptr(HfOutline) b = hf_outline_new();
  kit_box(a, 0, 0, 10, 70);
  kit_box(b, 8, 0, 18, 70);
  g_assert_cmpfloat(fabs(width_of(a, b) - 70), <, 0.01);
  g_autoptr(HfOutline) apart = hf_outline_new();
  kit_box(apart, 10.5, 0, 18, 70);
  g_assert_cmpfloat(width_of(a, apart), ==, 0);
}

static guint
parts_after_erosion(const HfPlaced *placed, double by)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  for (guint i = 0; i < placed->letters->len; i++)
    hf_region_flatten(raw, hf_placed_letter(placed, i)->outline, i, 0.001);
  g_autoptr(HfRegion) clean = hf_region_clean(raw);
  g_autoptr(HfRegion) eroded = hf_region_offset(clean, -by, 0.001);
  guint parts = 0;
  for (guint i = 0; i < eroded->rings->len; i++)
    parts += hf_region_ring(eroded, i)->parent < 0;
  return parts;
}

/* Outside check: metal eroded by a little less than half the joint still hangs together there, by
 * a little more it does not (boolean kernel; no code shared with joint.c). */
static void
test_pairs_by_erosion(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(61);
  guint checked = 0;
  for (int round = 0; round < 60; round++) {
    g_autoptr(Kit) kit = kit_new();
    g_autofree char *text = kit_text(rand, "IHTOV-", 2);
    g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, text, rand, FALSE));
    HfSetting s = {.size = g_rand_double_range(rand, 80, 140), .wide = 1};
    if (round % 3 == 1) {
      s.radius = g_rand_double_range(rand, 300, 600);
      s.inward = g_rand_boolean(rand);
      s.bent = g_rand_boolean(rand);
    }
    HfTooNarrow narrow;
    double wanted = g_rand_double_range(rand, 2, 5);
    g_autofree double *needs = NULL;
    g_autofree double *pairs = hf_join_letters(wording, &s, wanted, TRUE, &needs, &narrow);
    if (narrow.n > 0)
      continue;
    s.pairs = pairs;
    g_autoptr(HfPlaced) placed = s.radius > 0 ? hf_place_round(wording, &s, 0)
                                              : hf_place_straight(wording, &s, 0, HF_ALIGN_CENTRE);
    g_test_message("%s wanted %g spacing %g", text, wanted, pairs[0]);
    g_assert_cmpuint(parts_after_erosion(placed, wanted / 2 - 0.02), ==, 1);
    pairs[0] += 0.02 + 0.02; /* the overlap, and a little */
    g_autoptr(HfPlaced) looser = s.radius > 0 ? hf_place_round(wording, &s, 0)
                                              : hf_place_straight(wording, &s, 0, HF_ALIGN_CENTRE);
    g_assert_cmpuint(parts_after_erosion(looser, wanted / 2 + 0.005), >=, 2);
    checked++;
  }
  g_assert_cmpuint(checked, >=, 30);
}

static void
test_one_for_all(void)
{
  g_autoptr(Kit) kit = kit_new();
  g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, "HOT IO'H", NULL, FALSE));
  HfSetting s = {.size = 100, .wide = 1};
  HfTooNarrow narrow;
  g_autofree double *needs = NULL;
  g_autofree double *needs_too = NULL;
  g_autofree double *one = hf_join_letters(wording, &s, 3, FALSE, &needs, &narrow);
  g_autofree double *own = hf_join_letters(wording, &s, 3, TRUE, &needs_too, &narrow);
  double tightest = MIN(MIN(own[0], own[1]), own[4]);
  for (guint i = 0; i < 5; i++)
    if (i != 2 && i != 3)
      g_assert_cmpfloat(fabs(one[i] - tightest), <, 1e-9);
  g_assert_cmpfloat(one[2], ==, 0); /* T and the space */
  g_assert_cmpfloat(one[3], ==, 0);
  g_assert_cmpfloat(one[5], <=, tightest); /* the apostrophe: its own */
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/words/joint/circles", test_circles);
  g_test_add_func("/words/joint/strip-into-stem", test_strip_into_stem);
  g_test_add_func("/words/joint/stems-in-line", test_stems_in_line);
  g_test_add_func("/words/joined/pairs-by-erosion", test_pairs_by_erosion);
  g_test_add_func("/words/joined/one-for-all", test_one_for_all);
  return g_test_run();
}
