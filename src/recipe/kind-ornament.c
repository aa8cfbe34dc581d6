/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-ornament.c - a small picture from a formula.
 */
#include "base/text.h"
#include "ornament/ornament.h"
#include "recipe/kind-private.h"

const HfChoice hf_choices_ornament[] = {
#define ORNAMENT(NAME, name, word, heard_as, what)                                                 \
  {word, HF_ORNAMENT_##NAME, NULL, what, "\\b(?:" heard_as ")\\b"},
#include "ornament/ornaments.def"
    {NULL, 0}};

static const HfField fields[] = {
    {"form", HF_FIELD_CHOICE, HF_REQUIRED | HF_PICTURED, HF_AT(ornament.form), "what it shows",
     "anchor", .choices = hf_choices_ornament, .roles = HF_ROLE_NONE},
    {"height", HF_FIELD_LENGTH, 0, HF_AT(ornament.height),
     "from its foot to its top; the width follows", "80 mm", .roles = HF_ROLE_PICTURE,
     .grip = {HF_GRIP_TOP, "height"}, .strip = {4, {"make ", " ", " higher"}},
     .words = {.before = "", .after = "high", .heard = "high|height|of", .usual = 80}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(ornament.width), "or from side to side; the height follows",
     "200 mm", .roles = HF_ROLE_PICTURE, .grip = {HF_GRIP_RIGHT, "width"},
     .strip = {6, {"make ", " ", " wider"}},
     .words = {.before = "", .after = "wide", .heard = "wide|width|across"}},
    {"points", HF_FIELD_WHOLE, 0, HF_AT(ornament.points),
     "star, sun, gear, wave, branch, laurel: how many points, rays, teeth, crests or pairs of "
     "leaves",
     "7", NULL, 1, 36, .roles = HF_ROLE_NONE},
    {"mirror", HF_FIELD_YES, 0, HF_AT(ornament.mirror), "left and right change places", "yes", "no",
     .roles = HF_ROLE_NONE, .words = {.yes = "mirrored", .no = "as it is"}},
    {"stand on", HF_FIELD_NAME, HF_PLACES, HF_AT(ornament.stand_on),
     "its foot runs into this bar or plate by the bite", "rail",
     .kinds = HF_BIT(HF_ENTRY_BAR) | HF_BIT(HF_ENTRY_PLATE), .roles = HF_ROLE_STAND},
    {"bite", HF_FIELD_LENGTH, 0, HF_AT(ornament.bite),
     "stand on: how deep it runs in; otherwise what the joint limit needs", "4 mm",
     .roles = HF_ROLE_PICTURE | HF_ROLE_BITE, .words = {.before = "biting", .after = "deep"}},
    {NULL},
};

static const HfClash clashes[] = {
    {"height", "width"}, {"stand on", "on"}, {"stand on", "between"}, {NULL}};
static const HfNeed needs[] = {{"bite", {"stand on"}}, {NULL, {NULL}}};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfOrnamentEntry *ornament = &entry->ornament;
  const HfOrnamentRow *row = hf_ornament_row((HfOrnamentForm)ornament->form);
  const char *word = hf_ornament_word((HfOrnamentForm)ornament->form);
  if (hf_node_get(node, "points") == NULL)
    return;
  if (row->points == 0)
    hf_mistake(reader->mistakes, hf_key_mark(node, "points"), "take it out",
               "\"points\" does nothing for a %s", word);
  else if (ornament->points < row->least || ornament->points > row->most) {
    g_autofree char *fix = g_strdup_printf("write %d to %d", row->least, row->most);
    hf_mistake(reader->mistakes, hf_key_mark(node, "points"), fix, "a %s can't have %d points",
               word, ornament->points);
  }
}

/* ---- how small each may be ------------------------------------------------------------------- */

static void
append_share(GString *out, double share)
{
  g_string_append(out, " | ");
  if (isinf(share))
    g_string_append_c(out, '-');
  else
    hf_text_append(out, share * 100, 1);
}

static void
append_thin(GString *out, const HfOrnamentThin *thin)
{
  append_share(out, thin->web);
  append_share(out, thin->gap);
  append_share(out, thin->room);
}

static char *
smallest_table(void)
{
  GString *out = g_string_new(
      "How small an ornament may be follows from what is thinnest in it. In percent of its height: "
      "its\nwidth, its thinnest web, its narrowest gap, and the radius of its smallest opening. "
      "It is high enough\nwhen the web keeps the limit of `thin-long-web`, the gap that of "
      "`narrow-gap` and the opening that of\n`small-opening` (docs/limits.md); "
      "docs/ornaments.md shows them all, and how high they must be.\n\n"
      "| form | width | web | gap | opening | cut through: web | gap | opening |\n"
      "|---|---|---|---|---|---|---|---|\n");
  for (int i = 0; i < HF_N_ORNAMENTS; i++) {
    HfOrnamentForm form = (HfOrnamentForm)i;
    const HfOrnamentRow *row = hf_ornament_row(form);
    g_string_append_printf(out, "| %s", hf_ornament_word(form));
    append_share(out, hf_ornament_wide(form, FALSE, 0));
    append_thin(out, &row->metal);
    append_thin(out, &row->opening);
    g_string_append(out, " |\n");
  }
  return g_string_free(out, FALSE);
}

const HfKind hf_kind_ornament = {
    HF_ENTRY_TABLE("ornament", "A small picture from a formula, of metal or cut through.", fields,
                   "{form: anchor, height: 80 mm, on: board, at: top, as: opening}", clashes,
                   needs),
    .kind = HF_ENTRY_ORNAMENT,
    .one_of = {"height", "width"},
    .check = check,
    .called = "an ornament",
    .heard = "ornaments?"
#define ORNAMENT(NAME, name, word, heard_as, what) "|" heard_as
#include "ornament/ornaments.def"
    ,
    .first = "form",
    .sentence = "[{?as=opening}{as}: ]{a form}[, {name}][, {height} high|, {width} wide]"
                "[, {mirror}][, with {points} points][, on {stand on}][, biting {bite}]{place}",
    .begin = {.choice = "heart"},
    .more = smallest_table,
};
