/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_words_initial.c - smallest circles, cutting along a line, whole words entries from a recipe.
 */
#include "geom/clear.h"
#include "geom/region.h"
#include "layout/cut-private.h"
#include "layout/initial-private.h"
#include "words_kit.h"

static GPtrArray *
shapes_of(const char *text, GRand *rand, Kit *kit)
{
  g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, text, rand, FALSE));
  HfSetting s = {.size = g_rand_double_range(rand, 50, 300), .wide = 1};
  g_autoptr(HfPlaced) placed = hf_place_straight(wording, &s, 0, HF_ALIGN_CENTRE);
  HfMatrix turn = hf_matrix_turn(g_rand_double_range(rand, 0, 6));
  GPtrArray *shapes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_shape_free);
  for (guint i = 0; i < placed->letters->len; i++) {
    if (hf_placed_letter(placed, i)->outline == NULL)
      continue;
    HfOutline *outline = hf_outline_new();
    hf_outline_append(outline, hf_placed_letter(placed, i)->outline, turn);
    g_ptr_array_add(shapes, hf_shape_new(outline, g_strdup(text), 0, (gint)i, FALSE));
  }
  return shapes;
}

/* Brute force: sampled points; the circle holds all, touches some, and those it touches do not lie
 * within one half of it, which proves it the smallest. */
static void
test_smallest_circle(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(71);
  for (int round = 0; round < 60; round++) {
    g_autoptr(Kit) kit = kit_new();
    g_autofree char *text = kit_text(rand, "IHTOVp,'", 1 + (guint)round % 3);
    g_autoptr(GPtrArray) shapes = shapes_of(text, rand, kit);
    HfPoint centre;
    double radius = hf_smallest_circle(shapes, &centre), farthest = 0;
    g_autoptr(GArray) touching = g_array_new(FALSE, FALSE, sizeof(double));
    for (guint i = 0; i < shapes->len; i++) {
      g_autoptr(GArray) points =
          kit_points(((HfShape *)g_ptr_array_index(shapes, i))->outline, 4000);
      for (guint k = 0; k < points->len; k++) {
        HfPoint p = hf_point_sub(g_array_index(points, HfPoint, k), centre);
        double angle = hf_angle_of(p);
        farthest = MAX(farthest, hf_point_length(p));
        if (hf_point_length(p) > radius - 1e-5)
          g_array_append_val(touching, angle);
      }
    }
    g_assert_cmpfloat(farthest, <, radius + 1e-6);
    g_assert_cmpfloat(farthest, >, radius - 1e-4);
    double widest_gap = 0;
    for (guint i = 0; i < touching->len; i++) {
      double nearest = 2 * G_PI, from = g_array_index(touching, double, i);
      for (guint k = 0; k < touching->len; k++) {
        double turn = fmod(g_array_index(touching, double, k) - from + 4 * G_PI, 2 * G_PI);
        if (k != i && turn > 1e-12)
          nearest = MIN(nearest, turn);
      }
      widest_gap = MAX(widest_gap, nearest);
    }
    g_assert_cmpfloat(widest_gap, <, G_PI + 0.01);
  }
}

/* What is kept on both sides of a line adds up to the whole. */
static void
test_cut(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(72);
  for (int round = 0; round < 60; round++) {
    g_autoptr(Kit) kit = kit_new();
    g_autofree char *text = kit_text(rand, "HOVTp", 1);
    g_autoptr(GPtrArray) shapes = shapes_of(text, rand, kit);
    const HfOutline *outline = ((HfShape *)g_ptr_array_index(shapes, 0))->outline;
    HfBox box = hf_outline_box(outline);
    HfPoint at = {g_rand_double_range(rand, box.min.x, box.max.x),
                  g_rand_double_range(rand, box.min.y, box.max.y)};
    HfPoint along = hf_point_polar(hf_point(0, 0), 3, g_rand_double_range(rand, 0, 6.28));
    g_autoptr(HfOutline) left = hf_cut_line(outline, at, along);
    g_autoptr(HfOutline) right = hf_cut_line(outline, at, hf_point_scale(along, -1));
    double sum = hf_outline_area(left) + hf_outline_area(right);
    g_assert_cmpfloat(fabs(sum - hf_outline_area(outline)), <, 1e-6 * hf_outline_area(outline));
    for (guint i = 0; i < left->curves->len; i++) {
      HfPoint p = hf_curve_point(&g_array_index(left->curves, HfCurve, i), 0.37);
      g_assert_cmpfloat(hf_point_cross(along, hf_point_sub(p, at)), >, -1e-6);
    }
  }
}

/* ---- from a recipe --------------------------------------------------------------------------- */

typedef struct {
  HfFonts *fonts;
  HfRecipe *recipe;
  HfLayout *layout;
  GError *error;
} Laid;

static void
laid_clear(Laid *laid)
{
  hf_layout_free(laid->layout);
  hf_recipe_free(laid->recipe);
  hf_fonts_free(laid->fonts);
  g_clear_error(&laid->error);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Laid, laid_clear)

