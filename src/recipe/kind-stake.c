/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-stake.c - what a sign is planted by. It keeps its size: the ground does not grow.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"width", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(stake.width), "of the stake", "16 mm",
     .roles = HF_ROLE_KEPT, .strip = {1, {"make ", " ", " wider"}},
     .words = {.before = "", .after = "wide", .heard = "wide|width", .usual = 16}},
    {"length", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(stake.length), "with its point", "250 mm",
     .roles = HF_ROLE_KEPT, .grip = {HF_GRIP_POINT, "length"},
     .words = {.before = "", .after = "long", .heard = "long|length|of", .usual = 250}},
    {"point", HF_FIELD_LENGTH, 0, HF_AT(stake.point), "length of the pointed end", "40 mm", "30 mm",
     0, HF_FAR, .roles = HF_ROLE_KEPT},
    {NULL},
};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  if (hf_node_get(node, "point") != NULL)
    hf_check_less(reader, node, "point", entry->stake.point, "the length of the stake",
                  entry->stake.length);
}

const HfKind hf_kind_stake = {
    HF_ENTRY_TABLE("stake", "What a sign is planted by.", fields,
                   "{width: 16 mm, length: 250 mm, on: board, at: bottom}", NULL),
    .kind = HF_ENTRY_STAKE,
    .flags = HF_KIND_FIXTURE | HF_KIND_EDGE,
    .check = check,
    .called = "a stake",
    .heard = "stakes?",
    .first = "width",
    .sentence = "a stake[, {name}], {width} wide and {length} long[, its point {point}]{place}",
    .begin = {.on_ground = TRUE, .at = "bottom", .at_ends = "centre"},
};
