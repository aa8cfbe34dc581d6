/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie-bar-private.h - one straight bar between two parts, and whether it may be laid.
 *
 *     metal |      opening      | metal        the same bar that a pin at `at` would lay (layout/
 *     ......+=========x=========+......        tie.c): both ways until it meets metal over its
 *         ->| bite              | bite|<-      whole width, and on into it by the joint limit
 */
#pragma once
#include "tie/ground-private.h"

enum { HF_BAR_LINES = 5 };

/* What the limits ask of ties; worked out once. */
typedef struct {
  double short_web, long_web; /* mm: stop of a web of that length */
  double caution, long_caution;
  double long_after;       /* so many widths is long */
  double bite;             /* the joint limit */
  double gap, gap_caution; /* no gap beside a bar may be narrower */
  double pierce;           /* radius that every opening must hold */
  double reach;            /* farther metal from the only tie is a caution */
  double given;            /* width that the rule asks for; NAN */
  HfTieDirection direction;
  HfTieAlong along;
  const GArray *keep_free; /* HfSpot */
  const gboolean *barred;  /* (nullable) of each shape: no tie may touch it */
} HfTieLaw;

/** hf_tie_law: what a rule asks of its bars: widths and reach from the limits of the sign,
 *  direction and the rest from @rule. O(shapes). */
HfTieLaw hf_tie_law(const HfSign *sign, const HfTiesEntry *rule);

/* From the middle of the bar one way, mm along it. */
typedef struct {
  double middle;  /* metal begins on the middle line */
  double begins;  /* and on all lines */
  double ends;    /* it ends again on the first of them; INFINITY: out of sight */
  double bar;     /* the bar ends here, in metal */
  double side[2]; /* metal begins on the bar's right and left edge, looking along its way */
  HfEdgeId edge;  /* that the middle line meets */
  guint part;
  double square;  /* cosine of the angle between the bar and the edge's normal */
  gboolean solid; /* there is room for a circle of the caution limit, else only of the stop */
} HfBarEnd;

typedef struct {
  HfPoint at, way;     /* a place on its middle line between the metals; towards b */
  double width, limit; /* mm; of a web of its length */
  double corner[2];    /* 0..1: how near a corner of the outline is to its edges at either end */
  HfBarEnd end[2];     /* at part a (against the way), at part b */
  guint part[2];
  double area;     /* mm2 that shows */
  double length;   /* longest that shows */
  double crowd;    /* 0..1: how far metal beside it stays within the caution of gaps */
  double reach;    /* mm from it to the farthest metal of part a */
  double style;    /* mm2 */
  double angle[2]; /* where it leaves part a and b, seen from the middle in the part's own frame */
  double off;      /* -1..1: across the part, from its middle */
  gboolean straight; /* a pin in its middle would find the same ends on every line */
  gboolean covers;   /* a weak joint of the two parts */
  gboolean spare;    /* no habit: chosen from only when something would not be held without */
  gboolean struck;   /* out: it was seen to leave an opening too small */
} HfBar;

/* Why a bar may not be laid there; the gravest that was met is what an untied part is told. */
typedef enum {
  HF_BAR_FITS,
  HF_BAR_NOTHING, /* meets nothing, or the part itself */
  HF_BAR_DIRECTION,
  HF_BAR_KEPT_FREE,
  HF_BAR_EDGE,  /* does not meet metal over its whole width */
  HF_BAR_HOLE,  /* of a fixing */
  HF_BAR_THIN,  /* the metal behind is too thin */
  HF_BAR_CLOSE, /* a gap beside it would be too narrow */
  HF_N_BAR_FAULTS
} HfBarFault;

/**
 * hf_bar_try:
 * @at: between part @a and whatever lies along @way, or in the joint of the two
 * @gap: mm of nothing along the middle line
 * Lays the bar there if it may be: width by its own length, both ends in solid metal.
 */
HfBarFault hf_bar_try(HfGround *ground, const HfTieLaw *law, guint a, HfPoint at, HfPoint way,
                      double gap, HfBar *ret_bar);

/** hf_bar_point: @along its way from `at`, @off to the left. */
HfPoint hf_bar_point(const HfBar *bar, double along, double off);

/** hf_bar_outline: (transfer full) run into the metal. */
HfOutline *hf_bar_outline(const HfBar *bar);
