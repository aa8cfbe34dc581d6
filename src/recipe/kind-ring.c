/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-ring.c - a round strip of metal.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"outer", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(ring.outer), "outer diameter", "600 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_OUTER, "outer diameter"},
     .words = {.label = "outer diameter", .heard = "across|outer|diameter|of", .usual = 400}},
    {"inner", HF_FIELD_LENGTH, 0, HF_AT(ring.inner), "inner diameter", "560 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_INNER, "inner diameter"},
     .strip = {-2, {"make the opening of ", " ", " smaller"}},
     .words = {.label = "inner diameter", .before = "inside"}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(ring.width), "or the width of its strip", "20 mm",
     .roles = HF_ROLE_PICTURE, .strip = {1, {"make the strip of ", " ", " wider"}},
     .words = {.before = "", .after = "wide", .heard = "wide|width", .usual = 16}},
    {NULL},
};

static const HfClash clashes[] = {{"inner", "width"}, {NULL}};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  hf_check_less(reader, node, "inner", entry->ring.inner, "the outer diameter", entry->ring.outer);
  hf_check_less(reader, node, "width", entry->ring.width, "half the outer diameter",
                entry->ring.outer / 2);
}

const HfKind hf_kind_ring = {
    HF_ENTRY_TABLE("ring", "A round strip of metal.", fields,
                   "{name: outer, outer: 600 mm, width: 20 mm}", clashes),
    .kind = HF_ENTRY_RING,
    .flags = HF_KIND_GROUND,
    .one_of = {"inner", "width"},
    .check = check,
    .called = "a ring",
    .heard = "rings?|hoop",
    .first = "outer",
    .sentence = "[{?as=opening}{as}: ]a ring[, {name}], {outer} across[, {inner} inside]"
                "[ and {width} wide]{place}",
    .begin = {.name = "ring"},
};
