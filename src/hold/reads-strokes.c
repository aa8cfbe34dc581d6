/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-strokes.c - the strokes of a letter that end somewhere: each by what of it shows, of all
 * of it and of its end alone (ink-strokes.c finds them).
 *
 *       tip
 *      .-^-.   shows       Where both sides are edges of the metal all of the stroke shows, where
 *      |   |===            none is nothing. Where one is, the part of the way across that is the
 *      | *****=== in a bar letter's alone: a T that hangs from a rail has its arms; of one whose
 *    --+   +---            arms the rail covers but for a rim, nobody sees them.
 *
 * Besides, whatever its form: a run of the edge that is lost and goes far out from the line between
 * its ends and back was round a limb: a stem with its serifs, the foot of a y, the top of a 4 where
 * two strokes meet. Its necks are what of that line lies in ink.
 *
 * How far is far goes by the letter's own height: a stem of an n is no shorter for the capitals of
 * its face.
 *
 * An end counts by itself: without its upper third an h reads n, however far its stem goes on.
 * Letters that join their neighbours lose nothing by it but where strokes end within the neighbour
 * more than where the face itself puts it (reads-melted.c says where that is).
 */
#include "geom/hull.h"
#include "hold/reads-private.h"

#define SHOWN_NATIVELY 0.6  /* of a stroke: neighbours that hide it are not the face's own */
#define END_OF         0.35 /* of the letter's height: so much is the end of a long stroke, but */
#define END_WIDTHS     1.5  /* no less than so many of its widths */
#define ACROSS_IT      0.6  /* of its width: two spots so far apart face each other */
#define ACROSS         16   /* places across a stroke */
#define LIMB           0.3  /* of the letter's height: one that reaches so far is lost as a whole */
#define LITTLE         0.15 /* of one that reaches so far nobody misses anything */
#define NECK           1.0  /* a limb reaches farther than its necks are wide */
#define IN_NECKS       32   /* places along the line between the ends of a run */
#define BAR            0.97 /* of its convex hull */
#define SERIF          0.155 /* of the capitals' height: what reaches no farther at the top or foot */
#define AT_END         0.08 /* of a letter (of its own height) is the serif of a stem */
#define RIM            0.15 /* of its width: less of it by itself is a rim, and no stroke */
#define SEEN           0.25 /* more shows as the stroke that it is */

/* A letter from its foot to its top, mm; what counts as its height is no more than its capitals'.
 */
typedef struct {
  double foot, top, high;
} Upright;

/* ---- what shows ------------------------------------------------------------------------------ */

/* How far what lies between @a and @b, across the stroke, is there by this letter alone, 0..1. */
static double
alone_between(HfReading *reading, HfPoint a, HfPoint b)
{
  gboolean as_metal = !reading->ink->opening;
  guint alone = 0;
  for (guint i = 0; i < ACROSS; i++) {
    HfPoint p = hf_point_mix(a, b, (i + 0.5) / ACROSS);
    alone += hf_near_contains(reading->near, p) == as_metal &&
             hf_reading_without(reading, p) != as_metal;
  }
  return CLAMP(((double)alone / ACROSS - RIM) / (SEEN - RIM), 0, 1);
}

/* Of the stroke between two spots of its sides, 0..1. */
static double
shows_between(HfReading *reading, const HfSpotOfInk *a, const HfSpotOfInk *b)
{
  if (a->ring < 0 && b->ring < 0)
    return 0;
  return a->ring >= 0 && b->ring >= 0 ? 1 : alone_between(reading, a->at, b->at);
}

/* A letter that is a mere bar: an I that is half as high is an I; of it all counts, as of any
 * piece.
 */
static gboolean
is_bar(const HfReading *reading)
{
  const HfInk *ink = reading->ink;
  const HfRing *body = hf_region_ring(ink->drawn, ink->body);
  g_autoptr(HfRegion) hull = hf_hull_of(body->at, body->n);
  return hf_reading_count_pieces(ink) == 1 &&
         ink->rings[ink->body].area > BAR * hf_region_area(hull);
}

/* How far up the letter @p lies, mm. Bent letters are told a little wrong. */
static double
up_of(const HfShape *shape, HfPoint p)
{
  return hf_matrix_undo(shape->em, p).y * hypot(shape->em.xy, shape->em.yy);
}

static Upright
upright_of(const HfReading *reading)
{
  const HfRegion *drawn = reading->ink->drawn;
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  Upright own = {INFINITY, -INFINITY, 0};
  for (guint r = 0; r < drawn->rings->len; r++) {
    const HfRing *ring = hf_region_ring(drawn, r);
    for (guint i = 0; i < ring->n; i++) {
      double up = up_of(shape, hf_grid_point(ring->at[i]));
      own.foot = fmin(own.foot, up);
      own.top = fmax(own.top, up);
    }
  }
  own.high = fmin(own.top - own.foot, shape->letter_height);
  return own;
}

