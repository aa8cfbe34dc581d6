/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-slot.c - an opening with round ends, to be screwed through: the sign can be moved along it.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"width", HF_FIELD_LENGTH, 0, HF_AT(slot.bore.diameter), "of the slot", "7 mm",
     .roles = HF_ROLE_KEPT | HF_ROLE_BORE,
     .words = {.before = "", .after = "wide", .heard = "wide|width|of", .usual = 7}},
    HF_SCREW_FIELDS(slot.bore),
    {"length", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(slot.length),
     "from end to end; level, unless it is turned", "20 mm", .roles = HF_ROLE_KEPT,
     .words = {.before = "", .after = "long", .heard = "long|length", .usual = 20}},
    HF_HANGING_FIELD(slot.hanging),
    HF_THROUGH_FIELD(slot.through),
    {NULL},
};

static const HfClash clashes[] = {{"width", "screw"}, {NULL}};
static const HfNeed needs[] = {{"fit", {"screw"}}, {NULL, {NULL}}};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const char *wide = hf_node_get(node, "width") != NULL ? "width" : "screw";
  if (hf_node_get(node, wide) != NULL)
    hf_check_less(reader, node, wide, hf_bore_mm(&entry->slot.bore), "the length of the slot",
                  entry->slot.length);
}

const HfKind hf_kind_slot = {
    HF_ENTRY_TABLE("slot", "An opening with round ends, to be screwed through and moved along.",
                   fields, "{screw: M6, length: 20 mm, on: board, at: [0 mm, 100 mm]}", clashes,
                   needs),
    .kind = HF_ENTRY_SLOT,
    .flags = HF_KIND_FIXTURE | HF_KIND_OPENS,
    .one_of = {"width", "screw"},
    .check = check,
    .called = "a slot",
    .heard = "slots?",
    .first = "length",
    .sentence = "a slot[, {name},][ {width} wide| for {screw}][, {a fit} fit], {length} long{place}"
                "[; {hanging}]",
    .begin = {.on_ground = TRUE, .at = "top", .at_alone = "centre"},
};
