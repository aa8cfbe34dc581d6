/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-private.h - what the rows of the kinds share: fields of lettering and of separators, checks.
 */
#pragma once
#include "recipe/read-private.h"

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
