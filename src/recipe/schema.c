/* SPDX-License-Identifier: GPL-3.0-or-later
 * The one table of what a recipe may say. See schema-private.h.
 *
 * A length is 0.1 mm to 10 m unless its row says otherwise. `otherwise` is itself read by the
 * reader, so what the reference prints as default is what is used; where the default has to be
 * worked out from the sign, the line on the field says how and the field stays NAN.
 */
#include "base/text.h"
#include "recipe/schema-private.h"
#include <string.h>

#define FAR        HF_RECIPE_MAX_MM
#define AT(member) offsetof(HfEntry, member)
#define BIT(kind)  (1u << (kind))
#define DIRECTIONS "top, bottom left, 11 o'clock, 30 deg (counter-clockwise from 3 o'clock)"

/* --- what all entries have --- */

static const HfChoice as_choices[] = {
    {"metal", HF_AS_METAL}, {"opening", HF_AS_OPENING}, {NULL, 0}};

static const HfField place_fields[] = {
    {"name", HF_FIELD_TEXT, 0, AT(name), "what other entries call it by", "rail"},
    {"as", HF_FIELD_CHOICE, 0, AT(as), "adds metal, or cuts an opening", "opening", "metal",
     .choices = as_choices},
    {"on", HF_FIELD_NAME, HF_PLACES, AT(place.on), "the entry that it is placed on", "rail"},
    {"at", HF_FIELD_SPOTS, 0, AT(place.at),
     "where on it, or on the sign: " DIRECTIONS
     ", centre, left end, right end, or [right, up] from "
     "the centre; a list makes several copies",
     "[left end, right end]"},
    {"above", HF_FIELD_NAME, HF_PLACES, AT(place.above), "stands above that entry", "rail"},
    {"below", HF_FIELD_NAME, HF_PLACES, AT(place.below), "hangs below that entry", "rail"},
    {"left of", HF_FIELD_NAME, HF_PLACES, AT(place.left_of), "to the left of that entry", "rail"},
    {"right of", HF_FIELD_NAME, HF_PLACES, AT(place.right_of), "to the right of that entry",
     "rail"},
    {"gap", HF_FIELD_LENGTH, 0, AT(place.gap),
     "clear distance to that entry; less than 0 runs into it", "-3 mm", "0 mm", -FAR, FAR},
    {"shift", HF_FIELD_POINT, 0, AT(place.shift_x), "then moved by [right, up]", "[10 mm, -5 mm]",
     "[0 mm, 0 mm]", -FAR, FAR},
    {"turn", HF_FIELD_QUANTITY, 0, AT(place.turn),
     "then turned about its own centre, counter-clockwise", "15 deg", "0 deg", -2 * G_PI, 2 * G_PI,
     .units = hf_units_angle},
    {NULL},
};
const HfTable hf_table_place = {"an entry", "What every entry may say.", place_fields, NULL, NULL};

/* A rule has a name, but no place of its own. */
static const HfField rule_fields[] = {
    {"name", HF_FIELD_TEXT, 0, AT(name), "what the report calls it by", "bridges"},
    {NULL},
};
static const HfTable table_rule = {"a rule", "What every rule may say.", rule_fields, NULL, NULL};

/* --- fonts --- */

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
static const HfTable table_font = {"a font", "A font by family and style, or by file.", font_fields,
                                   NULL, "{family: Lobster Two, style: Bold}"};

static const HfChoice way_choices[] = {
    {"by script", 0}, {"left to right", 1}, {"right to left", 2}, {NULL, 0}};

/* The fields of lettering that words and initials share. */
#define LETTERING(kind)                                                                            \
  {"font",                                                                                         \
   HF_FIELD_FONT,                                                                                  \
   HF_REQUIRED,                                                                                    \
   AT(kind.font),                                                                                  \
   "an installed family, or a table (see font)",                                                   \
   "Lobster Two",                                                                                  \
   .table = &table_font},                                                                          \
      {"height",                                                                                   \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       AT(kind.font.height),                                                                       \
       "letter height: how high a capital H stands; of the text itself where a script has none",   \
       "140 mm"},                                                                                  \
      {"font size", HF_FIELD_LENGTH, 0, AT(kind.font.size), "or the size of the font (its em)",    \
       "200 mm"},                                                                                  \
      {"bolder",                                                                                   \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       AT(kind.font.bolder),                                                                       \
       "each letter's edge moves out by this all round, so that its strokes get twice as much "    \
       "wider and it stands so much higher; less than 0: lighter. Letters keep their places",      \
       "0.4 mm",                                                                                   \
       "0 mm",                                                                                     \
       -20,                                                                                        \
       20},                                                                                        \
  {                                                                                                \
    "language", HF_FIELD_TEXT, 0, AT(kind.font.language), "language of the text (BCP 47)", "tr"    \
  }

