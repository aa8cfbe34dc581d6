/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-lumps.c - something that was laid against a letter and is one with it: a block in the bay
 * of a Z, a diamond in the corner of a ㄱ. The letter's own edge is there for the most part, so no
 * stroke is missed, and it is another letter or none.
 *
 *      _________             Asked is what lies within the letter's convex hull by most of its
 *     |____   __|  <- hull   area, runs into the letter, and is no letter: a rail, a ring or a
 *         /##/               plate behind runs on beyond it and is seen to be one, an ornament
 *       / ##/  <- lump       beside it lies outside, one that stands free in a counter touches
 *     /__/____               nothing. What of it is not the letter's own is held against the square
 *    |________|              of its stroke.
 *
 * A bar between a dot and its letter is less than that, and so is a tie. Cost: two booleans for
 * each such thing. The weights are common practice, no source.
 */
#include "geom/hull.h"
#include "hold/reads-private.h"

#define MOST_OF   0.5  /* of its area lies within the hull */
#define RUNS_INTO 0.02 /* of a square of a stroke: it shares so much with the letter */
#define PER_SQUARE                                                                                 \
  25.0           /* % for each square of a stroke: two leave what is a caution, three a stop */
#define THIN 0.5 /* strokes: what is no wider is seen to be none of them */
#define NONE 100.0

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
  if ((kind == HF_ENTRY_BAR || kind == HF_ENTRY_TIE) && !own->opening &&
      hf_reads_is_built_of_strokes(own))
    return FALSE;
  return other->letter < 0 && other->mends == 0 && other->opening == own->opening &&
         other->entry != own->entry && kind != HF_ENTRY_TIES &&
         hf_box_overlaps(reading->boxes[s], within);
}

/* mm2 that @shape adds to the letter within its hull; 0: it is none of the kind. */
static double
added_by(const HfReading *reading, const HfRegion *shape, const HfRegion *hull, double stroke)
{
  if (2 * hf_region_area(shape) < THIN * stroke * hf_region_perimeter(shape))
    return 0;
  g_autoptr(HfRegion) within = hf_region_intersect(shape, hull);
  double area = hf_region_area(within);
  if (area < MOST_OF * hf_region_area(shape))
    return 0;
  g_autoptr(HfRegion) beside = hf_region_subtract(within, reading->ink->drawn);
  double added = hf_region_area(beside);
  return area - added > RUNS_INTO * stroke * stroke ? added : 0;
}

static void
report(const HfReading *reading, guint lump, double share)
{
  HfCheck *check = reading->check;
  HfFinding *finding =
      hf_check_add(check, HF_LAW_CHANGED_LETTER, share, hf_box_centre(reading->boxes[lump]));
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

void
hf_reading_check_lumps(HfReading *reading)
{
  if (reading->woven)
    return;
  double stroke = reading->ink->rings[reading->ink->body].width, worst = NONE;
  guint lump = HF_NO_SHAPE;
  HfBox box = hf_region_box(reading->ink->drawn);
  g_autoptr(HfRegion) hull = NULL;
  for (guint s = 0; s < reading->check->layout->shapes->len; s++) {
    if (!may_be_lump(reading, s, box))
      continue;
    if (hull == NULL)
      hull = hull_of(reading->ink);
    double added = added_by(reading, hf_reading_region(reading, s), hull, stroke);
    double share = NONE - PER_SQUARE * added / (stroke * stroke);
    lump = share < worst ? s : lump;
    worst = fmin(worst, share);
  }
  if (lump != HF_NO_SHAPE)
    report(reading, lump, fmax(worst, 0));
}
