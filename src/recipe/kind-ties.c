/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-ties.c - a rule: bars of metal wherever a part would fall out. They are as wide as limits
 * ask, which do not grow with the sign.
 */
#include "recipe/kind-private.h"
#include "stock/practice.h"

const HfChoice hf_choices_tie_direction[] = {
    {"usual", HF_TIE_USUAL, "as usual", "as the shop file has it; otherwise any way"},
    {"any", HF_TIE_ANY, "any way"},
    {"upright", HF_TIE_UPRIGHT, "upright", "in a band: towards the rings"},
    {"level", HF_TIE_LEVEL},
    {"across the stroke", HF_TIE_STROKE},
    {NULL, 0}};

const HfChoice hf_choices_tie_along[] = {
    {"usual", HF_TIE_ALONG_USUAL, "as usual", "as the shop file has it; otherwise the line"},
    {"line", HF_TIE_ALONG_LINE, "the line", "upright to the baseline, in slanted faces too"},
    {"letter", HF_TIE_ALONG_LETTER, "the letter", "as the stems of a slanted face lean"},
    {NULL, 0}};

const HfChoice hf_choices_tie_dots[] = {
    {"usual", HF_TIE_DOTS_USUAL, "as usual", "as the shop file has it; otherwise tied"},
    {"tied", HF_TIE_DOTS_TIED},
    {"lowered", HF_TIE_DOTS_LOWERED, "lowered", "moved into their letter"},
    {NULL, 0}};

static const HfField fields[] = {
    {"of", HF_FIELD_PINS, 0, HF_AT(ties.of),
     "entries or letters whose loose parts are tied; otherwise all that is loose",
     "[bakery, 2nd A of boats]", .roles = HF_ROLE_PART},
    {"direction", HF_FIELD_CHOICE, 0, HF_AT(ties.direction),
     "which way ties run, as the letter stands; upright in a band is towards the rings", "upright",
     "usual", .choices = hf_choices_tie_direction, .roles = HF_ROLE_NONE,
     .words = {.before = "running"}},
    {"along", HF_FIELD_CHOICE, 0, HF_AT(ties.along),
     "what is upright to ties: square to the line, or as the stems of a slanted face lean",
     "letter", "usual", .choices = hf_choices_tie_along, .roles = HF_ROLE_NONE,
     .words = {.before = "along"}},
    {"dots", HF_FIELD_CHOICE, 0, HF_AT(ties.dots),
     "dots and accents of standing letters: tied to their letter, or moved into it", "lowered",
     "usual", .choices = hf_choices_tie_dots, .roles = HF_ROLE_NONE, .words = {.before = "dots"}},
    {"width", HF_FIELD_LENGTH, 0, HF_AT(ties.width),
     "otherwise " HF_OVER_LIMIT_TEXT " times the limit", "3 mm", .roles = HF_ROLE_KEPT,
     .words = {.before = "", .after = "wide", .heard = "wide|width"}},
    {"count", HF_FIELD_WHOLE, 0, HF_AT(ties.count),
     "at least so many for each part; otherwise as many as it needs", "2", "0", 0, 8,
     .roles = HF_ROLE_NONE, .words = {.before = "at least", .after = "for each part"}},
    {"keep free", HF_FIELD_SPOTS, 0, HF_AT(ties.keep_free),
     "no tie leaves a part in these directions, as the letter stands: " HF_DIRECTIONS, "[top]",
     .roles = HF_ROLE_NONE, .words = {.before = "none at the"}},
    {"not on", HF_FIELD_PINS, 0, HF_AT(ties.not_on), "letters or entries that no tie may touch",
     "[1st S of boats]", .roles = HF_ROLE_SPARED, .words = {.before = "none on"}},
    {NULL},
};

static void
check(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  for (guint i = 0; i < entry->ties.keep_free->len; i++)
    if (g_array_index(entry->ties.keep_free, HfSpot, i).kind != HF_SPOT_DIRECTION)
      hf_mistake(reader->mistakes, hf_key_mark(node, "keep free"),
                 "write a direction, as in top or 3 o'clock", "keep free takes directions only");
}

const HfKind hf_kind_ties = {
    .table = {"ties",
              "A rule: bars of metal wherever a part would fall out, worked out anew each time.",
              fields, &hf_table_rule, "{of: [bakery], direction: upright}"},
    .kind = HF_ENTRY_TIES,
    .flags = HF_KIND_RULE | HF_KIND_PLURAL,
    .check = check,
    .called = "ties, wherever a part would fall out",
    .heard = "ties",
    .first = "direction",
    .sentence =
        "ties[, {name},] hold what would fall out[ of {of}][, running {direction}][, along {along}]"
        "[, dots {dots}]"
        "[, {width} wide][, at least {count} for each part][, none at the {keep free}]"
        "[, none on {not on}]",
};