/* --- entries --- */

static const HfField ring_fields[] = {
    {"outer", HF_FIELD_LENGTH, HF_REQUIRED, AT(ring.outer), "outer diameter", "600 mm"},
    {"inner", HF_FIELD_LENGTH, 0, AT(ring.inner), "inner diameter", "560 mm"},
    {"width", HF_FIELD_LENGTH, 0, AT(ring.width), "or the width of its strip", "20 mm"},
    {NULL},
};

static const HfChoice shape_choices[] = {{"round", HF_PLATE_ROUND},
                                         {"oval", HF_PLATE_OVAL},
                                         {"rectangle", HF_PLATE_RECTANGLE},
                                         {"rounded", HF_PLATE_ROUNDED},
                                         {"arch-topped", HF_PLATE_ARCHED},
                                         {"shield", HF_PLATE_SHIELD},
                                         {"polygon", HF_PLATE_POLYGON},
                                         {"outline", HF_PLATE_OUTLINE},
                                         {NULL, 0}};

static const HfField plate_fields[] = {
    {"shape", HF_FIELD_CHOICE, HF_REQUIRED, AT(plate.shape),
     "outline: what stands on it, grown by a distance", "oval", .choices = shape_choices},
    {"width", HF_FIELD_LENGTH, 0, AT(plate.width),
     "of oval, rectangle, rounded, arch-topped, shield", "400 mm"},
    {"height", HF_FIELD_LENGTH, 0, AT(plate.height), "of the same", "250 mm"},
    {"diameter", HF_FIELD_LENGTH, 0, AT(plate.diameter),
     "of round; of the circle through the corners of a polygon", "300 mm"},
    {"corner", HF_FIELD_LENGTH, 0, AT(plate.corner),
     "radius of the corners; rounded needs it, others may have it", "12 mm", NULL, 0, FAR},
    {"sides", HF_FIELD_WHOLE, 0, AT(plate.sides), "of a regular polygon", "6", NULL, 3, 100},
    {"rise", HF_FIELD_LENGTH, 0, AT(plate.rise),
     "arch-topped: height of the arch over the shoulders", "80 mm"},
    {"grow", HF_FIELD_LENGTH, 0, AT(plate.grow), "outline: by this distance", "15 mm"},
    {"around", HF_FIELD_NAMES, 0, AT(plate.around),
     "outline: of these entries; otherwise of all that are placed on it", "[boats, anchor]"},
    {NULL},
};

static const HfField bar_fields[] = {
    {"length", HF_FIELD_LENGTH, HF_REQUIRED, AT(bar.length), "from end to end", "1200 mm"},
    {"height", HF_FIELD_LENGTH, HF_REQUIRED, AT(bar.height), "of the strip", "20 mm"},
    {"corner", HF_FIELD_LENGTH, 0, AT(bar.corner), "radius of its corners", "5 mm", "0 mm", 0, FAR},
    {NULL},
};

static const HfField arch_fields[] = {
    {"chord", HF_FIELD_LENGTH, 0, AT(arch.chord), "clear width between its feet", "1100 mm"},
    {"rise", HF_FIELD_LENGTH, 0, AT(arch.rise), "of the inner curve over that chord", "300 mm"},
    {"legs", HF_FIELD_LENGTH, 0, AT(arch.legs), "length of its straight legs", "150 mm", "0 mm", 0,
     FAR},
    {"over", HF_FIELD_NAME, HF_PLACES, AT(arch.over),
     "or it runs round that gate arch, about the same centre and down to the same feet", "lower",
     .kinds = BIT(HF_ENTRY_ARCH)},
    {"clear", HF_FIELD_LENGTH, 0, AT(arch.clear), "over: clear distance between the two", "150 mm"},
    {"width", HF_FIELD_LENGTH, HF_REQUIRED, AT(arch.width), "of the strip", "25 mm"},
    {NULL},
};

static const HfChoice align_choices[] = {{"centre", HF_ALIGN_CENTRE},
                                         {"center", HF_ALIGN_CENTRE},
                                         {"left", HF_ALIGN_LEFT},
                                         {"right", HF_ALIGN_RIGHT},
                                         {NULL, 0}};
