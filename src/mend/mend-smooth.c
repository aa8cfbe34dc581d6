/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-smooth.c - what is added runs into the metal beside it without a corner.
 *
 *      ____        ____          The metal there with what is added is grown by r and shrunk by r
 *          \_~~~~_/              again: a disc of radius r rolls along the air's side, and whatever
 *      ____(added )____          it can't reach is filled (a closing; J. Serra, Image Analysis and
 *                                Mathematical Morphology (1982); from memory).
 *
 * Of what that fills only corners beside what is added are kept, and none that would close an
 * opening or join what is apart. All on true curves
 * (geom/bolder.c).
 */
#include "geom/bolder.h"
#include "geom/retrace.h"
#include "geom/trace.h"
#include "mend/mend-private.h"

#define FINE       0.002 /* mm */
#define HAIR       0.03  /* mm that it runs into the metal */
#define THIN       0.005 /* mm: what the closing adds by rounding alone */
#define MOSTLY     0.3   /* of what a disc can't reach: so much of it is the gap itself */
#define STILL_OPEN 0.4   /* of a gap: its ends */
#define CRUMB      1e-4  /* mm2 */
#define NARROWER   0.01  /* mm: so much an opening must be too narrow for a disc */
#define LEAST      0.05  /* mm2 of metal that is added in one place */
/* Of the square of the radius: a square corner takes 0.215 of it, (1 - pi / 4), one of 60 degrees
 * 0.68; more is no corner. */
#define MOST_CORNER 0.7

/* Of the radius: whether a disc reaches a place hangs on what is within two radii of it; a corner
 * reaches about half a radius beyond what is added. */
#define ABOUT 2.5
enum { CORNER_WORK = 22 }; /* units of work for each edge and radius */

/* Kerfs: half a one is what the cut leaves in any inside corner. What is added runs out by itself
 * (mend-thicken.c); larger discs made waves of counters and bowls. */
static const double RADII[] = {0.5};

typedef struct {
  const HfLayout *layout;
  const HfOutline *added;
} Sources;

static const HfCurve *
source_curve(const HfEdge *from, gconstpointer data)
{
  const Sources *sources = (const Sources *)data;
  guint n = sources->layout->shapes->len;
  if (from->shape > n)
    return NULL;
  const HfOutline *outline =
      from->shape == n ? sources->added : hf_layout_shape(sources->layout, from->shape)->outline;
  return from->curve < outline->curves->len ? &g_array_index(outline->curves, HfCurve, from->curve)
                                            : NULL;
}

/* The metal's rings about @box with their sources, and those of what is added. */
static HfRegion *
all_edges(const HfSign *sign, const HfOutline *added, HfBox box)
{
  HfRegion *all = hf_region_new();
  const HfRegion *metal = sign->metal->region;
  for (guint r = 0; r < metal->rings->len; r++) {
    const HfRing *ring = hf_region_ring(metal, r);
    if (hf_box_overlaps(hf_ring_box(ring), box))
      hf_region_add_ring(all, ring->at, ring->from, ring->n);
  }
  hf_region_flatten(all, added, sign->layout->shapes->len, FINE);
  return all;
}

/* What is near, with what is added. */
typedef struct {
  const HfMendView *view;
  const HfOutline *rough; /* what is added */
  HfRegion *added, *reach, *metal;
  HfRegion *both;    /* metal and added */
  HfRegion *joined;  /* `both`, with what fills its corners so far */
  HfTrace *trace;    /* of all edges that it may have */
  HfRegion *edges;   /* those */
  HfOutline *curves; /* all that new edges may run along */
} Near;

static void
near_clear(Near *near)
{
  hf_region_free(near->added);
  hf_region_free(near->reach);
  hf_region_free(near->metal);
  hf_region_free(near->both);
  hf_region_free(near->joined);
  hf_trace_free(near->trace);
  hf_region_free(near->edges);
  hf_outline_free(near->curves);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Near, near_clear)

static HfBox
box_about(const HfOutline *rough, double r)
{
  return hf_box_grow(hf_outline_box(rough), ABOUT * r);
}

