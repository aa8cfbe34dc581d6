/* SPDX-License-Identifier: GPL-3.0-or-later
 * region.h - an area bounded by closed rings on a fixed grid of 0.1 um.
 *
 *      outer ring: counter-clockwise        +-----------<-+
 *      opening:    clockwise                |   +->--+    |
 *      metal is always on the left          |   |    |    |
 *      of an edge                           |   +--<-+    |
 *                                           +->-----------+
 * Invariant of a region that came out of a boolean: rings do not cross themselves or each other;
 * they may touch at single vertices; every ring has at least three vertices and some area; each
 * opening's parent is the outer ring that holds it. Rings given *to* a boolean may be anything.
 */
#pragma once
#include "base/cancel.h"
#include "geom/outline.h"

#define HF_GRID_PER_MM     10000 /* 0.1 um; docs/decisions/0003 */
#define HF_REGION_LIMIT_MM 20000.0
#define HF_FLATTEN_MM      0.005 /* largest gap between a true curve and its chords */

typedef struct {
  gint32 x, y; /* grid units */
} HfGrid;

/* Where an edge came from: curve `curve` of shape `shape`, from parameter t0 to t1. */
typedef struct {
  guint32 shape;
  guint32 curve;
  double t0, t1;
} HfEdge;
#define HF_NO_SHAPE G_MAXUINT32

typedef struct {
  HfGrid *at;   /* n vertices */
  HfEdge *from; /* (nullable) n sources; from[i] is that of the edge at[i] -> at[i + 1] */
  guint n;
  gint parent; /* opening: index of its outer ring; outer ring: -1 */
} HfRing;

typedef struct {
  GArray *rings; /* HfRing */
} HfRegion;

/** hf_region_new: (transfer full) a region without a ring: nothing. */
HfRegion *hf_region_new(void);
/** hf_region_copy: (transfer full) the same rings with their sources. O(vertices). */
HfRegion *hf_region_copy(const HfRegion *region);
/** hf_region_free: frees it and all that it owns; %NULL: nothing. */
void hf_region_free(HfRegion *region);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfRegion, hf_region_free)

static inline HfPoint
hf_grid_point(HfGrid g)
{
  return (HfPoint){g.x / (double)HF_GRID_PER_MM, g.y / (double)HF_GRID_PER_MM};
}

static inline HfGrid
hf_grid_snap(HfPoint p)
{
  return (HfGrid){(gint32)lrint(p.x * HF_GRID_PER_MM), (gint32)lrint(p.y * HF_GRID_PER_MM)};
}

static inline gboolean
hf_grid_equal(HfGrid a, HfGrid b)
{
  return a.x == b.x && a.y == b.y;
}

/** hf_grid_compare: <0, 0, >0: from left to right, then from below. For sorting. */
static inline int
hf_grid_compare(HfGrid a, HfGrid b)
{
  return a.x != b.x ? (a.x > b.x) - (a.x < b.x) : (a.y > b.y) - (a.y < b.y);
}

static inline HfRing *
hf_region_ring(const HfRegion *region, guint i)
{
  return &g_array_index(region->rings, HfRing, i);
}

/** hf_region_add_ring: takes copies. @from nullable. */
void hf_region_add_ring(HfRegion *region, const HfGrid *at, const HfEdge *from, guint n);

/**
 * hf_region_flatten:
 * @shape: number written into every HfEdge
 * Appends the contours of @outline as rings with their sources, within @tolerance mm of the true
 * curve, on the grid. They are not cleaned: see hf_region_clean().
 * Cost O(chords).
 */
void hf_region_flatten(HfRegion *region, const HfOutline *outline, guint32 shape, double tolerance);

/** hf_region_clean: (transfer full) the area of @region by the non-zero rule, either winding. */
HfRegion *hf_region_clean(const HfRegion *region);
/** hf_region_clean_even_odd: (transfer full) its area by the even-odd rule: what an odd number of
 *  rings goes round. */
HfRegion *hf_region_clean_even_odd(const HfRegion *region);

/** hf_region_union: (transfer full) the union of @n *clean* regions. */
HfRegion *hf_region_union(const HfRegion *const *regions, guint n);
/** hf_region_union_until, hf_region_subtract_until: the same; %NULL when @cancel (nullable) said
 * so, which is looked at between pieces that do not touch. O(n log n + crossings). */
HfRegion *hf_region_union_until(const HfRegion *const *regions, guint n, const HfCancel *cancel);
HfRegion *hf_region_subtract_until(const HfRegion *from, const HfRegion *what,
                                   const HfCancel *cancel);
/** hf_region_subtract: (transfer full) what of @from is not in @what, both clean; empty if
 *  nothing is left. Sources are dropped. O(n log n). */
