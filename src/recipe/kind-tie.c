/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-tie.c - a bar of metal placed by hand (a pin). It is as wide as limits ask, which do not
 * grow with the sign; where it is and how long belong to the picture.
 */
#include "recipe/kind-private.h"
#include "stock/practice.h"

static const HfField fields[] = {
    {"of", HF_FIELD_PIN, HF_REQUIRED, HF_AT(tie.letter),
     "letter 2 of boats, 2nd A of boats, or an entry", "2nd A of boats", .roles = HF_ROLE_PART},
    {"opening", HF_FIELD_WHOLE, 0, HF_AT(tie.opening),
     "from which opening of it; 0: from its outside", "1", "0", 0, 99, .roles = HF_ROLE_NONE},
    {"em", HF_FIELD_NUMBERS, 0, HF_AT(tie.em_x),
     "place in it: ems of the letter, or mm from the centre of an entry; [right, up]",
     "[0.31, 0.35]", "[0, 0]", -HF_FAR, HF_FAR, .roles = HF_ROLE_IN_EMS,
     .words = {.label = "place in the letter"}},
    {"direction", HF_FIELD_SPOT, 0, HF_AT(tie.angle), "which way the tie runs: " HF_DIRECTIONS,
     "top", "top", .roles = HF_ROLE_NONE, .words = {.before = "running"}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(tie.width),
     "otherwise " HF_OVER_LIMIT_TEXT " times the limit", "3 mm", .roles = HF_ROLE_KEPT,
     .words = {.before = "", .after = "wide", .heard = "wide|width|of"}},
    {"length", HF_FIELD_LENGTH, 0, HF_AT(tie.length),
     "so long, half to each side of its place, whatever is there; otherwise from metal to metal",
     "12 mm", .roles = HF_ROLE_PICTURE, .words = {.before = "", .after = "long"}},
    {NULL},
};

static const HfClash clashes[] = {{"opening", "length"}, {NULL}};

const HfKind hf_kind_tie = {
    HF_ENTRY_TABLE(
        "tie", "A bar of metal placed by hand (a pin).", fields,
        "{of: 2nd A of boats, opening: 1, em: [0.31, 0.35], direction: top, width: 3 mm}", clashes),
    .kind = HF_ENTRY_TIE,
    .flags = HF_KIND_PIN,
    .called = "a tie, put by hand",
    .heard = "tie",
    .first = "of",
    .sentence = "a tie[, {name},] of {of}[, from its opening {opening}][, {em}]"
                "[, running to the {direction}][, {width} wide][, {length} long]{place}",
};
