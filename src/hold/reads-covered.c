/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-covered.c - a stroke of a letter that something takes a long piece out of, its ends left: a
 * block over the foot of an O that is cut through, which then reads as two posts.
 *
 *      |   |          What a later shape of the other kind takes off the drawn letter, piece by
 *    --n---n-- neck   piece: the more of the piece's edge is edge of the letter, and the less runs
 *    |#######|        across its ink (the necks), the longer it is for the width of its stroke:
 *    --u---u-- neck   a tie across takes w / t, w its own width and t the stroke's. What has one
 *      |   |          neck, or none, is an end (reads-strokes.c) or a bite.
 *
 * Besides, whatever its form: what is taken off at one side or at an end, by its largest blob
 * (reads-blobs.c): the bowl of a क bitten through, a heart out of the leg of an A.
 *
 * Ties that a rule finds keep to the shop's width and are not asked; one that is put by hand is. It
 * is measured in strokes of this letter: so many long, times the side of a square of as much area,
 * so that a crumb between strokes that meet is no piece. Cost: a boolean for a letter over which
 * something of the other kind lies, none else. The weights are common practice, no source;
 * docs/maths.md has the formula.
 */
#include "base/text.h"
#include "hold/reads-private.h"

#define BESIDE   0.02  /* mm: over an edge, on the grid */
#define RUN      0.25  /* strokes: a shorter run across the ink is no neck */
#define LEAST    0.08  /* of the letter's height: a smaller gap is a stencil's */
#define BETWEEN  1.6   /* times as large a bite, where the stroke goes on to both sides of it */
#define MUCH     0.25  /* of the letter: a smaller bite that leaves a stroke in one is a caution */
#define PER_LONG 37.5  /* % for each stroke of length: 1.33 leave what is a caution, 2 a stop */
#define NONE     100.0 /* % that is left where nothing is taken */

static gboolean
covers(const HfCheck *check, const HfShape *own, const HfShape *other)
{
  return other->opening != own->opening && other->mends == 0 && other->entry != own->entry &&
         hf_recipe_at(check->recipe, other->entry)->kind != HF_ENTRY_TIES;
}

static gboolean
is_tie(const HfCheck *check, guint s)
{
  return hf_recipe_at(check->recipe, hf_layout_shape(check->layout, s)->entry)->kind ==
         HF_ENTRY_TIE;
}

/* What later shapes take off the letter as it is drawn. @ret_by_hand: is one of them a tie?
 * (transfer full) (nullable): nothing can */
static HfRegion *
taken_of(HfReading *reading, gboolean *ret_by_hand)
{
  const HfLayout *layout = reading->check->layout;
  const HfShape *own = hf_layout_shape(layout, reading->shape);
  HfBox box = hf_region_box(reading->ink->drawn);
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = reading->shape + 1; s < layout->shapes->len; s++)
    if (hf_box_overlaps(reading->boxes[s], box) &&
        covers(reading->check, own, hf_layout_shape(layout, s))) {
      hf_region_add_rings(rings, hf_reading_region(reading, s));
      *ret_by_hand = *ret_by_hand || is_tie(reading->check, s);
    }
  if (hf_region_is_empty(rings))
    return NULL;
  g_autoptr(HfRegion) over = hf_region_clean(rings);
  return hf_region_intersect(reading->ink->drawn, over);
}

/* The edge of a piece: mm that are the letter's, mm that run across its ink, in how many runs. */
typedef struct {
  double own, across;
  guint necks;
} Edge;

/* Ink lies to the left of an edge, what is beyond it to the right. */
static gboolean
runs_across(const HfInk *ink, HfPoint a, HfPoint b)
{
  HfPoint along = hf_point_sub(b, a), middle = hf_point_mix(a, b, 0.5);
  double length = hf_point_distance(a, b);
  return length > 0 &&
         hf_region_contains(ink->drawn, hf_point(middle.x + BESIDE * along.y / length,
                                                 middle.y - BESIDE * along.x / length));
}