static const HfChoice form_choices[] = {{"rigid", HF_RIGID}, {"bent", HF_BENT}, {NULL, 0}};
static const HfChoice tops_choices[] = {{"by place", 0}, {"outward", 1}, {"inward", 2}, {NULL, 0}};
static const HfChoice give_choices[] = {{"spacing", HF_GIVE_SPACING},
                                        {"letter width", HF_GIVE_WIDTH},
                                        {"band", HF_GIVE_BAND},
                                        {"ring", HF_GIVE_RING},
                                        {NULL, 0}};
static const HfChoice descender_choices[] = {
    {"pass", HF_DESCENDER_PASSES}, {"join", HF_DESCENDER_JOINS}, {NULL, 0}};

static const HfField words_fields[] = {
    {"text", HF_FIELD_TEXTS, HF_REQUIRED, AT(words.lines), "one line, or a list of lines",
     "Saltmarsh Boats"},
    LETTERING(words),
    {"writing", HF_FIELD_CHOICE, 0, AT(words.font.way), "which way the text runs", "right to left",
     "by script", .choices = way_choices},
    {"spacing", HF_FIELD_SPACING, 0, AT(words.spacing),
     "added between letters, as a length or a share of the letter height; joined: one spacing at "
     "which every pair of neighbours joins; joined pair by pair: each pair its own",
     "joined", "0 mm", -1000, 1000},
    {"joint", HF_FIELD_LENGTH, 0, AT(words.joint),
     "joined: how wide the metal between two letters is; otherwise 1.25 times the limit", "4 mm"},
    {"line spacing", HF_FIELD_SHARE, 0, AT(words.line_spacing),
     "from baseline to baseline, as a length or a share of the letter height", "150 %", "150 %",
     0.1, FAR},
    {"align", HF_FIELD_CHOICE, 0, AT(words.align), "lines of several lengths", "left", "centre",
     .choices = align_choices},
    {"letters", HF_FIELD_CHOICE, 0, AT(words.letters),
     "on an arc: keep their shape, or bend with it", "bent", "rigid", .choices = form_choices},
    {"arc radius", HF_FIELD_LENGTH, 0, AT(words.arc_radius),
     "the baseline is an arc of this radius round the entry or sign that it is on", "220 mm"},
    {"band", HF_FIELD_NAMES, HF_PLACES, AT(words.band),
     "in the band between these two rings or gate arches", "[inner, outer]",
     .kinds = BIT(HF_ENTRY_RING) | BIT(HF_ENTRY_ARCH)},
    {"stand on", HF_FIELD_NAME, HF_PLACES, AT(words.stand_on),
     "each letter runs into this bar or plate by the bite", "rail",
     .kinds = BIT(HF_ENTRY_BAR) | BIT(HF_ENTRY_PLATE)},
    {"tops", HF_FIELD_CHOICE, 0, AT(words.facing),
     "arc, band: where the letters' tops point; by place: outward in the upper half, inward in the "
     "lower, so that both read from left to right",
     "inward", "by place", .choices = tops_choices},
    {"fill band", HF_FIELD_YES, 0, AT(words.fill),
     "letter height and baseline are worked out so that the letters bite both rings", "yes", "no"},
    {"bite", HF_FIELD_LENGTH, 0, AT(words.bite),
     "fill band, stand on: how deep letters run in, at the least; otherwise half the joint limit, "
     "at "
     "least 1 mm",
     "2 mm"},
    {"give way", HF_FIELD_CHOICES, 0, AT(words.give_way),
     "fill band: what gives way, in this order, when the text is too long",
     "[spacing, letter width]", "[spacing, letter width]", .choices = give_choices},
    {"descenders", HF_FIELD_CHOICE, 0, AT(words.descenders),
     "stand on: a tail that is longer than the bar is high passes through and shows below it, or "
     "joins "
     "it and ends inside",
     "join", "pass", .choices = descender_choices},
    {NULL},
};

