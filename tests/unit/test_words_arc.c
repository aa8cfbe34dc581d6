/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_words_arc.c - letters on a circle: the rule of SVG 2, centring by ink, bent letters.
 */
#include "geom/index.h"
#include "layout/words-private.h"
#include "words_kit.h"

enum { ROUNDS = 60, DENSE = 400 };

static HfSetting
some_setting(GRand *rand, gboolean bent)
{
  HfSetting s = {.wide = 1, .bent = bent};
  s.size = g_rand_double_range(rand, 40, 140);
  s.wide = g_rand_boolean(rand) ? 1 : g_rand_double_range(rand, 0.85, 1);
  s.spacing = g_rand_double_range(rand, -2, 8);
  s.radius = g_rand_double_range(rand, 250, 600);
  s.inward = g_rand_boolean(rand);
  return s;
}

/* Brute force: extreme polar angles of densely sampled outlines, from the stated angle. */
static void
sampled_extent(const HfPlaced *placed, double wanted, double *least, double *greatest)
{
  *least = INFINITY;
  *greatest = -INFINITY;
  for (guint i = 0; i < placed->letters->len; i++) {
    const HfOutline *outline = hf_placed_letter(placed, i)->outline;
    if (outline == NULL)
      continue;
    g_autoptr(GArray) points = kit_points(outline, DENSE);
    for (guint k = 0; k < points->len; k++) {
      HfPoint p = g_array_index(points, HfPoint, k);
      double a = remainder(atan2(p.y, p.x) - wanted, 2 * G_PI);
      *least = MIN(*least, a);
      *greatest = MAX(*greatest, a);
    }
  }
}

/* The polar angles of the first and last ink point lie equally far from the stated angle, to
 * 0.001 mm of arc, whatever the spacing (issue: exactness replaces the eye). */
static void
test_centred_by_ink(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(41);
  for (int round = 0; round < ROUNDS; round++) {
    g_autoptr(Kit) kit = kit_new();
    g_autofree char *text = kit_text(rand, "IHTOVp',- ", 2 + (guint)round % 9);
    g_autoptr(HfWording) wording =
        hf_wording_from_line(kit_line(kit, text, rand, g_rand_boolean(rand)));
    HfSetting setting = some_setting(rand, round % 3 == 0);
    g_autoptr(HfPlaced) placed = hf_place_round(wording, &setting, 0);
    double least, greatest, wanted = setting.inward ? -G_PI_2 : G_PI_2;
    sampled_extent(placed, wanted, &least, &greatest);
    if (least > greatest)
      continue; /* nothing but spaces */
    g_assert_cmpfloat(fabs(least + greatest) * (setting.radius + setting.size), <, 0.001);
  }
}

/* SVG 2, text on a path: the middle of each advance lies on the path, at its arc length; the
 * midline is perpendicular to the tangent there. */
static void
test_rigid_rule(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(42);
  for (int round = 0; round < ROUNDS; round++) {
    g_autoptr(Kit) kit = kit_new();
    g_autofree char *text = kit_text(rand, "IHTOVp", 5);
    g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, text, rand, FALSE));
    HfSetting s = some_setting(rand, FALSE);
    g_autoptr(HfPlaced) placed = hf_place_round(wording, &s, 0);
    double before = 0, before_along = 0;
    for (guint i = 0; i < 5; i++) {
      const HfLetter *letter = hf_wording_letter(wording, i);
      HfMatrix em = hf_placed_letter(placed, i)->em;
      HfPoint foot = hf_matrix_apply(em, hf_point(letter->advance / 2, 0));
      HfPoint up = hf_matrix_apply(em, hf_point(letter->advance / 2, 1));
      g_assert_cmpfloat(fabs(hf_point_length(foot) - s.radius), <, 1e-9);
      g_assert_cmpfloat(fabs(hf_point_length(up) - s.radius - (s.inward ? -s.size : s.size)), <,
                        1e-9);
      double along = (letter->pen + letter->advance / 2) * s.size * s.wide + s.spacing * i;
      double angle = hf_angle_of(foot), turned = remainder(angle - before, 2 * G_PI);
      if (i > 0)
        g_assert_cmpfloat(fabs(turned * (s.inward ? 1 : -1) * s.radius - (along - before_along)), <,
                          1e-9);
      before = angle;
      before_along = along;
    }
  }
}

/* Handbook 7, worked test: circle r 50, two glyphs of advance 10, in the middle of the top: each
 * glyph's mid is 5 mm along the arc from the top, 5.7296 degrees turned. */
