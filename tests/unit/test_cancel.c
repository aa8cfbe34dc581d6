/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_cancel.c - stopped at any moment, a stage ends with nothing and says that it was stopped;
 * the address sanitizer says that all is freed then.
 *
 *   asked to stop at once, after 50 us, 75 us, 113 us ... until it comes too late
 *
 * The moment hangs on the machine, what must hold at it does not: either the whole result, the same
 * as without a flag, or none with %HF_ERROR_CANCELLED.
 */
#include "enough.h"
#include "out/out.h"
#include <string.h>

#define HEAD "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
#define FERRY                                                                                      \
  HEAD "entries:\n"                                                                                \
       "  - bar: {name: rail, length: 900 mm, height: 20 mm}\n"                                    \
       "  - words: {text: Saltmarsh Quay ferry steps and boat yard, font: DejaVu Serif, height: "  \
       "60 "                                                                                       \
       "mm, stand on: rail, spacing: joined pair by pair}\n"
#define BADGE                                                                                      \
  HEAD "entries:\n"                                                                                \
       "  - ring: {name: outer, outer: 500 mm, width: 14 mm}\n"                                    \
       "  - ring: {name: inner, outer: 330 mm, width: 14 mm}\n"                                    \
       "  - words: {text: SALTMARSH BOAT HIRE, font: DejaVu Serif, band: [inner, "                 \
       "outer], fill band: yes, spacing: joined, bolder: 0.5 mm}\n"
/* 800 holes in a plate: more shapes than are joined at once */
#define HOLES                                                                                      \
  HEAD "entries:\n"                                                                                \
       "  - plate: {name: board, shape: rectangle, width: 1000 mm, height: 600 mm}\n"              \
       "  - hole pattern: {diameter: 8 mm, columns: 40, rows: 20, pitch: 20 mm, on: board}\n"

typedef gpointer (*Make)(gconstpointer from, const HfCancel *cancel, GError **error);

typedef struct {
  HfCancel cancel;
  gulong after; /* us */
} Stopper;

static gpointer
stop(gpointer data)
{
  Stopper *stopper = data;
  if (stopper->after > 0)
    g_usleep(stopper->after);
  hf_cancel_ask(&stopper->cancel);
  return NULL;
}

/* %TRUE: it came to its end before it was stopped. */
static gboolean
try_after(Make make, gconstpointer from, GDestroyNotify let_go, gulong after)
{
  g_autoptr(GError) error = NULL;
  Stopper stopper = {{0}, after};
  if (after == 0)
    hf_cancel_ask(&stopper.cancel);
  GThread *thread = g_thread_new("stop", stop, &stopper);
  gpointer made = make(from, &stopper.cancel, &error);
  g_thread_join(thread);
  if (made == NULL) {
    g_assert_error(error, HF_ERROR, HF_ERROR_CANCELLED);
    return FALSE;
  }
  g_assert_no_error(error);
  let_go(made);
  return TRUE;
}

static void
stop_at_any_moment(Make make, gconstpointer from, GDestroyNotify let_go)
{
  g_assert_false(try_after(make, from, let_go, 0)); /* it looks at the flag at all */
  guint ended = 0;
  for (gulong after = 50; ended < 2 && after < 60 * G_USEC_PER_SEC;
       after += HF_SANITIZED ? 2 * after : after / 2)
    ended += try_after(make, from, let_go, after);
  g_assert_cmpuint(ended, ==, 2); /* and an unasked one stops nothing */
}

/* ---- the stages -------------------------------------------------------------------------------
 */

static HfRecipe *
recipe_of(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfRecipe *recipe = hf_recipe_read(text, strlen(text), "ferry.yaml", &error);
  g_assert_no_error(error);
  return recipe;
}

/* Fonts outlive the faces that a layout points to. */
static HfFonts *fonts_of_test;

static gpointer
lay_out(gconstpointer recipe, const HfCancel *cancel, GError **error)
{
  return hf_layout_new(recipe, fonts_of_test, 3, cancel, error);
}

