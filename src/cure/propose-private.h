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

struct HfProposing {
  const HfSign *sign;
  const HfCancel *cancel; /* (nullable) */
  const HfFamily *family; /* that is asked now */
  GPtrArray *found;       /* HfProposal * */
  GPtrArray *called;      /* char *: what each entry is called in a sentence */
  GArray *pieces;         /* HfAdrift; worked out when first asked for */
};

/* Every family, in the order in which proposals are equal but for that: a family is one row,
 * `const HfFamily hf_family_NAME` in the file that proposes it, and one word here. */
#define HF_FAMILIES(each)                                                                          \
  each(ties) each(slim) each(lowered) each(mend) each(round) each(closer) each(joined)             \
      each(further) each(bolder) each(lighter) each(larger) each(smaller) each(scale) each(grown)  \
          each(wider) each(plate) each(nearer) each(inward) each(aside) each(reduced)              \
              each(shallow) each(uncover) each(overlap) each(middle) each(arc) each(fit)           \
                  each(bite) each(fill) each(ring) each(longer) each(room) each(bar) each(ends)    \
                      each(level) each(feet) each(ear) each(hole) each(thinner) each(edge)         \
                          each(studs) each(opening) each(acceptance) each(alone)

#define HF_FAMILY_DECLARE(name) extern const HfFamily hf_family_##name;
HF_FAMILIES(HF_FAMILY_DECLARE)
#undef HF_FAMILY_DECLARE

/* Of what moves or adds metal anywhere near letters. */
#define HF_GUARDS_USUAL (HF_GUARD_COVER | HF_GUARD_CROWD)

/* ---- what is there ------------------------------------------------------------------------ */

static inline const HfEntry *
hf_proposing_entry(const HfProposing *asked, guint entry)
{
  return hf_recipe_at(asked->sign->recipe, entry);
}

static inline guint
hf_proposing_n(const HfProposing *asked)
{
  return asked->sign->recipe->entries->len;
}

static inline const HfFinding *
hf_proposing_finding(const HfProposing *asked, guint i)
{
  return (const HfFinding *)g_ptr_array_index(asked->sign->hold->findings, i);
}