static Near
look_near(const HfMendView *view, const HfOutline *rough)
{
  HfBox box = box_about(rough, RADII[0] * view->sign->hold->process.kerf);
  Near near = {.view = view, .rough = rough, .added = hf_region_of_outline(rough, 0, FINE)};
  near.reach = hf_region_offset(near.added, 2 * HAIR, FINE);
  near.metal = hf_region_within(view->sign->metal->region, box);
  const HfRegion *both[] = {near.metal, near.added};
  near.both = hf_region_union(both, G_N_ELEMENTS(both));
  near.joined = hf_region_copy(near.both);
  near.edges = all_edges(view->sign, rough, box);
  near.trace = hf_trace_new(near.edges, 1);
  near.curves = hf_outline_copy(rough);
  return near;
}

/* Less the openings that no disc of radius @r fits in: once grown, nothing of them is left, and
 * growing them all the same costs most of all. */
static HfRegion *
without_narrow_openings(const HfRegion *region, double r)
{
  HfRegion *rest = hf_region_new();
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    HfBox box = hf_ring_box(ring);
    double side = fmin(hf_box_width(box), hf_box_height(box)), area = fabs(hf_ring_area(ring));
    if (ring->parent < 0 || (side > 2 * r - NARROWER && area > G_PI * r * (r - NARROWER)))
      hf_region_add_ring(rest, ring->at, NULL, ring->n);
  }
  return rest;
}

/* True curves of metal and added, as far as a corner of radius @r may look. */
static HfOutline *
curves_about(const Near *near, double r)
{
  g_autoptr(HfRegion) all = hf_region_within(near->both, box_about(near->rough, r));
  g_autoptr(HfRegion) part = without_narrow_openings(all, r);
  hf_trace_whole(near->trace, part, HF_TRACE_CLOSEST);
  hf_cancel_count(near->view->cancel, CORNER_WORK * hf_region_n_edges(part));
  Sources sources = {near->view->sign->layout, near->rough};
  return hf_region_curves(part, source_curve, &sources);
}

/* (transfer full) what is near, with all that a disc of radius @r can't reach into; empty when
 * stopped. */
static HfOutline *
closed_by(const Near *near, double r)
{
  g_autoptr(HfOutline) local = curves_about(near, r);
  if (!hf_cancel_check(near->view->cancel, NULL))
    return hf_outline_new();
  g_autoptr(HfOutline) larger = hf_outline_bolder(local, r);
  if (!hf_cancel_check(near->view->cancel, NULL))
    return hf_outline_new();
  return hf_outline_bolder(larger, -r);
}

/* (transfer full) (element-type HfRegion) of @more, what may be corners that a disc of radius @r
 * can't reach into. */
static GPtrArray *
corners_of(const HfRegion *more, double r)
{
  GPtrArray *corners = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < more->rings->len; i++) {
    const HfRing *ring = hf_region_ring(more, i);
    double area = hf_ring_area(ring);
    if (ring->parent < 0 && area >= CRUMB && area <= MOST_CORNER * r * r &&
        area >= THIN * hf_ring_perimeter(ring) / 4)
      g_ptr_array_add(corners, hf_region_part(more, i));
  }
  return corners;
}

/* The corners beside what is added that a disc of radius @r can't reach into. */
static void
fill_corners(Near *near, double r)
{
  g_autoptr(HfOutline) closed = closed_by(near, r);
  g_autoptr(HfRegion) all = hf_region_of_outline(closed, 0, FINE),
                      more = hf_region_subtract(all, near->joined);
  g_autoptr(GPtrArray) corners = corners_of(more, r);
  HfRegion *filled = hf_mend_with_corners(near->joined, corners, near->reach, near->view->cancel);
  if (filled == NULL)
    return;
  hf_region_free(near->joined);
  near->joined = filled;
  hf_outline_append(near->curves, closed, HF_MATRIX_IDENTITY);
}

/* What is smaller mends nothing, and where it only touches the metal it would be loose. */
static HfRegion *
without_crumbs(const HfRegion *region)
{
  HfRegion *kept = hf_region_new();
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    gint outer = ring->parent < 0 ? (gint)r : ring->parent;
    if (hf_ring_area(hf_region_ring(region, (guint)outer)) > LEAST)
      hf_region_add_ring(kept, ring->at, NULL, ring->n);
  }
  g_autoptr(HfRegion) raw = kept;
  return hf_region_clean(raw);
}