/* %FALSE, and the test is skipped, where the fonts are not installed. */
static gboolean
lay(Laid *laid, const char *entries)
{
  laid->fonts = hf_fonts_new();
  static const char *const families[] = {"Bebas Neue", "Lobster Two"};
  for (guint i = 0; i < G_N_ELEMENTS(families); i++) {
    HfFaceWanted wanted = {.family = families[i]};
    if (hf_fonts_open(laid->fonts, &wanted, NULL, NULL) == NULL) {
      g_test_skip("Bebas Neue and Lobster Two are not installed");
      return FALSE;
    }
  }
  g_autofree char *text = g_strdup_printf("holdfast: 1\n"
                                          "metal: {kind: mild steel, thickness: 3 mm}\n"
                                          "process: {kerf: 1.5 mm}\n"
                                          "mount: none\n"
                                          "entries:\n%s",
                                          entries);
  laid->recipe = hf_recipe_read(text, strlen(text), "test.yaml", &laid->error);
  g_assert_no_error(laid->error);
  laid->layout = hf_layout_new(laid->recipe, laid->fonts, 2.5, NULL, &laid->error);
  return TRUE;
}

static guint
parts_of(const HfLayout *layout)
{
  g_autoptr(HfRegion) metal = hf_region_new();
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, shape->outline, i, 0.005);
    g_autoptr(HfRegion) clean = hf_region_clean(raw);
    const HfRegion *const both[] = {metal, clean};
    HfRegion *next = shape->opening ? hf_region_subtract(metal, clean) : hf_region_union(both, 2);
    hf_region_free(metal);
    metal = next;
  }
  guint parts = 0;
  for (guint i = 0; i < metal->rings->len; i++)
    parts +=
        hf_region_ring(metal, i)->parent < 0 && fabs(hf_ring_area(hf_region_ring(metal, i))) > 1;
  return parts;
}

static double
solved(const HfLayout *layout, HfSolvedWhat what)
{
  for (guint i = 0; i < layout->solved->len; i++)
    if (g_array_index(layout->solved, HfSolved, i).what == what)
      return g_array_index(layout->solved, HfSolved, i).value;
  return NAN;
}

static void
test_window(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - ring: {name: r, outer: 400 mm, inner: 370 mm}\n"
                  "  - initial: {text: S, font: Lobster Two, fill window of: r, bite: 3 mm}\n"))
    return;
  g_assert_no_error(laid.error);
  HfPoint centre;
  g_autoptr(GPtrArray) letter = g_ptr_array_new();
  g_ptr_array_add(letter, g_ptr_array_index(laid.layout->shapes, 1));
  double radius = hf_smallest_circle(letter, &centre);
  g_assert_cmpfloat(fabs(radius - 188), <, 1e-4);
  g_assert_cmpfloat(hf_point_length(centre), <, 1e-4);
  g_assert_cmpuint(laid.layout->joints->len, >=, 2);
  g_assert_cmpuint(parts_of(laid.layout), ==, 1);
}

static void
test_split(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - words: {name: boats, text: Harbour, font: Lobster Two, height: 60 mm, "
                  "spacing: joined pair by pair}\n"
                  "  - initial: {text: B, font: Bebas Neue, height: 300 mm, split by: boats, "
                  "split bar: 10 mm}\n"))
    return;
  g_assert_no_error(laid.error);
  g_assert_cmpuint(parts_of(laid.layout), ==, 1);
}

static void
test_interlaced(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - initial: {text: SQ, font: Bebas Neue, height: 250 mm, interlace: 5 mm}\n"))
    return;
  g_assert_no_error(laid.error);
  guint gaps = 0, ties = 0;
  for (guint i = 0; i < laid.layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(laid.layout, i);
    gaps += shape->opening;
    ties += g_str_has_prefix(shape->label, "tie ");
  }
  g_assert_cmpuint(gaps, >=, 2);
  g_assert_cmpuint(ties, >=, 1);
  g_assert_cmpuint(parts_of(laid.layout), ==, 1);
}

static HfBox
letter_box(const Laid *laid, guint i)
{
  return hf_outline_box(hf_layout_shape(laid->layout, i)->outline);
}

/* I, L and T are as high as a capital: the outer ones are two thirds of it, about its middle, and
 * as far from it as is said. */
static void
test_tall_middle(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - initial: {text: ITL, font: Bebas Neue, height: 240 mm, set as: tall middle, "
                  "gap between: 6 mm, as: opening}\n"))
    return;
  g_assert_no_error(laid.error);
  HfBox i = letter_box(&laid, 0), t = letter_box(&laid, 1), l = letter_box(&laid, 2);
  g_assert_cmpfloat(fabs(hf_box_height(t) - 240), <, 0.01);
  g_assert_cmpfloat(fabs(hf_box_height(i) - 160), <, 0.01);
  g_assert_cmpfloat(fabs(hf_box_height(l) - 160), <, 0.01);
  g_assert_cmpfloat(fabs(hf_box_centre(i).y - hf_box_centre(t).y), <, 0.01);
  g_autoptr(HfClear) edge = hf_clear_new(hf_layout_shape(laid.layout, 1)->outline);
  for (guint k = 0; k < 3; k += 2)
    g_assert_cmpfloat(
        fabs(hf_clear_apart(edge, hf_layout_shape(laid.layout, k)->outline, INFINITY) - 6), <,
        1e-5);
}

