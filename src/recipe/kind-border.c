/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-border.c - an ornamental line cut through a plate, inside its edge.
 */
#include "recipe/kind-private.h"

static const HfChoice forms[] = {
    {"plain", HF_BORDER_PLAIN, "plain", "one line, tied", "\\bplain\\b"},
    {"double", HF_BORDER_DOUBLE, "double", "two lines, tied", "\\bdouble\\b"},
    {"dashed", HF_BORDER_DASHED, "dashed", "a line of dashes", "\\bdashe[ds]\\b"},
    {"rope", HF_BORDER_ROPE, "rope", "the strands of a rope", "\\brope\\b"},
    {"scallop", HF_BORDER_SCALLOP, "scalloped", "half moons", "\\bscallop"},
    {"notched corners", HF_BORDER_NOTCHED, "notched-corner", "one line, its corners bitten off",
     "\\bnotched"},
    {"corner scrolls", HF_BORDER_SCROLLS, "scroll-cornered", "one line, a scroll in each corner",
     "\\bscroll"},
    {"ornaments", HF_BORDER_ORNAMENTS, "ornamental", "one ornament again and again", "\\bornament",
     .may = {"of"}},
    {NULL, 0}};

static const HfField fields[] = {
    {"on", HF_FIELD_NAME, HF_PLACES, HF_AT(place.on), "the plate that it is cut in", "board",
     .kinds = HF_BIT(HF_ENTRY_PLATE), .roles = HF_ROLE_STAND},
    {"form", HF_FIELD_CHOICE, HF_PICTURED, HF_AT(border.form), "what the line is", "rope", "plain",
     .choices = forms, .roles = HF_ROLE_NONE},
    {"of", HF_FIELD_CHOICE, 0, HF_AT(border.of),
     "ornaments: which, as high as the border is wide, tops to the edge", "leaf", "heart",
     .choices = hf_choices_ornament, .roles = HF_ROLE_NONE, .words = {.before = "of"}},
    {"inset", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(border.inset),
     "from the plate's edge to the border, all round", "14 mm", .roles = HF_ROLE_PICTURE,
     .words =
         {.before = "", .after = "inside its edge", .heard = "inset|inside|in|from", .usual = 14}},
    {"width", HF_FIELD_LENGTH, HF_REQUIRED, HF_AT(border.width), "of the line", "5 mm",
     .roles = HF_ROLE_PICTURE,
     .words = {.before = "", .after = "wide", .heard = "wide|width|of", .usual = 5}},
    {"ties", HF_FIELD_LENGTH, 0, HF_AT(border.ties),
     "width of the metal that crosses the line, and between two openings at "
     "the least; otherwise "
     "what the web limit asks",
     "6 mm", .roles = HF_ROLE_KEPT, .words = {.before = "tied by"}},
    {"count", HF_FIELD_WHOLE, 0, HF_AT(border.count),
     "about so many ties, dashes, strands, half moons or ornaments on the whole line; "
     "otherwise worked out",
     "12", "0", 0, 400, .roles = HF_ROLE_NONE, .words = {.before = "about", .after = "to a round"}},
    {NULL},
};

const HfKind hf_kind_border = {
    .table = {"border", "An ornamental line cut through a plate, inside its edge.", fields,
              &hf_table_rule, "{on: board, form: rope, inset: 14 mm, width: 9 mm}"},
    .kind = HF_ENTRY_BORDER,
    .flags = HF_KIND_FIXTURE,
    .one_of = {"on"},
    .called = "a border",
    .heard = "(?:(?:plain|double|dashed|rope|scallop(?:ed)?|notched|scroll|ornament(?:al)?) "
             ")?(?:borders?|frames?)",
    .first = "form",
    .sentence = "{a form} border[ of {of}][, {name},] is cut in {on}, {inset} inside its "
                "edge and {width} "
                "wide[, tied by {ties}][, about {count} to a round]",
    .begin = {.on_ground = TRUE},
};
