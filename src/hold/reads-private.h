/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-private.h - one letter as it is read: what each part of it is asked for, and what is worst.
 */
#pragma once
#include "hold/ink-private.h"

/* A letter that is asked about, and what lies about it. All borrowed but for what is NULL at first.
 */
typedef struct {
  HfCheck *check;
  guint shape;
  const HfInk *ink;
  const HfNear *near;
  gboolean joins;          /* strokes may end within neighbours or a bar */
  gboolean merged;         /* bolder strokes made one piece of what its face draws as several */
  gboolean woven;          /* gaps beside what passes over it open its counters */
  gboolean crossed_by_bar; /* which is told (reads-crossed.c) */
  gboolean of_words;       /* its face may join it to its neighbours */
  GPtrArray *regions;      /* HfRegion * by shape, of letters asked as neighbours; NULL: not yet */
  const HfBox *boxes;      /* by shape */
  GArray *reached;  /* (nullable: not yet) guint: shapes it may end in, whose boxes meet its own */
  GArray *crossed;  /* the same of letters of other words */
  GArray *about;    /* the same of all but what is its own or mends it */
  HfRegion *native; /* (nullable) the neighbours where the face puts them; NULL: not yet */
} HfReading;

/* What is worst of one kind, in %. */
typedef struct {
  double share;
  guint ring;
  HfPoint at;
  const char *how; /* static: what became of it */
} HfWorst;

#define HF_WORST_NONE ((HfWorst){100, 0, {0, 0}, NULL})

static inline void
hf_worst_keep(HfWorst *worst, double share, guint ring, HfPoint at, const char *how)
{
  if (share < worst->share)
    *worst = (HfWorst){share, ring, at, how};
}

/** hf_reading_region: (reads-neighbours.c) (transfer none) shape @s as it is laid, kept. */
const HfRegion *hf_reading_region(const HfReading *reading, guint s);
/** hf_reads_joined_bar: (transfer none) (nullable) name of the bar that the recipe lets tails of
 *  @entry end in. */
const char *hf_reads_joined_bar(const HfEntry *entry);
/** hf_reading_in_neighbour: does @p lie in a letter of the same words, or (unless @letters_only) in
 *  the bar that tails may run into? */
gboolean hf_reading_in_neighbour(HfReading *reading, HfPoint p, gboolean letters_only);
/** hf_reading_in_other_words: does @p lie in a letter of other words, or of another line? */
gboolean hf_reading_in_other_words(HfReading *reading, HfPoint p);

/** hf_reading_without: would there be metal at @p if this letter were not there? O(shapes about
 * it).
 */
gboolean hf_reading_without(HfReading *reading, HfPoint p);

/** hf_reading_is_dust: (reads-pieces.c) is @ring too small to be asked about? O(1). */
gboolean hf_reading_is_dust(const HfInk *ink, guint ring);
/** hf_reading_count_pieces: as drawn, without dust. O(rings). */
guint hf_reading_count_pieces(const HfInk *ink);
/** hf_reading_worst_piece: @ret_gone: pieces besides the body that are a stop. */
HfWorst hf_reading_worst_piece(HfReading *reading, guint *ret_gone);
/** hf_reading_worst_counter: (reads-counters.c) share of its area that is open. */
HfWorst hf_reading_worst_counter(const HfReading *reading);
/** hf_reading_worst_stroke: (reads-strokes.c) of strokes that end: share of them that shows.
 *  @tail_too: ask also those that end below the line. */
HfWorst hf_reading_worst_stroke(HfReading *reading, gboolean tail_too);

/* The worst stroke that joins two others. */
typedef struct {
  double share;   /* % of its length that is there */
  HfPoint at;     /* its middle */
  gboolean level; /* along the line of its letter */
} HfLink;

/** hf_reading_worst_link: (reads-links.c) */
HfLink hf_reading_worst_link(const HfReading *reading);
/* Where a letter differs most. */
typedef struct {
  double squares; /* of its stroke */
  HfPoint at;     /* mm */
} HfBlob;

/** hf_reading_largest_blob: (reads-blobs.c) of what @differs, clean, the largest piece that is
 * about as wide as a @stroke (mm); 0: all of it is slimmer. Cost: two offsets and a boolean. */
HfBlob hf_reading_largest_blob(const HfRegion *differs, double stroke);
/** hf_reading_left_of_blob: % that counts as left of a letter that differs by so many squares of
 *  its stroke. O(1). */
double hf_reading_left_of_blob(double squares);

/** hf_reading_check_closed: (reads-closed.c) does a rail make another letter of it? O(rings). */
void hf_reading_check_closed(HfReading *reading);
/** hf_reading_check_covered: (reads-covered.c) is a long piece taken out of a stroke that goes on
 *  to both sides, or a blob out of its form? Cost: a boolean, and two offsets, where something of
 *  the other kind lies over the letter. */
void hf_reading_check_covered(HfReading *reading);
/** hf_reading_check_bridged: (reads-bridged.c) is a counter of it parted by what lies across? Cost:
 *  a boolean for each counter that something lies in. */
void hf_reading_check_bridged(HfReading *reading);
/** hf_reading_check_lumps: (reads-lumps.c) is something laid into it that reads as a part of it?
 *  Cost: two booleans for each thing that lies against it. */
void hf_reading_check_lumps(HfReading *reading);
