/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-private.h - what the rows of the kinds share: fields of lettering and of separators, checks.
 */
#pragma once
#include "recipe/read-private.h"
#include "stock/screws.h"

#define HF_FAR        HF_RECIPE_MAX_MM
#define HF_AT(member) offsetof(HfEntry, member)
#define HF_BIT(kind)  (1u << (kind))
#define HF_DIRECTIONS "top, bottom left, 11 o'clock, 30 deg (counter-clockwise from 3 o'clock)"

extern const HfTable hf_table_rule; /* what every rule may say: a name, but no place of its own */
extern const HfTable hf_table_font;

/* A kind is what every entry is, too: the place. */
#define HF_ENTRY_TABLE(word, doc, fields, example, ...)                                            \
  {                                                                                                \
    word, doc, fields, &hf_table_place, example, __VA_ARGS__                                       \
  }

/* The fields of lettering that words and initials share. @member: of HfEntry. */
#define HF_LETTERING_FIELDS(member)                                                                \
  {"font",                                                                                         \
   HF_FIELD_FONT,                                                                                  \
   HF_REQUIRED,                                                                                    \
   HF_AT(member.font),                                                                             \
   "an installed family, or a table (see font)",                                                   \
   "Lobster Two",                                                                                  \
   .table = &hf_table_font,                                                                        \
   .roles = HF_ROLE_NONE},                                                                         \
      {"height",                                                                                   \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       HF_AT(member.font.height),                                                                  \
       "letter height: how high a capital H stands; of the text itself where a script has none",   \
       "140 mm",                                                                                   \
       .roles = HF_ROLE_PICTURE | HF_ROLE_SIZE,                                                    \
       .grip = {HF_GRIP_LETTER, "letter height"},                                                  \
       .words = {.before = "",                                                                     \
                 .after = "high",                                                                  \
                 .heard = "high|height|of",                                                        \
                 .usual = USUAL_HEIGHT}},                                                          \
      {"font size",                                                                                \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       HF_AT(member.font.size),                                                                    \
       "or the size of the font (its em)",                                                         \
       "200 mm",                                                                                   \
       .roles = HF_ROLE_PICTURE | HF_ROLE_SIZE,                                                    \
       .grip = {HF_GRIP_LETTER, "font size"},                                                      \
       .words = {.label = "size of the font", .before = "set at a size of"}},                      \
      {"bolder",                                                                                   \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       HF_AT(member.font.bolder),                                                                  \
       "each letter's edge moves out by this all round, so that its strokes get twice as much "    \
       "wider and it stands so much higher; less than 0: lighter. Letters keep their places",      \
       "0.4 mm",                                                                                   \
       "0 mm",                                                                                     \
       -20,                                                                                        \
       20,                                                                                         \
       .roles = HF_ROLE_PICTURE},                                                                  \
  {                                                                                                \
    "language", HF_FIELD_TEXT, 0, HF_AT(member.font.language), "language of the text (BCP 47)",    \
        "tr", .roles = HF_ROLE_NONE, .words = {                                                    \
          .before = "in the language"                                                              \
        }                                                                                          \
  }

extern const HfChoice hf_choices_screw[], hf_choices_fit[]; /* bore.c */

/* An opening that a screw goes through, besides its width: by which screw, how loosely. @member: a
 * HfBore. */
#define HF_SCREW_FIELDS(member)                                                                    \
  {"screw",                                                                                        \
   HF_FIELD_CHOICE,                                                                                \
   0,                                                                                              \
   HF_AT(member.screw),                                                                            \
   "or as wide as this screw needs (ISO 273)",                                                     \
   "M6",                                                                                           \
   .choices = hf_choices_screw,                                                                    \
   .roles = HF_ROLE_NONE,                                                                          \
   .words = {.before = "for"}},                                                                    \
  {                                                                                                \
    "fit", HF_FIELD_CHOICE, 0, HF_AT(member.fit),                                                  \
        "screw: how loosely; a hole that the arc cuts comes out tapered, so it is coarse unless "  \
        "you say otherwise",                                                                       \
        "medium", "coarse", .choices = hf_choices_fit, .roles = HF_ROLE_NONE, .words = {           \
          .before = "fit"                                                                          \
        }                                                                                          \
  }

#define HF_COUNTERSINK_FIELD(member)                                                               \
  {                                                                                                \
    "countersink", HF_FIELD_YES, 0, HF_AT(member.countersink),                                     \
        "noted for drilling: room for the screw's head, 90 degrees (ISO 10642); nothing is cut "   \
        "differently",                                                                             \
        "yes", "no", .roles = HF_ROLE_NONE, .words = {                                             \
          .yes = "countersunk",                                                                    \
          .no = "not countersunk"                                                                  \
        }                                                                                          \
  }

