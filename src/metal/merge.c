/* SPDX-License-Identifier: GPL-3.0-or-later
 * merge.c - regions that share edges are made one by leaving the shared edges out.
 *
 *      +--->---+--->---+        The edge between them runs up for the one and down for the other.
 *      |   a   |^  b   |   ->   How often a boundary winds round a point is a sum over its edges,
 *      |       v|      |        so without the two of them it is the same everywhere: what is left
 *      +---<---+---<---+        are closed ways round the union.
 *
 * The clipper finds the same, but tests each shared edge against whole rings. Invariant: the area
 * that the regions cover together. Only edges that are the same to the bit are left out, so
 * hf_regions_meet() comes first. Degenerate: where nothing is left, nothing is; ways that touch
 * themselves are put in order by hf_region_clean(). Cost O(n log n).
 */
#include "geom/forest.h"
#include "metal/meet-private.h"
#include <stdlib.h>

typedef struct {
  HfGrid from, to;
} Way;

static HfGrid
lower(const Way *way)
{
  return hf_grid_compare(way->from, way->to) < 0 ? way->from : way->to;
}

static HfGrid
upper(const Way *way)
{
  return hf_grid_compare(way->from, way->to) < 0 ? way->to : way->from;
}

static int
by_start(const void *p, const void *q)
{
  const Way *a = p, *b = q;
  int order = hf_grid_compare(a->from, b->from);
  return order != 0 ? order : hf_grid_compare(a->to, b->to);
}

/* An edge, and how many more ways go up along it than down. */
typedef struct {
  HfGrid lower, upper;
  gint net;
} Edge;

static guint64
mixed(guint64 h, HfGrid p)
{
  return (h ^ ((guint64)(guint32)p.x << 32 | (guint32)p.y)) *
         G_GUINT64_CONSTANT(0x9e3779b97f4a7c15);
}

/* The edge of @way in @edges, found by @slots (2^bits, number plus one); a new one where it is not
 * there. */
static Edge *
edge_of(const Way *way, GArray *edges, guint *slots, guint bits)
{
  Edge edge = {lower(way), upper(way), 0};
  guint64 h = mixed(mixed(0, edge.lower) >> 17, edge.upper);
  for (guint i = (guint)(h >> (64 - bits));; i = (i + 1) & ((1u << bits) - 1)) {
    if (slots[i] == 0) {
      g_array_append_val(edges, edge);
      slots[i] = edges->len;
    }
    Edge *at = &g_array_index(edges, Edge, slots[i] - 1);
    if (hf_grid_equal(at->lower, edge.lower) && hf_grid_equal(at->upper, edge.upper))
      return at;
  }
}

/* Takes out as many ways up of each edge as there are down. */
static void
leave_out_pairs(GArray *ways)
{
  guint bits = g_bit_storage(ways->len) + 1;
  g_autofree guint *slots = g_new0(guint, (gsize)1 << bits);
  g_autoptr(GArray) edges = g_array_sized_new(FALSE, FALSE, sizeof(Edge), ways->len / 2);
  for (guint i = 0; i < ways->len; i++) {
    const Way *way = &g_array_index(ways, Way, i);
    Edge *edge = edge_of(way, edges, slots, bits);
    edge->net += hf_grid_equal(way->from, edge->lower) ? 1 : -1;
  }
  g_array_set_size(ways, 0);
  for (guint i = 0; i < edges->len; i++) {
    const Edge *edge = &g_array_index(edges, Edge, i);
    Way up = {edge->lower, edge->upper}, down = {edge->upper, edge->lower};
    for (gint k = 0; k < ABS(edge->net); k++)
      g_array_append_vals(ways, edge->net > 0 ? &up : &down, 1);
  }
}

/* The first way from @place that was not taken yet; ways->len: none. */
static guint
way_from(const GArray *ways, const guint8 *taken, HfGrid place)
{
  guint low = 0, high = ways->len;
  while (low < high) {
    guint middle = (low + high) / 2;
    if (hf_grid_compare(g_array_index(ways, Way, middle).from, place) < 0)
      low = middle + 1;
    else
      high = middle;
  }
  while (low < ways->len && taken[low] && hf_grid_equal(g_array_index(ways, Way, low).from, place))
    low++;
  return low < ways->len && hf_grid_equal(g_array_index(ways, Way, low).from, place) ? low
                                                                                     : ways->len;
}

/* As many ways lead to a place as from it, so each walk ends where it began. */
static void
walk_all(GArray *ways, HfRegion *result)
{
  g_autofree guint8 *taken = g_new0(guint8, ways->len + 1);
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  qsort(ways->data, ways->len, sizeof(Way), by_start);
  for (guint start = 0; start < ways->len; start++) {
    g_array_set_size(at, 0);
    for (guint i = start; i < ways->len && !taken[i];) {
      Way way = g_array_index(ways, Way, i);
      taken[i] = 1;
      g_array_append_val(at, way.from);
      i = way_from(ways, taken, way.to);
    }
    if (at->len >= 3)
      hf_region_add_ring(result, (HfGrid *)(void *)at->data, NULL, at->len);
  }
}

static void
add_ways(const HfRegion *region, GArray *ways)
{
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint v = 0; v < ring->n; v++) {
      Way way = {ring->at[v], ring->at[(v + 1) % ring->n]};
      g_array_append_val(ways, way);
    }
  }
}

static void
swap_rings(HfRegion *a, HfRegion *b)
{
  GArray *rings = a->rings;
  a->rings = b->rings;
  b->rings = rings;
}

/* All that @head leads to become one region, in the place of the first. */
static void
merge_group(HfRegion *const *regions, const guint *head, guint n, guint first)
{
  g_autoptr(GArray) ways = g_array_new(FALSE, FALSE, sizeof(Way));
  for (guint i = first; i < n; i++)
    if (head[i] == first) {
      g_autoptr(HfRegion) none = hf_region_new();
      add_ways(regions[i], ways);
      swap_rings(regions[i], none);
    }
  g_autoptr(HfRegion) loose = hf_region_new();
  leave_out_pairs(ways);
  walk_all(ways, loose);
  g_autoptr(HfRegion) clean = hf_region_clean(loose);
  swap_rings(regions[first], clean);
}

void
hf_regions_merge(HfRegion *const *regions, guint n, const GArray *meetings, guint number)
{
  g_autofree guint *head = hf_forest_new(n);
  g_autofree guint *size = g_new0(guint, n + 1);
  for (guint m = 0; m < meetings->len; m++) {
    const HfMeeting *one = &g_array_index(meetings, HfMeeting, m);
    if (one->a < number || one->b >= number + n)
      continue;
    hf_forest_join(head, one->a - number, one->b - number);
  }
  for (guint i = 0; i < n; i++)
    size[head[i] = hf_forest_root(head, i)]++;
  for (guint i = 0; i < n; i++)
    if (size[i] > 1)
      merge_group(regions, head, n, i);
}
