/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-studs.c - a rule: studs behind each piece of metal, as few as hold it. Marks only.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"of", HF_FIELD_PINS, 0, HF_AT(studs.of),
     "entries or letters; each piece of them gets studs of its own; otherwise all the metal",
     "[number, street]", .roles = HF_ROLE_PART},
    {"diameter", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(studs.diameter), "of a stud", "6 mm",
     .roles = HF_ROLE_KEPT, .words = {.heard = "of|across|diameter|thick", .usual = 6}},
    {"edge", HF_FIELD_LENGTH, 0, HF_AT(studs.edge), "metal that is left all round a stud", "3 mm",
     "3 mm", .roles = HF_ROLE_KEPT,
     .words = {.before = "", .after = "of metal left round each", .heard = "edge|left|round"}},
    {"reach", HF_FIELD_LENGTH, 0, HF_AT(studs.reach),
     "no place that has room for one is farther than this from a stud", "250 mm", "250 mm", 20,
     HF_FAR, .roles = HF_ROLE_KEPT,
     .words = {.before = "no metal farther than", .after = "from one"}},
    {NULL},
};

const HfKind hf_kind_studs = {
    .table = {"studs",
              "A rule: where studs go behind each piece of metal, as few as hold it, worked out "
              "anew each time. They are marks, for pictures, report and drilling template; no "
              "metal changes.",
              fields, &hf_table_rule, "{of: [number, street], diameter: 6 mm, edge: 3 mm}"},
    .kind = HF_ENTRY_STUDS,
    .flags = HF_KIND_RULE | HF_KIND_PLURAL,
    .called = "studs",
    .heard = "studs?",
    .first = "diameter",
    .sentence = "studs[, {name},] of {diameter}[ behind {of}][, {edge} of metal left round each]"
                "[, no metal farther than {reach} from one]",
};
