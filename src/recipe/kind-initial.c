/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-initial.c - one large letter, or two or three of a monogram.
 */
#include "recipe/kind-private.h"

#define USUAL_HEIGHT 200 /* mm, of an initial that the page begins */

static const HfChoice sets[] = {
    {"alone", HF_SET_ALONE, "alone", "one letter"},
    {"tall middle", HF_SET_TALL_MIDDLE, "with a tall middle",
     "three letters, the outer ones two thirds as high", "\\btall middle"},
    {"stacked", HF_SET_STACKED, "stacked",
     "two above each other; of three the last stands beside them", "\\bstacked"},
    {"circle", HF_SET_CIRCLE, "as a circle", "drawn out to fill a circle", "\\b(?:round|circle)"},
    {"diamond", HF_SET_DIAMOND, "as a diamond", "drawn out to fill a diamond", "\\bdiamond"},
    {NULL, 0}};

static const HfField fields[] = {
    {"text", HF_FIELD_TEXT, HF_REQUIRED, HF_AT(initial.text),
     "one letter; two or three when set or interlaced", "S", .roles = HF_ROLE_NONE},
    {"set as", HF_FIELD_CHOICE, 0, HF_AT(initial.set),
     "a monogram. tall middle: three letters, the outer ones two thirds as high; stacked: two "
     "above each other, of three the last stands beside them; circle, diamond: two or three "
     "letters "
     "drawn out to fill one",
     "tall middle", "alone", .choices = sets, .roles = HF_ROLE_NONE, .words = {.before = "set"}},
    {"gap between", HF_FIELD_LENGTH, 0, HF_AT(initial.gap),
     "set as: clear distance between the letters; less than 0: they run into each other by it; "
     "otherwise metal is joined as wide as the joint limit asks, and openings, circle and diamond "
     "leave a web between",
     "6 mm", NULL, -HF_FAR, HF_FAR, .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR,
     .words = {.before = "", .after = "between the letters"}},
    HF_LETTERING_FIELDS(initial),
    {"fill window of", HF_FIELD_NAME, HF_PLACES, HF_AT(initial.fill),
     "as large as the window of this ring allows", "inner", .kinds = HF_BIT(HF_ENTRY_RING),
     .roles = HF_ROLE_WINDOW},
    {"bite", HF_FIELD_LENGTH, 0, HF_AT(initial.bite), "window: runs into the ring by this", "3 mm",
     .roles = HF_ROLE_PICTURE | HF_ROLE_BITE, .words = {.before = "biting", .after = "deep"}},
    {"clear", HF_FIELD_LENGTH, 0, HF_AT(initial.clear), "window: or stays clear of it by this",
     "8 mm", .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR,
     .words = {.before = "", .after = "clear of it"}},
    {"split by", HF_FIELD_NAME, 0, HF_AT(initial.split_by), "these words run across the letter",
     "boats", .kinds = HF_BIT(HF_ENTRY_WORDS), .roles = HF_ROLE_SPLIT},
    {"split gap", HF_FIELD_LENGTH, 0, HF_AT(initial.split_gap),
     "clear distance above and below those words; less than 0: the halves run into them", "6 mm",
     NULL, -HF_FAR, HF_FAR, .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR,
     .words = {.before = "with", .after = "clear above and below them"}},
    {"split bar", HF_FIELD_LENGTH, 0, HF_AT(initial.split_bar),
     "height of two bars, above and below the words: the words bite both, each half ends in one",
     "10 mm", .roles = HF_ROLE_PICTURE, .words = {.before = "between bars of"}},
    {"interlace", HF_FIELD_LENGTH, 0, HF_AT(initial.interlace),
     "two or three letters woven, with this clear gap where they cross", "4 mm",
     .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR},
    {NULL},
};

static const HfClash clashes[] = {{"height", "font size"},
                                  {"height", "fill window of"},
                                  {"font size", "fill window of"},
                                  {"fill window of", "between"},
                                  {"bite", "clear"},
                                  {"split by", "interlace"},
                                  {"set as", "interlace"},
                                  {"set as", "split by"},
                                  {"split gap", "split bar"},
                                  {NULL}};
static const HfNeed needs[] = {{"bite", {"fill window of", "split bar", "split by"}},
                               {"clear", {"fill window of"}},
                               {"split gap", {"split by"}},
                               {"split bar", {"split by"}},
                               {"gap between", {"set as"}},
                               {NULL, {NULL}}};

/* Letters as people count them: an accent that follows belongs to its letter. */
static guint
count_letters(const char *text)
{
  guint n = 0;
  for (; *text != '\0'; text = g_utf8_next_char(text)) {
    gunichar c = g_utf8_get_char(text);
    if (!g_unichar_ismark(c) && !g_unichar_isspace(c) && g_unichar_isprint(c))
      n++;
  }
  return n;
}

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  hf_check_language(reader, node, &entry->initial.font);
  guint n = count_letters(entry->initial.text);
  gboolean interlaced = !isnan(entry->initial.interlace);
  if (entry->initial.set == HF_SET_TALL_MIDDLE && n != 3)
    hf_mistake(reader->mistakes, hf_node_get(node, "text")->mark,
               "write three letters, or set as: stacked",
               "a monogram with a tall middle is three letters, this has %u", n);
  else if (entry->initial.set > HF_SET_TALL_MIDDLE && (n < 2 || n > 3))
    hf_mistake(reader->mistakes, hf_node_get(node, "text")->mark, "write two or three letters",
               "a monogram is two or three letters, this has %u", n);
  else if (entry->initial.set == HF_SET_ALONE && !interlaced && n != 1)
    hf_mistake(reader->mistakes, hf_node_get(node, "text")->mark,
               "write one letter; for two or three add set as: stacked, or interlace: 4 mm",
               "an initial is one letter, this has %u", n);
  if (interlaced && (n < 2 || n > 3))
    hf_mistake(reader->mistakes, hf_node_get(node, "text")->mark, "write two or three letters",
               "two or three letters can be interlaced, this has %u", n);
}

const HfKind hf_kind_initial = {
    HF_ENTRY_TABLE("initial", "One large letter, or two or three of a monogram.", fields,
                   "{text: S, font: Lobster Two, fill window of: outer, bite: 3 mm}", clashes,
                   needs),
    .kind = HF_ENTRY_INITIAL,
    .flags = HF_KIND_LETTERING,
    .one_of = {"height", "font size", "fill window of"},
    .check = check,
    .called = "an initial",
    .heard = "initials?",
    .first = "text",
    .sentence =
        "[{?set as}{?as=opening}The monogram {text} is {as},|{?set as}The monogram {text} stands"
        "|{?interlace}{?as=opening}The monogram {text} is {as},"
        "|{?interlace}The monogram {text} stands"
        "|{?as=opening}The initial {text} is {as},|The initial {text} stands] in {font}"
        "[, set at a size of {font size}][, letters {height} high][, set {set as}][, {gap between} "
        "between the letters]"
        "[, woven with {interlace} clear "
        "where they cross][, as large as the window of {fill window of} allows]"
        "[, {clear} clear of it][{?fill window of}, biting {bite} into it][, split by {split by}]"
        "[ with {split gap} clear above and below][ between bars {split bar} high]"
        "{place}{rest}[; called {name}]",
    .begin = {.text = "S"},
};
