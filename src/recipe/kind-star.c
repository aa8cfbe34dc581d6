/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-star.c - a separator with points.
 */
#include "recipe/kind-private.h"

static const HfField fields[] = {
    HF_SIZE_FIELD("diameter", "of the circle through its tips", "40 mm", HF_GRIP_TOP,
                  "across|of|diameter", 40, 0),
    {"points", HF_FIELD_WHOLE, 0, HF_AT(separator.points), "how many", "5", "5", 3, 60,
     .roles = HF_ROLE_NONE},
    {"depth", HF_FIELD_RATIO, 0, HF_AT(separator.depth), "inner radius as a share of the outer",
     "45 %", "45 %", 0.1, 0.95, .roles = HF_ROLE_NONE,
     .words = {.before = "its inner tips at", .after = "of the outer"}},
    HF_BAND_FIELDS,
    {NULL},
};

static int
points(const HfSeparatorEntry *star)
{
  return star->points >= 3 ? star->points : 5;
}

/* Inner over outer radius. Left out: each side runs on into the next but one, where there is such
 * a star, as on a flag: cos(2 pi / n) / cos(pi / n). */
static double
depth(const HfSeparatorEntry *star)
{
  int n = points(star);
  if (!isnan(star->depth))
    return star->depth;
  return n < 5 ? 0.35 : cos(2 * G_PI / n) / cos(G_PI / n);
}

static void
draw(HfOutline *own, const HfSeparatorEntry *star)
{
  guint n = 2 * (guint)points(star);
  g_autofree HfPoint *corners = g_new(HfPoint, n);
  for (guint i = 0; i < n; i++)
    corners[i] =
        hf_point_polar(hf_point(0, 0), i % 2 == 0 ? 1 : depth(star), G_PI_2 + 2 * G_PI * i / n);
  hf_outline_add_polygon(own, corners, n);
}

static HfTips
tips(const HfSeparatorEntry *star)
{
  int n = points(star);
  double inner = depth(star), half = G_PI / n;
  return (HfTips){.half_angle = atan2(inner * sin(half), 1 - inner * cos(half)),
                  .beta = n % 2 == 1 ? half : 0};
}

const HfKind hf_kind_star = {
    HF_ENTRY_TABLE("star", "A separator with points.", fields,
                   "{diameter: 40 mm, on: board, at: top}", HF_SEPARATOR_RULES),
    HF_SEPARATOR,
    .shape = &(const HfSeparatorShape){draw, tips},
    .one_of = {"diameter", "band"},
    .called = "a star",
    .heard = "stars?",
    .first = "diameter",
    .sentence = HF_SEPARATOR_SENTENCE("a star[, {name}][, {diameter} across]"
                                      "[, with {points} points]"),
};
