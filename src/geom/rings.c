/* SPDX-License-Identifier: GPL-3.0-or-later
 * rings.c - from loose oriented rings to a region that keeps the promise of region.h.
 *
 *      a ring that touches itself at v        is split at v:
 *          +---+   +---+                      +---+   +---+
 *          |    \ /    |                      |    \ /    |     two outer rings that meet
 *          |     v     |            ->        |     v v   |     at a point: two parts
 *          |    / \    |                      |    / \    |
 *          +---+   +---+                      +---+   +---+
 */
#include "geom/index.h"
#include "geom/rings-private.h"

enum { FEW = 16 }; /* rings: of so many each is compared with each */

static gint64
turn(HfGrid a, HfGrid b, HfGrid c)
{
  return (gint64)(b.x - a.x) * (c.y - b.y) - (gint64)(b.y - a.y) * (c.x - b.x);
}

/* b lies on the way back from a: a spike a -> b -> c that encloses nothing. */
static gboolean
is_spike(HfGrid a, HfGrid b, HfGrid c)
{
  gint64 along = (gint64)(b.x - a.x) * (c.x - b.x) + (gint64)(b.y - a.y) * (c.y - b.y);
  return turn(a, b, c) == 0 && along < 0;
}

/* Drops repeated points and spikes; the survivors stay in order at the front. */
static guint
prune(HfGrid *at, guint n)
{
  gboolean changed = TRUE;
  while (changed && n >= 3) {
    changed = FALSE;
    guint kept = 0;
    for (guint i = 0; i < n; i++) {
      HfGrid before = kept > 0 ? at[kept - 1] : at[n - 1], after = at[(i + 1) % n];
      if (hf_grid_equal(before, at[i]) || is_spike(before, at[i], i + 1 < n ? after : at[0]))
        changed = TRUE;
      else
        at[kept++] = at[i];
    }
    n = kept;
  }
  return n;
}

static gint64
twice_area(const HfGrid *at, guint n)
{
  gint64 twice = 0;
  for (guint i = 1; i + 1 < n; i++) {
    gint64 ax = at[i].x - at[0].x, ay = at[i].y - at[0].y;
    gint64 bx = at[i + 1].x - at[0].x, by = at[i + 1].y - at[0].y;
    twice += ax * by - ay * bx;
  }
  return twice;
}

static void
keep_loop(HfRegion *into, HfGrid *at, guint n)
{
  n = prune(at, n);
  if (n >= 3 && twice_area(at, n) != 0)
    hf_region_add_ring(into, at, NULL, n);
}

static guint
grid_hash(gconstpointer key)
{
  const HfGrid *g = key;
  return (guint)g->x * 2654435761u ^ (guint)g->y * 2246822519u;
}

static gboolean
grid_equal(gconstpointer a, gconstpointer b)
{
  return hf_grid_equal(*(const HfGrid *)a, *(const HfGrid *)b);
}

/* Asked of every ring: vertices in the slots of a table half full at most. */
static gboolean
touches_itself(const HfRing *ring)
{
  guint bits = g_bit_storage(ring->n) + 1, last = (1u << bits) - 1;
  g_autofree guint *slots = g_new0(guint, last + 1); /* number plus one; 0: free */
  for (guint v = 0; v < ring->n; v++) {
    guint64 key = (guint64)(guint32)ring->at[v].x << 32 | (guint32)ring->at[v].y;
    guint i = (guint)(key * G_GUINT64_CONSTANT(0x9e3779b97f4a7c15) >> (64 - bits));
    for (; slots[i] != 0; i = (i + 1) & last)
      if (hf_grid_equal(ring->at[slots[i] - 1], ring->at[v]))
        return TRUE;
    slots[i] = v + 1;
  }
  return FALSE;
}

/* Walks the ring with a stack; on coming back to a point that is on the stack, the loop since then
 * is a ring of its own. */
static void
split_ring(HfRegion *into, const HfRing *ring)
{
  g_autofree HfGrid *stack = g_new0(HfGrid, ring->n);
  g_autoptr(GHashTable) place = g_hash_table_new(grid_hash, grid_equal);
  guint depth = 0;
  for (guint i = 0; i < ring->n; i++) {
    gpointer found;
    if (g_hash_table_lookup_extended(place, &ring->at[i], NULL, &found)) {
      guint from = GPOINTER_TO_UINT(found);
      for (guint j = from + 1; j < depth; j++)
        g_hash_table_remove(place, &stack[j]);
      /* the loop starts at stack[from]; that point itself stays */
      HfGrid corner = stack[from];
      keep_loop(into, &stack[from], depth - from);
      stack[from] = corner;
      depth = from + 1;
      continue;
    }
    stack[depth] = ring->at[i];
    g_hash_table_insert(place, &ring->at[i], GUINT_TO_POINTER(depth));
    depth++;
  }
  keep_loop(into, stack, depth);
}

