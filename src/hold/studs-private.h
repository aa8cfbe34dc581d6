/* SPDX-License-Identifier: GPL-3.0-or-later
 * studs-private.h - where the studs of one piece of metal go.
 *
 *     ___________        room: where a stud with its edge all round fits
 *    | .'''''''. |       spots: middle lines of the strokes within the room, and where a piece is
 *    | o   +   o |              wide the edge of the room
 *    |  '.....'  |       choice: the fewest of them about the centre of mass +
 *    |_____o_____|       docs/maths.md#studs
 *
 * All in the piece's own frame: mm, upright as its letter stands, the centre of mass at 0, 0.
 */
#pragma once
#include "base/cancel.h"
#include "geom/axis.h"

/* What is asked of the studs. */
typedef struct {
  double diameter; /* mm */
  double edge;     /* mm of metal left round a stud */
  double reach;    /* mm: no metal is farther from a stud */
} HfStudAsk;

/* ---- stud-room.c ---- */

typedef struct HfStudRoom HfStudRoom;

/** hf_stud_room_new: (transfer full) @piece: one outer ring with its openings, clean; borrowed. An
 *  axis, and two passes over the vertices for its symmetry. */
HfStudRoom *hf_stud_room_new(const HfRegion *piece, const HfCancel *cancel);
/** hf_stud_room_free: frees it; %NULL: nothing. */
void hf_stud_room_free(HfStudRoom *room);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfStudRoom, hf_stud_room_free)

/** hf_stud_room_radius: mm, of the largest circle that fits. */
double hf_stud_room_radius(const HfStudRoom *room);
/** hf_stud_room_long: mm, the longer side of its box. O(vertices). */
double hf_stud_room_long(const HfStudRoom *room);
/** hf_stud_room_clear: mm from @p to the nearest edge; < 0: outside. O(edges). */
double hf_stud_room_clear(const HfStudRoom *room, HfPoint p);

/* Which way a piece is its own mirror image, about a line through its middle. */
typedef enum { HF_STUD_NO_MIRROR, HF_STUD_UPRIGHT_MIRROR, HF_STUD_LEVEL_MIRROR } HfStudMirror;
/** hf_stud_room_mirror: which it is, within 0.4 % of its longer side. */
HfStudMirror hf_stud_room_mirror(const HfStudRoom *room);
/** hf_stud_room_mirrored: @p on the other side. */
HfPoint hf_stud_room_mirrored(const HfStudRoom *room, HfPoint p);

enum { HF_STUD_SPOTS = 40 };
/** hf_stud_spots: (transfer full) (element-type HfPoint) places with @least mm to every edge, at
 *  most %HF_STUD_SPOTS spread as far as they can be, and behind them those on a mirror's line.
 * Empty: there are none. */
GArray *hf_stud_spots(const HfStudRoom *room, double least);

/* ---- stud-choice.c ---- */

typedef struct {
  GArray *at;     /* HfPoint; empty: there is no room */
  gboolean few;   /* one, or all in a line */
  double outside; /* mm that the centre of mass lies outside the hull of three or more; 0: inside */
  double beside;  /* mm that it lies beside the line of two, or from the one; else 0 */
} HfStudChoice;

/** hf_studs_choose: at most what @ask asks for, see docs/maths.md#studs. O(spots^3). */
HfStudChoice hf_studs_choose(const HfStudRoom *room, const HfStudAsk *ask);
/** hf_stud_choice_clear: frees what it owns. */
void hf_stud_choice_clear(HfStudChoice *choice);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfStudChoice, hf_stud_choice_clear)
/** hf_studs_hold: does it hold the piece: three or more about its centre of mass, or two or one
 *  where the piece has no room for more? */
gboolean hf_studs_hold(const HfStudChoice *choice);

/** hf_studs_alike: are two pieces, each in its own frame, the same within @slack mm? */
gboolean hf_studs_alike(const HfRegion *a, const HfRegion *b, double slack);
