/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-bridged.c - a counter that something lies across is two: an ά reads as an 8 beside a tail.
 *
 *      .---.           What is left of a counter as it is drawn (standing: air; cut through: metal)
 *     / ,-. \ <- one   without what other entries laid into it, none of them a letter or a tie of a
 *     | |#| | block    rule: where two pieces of it or more are each as large as a good part of it
 *     \ `-' / <- two   and of a square of the stroke, it is bridged. How wide the bridge is says
 *      `---'           how grave: half a stroke can be one of the letter's own.
 *
 * Cost: a boolean for a counter that something lies in, none else. No source; docs/maths.md.
 */
#include "base/text.h"
#include "hold/reads-private.h"

#define GOOD_PART 0.12 /* of the counter */
#define LARGE     0.15 /* squares of the stroke */
#define BESIDE    0.02 /* mm: beyond an edge, on the grid */
#define HALF      0.5  /* strokes: a wider bridge is a stop, */
#define QUARTER   0.25 /* a slimmer one no finding */

static gboolean
may_bridge(const HfReading *reading, guint s, HfBox box)
{
  const HfLayout *layout = reading->check->layout;
  const HfShape *own = hf_layout_shape(layout, reading->shape), *other = hf_layout_shape(layout, s);
  return other->letter < 0 && other->mends == 0 && other->opening == own->opening &&
         other->entry != own->entry &&
         hf_recipe_at(reading->check->recipe, other->entry)->kind != HF_ENTRY_TIES &&
         hf_box_overlaps(reading->boxes[s], box);
}

/* (transfer full) (nullable): what lies in the counter; @ret_shape: the last of it. */
static HfRegion *
laid_into(const HfReading *reading, HfBox box, guint *ret_shape)
{
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = 0; s < reading->check->layout->shapes->len; s++) {
    if (!may_bridge(reading, s, box))
      continue;
    hf_region_add_rings(rings, hf_reading_region(reading, s));
    *ret_shape = s;
  }
  return hf_region_is_empty(rings) ? NULL : hf_region_clean(rings);
}

/* The counter @ring of the drawn letter as a region of its own. (transfer full) */
static HfRegion *
counter_of(const HfInk *ink, guint ring)
{
  const HfRing *drawn = hf_region_ring(ink->drawn, ring);
  g_autoptr(HfRegion) alone = hf_region_new();
  hf_region_add_ring(alone, drawn->at, NULL, drawn->n);
  return hf_region_clean(alone);
}

static guint
large_pieces(const HfRegion *left, double least)
{
  guint large = 0;
  for (guint r = 0; r < left->rings->len; r++) {
    if (hf_region_ring(left, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(left, r);
    large += hf_region_area(part) >= least;
  }
  return large;
}

/* mm: half of how much of the bridge's edge runs along the counter's, both of its ends together. */
static double
width_of(const HfRegion *bridge, const HfRegion *counter)
{
  double along = 0;
  for (guint r = 0; r < bridge->rings->len; r++) {
    const HfRing *ring = hf_region_ring(bridge, r);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
      double length = hf_point_distance(a, b);
      HfPoint out = hf_point_scale(hf_point(b.y - a.y, a.x - b.x), BESIDE / fmax(length, 1e-9));
      if (!hf_region_contains(counter, hf_point_add(hf_point_mix(a, b, 0.5), out)))
        along += length;
    }
  }
  return along / 2;
}

static void
report(const HfReading *reading, guint shape, double width, HfPoint at)
{
  HfCheck *check = reading->check;
  double stroke = reading->ink->rings[reading->ink->body].width;
  double limit = check->hold->limits[HF_LAW_CHANGED_LETTER].stop;
  HfFinding *finding =
      hf_check_add(check, HF_LAW_CHANGED_LETTER, width >= HALF * stroke ? 0 : limit, at);
  if (finding == NULL)
    return;
  g_autofree char *wide = hf_text_mm(width), *strokes = hf_text_mm(stroke);
  hf_finding_name(check, finding, reading->shape);
  hf_finding_name(check, finding, shape);
  hf_finding_form(finding, "bridged");
  hf_finding_say(finding,
                 "a counter of it is two: what lies across is %s wide, and its strokes are %s",
                 wide, strokes);
  hf_finding_fix(finding, "leave the counter open, or take a bar half as wide");
}

static void
check_counter(HfReading *reading, guint ring)
{
  double stroke = reading->ink->rings[reading->ink->body].width;
  guint shape = HF_NO_SHAPE;
  g_autoptr(HfRegion) laid = laid_into(reading, reading->ink->rings[ring].box, &shape);
  if (laid == NULL)
    return;
  g_autoptr(HfRegion) counter = counter_of(reading->ink, ring);
  g_autoptr(HfRegion) left = hf_region_subtract(counter, laid);
  double least = fmax(GOOD_PART * hf_region_area(counter), LARGE * stroke * stroke);
  if (large_pieces(left, least) < 2)
    return;
  g_autoptr(HfRegion) bridge = hf_region_intersect(counter, laid);
  double width = width_of(bridge, counter);
  if (width >= QUARTER * stroke)
    report(reading, shape, width, hf_region_centroid(bridge));
}

void
hf_reading_check_bridged(HfReading *reading)
{
  const HfInk *ink = reading->ink;
  for (guint r = 0; r < ink->n && !reading->woven; r++)
    if (ink->rings[r].counter && !hf_reading_is_dust(ink, r) && ink->rings[r].shows < 1)
      check_counter(reading, r);
}
