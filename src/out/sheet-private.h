/* SPDX-License-Identifier: GPL-3.0-or-later
 * sheet-private.h - the proof on paper: how large the sign is drawn, and what is written beside it.
 */
#pragma once
#include "out/flow-private.h"

#define HF_POINTS_PER_MM (72 / 25.4)

typedef struct {
  double w, h;      /* of the page as it is read, points */
  double per;       /* 1 : per */
  gboolean upright; /* portrait */
} HfScale;

/**
 * hf_scale_choose:
 * @around: points that sizes and margins take from the page's width and height
 * The largest usual scale at which @box fits, on the page upright or on its side; upright where
 * both give the same. Scales: ISO 5455's reductions (from memory), and 1:2.5, which is common.
 */
HfScale hf_scale_choose(HfPaper paper, HfBox box, double around_w, double around_h);

/** hf_scale_text: (transfer full) "1 : 2.5" */
char *hf_scale_text(HfScale scale);

/** hf_scale_bar: a bar of a round length at @x, @y (its upper left), labelled, at most @longest
 *  points. Returns: its length in mm. */
double hf_scale_bar(const HfPen *pen, HfScale scale, double x, double y, double longest);

/** hf_facts: all that is written beside the drawing, in the order of reading. */
void hf_facts(HfFlow *flow, const HfPen *pen, const HfSign *what);

/** hf_facts_layers: (behind.c) a row for each sheet of a sign that has several. */
void hf_facts_layers(HfFlow *flow, const HfSign *what);
