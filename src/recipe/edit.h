/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit.h - changes a recipe's text in place: what is not changed survives byte for byte.
 *
 *   text ──> tree ──> place ──> cuts in the text ──> text ──> tree: the one that was asked for?
 */
#pragma once
#include "recipe/recipe.h"
#include "recipe/value.h"

typedef enum { HF_EDIT_SET, HF_EDIT_REMOVE, HF_EDIT_INSERT, HF_EDIT_LAST } HfEditKind;

typedef struct {
  HfEditKind kind;
  HfPath *path;  /* SET: a field, made where its parent is there; REMOVE: what goes; INSERT: a list,
                    to add behind its items, or a place in it, which may be just behind them; LAST:
                    an item of  a list, which goes behind all others: comments within it are lost */
  HfNode *value; /* SET, INSERT: a list or a table as well as a single one; else %NULL */
} HfEdit;

/** hf_edits_new: (transfer full) (element-type HfEdit) an empty list that owns what is in it. */
GArray *hf_edits_new(void);
/** hf_edits_add: takes @path and @value. */
void hf_edits_add(GArray *edits, HfEditKind kind, HfPath *path, HfNode *value);

/**
 * hf_edits_read:
 * @does: `set`: @value is a text; `put`: @value is YAML or JSON of a whole value, written on one
 *   line; `insert`: of an item; `remove`: @value is %NULL
 * @path: `entries[2].words.height`
 * Adds to @edits what somebody wrote: the one door of edits that come as text.
 * Returns: %FALSE with %HF_ERROR_BAD_VALUE: no such word, no path, no text, or the place in the new
 *   value where it can't be read
 */
gboolean hf_edits_read(GArray *edits, const char *does, const char *path, const char *value,
                       GError **error);

/**
 * hf_recipe_edit:
 * @text: a recipe that can be read as YAML or JSON (it need not be complete)
 * @edits: (element-type HfEdit)
 * Applies @edits in order. Comments, order, spacing, flow style, CRLF, byte order mark and tabs of
 * everything else stay as they were. A single value that takes the place of another keeps its
 * quotes; what is new is plain where it reads back the same. The result is parsed again and
 * compared with what was asked; a difference is %HF_ERROR_BUG and nothing is returned.
 * Returns: (transfer full) the new text, @ret_length bytes; or %NULL with %HF_ERROR_NOT_FOUND,
 *   %HF_ERROR_BAD_VALUE. Cost: one reading of the text for each edit.
 */
char *hf_recipe_edit(const char *text, gsize length, const GArray *edits, gsize *ret_length,
                     GError **error);
