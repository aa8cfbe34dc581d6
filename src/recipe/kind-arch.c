/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-arch.c - a curved strip over a gate, with straight legs.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"chord", HF_FIELD_LENGTH, 0, HF_AT(arch.chord), "clear width between its feet", "1100 mm",
     .roles = HF_ROLE_PICTURE, .words = {.heard = "across|chord|of", .usual = 1100}},
    {"rise", HF_FIELD_LENGTH, 0, HF_AT(arch.rise), "of the inner curve over that chord", "300 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_CROWN, "rise"},
     .words = {.heard = "rise|rising|high", .usual = 300}},
    {"legs", HF_FIELD_LENGTH, 0, HF_AT(arch.legs), "length of its straight legs", "150 mm", "0 mm",
     0, HF_FAR, .roles = HF_ROLE_PICTURE, .words = {.before = "on legs of"}},
    {"over", HF_FIELD_NAME, HF_PLACES, HF_AT(arch.over),
     "or it runs round that gate arch, about the same centre and down to the same feet", "lower",
     .kinds = HF_BIT(HF_ENTRY_ARCH), .roles = HF_ROLE_OVER},
    {"clear", HF_FIELD_LENGTH, 0, HF_AT(arch.clear), "over: clear distance between the two",
     "150 mm", .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR,
     .words = {.before = "", .after = "clear of it"}},
    {"width", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(arch.width), "of the strip", "25 mm",
     .roles = HF_ROLE_PICTURE, .strip = {1, {"make the strip of ", " ", " wider"}},
     .words = {.before = "", .after = "wide", .heard = "wide|width", .usual = 25}},
    {NULL},
};

static const HfClash clashes[] = {
    {"chord", "over"}, {"rise", "over"}, {"legs", "over"}, {"over", "between"}, {NULL}};
static const HfNeed needs[] = {{"chord", {"rise"}}, {"rise", {"chord"}}, {"legs", {"chord"}},
                               {"over", {"clear"}}, {"clear", {"over"}}, {NULL, {NULL}}};

const HfKind hf_kind_arch = {
    HF_ENTRY_TABLE("gate arch", "A curved strip over a gate, with straight legs.", fields,
                   "{name: arch, chord: 1100 mm, rise: 300 mm, legs: 150 mm, width: 25 mm}",
                   clashes, needs),
    .kind = HF_ENTRY_ARCH,
    .flags = HF_KIND_GROUND,
    .one_of = {"chord", "over"},
    .called = "a gate arch",
    .heard = "gate arch|arch",
    .first = "chord",
    .sentence = "[{?as=opening}{as}: ]a gate arch[, {name}][ over {over}]"
                "[{?over}, {clear} clear of it][, {chord} wide at its feet][, rising {rise}]"
                "[, on legs of {legs}], its strip {width} wide{place}",
    .begin = {.name = "arch"},
};
