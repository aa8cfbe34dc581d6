/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-row.c - entries side by side, placed as one.
 */
#include "recipe/kind-private.h"

static const HfChoice aligns[] = {{"baseline", HF_ROW_BASELINE, "on one baseline"},
                                  {"cap height", HF_ROW_CAPS, "level at the cap height"},
                                  {"middle", HF_ROW_MIDDLE, "by their middles"},
                                  {"tops", HF_ROW_TOPS, "level at their tops"},
                                  {"feet", HF_ROW_FEET, "level at their feet"},
                                  {NULL, 0}};

static const HfField fields[] = {
    HF_GROUP_FIELDS(
        "its members, from the left; what else they say of a place is refused",
        "clear distance from ink to ink; otherwise what the width leaves, or a third of "
        "the letter height",
        "of the whole row: its gaps follow where none is said, else its members grow", "900 mm"),
    {"align", HF_FIELD_CHOICE, 0, HF_AT(group.align),
     "what of them is level; what is no lettering stands with its foot on the baseline and its top "
     "at the cap height",
     "middle", "baseline", .choices = aligns, .roles = HF_ROLE_NONE, .words = {.before = ""}},
    {NULL},
};

const HfKind hf_kind_row = {
    HF_ENTRY_TABLE("row", "Entries side by side, placed as one.", fields,
                   "{name: title, of: [tide, and, timber], gap between: 20 mm, on: board}",
                   hf_group_clashes, hf_group_needs),
    .kind = HF_ENTRY_ROW,
    .flags = HF_KIND_GROUP,
    .check = hf_check_group,
    .called = "a row",
    .heard = "rows?",
    .first = "of",
    .sentence = "A row[, {name},] of {of}[, {gap between} apart][, {width} wide]"
                "[, as large as stays {margin} inside {inside}]"
                "[, {align}]{place}" HF_GROUP_REPEATS,
};
