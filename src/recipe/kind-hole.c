/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-hole.c - a round opening that something goes through.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"diameter", HF_FIELD_LENGTH, 0, HF_AT(hole.bore.diameter), "of the hole", "8 mm",
     .roles = HF_ROLE_KEPT | HF_ROLE_BORE, .grip = {HF_GRIP_RIGHT, "diameter"},
     .words = {.heard = "of|across|diameter", .usual = 6}},
    HF_SCREW_FIELDS(hole.bore),
    HF_COUNTERSINK_FIELD(hole.bore),
    HF_HANGING_FIELD(hole.hanging),
    {"from corners", HF_FIELD_LENGTH, 0, HF_AT(hole.corners),
     "one in each corner of the plate or bar that it is on, its middle this far in from both edges",
     "20 mm", .roles = HF_ROLE_KEPT, .words = {.before = "in each corner,", .after = "in"}},
    {"from edge", HF_FIELD_LENGTH, 0, HF_AT(hole.edge),
     "or as many as count says, evenly round the edge of the plate or bar, their middles this far "
     "inside; the first at the top",
     "20 mm", .roles = HF_ROLE_KEPT, .words = {.before = "round the edge,", .after = "inside"}},
    {"count", HF_FIELD_WHOLE, 0, HF_AT(hole.count), "from edge: how many", "8", NULL, 1, 500,
     .roles = HF_ROLE_NONE, .words = {.before = "", .after = "of them", .usual = 4}},
    HF_THROUGH_FIELD(hole.through),
    {NULL},
};

static const HfClash clashes[] = {{"from corners", "from edge"},
                                  {"at", "from corners"},
                                  {"at", "from edge"},
                                  {"between", "from corners"},
                                  {"between", "from edge"},
                                  {"diameter", "screw"},
                                  {NULL}};
static const HfNeed needs[] = {{"from corners", {"on"}},
                               {"from edge", {"on"}},
                               {"from edge", {"count"}},
                               {"count", {"from edge"}},
                               {"fit", {"screw"}},
                               {"countersink", {"screw"}},
                               {NULL, {NULL}}};

const HfKind hf_kind_hole = {
    HF_ENTRY_TABLE("hole", "A round opening.", fields,
                   "{diameter: 8 mm, on: board, at: [0 mm, 100 mm]}", clashes, needs),
    .kind = HF_ENTRY_HOLE,
    .flags = HF_KIND_FIXTURE | HF_KIND_OPENS,
    .one_of = {"diameter", "screw"},
    .called = "a hole",
    .heard = "holes?",
    .first = "diameter",
    .sentence = "a hole[, {name},][ of {diameter}| for {screw}][, {a fit} fit][, {countersink}]"
                "[, in each corner of {on}, {from corners} in"
                "|, {count} of them round the edge of {on}, {from edge} inside]{place}"
                "[; {hanging}]",
    .begin = {.on_ground = TRUE, .at = "top", .at_alone = "centre"},
};
