/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-bar.c - a straight strip that words stand on or hang from.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"length", HF_FIELD_LENGTH, 0, HF_AT(bar.length), "from end to end", "1200 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_RIGHT, "length"},
     .words = {.before = "", .after = "long", .heard = "long|length|of", .usual = 800}},
    {"height", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(bar.height), "of the strip", "20 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_TOP, "height"},
     .strip = {1, {"make ", " ", " wider"}},
     .words = {.before = "", .after = "high", .heard = "high|height|wide|by", .usual = 20}},
    {"corner", HF_FIELD_LENGTH, 0, HF_AT(bar.corner), "radius of its corners", "5 mm", "0 mm", 0,
     HF_FAR, .roles = HF_ROLE_PICTURE, .words = {.before = "corners rounded by"}},
    {"overhang", HF_FIELD_LENGTH, 0, HF_AT(bar.overhang),
     "or it is as long as the words that stand on it, and this more at either end", "30 mm", NULL,
     0, HF_FAR, .roles = HF_ROLE_PICTURE,
     .words = {.before = "reaching", .after = "beyond its words"}},
    {NULL},
};
static const HfClash clashes[] = {{"length", "overhang"}, {NULL}};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  hf_check_corner(reader, node, entry->bar.corner, entry->bar.length, entry->bar.height);
}

const HfKind hf_kind_bar = {
    HF_ENTRY_TABLE("bar", "A straight strip that words stand on or hang from.", fields,
                   "{name: rail, length: 1200 mm, height: 20 mm}", clashes),
    .kind = HF_ENTRY_BAR,
    .flags = HF_KIND_GROUND | HF_KIND_ENDS,
    .one_of = {"length", "overhang"},
    .check = check,
    .called = "a bar",
    .heard = "(?:bar|rail|strip)s?",
    .first = "length",
    .sentence = "[{?as=opening}{as}: ]a bar[, {name}], [{length} long and |]{height} high"
                "[, reaching {overhang} beyond its words]"
                "[, corners rounded by {corner}]{place}",
    .begin = {.name = "rail"},
};
