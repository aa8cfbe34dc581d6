/* SPDX-License-Identifier: GPL-3.0-or-later
 * join-private.h - loose lines to closed outlines, and which of them lie in which.
 *
 *    o------o   o--o       Lines, arcs and runs of them, of any format and unit: ends that meet are
 *    |      |   |  |       joined, doubles left out, and what stays open is kept and told.
 *    o---. -o   o--o--     `.` a gap that is closed, `--` an end that stays open
 */
#pragma once
#include "geom/outline.h"

#define HF_JOIN_MM 0.05 /* mm: ends that are nearer are meant to meet */

/* What comes in: a run of curves, each beginning where the one before it ended. */
typedef struct {
  const GArray *curves; /* HfCurve; at least one */
  gboolean closed;      /* it was drawn closed: a line back to its start if need be */
  guint source;         /* the caller's own number */
} HfStrand;

typedef struct {
  GArray *curves; /* HfCurve; end to end without a gap; a loop's last ends where its first begins */
  guint source;   /* of its first strand */
  guint n_strands;
} HfChain;

typedef enum {
  HF_JOIN_GAP,      /* `size` wide; it was closed */
  HF_JOIN_OPEN,     /* an end that meets nothing */
  HF_JOIN_BRANCH,   /* three lines, or more and an odd number, end in one place */
  HF_JOIN_DOUBLE,   /* drawn again: left out */
  HF_JOIN_CROSSING, /* two outlines, or one with itself, cross */
  HF_JOIN_KINDS
} HfJoinKind;

typedef struct {
  HfJoinKind kind;
  HfPoint at;
  double size;
  guint source;
} HfJoinRemark;

typedef struct {
  GPtrArray *loops; /* HfChain *: closed, none twice */
  GPtrArray *open;  /* HfChain *: the others */
  GArray *remarks;  /* HfJoinRemark, at most HF_JOIN_MOST_REMARKS of a kind */
  guint times[HF_JOIN_KINDS];
} HfJoined;

#define HF_JOIN_MOST_REMARKS 50

/**
 * hf_join:
 * @tolerance: > 0; ends up to so far from each other are brought together, the nearest first
 * Returns: (transfer full). Where four or more lines end in one place it does not matter for what
 *   the outlines go round by the even-odd rule which is joined to which; the straightest are.
 *   Where an odd number does, the straightest are and one stays open. No strand is lost: each is in
 *   a loop, in an open chain, or told as a double. O(n log n).
 */
HfJoined *hf_join(const HfStrand *strands, guint n, double tolerance);
/** hf_joined_free: frees it and all that it owns; %NULL: nothing. */
void hf_joined_free(HfJoined *joined);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfJoined, hf_joined_free)

/** hf_join_remark: tells one more of a kind. */
void hf_join_remark(HfJoined *joined, HfJoinKind kind, HfPoint at, double size, guint source);
/** hf_join_drop_doubles: leaves out loops that run where an earlier one does, within @tolerance,
 *  whichever way and wherever they begin; each is told. */
void hf_join_drop_doubles(HfJoined *joined, double tolerance);
/** hf_chain_free: frees it and all that it owns. */
void hf_chain_free(HfChain *chain);

/* ---- points that are near ------------------------------------------------------------------- */

typedef struct HfSpots HfSpots;
/** hf_spots_new: (transfer full) @n points, to be asked for within @reach. O(n log n). */
HfSpots *hf_spots_new(const HfPoint *at, guint n, double reach);
/** hf_spots_near: numbers of the points within the reach of @p, appended to @to (guint), at most
 *  @most. O(log n + found). */
void hf_spots_near(const HfSpots *spots, HfPoint p, guint most, GArray *to);
/** hf_spots_free: frees it. */
void hf_spots_free(HfSpots *spots);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfSpots, hf_spots_free)
