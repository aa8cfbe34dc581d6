/* SPDX-License-Identifier: GPL-3.0-or-later
 * What the tests of layout/ share: a recipe from its entries alone, laid with a joint limit of 3
 * mm.
 */
#pragma once
#include "layout/layout.h"
#include "metal/metal.h"

static inline char *
help_text(const char *entries)
{
  return g_strconcat("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\n"
                     "process: {kerf: 1.5 mm}\nmount: holes\nentries:\n",
                     entries, NULL);
}

static inline HfRecipe *
help_recipe(const char *entries)
{
  g_autofree char *text = help_text(entries);
  g_autoptr(GError) error = NULL;
  HfRecipe *recipe = hf_recipe_read(text, strlen(text), "test.yaml", &error);
  g_assert_no_error(error);
  return recipe;
}

static inline HfLayout *
help_layout(const char *entries)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = help_recipe(entries);
  HfLayout *layout = hf_layout_new(recipe, NULL, 3, NULL, &error);
  g_assert_no_error(error);
  return layout;
}

/* The message with which the entries are refused. */
static inline char *
help_refused(const char *entries)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = help_recipe(entries);
  g_autoptr(HfLayout) layout = hf_layout_new(recipe, NULL, 3, NULL, &error);
  g_assert_null(layout);
  return g_strdup(error->message);
}

/* How many separate pieces of metal the entries come to. */
static inline guint
help_pieces(const HfLayout *layout)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfMetal) metal = hf_metal_new(layout, NULL, &error);
  g_assert_no_error(error);
  guint pieces = 0;
  for (guint i = 0; i < metal->region->rings->len; i++)
    pieces += hf_region_ring(metal->region, i)->parent < 0;
  return pieces;
}

static inline HfBox
help_box(const HfLayout *layout, guint shape)
{
  return hf_outline_box(hf_layout_shape(layout, shape)->outline);
}

#define assert_near(a, b, by) g_assert_cmpfloat_with_epsilon((a), (b), (by))
