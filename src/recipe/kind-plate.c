/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-plate.c - a flat shape that the rest stands on or is cut from.
 */
#include "recipe/kind-private.h"

static const HfChoice shapes[] = {
    {"round", HF_PLATE_ROUND, .heard = "\\bround\\b", .must = {"diameter"}, .unless = "margin"},
    {"oval", HF_PLATE_OVAL, .heard = "\\boval\\b", .must = {"width", "height"}, .unless = "margin"},
    {"rectangle", HF_PLATE_RECTANGLE, "rectangular", .heard = "\\brectang",
     .must = {"width", "height"}, .unless = "margin"},
    {"rounded", HF_PLATE_ROUNDED, "round-cornered", .heard = "\\bround-cornered|rounded\\b",
     .must = {"width", "height", "corner"}, .unless = "margin"},
    {"arch-topped", HF_PLATE_ARCHED, .heard = "\\barch-topped\\b",
     .must = {"width", "height", "rise"}, .unless = "margin", .may = {"corner"}},
    {"shield", HF_PLATE_SHIELD, "shield-shaped", .heard = "\\bshield", .must = {"width", "height"},
     .unless = "margin", .may = {"corner"}, .tall = 1},
    {"polygon", HF_PLATE_POLYGON, "many-sided", .heard = "\\bpolygon|many-sided\\b",
     .must = {"diameter", "sides"}, .unless = "margin", .may = {"corner"}},
    {"banner", HF_PLATE_BANNER, "banner", "a strip with swallow-tailed ends", .heard = "\\bbanner",
     .must = {"width", "height"}, .unless = "margin", .may = {"depth"}},
    {"ticket", HF_PLATE_TICKET, "ticket", "its corners bitten off", .heard = "\\bticket",
     .must = {"width", "height"}, .unless = "margin", .may = {"depth"}},
    {"badge", HF_PLATE_BADGE, "badge", "round, with a lobed edge", .heard = "\\bbadge",
     .must = {"diameter"}, .unless = "margin", .may = {"sides"}},
    {"arrow", HF_PLATE_ARROW, "arrow-shaped", "points to the right", .heard = "\\barrow",
     .must = {"width", "height"}, .unless = "margin", .may = {"depth"}},
    {"speech", HF_PLATE_SPEECH, "speech", "round-cornered, with a tail at its foot",
     .heard = "\\bspeech", .must = {"width", "height"}, .unless = "margin",
     .may = {"depth", "corner"}},
    {"cloud", HF_PLATE_CLOUD, "cloud-shaped", .heard = "\\bcloud", .must = {"width", "height"},
     .unless = "margin"},
    {"heart", HF_PLATE_HEART, "heart-shaped", .heard = "\\bheart", .must = {"width", "height"},
     .unless = "margin"},
    {"hexagon row", HF_PLATE_HEXAGONS, "hexagon-row", "hexagons side by side",
     .heard = "\\bhexagons?\\b", .must = {"diameter", "count"}, .unless = "margin"},
    {"tabbed", HF_PLATE_TABBED, "tabbed", "a rectangle with a round tab at each end",
     .heard = "\\btab", .must = {"width", "height"}, .unless = "margin",
     .may = {"depth", "corner"}},
    {"outline", HF_PLATE_OUTLINE, "close-fitting", "what stands on it, grown by a distance",
     .must = {"grow"}},
    {NULL, 0},
};