/* Two above each other are as high as the third beside them, and all of metal is one part. */
static void
test_stacked(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - initial: {text: ITL, font: Bebas Neue, height: 240 mm, set as: stacked}\n"))
    return;
  g_assert_no_error(laid.error);
  HfBox both = hf_box_union(letter_box(&laid, 0), letter_box(&laid, 1));
  g_assert_cmpfloat(fabs(hf_box_height(both) - hf_box_height(letter_box(&laid, 2))), <, 1e-4);
  g_assert_cmpfloat(letter_box(&laid, 0).min.y, >, hf_box_centre(both).y - 10);
  g_assert_cmpuint(parts_of(laid.layout), ==, 1);
}

/* Stems that lie on each other, in every way that they could stand, would not read. */
static void
test_not_woven(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - initial: {text: III, font: Bebas Neue, height: 250 mm, interlace: 5 mm}\n"))
    return;
  g_assert_error(laid.error, HF_ERROR, HF_ERROR_NO_ROOM);
  g_assert_nonnull(strstr(laid.error->message, "would not read woven"));
  g_assert_nonnull(strstr(laid.error->message, "set as"));
}

/* Every contact with the bar bites by 2 mm or more, one by exactly that: by the letters' boxes. */
static void
test_standing(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - bar: {name: rail, length: 900 mm, height: 20 mm}\n"
                  "  - words: {text: BOATS & TIDES, font: Bebas Neue, height: 90 mm, bite: 2 mm, "
                  "stand on: rail}\n"))
    return;
  g_assert_no_error(laid.error);
  double least = INFINITY;
  for (guint i = 1; i < laid.layout->shapes->len; i++)
    least = MIN(least, 10 - hf_outline_box(hf_layout_shape(laid.layout, i)->outline).min.y);
  g_assert_cmpfloat(fabs(least - 2), <, 1e-4);
  g_assert_cmpuint(parts_of(laid.layout), ==, 1);
}

/* A text that is too long: the ring gives way by as little as lets it fit. */
static void
test_ring_gives_way(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - ring: {name: outer, outer: 400 mm, width: 15 mm}\n"
                  "  - ring: {name: inner, outer: 270 mm, width: 12 mm}\n"
                  "  - words: {text: SALTMARSH QUAY BOAT YARD AND POTTERY BY THE SEASHORE, font: "
                  "Bebas Neue, "
                  "band: [inner, outer], fill band: yes, bite: 2 mm, "
                  "give way: [spacing, letter width, ring]}\n"))
    return;
  g_assert_no_error(laid.error);
  double outer = solved(laid.layout, HF_SOLVED_OUTER_DIAMETER);
  g_assert_cmpfloat(solved(laid.layout, HF_SOLVED_LETTER_WIDTH), ==, 0.85);
  g_assert_cmpfloat(outer, >, 270);
  g_assert_cmpuint(parts_of(laid.layout), ==, 1);
}

static void
test_refusal_says_what_fits(void)
{
  g_auto(Laid) laid = {0};
  if (!lay(&laid, "  - ring: {name: outer, outer: 400 mm, width: 15 mm}\n"
                  "  - ring: {name: inner, outer: 270 mm, width: 12 mm}\n"
                  "  - words: {text: SALTMARSH QUAY BOAT YARD AND POTTERY BY THE SEASHORE, font: "
                  "Bebas Neue, "
                  "band: [inner, outer], fill band: yes, bite: 2 mm}\n"))
    return;
  g_assert_error(laid.error, HF_ERROR, HF_ERROR_NO_ROOM);
  g_test_message("%s", laid.error->message);
  g_assert_nonnull(strstr(laid.error->message, "letters"));
  g_assert_nonnull(strstr(laid.error->message, "outer ring"));
  g_assert_nonnull(strstr(laid.error->message, "narrower"));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/words/circle", test_smallest_circle);
  g_test_add_func("/words/cut", test_cut);
  g_test_add_func("/words/window", test_window);
  g_test_add_func("/words/split", test_split);
  g_test_add_func("/words/interlaced", test_interlaced);
  g_test_add_func("/words/tall-middle", test_tall_middle);
  g_test_add_func("/words/stacked", test_stacked);
  g_test_add_func("/words/not-woven", test_not_woven);
  g_test_add_func("/words/standing", test_standing);
  g_test_add_func("/words/ring-gives-way", test_ring_gives_way);
  g_test_add_func("/words/refusal", test_refusal_says_what_fits);
  return g_test_run();
}
