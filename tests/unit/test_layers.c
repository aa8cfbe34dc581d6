/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_layers.c - sheets one behind the other: which entry is in which, one verdict, holes that go
 * through. t = 3 mm, k = 1.5 mm. Statics: a plate of rectangles, worked by hand.
 */
#include "out/format.h"
#include "run/run-private.h"
#include <string.h>

#define HEAD "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
#define BOARD                                                                                      \
  "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm, layer: back}\n"
#define FACE "  - plate: {name: face, shape: rectangle, width: 260 mm, height: 80 mm}\n"
#define SLOT "  - ring: {name: slot, outer: 60 mm, inner: 50 mm, on: board, as: opening}\n"

static HfSign *
run(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  HfSign *sign = hf_run_text(text, strlen(text), "/nowhere/quay.yaml", &options, &error);
  g_assert_no_error(error);
  return sign;
}

/* What is cut into the board, fixed to it, stands on it or ties it is in the back by itself; what
 * is only placed on it is in front of it. */
static void
test_which_layer(void)
{
  static const char text[] =
      HEAD "entries:\n" BOARD "  - dot: {name: seen, diameter: 40 mm, on: board}\n"
           "  - dot: {name: cut, diameter: 40 mm, on: board, as: opening, at: [60 mm, 0 mm]}\n"
           "  - ear: {name: lug, hole: 8 mm, on: board, at: top}\n"
           "  - bar: {name: rail, length: 200 mm, height: 10 mm, layer: middle}\n"
           "  - ties: {name: some, of: [cut]}\n  - ties: {name: all}\n"
           "  - ties: {name: one, layer: middle}\n";
  static const struct {
    const char *name;
    guint layers;
  } rows[] = {{"board", 1 << HF_LAYER_BACK},
              {"seen", 1 << HF_LAYER_FRONT},
              {"cut", 1 << HF_LAYER_BACK},
              {"lug", 1 << HF_LAYER_BACK},
              {"rail", 1 << HF_LAYER_MIDDLE},
              {"some", 1 << HF_LAYER_BACK},
              {"all", 0xe},
              {"one", 1 << HF_LAYER_MIDDLE}};
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++)
    g_assert_cmphex(hf_recipe_entry(recipe, rows[i].name)->layers, ==, rows[i].layers);
  g_assert_true(hf_recipe_is_layered(recipe));
  g_assert_cmphex(hf_recipe_layers(recipe), ==, 0xe);
}

/* A kerf is that of one sheet; a layer of the same sheet has it too. */
static void
test_own_sheet(void)
{
  static const char text[] = HEAD "back: {metal: aluminium, thickness: 2 mm}\n"
                                  "middle: {behind: 5 mm}\nentries:\n" FACE BOARD
                                  "  - bar: {length: 9 mm, height: 9 mm, layer: middle}\n";
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  g_autoptr(HfRecipe) back = hf_recipe_in_layer(recipe, HF_LAYER_BACK, HF_MOUNT_NONE);
  g_autoptr(HfRecipe) middle = hf_recipe_in_layer(recipe, HF_LAYER_MIDDLE, HF_MOUNT_NONE);
  g_assert_cmpstr(back->metal, ==, "aluminium");
  g_assert_cmpfloat(back->thickness, ==, 2);
  g_assert_true(isnan(back->kerf));
  g_assert_cmpstr(middle->metal, ==, "mild steel");
  g_assert_cmpfloat(middle->kerf, ==, 1.5);
  g_assert_false(hf_recipe_is_layered(back));
}

/* As the front where a layer says nothing of it; aluminium does not rust. */
static void
test_own_finish(void)
{
  static const char text[] =
      HEAD "finish: rusted\nback: {metal: aluminium, thickness: 2 mm}\n"
           "middle: {behind: 5 mm, finish: {paint: dark green, coat: 0.1 "
           "mm}}\nentries:\n" FACE BOARD "  - bar: {length: 9 mm, height: 9 mm, layer: middle}\n";
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  g_autoptr(HfRecipe) front = hf_recipe_in_layer(recipe, HF_LAYER_FRONT, HF_MOUNT_NONE);
  g_autoptr(HfRecipe) back = hf_recipe_in_layer(recipe, HF_LAYER_BACK, HF_MOUNT_NONE);
  g_autoptr(HfRecipe) middle = hf_recipe_in_layer(recipe, HF_LAYER_MIDDLE, HF_MOUNT_NONE);
  g_assert_cmpint(front->finish.kind, ==, HF_FINISH_RUSTED);
  g_assert_cmpint(back->finish.kind, ==, HF_FINISH_UNSAID);
  g_assert_cmpfloat(hf_finish_coat(&back->finish), ==, 0);
  g_assert_cmpint(middle->finish.kind, ==, HF_FINISH_PAINT);
  g_assert_cmpfloat(hf_finish_coat(&middle->finish), ==, 0.1);
}

/* The hole of both sheets is one shape, not two that are alike. */
static void
test_one_hole(void)
{
  g_autoptr(HfSign) sign = run(HEAD "entries:\n" BOARD FACE
                                    "  - hole: {diameter: 6 mm, at: [[-100 mm, 0 mm], [145 mm, 0 "
                                    "mm]], layer: front}\n");
  const GPtrArray *front = hf_sign_layer(sign, 0)->layout->shapes;
  const GPtrArray *back = hf_sign_layer(sign, 1)->layout->shapes;
  g_assert_cmpuint(hf_sign_n_layers(sign), ==, 2);
  g_assert_cmpuint(front->len, ==, 2); /* the second hole meets the board alone */
  g_assert_cmpuint(back->len, ==, 3);
  g_assert_true(front->pdata[1] == back->pdata[1]);
}

