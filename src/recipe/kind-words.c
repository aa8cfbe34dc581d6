/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-words.c - letters of metal, or as openings.
 */
#include "recipe/kind-private.h"
#include "stock/practice.h"

#define USUAL_HEIGHT 60 /* mm, of words that the page begins */

static const HfChoice ways[] = {
    {"by script", 0, "as the script runs"}, {"left to right", 1}, {"right to left", 2}, {NULL, 0}};
static const HfChoice aligns[] = {{"centre", HF_ALIGN_CENTRE, "centred"},
                                  {"center", HF_ALIGN_CENTRE},
                                  {"left", HF_ALIGN_LEFT, "flush left"},
                                  {"right", HF_ALIGN_RIGHT, "flush right"},
                                  {NULL, 0}};
static const HfChoice forms[] = {
    {"rigid", HF_RIGID, "keep their shape"}, {"bent", HF_BENT, "bend with the line"}, {NULL, 0}};
static const HfChoice shapes[] = {
    {"straight", HF_SHAPE_NONE, "as they are", "between two level lines, as their face has them"},
    {"oval", HF_SHAPE_OVAL, "oval", "tops and feet on two arcs, highest in the middle"},
    {"arch-topped", HF_SHAPE_ARCH, "arch-topped", "tops on an arc, feet level"},
    {"banner", HF_SHAPE_BANNER, "as a banner", "tops and feet on two arcs alike"},
    {"rising", HF_SHAPE_RISING, "rising", "tops on a slope, feet level"},
    {"diamond", HF_SHAPE_DIAMOND, "as a diamond", "tops and feet on two roofs"},
    {NULL, 0}};
static const HfChoice tops[] = {
    {"by place", 0, "whichever way reads", "outward in the upper half, inward in the lower"},
    {"outward", 1},
    {"inward", 2},
    {NULL, 0}};
static const HfChoice gives[] = {
    {"spacing", HF_GIVE_SPACING}, {"letter width", HF_GIVE_WIDTH},   {"band", HF_GIVE_BAND},
    {"ring", HF_GIVE_RING},       {"letter height", HF_GIVE_HEIGHT}, {NULL, 0}};
static const HfChoice descenders[] = {{"pass", HF_DESCENDER_PASSES, "show below the bar",
                                       "a tail longer than the bar is high passes through"},
                                      {"join", HF_DESCENDER_JOINS, "end inside the bar"},
                                      {NULL, 0}};

