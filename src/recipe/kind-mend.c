/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-mend.c - a rule: thin, small and sharp places put right.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"of", HF_FIELD_PINS, 0, HF_AT(mend.of), "entries or letters; otherwise the whole sign",
     "[bakery]", .roles = HF_ROLE_PART},
    {"fill", HF_FIELD_YES, 0, HF_AT(mend.fill), "openings and gaps too small to cut become metal",
     "yes", "no", .roles = HF_ROLE_NONE,
     .words = {.label = "too small openings", .yes = "filled", .no = "left open"}},
    {"enlarge", HF_FIELD_YES, 0, HF_AT(mend.enlarge),
     "openings too small to pierce are made larger", "yes", "no", .roles = HF_ROLE_NONE,
     .words = {.label = "openings too small to pierce",
               .yes = "made larger",
               .no = "left as they are"}},
    {"thicken", HF_FIELD_YES, 0, HF_AT(mend.thicken), "metal under its limit is made wider", "yes",
     "no", .roles = HF_ROLE_NONE,
     .words = {.label = "thin metal", .yes = "made wider", .no = "left as it is"}},
    {"round", HF_FIELD_LENGTH, 0, HF_AT(mend.round), "sharp outer points get this radius", "3 mm",
     NULL, 0.5, 50, .roles = HF_ROLE_KEPT, .words = {.label = "sharp points rounded by"}},
    {NULL},
};

static const HfClash clashes[] = {{"fill", "enlarge"}, {NULL}};

const HfKind hf_kind_mend = {
    .table = {"mend",
              "A rule: thin, small and sharp places put right, worked out anew each time. When it "
              "does not say what: fill and thicken.",
              fields, &hf_table_rule, "{fill: yes, thicken: yes, round: 3 mm}", clashes},
    .kind = HF_ENTRY_MEND,
    .flags = HF_KIND_RULE,
    .called = "mending of thin and small places",
    .heard = "mend|mending|mended",
    .first = "name",
    .sentence = "mended[, {name},][ in {of}]:[, openings too small to cut are {fill}]"
                "[, openings too small to pierce are {enlarge}]"
                "[, metal under its limit is {thicken}][, sharp points are rounded by {round}]"
                "[{!fill}{!enlarge}{!thicken}{!round} openings too small are filled, thin metal is "
                "made wider]",
};
