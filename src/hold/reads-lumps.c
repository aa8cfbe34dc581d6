/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-lumps.c - something that was laid against a letter and is one with it: a block in the bay
 * of a Z, a diamond in the corner of a ㄱ. The letter's own edge is there for the most part, so no
 * stroke is missed, and it is another letter or none.
 *
 *      _________             Asked is what lies within the letter's convex hull by a quarter of
 *     |____   __|  <- hull   its area or more, runs into the letter, and is no letter: a rail, a
 *         /##/               ring or a plate behind runs on beyond it and is seen to be one, an
 *       / ##/  <- lump       ornament beside it lies outside, one that stands free in a counter
 *     /__/____               touches nothing. What of it is not the letter's own is held against
 *    |________|              the square of its stroke (reads-blobs.c).
 *
 * A bar between a dot and its letter is less than that, and so is a tie. Cost: two booleans and two
 * offsets for each such thing. The weights are common practice, no source.
 */
#include "geom/hull.h"
#include "hold/reads-private.h"

#define SOME_OF   0.25 /* of its area lies within the hull */
#define RUNS_INTO 0.02 /* of a square of a stroke: it shares so much with the letter */
#define BITE      0.15 /* of the letter: what bites no deeper from one side holds it */
#define LARGER    1.3  /* times as large a blob: a bay is closed less soon than a stroke is lost */
#define THIN      0.5  /* strokes: what is no wider is seen to be none of them */
#define NONE      100.0

static HfRegion *
hull_of(const HfInk *ink)
{
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  for (guint r = 0; r < ink->drawn->rings->len; r++) {
    const HfRing *ring = hf_region_ring(ink->drawn, r);
    g_array_append_vals(at, ring->at, ring->n);
  }
  return hf_hull_of((const HfGrid *)(void *)at->data, at->len);
}

static gboolean
may_be_lump(const HfReading *reading, guint s, HfBox within)
{
  const HfLayout *layout = reading->check->layout;
  const HfShape *own = hf_layout_shape(layout, reading->shape), *other = hf_layout_shape(layout, s);
  HfEntryKind kind = hf_recipe_at(reading->check->recipe, other->entry)->kind;
  return other->letter < 0 && other->mends == 0 && other->opening == own->opening &&
         other->entry != own->entry && kind != HF_ENTRY_TIES &&
         hf_box_overlaps(reading->boxes[s], within);
}

/* As a rail or a foot does, however short. */
static gboolean
bites_only(HfBox letter, HfBox shape, HfBox within)
{
  double wide = BITE * hf_box_width(letter), high = BITE * hf_box_height(letter);
  return (shape.min.x < letter.min.x && within.max.x - letter.min.x < wide) ||
         (shape.max.x > letter.max.x && letter.max.x - within.min.x < wide) ||
         (shape.min.y < letter.min.y && within.max.y - letter.min.y < high) ||
         (shape.max.y > letter.max.y && letter.max.y - within.min.y < high);
}

/* What @shape adds to the letter within its hull. */
static HfBlob
added_by(const HfReading *reading, const HfRegion *shape, const HfRegion *hull, double stroke)
{
  static const HfBlob none = {0, {0, 0}};
  if (2 * hf_region_area(shape) < THIN * stroke * hf_region_perimeter(shape))
    return none;
  g_autoptr(HfRegion) within = hf_region_intersect(shape, hull);
  double area = hf_region_area(within);
  if (area < SOME_OF * hf_region_area(shape) ||
      bites_only(hf_region_box(reading->ink->drawn), hf_region_box(shape), hf_region_box(within)))
    return none;
  g_autoptr(HfRegion) beside = hf_region_subtract(within, reading->ink->drawn);
  if (area - hf_region_area(beside) < RUNS_INTO * stroke * stroke)
    return none;
  return hf_reading_largest_blob(beside, stroke);
}

static void
report(const HfReading *reading, guint lump, double share, HfPoint at)
{
  HfCheck *check = reading->check;
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, share, at);
  if (finding == NULL)
    return;
  hf_finding_name(check, finding, reading->shape);
  hf_finding_name(check, finding, lump);
  hf_finding_form(finding, "lump");
  hf_finding_say(finding,
                 finding->gravity == HF_STOP
                     ? "what is laid into it is one with it, and reads as a part of it"
                     : "what is laid into it is one with it, and may read as a part of it");
  hf_finding_fix(finding, "let it stand clear of the letter, or make it smaller");
}

/* Of scripts that are set together from strokes, what is laid across by itself (reads-ties.c). */
static gboolean
is_asked_as_tie(const HfReading *reading, guint s)
{
  const HfLayout *layout = reading->check->layout;
  const HfShape *own = hf_layout_shape(layout, reading->shape);
  HfEntryKind kind = hf_recipe_at(reading->check->recipe, hf_layout_shape(layout, s)->entry)->kind;
  return (kind == HF_ENTRY_BAR || kind == HF_ENTRY_TIE) && !own->opening &&
         hf_reads_is_built_of_strokes(own);
}

/* The worst of what is laid against one letter. */
typedef struct {
  guint shape;
  double share; /* % that is left */
  HfPoint at;
} Lump;

static void
judge(const HfReading *reading, const HfRegion *laid, guint shape, const HfRegion *hull,
      Lump *worst)
{
  double stroke = reading->ink->rings[reading->ink->body].width;
  HfBlob added = added_by(reading, laid, hull, stroke);
  double share = hf_reading_left_of_blob(added.squares / LARGER);
  if (reading->crossed_by_bar)
    share = share < reading->check->hold->limits[HF_LAW_CHANGED_LETTER].stop ? share : NONE;
  if (share < worst->share)
    *worst = (Lump){shape, share, added.at};
}

/* Several that touch are one thing to the eye. */
static void
judge_together(const HfReading *reading, const HfRegion *rings, guint shape, const HfRegion *hull,
               Lump *worst)
{
  g_autoptr(HfRegion) all = hf_region_clean(rings);
  for (guint r = 0; r < all->rings->len; r++) {
    if (hf_region_ring(all, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(all, r);
    judge(reading, part, shape, hull, worst);
  }
}

void
hf_reading_check_lumps(HfReading *reading)
{
  if (reading->woven)
    return;
  Lump worst = {HF_NO_SHAPE, NONE, {0, 0}};
  guint laid = 0, last = 0;
  HfBox box = hf_region_box(reading->ink->drawn);
  g_autoptr(HfRegion) hull = NULL;
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = 0; s < reading->check->layout->shapes->len; s++) {
    if (!may_be_lump(reading, s, box))
      continue;
    if (hull == NULL)
      hull = hull_of(reading->ink);
    if (!is_asked_as_tie(reading, s))
      judge(reading, hf_reading_region(reading, s), s, hull, &worst);
    hf_region_add_rings(rings, hf_reading_region(reading, s));
    last = s;
    laid++;
  }
  if (laid > 1)
    judge_together(reading, rings, last, hull, &worst);
  if (worst.shape != HF_NO_SHAPE)
    report(reading, worst.shape, worst.share, worst.at);
}
