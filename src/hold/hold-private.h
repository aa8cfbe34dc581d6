/* SPDX-License-Identifier: GPL-3.0-or-later
 * hold-private.h - what the checks of hold/ share: one check a file, with the rows of its laws.
 */
#pragma once
#include "geom/index.h"
#include "hold/hold.h"

typedef struct HfGapsAhead HfGapsAhead; /* gaps.c */

/* What every check gets. `hold` is filled as they run, in the order of laws.def but for what a
 * row's `after` puts before. */
struct HfCheck {
  const HfRecipe *recipe;
  const HfShop *shop;
  const HfLayout *layout;
  const HfMetal *metal;
  const HfCancel *cancel;
  HfHold *hold;      /* process and limits are set before the first check */
  HfIndex *index;    /* over metal->region, cell about the widest limit */
  GArray *cuts;      /* HfCut: joints under their stop; left by the webs for the parts */
  GArray *touches;   /* HfTouch: where rings touch at a point; likewise */
  HfGapsAhead *gaps; /* being looked for since before the first check */
};

/** hf_hold_new: (hold.c) (transfer full) nothing was looked at yet. */
HfHold *hf_hold_new(void);
/** hf_findings_sort: (findings.c) the gravest first. */
void hf_findings_sort(GPtrArray *findings);

/** hf_gaps_begin, hf_gaps_end: (gaps.c) round all checks: start looking for gaps, clean up. */
void hf_gaps_begin(HfCheck *check);
void hf_gaps_end(HfCheck *check);

/**
 * hf_check_add:
 * @measured: in the law's unit; NAN for laws without a quantity
 * Weighs @measured against the limit of @kind. Returns: (transfer none) a new finding to be filled
 *   in further, or %NULL when it is within the limit. Add each case by itself: alike ones are
 *   gathered at the end (same law, gravity, form, first entry; same reason of acceptance).
 */
HfFinding *hf_check_add(HfCheck *check, HfLawKind kind, double measured, HfPoint at);

/** hf_check_gravity: the HfGravity that @measured has under @kind; -1: within the limit. */
int hf_check_gravity(const HfCheck *check, HfLawKind kind, double measured);

/** hf_finding_name: adds the label of @shape unless it is there already or there are eight, and its
 *  entry. The first shape is the one that the sentence begins with. */
void hf_finding_name(HfCheck *check, HfFinding *finding, guint shape);

/** hf_finding_call: puts @name before all names: `the dot of letter 'i' of "Quai"`. */
void hf_finding_call(HfFinding *finding, const char *name);

/** hf_finding_form: @form: static. */
void hf_finding_form(HfFinding *finding, const char *form);

/** hf_finding_say: replaces what the sentence says is wrong (between `where: ` and `; fix`), where
 *  the law's own words do not fit. */
void hf_finding_say(HfFinding *finding, const char *format, ...) G_GNUC_PRINTF(2, 3);

/** hf_finding_fix: replaces what the sentence says is to be done. */
void hf_finding_fix(HfFinding *finding, const char *fix);

/** hf_check_widest: the widest distance that a law of length asks for, mm. */
double hf_check_widest(const HfCheck *check);

/** hf_check_shape_at: the shape that made the boundary edge @id; %HF_NO_SHAPE when unknown. */
guint hf_check_shape_at(const HfCheck *check, HfEdgeId id);

/** hf_findings_size_ornaments: (ornaments.c) says how large an ornament must be, where a stop
 *  found it too small. */
void hf_findings_size_ornaments(HfCheck *check);
/** hf_findings_settle: (findings.c) accepts, gathers, words and orders all that was added. */
void hf_findings_settle(HfCheck *check);
/** hf_finding_free: frees it and all that it owns; %NULL: nothing. */
void hf_finding_free(HfFinding *finding);

/** hf_finding_copy: (layer-holds.c) (transfer full) shares lists that never change, owns the rest.
 */
HfFinding *hf_finding_copy(const HfFinding *finding);

/** hf_finding_place: (sentence.c) (transfer full) `letter 'R' of "HARBOUR": 1.2 mm, at [10 mm, 4
 * mm]` of a case by itself. */
char *hf_finding_place(const HfFinding *finding);

/** hf_finding_word: (sentence.c) builds `text` from the fields; @where_count: how many of `names`
 *  are the worst one's own. */
void hf_finding_word(HfFinding *finding, guint where_count);
