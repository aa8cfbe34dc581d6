/* SPDX-License-Identifier: GPL-3.0-or-later
 * ink-strokes.c - the ends of a letter's strokes: where each has its tip, and how far back it goes.
 *
 *        tip            From a tip the two sides of the stroke are walked backward together. They
 *       .-^-.           run against each other, no farther apart than one and a half strokes,
 *       |   | <- k      until one turns off into another stroke: that is where this one ends.
 *       |   |
 *    ---+   +---        A serif is shorter than it is wide and is no stroke.
 */
#include "hold/ink-private.h"

#define WIDEST   1.6  /* of the stroke of its piece */
#define AGAINST  -0.5 /* cosine between the two sides' outward normals */
#define LEAST    1.0  /* a stroke is longer than so many of its own widths ... */
#define LEAST_OF 1.0  /* ... and than the stroke of its piece */
#define FARTHEST 8.0  /* strokes of its piece: what lies farther back is not asked */

static const HfSpotOfInk *
spot_at(const HfInkRing *ring, guint at, gint by)
{
  return &ring->spots[(guint)((gint)(at + ring->n) + by) % ring->n];
}

/* How many spots to either side of @at belong to a stroke that has its tip there; its width. */
static guint
walk_back(const HfInk *ink, const HfInkRing *ring, guint at, double *ret_width)
{
  double widest = WIDEST * ring->width + 2 * fmax(ink->bolder, 0);
  guint most = MIN((guint)(FARTHEST * ring->width / ring->step), (ring->n - 1) / 2);
  guint begin = (guint)ceil(WIDEST / 2 * ring->width / ring->step) + 1;
  double width = 0, sum = 0;
  guint k = 1, n = 0;
  for (; k <= most; k++) {
    const HfSpotOfInk *a = spot_at(ring, at, -(gint)k), *b = spot_at(ring, at, (gint)k);
    HfPoint across = hf_point_sub(b->at, a->at);
    width = hf_point_length(across);
    if (width > widest)
      break;
    if (k < begin)
      continue;
    /* ink between them: each looks away from the other */
    if (hf_point_dot(a->out, b->out) > AGAINST || hf_point_dot(a->out, across) > 0)
      break;
    sum += width;
    n++;
  }
  *ret_width = n > 0 ? sum / n : width;
  return n > 0 ? k - 1 : 0;
}

static HfInkStroke
stroke_at(const HfInk *ink, guint r, guint at, guint reach, double width)
{
  const HfInkRing *ring = &ink->rings[r];
  HfInkStroke stroke = {.tip = ring->spots[at].at, .width = width, .ring = r, .at = at};
  stroke.reach = reach;
  stroke.length = fmax(reach * ring->step - width / 2, 0);
  return stroke;
}

/* Of the tips on one end, the one that reaches farthest back. */
static gboolean
is_best(const guint *reach, const HfInkRing *ring, guint at)
{
  guint about = (guint)(WIDEST * ring->width / ring->step) + 1;
  for (guint k = 1; k <= MIN(about, ring->n / 2); k++) {
    if (reach[(at + k) % ring->n] > reach[at] || reach[(at + ring->n - k) % ring->n] >= reach[at])
      return FALSE;
  }
  return TRUE;
}

/* Between its sides is ink, not the counter of an o that is as narrow as a stroke. Asked behind the
 * end itself, whose spots have nothing between them. */
static gboolean
has_ink(const HfInk *ink, const HfInkStroke *stroke)
{
  const HfInkRing *ring = &ink->rings[stroke->ring];
  for (guint k = stroke->reach; k * ring->step > stroke->width / 2 + ring->step; k /= 2) {
    HfPoint a = spot_at(ring, stroke->at, -(gint)k)->at, b = spot_at(ring, stroke->at, (gint)k)->at;
    if (!hf_region_contains(ink->drawn, hf_point_mix(a, b, 0.5)))
      return FALSE;
  }
  return TRUE;
}

static void
add_strokes(const HfInk *ink, guint r, GArray *strokes)
{
  const HfInkRing *ring = &ink->rings[r];
  g_autofree guint *reach = g_new0(guint, ring->n);
  g_autofree double *width = g_new0(double, ring->n);
  for (guint i = 0; i < ring->n; i++)
    reach[i] = walk_back(ink, ring, i, &width[i]);
  for (guint i = 0; i < ring->n; i++) {
    if (reach[i] == 0 || !is_best(reach, ring, i))
      continue;
    HfInkStroke stroke = stroke_at(ink, r, i, reach[i], width[i]);
    if (has_ink(ink, &stroke) && stroke.length >= LEAST * stroke.width &&
        stroke.length >= LEAST_OF * ring->width)
      g_array_append_val(strokes, stroke);
  }
}

GArray *
hf_ink_strokes(const HfInk *ink)
{
  GArray *strokes = g_array_new(FALSE, FALSE, sizeof(HfInkStroke));
  for (guint r = 0; r < ink->n; r++)
    if (!ink->rings[r].counter && ink->rings[r].shows < 1)
      add_strokes(ink, r, strokes);
  return strokes;
}
