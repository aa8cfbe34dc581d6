/* SPDX-License-Identifier: GPL-3.0-or-later
 * Ornaments: each is as its row says, and as small as its row allows it still passes the hold
 * check, of metal and cut through, on each of the three sheets for which docs/limits.md works the
 * limits out; a little smaller, on one of the three it does not.
 */
#include "hold/hold.h"
#include "layout-help.h"
#include "ornament/ornament.h"
#include <math.h>
#include <string.h>

static const struct {
  double thickness, kerf;
} sheets[] = {{1.5, 1.2}, {3, 1.5}, {5, 1.8}};

static HfOrnamentLimits
stops_on(guint sheet)
{
  HfProcess process = {.thickness = sheets[sheet].thickness,
                       .kerf = sheets[sheet].kerf,
                       .crater = sheets[sheet].kerf};
  return (HfOrnamentLimits){hf_law_usual(HF_LAW_THIN_LONG_WEB, &process).stop,
                            hf_law_usual(HF_LAW_NARROW_GAP, &process).stop,
                            hf_law_usual(HF_LAW_SMALL_OPENING, &process).stop};
}

/* By itself, or cut from a plate that is larger by half its height. */
static char *
recipe_of(HfOrnamentForm form, gboolean opening, double height, guint sheet)
{
  const char *word = hf_ornament_word(form);
  g_autofree char *own = g_strdup_printf("form: %s, height: %.4f mm", word, height);
  g_autofree char *entries =
      opening
          ? g_strdup_printf("  - plate: {name: board, shape: rectangle, width: %.3f mm, height: "
                            "%.3f mm}\n  - ornament: {%s, as: opening, on: board, at: centre}\n",
                            height * (hf_ornament_wide(form, TRUE, 0) + 1) + 40, height * 2 + 40,
                            own)
          : g_strdup_printf("  - ornament: {%s}\n", own);
  return g_strdup_printf("holdfast: 1\nmetal: {kind: mild steel, thickness: %g mm}\n"
                         "process: {kerf: %g mm}\nentries:\n%s",
                         sheets[sheet].thickness, sheets[sheet].kerf, entries);
}

/* Stops other than what only the whole sign is asked; @ret_text: (nullable) (transfer full) the
 * last one. */
static guint
stops_of(HfOrnamentForm form, gboolean opening, double height, guint sheet, char **ret_text)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *text = recipe_of(form, opening, height, sheet);
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), "test.yaml", &error);
  g_assert_no_error(error);
  g_autoptr(HfLayout) layout = hf_layout_new(recipe, NULL, 3, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
  g_assert_no_error(error);
  HfHold *hold = hf_hold_check(recipe, NULL, layout, metal, NULL, &error);
  g_assert_no_error(error);
  guint stops = 0;
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = (const HfFinding *)g_ptr_array_index(hold->findings, i);
    if (finding->gravity != HF_STOP)
      continue;
    stops++;
    g_test_message("%s", finding->text);
    if (ret_text != NULL) {
      g_free(*ret_text);
      *ret_text = g_strdup(finding->text);
    }
  }
  hf_hold_free(hold);
  return stops;
}

static void
check_smallest(HfOrnamentForm form, gboolean opening)
{
  guint stopped = 0;
  for (guint sheet = 0; sheet < G_N_ELEMENTS(sheets); sheet++) {
    HfOrnamentLimits stops = stops_on(sheet);
    double least = hf_ornament_smallest(form, opening, &stops);
    g_test_message("%s, %s, sheet %u: %.1f mm", hf_ornament_word(form),
                   opening ? "cut through" : "metal", sheet, least);
    g_assert_cmpfloat(least, >, 3);
    g_assert_cmpfloat(least, <, 200);
    g_assert_cmpuint(stops_of(form, opening, least, sheet, NULL), ==, 0);
    g_assert_cmpuint(stops_of(form, opening, 1.7 * least, sheet, NULL), ==, 0);
    for (double share = 0.97; share > 0.8; share -= 0.04)
      stopped += stops_of(form, opening, share * least, sheet, NULL);
  }
  g_assert_cmpuint(stopped, >, 0);
}

static void
test_smallest(void)
{
  for (int i = 0; i < HF_N_ORNAMENTS; i++)
    for (int opening = 0; opening < 2; opening++)
      check_smallest((HfOrnamentForm)i, opening == 1);
}

/* Too small, it is told how large it has to be. */
static void
test_hint(void)
{
  HfOrnamentLimits stops = stops_on(1);
  double least = hf_ornament_smallest(HF_ORNAMENT_ANCHOR, FALSE, &stops);
  g_autofree char *text = NULL,
                  *wanted = g_strdup_printf("make it at least %g mm high", ceil(least));
  g_assert_cmpuint(stops_of(HF_ORNAMENT_ANCHOR, FALSE, 0.8 * least, 1, &text), >, 0);
  g_assert_nonnull(strstr(text, wanted));
}

