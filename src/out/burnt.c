/* SPDX-License-Identifier: GPL-3.0-or-later
 * burnt.c - pointed ends of metal that the arc burns back, drawn as they will be.
 *
 *      \     /       The metal about a tip is shrunk by half the web limit and grown again (an
 *       \_ _/ <-     opening; J. Serra, Image Analysis and Mathematical Morphology (1982); from
 *       :\./: gone   memory): what is as wide as the limit stays, with a round end of half the
 *        `           limit; what does not come back, nearest to the finding's place, is gone.
 *
 * Only for what the hold check has named as a burnt tip. Of a wedge of angle a the round end's
 * middle lies w / 2 / sin(a / 2) from the point. Cost: two offsets of what is near, for each tip.
 */
#include "out/picture-private.h"

#define FINE    0.01 /* mm */
#define HAIR    0.04 /* mm: what chords and grid leave along straight edges is no tip */
#define SLIVER  0.02 /* mm2: rounding, no tip */
#define DASHES  6.0  /* line widths */
#define OPACITY 0.8

static HfRegion *
metal_about(const HfRegion *metal, HfBox box)
{
  g_autoptr(HfOutline) frame = hf_outline_new();
  g_autoptr(HfRegion) some = hf_region_new();
  hf_outline_add_rectangle(frame, box, 0);
  for (guint r = 0; r < metal->rings->len; r++) {
    const HfRing *ring = hf_region_ring(metal, r);
    gint parent = ring->parent;
    HfBox whole = hf_ring_box(parent < 0 ? ring : hf_region_ring(metal, (guint)parent));
    if (hf_box_overlaps(whole, box))
      hf_region_add_ring(some, ring->at, NULL, ring->n);
  }
  g_autoptr(HfRegion) window = hf_region_of_outline(frame, 0, FINE);
  g_autoptr(HfRegion) clean = hf_region_clean(some);
  return hf_region_intersect(clean, window);
}

static double
distance_to(const HfRing *ring, HfPoint p)
{
  double nearest = hf_ring_holds(ring, p) ? 0 : INFINITY;
  for (guint v = 0; v < ring->n && nearest > 0; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    nearest = fmin(nearest, hf_point_distance(hf_segment_nearest(a, b, p, NULL), p));
  }
  return nearest;
}

/* Of what does not come back, the largest that reaches @at within @limit. (nullable) */
static HfRegion *
gone_at(const HfRegion *metal, HfPoint at, double length, double limit)
{
  HfBox box = hf_box_grow((HfBox){at, at}, 2 * length + 2 * limit);
  g_autoptr(HfRegion) near = metal_about(metal, box);
  g_autoptr(HfRegion) less = hf_region_offset(near, -limit / 2, FINE);
  g_autoptr(HfRegion) stays = hf_region_offset(less, limit / 2 + HAIR, FINE);
  g_autoptr(HfRegion) gone = hf_region_subtract(near, stays);
  gint best = -1;
  double most = SLIVER;
  for (guint r = 0; r < gone->rings->len; r++) {
    const HfRing *ring = hf_region_ring(gone, r);
    if (ring->parent >= 0 || hf_ring_area(ring) <= most || distance_to(ring, at) > limit)
      continue;
    most = hf_ring_area(ring);
    best = (gint)r;
  }
  return best < 0 ? NULL : hf_region_part(gone, (guint)best);
}

GPtrArray *
hf_picture_burnt(const HfSign *what)
{
  GPtrArray *burnt = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  double limit = what->hold->limits[HF_LAW_THIN_WEB].stop;
  for (guint i = 0; i < what->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(what, i);
    if (finding->kind != HF_LAW_BURNT_TIP || !(limit > 0))
      continue;
    for (guint k = 0; k < finding->places->len; k++) {
      HfRegion *gone = gone_at(what->metal->region, g_array_index(finding->places, HfPoint, k),
                               finding->measured, limit);
      if (gone != NULL)
        g_ptr_array_add(burnt, gone);
    }
  }
  return burnt;
}

void
hf_picture_tips(const HfPen *pen, const HfSign *what, HfView view, double line)
{
  g_autoptr(GPtrArray) burnt = hf_picture_burnt(what);
  cairo_t *cr = pen->cr;
  cairo_save(cr);
  cairo_set_line_width(cr, line);
  cairo_set_dash(cr, (double[]){DASHES * line / 2, DASHES * line / 3}, 2, 0);
  for (guint i = 0; i < burnt->len; i++) {
    cairo_new_path(cr);
    hf_picture_region(cr, (const HfRegion *)burnt->pdata[i], view);
    hf_pen_colour(cr, HF_WALL, OPACITY);
    cairo_fill_preserve(cr);
    hf_pen_colour(cr, HF_HOT, 1);
    cairo_stroke(cr);
  }
  cairo_restore(cr);
}
