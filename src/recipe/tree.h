/* SPDX-License-Identifier: GPL-3.0-or-later
 * tree.h - a recipe as it was typed: plain JSON of the same keys, and the place of each value.
 *
 * It need not be right, only readable as YAML or JSON: what the page shows while one types.
 */
#pragma once
#include "base/json.h"
#include "recipe/recipe.h"

/**
 * hf_recipe_tree:
 * Writes into the open object of @json: "tree", every value a text as it was typed, and "marks",
 * `{"entries[1].words.height": {"line": 9, "column": 15}}`. Paths are those of edit.h.
 * Returns: %FALSE with the first mistake, and nothing written, when it can't be read
 */
gboolean hf_recipe_tree(const char *text, gsize length, HfJson *json, GError **error);

/* Which value stands where. Immutable: in any thread. */
typedef struct HfPlaces HfPlaces;
/** hf_recipe_places: (transfer full) of each value and key of @text, read once; of a text that
 * can't be read there are none. O(n). */
HfPlaces *hf_recipe_places(const char *text, gsize length);
/** hf_places_free: %NULL: nothing. */
void hf_places_free(HfPlaces *places);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPlaces, hf_places_free)
/** hf_places_at: (transfer none) (nullable) path of the innermost value or key at @mark; @places
 *  nullable. O(1). */
const char *hf_places_at(const HfPlaces *places, HfMark mark);
