/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_recipe.c - any bytes as a recipe: a recipe that keeps what recipe.h promises, or a message
 * whose every line has a place that is in the text.
 */
#include "recipe/recipe.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

static void
check_entry(const HfRecipe *recipe, guint i)
{
  const HfEntry *entry = hf_recipe_at(recipe, i);
  g_assert(entry->name != NULL && entry->name[0] != '\0');
  g_assert(hf_recipe_entry(recipe, entry->name) == entry); /* names are unique */
  g_assert(entry->place.on == NULL || hf_recipe_entry(recipe, entry->place.on) != NULL);
  g_assert(isfinite(entry->place.gap) && isfinite(entry->place.shift_x) &&
           isfinite(entry->place.turn));
  if (entry->kind == HF_ENTRY_RING)
    g_assert(entry->ring.outer >= HF_RECIPE_MIN_MM && entry->ring.outer <= HF_RECIPE_MAX_MM &&
             (entry->ring.inner < entry->ring.outer || entry->ring.width < entry->ring.outer / 2));
  if (entry->kind == HF_ENTRY_WORDS)
    g_assert(entry->words.lines->len > 0 &&
             (entry->words.font.family != NULL || entry->words.font.file != NULL) &&
             (entry->words.fill || entry->words.font.height > 0 || entry->words.font.size > 0));
}

static void
check_recipe(const HfRecipe *recipe)
{
  g_assert(recipe->format == HF_RECIPE_FORMAT && recipe->metal != NULL && recipe->thickness > 0);
  g_assert(recipe->entries->len > 0 && recipe->entries->len <= HF_RECIPE_MAX_ENTRIES);
  for (guint i = 0; i < recipe->entries->len; i++)
    check_entry(recipe, i);
}

static void
check_message(const GError *error, gsize size)
{
  g_assert(error->domain == HF_ERROR && error->code != HF_ERROR_BUG);
  g_assert(hf_error_where(error) != NULL && hf_error_fix(error) != NULL);
  guint line = 0, column = 0;
  g_assert(sscanf(hf_error_where(error), "fuzz:%u:%u", &line, &column) == 2);
  g_assert(line >= 1 && line <= size + 1 && column >= 1 && column <= size + 1);
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read((const char *)data, size, "fuzz", &error);
  g_assert((recipe == NULL) == (error != NULL));
  if (recipe != NULL)
    check_recipe(recipe);
  else
    check_message(error, size);
  return 0;
}
