/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_bolder.c - outlines grown and shrunk, against closed forms and the clipper's offset.
 *
 * Steiner's formula: a convex shape of area A and perimeter P grows by r to A + P r + pi r^2.
 */
#include "geom/bolder.h"
#include "words_kit.h"

static guint
count_kind(const HfOutline *outline, HfCurveKind kind)
{
  guint count = 0;
  for (guint i = 0; i < outline->curves->len; i++)
    count += g_array_index(outline->curves, HfCurve, i).kind == kind;
  return count;
}

static void
test_square(void)
{
  g_autoptr(HfOutline) square = hf_outline_new();
  hf_outline_add_rectangle(square, (HfBox){{0, 0}, {20, 10}}, 0);
  g_autoptr(HfOutline) grown = hf_outline_bolder(square, 1.5);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(grown), 200 + 60 * 1.5 + G_PI * 2.25, 1e-3);
  g_assert_cmpuint(count_kind(grown, HF_CURVE_ARC), ==, 4);
  g_assert_cmpuint(count_kind(grown, HF_CURVE_LINE), ==, 4);
  g_autoptr(HfOutline) shrunk = hf_outline_bolder(square, -1.5);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(shrunk), 17 * 7, 1e-3);
  g_assert_cmpuint(shrunk->curves->len, ==, 4);
  g_autoptr(HfOutline) gone = hf_outline_bolder(square, -5.1);
  g_assert_cmpuint(hf_outline_n_contours(gone), ==, 0);
}

/* A round hole gets smaller by the same, and closes. Circles stay circles. */
static void
test_circles(void)
{
  g_autoptr(HfOutline) ring = hf_outline_new(), hole = hf_outline_new();
  hf_outline_add_circle(ring, hf_point(3, 4), 30);
  hf_outline_add_circle(hole, hf_point(3, 4), 2);
  hf_outline_reverse(hole);
  hf_outline_append(ring, hole, HF_MATRIX_IDENTITY);
  g_autoptr(HfOutline) grown = hf_outline_bolder(ring, 0.75);
  g_assert_cmpuint(hf_outline_n_contours(grown), ==, 2);
  g_assert_cmpuint(count_kind(grown, HF_CURVE_ARC), ==, grown->curves->len);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(grown), G_PI * (30.75 * 30.75 - 1.25 * 1.25),
                                 1e-2);
  g_autoptr(HfOutline) closed = hf_outline_bolder(ring, 2.1);
  g_assert_cmpuint(hf_outline_n_contours(closed), ==, 1);
}

/* Two bars that overlap, wound against each other, are one shape before it grows. */
static void
test_overlap(void)
{
  for (int way = 0; way < 2; way++) {
    g_autoptr(HfOutline) cross = hf_outline_new(), bar = hf_outline_new();
    hf_outline_add_rectangle(cross, (HfBox){{-20, -2}, {20, 2}}, 0);
    hf_outline_add_rectangle(bar, (HfBox){{-2, -20}, {2, 20}}, 0);
    hf_outline_append(cross, bar, HF_MATRIX_IDENTITY);
    if (way == 1)
      hf_outline_reverse(cross);
    g_autoptr(HfOutline) lighter = hf_outline_bolder(cross, -0.5);
    /* tips and sides lose 0.5; each of the four inner corners gets an arc about it and loses a
     * quarter of a disc where sharp corners would have met */
    g_assert_cmpfloat_with_epsilon(hf_outline_area(lighter),
                                   2 * 39 * 3 - 9 + 4 * (1 - G_PI / 4) * 0.25, 2e-3);
    g_assert_cmpuint(count_kind(lighter, HF_CURVE_ARC), ==, 4);
  }
}

