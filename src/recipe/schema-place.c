/* SPDX-License-Identifier: GPL-3.0-or-later
 * What every entry may say: its name and its place. Fonts.
 */
#include "recipe/kind-private.h"

static const HfChoice as_choices[] = {{"metal", HF_AS_METAL, "metal", "adds metal"},
                                      {"opening", HF_AS_OPENING, "cut through", "cuts an opening"},
                                      {NULL, 0}};

#define LAYER_FIELD(help)                                                                          \
  {                                                                                                \
    "layer", HF_FIELD_CHOICE, 0, HF_AT(layer), help, "back", .choices = layer_choices,             \
                                                             .roles = HF_ROLE_NONE, .words = {     \
                                                               .before = "in the",                 \
                                                               .after = "layer"                    \
                                                             }                                     \
  }

static const HfChoice layer_choices[] = {
    {"front", HF_LAYER_FRONT}, {"middle", HF_LAYER_MIDDLE}, {"back", HF_LAYER_BACK}, {NULL, 0}};

static const HfField place_fields[] = {
    {"name", HF_FIELD_TEXT, 0, HF_AT(name), "what other entries call it by", "rail",
     .roles = HF_ROLE_NONE, .words = {.before = "called"}},
    {"as", HF_FIELD_CHOICE, 0, HF_AT(as), "adds metal, or cuts an opening", "opening", "metal",
     .choices = as_choices, .roles = HF_ROLE_NONE, .words = {.label = "metal or opening"}},
    LAYER_FIELD("which sheet of metal it is in; otherwise the front, or that of what it is cut "
                "into, fixed to or stands on"),
    {"on", HF_FIELD_NAME, HF_PLACES, HF_AT(place.on), "the entry that it is placed on", "rail",
     .roles = HF_ROLE_STAND},
    {"at", HF_FIELD_SPOTS, 0, HF_AT(place.at),
     "where on it, or on the sign: " HF_DIRECTIONS
     ", centre, left end, right end, or [right, up] from "
     "the centre; a list makes several copies",
     "[left end, right end]", .roles = HF_ROLE_PICTURE, .words = {.label = "where"}},
    {"above", HF_FIELD_NAME, HF_PLACES, HF_AT(place.above), "stands above that entry", "rail",
     .roles = HF_ROLE_BESIDE},
    {"below", HF_FIELD_NAME, HF_PLACES, HF_AT(place.below), "hangs below that entry", "rail",
     .roles = HF_ROLE_BESIDE},
    {"left of", HF_FIELD_NAME, HF_PLACES, HF_AT(place.left_of), "to the left of that entry", "rail",
     .roles = HF_ROLE_BESIDE},
    {"right of", HF_FIELD_NAME, HF_PLACES, HF_AT(place.right_of), "to the right of that entry",
     "rail", .roles = HF_ROLE_BESIDE},
    {"gap", HF_FIELD_LENGTH, 0, HF_AT(place.gap),
     "clear distance to that entry; less than 0 runs into it", "-3 mm", "0 mm", -HF_FAR, HF_FAR,
     .roles = HF_ROLE_PICTURE},
    {"between", HF_FIELD_NAMES, HF_PLACES, HF_AT(place.between),
     "in the middle of the free gap between these two entries; in a band of each of the two free "
     "arcs "
     "between two words, or of what one leaves free",
     "[harbour, year]", .roles = HF_ROLE_BESIDE},
    {"copies", HF_FIELD_WHOLE, 0, HF_AT(place.copies),
     "between: so many, with equal air between them all", "3", NULL, 1, 200, .roles = HF_ROLE_NONE,
     .words = {.before = "", .after = "of it"}},
    {"shift", HF_FIELD_POINT, 0, HF_AT(place.shift_x), "then moved by [right, up]",
     "[10 mm, -5 mm]", "[0 mm, 0 mm]", -HF_FAR, HF_FAR, .roles = HF_ROLE_PICTURE},
    {"turn", HF_FIELD_QUANTITY, 0, HF_AT(place.turn),
     "then turned about its own centre, counter-clockwise", "15 deg", "0 deg", -2 * G_PI, 2 * G_PI,
     .units = hf_units_angle, .roles = HF_ROLE_NONE},
    {NULL},
};
static const HfClash place_clashes[] = {
    {"above", "below"},   {"left of", "right of"}, {"at", "between"},       {"above", "between"},
    {"below", "between"}, {"left of", "between"},  {"right of", "between"}, {NULL}};
static const HfNeed place_needs[] = {
    {"copies", {"between"}}, {"gap", {"above", "below", "left of", "right of"}}, {NULL, {NULL}}};
const HfTable hf_table_place = {
    "an entry", "What every entry may say.", place_fields, NULL, NULL, place_clashes, place_needs};

/* A rule has a name, but no place of its own. */
static const HfField rule_fields[] = {
    {"name", HF_FIELD_TEXT, 0, HF_AT(name), "what the report calls it by", "bridges",
     .roles = HF_ROLE_NONE, .words = {.before = "called"}},
    LAYER_FIELD("works in this sheet of metal alone; otherwise in those of what it names, or all"),
    {NULL},
};
const HfTable hf_table_rule = {"a rule", "What every rule may say.", rule_fields, NULL, NULL};

#define FONT(member) offsetof(HfFontWish, member)
static const HfField font_fields[] = {
    {"family", HF_FIELD_TEXT, 0, FONT(family), "an installed family", "Lobster Two"},
    {"style", HF_FIELD_TEXT, 0, FONT(style), "a style of that family; otherwise Regular",
     "Bold Italic"},
    {"file", HF_FIELD_PATH, 0, FONT(file), "or a font file in the recipe's own folder",
     "fonts/harbour.ttf"},
    {"axes", HF_FIELD_TEXT, 0, FONT(axes), "axes of a variable font, by their tags",
     "\"wght=650,wdth=80\""},
    {"features", HF_FIELD_TEXT, 0, FONT(features), "OpenType features on, or off with -",
     "\"ss01,-liga\""},
    {NULL},
};
const HfTable hf_table_font = {"a font", "A font by family and style, or by file.", font_fields,
                               NULL, "{family: Lobster Two, style: Bold}"};