static const HfField fields[] = {
    {"shape", HF_FIELD_CHOICE, HF_REQUIRED | HF_PICTURED, HF_AT(plate.shape),
     "outline: what stands on it, grown by a distance", "oval", .choices = shapes,
     .roles = HF_ROLE_NONE},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(plate.width),
     "of all shapes but round, polygon, badge, hexagon row and outline", "400 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_RIGHT, "width"},
     .strip = {2, {"make ", " ", " wider"}},
     .words = {.before = "", .after = "wide", .heard = "wide|width|of|across", .usual = 600}},
    {"height", HF_FIELD_LENGTH, 0, HF_AT(plate.height), "of the same", "250 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_TOP, "height"},
     .strip = {2, {"make ", " ", " higher"}},
     .words = {.before = "", .after = "high", .heard = "high|height|by", .usual = 300}},
    {"diameter", HF_FIELD_LENGTH, 0, HF_AT(plate.diameter),
     "of round and badge; of the circle through the corners of a polygon or hexagon", "300 mm",
     .roles = HF_ROLE_PICTURE | HF_ROLE_BORE, .grip = {HF_GRIP_OUTER, "diameter"},
     .strip = {2, {"make ", " ", " larger across"}},
     .words = {.heard = "wide|width|of|across|diameter", .usual = 400}},
    {"corner", HF_FIELD_LENGTH, 0, HF_AT(plate.corner),
     "radius of the corners; rounded needs it, others may have it", "12 mm", NULL, 0, HF_FAR,
     .roles = HF_ROLE_PICTURE, .words = {.before = "corners rounded by", .usual = 20}},
    {"sides", HF_FIELD_WHOLE, 0, HF_AT(plate.sides),
     "of a regular polygon; lobes of a badge, otherwise 16", "6", NULL, 3, 100,
     .roles = HF_ROLE_NONE, .words = {.usual = 6}},
    {"count", HF_FIELD_WHOLE, 0, HF_AT(plate.count), "hexagon row: how many", "5", NULL, 1, 50,
     .roles = HF_ROLE_NONE, .words = {.usual = 5}},
    {"depth", HF_FIELD_LENGTH, 0, HF_AT(plate.depth),
     "how deep a banner's notches and a ticket's corners are, how long an arrow's point, the tail "
     "of speech and the tabs are; otherwise worked out",
     "30 mm", .roles = HF_ROLE_PICTURE, .words = {.before = "", .after = "deep at its ends"}},
    {"rise", HF_FIELD_LENGTH, 0, HF_AT(plate.rise),
     "arch-topped: height of the arch over the shoulders", "80 mm", .roles = HF_ROLE_PICTURE,
     .words = {.usual = 80}},
    {"grow", HF_FIELD_LENGTH, 0, HF_AT(plate.grow), "outline: by this distance", "15 mm",
     .roles = HF_ROLE_PICTURE,
     .strip = {1, {"let ", " reach ", " further round what stands on it"}}, .words = {.usual = 15}},
    {"around", HF_FIELD_NAMES, 0, HF_AT(plate.around),
     "grow, margin: these entries; otherwise all that are placed on it", "[boats, anchor]",
     .roles = HF_ROLE_AROUND},
    {"margin", HF_FIELD_MARGIN, 0, HF_AT(plate.margin),
     "of any shape but outline: as large as leaves this round what stands on it; two lengths: "
     "beside, then above and below; four: left, right, top, bottom. A width, height or diameter "
     "that is said is kept",
     "[30 mm, 20 mm]", NULL, 0, HF_FAR, .roles = HF_ROLE_PICTURE,
     .words = {.before = "a margin of", .heard = "margin"}},
    {NULL},
};

static const HfNeed needs[] = {{"around", {"margin", "grow"}}, {NULL, {NULL}}};

/* Its size follows from the margin, so not all of it can be said. */
static void
check_margin(HfReader *reader, const HfNode *node, const HfPlateEntry *plate)
{
  HfMark mark = hf_key_mark(node, "margin");
  if (plate->shape == HF_PLATE_OUTLINE)
    hf_mistake(reader->mistakes, mark, "write grow: 15 mm instead",
               "a plate that follows an outline grows from it");
  if (!isnan(plate->diameter) || (!isnan(plate->width) && !isnan(plate->height)))
    hf_mistake(reader->mistakes, mark, "take out the margin, or one of its sizes",
               "its size is said already, so a margin changes nothing");
  const double *m = plate->margin;
  gboolean level = plate->shape == HF_PLATE_RECTANGLE || plate->shape == HF_PLATE_ROUNDED ||
                   plate->shape == HF_PLATE_ARCHED;
  if (!level && (m[0] != m[1] || m[0] != m[2] || m[0] != m[3]))
    hf_mistake(reader->mistakes, mark, "write one length",
               "a plate of this shape has one margin all round");
}

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  hf_check_corner(reader, node, entry->plate.corner, entry->plate.width, entry->plate.height);
  if (hf_node_get(node, "margin") != NULL)
    check_margin(reader, node, &entry->plate);
}

const HfKind hf_kind_plate = {
    HF_ENTRY_TABLE("plate", "A flat shape that the rest stands on or is cut from.", fields,
                   "{name: board, shape: oval, width: 400 mm, height: 250 mm}", NULL, needs),
    .kind = HF_ENTRY_PLATE,
    .flags = HF_KIND_GROUND | HF_KIND_AREA,
    .check = check,
    .called = "a plate",
    .heard = "(?:(?:banner|ticket|badge|arrow|speech|cloud|heart|hexagon|tabbed)(?:-shaped)? )?"
             "(?:plates?|boards?)",
    .first = "shape",
    .sentence = "[{?as=opening}{as}: ]{a shape} plate[, {name}][, {diameter} across]"
                "[, {width} by {height}|, {width} wide|, {height} high][, with {sides} sides]"
                "[, {count} side by side]"
                "[, its arch rising {rise}][, corners rounded by {corner}]"
                "[, {grow} round {around}|, {grow} round what stands on it]"
                "[, as large as leaves {margin} round {around}"
                "|, as large as leaves {margin} round what stands on it]{place}",
    .begin = {.name = "board", .choice = "rectangle"},
};