static const HfField initial_fields[] = {
    {"text", HF_FIELD_TEXT, HF_REQUIRED, AT(initial.text),
     "one letter; two or three when interlaced", "S"},
    LETTERING(initial),
    {"fill window of", HF_FIELD_NAME, HF_PLACES, AT(initial.fill),
     "as large as the window of this ring allows", "inner", .kinds = BIT(HF_ENTRY_RING)},
    {"bite", HF_FIELD_LENGTH, 0, AT(initial.bite), "window: runs into the ring by this", "3 mm"},
    {"clear", HF_FIELD_LENGTH, 0, AT(initial.clear), "window: or stays clear of it by this",
     "8 mm"},
    {"split by", HF_FIELD_NAME, 0, AT(initial.split_by), "these words run across the letter",
     "boats", .kinds = BIT(HF_ENTRY_WORDS)},
    {"split gap", HF_FIELD_LENGTH, 0, AT(initial.split_gap),
     "clear distance above and below those words; less than 0: the halves run into them", "6 mm",
     NULL, -FAR, FAR},
    {"split bar", HF_FIELD_LENGTH, 0, AT(initial.split_bar),
     "height of two bars, above and below the words: the words bite both, each half ends in one",
     "10 mm"},
    {"interlace", HF_FIELD_LENGTH, 0, AT(initial.interlace),
     "two or three letters woven, with this clear gap where they cross", "4 mm"},
    {NULL},
};

/* Without a size of its own a separator is as large as bites both rings. */
#define IN_BAND                                                                                    \
  {"band",                                                                                         \
   HF_FIELD_NAMES,                                                                                 \
   HF_PLACES,                                                                                      \
   AT(separator.band),                                                                             \
   "in the band between these two rings or gate arches; without a size as large as bites both",    \
   "[inner, outer]",                                                                               \
   .kinds = BIT(HF_ENTRY_RING) | BIT(HF_ENTRY_ARCH)},                                              \
  {                                                                                                \
    "bite", HF_FIELD_LENGTH, 0, AT(separator.bite),                                                \
        "band: how deep it runs into each ring; otherwise what the joint limit needs", "2 mm"      \
  }

static const HfField dot_fields[] = {
    {"diameter", HF_FIELD_LENGTH, 0, AT(separator.size), "of the dot", "14 mm"},
    IN_BAND,
    {NULL},
};
static const HfField diamond_fields[] = {
    {"height", HF_FIELD_LENGTH, 0, AT(separator.size), "from tip to tip", "30 mm"},
    {"width", HF_FIELD_LENGTH, 0, AT(separator.width), "across; otherwise 70 % of the height",
     "20 mm"},
    IN_BAND,
    {NULL},
};
static const HfField star_fields[] = {
    {"diameter", HF_FIELD_LENGTH, 0, AT(separator.size), "of the circle through its tips", "40 mm"},
    {"points", HF_FIELD_WHOLE, 0, AT(separator.points), "how many", "5", "5", 3, 60},
    {"depth", HF_FIELD_RATIO, 0, AT(separator.depth), "inner radius as a share of the outer",
     "45 %", "45 %", 0.1, 0.95},
    IN_BAND,
    {NULL},
};

static const HfField hole_fields[] = {
    {"diameter", HF_FIELD_LENGTH, HF_REQUIRED, AT(hole.diameter), "of the hole", "8 mm"},
    {"hanging", HF_FIELD_MAYBE, 0, AT(hole.hanging),
     "the sign hangs by it; otherwise it does when the sign is mounted by holes", "no"},
    {NULL},
};
static const HfField holes_fields[] = {
    {"diameter", HF_FIELD_LENGTH, HF_REQUIRED, AT(holes.diameter), "of each hole", "10 mm"},
    {"columns", HF_FIELD_WHOLE, 0, AT(holes.columns), "a grid: so many side by side", "6", NULL, 1,
     100},
    {"rows", HF_FIELD_WHOLE, 0, AT(holes.rows), "and so many above each other", "3", NULL, 1, 100},
    {"pitch", HF_FIELD_LENGTH, 0, AT(holes.pitch), "from centre to centre", "20 mm"},
    {"staggered", HF_FIELD_YES, 0, AT(holes.staggered), "every second row moves by half a pitch",
     "yes", "no"},
    {"count", HF_FIELD_WHOLE, 0, AT(holes.count), "or so many round a circle", "12", NULL, 1, 360},
    {"circle", HF_FIELD_LENGTH, 0, AT(holes.circle), "diameter of that circle", "200 mm"},
    {NULL},
};