static const HfField fields[] = {
    {"text", HF_FIELD_TEXTS, HF_REQUIRED, HF_AT(words.lines), "one line, or a list of lines",
     "Saltmarsh Boats", .roles = HF_ROLE_NONE},
    HF_LETTERING_FIELDS(words),
    {"writing", HF_FIELD_CHOICE, 0, HF_AT(words.font.way), "which way the text runs",
     "right to left", "by script", .choices = ways, .roles = HF_ROLE_NONE,
     .words = {.before = "running"}},
    {"spacing", HF_FIELD_SPACING, 0, HF_AT(words.spacing),
     "added between letters, as a length or a share of the letter height; joined: one spacing at "
     "which every pair of neighbours joins; joined pair by pair: each pair its own",
     "joined", "0 mm", -1000, 1000, .roles = HF_ROLE_PICTURE,
     .words = {.before = "letters spaced by"}},
    {"joint", HF_FIELD_LENGTH, 0, HF_AT(words.joint),
     "joined: how wide the metal between two letters is; otherwise " HF_OVER_LIMIT_TEXT
     " times the limit",
     "4 mm", .roles = HF_ROLE_PICTURE, .words = {.before = "joined by", .after = "of metal"}},
    {"line spacing", HF_FIELD_SHARE, 0, HF_AT(words.line_spacing),
     "from baseline to baseline, as a length or a share of the letter height", "150 %", "150 %",
     0.1, HF_FAR, .roles = HF_ROLE_PICTURE, .words = {.before = "lines", .after = "apart"}},
    {"align", HF_FIELD_CHOICE, 0, HF_AT(words.align), "lines of several lengths", "left", "centre",
     .choices = aligns, .roles = HF_ROLE_NONE, .words = {.before = ""}},
    {"letters", HF_FIELD_CHOICE, 0, HF_AT(words.letters),
     "on an arc or another line: keep their shape, or bend with it", "bent", "rigid",
     .choices = forms, .roles = HF_ROLE_NONE,
     .words = {.label = "letters on an arc", .before = "whose letters"}},
    {"arc radius", HF_FIELD_LENGTH, 0, HF_AT(words.arc_radius),
     "the baseline is an arc of this radius round the entry or sign that it is on", "220 mm",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_ARC, "radius of the arc"},
     .words = {.before = "along an arc of", .after = "radius"}},
    {"band", HF_FIELD_NAMES, HF_PLACES, HF_AT(words.band),
     "in the band between these two rings or gate arches", "[inner, outer]",
     .kinds = HF_BIT(HF_ENTRY_RING) | HF_BIT(HF_ENTRY_ARCH), .roles = HF_ROLE_BAND},
    {"stand on", HF_FIELD_NAME, HF_PLACES, HF_AT(words.stand_on),
     "each letter runs into this bar or plate by the bite", "rail",
     .kinds = HF_BIT(HF_ENTRY_BAR) | HF_BIT(HF_ENTRY_PLATE), .roles = HF_ROLE_STAND},
    {"tops", HF_FIELD_CHOICE, 0, HF_AT(words.facing),
     "arc, band: where the letters' tops point; by place: outward in the upper half, inward in the "
     "lower, so that both read from left to right",
     "inward", "by place", .choices = tops, .roles = HF_ROLE_NONE,
     .words = {.label = "letters’ tops", .before = "tops pointing"}},
    {"fill band", HF_FIELD_YES, 0, HF_AT(words.fill),
     "letter height and baseline are worked out so that the letters bite both rings", "yes", "no",
     .roles = HF_ROLE_FILL, .words = {.yes = "filling the band", .no = "not filling the band"}},
    {"bite", HF_FIELD_LENGTH, 0, HF_AT(words.bite),
     "fill band, stand on: how deep letters run in, at the least; otherwise half the joint limit, "
     "at "
     "least 1 mm",
     "2 mm", .roles = HF_ROLE_PICTURE | HF_ROLE_BITE,
     .words = {.before = "biting", .after = "deep"}},
    {"give way", HF_FIELD_CHOICES, 0, HF_AT(words.give_way),
     "fill band: what gives way, in this order, when the text is too long; width: what is worked "
     "out, in this order: letter height where none is said, else spacing, then letter width",
     "[spacing, letter width]", NULL, .choices = gives, .roles = HF_ROLE_NONE,
     .words = {.before = "giving way by"}},
    {"narrowest", HF_FIELD_RATIO, 0, HF_AT(words.narrowest),
     "how far letter width may give way, as a share of what the face has", "90 %", "85 %", 0.5, 1,
     .roles = HF_ROLE_NONE, .words = {.before = "letters at least", .after = "of their width"}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(words.width),
     "the ink of the longest line is this wide, along the line that it follows: see give way",
     "900 mm", .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_CIRCLE, "width"},
     .words = {.before = "", .after = "wide", .heard = "wide|width"}},
    {"inside", HF_FIELD_NAME, HF_PLACES, HF_AT(words.inside),
     "as large as stays the margin inside the edge of this plate or bar, or in the window of this "
     "ring; they are placed on it",
     "board", .kinds = HF_BIT(HF_ENTRY_PLATE) | HF_BIT(HF_ENTRY_RING) | HF_BIT(HF_ENTRY_BAR),
     .roles = HF_ROLE_STAND},
    {"margin", HF_FIELD_LENGTH, 0, HF_AT(words.margin), "inside: so much stays clear", "20 mm",
     NULL, 0, HF_FAR, .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR,
     .words = {.before = "clear of it by", .heard = "margin"}},
    {"box", HF_FIELD_POINT, 0, HF_AT(words.box_width),
     "as large as fits a box of this [width, height]; shaped: they fill it", "[900 mm, 200 mm]",
     .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_SIDES, "of the box"},
     .words = {.before = "in a box of", .pair = HF_PAIR_SIZE}},
    {"ellipse", HF_FIELD_POINT, 0, HF_AT(words.ellipse_wide),
     "the baseline is an ellipse of this [width, height] round the entry or sign that it is on",
     "[600 mm, 300 mm]", .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_AXES, "of the ellipse"},
     .words = {.before = "along an ellipse of", .pair = HF_PAIR_SIZE}},
    {"wave", HF_FIELD_LENGTH, 0, HF_AT(words.wave),
     "the baseline is a wave, so high from trough to crest; the words' middle is where it rises",
     "40 mm", .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_CREST, "height of the wave"},
     .words = {.before = "along a wave", .after = "high", .heard = "wave"}},
    {"wave length", HF_FIELD_LENGTH, 0, HF_AT(words.wave_length), "wave: from crest to crest",
     "300 mm", NULL, 1, HF_FAR, .roles = HF_ROLE_PICTURE,
     .grip = {HF_GRIP_WAVE, "length of the wave"},
     .words = {.before = "", .after = "from crest to crest", .heard = "crests?", .usual = 300}},
    {"arch", HF_FIELD_LENGTH, 0, HF_AT(words.arch),
     "the baseline is an arc that rises so far over the words' own width; less than 0: it hangs",
     "60 mm", NULL, -HF_FAR, HF_FAR, .roles = HF_ROLE_PICTURE,
     .grip = {HF_GRIP_RISE, "rise of the arch"},
     .words = {.before = "arched by", .heard = "arch|arched|rising"}},
    {"edge of", HF_FIELD_NAME, HF_PLACES, HF_AT(words.edge_of),
     "along the edge of this plate, inside it", "board", .kinds = HF_BIT(HF_ENTRY_PLATE),
     .roles = HF_ROLE_STAND, .words = {.before = "along the edge of"}},
    {"inset", HF_FIELD_LENGTH, 0, HF_AT(words.inset),
     "edge of: from the edge to the letters, to the height of capitals or, where tops point "
     "inward, "
     "to their feet",
     "20 mm", NULL, 0, HF_FAR, .roles = HF_ROLE_PICTURE,
     .words = {.before = "", .after = "inside it", .heard = "inset", .usual = 20}},
    {"through", HF_FIELD_POINTS, 0, HF_AT(words.through),
     "the baseline is a smooth curve through these points, each [right, up] from the words' place",
     "[[-200 mm, 0 mm], [0 mm, 60 mm], [200 mm, 0 mm]]", NULL, -HF_FAR, HF_FAR,
     .roles = HF_ROLE_PICTURE, .words = {.before = "along a curve through"}},
    {"along", HF_FIELD_LENGTH, 0, HF_AT(words.along),
     "ellipse, wave, edge of, through: their middle so much further along the line; less than 0: "
     "back",
     "30 mm", NULL, -HF_FAR, HF_FAR, .roles = HF_ROLE_PICTURE,
     .words = {.before = "", .after = "further along"}},
    {"shaped", HF_FIELD_CHOICE, 0, HF_AT(words.shaped),
     "drawn out to fill the box between a top and a bottom line", "oval", "straight",
     .choices = shapes, .roles = HF_ROLE_NONE, .words = {.before = "shaped"}},
    {"depth", HF_FIELD_LENGTH, 0, HF_AT(words.depth),
     "shaped: by how much its lines are curved; less than 0: the other way about; otherwise a "
     "quarter of the box's height",
     "40 mm", NULL, -HF_FAR, HF_FAR, .roles = HF_ROLE_PICTURE, .words = {.before = "curved by"}},
    {"descenders", HF_FIELD_CHOICE, 0, HF_AT(words.descenders),
     "stand on: a tail that is longer than the bar is high passes through and shows below it, or "
     "joins "
     "it and ends inside",
     "join", "pass", .choices = descenders, .roles = HF_ROLE_NONE,
     .words = {.label = "long tails", .before = "whose tails"}},
    {NULL},
};

