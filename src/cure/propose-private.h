/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-private.h - what the families of cures share: findings to aim at, edits said as the user
 * wrote, pieces that hang in the air.
 *
 * A family is asked once for each sign. It may aim only at findings whose law lists its key
 * (hold/), so that the law, the report and what is offered can't differ.
 */
#pragma once
#include "cure/cure.h"

/* A connected region of metal that is not the body and may not stand alone. */
typedef struct {
  guint part;       /* of hold->parts */
  guint ring;       /* its outer ring in metal->region */
  guint shape;      /* that made most of its outer ring */
  HfPoint from, to; /* from its edge straight to the nearest other metal */
  guint to_shape;   /* that is there */
  double gap;       /* mm between the two */
} HfAdrift;

typedef struct {
  const HfPatient *patient;
  const char *key;   /* of the family that is asked now */
  GPtrArray *found;  /* HfProposal * */
  GPtrArray *called; /* char *: what each entry is called in a sentence */
  GArray *pieces;    /* HfAdrift; worked out when first asked for */
} HfProposing;

typedef void (*HfProposer)(HfProposing *asked);

/* The families, one file for each kind of change. */
void hf_propose_ties(HfProposing *asked); /* propose-ties.c */
void hf_propose_alone(HfProposing *asked);
void hf_propose_mend(HfProposing *asked); /* propose-mend.c */
void hf_propose_round(HfProposing *asked);
void hf_propose_closer(HfProposing *asked); /* propose-spacing.c */
void hf_propose_joined(HfProposing *asked);
void hf_propose_further(HfProposing *asked);
void hf_propose_bolder(HfProposing *asked); /* propose-weight.c */
void hf_propose_lighter(HfProposing *asked);
void hf_propose_larger(HfProposing *asked); /* propose-size.c */
void hf_propose_smaller(HfProposing *asked);
void hf_propose_scale(HfProposing *asked); /* propose-scale.c */
void hf_propose_wider(HfProposing *asked); /* propose-strip.c */
void hf_propose_plate(HfProposing *asked);
void hf_propose_nearer(HfProposing *asked); /* propose-move.c */
void hf_propose_inward(HfProposing *asked);
void hf_propose_bite(HfProposing *asked); /* propose-reach.c */
void hf_propose_fill(HfProposing *asked);
void hf_propose_ring(HfProposing *asked);
void hf_propose_bar(HfProposing *asked); /* propose-bar.c */
void hf_propose_ends(HfProposing *asked);
void hf_propose_level(HfProposing *asked); /* propose-hang.c */
void hf_propose_feet(HfProposing *asked);
void hf_propose_ear(HfProposing *asked);
void hf_propose_hole(HfProposing *asked);
void hf_propose_opening(HfProposing *asked); /* propose-recipe.c */
void hf_propose_acceptance(HfProposing *asked);

/* ---- what is there ------------------------------------------------------------------------ */

static inline const HfEntry *
hf_proposing_entry(const HfProposing *asked, guint entry)
{
  return (const HfEntry *)g_ptr_array_index(asked->patient->recipe->entries, entry);
}

static inline guint
hf_proposing_n(const HfProposing *asked)
{
  return asked->patient->recipe->entries->len;
}

static inline const HfFinding *
hf_proposing_finding(const HfProposing *asked, guint i)
{
  return (const HfFinding *)g_ptr_array_index(asked->patient->hold->findings, i);
}

/** hf_proposing_limit: the stop of @kind, or its caution where it has none. */
double hf_proposing_limit(const HfProposing *asked, HfLawKind kind);

/** hf_proposing_font: (nullable) the font of words or an initial. */
const HfFontWish *hf_proposing_font(const HfEntry *entry);

/** hf_proposing_aims: (transfer full) (element-type guint) the findings that the family may aim at
 *  and that @entry takes part in (-1: any), gravest first. Not those that are accepted; notes only
 *  of a law that has nothing graver. */