/* Rings meet at single points at most, so an edge's middle lies on no other ring. */
static gboolean
ring_holds(const HfRing *outer, const HfRing *inner)
{
  double px = ((double)inner->at[0].x + inner->at[1].x) / 2;
  double py = ((double)inner->at[0].y + inner->at[1].y) / 2;
  gboolean inside = FALSE;
  for (guint i = 0, j = outer->n - 1; i < outer->n; j = i++) {
    HfGrid a = outer->at[i], b = outer->at[j];
    if ((a.y > py) != (b.y > py) &&
        px < a.x + ((double)b.x - a.x) * (py - a.y) / ((double)b.y - a.y))
      inside = !inside;
  }
  return inside;
}

typedef struct {
  HfBox box;
  double area; /* > 0 outer */
} RingFacts;

static gboolean
box_holds(HfBox outer, HfBox inner)
{
  return outer.min.x <= inner.min.x && outer.min.y <= inner.min.y && outer.max.x >= inner.max.x &&
         outer.max.y >= inner.max.y;
}

/* The outer ring of least area that holds ring @i. */
static gint
parent_of(const HfRegion *region, const RingFacts *facts, guint i)
{
  gint parent = -1;
  double least = INFINITY;
  for (guint j = 0; j < region->rings->len; j++)
    if (facts[j].area > -facts[i].area && facts[j].area < least &&
        box_holds(facts[j].box, facts[i].box) &&
        ring_holds(hf_region_ring(region, j), hf_region_ring(region, i))) {
      least = facts[j].area;
      parent = (gint)j;
    }
  return parent;
}

/* The rings that can hold others, borrowed: of a lattice one, whose openings are most of the edges.
 */
typedef struct {
  HfRegion outer;
  GArray *number; /* guint: of each in the whole region */
  HfIndex *index;
  gboolean up; /* rays go up: the short way */
  GArray *crossed;
} Outers;

static void
outers_init(Outers *outers, const HfRegion *region, const RingFacts *facts)
{
  HfBox box = HF_BOX_EMPTY;
  outers->outer.rings = g_array_new(FALSE, FALSE, sizeof(HfRing));
  outers->number = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint j = 0; j < region->rings->len; j++) {
    if (!(facts[j].area > 0))
      continue;
    g_array_append_vals(outers->outer.rings, hf_region_ring(region, j), 1);
    g_array_append_val(outers->number, j);
    box = hf_box_union(box, facts[j].box);
  }
  outers->index = hf_index_new(&outers->outer, hf_index_cell(&outers->outer));
  outers->up = hf_box_height(box) < hf_box_width(box);
  outers->crossed = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
}

static void
outers_clear(Outers *outers)
{
  hf_index_free(outers->index);
  g_array_unref(outers->outer.rings);
  g_array_unref(outers->number);
  g_array_unref(outers->crossed);
}

/* The same of very many rings: a ring that holds it is crossed an odd number of times. */
static gint
parent_by_ray(const HfRegion *region, const RingFacts *facts, guint i, const Outers *outers)
{
  const HfRing *ring = hf_region_ring(region, i);
  HfPoint p = hf_point_mix(hf_grid_point(ring->at[0]), hf_grid_point(ring->at[1]), 0.5);
  GArray *crossed = outers->crossed;
  gint parent = -1;
  double least = INFINITY;
  hf_index_round(outers->index, p, outers->up, crossed);
  for (guint k = 0; k < crossed->len; k++) {
    guint j = g_array_index(outers->number, guint, g_array_index(crossed, HfEdgeId, k).ring);
    if (facts[j].area > -facts[i].area && facts[j].area < least) {
      least = facts[j].area;
      parent = (gint)j;
    }
  }
  return parent;
}

static RingFacts *
facts_of(const HfRegion *region, guint *ret_holes)
{
  RingFacts *facts = g_new(RingFacts, region->rings->len + 1);
  *ret_holes = 0;
  for (guint i = 0; i < region->rings->len; i++) {
    facts[i] = (RingFacts){hf_ring_box(hf_region_ring(region, i)),
                           hf_ring_area(hf_region_ring(region, i))};
    *ret_holes += facts[i].area > 0 ? 0 : 1;
  }
  return facts;
}

void
hf_rings_nest(HfRegion *region)
{
  guint n = region->rings->len, n_holes;
  g_autofree RingFacts *facts = facts_of(region, &n_holes);
  gboolean many = n_holes > FEW && n > FEW;
  Outers outers;
  if (many)
    outers_init(&outers, region, facts);
  for (guint i = 0; i < n; i++) {
    HfRing *ring = hf_region_ring(region, i);
    ring->parent = -1;
    if (facts[i].area <= 0)
      ring->parent = many ? parent_by_ray(region, facts, i, &outers) : parent_of(region, facts, i);
  }
  if (many)
    outers_clear(&outers);
}

void
hf_rings_settle(HfRegion *region)
{
  g_autoptr(HfRegion) loose = hf_region_new();
  GArray *rings = loose->rings;
  loose->rings = region->rings;
  region->rings = rings;
  for (guint i = 0; i < loose->rings->len; i++) {
    HfRing *ring = hf_region_ring(loose, i);
    if (touches_itself(ring))
      split_ring(region, ring);
    else
      keep_loop(region, ring->at, ring->n);
  }
  hf_rings_nest(region);
}
