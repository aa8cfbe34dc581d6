/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-pieces.c - the pieces of a letter: body, dots, accents, points, each by what of it shows.
 *
 *      o o   joined to other metal: the ink is there, its edge is not
 *      |/|   gone: the ink itself is not there
 *      (_)   crossed: it lies in a letter of other words, and neither reads
 */
#include "hold/reads-private.h"

#define LITTLE      0.05 /* of an edge that is gone: not worth measuring the area */
#define MARK_MERGED 3.0  /* of one that grew into its own letter: nothing else tells it */
#define MARK_JOINED 1.5  /* times what is joined of a dot or mark */
#define CROSSED     3.0  /* more, of what lies in another word: two forms, of which neither reads */
#define DUST_STROKE 0.25 /* a piece smaller than a square of so many strokes is dust */

gboolean
hf_reading_is_dust(const HfInk *ink, guint ring)
{
  double stroke = ink->rings[ink->body].width;
  return ink->rings[ring].area < DUST_STROKE * DUST_STROKE * stroke * stroke;
}

/* Buried in other metal (cut through: filled), or gone into the open? By what most of its hidden
 * edge lies in. */
static gboolean
mostly_metal(const HfInkRing *ring)
{
  guint metal = 0, air = 0;
  for (guint i = 0; i < ring->n; i++) {
    metal += ring->spots[i].ring < 0 && ring->spots[i].metal;
    air += ring->spots[i].ring < 0 && !ring->spots[i].metal;
  }
  return metal >= air;
}

static const char *
fate_of_piece(const HfReading *reading, guint r)
{
  const HfInk *ink = reading->ink;
  gboolean metal = mostly_metal(&ink->rings[r]);
  if (ink->opening)
    return metal ? "is filled" : "runs into another opening";
  return metal ? "is lost in other metal" : "is cut away";
}

/* Share of its edge whose ink is not there at all, rather than joined to something. */
static double
edge_gone(const HfInk *ink, const HfInkRing *ring)
{
  guint gone = 0;
  for (guint i = 0; i < ring->n; i++)
    gone += ring->spots[i].ring < 0 && ring->spots[i].metal == ink->opening;
  return (double)gone / ring->n;
}

/* Share of its edge that lies in letters of other words: two forms laid over each other. */
static double
edge_crossed(HfReading *reading, const HfInkRing *ring)
{
  guint crossed = 0;
  for (guint i = 0; i < ring->n && !reading->woven; i++)
    crossed += ring->spots[i].ring < 0 && ring->spots[i].metal != reading->ink->opening &&
               hf_reading_in_other_words(reading, ring->spots[i].at);
  return (double)crossed / ring->n;
}

/* By edge, and where ink is gone by area too. What is gone counts twice, crossed four times: what
 * is joined to something can still be told from it by the rest of its edge. A dot or mark can be
 * told less well than the body: half joined it is a bump, so there it counts half as much again. In
 * %. */
static double
share_of_piece(HfReading *reading, guint r)
{
  const HfInkRing *ring = &reading->ink->rings[r];
  double gone = edge_gone(reading->ink, ring), joined = 1 - ring->shows - gone;
  double mark = reading->merged ? MARK_MERGED : MARK_JOINED;
  double crossed = joined > LITTLE ? edge_crossed(reading, ring) : 0;
  double share = 1 - 2 * gone - (r == reading->ink->body ? 1 : mark) * joined - CROSSED * crossed;
  if (gone > LITTLE)
    share = fmin(share, 1 - 2 * (1 - hf_ink_there(reading->ink, reading->near, r)));
  return 100 * fmax(share, 0);
}

HfWorst
hf_reading_worst_piece(HfReading *reading, guint *ret_gone)
{
  const HfInk *ink = reading->ink;
  double stop = reading->check->hold->limits[HF_LAW_CHANGED_LETTER].stop;
  HfWorst worst = HF_WORST_NONE;
  *ret_gone = 0;
  for (guint r = 0; r < ink->n; r++) {
    if (ink->rings[r].counter || hf_reading_is_dust(ink, r))
      continue;
    double share = share_of_piece(reading, r);
    *ret_gone += r != ink->body && share < stop;
    hf_worst_keep(&worst, share, r, hf_box_centre(ink->rings[r].box), fate_of_piece(reading, r));
  }
  return worst;
}

guint
hf_reading_count_pieces(const HfInk *ink)
{
  guint pieces = 0;
  for (guint r = 0; r < ink->n; r++)
    pieces += !ink->rings[r].counter && !hf_reading_is_dust(ink, r);
  return pieces;
}
