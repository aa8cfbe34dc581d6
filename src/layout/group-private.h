/* SPDX-License-Identifier: GPL-3.0-or-later
 * group-private.h - what is laid, as a body that can be moved, grown and copied.
 */
#pragma once
#include "layout/layout-private.h"

/** hf_laid_move: everything of @laid through @m, which turns, moves, mirrors and grows alike in
 * both ways. Its frames stay rigid: what it grows by goes to its own box. */
void hf_laid_move(HfLaid *laid, HfMatrix m);

/* How much of an entry there was before any copy was made. */
typedef struct {
  guint shapes, hangs, joints, frames;
} HfLaidCount;

/** hf_laid_copy: adds what @laid had, by @counts[@entry], once more, through @m, as copy @copy.
 * What its joints join to is copied as often; @counts: one an entry of the recipe. */
void hf_laid_copy(HfLaid *laid, guint entry, HfMatrix m, const HfLaidCount *counts, guint copy);

/** hf_lay_ink: (transfer container) (element-type HfShape) the shapes of @entry; of a group those
 * of all its members. Empty: it has none. */
GPtrArray *hf_lay_ink(const HfLaying *laying, guint entry);
/** hf_lay_members: (transfer full) (element-type guint) the members of @group in its order, and
 *  (@deep) theirs instead of groups among them. */
GArray *hf_lay_members(const HfLaying *laying, guint group, gboolean deep);
