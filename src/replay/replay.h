/* SPDX-License-Identifier: GPL-3.0-or-later
 * replay.h - what metal a program really leaves (the door of replay/).
 *
 *   moves ──> burns ──> what each takes away ──> what is left, piece by piece ──> findings
 *             torch on    half a kerf to          when each comes loose;
 *             to torch    either side of          against the sign, if there is one
 *             off         the path
 *
 * It knows neither the planner nor what was meant: only the program, the kerf and, when it is given
 * one, the metal of the design. Motion is as programmed: no corner is cut short, no kerf wanders.
 * All lengths in mm, in the program's frame.
 */
#pragma once
#include "geom/region.h"
#include "hold/law.h"
#include "program/program.h"

#define HF_REPLAY_WITHIN_MM 0.05 /* how far metal may lie off the design, unless said otherwise */

typedef struct {
  double kerf;            /* mm, > 0 */
  const HfRegion *design; /* (nullable) the sign's metal, clean, in a frame of its own */
  double within;          /* mm, > 0: what differs by no more is as designed */
  HfPoint at;             /* where the lower left corner of the design lies; NAN: it is found */
  HfBox table;            /* where the torch may go; empty: anywhere */
} HfReplayOptions;

typedef enum {
  HF_PIECE_SKELETON, /* what hangs together with the rim of the sheet */
  HF_PIECE_SIGN,     /* most of it is the design's; without a design: it lies in no other piece */
  HF_PIECE_DROP,
} HfPieceKind;

typedef struct {
  HfPieceKind kind;
  guint ring;       /* of HfReplay.left: its outer ring */
  double area;      /* mm2 */
  double of_design; /* mm2 of it that the design has */
  HfBox box;
  HfPoint at;     /* a place in it */
  guint loosened; /* 1 + the burn after which it hangs on the sheet no more; 0: it always hangs */
} HfPiece;

/* Torch on to torch off. */
typedef struct {
  guint first, n;          /* of HfReplay.path */
  guint move_on, move_off; /* moves of the program: on, and the last one of it */
  guint line_on, line_off;
  double length; /* mm of cut */
  HfBox box;     /* of its path */
} HfBurn;

/* A point of a burn's path; arcs are chords within 0.5 um. */
typedef struct {
  HfPoint at;
  guint move; /* that led here */
} HfBurnPoint;

typedef struct {
  const char *key; /* (transfer none) "across", docs/replay.md */
  HfGravity gravity;
  guint line;    /* of the program; 0: of none */
  HfPoint at;    /* NAN: nowhere */
  double amount; /* what is measured, mm; NAN: nothing */
  char *says;    /* a sentence without its place */
} HfReplayFinding;

typedef struct {
  const HfProgram *program; /* (borrowed) */
  double kerf;
  GArray *burns;    /* HfBurn */
  GArray *path;     /* HfBurnPoint */
  HfRegion *cut;    /* all that is burnt away */
  HfRegion *left;   /* what is left of the sheet; edges know the burn (shape) and point (curve) */
  HfBox sheet;      /* that was taken for it */
  GArray *pieces;   /* HfPiece, one an outer ring of `left` */
  HfRegion *design; /* (nullable) as a round kerf can cut it, where it was laid */
  HfPoint laid;     /* where its lower left corner lies */
  double kept_corners;    /* mm2 that a round kerf leaves in inside corners */
  double inward, outward; /* mm: the largest differences; NAN without a design */
  HfPoint inward_at, outward_at;
  double cut_length, travel; /* mm */
  double cut_seconds, wait_seconds;
  GPtrArray *findings; /* HfReplayFinding *, in the order of lines */
} HfReplay;

/**
 * hf_replay_new:
 * @program: (borrowed) must outlive it
 * @cancel: (nullable) looked at between burns
 * Returns: (transfer full); %NULL with %HF_ERROR_BAD_VALUE when the program burns out of the level
 *   plane or burns nothing, %HF_ERROR_CANCELLED. What is cut lies within 1 um of the true swept
 * region. Cost O(n log n + crossings), n the chords of the path.
 */
HfReplay *hf_replay_new(const HfProgram *program, const HfReplayOptions *options,
                        const HfCancel *cancel, GError **error);
/** hf_replay_free: frees it and all that it owns; %NULL: nothing. */
void hf_replay_free(HfReplay *replay);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfReplay, hf_replay_free)

/** hf_replay_is_good: is there no stop among its findings? */
gboolean hf_replay_is_good(const HfReplay *replay);
/** hf_replay_count: how many pieces of @kind are left. */
guint hf_replay_count(const HfReplay *replay, HfPieceKind kind);

/** hf_replay_picture: (transfer full) an SVG in mm of what is left, the cuts, the travels and the
 *  places of findings by their numbers. */
GBytes *hf_replay_picture(const HfReplay *replay);