/* From the first edge that is the letter's on, once round. */
static void
walk(const HfInk *ink, const HfRing *ring, double least, Edge *edge)
{
  g_autofree gboolean *across = g_new(gboolean, ring->n);
  guint first = ring->n;
  for (guint v = 0; v < ring->n; v++) {
    across[v] =
        runs_across(ink, hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]));
    first = !across[v] && first == ring->n ? v : first;
  }
  double run = 0;
  for (guint k = 0; k < ring->n && first < ring->n; k++) {
    guint v = (first + k) % ring->n;
    double length =
        hf_point_distance(hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]));
    run = across[v] ? run + length : 0;
    edge->own += across[v] ? 0 : length;
    edge->across += across[v] ? length : 0;
    edge->necks += across[v] && run >= least && run - length < least;
  }
}

/* How it was taken, for what is said. */
typedef struct {
  double share;   /* % that is left */
  double along;   /* mm: out of a stroke that goes on to both sides; 0: a bite */
  double squares; /* of a bite: squares of the stroke */
  HfPoint at;
} Taken;

/* % that is left of the stroke where @piece was taken out of it; @ret_long: mm of it. */
static double
share_left(const HfReading *reading, const HfRegion *piece, double *ret_long)
{
  double stroke = reading->ink->rings[reading->ink->body].width, area = hf_region_area(piece);
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  Edge edge = {0, 0, 0};
  if (sqrt(area) < LEAST * shape->letter_height)
    return NONE;
  for (guint r = 0; r < piece->rings->len; r++)
    walk(reading->ink, hf_region_ring(piece, r), RUN * stroke, &edge);
  if (edge.necks < 2)
    return NONE;
  *ret_long = edge.own / 2;
  return fmax(NONE - PER_LONG * edge.own / edge.across * sqrt(area) / stroke, 0);
}

/* What is worst of one piece. */
static void
judge(const HfReading *reading, const HfRegion *piece, gboolean by_hand, Taken *worst)
{
  double stroke = reading->ink->rings[reading->ink->body].width, along = 0;
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  double share = share_left(reading, piece, &along);
  if (share < worst->share)
    *worst = (Taken){share, along, 0, hf_region_centroid(piece)};
  if (piece->rings->len > 1) /* all round a counter, which is larger so */
    return;
  if (by_hand && sqrt(hf_region_area(piece)) < LEAST * shape->letter_height)
    return;
  HfBlob bite = hf_reading_largest_blob(piece, stroke);
  share = hf_reading_left_of_blob(bite.squares / (along > 0 ? BETWEEN : 1));
  if (along <= 0 && hf_region_area(piece) < MUCH * reading->ink->rings[reading->ink->body].area)
    share = fmax(share, reading->check->hold->limits[HF_LAW_CHANGED_LETTER].stop);
  if (share < worst->share)
    *worst = (Taken){share, 0, bite.squares, bite.at};
}

static void
report(const HfReading *reading, const Taken *worst)
{
  HfCheck *check = reading->check;
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, worst->share, worst->at);
  if (finding == NULL)
    return;
  const char *how = reading->ink->opening ? "is filled" : "is cut away";
  hf_finding_name(check, finding, reading->shape);
  hf_finding_form(finding, "covered");
  if (worst->along > 0) {
    g_autofree char *mm = hf_text_mm(worst->along);
    hf_finding_say(finding, "%s of a stroke of it %s, between what is left on either side%s", mm,
                   how, finding->gravity == HF_STOP ? "" : ": a wide gap");
  } else {
    g_autofree char *squares = hf_text_number(worst->squares, 1);
    hf_finding_say(finding, "a bite of it %s, %s times as large as a square of its stroke", how,
                   squares);
  }
  hf_finding_fix(finding, "uncover it, or leave no more than a narrow tie there");
}

void
hf_reading_check_covered(HfReading *reading)
{
  if (reading->woven)
    return;
  Taken worst = {NONE, 0, 0, {0, 0}};
  gboolean by_hand = FALSE;
  g_autoptr(HfRegion) taken = taken_of(reading, &by_hand);
  for (guint r = 0; taken != NULL && r < taken->rings->len; r++) {
    if (hf_region_ring(taken, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) piece = hf_region_part(taken, r);
    judge(reading, piece, by_hand, &worst);
  }
  report(reading, &worst);
}