GArray *hf_proposing_aims(const HfProposing *asked, gint entry);
/** hf_proposing_aims_of: the same of one law. */
GArray *hf_proposing_aims_of(const HfProposing *asked, gint entry, HfLawKind kind);
/** hf_proposing_has: one of @aims is of @kind. */
gboolean hf_proposing_has(const HfProposing *asked, const GArray *aims, HfLawKind kind);
/** hf_proposing_lack: the most that any of @aims lacks to its limit, in mm, of laws in mm; 0. */
double hf_proposing_lack(const HfProposing *asked, const GArray *aims);

/** hf_proposing_pieces: (transfer none) at most 64, largest first. */
const GArray *hf_proposing_pieces(HfProposing *asked);
/** hf_proposing_look: one part of hold->parts, the body too; %FALSE: it hangs on by a weak joint,
 * or there is no other metal. */
gboolean hf_proposing_look(HfProposing *asked, guint part, HfAdrift *ret_piece);
/** hf_proposing_box: of all shapes of @entry (@copy -1: of every copy). */
HfBox hf_proposing_box(const HfProposing *asked, guint entry, gint copy);
/** hf_proposing_solved: what a solver found for @entry; NAN: nothing. */
double hf_proposing_solved(const HfProposing *asked, guint entry, HfSolvedWhat what);
/** hf_proposing_height: letter height of @entry as laid, mm; 0: it has no letters. */
double hf_proposing_height(const HfProposing *asked, guint entry);

/* ---- making a proposal -------------------------------------------------------------------- */

/** hf_propose: adds a proposal that aims at @aims (taken); @sentence taken. %NULL: it would aim at
 *  nothing, and is not made. */
HfProposal *hf_propose(HfProposing *asked, GArray *aims, char *sentence);

/** hf_propose_knob: in mm, said in the unit in which the recipe says @key of @entry. The ends are
 *  kept between 0.1 mm and 10 m where they start there. */
void hf_propose_knob(HfProposal *proposal, const HfEntry *entry, const char *key, double now,
                     double least, double most, double step);
/** hf_propose_knob_free: the same, of what may be 0 or less: spacing, gap, bolder. */
void hf_propose_knob_free(HfProposal *proposal, const HfEntry *entry, const char *key, double now,
                          double least, double most, double step);
/** hf_propose_knob_share: in %; @now, @least, @most: 1.0 = 100 %. */
void hf_propose_knob_share(HfProposal *proposal, double now, double least, double most);

void hf_propose_set(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key,
                    const char *value);
void hf_propose_put(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key,
                    const char *value);
void hf_propose_take_out(const HfProposing *asked, HfProposal *proposal, guint entry,
                         const char *key);
/** hf_propose_append: a new entry behind all others, so that nameless ones keep their numbers. */
void hf_propose_append(HfProposal *proposal, const char *entry);

/** hf_propose_move: moves copy @copy of @entry by @by, and by @way times the knob where @way is not
 *  0, 0. %FALSE: it is placed in a way that can't be shifted; nothing was added. */
gboolean hf_propose_move(const HfProposing *asked, HfProposal *proposal, guint entry, guint copy,
                         HfPoint by, HfPoint way);

/** hf_proposing_called: (transfer none) `bakery`, `the initial S`; of one without a name `the
 * words` where there is no other of its kind, else `words 2`. */
const char *hf_proposing_called(const HfProposing *asked, const HfEntry *entry);
/** hf_say_called: (transfer full) (element-type char *) that, for every entry. */
GPtrArray *hf_say_called(const HfRecipe *recipe);

/* ---- words -------------------------------------------------------------------------------- */

/** hf_say_name: (transfer full) a name as YAML takes it, in quotes where needed. */
char *hf_say_name(const char *name);
/** hf_say_names: (transfer full) `[inner, outer]`. */
char *hf_say_names(const char *const *names, guint n);
/** hf_say_mm: (transfer full) @mm in the unit in which @entry (nullable) says @key. */
char *hf_say_mm(const HfEntry *entry, const char *key, double mm);
/** hf_say_rough: (transfer full) the same, up to whole mm or a twentieth of an inch. */
char *hf_say_rough(const HfEntry *entry, const char *key, double mm);
/** hf_say_way: (transfer none) "to the right", "down and to the left". */
const char *hf_say_way(HfPoint way);
/** hf_say_new_name: (transfer full) @wanted, or with a number, that no entry has. */
char *hf_say_new_name(const HfProposing *asked, const char *wanted);