/* How far @n spots from @first on go out from the line between their ends, mm; 0: round a bay. */
static double
far_out(const HfInkRing *ring, guint first, guint n, HfPoint *ret_tip)
{
  HfPoint from = ring->spots[first % ring->n].at, to = ring->spots[(first + n - 1) % ring->n].at;
  HfPoint last = to;
  double far = 0, twice_area = 0;
  for (guint k = 0; k < n; k++) {
    HfPoint p = ring->spots[(first + k) % ring->n].at;
    double away = hf_point_distance(hf_segment_nearest(from, to, p, NULL), p);
    twice_area += hf_point_cross(hf_point_sub(last, from), hf_point_sub(p, from));
    last = p;
    if (away > far)
      *ret_tip = p;
    far = fmax(far, away);
  }
  return twice_area > 0 ? far : 0;
}

/* A bar that a serif lies in takes nothing off the letter: of the stem with it the limb tells. */
static gboolean
is_serif(const HfReading *reading, const HfInkStroke *stroke, Upright own)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  HfPoint tip = stroke->tip;
  guint first = (stroke->at + ring->n - stroke->reach) % ring->n;
  double up = up_of(shape, stroke->tip), far = far_out(ring, first, 2 * stroke->reach + 1, &tip);
  return far < SERIF * shape->letter_height &&
         fmin(own.top - up, up - own.foot) < AT_END * own.high;
}

/* % of the stroke, or of its end alone where less of that shows. Spots on the end itself face along
 * it, not across. */
static double
share_of(HfReading *reading, const HfInkStroke *stroke, double high)
{
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  double end = fmax(END_OF * high, END_WIDTHS * stroke->width), sum = 0, worst = 1;
  guint n = 0;
  for (guint k = 1; k <= stroke->reach; k++) {
    const HfSpotOfInk *a = &ring->spots[(stroke->at + ring->n - k) % ring->n];
    const HfSpotOfInk *b = &ring->spots[(stroke->at + k) % ring->n];
    if (hf_point_distance(a->at, b->at) < ACROSS_IT * stroke->width)
      continue;
    sum += shows_between(reading, a, b);
    n++;
    if (k == stroke->reach || k * ring->step >= end)
      worst = fmin(worst, sum / n);
  }
  return 100 * worst;
}

/* ---- what may hide it ------------------------------------------------------------------------ */

/* Does the stroke show where the face itself puts the neighbours? */
static gboolean
shows_natively(HfReading *reading, const HfInkStroke *stroke)
{
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  guint shows = 0;
  if (reading->native == NULL)
    reading->native = hf_reads_native(reading->check, reading->shape);
  for (guint k = 0; reading->native != NULL && k <= stroke->reach; k++)
    shows +=
        !hf_region_contains(reading->native, ring->spots[(stroke->at + k) % ring->n].at) ||
        !hf_region_contains(reading->native, ring->spots[(stroke->at + ring->n - k) % ring->n].at);
  return shows > SHOWN_NATIVELY * (stroke->reach + 1);
}

/* Where it does not show it lies in the letters that it joins. */
static gboolean
ends_in_neighbour(HfReading *reading, const HfInkStroke *stroke, gboolean letters_only)
{
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  guint hidden = 0, joined = 0;
  for (guint k = 0; k <= stroke->reach; k++)
    for (int side = 0; side < 2; side++) {
      guint i = (stroke->at + (side == 0 ? k : ring->n - k)) % ring->n;
      if (ring->spots[i].ring >= 0)
        continue;
      hidden++;
      joined += hf_reading_in_neighbour(reading, ring->spots[i].at, letters_only) ? 1 : 0;
    }
  return 2 * joined > hidden;
}

/* By what height a stroke is asked: what runs into the letter beside it, by the capitals, as in
 * script faces most of a small letter's strokes do. */
static double
height_for(HfReading *reading, const HfInkStroke *stroke, Upright own)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  return reading->of_words && ends_in_neighbour(reading, stroke, TRUE) ? shape->letter_height
                                                                       : own.high;
}

/* A tail ends in the bar by leave of the recipe, any stroke in letters as the face has it. */
static gboolean
is_joined(HfReading *reading, const HfInkStroke *stroke)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  gboolean letters_only = !hf_reads_is_below(shape, stroke->tip);
  return (reading->joins || reading->of_words) &&
         ends_in_neighbour(reading, stroke, letters_only) &&
         !(ends_in_neighbour(reading, stroke, TRUE) && shows_natively(reading, stroke));
}