static const HfClash clashes[] = {
    {"height", "font size"},   {"arc radius", "band"},    {"arc radius", "stand on"},
    {"band", "stand on"},      {"stand on", "on"},        {"band", "on"},
    {"on", "inside"},          {"stand on", "inside"},    {"band", "inside"},
    {"arc radius", "inside"},  {"height", "inside"},      {"font size", "inside"},
    {"width", "inside"},       {"box", "inside"},         {"band", "box"},
    {"arc radius", "box"},     {"height", "box"},         {"font size", "box"},
    {"width", "box"},          {"band", "width"},         {"arc radius", "width"},
    {"band", "between"},       {"arc radius", "between"}, {"stand on", "between"},
    {"arc radius", "ellipse"}, {"arc radius", "wave"},    {"arc radius", "arch"},
    {"arc radius", "edge of"}, {"arc radius", "through"}, {"arc radius", "shaped"},
    {"band", "ellipse"},       {"band", "wave"},          {"band", "arch"},
    {"band", "edge of"},       {"band", "through"},       {"band", "shaped"},
    {"stand on", "ellipse"},   {"stand on", "wave"},      {"stand on", "arch"},
    {"stand on", "edge of"},   {"stand on", "through"},   {"stand on", "shaped"},
    {"ellipse", "wave"},       {"ellipse", "arch"},       {"ellipse", "edge of"},
    {"ellipse", "through"},    {"ellipse", "shaped"},     {"wave", "arch"},
    {"wave", "edge of"},       {"wave", "through"},       {"wave", "shaped"},
    {"arch", "edge of"},       {"arch", "through"},       {"arch", "shaped"},
    {"edge of", "through"},    {"edge of", "shaped"},     {"through", "shaped"},
    {"inside", "ellipse"},     {"inside", "wave"},        {"inside", "arch"},
    {"inside", "edge of"},     {"inside", "through"},     {"inside", "shaped"},
    {"ellipse", "box"},        {"wave", "box"},           {"arch", "box"},
    {"edge of", "box"},        {"through", "box"},        {"ellipse", "between"},
    {"edge of", "between"},    {"on", "edge of"},         {"edge of", "turn"},
    {"arch", "along"},         {"fill band", "shaped"},   {NULL}};
