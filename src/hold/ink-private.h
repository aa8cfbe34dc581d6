/* SPDX-License-Identifier: GPL-3.0-or-later
 * ink-private.h - a letter as its face draws it, and what of it is still there in the metal.
 *
 *      o   o   <- pieces        spots stand along every ring of the drawn outline, a third of its
 *      |   |                    stroke apart; each is asked whether an edge of the metal is there
 *      |   |   <- strokes       (it shows), else whether metal or air is
 *      (___)
 *
 * Ink is what the letter is made of: metal where it stands, an opening where it is cut through.
 */
#pragma once
#include "geom/index.h"
#include "hold/hold-private.h"

/* The metal about one letter: is a point in it? Two walks from a corner whose answer is known. */
typedef struct {
  const HfRegion *metal;
  HfIndex *index;
  HfBox box;
  GArray *edges;      /* of near.c: those that meet the box */
  gboolean corner_in; /* is the lower left corner metal? */
} HfNear;

/** hf_near_new: @box: mm; asked points must lie in it. Cost O(edges of @metal), once. */
HfNear *hf_near_new(const HfRegion *metal, HfIndex *index, HfBox box);
/** hf_near_free: %NULL is fine. */
void hf_near_free(HfNear *near);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfNear, hf_near_free)
/** hf_near_contains: Cost O(edges in the box). */
gboolean hf_near_contains(const HfNear *near, HfPoint p);

/* A place on the drawn outline. */
typedef struct {
  HfPoint at;     /* moved out by what makes the letter bolder */
  HfPoint out;    /* unit, away from the ink */
  gint ring;      /* of the metal whose edge is there; -1: no edge is there */
  gboolean own;   /* that edge is the letter's, or of what mends it: not of a bar that ends there */
  gboolean metal; /* no edge is there: in metal, else in air */
} HfSpotOfInk;

/* A ring of the drawn outline: a piece of the letter, or a counter in one. */
typedef struct {
  gboolean counter;
  guint piece;  /* counter: the ring of its piece; piece: itself */
  double area;  /* mm2: of a piece without its counters */
  double width; /* mm: twice the area over the edge: the stroke, or half of a round dot */
  double step;  /* mm from spot to spot */
  HfBox box;
  HfSpotOfInk *spots;
  guint n;
  double shows; /* share of its edge, 0..1 */
} HfInkRing;

typedef struct {
  HfRegion *lighter; /* (nullable) as the recipe made it lighter */
  HfRegion *drawn;   /* sign's frame; its rings are those of `rings` */
  HfInkRing *rings;
  guint n;
  guint body;    /* the largest piece */
  double bolder; /* mm that its edge was moved outward by the recipe */
  double reach;  /* mm: an edge of the metal so near is the letter's own, of the body */
  const HfLayout *layout;
  guint shape;
  double mended;    /* mm: an edge so near that mended this letter is its own; 0: nothing did */
  gboolean opening; /* it is cut through */
} HfInk;

/** hf_ink_is_mended: did mending add or take off something of letter @shape? O(shapes). */
gboolean hf_ink_is_mended(const HfCheck *check, guint shape);
/** hf_ink_new: the letter @shape without its spots. %NULL: it has no area. */
HfInk *hf_ink_new(const HfCheck *check, guint shape);
/** hf_ink_free: %NULL is fine. */
void hf_ink_free(HfInk *ink);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfInk, hf_ink_free)
/** hf_ink_look: asks every spot. @near: about ink->drawn and what hf_ink_margin() says. */
void hf_ink_look(HfInk *ink, const HfNear *near);
/** hf_ink_margin: mm about the drawn outline that are looked at. */
double hf_ink_margin(const HfInk *ink);

/* A stroke that ends: from its tip back to where it meets another. */
typedef struct {
  HfPoint tip;
  double length, width;  /* mm */
  guint ring, at, reach; /* its tip is spot `at` of that ring, `reach` spots to either side */
} HfInkStroke;

/** hf_ink_strokes: (transfer full) (element-type HfInkStroke) those that are longer than wide. */
GArray *hf_ink_strokes(const HfInk *ink);

/** hf_ink_there: share of piece or counter @ring, by area, that is still what it was drawn as. */
double hf_ink_there(const HfInk *ink, const HfNear *near, guint ring);

/** hf_reads_check_ties: (reads-ties.c) ties that read as strokes of a letter. */
void hf_reads_check_ties(HfCheck *check);

/** hf_reads_is_built_of_strokes: is it a letter of Han, Hangul, kana or the like? O(1). */
gboolean hf_reads_is_built_of_strokes(const HfShape *shape);
/** hf_reads_check_crossed: (reads-crossed.c) bars laid across letters that are another one so. */
void hf_reads_check_crossed(HfCheck *check);
/** hf_reads_check_dots: (reads-dots.c) small things by letters that read as marks of them. */
void hf_reads_check_dots(HfCheck *check);

/** hf_reads_check_tail: (reads-tails.c) does what tells it from another letter below its line show?
 *  @leave: the recipe lets tails end in a bar. Returns: is a stop told of it? */
gboolean hf_reads_check_tail(HfCheck *check, const HfInk *ink, gboolean leave);
/** hf_reads_is_below: does @p (mm) lie below the line of letter @shape, where tails hang? O(1). */
gboolean hf_reads_is_below(const HfShape *shape, HfPoint p);

/** hf_reads_is_of_words: is @shape a letter of some words, no bit that mends one? O(1). */
gboolean hf_reads_is_of_words(const HfCheck *check, const HfShape *shape);
/** hf_reads_are_neighbours: is @b another letter of @a's line, at most two away? O(1). */
gboolean hf_reads_are_neighbours(const HfCheck *check, const HfShape *a, const HfShape *b);
/** hf_reads_touched: (reads-touched.c, transfer full) (element-type guint) the letters that a
 *  neighbour could have changed, in their order; none: empty. O(n log n). */
GArray *hf_reads_touched(const HfCheck *check);
/** hf_reads_check_melted: (reads-melted.c) letters that run into their neighbours. */
gboolean hf_reads_check_melted(HfCheck *check, GError **error);
/** hf_reads_check_parted: (reads-parted.c) standing letters of @shapes (guint) that an opening cut
 *  in two. %FALSE only when stopped. */
gboolean hf_reads_check_parted(HfCheck *check, const GArray *shapes, GError **error);
/** hf_reads_check_pairs: (reads-pairs.c) letters that touch and read as a third one. */
void hf_reads_check_pairs(HfCheck *check);
/** hf_reads_to_native: (reads-melted.c) from where @other stands to where the face would put it
 *  beside @own, both of one line. O(1). */
HfMatrix hf_reads_to_native(const HfShape *own, const HfShape *other);
/** hf_reads_native: (reads-melted.c) (transfer full) (nullable) what is about letter @shape of
 *  words where the face itself puts its neighbours: their drawn outlines in the sign's frame, about
 *  the letter as it stands. %NULL: it is none of words. */
HfRegion *hf_reads_native(const HfCheck *check, guint shape);

/** hf_reads_letter: (transfer full) the letter that @shape was ordered as, out of its label. */
char *hf_reads_letter(const HfShape *shape);
/** hf_reads_without_marks: (transfer full) (nullable) what @letter reads like when all its pieces
 *  but its body are gone: `u` for `ü`; @pieces: how many the face draws. */
char *hf_reads_without_marks(const char *letter, guint pieces);
