/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-foot.c - what a sign stands on. It keeps its size: the shelf does not grow.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"width", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(foot.width), "of the foot", "60 mm",
     .roles = HF_ROLE_KEPT,
     .words = {.before = "", .after = "wide", .heard = "wide|width|of", .usual = 60}},
    {"height", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(foot.height), "of the foot", "15 mm",
     .roles = HF_ROLE_KEPT, .strip = {1, {"make ", " ", " higher"}},
     .words = {.before = "", .after = "high", .heard = "high|height|by", .usual = 15}},
    {NULL},
};

const HfKind hf_kind_foot = {
    HF_ENTRY_TABLE("foot", "What a sign stands on.", fields,
                   "{width: 60 mm, height: 15 mm, on: rail, at: [left end, right end]}", NULL),
    .kind = HF_ENTRY_FOOT,
    .flags = HF_KIND_FIXTURE | HF_KIND_EDGE,
    .called = "a foot",
    .heard = "foot|feet",
    .first = "width",
    .sentence = "a foot[, {name}], {width} wide and {height} high{place}",
    .begin = {.on_ground = TRUE, .at = "[left end, right end]"},
};
