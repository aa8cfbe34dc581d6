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

/** hf_recipe_path_at: (transfer full) (nullable) path of the innermost value or key at @mark;
 *  %NULL where there is none, or when the text can't be read. */
char *hf_recipe_path_at(const char *text, gsize length, HfMark mark);
