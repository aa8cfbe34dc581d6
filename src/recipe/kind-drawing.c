/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-drawing.c - a drawing that somebody made elsewhere.
 */
#include "drawing/drawing.h"
#include "recipe/kind-private.h"

static const HfChoice whites[] = {
    {"opening", HF_DRAWING_WHITE_OPENING, NULL, "cuts away what of the drawing lies under it"},
    {"metal", HF_DRAWING_WHITE_METAL, NULL, "is metal as any other paint"},
    {"nothing", HF_DRAWING_WHITE_NOTHING, NULL, "is left out"},
    {NULL, 0}};

static const HfChoice units[] = {
    {"mm", HF_DRAWING_UNIT_MM, NULL, NULL}, {"cm", HF_DRAWING_UNIT_CM, NULL, NULL},
    {"m", HF_DRAWING_UNIT_M, NULL, NULL},   {"in", HF_DRAWING_UNIT_IN, NULL, NULL},
    {"ft", HF_DRAWING_UNIT_FT, NULL, NULL}, {NULL, 0}};

double
hf_drawing_unit_mm(int unit)
{
  static const double mm[] = {
      [HF_DRAWING_UNIT_UNSAID] = 0, [HF_DRAWING_UNIT_MM] = 1,    [HF_DRAWING_UNIT_CM] = 10,
      [HF_DRAWING_UNIT_M] = 1000,   [HF_DRAWING_UNIT_IN] = 25.4, [HF_DRAWING_UNIT_FT] = 304.8};
  return mm[unit];
}

static const HfField fields[] = {
    {"file", HF_FIELD_PATH, HF_REQUIRED, HF_AT(drawing.file),
     "an SVG, DXF or PDF file, or a picture, PNG or JPEG, in the recipe's own folder or below it. "
     "Of SVG what is painted is metal; "
     "of "
     "DXF what closed outlines go round, and what lies in them in turn is open, metal, open",
     "heron.svg", .roles = HF_ROLE_NONE},
    {"page", HF_FIELD_WHOLE, 0, HF_AT(drawing.page), "PDF: which page, from 1", "2", NULL, 1, 9999,
     .roles = HF_ROLE_NONE, .words = {.before = "page"}},
    {"piece", HF_FIELD_TEXT, 0, HF_AT(drawing.piece),
     "only the piece, or the group of pieces, of this name: its title or id in the file; its "
     "layer or block",
     "tail", .roles = HF_ROLE_NONE, .words = {.before = "only"}},
    {"height", HF_FIELD_LENGTH, 0, HF_AT(drawing.height),
     "of its metal, from its foot to its top; the width follows. Without a size it is as large as "
     "its file says",
     "300 mm", .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_TOP, "height"},
     .strip = {4, {"make ", " ", " higher"}},
     .words = {.before = "", .after = "high", .heard = "high|height|of"}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(drawing.width), "or from side to side; the height follows",
     "400 mm", .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_RIGHT, "width"},
     .strip = {6, {"make ", " ", " wider"}},
     .words = {.before = "", .after = "wide", .heard = "wide|width|across"}},
    {"box", HF_FIELD_POINT, 0, HF_AT(drawing.box_width),
     "or as large as fits a box of this [width, height]", "[400 mm, 300 mm]",
     .roles = HF_ROLE_PICTURE, .words = {.before = "in a box of", .pair = HF_PAIR_SIZE}},
    {"font", HF_FIELD_TEXT, 0, HF_AT(drawing.font),
     "the family in which its live words are set where the file's own is not installed, or the "
     "file "
     "names none. Weight and slant are as the file says",
     "Vollkorn", .roles = HF_ROLE_NONE, .words = {.before = "its words in"}},
    {"unit", HF_FIELD_CHOICE, 0, HF_AT(drawing.unit),
     "DXF: what a unit of the file is. It must be said where the file doesn't say and nothing else "
     "says how large it shall be",
     "mm", .choices = units, .roles = HF_ROLE_NONE, .words = {.before = "drawn in"}},
    {"white is", HF_FIELD_CHOICE, 0, HF_AT(drawing.white),
     "what its white paint means. It must be said where the metal hangs on it", "opening",
     .choices = whites, .roles = HF_ROLE_NONE, .words = {.before = "white is"}},
    {"openings", HF_FIELD_TEXTS, 0, HF_AT(drawing.openings),
     "what cuts through all the rest of the drawing, by name: pieces or groups, layers or blocks "
     "of a "
     "DXF file",
     "[holes, eye]", .roles = HF_ROLE_NONE, .words = {.before = "with the openings"}},
    {"metal", HF_FIELD_TEXTS, 0, HF_AT(drawing.metal),
     "what is metal, by name, however white it is; of DXF whatever it lies in", "[frame]",
     .roles = HF_ROLE_NONE, .words = {.before = "with as metal"}},
    {"left out", HF_FIELD_TEXTS, 0, HF_AT(drawing.left_out), "what is not there, by name",
     "[sizes, notes]", .roles = HF_ROLE_NONE, .words = {.before = "without"}},
    {"mirror", HF_FIELD_YES, 0, HF_AT(drawing.mirror), "left and right change places", "yes", "no",
     .roles = HF_ROLE_NONE, .words = {.yes = "mirrored", .no = "as it is"}},
    {NULL},
};

static const HfClash clashes[] = {{"height", "width"}, {"height", "box"}, {"width", "box"}, {NULL}};

const HfKind hf_kind_drawing = {
    HF_ENTRY_TABLE("drawing", "A drawing from a file, of metal or cut through.", fields,
                   "{file: heron.svg, width: 400 mm, on: board, as: opening}", clashes, NULL),
    .kind = HF_ENTRY_DRAWING,
    .called = "a drawing",
    .heard = "drawings?",
    .first = "file",
    .sentence = "[{?as=opening}{as}: ]a drawing, {file}[, {name}][, {height} high|, {width} wide]"
                "[, {mirror}]{place}",
};
