/* SPDX-License-Identifier: GPL-3.0-or-later
 * sheet-private.h - what both papers share: how large the sign is drawn, what is written beside it,
 * and how a paper becomes bytes.
 */
#pragma once
#include "out/flow-private.h"
#include <cairo.h>

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

/** hf_facts: all that is written beside the drawing on the shop sheet, in the order of reading. */
void hf_facts(HfFlow *flow, const HfPen *pen, const HfSign *what);
/** hf_facts_cautions: those that concern the sign and that a paper of the kind @carried_by
 *  (HfCarry) tells, save the first, which stands at its foot. */
void hf_facts_cautions(HfFlow *flow, const char *heading, const HfPenStyle *style, guint carried_by,
                       const HfSign *what);
/** hf_facts_layers: (behind.c) a row for each sheet of a sign that has several. */
void hf_facts_layers(HfFlow *flow, const HfSign *what);
/** hf_facts_words: every line of words as it was written, and what to check about it. */
void hf_facts_words(HfFlow *flow, const HfPen *pen, const HfSign *what);
/** hf_facts_weight: (transfer full) each, and all of them when more than one is ordered. */
char *hf_facts_weight(const HfSign *what);
/** hf_facts_holes: (transfer full) (nullable) "4 of 6.6 mm, for M6 (medium); 12 of 10 mm". */
char *hf_facts_holes(const HfSign *what);
/** hf_facts_hanging: (transfer full) (nullable) "4 holes of 9 mm; weight 52 % and 48 %".
 *  hf_facts_hanging_word: (transfer none) "hangs by", "stands on". */
char *hf_facts_hanging(const HfSign *what);
const char *hf_facts_hanging_word(const HfSign *what);

/** hf_close_up: a picture of the place of @finding in the flow, @number in its ring; nothing of one
 *  without a place. */
void hf_close_up(HfFlow *flow, const HfSign *what, const HfFinding *finding, guint number);

typedef struct HfKnown HfKnown; /* known-size-private.h */
/** hf_customer_facts: all that is written under the picture on the proof. @beside: (nullable) what
 *  the picture shows beside the sign. */
void hf_customer_facts(HfFlow *flow, const HfPen *pen, const HfSign *what, const HfKnown *beside);

/** hf_paper_name: (transfer none) what a paper calls the sign; "" without a name. */
const char *hf_paper_name(const HfRecipe *recipe);
/** hf_paper_order: (transfer full) "for the harbour office . order SQ-17 . 12 December . 2 pieces".
 */
char *hf_paper_order(const HfRecipe *recipe);
/** hf_paper_proof: (transfer full) (nullable) "proof 3, revision B". */
char *hf_paper_proof(const HfRecipe *recipe);
/** hf_paper_digest: (transfer full) the first sixteen digits of @digest in fours. */
char *hf_paper_digest(const char *digest);
/** hf_paper_page: width and height of @paper upright, points. */
HfPoint hf_paper_page(HfPaper paper);

/* A document on its way to bytes. */
typedef struct {
  GByteArray *bytes;
  cairo_surface_t *surface;
  cairo_t *cr;
  HfPen pen;
} HfDocument;
/** hf_document_begin: %FALSE with %HF_ERROR_IO: no font can be opened. To be cleared either way. */
gboolean hf_document_begin(HfDocument *document, const char *title, GError **error);
/** hf_document_end: (transfer full) the bytes; @name: of the file, for the error. */
GBytes *hf_document_end(HfDocument *document, const char *name, GError **error);
/** hf_document_clear: lets go of all that is left of it. */
void hf_document_clear(HfDocument *document);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfDocument, hf_document_clear)
