/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit.h - changes a recipe's text in place: what is not changed survives byte for byte.
 *
 * A path is written `entries[2].words.height` or `metal.thickness`.
 */
#pragma once
#include "recipe/recipe.h"

typedef enum { HF_EDIT_SET, HF_EDIT_REMOVE, HF_EDIT_INSERT, HF_EDIT_PUT } HfEditKind;

typedef struct {
  HfEditKind kind;
  const char *path;  /* SET, PUT: the field, made where its parent exists;
                        INSERT: list or place in it */
  const char *value; /* SET: a scalar, written with quotes where YAML needs them;
                        INSERT: block of YAML or JSON text for one item;
                        PUT: YAML or JSON text of a whole value, often a list or a table, written
                        on one line; REMOVE: NULL */
} HfEdit;

/**
 * hf_recipe_edit:
 * @text: a recipe that can be read as YAML or JSON (it need not be complete)
 * Applies @edits in order. Comments, order, spacing, flow style, CRLF, byte order mark and tabs of
 * everything else stay as they were. The result is parsed again and compared with what was asked;
 * a difference is %HF_ERROR_BUG and nothing is returned.
 * Returns: (transfer full) the new text, @ret_length bytes; or %NULL with %HF_ERROR_NOT_FOUND,
 *   %HF_ERROR_BAD_VALUE
 */
char *hf_recipe_edit(const char *text, gsize length, const HfEdit *edits, guint n,
                     gsize *ret_length, GError **error);