/** hf_proposing_beside: (nullable) the name of what it is placed beside, `gap` apart. */
static inline const char *
hf_proposing_beside(const HfPlace *place)
{
  return place->above != NULL     ? place->above
         : place->below != NULL   ? place->below
         : place->left_of != NULL ? place->left_of
                                  : place->right_of;
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
/** hf_proposing_aims_in_form: the same of one form of its findings. */
GArray *hf_proposing_aims_in_form(const HfProposing *asked, gint entry, HfLawKind kind,
                                  const char *form);
/** hf_proposing_named: the entry that is called @name (nullable); -1: there is none. */
gint hf_proposing_named(const HfProposing *asked, const char *name);
/** hf_proposing_bite: mm that an entry runs into what holds it, where @said is what its recipe
 * says; NAN: nothing. */
double hf_proposing_bite(const HfProposing *asked, double said);
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
/** hf_proposing_has_dots: is it a letter of more than one piece? O(its outline). */
gboolean hf_proposing_has_dots(const HfShape *letter);
/** hf_proposing_solved: what a solver found for @entry; NAN: nothing. */
double hf_proposing_solved(const HfProposing *asked, guint entry, HfSolvedWhat what);
/** hf_proposing_spacing: mm between the letters of words, as laid. */
double hf_proposing_spacing(const HfProposing *asked, guint entry);
/** hf_proposing_gap: mm between two letters, 0 where they meet: of their outer rings alone, as
 *  neither lies in the other's counter. */
double hf_proposing_gap(const HfRegion *a, const HfRegion *b);
/** hf_proposing_height: letter height of @entry as laid, mm; 0: it has no letters. */
double hf_proposing_height(const HfProposing *asked, guint entry);

/* ---- words on an arc (propose-spread.c) -------------------------------------------------------
 */

/** hf_proposing_spread: mm that the letters of @words, on an arc of @radius about @centre, must be
 *  set further apart so that neighbours keep @web once they are on an arc of @wanted; 0 where they
 *  do; NAN: half the letter height is not enough. */
double hf_proposing_spread(const HfProposing *asked, guint words, HfPoint centre, double radius,
                           double wanted, double web);

/* ---- straight ahead (propose-longer.c) --------------------------------------------------------
 */

/* From a place in metal straight on. */
typedef struct {
  double leaves, gap; /* mm to where metal ends, and from there to where it begins again */
  double thick;       /* mm of that metal; INFINITY: it is seen no further */
  guint shape;        /* that is met there */
} HfRay;

/** hf_proposing_ray: what lies along @way (of length 1) from @from; %FALSE: no other metal. */
gboolean hf_proposing_ray(const HfProposing *asked, HfPoint from, HfPoint way, HfRay *ret_ray);

/* ---- lines that belong together (propose-kin.c) -----------------------------------------------
 */

/** hf_proposing_kin: (transfer full) (element-type guint) @entry and all other words of its face,
 * size and weight, in the recipe's order: they change together. */
GArray *hf_proposing_kin(const HfProposing *asked, guint entry);
/** hf_proposing_kin_aims: (transfer full) hf_proposing_aims() of all of @kin, each once. */
GArray *hf_proposing_kin_aims(const HfProposing *asked, const GArray *kin);
/** hf_proposing_kin_called: (transfer full) `name`, `name and yard`. */
char *hf_proposing_kin_called(const HfProposing *asked, const GArray *kin);

/** hf_proposing_each_kin: calls @propose for the words of each such kind, once. */
void hf_proposing_each_kin(HfProposing *asked,
                           void (*propose)(HfProposing *asked, const GArray *kin));

/* ---- making a proposal -------------------------------------------------------------------- */

/** hf_propose: adds a proposal that aims at @aims (taken); @phrase taken. %NULL: it would aim at
 *  nothing, and is not made. */
HfProposal *hf_propose(HfProposing *asked, GArray *aims, HfPhrase phrase);

/** hf_propose_knob: in mm, said in the unit in which the recipe says @key of @entry. The ends are
 *  kept between 0.1 mm and 10 m where they start there. */
void hf_propose_knob(HfProposal *proposal, const HfEntry *entry, const char *key, double now,
                     double least, double most, double step);
/** hf_propose_knob_free: the same, of what may be 0 or less: spacing, gap, bolder. */
void hf_propose_knob_free(HfProposal *proposal, const HfEntry *entry, const char *key, double now,
                          double least, double most, double step);
/** hf_propose_knob_share: in %; @now, @least, @most: 1.0 = 100 %. */
void hf_propose_knob_share(HfProposal *proposal, double now, double least, double most);

/** hf_propose_letters: (transfer none) (nullable) the letters of @kin larger, from @least to @most
 *  times, in steps of about a tenth; @aims taken, @after is behind the sentence. */
HfProposal *hf_propose_letters(HfProposing *asked, const GArray *kin, GArray *aims, double least,
                               double most, const char *after);
/** hf_propose_scale: (transfer none) (nullable) every length of the picture from @least to @most
 *  times; @aims taken. "make the whole sign 20 % @how@after". */
HfProposal *hf_propose_scale(HfProposing *asked, GArray *aims, const char *how, const char *after,
                             double least, double most);

/** hf_propose_set: @key of @entry becomes @value (taken). */
void hf_propose_set(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key,
                    HfNode *value);
/** hf_propose_turn: @key of @entry becomes the knob, which is there already. */
void hf_propose_turn(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key);
/** hf_propose_place: `at` of @entry becomes @value (taken): of several copies that of @copy. */
void hf_propose_place(const HfProposing *asked, HfProposal *proposal, guint entry, guint copy,
                      HfNode *value);
/** hf_propose_take_out: the value of @key of @entry goes, with its key. */
void hf_propose_take_out(const HfProposing *asked, HfProposal *proposal, guint entry,
                         const char *key);
/** hf_propose_take_out_entry: all of it. */
void hf_propose_take_out_entry(HfProposal *proposal, guint entry);
/** hf_propose_append: a new entry (taken) behind all others, so that nameless ones keep their
 *  numbers. */
void hf_propose_append(HfProposal *proposal, HfNode *entry);

/** hf_propose_ties: a rule that ties all that is loose, behind all entries. hf_propose_slim_ties:
 * by ties no wider than their limit, where the usual ones would hide a dot or read as one stroke
 * more.
 */
void hf_propose_ties(HfProposal *proposal);
void hf_propose_slim_ties(const HfProposing *asked, HfProposal *proposal);
/** hf_proposing_rule: (nullable index) the first rule for ties; -1: there is none. */
gint hf_proposing_rule(const HfProposing *asked);

/** hf_propose_move: moves copy @copy of @entry by @by, and by @way times the knob where @way is not
 *  0, 0. %FALSE: it is placed in a way that can't be shifted; nothing was added. */
gboolean hf_propose_move(const HfProposing *asked, HfProposal *proposal, guint entry, guint copy,
                         HfPoint by, HfPoint way);

/** hf_proposing_called: (transfer none) `bakery`, `the initial S`; of one without a name `the
 * words` where there is no other of its kind, else `words 2`. */
const char *hf_proposing_called(const HfProposing *asked, const HfEntry *entry);
/** hf_say_called: (transfer full) (element-type char *) that, for every entry. */
GPtrArray *hf_say_called(const HfRecipe *recipe);

/* ---- values, and words for a sentence ---------------------------------------------------------
 */

/** hf_say_names: (transfer full) `[inner, outer]`. */
HfNode *hf_say_names(const char *const *names, guint n);
/** hf_say_mm: (transfer full) @mm in the unit in which @entry (nullable) says @key. */
HfNode *hf_say_mm(const HfEntry *entry, const char *key, double mm);
/** hf_say_rough: (transfer full) the same, up to whole mm or a twentieth of an inch. */
HfNode *hf_say_rough(const HfEntry *entry, const char *key, double mm);
/** hf_say_point: (transfer full) `[x, y]` in the unit in which @entry says @key. */
HfNode *hf_say_point(const HfEntry *entry, const char *key, HfPoint at);
/** hf_say_angle: (transfer full) @angle (rad) in degrees. */
HfNode *hf_say_angle(double angle, int decimals);
/** hf_say_slide: (transfer full) @mm, and @way mm more for each mm that the knob is turned, in
 *  @unit. */
HfNode *hf_say_slide(const HfProposal *proposal, double mm, double way, const char *unit);
/** hf_say_way: (transfer none) "to the right", "down and to the left". */
const char *hf_say_way(HfPoint way);
/** hf_say_new_name: (transfer full) @wanted, or with a number, that no entry has. */
char *hf_say_new_name(const HfProposing *asked, const char *wanted);
HfNode *hf_say_new(const HfProposing *asked, const char *wanted); /* that name as a value */
