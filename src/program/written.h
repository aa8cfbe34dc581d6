/* SPDX-License-Identifier: GPL-3.0-or-later
 * written.h - a cut plan as the text of a program: RS-274/NGC (the other door of program/).
 *
 *   preamble      G21 G17 G40 G90 G94
 *   each cut      (12: letter 'A' of BAKERY)
 *                 G0 X.. Y..      to the pierce, round what may have tipped
 *                 M3  G4 P..      arc on, wait
 *                 G1 G2 G3 ..     I J as increments
 *                 M5
 *   ending        G0 X0 Y0  M2
 *
 * What the words mean, and how far the reader takes them: docs/program.md. Words for arc and height
 * are the table's; M3, G4 and M5 are usual for plasma (common practice, no source: the report has
 * them for a spindle).
 */
#pragma once
#include "cut/plan.h"

/* All borrowed, each text nullable unless said. */
typedef struct {
  double feed;         /* mm/min, > 0 */
  double slow;         /* share of the feed in small holes, 0 to 1 */
  double pierce_delay; /* s, >= 0 */
  gboolean inches;
  const char *arc_on, *arc_off;          /* words; never NULL */
  const char *height_held, *height_free; /* words; both or none */
  const char *const *before;             /* lines of the table's own, before the first cut */
  const char *const *after;              /* and behind the last */
  const char *const *says;               /* sentences, put into comments at the head */
  guint from;                            /* the first cut to be made, from 0: the others are done */
} HfProgramForm;

/**
 * hf_program_write:
 * Places have 4 decimals in mm and 5 in inches, so both radii of an arc agree within 0.002 mm or
 * 0.0002 in (NISTIR 6556, 3.5.3.2): the centre is put on the bisector of the rounded ends first.
 * Arcs flatter than half a micrometre are lines; what has no length after rounding is left out.
 * Comments are ASCII of one line, at most 100 characters, whatever the names are (see
 * hf_program_comment()). Returns: (transfer full) lines end with \n, none is longer than 255
 * characters but those of the table's own. Cost O(stretches).
 */
char *hf_program_write(const HfPlan *plan, const HfProgramForm *form);

/** hf_program_comment: (transfer full) @text as it may stand between brackets: letters that ASCII
 *  has none for as it comes nearest, else ?, brackets square, cut at 100 characters. */
char *hf_program_comment(const char *text);
