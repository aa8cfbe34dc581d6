/* SPDX-License-Identifier: GPL-3.0-or-later
 * text-faces-private.h - which faces a text of a drawing is set in.
 *
 *   "Old Face", 'Vollkorn', serif      a list: the first that is here, for each letter the first
 *                                      that has it. What the user says instead of a name comes
 *                                      before all; a kind of face (serif) is here only by that.
 */
#pragma once
#include "drawing/drawing.h"

typedef struct HfTextFaces HfTextFaces;

/** hf_text_faces_new: (transfer full) none looked for yet; @wanted is borrowed. */
HfTextFaces *hf_text_faces_new(const HfDrawingWish *wanted);
/** hf_text_faces_free: frees it and all that it owns; %NULL: nothing. */
void hf_text_faces_free(HfTextFaces *faces);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTextFaces, hf_text_faces_free)

/**
 * hf_text_faces_find:
 * @families: (nullable) a list as CSS has it
 * @like: weight, slant and width; its family is not looked at
 * @where: of the text, for the error
 * Returns: (transfer none) (element-type HfFace) at least one, the best first; or %NULL with
 *   %HF_ERROR_NOT_FOUND or %HF_ERROR_BAD_FONT. Looked for once.
 */
const GPtrArray *hf_text_faces_find(HfTextFaces *faces, const char *families, HfFaceLike like,
                                    const char *where, GError **error);
/** hf_text_faces_said: (transfer none) what the user says for @name, else for all that is not here;
 *  %NULL with the error: nothing, or it is not here. For files that name no face by itself. */
const HfFace *hf_text_faces_said(HfTextFaces *faces, const char *name, const char *where,
                                 GError **error);
/** hf_text_faces_for: (transfer none) the first of @list that has @character; the first of all
 *  where none has it. */
const HfFace *hf_text_faces_for(const GPtrArray *list, gunichar character);
/** hf_text_families: (transfer full) a list of CSS, each name without its quotes. */
char **hf_text_families(const char *list);
