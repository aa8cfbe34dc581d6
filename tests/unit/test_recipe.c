/* SPDX-License-Identifier: GPL-3.0-or-later
 * Reading a recipe: what is understood, and what is said about mistakes, each with its place.
 */
#include "recipe/recipe.h"
#include <math.h>
#include <string.h>

static HfRecipe *
read_good(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfRecipe *recipe = hf_recipe_read(text, strlen(text), "boats.yaml", &error);
  g_assert_no_error(error);
  return recipe;
}

/* The sketch of the design, as it stands. */
static void
test_sketch(void)
{
  static const char sketch[] =
      "holdfast: 1\n"
      "sign: Boat yard\n"
      "metal: {kind: mild steel, thickness: 3 mm}\n"
      "process: {kerf: 1.4 mm}        # or a row of the shop's cut chart\n"
      "mount: holes\n"
      "entries:\n"
      "  - bar:   {name: rail, length: 1200 mm, height: 20 mm}\n"
      "  - words: {text: Saltmarsh Boats, font: Lobster Two, height: 140 mm, stand on: rail, "
      "spacing: joined}\n"
      "  - ear:   {on: rail, at: [left end, right end], hole: 8 mm}\n";
  g_autoptr(HfRecipe) recipe = read_good(sketch);
  g_assert_cmpstr(recipe->sign, ==, "Boat yard");
  g_assert_cmpstr(recipe->name, ==, "boats");
  g_assert_cmpstr(recipe->metal, ==, "mild steel");
  g_assert_cmpfloat(recipe->thickness, ==, 3);
  g_assert_cmpfloat(recipe->kerf, ==, 1.4);
  g_assert_true(isnan(recipe->crater));
  g_assert_cmpint(recipe->mount, ==, HF_MOUNT_HOLES);
  g_assert_cmpint(recipe->quantity, ==, 1);
  g_assert_cmpuint(recipe->entries->len, ==, 3);
  const HfEntry *rail = hf_recipe_entry(recipe, "rail");
  g_assert_cmpint(rail->kind, ==, HF_ENTRY_BAR);
  g_assert_cmpfloat(rail->bar.length, ==, 1200);
  g_assert_cmpfloat(rail->bar.corner, ==, 0);
  const HfEntry *words = hf_recipe_entry(recipe, "words 1");
  g_assert_cmpuint(words->mark.line, ==, 8);
  g_assert_cmpuint(words->mark.column, ==, 5);
  g_assert_cmpstr(g_ptr_array_index(words->words.lines, 0), ==, "Saltmarsh Boats");
  g_assert_cmpstr(words->words.font.family, ==, "Lobster Two");
  g_assert_cmpfloat(words->words.font.height, ==, 140);
  g_assert_cmpint(words->words.spacing_rule, ==, HF_SPACING_JOINED);
  g_assert_cmpstr(words->words.stand_on, ==, "rail");
  const HfEntry *ear = hf_recipe_entry(recipe, "ear 1");
  g_assert_cmpuint(ear->place.at->len, ==, 2);
  g_assert_cmpint(g_array_index(ear->place.at, HfSpot, 1).kind, ==, HF_SPOT_RIGHT_END);
  g_assert_cmpfloat(ear->ear.hole, ==, 8);
  g_assert_true(isnan(ear->ear.width));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/recipe/sketch", test_sketch);
  return g_test_run();
}
