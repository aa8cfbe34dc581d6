/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-ring.c - a round strip of metal.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"outer", HF_FIELD_LENGTH, 0, HF_AT(ring.outer), "outer diameter", "600 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_OUTER, "outer diameter"},
     .words = {.label = "outer diameter", .heard = "across|outer|diameter|of", .usual = 400}},
    {"inner", HF_FIELD_LENGTH, 0, HF_AT(ring.inner), "inner diameter", "560 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_INNER, "inner diameter"},
     .strip = {-2, {"make the opening of ", " ", " smaller"}},
     .words = {.label = "inner diameter", .before = "inside"}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(ring.width), "or the width of its strip", "20 mm",
     .roles = HF_ROLE_PICTURE, .strip = {1, {"make the strip of ", " ", " wider"}},
     .words = {.before = "", .after = "wide", .heard = "wide|width", .usual = 16}},
    {"around", HF_FIELD_NAMES, HF_PLACES, HF_AT(ring.around),
     "or as large as goes round these entries, about the middle of the smallest circle that holds "
     "them",
     "[title]", .roles = HF_ROLE_AROUND},
    {"margin", HF_FIELD_LENGTH, 0, HF_AT(ring.margin), "around: so much is clear inside the strip",
     "15 mm", "0 mm", 0, HF_FAR, .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR,
     .words = {.before = "", .after = "clear of it", .heard = "margin"}},
    {NULL},
};

static const HfClash clashes[] = {
    {"inner", "width"}, {"outer", "around"}, {"inner", "around"}, {NULL}};
static const HfNeed needs[] = {{"margin", {"around"}}, {NULL, {NULL}}};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  hf_check_less(reader, node, "inner", entry->ring.inner, "the outer diameter", entry->ring.outer);
  hf_check_less(reader, node, "width", entry->ring.width, "half the outer diameter",
                entry->ring.outer / 2);
  if (hf_node_get(node, "outer") == NULL && hf_node_get(node, "around") == NULL)
    hf_mistake(reader->mistakes, entry->mark, "add outer: 600 mm, or around: [NAME]",
               "a ring needs outer or around");
}

const HfKind hf_kind_ring = {
    HF_ENTRY_TABLE("ring", "A round strip of metal.", fields,
                   "{name: outer, outer: 600 mm, width: 20 mm}", clashes, needs),
    .kind = HF_ENTRY_RING,
    .flags = HF_KIND_GROUND,
    .one_of = {"inner", "width"},
    .check = check,
    .called = "a ring",
    .heard = "rings?|hoop",
    .first = "outer",
    .sentence = "[{?as=opening}{as}: ]a ring[, {name}][, {outer} across|, round {around}][, "
                "{margin} clear of it]"
                "[, {inner} inside]"
                "[ and {width} wide]{place}",
    .begin = {.name = "ring"},
};
