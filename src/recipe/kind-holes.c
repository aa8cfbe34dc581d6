/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-holes.c - many round openings, in a grid or round a circle.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    {"diameter", HF_FIELD_LENGTH, 0, HF_AT(holes.bore.diameter), "of each hole", "10 mm",
     .roles = HF_ROLE_KEPT | HF_ROLE_BORE, .words = {.heard = "of|across|diameter", .usual = 10}},
    HF_SCREW_FIELDS(holes.bore),
    HF_COUNTERSINK_FIELD(holes.bore),
    {"columns", HF_FIELD_WHOLE, 0, HF_AT(holes.columns), "a grid: so many side by side", "6", NULL,
     1, 100, .roles = HF_ROLE_NONE, .words = {.usual = 6}},
    {"rows", HF_FIELD_WHOLE, 0, HF_AT(holes.rows), "and so many above each other", "3", NULL, 1,
     100, .roles = HF_ROLE_NONE, .words = {.usual = 3}},
    {"pitch", HF_FIELD_LENGTH, 0, HF_AT(holes.pitch), "from centre to centre", "20 mm",
     .roles = HF_ROLE_PICTURE, .words = {.heard = "apart|pitch", .usual = 20}},
    {"staggered", HF_FIELD_YES, 0, HF_AT(holes.staggered), "every second row moves by half a pitch",
     "yes", "no", .roles = HF_ROLE_NONE,
     .words = {.yes = "every second row moved by half a step",
               .no = "rows straight above each other"}},
    {"count", HF_FIELD_WHOLE, 0, HF_AT(holes.count), "or so many round a circle", "12", NULL, 1,
     360, .roles = HF_ROLE_NONE, .words = {.before = "at least", .after = "for each part"}},
    {"circle", HF_FIELD_LENGTH, 0, HF_AT(holes.circle), "diameter of that circle", "200 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_CIRCLE, "diameter of the circle"}},
    HF_THROUGH_FIELD(holes.through),
    {NULL},
};

static const HfClash clashes[] = {{"count", "columns"},   {"count", "rows"},
                                  {"count", "staggered"}, {"count", "pitch"},
                                  {"diameter", "screw"},  {NULL}};
static const HfNeed needs[] = {
    {"columns", {"rows"}},  {"rows", {"columns"}},      {"columns", {"pitch"}},
    {"pitch", {"columns"}}, {"count", {"circle"}},      {"circle", {"count"}},
    {"fit", {"screw"}},     {"countersink", {"screw"}}, {NULL, {NULL}}};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfHolesEntry *holes = &entry->holes;
  double pitch = holes->pitch;
  if (holes->count > 1)
    pitch = holes->circle * sin(G_PI / holes->count);
  if (holes->count == 1 || isnan(pitch))
    return;
  const char *wide = isnan(holes->bore.diameter) ? "screw" : "diameter";
  if (hf_node_get(node, wide) != NULL)
    hf_check_less(reader, node, wide, hf_bore_mm(&holes->bore), "the distance from hole to hole",
                  pitch);
}

const HfKind hf_kind_holes = {
    HF_ENTRY_TABLE("hole pattern", "Many round openings, in a grid or round a circle.", fields,
                   "{diameter: 10 mm, columns: 6, rows: 3, pitch: 20 mm, on: board, at: centre}",
                   clashes, needs),
    .kind = HF_ENTRY_HOLES,
    .flags = HF_KIND_FIXTURE | HF_KIND_OPENS | HF_KIND_PLURAL,
    .one_of = {"columns", "count"},
    .check = check,
    .called = "a pattern of holes",
    .heard = "pattern of holes|hole pattern|holes in a|row of holes|grid of holes|circle of holes",
    .first = "diameter",
    .sentence = "holes[, {name},][ of {diameter}| for {screw}][, {a fit} fit][, {countersink}][, "
                "{columns} side by side]"
                "[, {rows} above each other][{?columns}, {pitch} apart|{?rows}, {pitch} apart]"
                "[, {staggered}][, {count} of them][ round a circle of {circle}]{place}",
    .begin = {.on_ground = TRUE},
};