static const HfNeed needs[] = {{"tops", {"arc radius", "band", "ellipse", "edge of"}},
                               {"wave", {"wave length"}},
                               {"wave length", {"wave"}},
                               {"edge of", {"inset"}},
                               {"inset", {"edge of"}},
                               {"along", {"ellipse", "wave", "edge of", "through"}},
                               {"shaped", {"box"}},
                               {"depth", {"shaped"}},
                               {"fill band", {"band"}},
                               {"bite", {"fill band", "stand on", "spacing"}},
                               {"give way", {"fill band", "width"}},
                               {"narrowest", {"fill band", "width"}},
                               {"margin", {"inside"}},
                               {"descenders", {"stand on"}},
                               {"joint", {"spacing"}},
                               {NULL, {NULL}}};

/* Only a band and its rings give way to a band, only the letters' height to a width; and where no
 * height is said, that comes first. */
static void
check_give_way(HfReader *reader, const HfNode *list, const HfWordsEntry *words)
{
  gboolean sized = !isnan(words->font.height) || !isnan(words->font.size);
  for (guint i = 0; i < words->give_way->len; i++) {
    HfGiveWay way = g_array_index(words->give_way, HfGiveWay, i);
    if (words->fill ? way == HF_GIVE_HEIGHT : way == HF_GIVE_BAND || way == HF_GIVE_RING)
      hf_mistake(reader->mistakes, hf_node_item(list, i)->mark,
                 words->fill ? "write spacing, letter width, band or ring"
                             : "write letter height, spacing or letter width",
                 "%s does not give way here", gives[way].word);
  }
  if (!words->fill && !sized && words->give_way->len > 0 &&
      g_array_index(words->give_way, HfGiveWay, 0) != HF_GIVE_HEIGHT)
    hf_mistake(reader->mistakes, list->mark, "begin with letter height, or add height: 80 mm",
               "no letter height is said, so that is what is worked out");
}

/* A line that is no arc holds one line of text, whose letters have a spacing of their own. */
static void
check_line(HfReader *reader, const HfNode *node, const HfWordsEntry *words)
{
  static const char *const lines[] = {"ellipse", "wave", "edge of", "through"};
  for (guint i = 0; i < G_N_ELEMENTS(lines); i++) {
    if (hf_node_get(node, lines[i]) == NULL)
      continue;
    if (words->lines->len > 1)
      hf_mistake(reader->mistakes, hf_key_mark(node, lines[i]), "write an entry for each line",
                 "\"%s\" holds one line of text", lines[i]);
    if (words->spacing_rule != HF_SPACING_AS_GIVEN)
      hf_mistake(reader->mistakes, hf_key_mark(node, "spacing"),
                 "say a spacing, as in 2 mm or -3 %, or put them on an arc",
                 "letters can't be joined along \"%s\"", lines[i]);
  }
  if (words->arch == 0)
    hf_mistake(reader->mistakes, hf_key_mark(node, "arch"), "say how far it rises, or take it out",
               "an arch of 0 mm is a straight line");
}