static const HfField ear_fields[] = {
    {"hole", HF_FIELD_LENGTH, HF_REQUIRED, AT(ear.hole), "diameter of its hole", "8 mm"},
    {"width", HF_FIELD_LENGTH, 0, AT(ear.width), "of the ear; otherwise from the hole", "24 mm"},
    {"height", HF_FIELD_LENGTH, 0, AT(ear.height), "of the ear; otherwise from the hole", "30 mm"},
    {NULL},
};
static const HfField foot_fields[] = {
    {"width", HF_FIELD_LENGTH, HF_REQUIRED, AT(foot.width), "of the foot", "60 mm"},
    {"height", HF_FIELD_LENGTH, HF_REQUIRED, AT(foot.height), "of the foot", "15 mm"},
    {NULL},
};
static const HfField stake_fields[] = {
    {"width", HF_FIELD_LENGTH, HF_REQUIRED, AT(stake.width), "of the stake", "16 mm"},
    {"length", HF_FIELD_LENGTH, HF_REQUIRED, AT(stake.length), "with its point", "250 mm"},
    {"point", HF_FIELD_LENGTH, 0, AT(stake.point), "length of the pointed end", "40 mm", "30 mm", 0,
     FAR},
    {NULL},
};
static const HfField tie_fields[] = {
    {"of", HF_FIELD_PIN, HF_REQUIRED, AT(tie.letter),
     "letter 2 of boats, 2nd A of boats, or an entry", "2nd A of boats"},
    {"opening", HF_FIELD_WHOLE, 0, AT(tie.opening), "from which opening of it; 0: from its outside",
     "1", "0", 0, 99},
    {"em", HF_FIELD_NUMBERS, 0, AT(tie.em_x),
     "place in it: ems of the letter, or mm from the centre of an entry; [right, up]",
     "[0.31, 0.35]", "[0, 0]", -FAR, FAR},
    {"direction", HF_FIELD_SPOT, 0, AT(tie.angle), "which way the tie runs: " DIRECTIONS, "top",
     "top"},
    {"width", HF_FIELD_LENGTH, 0, AT(tie.width), "otherwise 1.25 times the limit", "3 mm"},
    {"length", HF_FIELD_LENGTH, 0, AT(tie.length),
     "so long, half to each side of its place, whatever is there; otherwise from metal to metal",
     "12 mm"},
    {NULL},
};

static const HfChoice tie_directions[] = {{"any", HF_TIE_ANY},
                                          {"upright", HF_TIE_UPRIGHT},
                                          {"level", HF_TIE_LEVEL},
                                          {"across the stroke", HF_TIE_STROKE},
                                          {NULL, 0}};
static const HfField ties_fields[] = {
    {"of", HF_FIELD_PINS, 0, AT(ties.of),
     "entries or letters whose loose parts are tied; otherwise all that is loose",
     "[bakery, 2nd A of boats]"},
    {"direction", HF_FIELD_CHOICE, 0, AT(ties.direction),
     "which way ties run, as the letter stands; upright in a band is towards the rings", "upright",
     "any", .choices = tie_directions},
    {"width", HF_FIELD_LENGTH, 0, AT(ties.width), "otherwise 1.25 times the limit", "3 mm"},
    {"count", HF_FIELD_WHOLE, 0, AT(ties.count),
     "at least so many for each part; otherwise as many as it needs", "2", "0", 0, 8},
    {"keep free", HF_FIELD_SPOTS, 0, AT(ties.keep_free),
     "no tie leaves a part in these directions, as the letter stands: " DIRECTIONS, "[top]"},
    {"not on", HF_FIELD_PINS, 0, AT(ties.not_on), "letters or entries that no tie may touch",
     "[1st S of boats]"},
    {NULL},
};
static const HfField mend_fields[] = {
    {"of", HF_FIELD_PINS, 0, AT(mend.of), "entries or letters; otherwise the whole sign",
     "[bakery]"},
    {"fill", HF_FIELD_YES, 0, AT(mend.fill), "openings and gaps too small to cut become metal",
     "yes", "no"},
    {"enlarge", HF_FIELD_YES, 0, AT(mend.enlarge), "openings too small to pierce are made larger",
     "yes", "no"},
    {"thicken", HF_FIELD_YES, 0, AT(mend.thicken), "metal under its limit is made wider", "yes",
     "no"},
    {"round", HF_FIELD_LENGTH, 0, AT(mend.round), "sharp outer points get this radius", "3 mm",
     NULL, 0.5, 50},
    {NULL},
};

#define ENTRY(id, word, doc, example)                                                              \
  static const HfTable table_##id = {word, doc, id##_fields, &hf_table_place, example}