#define HF_THROUGH_FIELD(member)                                                                   \
  {                                                                                                \
    "through", HF_FIELD_MAYBE, 0, HF_AT(member),                                                   \
        "no: through its own layer only; otherwise through every layer that it meets", "no",       \
        .roles = HF_ROLE_NONE, .words = {                                                          \
          .yes = "through all layers",                                                             \
          .no = "through its own layer only"                                                       \
        }                                                                                          \
  }

#define HF_HANGING_FIELD(member)                                                                   \
  {                                                                                                \
    "hanging", HF_FIELD_MAYBE, 0, HF_AT(member),                                                   \
        "the sign hangs by it; otherwise it does when the sign is mounted by holes", "no",         \
        .roles = HF_ROLE_NONE, .words = {                                                          \
          .yes = "the sign hangs by it",                                                           \
          .no = "the sign does not hang by it"                                                     \
        }                                                                                          \
  }

/* Without a size of its own a separator is as large as bites both rings. */
#define HF_BAND_FIELDS                                                                             \
  {"band",                                                                                         \
   HF_FIELD_NAMES,                                                                                 \
   HF_PLACES,                                                                                      \
   HF_AT(separator.band),                                                                          \
   "in the band between these two rings or gate arches; without a size as large as bites both",    \
   "[inner, outer]",                                                                               \
   .kinds = HF_BIT(HF_ENTRY_RING) | HF_BIT(HF_ENTRY_ARCH),                                         \
   .roles = HF_ROLE_BAND},                                                                         \
  {                                                                                                \
    "bite", HF_FIELD_LENGTH, 0, HF_AT(separator.bite),                                             \
        "band: how deep it runs into each ring; otherwise what the joint limit needs", "2 mm",     \
        .roles = HF_ROLE_PICTURE | HF_ROLE_BITE, .words = {                                        \
          .before = "biting",                                                                      \
          .after = "deep"                                                                          \
        }                                                                                          \
  }

/* What rows and stacks share. */
#define HF_GROUP_FIELDS(member_doc, gap_doc, width_doc, width_example)                             \
  {"of",       HF_FIELD_NAMES,         HF_REQUIRED | HF_PLACES,  HF_AT(group.of),                  \
   member_doc, "[name, anchor, year]", .roles = HF_ROLE_MEMBERS, .words = {.before = ""}},         \
      {"gap between",                                                                              \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       HF_AT(group.gap),                                                                           \
       gap_doc,                                                                                    \
       "20 mm",                                                                                    \
       NULL,                                                                                       \
       -HF_FAR,                                                                                    \
       HF_FAR,                                                                                     \
       .roles = HF_ROLE_PICTURE,                                                                   \
       .words = {.before = "", .after = "apart"}},                                                 \
      {"width",                                                                                    \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       HF_AT(group.width),                                                                         \
       width_doc,                                                                                  \
       width_example,                                                                              \
       .roles = HF_ROLE_PICTURE,                                                                   \
       .grip = {HF_GRIP_CIRCLE, "width"},                                                          \
       .words = {.before = "", .after = "wide"}},                                                  \
      {"inside",                                                                                   \
       HF_FIELD_NAME,                                                                              \
       HF_PLACES,                                                                                  \
       HF_AT(group.inside),                                                                        \
       "as large as stays the margin inside the edge of this plate or bar, or in the window of "   \
       "this ring, everything in it alike; it is placed on it",                                    \
       "board",                                                                                    \
       .kinds = HF_BIT(HF_ENTRY_PLATE) | HF_BIT(HF_ENTRY_RING) | HF_BIT(HF_ENTRY_BAR),             \
       .roles = HF_ROLE_STAND},                                                                    \
      {"margin",                                                                                   \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       HF_AT(group.margin),                                                                        \
       "inside: so much stays clear",                                                              \
       "20 mm",                                                                                    \
       NULL,                                                                                       \
       0,                                                                                          \
       HF_FAR,                                                                                     \
       .roles = HF_ROLE_PICTURE | HF_ROLE_CLEAR,                                                   \
       .words = {.before = "clear of it by", .heard = "margin"}},                                  \
      {"middle",                                                                                   \
       HF_FIELD_CHOICE,                                                                            \
       0,                                                                                          \
       HF_AT(group.by_area),                                                                       \
       "what its middle is: that of its ink's box, or of the area of its ink (optical)",           \
       "area",                                                                                     \
       "box",                                                                                      \
       .choices = hf_choices_middle,                                                               \
       .roles = HF_ROLE_NONE,                                                                      \
       .words = {.before = "its middle by its"}},                                                  \
      {"mirrored",                                                                                 \
       HF_FIELD_YES,                                                                               \
       0,                                                                                          \
       HF_AT(group.mirrored),                                                                      \
       "left and right change places; not where it has letters",                                   \
       "yes",                                                                                      \
       "no",                                                                                       \
       .roles = HF_ROLE_NONE,                                                                      \
       .words = {.yes = "mirrored", .no = "not mirrored"}},                                        \
      {"columns",                                                                                  \
       HF_FIELD_WHOLE,                                                                             \
       0,                                                                                          \
       HF_AT(group.columns),                                                                       \
       "several of it: side by side",                                                              \
       "3",                                                                                        \
       NULL,                                                                                       \
       1,                                                                                          \
       100,                                                                                        \
       .roles = HF_ROLE_NONE,                                                                      \
       .words = {.after = "columns of it", .before = ""}},                                         \
      {"rows",                                                                                     \
       HF_FIELD_WHOLE,                                                                             \
       0,                                                                                          \
       HF_AT(group.rows),                                                                          \
       "one above another",                                                                        \
       "2",                                                                                        \
       NULL,                                                                                       \
       1,                                                                                          \
       100,                                                                                        \
       .roles = HF_ROLE_NONE,                                                                      \
       .words = {.after = "rows of it", .before = ""}},                                            \
      {"pitch",                                                                                    \
       HF_FIELD_POINT,                                                                             \
       0,                                                                                          \
       HF_AT(group.pitch_x),                                                                       \
       "from each to the next: [right, down]",                                                     \
       "[300 mm, 200 mm]",                                                                         \
       .roles = HF_ROLE_PICTURE,                                                                   \
       .words = {.before = "every", .pair = HF_PAIR_STEP}},                                        \
      {"count",                                                                                    \
       HF_FIELD_WHOLE,                                                                             \
       0,                                                                                          \
       HF_AT(group.count),                                                                         \
       "or so many of it round a circle",                                                          \
       "6",                                                                                        \
       NULL,                                                                                       \
       1,                                                                                          \
       1000,                                                                                       \
       .roles = HF_ROLE_NONE,                                                                      \
       .words = {.after = "of it", .before = ""}},                                                 \
  {                                                                                                \
    "circle", HF_FIELD_LENGTH, 0, HF_AT(group.circle),                                             \
        "of this diameter, through their middles, their tops outward", "400 mm",                   \
        .roles = HF_ROLE_PICTURE, .words = {                                                       \
          .before = "round a circle of"                                                            \
        }                                                                                          \
  }