static void
test_worked_example(void)
{
  g_autoptr(Kit) kit = kit_new();
  HfLine *line = kit_line(kit, "II", NULL, FALSE);
  g_autoptr(HfWording) wording = hf_wording_from_line(line);
  HfSetting s = {.size = 10 / hf_wording_letter(wording, 0)->advance, .wide = 1, .radius = 50};
  g_autoptr(HfPlaced) placed = hf_place_round(wording, &s, 0);
  for (guint i = 0; i < 2; i++) {
    HfMatrix em = hf_placed_letter(placed, i)->em;
    double turn = atan2(em.yx, em.xx) * 180 / G_PI;
    g_assert_cmpfloat(fabs(turn - (i == 0 ? 5.7296 : -5.7296)), <, 5e-5);
  }
}

/* Bottom words read from left to right with their tops toward the centre. */
static void
test_inward_reads(void)
{
  g_autoptr(Kit) kit = kit_new();
  g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, "HO", NULL, FALSE));
  HfSetting s = {.size = 100, .wide = 1, .radius = 400, .inward = TRUE};
  g_autoptr(HfPlaced) placed = hf_place_round(wording, &s, 0);
  HfBox first = hf_outline_box(hf_placed_letter(placed, 0)->outline);
  HfBox last = hf_outline_box(hf_placed_letter(placed, 1)->outline);
  g_assert_cmpfloat(first.max.x, <, last.min.x);
  g_assert_cmpfloat(placed->box.max.y, >, -400 + 60);
  g_assert_cmpfloat(placed->box.max.y, <, -400 + 75);
}

/* Every true image point lies within 1 um of the refitted curve. */
static void
test_bent_within_a_micron(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(43);
  for (int round = 0; round < 30; round++) {
    g_autoptr(Kit) kit = kit_new();
    g_autofree char *text = kit_text(rand, "OVHTp", 1);
    g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, text, rand, FALSE));
    HfSetting s = some_setting(rand, TRUE);
    s.radius = g_rand_double_range(rand, 60, 600);
    const HfLetter *letter = hf_wording_letter(wording, 0);
    g_autoptr(HfOutline) bent = hf_bent_outline(letter, &s, 3, 1.2);
    g_autoptr(GArray) images = kit_points(bent, 1500);
    g_autoptr(GArray) points = kit_points(letter->outline, 17);
    for (guint i = 0; i < points->len; i++) {
      HfPoint p = g_array_index(points, HfPoint, i);
      double r = s.radius + (s.inward ? -1 : 1) * p.y * s.size;
      double a = 1.2 + (s.inward ? 1 : -1) * (3 + p.x * s.size * s.wide) / s.radius;
      HfPoint truth = hf_point_polar(hf_point(0, 0), r, a);
      double nearest = INFINITY;
      for (guint k = 0; k < images->len; k++) {
        HfPoint a0 = g_array_index(images, HfPoint, k);
        HfPoint a1 = g_array_index(images, HfPoint, (k + 1) % images->len);
        if (hf_point_distance(a0, truth) < 2)
          nearest = MIN(nearest, hf_point_distance(truth, hf_segment_nearest(a0, a1, truth, NULL)));
      }
      g_assert_cmpfloat(nearest, <, 0.001);
    }
  }
}

static void
test_letters_keep_area(void)
{
  g_autoptr(Kit) kit = kit_new();
  g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, "HOT I", NULL, TRUE));
  for (guint i = 0; i < wording->letters->len; i++)
    if (hf_wording_letter(wording, i)->outline != NULL)
      g_assert_cmpfloat(hf_outline_area(hf_wording_letter(wording, i)->outline), >, 0);
  g_assert_null(hf_wording_letter(wording, 3)->outline);
  g_assert_cmpstr(hf_wording_letter(wording, 1)->label, ==, "letter 'O' of \"HOT I\"");
}

static void
test_labels(void)
{
  g_autoptr(Kit) kit = kit_new();
  g_autoptr(HfWording) wording =
      hf_wording_from_line(kit_line(kit, "HHOTTT IIII OOOO VVVV HHHH", NULL, FALSE));
  g_assert_cmpstr(hf_wording_letter(wording, 1)->label, ==,
                  "2nd letter 'H' of \"HHOTTT IIII OOOO VVVV H…\"");
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/words/arc/centred-by-ink", test_centred_by_ink);
  g_test_add_func("/words/arc/rigid-rule", test_rigid_rule);
  g_test_add_func("/words/arc/worked-example", test_worked_example);
  g_test_add_func("/words/arc/inward-reads", test_inward_reads);
  g_test_add_func("/words/arc/bent-within-a-micron", test_bent_within_a_micron);
  g_test_add_func("/words/letters/area", test_letters_keep_area);
  g_test_add_func("/words/letters/labels", test_labels);
  return g_test_run();
}
