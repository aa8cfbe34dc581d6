/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-hole.c - a round opening that something goes through.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"diameter", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(hole.diameter), "of the hole", "8 mm",
     .roles = HF_ROLE_KEPT | HF_ROLE_BORE, .grip = {HF_GRIP_RIGHT, "diameter"},
     .words = {.heard = "of|across|diameter", .usual = 6}},
    {"hanging", HF_FIELD_MAYBE, 0, HF_AT(hole.hanging),
     "the sign hangs by it; otherwise it does when the sign is mounted by holes", "no",
     .roles = HF_ROLE_NONE,
     .words = {.yes = "the sign hangs by it", .no = "the sign does not hang by it"}},
    {NULL},
};

const HfKind hf_kind_hole = {
    HF_ENTRY_TABLE("hole", "A round opening.", fields,
                   "{diameter: 8 mm, on: board, at: [0 mm, 100 mm]}", NULL),
    .kind = HF_ENTRY_HOLE,
    .flags = HF_KIND_FIXTURE | HF_KIND_OPENS,
    .called = "a hole",
    .heard = "holes?",
    .first = "diameter",
    .sentence = "a hole[, {name},] of {diameter}{place}[; {hanging}]",
    .begin = {.on_ground = TRUE, .at = "top", .at_alone = "centre"},
};
