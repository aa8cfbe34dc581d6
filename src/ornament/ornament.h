/* SPDX-License-Identifier: GPL-3.0-or-later
 * ornament.h - small pictures from formulas of our own (the door of ornament/).
 *
 *     __   __         Each is made of true curves in one frame: its box is 1 high about 0 0, as
 *    /  \_/  \        wide as its form has it. As metal it is one piece. As an opening it may be
 *    \       /        several; what would fall out of it is left off, or is held by bars that
 *      \   /          belong to the drawing.
 *        v
 *
 * `own` is what is added (or cut out), `cuts` is then taken off it, `bars` is metal laid over both;
 * each by the non-zero rule, contours may overlap.
 *
 * Invariant: as high as hf_ornament_smallest() or higher, no web and no gap of it is under its
 * limit (tests/unit/test_ornament.c holds the hold check against it).
 */
#pragma once
#include "geom/outline.h"

#define ORNAMENT(NAME, name, word, heard, about) HF_ORNAMENT_##NAME,
typedef enum {
#include "ornament/ornaments.def"
  HF_N_ORNAMENTS
} HfOrnamentForm;

/* What is drawn; none is NULL. */
typedef struct {
  HfOutline *own, *cuts, *bars;
} HfOrnament;

/* What decides how small it may be cut, at height 1: a web or gap of these widths keeps the limit
 * of a long web, and of a narrow gap, as soon as all of it does; an opening of this radius that of
 * a small opening. INFINITY: there is none. */
typedef struct {
  double web, gap, room;
} HfOrnamentThin;

/* mm: the stops of a long web, of a narrow gap, and of the radius in a small opening. */
typedef struct {
  double web, gap, room;
} HfOrnamentLimits;

typedef struct {
  int points;      /* crests, rays, teeth, leaves it has by itself; 0: it has no such number */
  int least, most; /* of points; it is drawn with as many as come nearest */
  HfOrnamentThin metal, opening; /* with `points` */
} HfOrnamentRow;

/** hf_ornament_word: "heart": what a recipe calls it. */
const char *hf_ornament_word(HfOrnamentForm form);

/** hf_ornament_row: the row of @form; constant. */
const HfOrnamentRow *hf_ornament_row(HfOrnamentForm form);

/**
 * hf_ornament_new:
 * @opening: it is cut out, not laid down
 * @points: how many crests, rays, teeth or leaves; <= 0: as many as the form has by itself
 * Returns: (transfer full) box of `own` 1 high, its middle at 0 0. O(curves), some hundreds.
 */
HfOrnament *hf_ornament_new(HfOrnamentForm form, gboolean opening, int points);
/** hf_ornament_free: frees it and all that it owns; %NULL: nothing. */
void hf_ornament_free(HfOrnament *ornament);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfOrnament, hf_ornament_free)

/** hf_ornament_wide: its width over its height, as hf_ornament_new() draws it. */
double hf_ornament_wide(HfOrnamentForm form, gboolean opening, int points);

/** hf_ornament_corner: (transfer full) two scrolls and a leaf from an apex at 0 0, to the right and
 *  downward, in a square of about 1. */
HfOutline *hf_ornament_corner(void);

/** hf_ornament_smallest: mm, the least height at which all webs, gaps and openings of @form, with
 *  as many points as it has by itself, keep @limits. */
double hf_ornament_smallest(HfOrnamentForm form, gboolean opening, const HfOrnamentLimits *limits);