/* Within 3 um of the clipper: nothing lies outside the slightly larger nor inside the smaller. */
static void
check_against_clipper(const HfOutline *outline, double by)
{
  g_autoptr(HfOutline) moved = hf_outline_bolder(outline, by);
  g_autoptr(HfRegion) raw = hf_region_new(), own = hf_region_new();
  hf_region_flatten(raw, outline, 0, 0.0005);
  g_autoptr(HfRegion) old = hf_region_clean(raw);
  hf_region_flatten(own, moved, 0, 0.0005);
  g_assert_true(hf_region_is_valid(own, NULL) || hf_region_is_empty(own) || own->rings->len > 1);
  g_autoptr(HfRegion) clean = hf_region_clean(own);
  g_autoptr(HfRegion) outside = hf_region_offset(old, by + 0.003, 0.0005);
  g_autoptr(HfRegion) inside = hf_region_offset(old, by - 0.003, 0.0005);
  g_autoptr(HfRegion) over = hf_region_subtract(clean, outside);
  g_autoptr(HfRegion) under = hf_region_subtract(inside, clean);
  g_assert_cmpfloat(hf_region_area(over), <, 1e-6);
  g_assert_cmpfloat(hf_region_area(under), <, 1e-6);
  for (guint i = 0; i < hf_outline_n_contours(moved); i++) { /* curves, not chords */
    guint n;
    hf_outline_contour(moved, i, &n);
    g_assert_cmpuint(n, <, 120);
  }
}

static void
test_letters(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(11);
  g_autoptr(Kit) kit = kit_new();
  g_autofree char *text = kit_text(rand, "IHTOVpi,'", 120);
  g_autoptr(HfLine) line = kit_line(kit, text, rand, FALSE);
  for (guint i = 0; i < kit->outlines->len; i++) {
    g_autoptr(HfOutline) letter = hf_outline_new();
    hf_outline_append(letter, (const HfOutline *)kit->outlines->pdata[i],
                      hf_matrix_scale(g_rand_double_range(rand, 20, 120), 80));
    check_against_clipper(letter, g_rand_double_range(rand, -3, 6));
  }
}

/* A round of four cubics whose joints turn by @hair radians to the wrong side, as faces are drawn
 * that look smooth: no arc about such a joint, and none of it comes out as chords. */
static void
test_hair(void)
{
  static const double hairs[] = {-0.02, -0.005, 0, 0.005};
  const double r = 12, k = 0.5523 * r;
  for (gsize h = 0; h < G_N_ELEMENTS(hairs); h++)
    for (int way = -1; way <= 1; way += 2) {
      g_autoptr(HfOutline) round = hf_outline_new();
      hf_outline_begin(round, hf_point(r, 0));
      for (int i = 0; i < 4; i++) {
        double from = i * G_PI_2, to = from + G_PI_2;
        HfPoint a = hf_point_polar(hf_point(0, 0), r, from);
        HfPoint b = hf_point_polar(hf_point(0, 0), r, to);
        hf_outline_cubic_to(round, hf_point_polar(a, k, from + G_PI_2 + hairs[h]),
                            hf_point_polar(b, k, to - G_PI_2 - hairs[h]), b);
      }
      hf_outline_close(round);
      check_against_clipper(round, way * 1.3);
      g_autoptr(HfOutline) moved = hf_outline_bolder(round, way * 1.3);
      g_assert_cmpuint(count_kind(moved, HF_CURVE_LINE), ==, 0);
      g_assert_cmpuint(moved->curves->len, <=, 24);
    }
}

/* Sides that are drawn in several pieces in line, across each other, with a curve that goes on
 * straight: booleans make one edge of them, each piece is found again. */
static void
test_in_line(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new(), bar = hf_outline_new();
  const HfPoint points[] = {{0, 0}, {7, 0}, {13, 0}, {20, 0}, {20, 8}, {20, 10}, {11, 10}, {0, 10}};
  hf_outline_add_polygon(outline, points, G_N_ELEMENTS(points));
  hf_outline_add_rectangle(bar, (HfBox){{3, 0}, {17, 10}}, 0);
  hf_outline_append(outline, bar, HF_MATRIX_IDENTITY);
  g_autoptr(HfOutline) grown = hf_outline_bolder(outline, 1.5);
  g_assert_cmpfloat_with_epsilon(hf_outline_area(grown), 200 + 60 * 1.5 + G_PI * 2.25, 1e-3);
  g_assert_cmpuint(count_kind(grown, HF_CURVE_ARC), ==, 4);
  g_assert_cmpuint(grown->curves->len, <=, 20);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/bolder/square", test_square);
  g_test_add_func("/bolder/circles", test_circles);
  g_test_add_func("/bolder/overlap", test_overlap);
  g_test_add_func("/bolder/letters", test_letters);
  g_test_add_func("/bolder/hair", test_hair);
  g_test_add_func("/bolder/in-line", test_in_line);
  return g_test_run();
}
