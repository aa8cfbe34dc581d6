/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-stack.c - entries one above another, placed as one; and what rows and stacks share.
 */
#include "recipe/kind-private.h"
#include <string.h>

const HfChoice hf_choices_middle[] = {{"box", FALSE, "box", "half way between its outermost ink"},
                                      {"area", TRUE, "area", "where it would balance"},
                                      {NULL, 0}};

const HfClash hf_group_clashes[] = {{"width", "inside"}, {"on", "inside"},   {"columns", "count"},
                                    {"rows", "count"},   {"pitch", "count"}, {NULL}};
const HfNeed hf_group_needs[] = {{"margin", {"inside"}}, {"columns", {"pitch"}},
                                 {"rows", {"pitch"}},    {"pitch", {"columns", "rows"}},
                                 {"count", {"circle"}},  {"circle", {"count"}},
                                 {NULL, {NULL}}};

static const HfChoice aligns[] = {{"centre", HF_ALIGN_CENTRE, "centred"},
                                  {"center", HF_ALIGN_CENTRE},
                                  {"left", HF_ALIGN_LEFT, "flush left"},
                                  {"right", HF_ALIGN_RIGHT, "flush right"},
                                  {NULL, 0}};
static const HfChoice justifies[] = {
    {"no", HF_LINES_EQUAL, "growing alike", "the longest line is as wide as is said"},
    {"by height", HF_LINES_BY_HEIGHT, "each line as wide, by its height"},
    {"by spacing", HF_LINES_BY_SPACING, "each line as wide, by its spacing"},
    {NULL, 0}};

static const HfField fields[] = {
    HF_GROUP_FIELDS("its members, from the top; what else they say of a place is refused",
                    "clear distance from ink to ink; otherwise half of the letter height",
                    "of its longest line: all of them grow alike, see justify", "700 mm"),
    {"align", HF_FIELD_CHOICE, 0, HF_AT(group.align), "lines of several lengths", "left", "centre",
     .choices = aligns, .roles = HF_ROLE_NONE, .words = {.before = ""}},
    {"justify", HF_FIELD_CHOICE, 0, HF_AT(group.justify),
     "width: every line is that wide, by its own letter height or by spacing its letters, or the "
     "entries of a row",
     "by height", "no", .choices = justifies, .roles = HF_ROLE_NONE, .words = {.before = ""}},
    {NULL},
};

void
hf_check_group(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfGroupEntry *group = &entry->group;
  if (group->justify != HF_LINES_EQUAL && isnan(group->width))
    hf_mistake(reader->mistakes, hf_key_mark(node, "justify"), "add width: 700 mm",
               "how wide the lines are to be is not said");
  if (group->inside != NULL && isnan(group->margin))
    hf_mistake(reader->mistakes, hf_key_mark(node, "inside"), "add margin: 20 mm",
               "how far inside it stays is not said");
  if (entry->as == HF_AS_OPENING)
    hf_mistake(reader->mistakes, hf_key_mark(node, "as"), "write it at its members",
               "what is metal and what is an opening each of its members says");
  for (guint i = 0; i < group->of->len; i++)
    for (guint k = 0; k < i; k++)
      if (strcmp(group->of->pdata[i], group->of->pdata[k]) == 0)
        hf_mistake(reader->mistakes, hf_key_mark(node, "of"), "name each once, or use columns",
                   "\"%s\" is named twice", (const char *)group->of->pdata[i]);
}

const HfKind hf_kind_stack = {
    HF_ENTRY_TABLE("stack", "Entries one above another, placed as one.", fields,
                   "{name: hours, of: [days, morning, evening], gap between: 20 mm, on: board}",
                   hf_group_clashes, hf_group_needs),
    .kind = HF_ENTRY_STACK,
    .flags = HF_KIND_GROUP,
    .check = hf_check_group,
    .called = "a stack",
    .heard = "stacks?",
    .first = "of",
    .sentence = "A stack[, {name},] of {of}[, {gap between} apart][, {width} wide]"
                "[, as large as stays {margin} inside {inside}]"
                "[, {align}][, {justify}]{place}" HF_GROUP_REPEATS,
};
