/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-ear.c - a lug with a hole that the sign hangs by. It keeps its size: hooks do not grow.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"hole", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(ear.hole), "diameter of its hole", "8 mm",
     .roles = HF_ROLE_KEPT | HF_ROLE_BORE, .grip = {HF_GRIP_HOLE, "diameter of the hole"},
     .words = {.heard = "hole|of", .usual = 8}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(ear.width), "of the ear; otherwise from the hole", "24 mm",
     .roles = HF_ROLE_KEPT, .strip = {2, {"make ", " ", " wider"}},
     .words = {.before = "", .after = "wide"}},
    {"height", HF_FIELD_LENGTH, 0, HF_AT(ear.height), "of the ear; otherwise from the hole",
     "30 mm", .roles = HF_ROLE_KEPT, .words = {.before = "", .after = "high"}},
    {NULL},
};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  if (hf_node_get(node, "width") != NULL)
    hf_check_less(reader, node, "hole", entry->ear.hole, "the width of the ear", entry->ear.width);
  if (hf_node_get(node, "height") != NULL)
    hf_check_less(reader, node, "hole", entry->ear.hole, "the height of the ear",
                  entry->ear.height);
}

const HfKind hf_kind_ear = {
    HF_ENTRY_TABLE("ear", "A lug with a hole that the sign hangs by.", fields,
                   "{hole: 8 mm, on: rail, at: [left end, right end]}", NULL),
    .kind = HF_ENTRY_EAR,
    .flags = HF_KIND_FIXTURE | HF_KIND_EDGE,
    .check = check,
    .called = "an ear",
    .heard = "(?:ear|lug)s?",
    .first = "hole",
    .sentence = "an ear[, {name},] with a hole of {hole}[, {width} wide][, {height} high]{place}",
    .begin = {.on_ground = TRUE, .at = "top", .at_ends = "[left end, right end]"},
};
