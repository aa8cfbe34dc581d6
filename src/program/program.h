/* SPDX-License-Identifier: GPL-3.0-or-later
 * program.h - a cutting program as a stranger reads it: RS-274/NGC text to a flat list of moves
 * (the door of program/).
 *
 *   text ──> lines ──> words ──> groups and order of execution ──> moves, in mm, machine's frame
 *
 * The standard is T. R. Kramer, F. M. Proctor, E. Messina, The NIST RS274NGC Interpreter -
 * Version 3, NISTIR 6556 (2000): chapter 3. What is read of it, and what is refused, stands in
 * docs/program.md. Nothing is guessed: what isn't understood is an error with line and column.
 */
#pragma once
#include "base/cancel.h"
#include "geom/outline.h"

#define HF_PROGRAM_MOST_BYTES  (64u << 20)
#define HF_PROGRAM_MOST_LINES  2000000u
#define HF_PROGRAM_FARTHEST_MM 15000.0 /* that a move may reach, either way */

typedef enum {
  HF_MOVE_TRAVEL,    /* G0 */
  HF_MOVE_LINE,      /* G1 */
  HF_MOVE_ROUND,     /* G2, G3: a circular arc, in space a helix */
  HF_MOVE_WAIT,      /* G4 */
  HF_MOVE_TORCH_ON,  /* M3, M4 */
  HF_MOVE_TORCH_OFF, /* M5, M6, M2, M30 */
} HfMoveKind;

typedef enum { HF_PLANE_XY, HF_PLANE_ZX, HF_PLANE_YZ } HfPlane;

typedef struct {
  guint8 kind;           /* HfMoveKind */
  guint8 plane;          /* HfPlane, of a round move */
  gboolean lit;          /* the torch burns during it */
  guint line;            /* of the text, from 1 */
  guint named;           /* 1 + the number of the comment read last before it; 0: none */
  double from[3], to[3]; /* mm, x y z, all offsets applied; equal where nothing moves */
  HfPoint centre; /* round: along the two axes of its plane; first x and second y for XY. The ends
                     may lie up to 0.002 mm off one circle */
  double sweep;   /* round: radians, > 0 counter-clockwise seen from the third axis' positive end */
  double feed;    /* mm/min; 0 where nothing is said: travel, wait, torch */
  double seconds; /* that a wait takes */
} HfMove;

typedef struct {
  char *file;       /* as it was called */
  GArray *moves;    /* HfMove, in the order of execution */
  GPtrArray *names; /* char *: comments, UTF-8, in the order read */
  guint lines;      /* that were read, from the first to that of the end */
  gboolean inches;  /* the unit said last was the inch */
  gboolean rotary;  /* an axis A, B or C is moved */
} HfProgram;

/**
 * hf_program_read:
 * @file: what to call it in messages; nothing is opened
 * @text: (borrowed) @length bytes, not zero-terminated
 * @cancel: (nullable) looked at every thousand lines
 * Returns: (transfer full) the moves up to the end of the program; %NULL with %HF_ERROR_BAD_VALUE
 *   at `FILE:LINE:COLUMN` (both from 1, in bytes), %HF_ERROR_TOO_BIG, %HF_ERROR_CANCELLED. The
 *   torch begins at 0 0 0 with all offsets 0. Cost O(length), 0.1 kB a move.
 */
HfProgram *hf_program_read(const char *file, const char *text, gsize length, const HfCancel *cancel,
                           GError **error);
/** hf_program_free: frees it and all that it owns; %NULL: nothing. */
void hf_program_free(HfProgram *program);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfProgram, hf_program_free)

static inline const HfMove *
hf_program_move(const HfProgram *program, guint i)
{
  return &g_array_index(program->moves, HfMove, i);
}

/** hf_program_name: (transfer none) (nullable) the comment read last before move @i. */
const char *hf_program_name(const HfProgram *program, guint i);

/** hf_move_length: mm, in space. */
double hf_move_length(const HfMove *move);
/** hf_move_seconds: what it takes at its feed, no slower in corners; of a wait its own; 0 for
 *  travel, of which the program says no speed. */
double hf_move_seconds(const HfMove *move);
