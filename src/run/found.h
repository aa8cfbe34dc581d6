/* SPDX-License-Identifier: GPL-3.0-or-later
 * found.h - a drawing's file looked at: what is in it, told, drawn, and as a recipe to start from.
 */
#pragma once
#include "run/run.h"

typedef struct HfFound HfFound;

/** hf_found_read: (transfer full) what is in @file, by what @order says of it; %NULL with what is
 *  wrong with the file, or with @order. */
HfFound *hf_found_read(const char *file, const HfOrder *order, GError **error);
/** hf_found_free: frees it and all that it owns; %NULL: nothing. */
void hf_found_free(HfFound *found);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFound, hf_found_free)

/** hf_found_told: (transfer full) in lines for a terminal: size and how it came about, pieces by
 *  name, colours, what white may mean, what was left out or is in doubt; @all: every piece. */
char *hf_found_told(HfFound *found, gboolean all);
/** hf_found_picture: (transfer full) an SVG, hf_out_found(). */
GBytes *hf_found_picture(HfFound *found);
/** hf_found_recipe: (transfer full) a recipe that begins with it, to be written into @recipe; what
 * is not said is a guess, and is called one. %HF_ERROR_BAD_VALUE: from there the file can't be
 * named. */
char *hf_found_recipe(HfFound *found, const char *recipe, GError **error);
