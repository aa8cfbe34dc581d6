/* SPDX-License-Identifier: GPL-3.0-or-later
 * order.h - a drawing by itself as an order: the recipe that a file and a few words stand for.
 *
 *   heron.svg --metal "mild steel" --thickness "3 mm" --kerf "1.5 mm" --width "400 mm"
 *        └──> metal: {kind: mild steel, thickness: 3 mm} ... - drawing: {file: heron.svg, ...}
 */
#pragma once
#include <glib.h>

/* What is said beside the file, as it was said; each nullable. */
typedef struct {
  char *metal, *thickness, *kerf;
  char *width, *height, *unit, *piece, *page, *font, *white;
} HfOrder;

/** hf_order_clear: frees what was said. */
void hf_order_clear(HfOrder *order);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfOrder, hf_order_clear)

/** hf_order_first: (transfer none) the first of its options that is said: "metal"; %NULL: none. */
const char *hf_order_first(const HfOrder *order);
/** hf_order_words: (transfer full) ` --metal 'mild steel' --thickness '3 mm'`: as a shell reads it
 *  behind the file's name. */
char *hf_order_words(const HfOrder *order);
/** hf_order_text: (transfer full) the recipe: what is not said is left out. @file: as the recipe
 *  says it. @remark: (nullable) its first lines, as remarks. Texts are quoted where they must be.
 */
char *hf_order_text(const HfOrder *order, const char *file, const char *remark);