/* Between the two lines something must be left, and an arc is at most half a circle. */
static void
check_shape(HfReader *reader, const HfNode *node, const HfWordsEntry *words)
{
  if (words->shaped == HF_SHAPE_NONE)
    return;
  gboolean two = words->shaped == HF_SHAPE_OVAL || words->shaped == HF_SHAPE_DIAMOND;
  gboolean arcs = words->shaped != HF_SHAPE_RISING && words->shaped != HF_SHAPE_DIAMOND;
  double most = words->box_high / (two ? 2 : 1);
  if (words->spacing_rule != HF_SPACING_AS_GIVEN)
    hf_mistake(reader->mistakes, hf_key_mark(node, "spacing"), "say a spacing, as in 2 mm or -3 %",
               "letters that are drawn out to a shape can't be joined");
  else if (!isnan(words->depth) && arcs && words->box_width / 2 <= most)
    hf_check_less(reader, node, "depth", fabs(words->depth), "half the width of the box",
                  words->box_width / 2);
  else if (!isnan(words->depth))
    hf_check_less(reader, node, "depth", fabs(words->depth),
                  two ? "half the height of the box" : "the height of the box", most);
}

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfWordsEntry *words = &entry->words;
  hf_check_band(reader, node);
  hf_check_language(reader, node, &words->font);
  gboolean straight = hf_words_are_level(entry) || words->shaped != HF_SHAPE_NONE;
  if (words->letters == HF_BENT && straight)
    hf_mistake(reader->mistakes, hf_key_mark(node, "letters"),
               "add arc radius, band or another line, or write rigid",
               "letters can't be bent on a straight line");
  check_line(reader, node, words);
  check_shape(reader, node, words);
  if (hf_node_get(node, "joint") != NULL && words->spacing_rule == HF_SPACING_AS_GIVEN)
    hf_mistake(reader->mistakes, hf_key_mark(node, "joint"),
               "write spacing: joined, or take it out",
               "\"joint\" does nothing when the spacing is not joined");
  if (words->fill && hf_node_get(node, "height") != NULL)
    hf_mistake(reader->mistakes, hf_key_mark(node, "height"), "keep \"fill band\" or \"height\"",
               "the letter height is worked out when the band is filled");
  if (words->fill && hf_node_get(node, "font size") != NULL)
    hf_mistake(reader->mistakes, hf_key_mark(node, "font size"),
               "keep \"fill band\" or \"font size\"",
               "the letter height is worked out when the band is filled");
  if (words->inside != NULL && isnan(words->margin))
    hf_mistake(reader->mistakes, hf_key_mark(node, "inside"), "add margin: 20 mm",
               "how far inside they stay is not said");
  gboolean sized = words->fill || words->inside != NULL || !isnan(words->width) ||
                   !isnan(words->box_width) || !isnan(words->font.height) ||
                   !isnan(words->font.size);
  gboolean line = !hf_words_are_level(entry) && isnan(words->arc_radius) && words->band->len == 0;
  if (!sized && (line || !hf_reader_is_sized(reader, node)))
    hf_mistake(reader->mistakes, entry->mark, "add height: 140 mm, or width: 900 mm",
               line ? "words along a line need a height of their own" : "words need a height");
  if (hf_node_get(node, "give way") != NULL)
    check_give_way(reader, hf_node_get(node, "give way"), words);
}

const HfKind hf_kind_words = {
    HF_ENTRY_TABLE("words", "Letters of metal (standing), or as openings (cut through).", fields,
                   "{text: Saltmarsh Boats, font: Lobster Two, height: 140 mm, stand on: rail, "
                   "spacing: joined}",
                   clashes, needs),
    .kind = HF_ENTRY_WORDS,
    .flags = HF_KIND_LETTERING | HF_KIND_PLURAL,
    .one_of = {"height", "font size", "width", "inside", "box", "fill band"},
    .check = check,
    .called = "words",
    .heard = "words?|letters|text|name|number|year",
    .first = "text",
    .sentence =
        "[{?as=opening}In the band between {band} {text} is {as},"
        "|In the band between {band} stands {text}|On {stand on} stands {text}"
        "|{?as=opening}{text} is {as},|{text} stands] in {font}[, set at a size of {font size}]"
        "[, letters {height} high and spaced by {spacing}|, letters {height} high"
        "|, letters spaced by {spacing}][, {fill band}][, {width} wide]"
        "[, as large as stays {margin} inside {inside}][, along an arc of {arc radius} radius]"
        "[, along an ellipse of {ellipse}][, along a wave {wave} high and {wave length} from crest "
        "to crest][, arched by {arch}][, along the edge of {edge of}, {inset} inside it]"
        "[, along a curve through {through}][, {along} further along]"
        "[, shaped {shaped} in a box of {box}|, as large as fits a box of {box}]"
        "[, its lines curved by {depth}][, in letters that {letters}]"
        "{place}{rest}[; called {name}]",
    .begin = {.text = "Words"},
};
