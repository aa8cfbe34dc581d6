/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-diamond.c - a separator on its tip.
 */
#include "recipe/kind-private.h"

#define USUAL_SHARE 0.7 /* of the height: how wide it is when nothing is said */

static const HfField fields[] = {
    HF_SIZE_FIELD("height", "from tip to tip", "30 mm", HF_GRIP_TOP, "high|of", 30, 0),
    {"width", HF_FIELD_LENGTH, 0, HF_AT(separator.width), "across; otherwise 70 % of the height",
     "20 mm", .roles = HF_ROLE_PICTURE | HF_ROLE_SIZE,
     .words = {.before = "", .after = "wide", .heard = "wide|width"}},
    HF_BAND_FIELDS,
    {NULL},
};

static double
share(const HfSeparatorEntry *diamond)
{
  gboolean both = !isnan(diamond->size) && !isnan(diamond->width);
  return both ? diamond->width / diamond->size : USUAL_SHARE;
}

static void
draw(HfOutline *own, const HfSeparatorEntry *diamond)
{
  double wide = share(diamond);
  HfPoint corners[] = {{0, 1}, {-wide, 0}, {0, -1}, {wide, 0}};
  hf_outline_add_polygon(own, corners, 4);
}

static HfTips
tips(const HfSeparatorEntry *diamond)
{
  return (HfTips){.half_angle = atan(share(diamond))};
}

const HfKind hf_kind_diamond = {
    HF_ENTRY_TABLE("diamond", "A separator on its tip.", fields,
                   "{height: 30 mm, on: board, at: [9 o'clock, 3 o'clock]}", HF_SEPARATOR_RULES),
    HF_SEPARATOR,
    .shape = &(const HfSeparatorShape){draw, tips},
    .one_of = {"height", "band"},
    .called = "a diamond",
    .heard = "diamonds?",
    .first = "height",
    .sentence = HF_SEPARATOR_SENTENCE("a diamond[, {name}][, {height} high][ and {width} wide]"),
};