/* How often it stands there, in its sentence. */
#define HF_GROUP_REPEATS                                                                           \
  "[, {columns} side by side and {rows} one above another, each {pitch} from the one before"       \
  "|, {columns} side by side, each {pitch} from the one before"                                    \
  "|, {rows} one above another, each {pitch} from the one before]"                                 \
  "[, {count} of it round a circle of {circle}]"

extern const HfChoice hf_choices_middle[];
extern const HfClash hf_group_clashes[];
extern const HfNeed hf_group_needs[];
/** hf_check_group: its members and repeats can be as they are said. */
void hf_check_group(HfReader *reader, const HfNode *node, const HfEntry *entry);

/* A separator's size: as HF_BAND_FIELDS, `key` is what it calls it. */
#define HF_SIZE_FIELD(key, doc, example, grip_at, heard_as, usual_mm, role)                        \
  {                                                                                                \
    key, HF_FIELD_LENGTH, 0, HF_AT(separator.size), doc, example,                                  \
        .roles = HF_ROLE_PICTURE | HF_ROLE_SIZE | (role), .grip = {grip_at, key},                  \
        .strip = {2, {"make ", " ", " larger"}}, .words = {                                        \
          .heard = heard_as,                                                                       \
          .usual = usual_mm                                                                        \
        }                                                                                          \
  }

#define HF_SEPARATOR_SENTENCE(noun_and_size)                                                       \
  "[{?as=opening}{as}: ]" noun_and_size                                                            \
  "[, in the band between {band}][, biting {bite} into each]{place}"

extern const HfClash hf_separator_clashes[];
extern const HfNeed hf_separator_needs[];
#define HF_SEPARATOR_RULES hf_separator_clashes, hf_separator_needs
#define HF_SEPARATOR       .kind = HF_ENTRY_SEPARATOR, .check = hf_check_separator
/** hf_check_separator: a band lies between two different rings. */
void hf_check_separator(HfReader *reader, const HfNode *node, const HfEntry *entry);

/** hf_key_mark: where @key stands in @node; @node itself when it has none. */
HfMark hf_key_mark(const HfNode *node, const char *key);
/** hf_check_less: @value of @key must be less than @most, which is called @than. Nothing is said of
 *  a NAN. */
void hf_check_less(HfReader *reader, const HfNode *node, const char *key, double value,
                   const char *than, double most);
/** hf_check_corner: a radius of corners at most half a side. */
void hf_check_corner(HfReader *reader, const HfNode *node, double corner, double width,
                     double height);
/** hf_check_band: names two different rings, when there is a band. */
void hf_check_band(HfReader *reader, const HfNode *node);
/** hf_check_language: it is a BCP 47 name. */
void hf_check_language(HfReader *reader, const HfNode *node, const HfFontWish *font);