static void
test_layout(gconstpointer text)
{
  g_autoptr(HfRecipe) recipe = recipe_of(text);
  fonts_of_test = hf_fonts_new();
  stop_at_any_moment(lay_out, recipe, (GDestroyNotify)hf_layout_free);
  g_clear_pointer(&fonts_of_test, hf_fonts_free);
}

static gpointer
make_metal(gconstpointer layout, const HfCancel *cancel, GError **error)
{
  return hf_metal_new(layout, cancel, error);
}

static void
test_metal(gconstpointer text)
{
  g_autoptr(HfRecipe) recipe = recipe_of(text);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(HfLayout) layout = hf_layout_new(recipe, fonts, 3, NULL, NULL);
  stop_at_any_moment(make_metal, layout, (GDestroyNotify)hf_metal_free);
}

static HfSign *
sign_of(const char *text)
{
  g_autoptr(HfRecipe) recipe = recipe_of(text);
  g_autoptr(HfShop) shop = hf_shop_find("/nowhere/ferry.yaml", NULL);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  return hf_sign_new(recipe, shop, fonts, HF_SIGN_SHOWN, NULL, NULL);
}

static gpointer
draw_png(gconstpointer sign, const HfCancel *cancel, GError **error)
{
  return hf_out_png(sign, 800, cancel, error);
}

static gpointer
draw_pdf(gconstpointer sign, const HfCancel *cancel, GError **error)
{
  return hf_out_pdf(sign, HF_PAPER_A4, cancel, error);
}

static void
test_pictures(gconstpointer text)
{
  g_autoptr(HfSign) sign = sign_of(text);
  stop_at_any_moment(draw_png, sign, (GDestroyNotify)g_bytes_unref);
  stop_at_any_moment(draw_pdf, sign, (GDestroyNotify)g_bytes_unref);
}

/* ---- groups that can't touch ------------------------------------------------------------------
 */

/* 20 columns of 8 mm, 20 mm apart, in each row all touch: of so many shapes that they are joined by
 * groups the metal is what it is by hand. */
static void
test_groups(void)
{
  g_autoptr(HfRecipe) recipe = recipe_of(HOLES);
  g_autoptr(HfLayout) layout = hf_layout_new(recipe, NULL, 3, NULL, NULL);
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, NULL);
  g_assert_cmpuint(metal->region->rings->len, ==, 801);
  double least = 1000 * 600 - 800 * G_PI * 16;
  g_assert_cmpfloat(fabs(hf_region_area(metal->region) - least), <,
                    800 * 8 * G_PI * HF_FLATTEN_MM); /* chords */
  for (guint r = 0; r < metal->region->rings->len; r++)
    g_assert_true((hf_region_ring(metal->region, r)->parent < 0) ==
                  (hf_ring_area(hf_region_ring(metal->region, r)) > 0));
}

/* The same where every hole runs into its neighbours of the row: 20 slots. */
static void
test_groups_that_touch(void)
{
  g_autoptr(HfRecipe) recipe = recipe_of(
      HEAD "entries:\n"
           "  - plate: {name: board, shape: rectangle, width: 1000 mm, height: 600 mm}\n"
           "  - hole pattern: {name: a, diameter: 8 mm, columns: 40, rows: 20, pitch: 20 mm, on: "
           "board}\n"
           "  - hole pattern: {name: b, diameter: 13 mm, columns: 40, rows: 20, pitch: 20 mm, on: "
           "board, shift: [10 mm, 0 mm]}\n");
  g_autoptr(HfLayout) layout = hf_layout_new(recipe, NULL, 3, NULL, NULL);
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, NULL);
  g_assert_cmpuint(metal->region->rings->len, ==, 1 + 20); /* 4 mm + 6.5 mm > 10 mm */
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_data_func("/cancel/layout/standing", FERRY, test_layout);
  g_test_add_data_func("/cancel/layout/band", BADGE, test_layout);
  g_test_add_data_func("/cancel/metal/words", FERRY, test_metal);
  g_test_add_data_func("/cancel/metal/holes", HOLES, test_metal);
  g_test_add_data_func("/cancel/pictures", FERRY, test_pictures);
  g_test_add_func("/cancel/groups", test_groups);
  g_test_add_func("/cancel/groups-that-touch", test_groups_that_touch);
  return g_test_run();
}