/* Each contour closed, no curve without length, box 1 high about 0 0, alike for all points. */
static void
check_drawing(HfOrnamentForm form, gboolean opening, int points)
{
  g_autoptr(HfOrnament) ornament = hf_ornament_new(form, opening, points);
  HfBox box = hf_outline_box(ornament->own);
  assert_near(hf_box_height(box), 1, 1e-9);
  assert_near(hf_box_centre(box).x, 0, 1e-9);
  assert_near(hf_box_centre(box).y, 0, 1e-9);
  assert_near(hf_box_width(box), hf_ornament_wide(form, opening, points), 1e-9);
  const HfOutline *outlines[] = {ornament->own, ornament->cuts, ornament->bars};
  for (guint k = 0; k < 3; k++)
    for (guint i = 0; i < hf_outline_n_contours(outlines[k]); i++) {
      guint n;
      const HfCurve *curve = hf_outline_contour(outlines[k], i, &n);
      for (guint j = 0; j < n; j++)
        g_assert_cmpfloat(hf_point_distance(curve[j].p1, curve[(j + 1) % n].p0), <, 1e-9);
    }
  g_assert_cmpuint(hf_outline_n_contours(opening ? ornament->cuts : ornament->bars), ==, 0);
}

static void
test_drawings(void)
{
  for (int i = 0; i < HF_N_ORNAMENTS; i++) {
    const HfOrnamentRow *row = hf_ornament_row((HfOrnamentForm)i);
    g_assert_true(row->points == 0 || (row->least <= row->points && row->points <= row->most));
    for (int opening = 0; opening < 2; opening++)
      for (int points = row->least; points <= row->most; points++)
        check_drawing((HfOrnamentForm)i, opening == 1, points);
  }
}

/* Of metal one piece, with as many points as may be. */
static void
test_one_piece(void)
{
  for (int i = 0; i < HF_N_ORNAMENTS; i++) {
    const HfOrnamentRow *row = hf_ornament_row((HfOrnamentForm)i);
    for (int points = row->least; points <= row->most; points++) {
      g_autofree char *more = points > 0 ? g_strdup_printf(", points: %d", points) : g_strdup("");
      g_autofree char *entries = g_strdup_printf("  - ornament: {form: %s, height: 300 mm%s}\n",
                                                 hf_ornament_word((HfOrnamentForm)i), more);
      g_autoptr(HfLayout) layout = help_layout(entries);
      g_test_message("%s", entries);
      g_assert_cmpuint(help_pieces(layout), ==, 1);
    }
  }
}

/* It stands so deep that the joint is 1.25 limits wide, at both ends and in the middle. */
static void
test_standing(void)
{
  g_autoptr(HfLayout) layout =
      help_layout("  - bar: {name: rail, length: 600 mm, height: 30 mm}\n"
                  "  - ornament: {form: heart, width: 60 mm, stand on: rail, "
                  "at: [left end, centre, right end]}\n"
                  "  - ornament: {form: horseshoe, height: 90 mm, stand on: rail, bite: 4 mm, "
                  "at: [150 mm, 0 mm]}\n");
  g_assert_cmpuint(help_pieces(layout), ==, 1);
  HfBox left = help_box(layout, 1), middle = help_box(layout, 2), right = help_box(layout, 3);
  assert_near(left.min.x, -300, 1e-6);
  assert_near(hf_box_centre(middle).x, 0, 1e-6);
  assert_near(right.max.x, 300, 1e-6);
  assert_near(hf_box_width(left), 60, 1e-6);
  /* the tip of a heart opens by 76 degrees: a joint of 1.25 x 3 mm is 2.4 mm deep */
  assert_near(15 - middle.min.y, 1.25 * 3 / 2 / tan(38.3 * G_PI / 180), 0.2);
  HfBox shoe = help_box(layout, 4);
  assert_near(15 - shoe.min.y, 4, 1e-6);
  assert_near(hf_box_height(shoe), 90, 1e-6);
  assert_near(hf_box_centre(shoe).x, 150, 1e-6);
}

static void
test_refused(void)
{
  g_autofree char *deep = help_refused("  - bar: {name: rail, length: 600 mm, height: 30 mm}\n"
                                       "  - ornament: {form: heart, width: 60 mm, stand on: rail, "
                                       "bite: 40 mm}\n");
  g_assert_nonnull(strstr(deep, "it bites by 40 mm, and what it stands on is only 30 mm high"));
  g_autofree char *round = help_refused("  - plate: {name: board, shape: round, diameter: 90 mm}\n"
                                        "  - ornament: {form: key, width: 60 mm, stand on: "
                                        "board}\n");
  g_assert_nonnull(strstr(round, "no straight top for an ornament"));
}

/* Mirrored, a fish swims to the right: the tail, at its widest, is on the left. */
static void
test_mirror(void)
{
  g_autoptr(HfLayout) layout = help_layout("  - ornament: {form: fish, height: 100 mm}\n"
                                           "  - ornament: {form: fish, height: 100 mm, mirror: "
                                           "yes}\n");
  const HfOutline *a = hf_layout_shape(layout, 0)->outline,
                  *b = hf_layout_shape(layout, 2)->outline;
  for (guint i = 0; i < a->curves->len; i++) {
    HfPoint p = g_array_index(a->curves, HfCurve, i).p0,
            q = g_array_index(b->curves, HfCurve, i).p0;
    assert_near(p.x, -q.x, 1e-9);
    assert_near(p.y, q.y, 1e-9);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/ornament/drawings", test_drawings);
  g_test_add_func("/ornament/one-piece", test_one_piece);
  g_test_add_func("/ornament/smallest", test_smallest);
  g_test_add_func("/ornament/hint", test_hint);
  g_test_add_func("/ornament/standing", test_standing);
  g_test_add_func("/ornament/refused", test_refused);
  g_test_add_func("/ornament/mirror", test_mirror);
  return g_test_run();
}