static void
test_one_verdict(void)
{
  g_autoptr(HfSign) sign = run(HEAD "entries:\n" BOARD FACE SLOT);
  g_autoptr(HfSign) fitted = hf_sign_fitted(sign);
  g_assert_true(hf_sign_layer(sign, 0)->hold->whole);
  g_assert_false(hf_sign_layer(sign, 1)->hold->whole);
  g_assert_false(sign->hold->whole);
  const HfFinding *first = hf_sign_finding(sign, 0);
  g_assert_cmpint(first->gravity, ==, HF_STOP);
  g_assert_cmpint(first->layer, ==, HF_LAYER_BACK);
  g_assert_true(g_str_has_prefix(first->text, "back: "));
  for (guint i = 0; i < 2; i++) {
    g_autoptr(HfSign) cut = hf_sign_layer_to_cut(fitted, i);
    g_assert_false(cut->hold->whole);
    g_assert_cmpfloat(cut->frame.min.x, ==, -150);
  }
}

/* Rules that are worked out on what is there come to the same as all of it anew. */
static void
test_goes_on(void)
{
#define GIVEN HEAD "entries:\n" BOARD FACE SLOT
  static const char longer[] = GIVEN "  - ties: {}\n";
  g_autoptr(GError) error = NULL;
  g_autoptr(HfSign) given = run(GIVEN), anew = run(longer);
  g_autoptr(HfRecipe) recipe = hf_recipe_read(longer, strlen(longer), "/nowhere/quay.yaml", &error);
  g_assert_no_error(error);
  g_assert_true(hf_run_goes_on(given, recipe));
  g_autoptr(HfSign) on = hf_run_on(given, recipe, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(GBytes) a = hf_out_report(anew, &(HfReportMore){NULL});
  g_autoptr(GBytes) b = hf_out_report(on, &(HfReportMore){NULL});
  g_assert_true(g_bytes_equal(a, b));
  g_assert_true(on->hold->whole);
#undef GIVEN
}

/* 300 x 120 at 0 with 100 x 80 at (90, 0): their centre at 90 * 8000 / 44000 = 16.36; hung 45
 * above that line it turns by atan(16.36 / 45) = 19.98 deg; without the front it hangs straight. */
static void
test_carries(void)
{
  static const char text[] =
      HEAD "mount: holes\nentries:\n" BOARD
           "  - plate: {shape: rectangle, width: 100 mm, height: 80 mm, at: [90 mm, 0 mm]}\n"
           "  - hole: {diameter: 0.3 mm, on: board, at: [0 mm, 45 mm], through: no}\n";
  g_autoptr(HfSign) sign = run(text);
  double turn = fabs(sign->hold->hanging.turn);
  g_assert_cmpfloat_with_epsilon(turn, atan(90.0 * 8000 / 44000 / 45), 1e-4);
  g_assert_cmpuint(sign->layout->hangs->len, ==, 1);
}

/* A hole that leaves no metal at an edge of the front is found, though the back is what hangs. */
static void
test_through_an_edge(void)
{
  g_autoptr(HfSign) sign =
      run(HEAD "mount: holes\nentries:\n" BOARD FACE
               "  - hole: {diameter: 6 mm, on: board, at: [[-129 mm, 0 mm], [100 mm, 0 mm]]}\n");
  g_assert_true(hf_sign_layer(sign, 1)->hold->whole);
  g_assert_false(hf_sign_layer(sign, 0)->hold->whole);
  g_assert_false(sign->hold->whole);
}

static void
test_names(void)
{
  const HfFormat *svg = hf_format(0);
  g_autofree char *one = hf_format_name(svg, HF_LAYER_UNSAID, TRUE);
  g_autofree char *back = hf_format_name(svg, HF_LAYER_BACK, TRUE);
  g_autofree char *not_whole = hf_format_name(svg, HF_LAYER_BACK, FALSE);
  g_assert_cmpstr(one, ==, "metal.svg");
  g_assert_cmpstr(back, ==, "back-metal.svg");
  g_assert_cmpstr(not_whole, ==, "back-not-to-be-cut.svg");
  g_autoptr(GPtrArray) earlier = hf_format_earlier();
  g_assert_true(g_ptr_array_find_with_equal_func(earlier, back, g_str_equal, NULL));
  g_assert_true(g_ptr_array_find_with_equal_func(earlier, "middle-metal.dxf", g_str_equal, NULL));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/layers/which", test_which_layer);
  g_test_add_func("/layers/own-sheet", test_own_sheet);
  g_test_add_func("/layers/own-finish", test_own_finish);
  g_test_add_func("/layers/one-hole", test_one_hole);
  g_test_add_func("/layers/one-verdict", test_one_verdict);
  g_test_add_func("/layers/goes-on", test_goes_on);
  g_test_add_func("/layers/carries", test_carries);
  g_test_add_func("/layers/through-an-edge", test_through_an_edge);
  g_test_add_func("/layers/names", test_names);
  return g_test_run();
}
