/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-keyhole.c - an opening to be hung over a screw's head: the head goes in below, the screw
 * comes to rest above. It keeps its size: screws do not grow.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"head", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(keyhole.head),
     "diameter of the opening that the screw's head goes through", "14 mm", .roles = HF_ROLE_KEPT,
     .words = {.before = "for a head of", .heard = "head|of", .usual = 14}},
    {"shank", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(keyhole.shank), "width of the slot above it",
     "7 mm", .roles = HF_ROLE_KEPT | HF_ROLE_BORE,
     .words = {.before = "a shank of", .heard = "shank|screw", .usual = 7}},
    {"length", HF_FIELD_LENGTH, 0, HF_AT(keyhole.length),
     "from the middle of the head's opening up to where the screw comes to rest; otherwise as much "
     "as the head is wide",
     "14 mm", .roles = HF_ROLE_KEPT, .words = {.before = "", .after = "long"}},
    HF_HANGING_FIELD(keyhole.hanging),
    {NULL},
};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfKeyholeEntry *keyhole = &entry->keyhole;
  hf_check_less(reader, node, "shank", keyhole->shank, "the head", keyhole->head);
  if (hf_node_get(node, "length") != NULL && keyhole->length < keyhole->head / 2)
    hf_mistake(reader->mistakes, hf_key_mark(node, "length"),
               "make it at least half of what the head is wide",
               "the screw would come to rest in the opening for its head");
}

const HfKind hf_kind_keyhole = {
    HF_ENTRY_TABLE("keyhole",
                   "An opening to be hung over a screw's head. It is placed by where the screw "
                   "comes to rest.",
                   fields, "{head: 14 mm, shank: 7 mm, on: board, at: [0 mm, 100 mm]}", NULL),
    .kind = HF_ENTRY_KEYHOLE,
    .flags = HF_KIND_FIXTURE | HF_KIND_OPENS,
    .check = check,
    .called = "a keyhole",
    .heard = "keyholes?",
    .first = "head",
    .sentence = "a keyhole[, {name},] for a head of {head} and a shank of {shank}[, {length} "
                "long]{place}[; {hanging}]",
    .begin = {.on_ground = TRUE, .at = "top", .at_alone = "centre"},
};
