/* SPDX-License-Identifier: GPL-3.0-or-later
 * tips.c - the ends of the axis that run into a corner.
 *
 *      ____________________
 *     |  \                        The width of a tail is not that of its tip, where the radius is
 *     |   >-------------          nothing: from a dead end inward, while it widens, up to the first
 *     |__/_________________       fork, at most one limit far, the axis belongs to a tip.
 *
 * Invariant: a tip is one unbranched way from a leaf, its radius never more than NARROWS under its
 * largest so far, no longer than the limit.
 *
 * Source: common practice (the width of a tapered tail is taken one width from its point), no
 * source. docs/maths.md#webs
 */
#include "thin/level-private.h"

#define NARROWS 0.005 /* mm: less is the noise of chords */

/* A tip in the making: what of the limit is left to go, its largest radius so far. */
typedef struct {
  double left, widest;
} Tip;

/* Point @i of a piece as seen from its end @side. */
static const HfAxisPoint *
point_from(const HfLevel *level, const HfPieceOfAxis *piece, int side, guint i)
{
  return hf_level_points(level, piece) + (side == 0 ? i : piece->n - 1 - i);
}

/* Follows the tip into one piece. %TRUE: all of it is tip. */
static gboolean
follow(const HfLevel *level, HfPieceOfAxis *piece, int side, Tip *tip)
{
  double walked = 0;
  tip->widest = fmax(tip->widest, point_from(level, piece, side, 0)->radius);
  for (guint i = 1; i < piece->n; i++) {
    const HfAxisPoint *a = point_from(level, piece, side, i - 1);
    const HfAxisPoint *b = point_from(level, piece, side, i);
    double step = hf_point_distance(a->at, b->at);
    gboolean narrows = b->radius < tip->widest - NARROWS;
    if (narrows || walked + step > tip->left) {
      piece->tip[side] = fmax(piece->tip[side], narrows ? walked : tip->left);
      return FALSE;
    }
    tip->widest = fmax(tip->widest, b->radius);
    walked += step;
  }
  piece->tip[side] = piece->length;
  tip->left -= walked;
  return TRUE;
}

/* From piece @number over end @end, where just one more piece goes on; -1: none does. */
static int
one_more(const HfLevel *level, guint number, guint end)
{
  const HfEndOfPiece *at = hf_level_end(level, end);
  if (at->n != 2)
    return -1;
  const guint *spokes = level->spokes + at->first;
  guint next = spokes[0] / 2 == number ? spokes[1] : spokes[0];
  return next / 2 != number ? (int)next : -1;
}

static void
mark_tip(HfLevel *level, guint number, int side)
{
  Tip tip = {level->limit, 0};
  for (;;) {
    HfPieceOfAxis *piece = hf_level_piece(level, number);
    if (!follow(level, piece, side, &tip))
      return;
    int spoke = one_more(level, number, piece->end[1 - side]);
    if (spoke < 0)
      return;
    number = (guint)spoke / 2;
    side = spoke % 2;
  }
}

void
hf_level_mark_tips(HfLevel *level)
{
  for (guint i = 0; i < level->pieces->len; i++)
    for (int side = 0; side < 2; side++)
      if (hf_level_is_leaf(level, hf_level_piece(level, i)->end[side]))
        mark_tip(level, i, side);
}
