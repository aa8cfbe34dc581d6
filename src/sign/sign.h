/* SPDX-License-Identifier: GPL-3.0-or-later
 * sign.h - one sign with all that the stages made of it, and what its rules came to (the door of
 * sign/).
 *
 *   recipe, shop ──> layout ──> metal ──> hold check ──> rules (tie/, mend/) ──> works
 */
#pragma once
#include "hold/hold.h"

/* A bar of metal that a rule chose. */
typedef struct {
  HfPoint from, to; /* where its middle line leaves metal, and where it meets metal again */
  double width;     /* mm */
  double length;    /* as a pin says it: NAN: from metal to metal; else all of it, centred on em */
  double area;      /* mm2 that shows: outside the metal that was there */
  guint part_a, part_b; /* of hold->parts: what it joins; part_a is the one that needed it */
  guint shape;          /* of the layout: letter or entry that it is pinned to */
  int opening;          /* as a pin says it: which opening of that letter, from 1; 0: its outside */
  HfPoint em;   /* as a pin says it: place in the letter's ems, or mm from the entry's centre */
  double angle; /* rad, in the letter's or entry's own frame */
  HfOutline *outline; /* the bar, run into metal at both ends */
  char *label;        /* `tie 2 of letter 'A' of "BAKERY"` */
} HfTie;

/* A part that no tie can hold. */
typedef struct {
  guint part; /* of hold->parts */
  HfPoint at;
  char *name, *why, *help; /* "the metal inside letter 'e' of \"rte\"", why not, what would help */
} HfUntied;

/* What one rule of the recipe came to. */
typedef struct {
  guint entry;       /* the rule */
  GPtrArray *shapes; /* HfShape *, for hf_layout_extend(); stolen by it */
  GArray *ties;      /* HfTie; of a mending rule empty */
  GArray *untied;    /* HfUntied */
  double cost;  /* mm2: what was minimised, style included (docs/maths.md#ties); NAN: mending */
  double area;  /* mm2 of ties that shows: the same with the style weights off */
  double bound; /* mm2: no admissible choice shows less (docs/maths.md#ties-bound) */
} HfWork;

HfWork *hf_work_new(guint entry); /* empty, figures NAN */
void hf_work_free(HfWork *work);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfWork, hf_work_free)

/* What a proposal or a rule may look at. All borrowed. */
typedef struct {
  const HfRecipe *recipe;
  const HfShop *shop;
  const HfLayout *layout;
  const HfMetal *metal;
  const HfHold *hold;
  const HfCancel *cancel; /* (nullable) */
} HfPatient;