/* ---- limbs ----------------------------------------------------------------------------------- */

/* Is the edge there hidden by something else, or its ink gone? */
static gboolean
is_lost(HfReading *reading, const HfSpotOfInk *spot)
{
  gboolean as_metal = !reading->ink->opening;
  return spot->ring < 0 &&
         (spot->metal != as_metal || hf_reading_without(reading, spot->at) == as_metal);
}

/* mm of the line from @a to @b that lie in the letter. */
static double
ink_between(const HfInk *ink, HfPoint a, HfPoint b)
{
  guint in = 0;
  for (guint i = 0; i < IN_NECKS; i++)
    in += hf_region_contains(ink->drawn, hf_point_mix(a, b, (i + 0.5) / IN_NECKS)) ? 1 : 0;
  return hf_point_distance(a, b) * in / IN_NECKS;
}

/* The run of lost spots from @first on, @n of them, as a stroke: what it goes round is a limb where
 * that reaches farther than its necks are wide. @ret_far: mm; 0: it is none. */
static HfInkStroke
limb_of(const HfInk *ink, guint r, guint first, guint n, double *ret_far)
{
  const HfInkRing *ring = &ink->rings[r];
  HfInkStroke limb = {.at = (first + n / 2) % ring->n, .reach = (n - 1) / 2, .ring = r};
  HfPoint from = ring->spots[first % ring->n].at, to = ring->spots[(first + n - 1) % ring->n].at;
  double far = far_out(ring, first, n, &limb.tip);
  *ret_far = far > NECK * ink_between(ink, from, to) ? far : 0; /* else a chip off one side */
  return limb;
}

/* Of a limb that is lost what is left is told by how large it is: none of a large one. */
static void
judge_limb(HfReading *reading, guint r, guint first, guint n, Upright own, HfWorst *worst)
{
  double far;
  HfInkStroke limb = limb_of(reading->ink, r, first, n, &far);
  double high = far > 0 ? height_for(reading, &limb, own) : own.high;
  double share = 100 * CLAMP((LIMB * high - far) / (LIMB * high - LITTLE * high), 0, 1);
  if (share < worst->share && !is_joined(reading, &limb))
    hf_worst_keep(worst, share, r, limb.tip, "does not show");
}

/* Whatever its form, with serifs or without. The tip of a serif that looks out breaks no run. */
static void
look_for_limbs(HfReading *reading, guint r, gboolean tail_too, Upright own, HfWorst *worst)
{
  const HfInkRing *ring = &reading->ink->rings[r];
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  guint bridge = (guint)(ring->width / ring->step), seen = 0, begin = 0, n = 0;
  for (guint i = 0; i < 2 * ring->n && seen <= bridge; i++) {
    seen = is_lost(reading, &ring->spots[i % ring->n]) ? 0 : seen + 1;
    begin = i;
  }
  if (seen <= bridge)
    return; /* all of it, which is told as that */
  for (guint k = 1; k <= ring->n; k++) {
    const HfSpotOfInk *spot = &ring->spots[(begin + k) % ring->n];
    if (is_lost(reading, spot) && (tail_too || !hf_reads_is_below(shape, spot->at))) {
      n += 1 + (n > 0 ? seen : 0);
      seen = 0;
    } else if (++seen > bridge && n > 0) {
      judge_limb(reading, r, begin + k + 1 - seen - n, n, own, worst);
      n = 0;
    }
  }
}

HfWorst
hf_reading_worst_stroke(HfReading *reading, gboolean tail_too)
{
  const HfInk *ink = reading->ink;
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  HfWorst worst = HF_WORST_NONE;
  double limit = reading->check->hold->limits[HF_LAW_CHANGED_LETTER].caution;
  if (is_bar(reading))
    return worst;
  Upright own = upright_of(reading);
  g_autoptr(GArray) strokes = hf_ink_strokes(ink);
  for (guint i = 0; i < strokes->len; i++) {
    const HfInkStroke *stroke = &g_array_index(strokes, HfInkStroke, i);
    if ((!tail_too && hf_reads_is_below(shape, stroke->tip)) || is_serif(reading, stroke, own))
      continue;
    double share = share_of(reading, stroke, own.high);
    if (share < limit)
      share = share_of(reading, stroke, height_for(reading, stroke, own));
    if (share >= limit || share >= worst.share || is_joined(reading, stroke))
      continue;
    hf_worst_keep(&worst, share, stroke->ring, stroke->tip, "does not show");
  }
  for (guint r = 0; r < ink->n; r++)
    if (!ink->rings[r].counter && !hf_reading_is_dust(ink, r))
      look_for_limbs(reading, r, tail_too, own, &worst);
  return worst;
}