ENTRY(ring, "ring", "A round strip of metal.", "{name: outer, outer: 600 mm, width: 20 mm}");
ENTRY(plate, "plate", "A flat shape that the rest stands on or is cut from.",
      "{name: board, shape: oval, width: 400 mm, height: 250 mm}");
ENTRY(bar, "bar", "A straight strip that words stand on or hang from.",
      "{name: rail, length: 1200 mm, height: 20 mm}");
ENTRY(arch, "gate arch", "A curved strip over a gate, with straight legs.",
      "{name: arch, chord: 1100 mm, rise: 300 mm, legs: 150 mm, width: 25 mm}");
ENTRY(
    words, "words", "Letters of metal (standing), or as openings (cut through).",
    "{text: Saltmarsh Boats, font: Lobster Two, height: 140 mm, stand on: rail, spacing: joined}");
ENTRY(initial, "initial", "One large letter, or two or three interlaced.",
      "{text: S, font: Lobster Two, fill window of: outer, bite: 3 mm}");
ENTRY(dot, "dot", "A round separator.", "{diameter: 14 mm, on: board, at: 9 o'clock}");
ENTRY(diamond, "diamond", "A separator on its tip.",
      "{height: 30 mm, on: board, at: [9 o'clock, 3 o'clock]}");
ENTRY(star, "star", "A separator with points.", "{diameter: 40 mm, on: board, at: top}");
ENTRY(hole, "hole", "A round opening.", "{diameter: 8 mm, on: board, at: [0 mm, 100 mm]}");
ENTRY(holes, "hole pattern", "Many round openings, in a grid or round a circle.",
      "{diameter: 10 mm, columns: 6, rows: 3, pitch: 20 mm, on: board, at: centre}");
ENTRY(ear, "ear", "A lug with a hole that the sign hangs by.",
      "{hole: 8 mm, on: rail, at: [left end, right end]}");
ENTRY(foot, "foot", "What a sign stands on.",
      "{width: 60 mm, height: 15 mm, on: rail, at: [left end, right end]}");
ENTRY(stake, "stake", "What a sign is planted by.",
      "{width: 16 mm, length: 250 mm, on: board, at: bottom}");
ENTRY(tie, "tie", "A bar of metal placed by hand (a pin).",
      "{of: 2nd A of boats, opening: 1, em: [0.31, 0.35], direction: top, width: 3 mm}");

#define RULE(id, word, doc, example)                                                               \
  static const HfTable table_##id = {word, doc, id##_fields, &table_rule, example}
RULE(ties, "ties",
     "A rule: bars of metal wherever a part would fall out, worked out anew each time.",
     "{of: [bakery], direction: upright}");
RULE(mend, "mend",
     "A rule: thin, small and sharp places put right, worked out anew each time. When it does not "
     "say what: fill and thicken.",
     "{fill: yes, thicken: yes, round: 3 mm}");

const HfTable *const hf_table_entries[HF_N_ENTRY_KINDS] = {
    [HF_ENTRY_RING] = &table_ring,   [HF_ENTRY_PLATE] = &table_plate,
    [HF_ENTRY_BAR] = &table_bar,     [HF_ENTRY_ARCH] = &table_arch,
    [HF_ENTRY_WORDS] = &table_words, [HF_ENTRY_INITIAL] = &table_initial,
    [HF_ENTRY_DOT] = &table_dot,     [HF_ENTRY_DIAMOND] = &table_diamond,
    [HF_ENTRY_STAR] = &table_star,   [HF_ENTRY_HOLE] = &table_hole,
    [HF_ENTRY_HOLES] = &table_holes, [HF_ENTRY_EAR] = &table_ear,
    [HF_ENTRY_FOOT] = &table_foot,   [HF_ENTRY_STAKE] = &table_stake,
    [HF_ENTRY_TIE] = &table_tie,     [HF_ENTRY_TIES] = &table_ties,
    [HF_ENTRY_MEND] = &table_mend,
};

/* --- the recipe --- */

#define IN(member) offsetof(HfRecipe, member)
static const HfField metal_fields[] = {
    {"kind", HF_FIELD_METAL, HF_REQUIRED, IN(metal), "which metal", "mild steel"},
    {"thickness", HF_FIELD_THICKNESS, HF_REQUIRED, IN(thickness),
     "of the sheet; a gauge is understood", "3 mm", NULL, 0.3, 50},
    {NULL},
};
static const HfTable table_metal = {"metal", "What it is cut from.", metal_fields, NULL, NULL};