/* What is new, less what is so by rounding alone, grown by a hair into the metal. (nullable) */
static HfOutline *
new_metal(const Near *near)
{
  g_autoptr(HfRegion) all = hf_region_subtract(near->joined, near->metal);
  g_autoptr(HfRegion) more = without_crumbs(all);
  g_autoptr(HfRegion) core = hf_region_offset(more, -THIN, FINE / 2);
  g_autoptr(HfRegion) grown = hf_region_offset(core, THIN + HAIR, FINE);
  g_autoptr(HfRegion) smooth = hf_region_intersect(grown, near->joined);
  return hf_region_is_empty(smooth) ? NULL : hf_region_curves_of(smooth, near->curves, FINE);
}

/* What a disc of radius @r can't reach between the two sides of a gap, where that is @near->added.
 */
static void
close_gap(Near *near, double r)
{
  g_autoptr(HfOutline) closed = closed_by(near, r);
  g_autoptr(HfRegion) all = hf_region_of_outline(closed, 0, FINE),
                      more = hf_region_subtract(all, near->metal);
  g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  g_ptr_array_add(parts, g_steal_pointer(&near->joined));
  for (guint i = 0; i < more->rings->len; i++) {
    if (hf_region_ring(more, i)->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(more, i);
    g_autoptr(HfRegion) in_gap = hf_region_intersect(part, near->added);
    if (hf_region_area(in_gap) > MOSTLY * hf_region_area(part))
      g_ptr_array_add(parts, hf_region_offset(part, FINE / 4, FINE / 4));
  }
  near->joined = hf_region_union((const HfRegion *const *)parts->pdata, parts->len);
  hf_outline_append(near->curves, closed, HF_MATRIX_IDENTITY);
}

/* Is what was to be filled metal now? */
static gboolean
is_closed(const Near *near)
{
  g_autoptr(HfRegion) open = hf_region_subtract(near->added, near->metal);
  g_autoptr(HfRegion) still = hf_region_subtract(open, near->joined);
  return hf_region_area(still) < STILL_OPEN * hf_region_area(open);
}

gboolean
hf_mend_fill_smooth(HfMendView *view, HfLawKind kind, HfPoint at, HfOutline *outline, double width,
                    const char *what, const guint makers[2])
{
  g_autoptr(HfOutline) rough = outline;
  g_auto(Near) near = look_near(view, rough);
  hf_region_free(near.both);
  hf_region_free(near.joined);
  near.both = hf_region_copy(near.metal);
  near.joined = hf_region_copy(near.metal);
  close_gap(&near, width / 2);
  if (!hf_cancel_check(view->cancel, NULL))
    return FALSE;
  HfOutline *smooth = is_closed(&near) ? new_metal(&near) : NULL;
  return (smooth != NULL &&
          hf_mend_add(view, kind, at, smooth, FALSE, what, makers[0], makers[1])) ||
         hf_mend_add(view, kind, at, g_steal_pointer(&rough), FALSE, what, makers[0], makers[1]);
}

gboolean
hf_mend_add_smooth(HfMendView *view, HfLawKind kind, HfPoint at, HfOutline *outline,
                   const char *what, guint maker)
{
  g_autoptr(HfOutline) rough = outline;
  if (!hf_cancel_check(view->cancel, NULL))
    return FALSE;
  g_auto(Near) near = look_near(view, rough);
  double kerf = view->sign->hold->process.kerf;
  for (gsize i = 0; i < G_N_ELEMENTS(RADII) && hf_cancel_check(view->cancel, NULL); i++)
    fill_corners(&near, RADII[i] * kerf);
  if (!hf_cancel_check(view->cancel, NULL))
    return FALSE;
  HfOutline *smooth = new_metal(&near);
  return (smooth != NULL && hf_mend_add(view, kind, at, smooth, FALSE, what, maker, maker)) ||
         hf_mend_add(view, kind, at, g_steal_pointer(&rough), FALSE, what, maker, maker);
}