HfRegion *hf_region_subtract(const HfRegion *from, const HfRegion *what);
/** hf_region_add_rings: adds the rings of @from to @region, without sources. O(vertices). */
void hf_region_add_rings(HfRegion *region, const HfRegion *from);
/** hf_ring_add_chords: adds the ring to @to as one contour of lines. O(vertices). */
void hf_ring_add_chords(const HfRing *ring, HfOutline *to);

/** hf_region_about: (transfer full) within @box, border included, the area of @region by the
 *  non-zero rule, beyond it anything: its rings, cut short there, for a boolean. O(edges). */
HfRegion *hf_region_about(const HfRegion *region, HfBox box);
/** hf_region_within: (transfer full) what of @region, clean, lies in @box, without sources; empty
 *  if nothing does. O(edges + n log n), n those in the box or that cross its sides' lines. */
HfRegion *hf_region_within(const HfRegion *region, HfBox box);
/** hf_ring_beside: @by mm to the left of the middle of its longest edge: in the metal, where no
 *  other ring is as near. O(vertices). */
HfPoint hf_ring_beside(const HfRing *ring, double by);
/** hf_region_chords: (transfer full) its rings as an outline of lines; empty: without a contour.
 *  O(vertices). */
HfOutline *hf_region_chords(const HfRegion *region);
/** hf_region_of_outline: (transfer full) what @outline covers by the non-zero rule, clean; empty
 * for an empty outline. Edges come from shape @shape (#HF_NO_SHAPE: from none); @tolerance: mm,
 * largest gap between curve and chord. O(n log n). */
HfRegion *hf_region_of_outline(const HfOutline *outline, guint shape, double tolerance);
/** hf_region_intersect: (transfer full) what is in both, which are clean; empty if nothing
 *  is. Sources are dropped. O(n log n). */
HfRegion *hf_region_intersect(const HfRegion *a, const HfRegion *b);

/**
 * hf_region_offset:
 * @distance: mm; > 0 adds metal, < 0 removes it; outer corners become arcs
 * @tolerance: mm, > 0; largest gap between true arc and chord
 * Where every ring of @region has sources, so has the result: an edge keeps the name and the
 * stretch of the curve that it runs beside, t0 = t1 about a corner (hf_trace_offset()); its true
 * curves are those of hf_region_offset_true(). docs/maths.md#offset Returns: (transfer full) empty
 * if nothing is left (not an error). Cost O(n log n).
 */
HfRegion *hf_region_offset(const HfRegion *region, double distance, double tolerance);

/**
 * hf_region_repair:
 * Makes @region keep the invariant after a boolean: puts a vertex where a ring's vertex lies on
 * another edge (no point moves), and runs the clipper again where rounding made edges cross.
 * Sources are dropped. Returns: %FALSE when a few rounds did not do (our bug). Cost O(n log n).
 */
gboolean hf_region_repair(HfRegion *region);

/** hf_region_is_valid: rings simple, oriented, not crossing, nested as the invariant says.
 *  @ret_at: (nullable) a place where they are not. Cost O(n log n). */
gboolean hf_region_is_valid(const HfRegion *region, HfPoint *ret_at);

/** hf_region_is_empty: has it no ring? O(1). */
gboolean hf_region_is_empty(const HfRegion *region);
/** hf_region_n_edges: edges of all rings, as many as vertices. O(rings). */
guint hf_region_n_edges(const HfRegion *region);
/** hf_region_box: mm, of all vertices; empty for no ring. O(vertices). */
HfBox hf_region_box(const HfRegion *region);
double hf_region_area(const HfRegion *region);                  /* mm2, openings taken off */
double hf_region_perimeter(const HfRegion *region);             /* mm, openings included */
HfPoint hf_region_centroid(const HfRegion *region);             /* centre of area; NAN when empty */
gboolean hf_region_contains(const HfRegion *region, HfPoint p); /* O(n) */

double hf_ring_area(const HfRing *ring); /* mm2; > 0 counter-clockwise */
double hf_ring_perimeter(const HfRing *ring);
/** hf_ring_box: mm, of its vertices. O(vertices). */
HfBox hf_ring_box(const HfRing *ring);

/** hf_region_part: (transfer full) outer ring @outer with its openings, sources kept. */
HfRegion *hf_region_part(const HfRegion *region, guint outer);

/** hf_ring_holds: is @p inside the ring (even-odd)? O(n) */
gboolean hf_ring_holds(const HfRing *ring, HfPoint p);

/** hf_region_turned: (transfer full) every ring turned round, without sources: what was not metal
 *  lies on the left. Its vertex i is vertex n - 1 - i of the ring, its edge n - 2 - i. */
HfRegion *hf_region_turned(const HfRegion *region);