static const HfField process_fields[] = {
    {"kerf", HF_FIELD_LENGTH, 0, IN(kerf), "width of the cut: measure yours on a test cut",
     "1.4 mm", NULL, 0.1, 10},
    {"crater", HF_FIELD_LENGTH, 0, IN(crater),
     "radius of the crater that piercing leaves; otherwise the shop's, otherwise the kerf", "2 mm",
     NULL, 0.1, 30},
    {"row", HF_FIELD_TEXT, 0, IN(row), "or the name of a row of the shop's cut chart", "fine 45 A"},
    {NULL},
};
static const HfTable table_process = {"process",
                                      "How it is cut. Without a kerf here the shop file's is used.",
                                      process_fields, NULL, NULL};

static const HfField order_fields[] = {
    {"customer", HF_FIELD_TEXT, 0, IN(customer), "shown on the proof only", "Ferry Steps Cottage"},
    {"number", HF_FIELD_TEXT, 0, IN(order_number), "of the order", "SQ-014"},
    {"date", HF_FIELD_TEXT, 0, IN(date), "of the order, as you write it", "2026-03-14"},
    {"quantity", HF_FIELD_WHOLE, 0, IN(quantity), "how many of this sign", "2", "1", 1, 100000},
    {NULL},
};
static const HfTable table_order = {"order", "For whom it is.", order_fields, NULL, NULL};

static const HfField accept_fields[] = {
    {"finding", HF_FIELD_TEXT, HF_REQUIRED, offsetof(HfAccepted, finding), "key of a caution",
     "sharp-point"},
    {"of", HF_FIELD_NAME, 0, offsetof(HfAccepted, of), "only where this entry is concerned",
     "anchor"},
    {"reason", HF_FIELD_TEXT, HF_REQUIRED, offsetof(HfAccepted, reason),
     "stays in report and proof with your name for it", "hangs above 3 m"},
    {NULL},
};
static const HfTable table_accept = {
    "an accepted finding", "A caution that you have looked at. A stop can't be accepted.",
    accept_fields, NULL, "{finding: sharp-point, of: anchor, reason: hangs above 3 m}"};

static const HfChoice mount_choices[] = {{"none", HF_MOUNT_NONE},     {"holes", HF_MOUNT_HOLES},
                                         {"studs", HF_MOUNT_STUDS},   {"stake", HF_MOUNT_STAKE},
                                         {"welded", HF_MOUNT_WELDED}, {NULL, 0}};

static const HfField recipe_fields[] = {
    {"holdfast", HF_FIELD_WHOLE, HF_REQUIRED, IN(format), "version of the recipe's format", "1",
     NULL, 1, HF_RECIPE_FORMAT},
    {"sign", HF_FIELD_TEXT, 0, IN(sign), "what the sign is called; otherwise as the file",
     "Boat yard"},
    {"metal", HF_FIELD_TABLE, HF_REQUIRED, 0, "what it is cut from",
     "{kind: mild steel, thickness: 3 mm}", .table = &table_metal},
    {"process", HF_FIELD_TABLE, 0, 0, "how it is cut", "{kerf: 1.4 mm}", .table = &table_process},
    {"mount", HF_FIELD_CHOICE, 0, IN(mount), "how the sign is held where it goes", "holes", "none",
     .choices = mount_choices},
    {"read from", HF_FIELD_LENGTH, 0, IN(read_from), "distance that it is to be read from", "12 m",
     NULL, 100, 200000},
    {"house number", HF_FIELD_YES, 0, IN(house_number),
     "its numbers must meet the fire code's size", "yes", "no"},
    {"within reach", HF_FIELD_YES, 0, IN(within_reach),
     "people can touch it: sharp points are a stop", "yes", "no"},
    {"alone", HF_FIELD_NAMES, 0, IN(alone),
     "entries that may stand alone, each letter of words; \"dots of number\": its dots and accents "
     "too",
     "[number]"},
    {"accept", HF_FIELD_ROWS, 0, IN(accept), "cautions that you have looked at",
     "[{finding: sharp-point, reason: hangs above 3 m}]", .table = &table_accept,
     .row_size = sizeof(HfAccepted), .row_mark = offsetof(HfAccepted, mark)},
    {"limits", HF_FIELD_LIMITS, 0, IN(limits),
     "limits of your own: key of a finding, or key and \"caution\"",
     "{thin-web: 3 mm, thin-web caution: 4 mm}"},
    {"order", HF_FIELD_TABLE, 0, 0, "for whom it is; shown on the proof only",
     "{customer: Ferry Steps Cottage, number: SQ-014, date: 2026-03-14, quantity: 2}",
     .table = &table_order},
    {"entries", HF_FIELD_ENTRIES, HF_REQUIRED, IN(entries),
     "what the sign is made of, in order: later entries add to and cut from earlier ones",
     "[ring: {outer: 600 mm, width: 20 mm}]"},
    {NULL},
};
const HfTable hf_table_recipe = {"a recipe", "The whole file.", recipe_fields, NULL, NULL};

