/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-dot.c - a round separator.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    HF_SIZE_FIELD("diameter", "of the dot", "14 mm", HF_GRIP_RIGHT, "across|of|diameter", 14,
                  HF_ROLE_BORE),
    HF_BAND_FIELDS,
    {NULL},
};

static void
draw(HfOutline *own, const HfSeparatorEntry *dot)
{
  (void)dot;
  hf_outline_add_circle(own, hf_point(0, 0), 1);
}

static HfTips
tips(const HfSeparatorEntry *dot)
{
  (void)dot;
  return (HfTips){0};
}

const HfKind hf_kind_dot = {
    HF_ENTRY_TABLE("dot", "A round separator.", fields,
                   "{diameter: 14 mm, on: board, at: 9 o'clock}", HF_SEPARATOR_RULES),
    HF_SEPARATOR,
    .shape = &(const HfSeparatorShape){draw, tips},
    .one_of = {"diameter", "band"},
    .called = "a dot",
    .heard = "dots?",
    .first = "diameter",
    .sentence = HF_SEPARATOR_SENTENCE("a dot[, {name}][, {diameter} across]"),
};
