/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-links.c - strokes that join two others, as the crossbar of an H: an end hidden is no end.
 *
 *      |   |         Each spot of the letter's edge has one that faces it across the ink. A run of
 *      |___|<- run   such spots without a corner is a side of a stroke. Where at neither of its
 * ends
 *      |---|         the edge turns round to the spot that faces it, the stroke ends in others. It
 *      |   |         is there along the way on which the ink is there at one of its two sides.
 *
 * Only ink that is gone counts (cut through: filled by what lies over it): a bar laid over the
 * crossbar of a standing H is a crossbar. A stencil tie across a stroke takes its own width of it.
 * Cost O(spots^2) for a letter of which several spots are gone, else O(spots). No source.
 */
#include "hold/reads-private.h"

#define WIDEST   1.6  /* of the stroke of its piece */
#define AGAINST  -0.5 /* cosine between the two sides' outward normals */
#define STRAIGHT 0.7  /* cosine: what faces a spot lies so far straight inward */
#define CORNER   0.5  /* cosine between two spots next to each other: less is a corner */
#define LEAST    0.9  /* a stroke is longer than so many of its own widths and of its piece's */
#define TIP      2.5  /* widths of the way round an end */
#define LEVEL    0.3  /* rise over run, in the letter's own frame */

typedef struct {
  const HfSpotOfInk *spot; /* (nullable) that faces it */
  guint ring, at;
  double away;
} Facing;

static void
look_along(const HfInk *ink, const HfSpotOfInk *a, guint ring, Facing *facing)
{
  const HfInkRing *of = &ink->rings[ring];
  for (guint k = 0; k < of->n; k++) {
    const HfSpotOfInk *b = &of->spots[k];
    HfPoint across = hf_point_sub(b->at, a->at);
    double away = hf_point_length(across);
    if (away >= facing->away || hf_point_dot(a->out, b->out) > AGAINST ||
        hf_point_dot(a->out, across) > -STRAIGHT * away)
      continue;
    *facing = (Facing){b, ring, k, away};
  }
}

static Facing
facing_of(const HfInk *ink, guint ring, guint i)
{
  guint piece = ink->rings[ring].piece;
  Facing facing = {NULL, 0, 0, WIDEST * ink->rings[piece].width + 2 * fmax(ink->bolder, 0)};
  for (guint r = 0; r < ink->n; r++)
    if (ink->rings[r].piece == piece)
      look_along(ink, &ink->rings[ring].spots[i], r, &facing);
  return facing;
}

static gboolean
is_gone(const HfInk *ink, const HfSpotOfInk *spot)
{
  return spot->ring < 0 && spot->metal == ink->opening;
}

/* Is spot @at, the last of a run that goes @way, near the tip of its stroke? */
static gboolean
is_tip(const HfInkRing *of, const Facing *all, guint ring, guint at, int way)
{
  const Facing *facing = &all[at];
  guint forward = (way > 0 ? facing->at + of->n - at : at + of->n - facing->at) % of->n;
  return facing->ring == ring && forward * of->step < TIP * facing->away;
}

/* One run: from spot @first on, @n of them. */
static void
judge(const HfInk *ink, guint ring, const Facing *all, guint first, guint n, HfLink *worst)
{
  const HfInkRing *of = &ink->rings[ring];
  guint last = (first + n - 1) % of->n, gone = 0;
  double width = 0;
  for (guint k = 0; k < n; k++) {
    guint i = (first + k) % of->n;
    width += all[i].away / n;
    gone += is_gone(ink, &of->spots[i]) && is_gone(ink, all[i].spot) ? 1 : 0;
  }
  double share = 100 - 100.0 * gone / n, stroke = ink->rings[of->piece].width;
  if (share >= worst->share || n * of->step < LEAST * fmax(width, stroke) ||
      is_tip(of, all, ring, first, -1) || is_tip(of, all, ring, last, 1))
    return;
  HfPoint from = hf_matrix_undo(hf_layout_shape(ink->layout, ink->shape)->em, of->spots[first].at);
  HfPoint to = hf_matrix_undo(hf_layout_shape(ink->layout, ink->shape)->em, of->spots[last].at);
  *worst = (HfLink){share,
                    hf_point_mix(of->spots[(first + n / 2) % of->n].at,
                                 all[(first + n / 2) % of->n].spot->at, 0.5),
                    fabs(to.y - from.y) < LEVEL * fabs(to.x - from.x)};
}

static gboolean
goes_on(const HfInkRing *of, const Facing *all, guint i)
{
  guint next = (i + 1) % of->n;
  return all[i].spot != NULL && all[next].spot != NULL &&
         hf_point_dot(of->spots[i].out, of->spots[next].out) > CORNER;
}

static void
look_for_runs(const HfInk *ink, guint ring, HfLink *worst)
{
  const HfInkRing *of = &ink->rings[ring];
  g_autofree Facing *all = g_new(Facing, of->n);
  guint begin = of->n;
  for (guint i = 0; i < of->n; i++)
    all[i] = facing_of(ink, ring, i);
  for (guint i = 0; i < of->n; i++)
    if (!goes_on(of, all, i))
      begin = i;
  if (begin == of->n) /* a round one: it ends nowhere */
    return;
  for (guint k = 1, n = 1; k <= of->n; k++) {
    guint i = (begin + k) % of->n;
    if (goes_on(of, all, i) && k < of->n) {
      n++;
      continue;
    }
    if (all[i].spot != NULL)
      judge(ink, ring, all, (i + of->n + 1 - n) % of->n, n, worst);
    n = 1;
  }
}

HfLink
hf_reading_worst_link(const HfReading *reading)
{
  const HfInk *ink = reading->ink;
  HfLink worst = {.share = 100};
  for (guint r = 0; r < ink->n; r++) {
    guint gone = 0;
    for (guint i = 0; i < ink->rings[r].n; i++)
      gone += is_gone(ink, &ink->rings[r].spots[i]) ? 1 : 0;
    if (gone > 1 && !hf_reading_is_dust(ink, r))
      look_for_runs(ink, r, &worst);
  }
  return worst;
}