/* --- looking up --- */

const HfField *
hf_table_field(const HfTable *table, const char *key)
{
  for (; table != NULL; table = table->also)
    for (const HfField *field = table->fields; field->key != NULL; field++)
      if (strcmp(field->key, key) == 0)
        return field;
  return NULL;
}

const char **
hf_table_keys(const HfTable *table)
{
  GPtrArray *keys = g_ptr_array_new();
  for (; table != NULL; table = table->also)
    for (const HfField *field = table->fields; field->key != NULL; field++)
      g_ptr_array_add(keys, (gpointer)field->key);
  g_ptr_array_add(keys, NULL);
  return (const char **)g_ptr_array_free(keys, FALSE);
}

static gboolean
has_range(const HfField *field)
{
  return field->min != 0 || field->max != 0;
}

double
hf_field_min(const HfField *field)
{
  if (has_range(field))
    return field->min;
  return field->type == HF_FIELD_LENGTH ? HF_RECIPE_MIN_MM : NAN;
}

double
hf_field_max(const HfField *field)
{
  if (has_range(field))
    return field->max;
  return field->type == HF_FIELD_LENGTH ? HF_RECIPE_MAX_MM : NAN;
}

char *
hf_field_say(const HfField *field, double number)
{
  if (field->type == HF_FIELD_WHOLE || field->type == HF_FIELD_NUMBER ||
      field->type == HF_FIELD_NUMBERS)
    return hf_text_number(number, 3);
  if (field->type == HF_FIELD_RATIO) {
    g_autofree char *share = hf_text_number(number * 100, 2);
    return g_strconcat(share, " %", NULL);
  }
  if (field->type == HF_FIELD_QUANTITY) {
    g_autofree char *text = hf_text_number(number / field->units->factor, 3);
    return g_strconcat(text, " ", field->units->unit, NULL);
  }
  if (fabs(number) >= 1000) {
    g_autofree char *text = hf_text_number(number / 1000, 4);
    return g_strconcat(text, " m", NULL);
  }
  return hf_text_mm(number);
}

char *
hf_table_called(const HfTable *table)
{
  if (table->also == NULL || table == &table_words)
    return g_strdup(table->name);
  return g_strconcat(strchr("aeiou", table->name[0]) != NULL ? "an " : "a ", table->name, NULL);
}

/* Words that people also say, and the key of ours that they mean. */
static const struct {
  const char *said, *key;
} hints[] = {
    {"letter height", "height"},
    {"cap height", "height"},
    {"letter spacing", "spacing"},
    {"font family", "font"},
    {"face", "font"},
    {"size", "font size"},
    {"radius", "arc radius"},
    {"arc", "arc radius"},
    {"rotate", "turn"},
    {"rotation", "turn"},
    {"angle", "turn"},
    {"offset", "shift"},
    {"position", "at"},
    {"outer diameter", "outer"},
    {"inner diameter", "inner"},
    {"shape", "shape"},
    {"material", "metal"},
    {"gauge", "thickness"},
    {"type", "kind"},
    {"string", "text"},
    {"window", "fill window of"},
    {"fill", "fill band"},
    {"fill", "fill window of"},
    {"material", "kind"},
    {"hole", "diameter"},
    {"span", "chord"},
    {"direction", "tops"},
    {"direction", "writing"},
    {"thick", "thickness"},
    {"shapes", "entries"},
    {"letter", "of"},
    {"opening", "as"},
};

const char *
hf_table_hint(const HfTable *table, const char *key)
{
  for (gsize i = 0; i < G_N_ELEMENTS(hints); i++)
    if (g_ascii_strcasecmp(hints[i].said, key) == 0 && hf_table_field(table, hints[i].key) != NULL)
      return hints[i].key;
  return NULL;
}
