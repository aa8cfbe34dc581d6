/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-measure.c - how much of a cure is seen: metal that came and went, lines that moved.
 *
 *   added   = area(A + B) - area(A)      A: the given sign, B: the cured one, both as they lie
 *   removed = area(A + B) - area(B)
 *   shift   = max over both boundaries of the distance to the other (Hausdorff)
 *
 * The distance d(p) to a boundary changes by no more than p moves. So on a stretch of length l,
 * whose ends are at d0 and d1, it is nowhere above (d0 + d1 + l) / 2. The distance to one edge is
 * convex: along the stretch it is no more than at the farther end, and d(p) no more than that. A
 * stretch that can't beat the farthest point known so far is not looked at, any other is halved.
 *
 *   cost = 100 (|added - removed| + least(added, removed) / 2) / area of the given metal
 *        + 100 shift / diagonal of the given sign
 *        + 1/2 for each tie more than before                       docs/maths.md#cures-ranking
 *
 * Metal that only moves goes at one place and comes at another: of both together a quarter counts.
 */
#include "cure/search-private.h"
#include "geom/index.h"
#include "recipe/kind.h"
#include <string.h>

static const double TOLERANCE = 0.01; /* mm, of the shift */
static const double TIE_COST = 0.5, MOVED_COST = 0.5;

/* ---- distance to a boundary -------------------------------------------------------------------
 */

enum { BLOCK = 32, NEAR_CELLS = 16 };

/* Edges @from to @to of a ring, that last one not among them. */
typedef struct {
  HfBox box;
  guint ring, from, to;
} Block;

typedef struct {
  const HfRegion *region;
  HfIndex *index;
  GArray *ids;
  GArray *blocks;    /* Block: all edges */
  guint last;        /* block that the last answer came from, */
  HfEdgeId near;     /* and the edge */
  GHashTable *edges; /* Edge * of the region, as a set */
  double cell, most; /* most: farther than any answer can be */
} Boundary;

typedef struct {
  HfGrid a, b;
} Edge;

static guint
edge_hash(gconstpointer data)
{
  const Edge *e = data;
  guint hash = 2166136261u;
  const gint32 words[] = {e->a.x, e->a.y, e->b.x, e->b.y};
  for (gsize i = 0; i < G_N_ELEMENTS(words); i++)
    hash = (hash ^ (guint)words[i]) * 16777619u;
  return hash ^ hash >> 15;
}

static gboolean
edge_equal(gconstpointer p, gconstpointer q)
{
  return memcmp(p, q, sizeof(Edge)) == 0;
}

static Edge
edge_of(const HfRing *ring, guint v)
{
  return (Edge){ring->at[v], ring->at[(v + 1) % ring->n]};
}

/* Of edges that follow each other along a ring. */
static void
boundary_add_blocks(Boundary *boundary, guint r)
{
  const HfRing *ring = hf_region_ring(boundary->region, r);
  for (guint v = 0; v < ring->n; v += BLOCK) {
    Block block = {HF_BOX_EMPTY, r, v, MIN(v + BLOCK, ring->n)};
    for (guint k = block.from; k <= block.to; k++)
      block.box = hf_box_add_point(block.box, hf_grid_point(ring->at[k % ring->n]));
    g_array_append_val(boundary->blocks, block);
  }
}

static void
boundary_init(Boundary *boundary, const HfRegion *region, double most)
{
  double size = fmax(hf_region_perimeter(region), 1);
  boundary->cell = fmax(size / (hf_region_n_edges(region) + 1), 1);
  boundary->region = region;
  boundary->index = hf_index_new(region, boundary->cell);
  boundary->ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  boundary->edges = g_hash_table_new_full(edge_hash, edge_equal, g_free, NULL);
  boundary->most = most;
  boundary->blocks = g_array_new(FALSE, FALSE, sizeof(Block));
  boundary->last = 0;
  for (guint r = 0; r < region->rings->len; r++)
    boundary_add_blocks(boundary, r);
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      Edge edge = edge_of(hf_region_ring(region, r), v);
      g_hash_table_add(boundary->edges, g_memdup2(&edge, sizeof edge));
    }
}

static void
boundary_clear(Boundary *boundary)
{
  hf_index_free(boundary->index);
  g_array_unref(boundary->ids);
  g_array_unref(boundary->blocks);
  g_hash_table_unref(boundary->edges);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Boundary, boundary_clear)

static double
nearest_on(const HfRegion *region, HfEdgeId id, HfPoint p)
{
  return hf_point_distance(
      p, hf_segment_nearest(hf_edge_start(region, id), hf_edge_end(region, id), p, NULL));
}

static double
distance_to_block(Boundary *boundary, guint i, HfPoint p, double nearest)
{
  const Block *block = &g_array_index(boundary->blocks, Block, i);
  double dx = fmax(fmax(block->box.min.x - p.x, p.x - block->box.max.x), 0);
  double dy = fmax(fmax(block->box.min.y - p.y, p.y - block->box.max.y), 0);
  if (dx * dx + dy * dy >= nearest * nearest)
    return nearest;
  for (guint v = block->from; v < block->to; v++) {
    double here = nearest_on(boundary->region, (HfEdgeId){block->ring, v}, p);
    if (here >= nearest)
      continue;
    nearest = here;
    boundary->last = i;
    boundary->near = (HfEdgeId){block->ring, v};
  }
  return nearest;
}

/* Block by block, first the one that had the answer before: others are mostly farther as a whole.
 */
static double
distance_by_blocks(Boundary *boundary, HfPoint p)
{
  double nearest = distance_to_block(boundary, boundary->last, p, boundary->most);
  for (guint i = 0; i < boundary->blocks->len; i++)
    nearest = distance_to_block(boundary, i, p, nearest);
  return nearest;
}

/* @guess: where the answer is likely to be at most; any will do. What is near is looked for in the
 * index; far off that would ask nearly all edges. */
static double
distance_to(Boundary *boundary, HfPoint p, double guess)
{
  for (double reach = fmax(guess, boundary->cell); reach <= NEAR_CELLS * boundary->cell;
       reach *= 2) {
    double nearest = INFINITY;
    HfBox box = hf_box_grow((HfBox){p, p}, reach);
    hf_index_query(boundary->index, box, boundary->ids);
    for (guint i = 0; i < boundary->ids->len; i++) {
      HfEdgeId id = g_array_index(boundary->ids, HfEdgeId, i);
      double here = nearest_on(boundary->region, id, p);
      if (here >= nearest)
        continue;
      nearest = here;
      boundary->near = id;
    }
    if (nearest <= reach)
      return fmin(nearest, boundary->most);
  }
  return distance_by_blocks(boundary, p);
}

/* ---- the farthest point -----------------------------------------------------------------------
 */

/* At either end how far the boundary is at most, and an edge of it that is no farther. */
typedef struct {
  HfPoint a, b;
  double from_a, from_b;
  HfEdgeId near_a, near_b;
} Stretch;

/* No place of it is farther. */
static double
most_on(const Boundary *to, const Stretch *s)
{
  double by_length = (s->from_a + s->from_b + hf_point_distance(s->a, s->b)) / 2;
  double by_a = fmax(s->from_a, nearest_on(to->region, s->near_a, s->b));
  double by_b = fmax(s->from_b, nearest_on(to->region, s->near_b, s->a));
  return fmin(by_length, fmin(by_a, by_b));
}

/* Halves what could still beat @far; returns the farthest. */
static double
farthest_on(Boundary *to, Stretch whole, double far, GArray *stack)
{
  g_array_set_size(stack, 0);
  g_array_append_val(stack, whole);
  while (stack->len > 0) {
    Stretch s = g_array_index(stack, Stretch, stack->len - 1);
    g_array_set_size(stack, stack->len - 1);
    if (most_on(to, &s) <= far + TOLERANCE)
      continue;
    HfPoint middle = hf_point_mix(s.a, s.b, 0.5);
    double length = hf_point_distance(s.a, s.b);
    double here = distance_to(to, middle, fmin(s.from_a, s.from_b) + length / 2);
    far = fmax(far, here);
    Stretch halves[] = {{s.a, middle, s.from_a, here, s.near_a, to->near},
                        {middle, s.b, here, s.from_b, to->near, s.near_b}};
    g_array_append_vals(stack, halves, 2);
  }
  return far;
}

/* The far end of @s, whose near one is known: measured only where it could beat @far. */
static double
look_at_end(Boundary *to, Stretch *s, double far)
{
  double length = hf_point_distance(s->a, s->b);
  s->near_b = s->near_a;
  s->from_b = nearest_on(to->region, s->near_a, s->b);
  if (s->from_b <= far + TOLERANCE)
    return far;
  s->from_b = distance_to(to, s->b, s->from_a + length);
  s->near_b = to->near;
  return fmax(far, s->from_b);
}

/* Corners first: they give a bound that saves most of the rest. */
static double
farthest_from(const HfRegion *from, Boundary *to, double far)
{
  g_autoptr(GArray) stretches = g_array_new(FALSE, FALSE, sizeof(Stretch));
  g_autoptr(GArray) stack = g_array_new(FALSE, FALSE, sizeof(Stretch));
  for (guint r = 0; r < from->rings->len; r++) {
    const HfRing *ring = hf_region_ring(from, r);
    Stretch before = {.from_b = NAN};
    for (guint v = 0; v < ring->n; v++) {
      Edge edge = edge_of(ring, v);
      if (g_hash_table_contains(to->edges, &edge)) {
        before.from_b = NAN;
        continue;
      }
      Stretch s = {.a = hf_grid_point(edge.a), .b = hf_grid_point(edge.b)};
      s.from_a = before.from_b;
      s.near_a = before.near_b;
      if (isnan(s.from_a)) {
        s.from_a = distance_to(to, s.a, 0);
        s.near_a = to->near;
        far = fmax(far, s.from_a);
      }
      far = look_at_end(to, &s, far);
      g_array_append_val(stretches, s);
      before = s;
    }
  }
  for (guint i = 0; i < stretches->len; i++)
    far = farthest_on(to, g_array_index(stretches, Stretch, i), far, stack);
  return far;
}

static double
diagonal(HfBox box)
{
  return hf_box_is_empty(box) ? 0 : hypot(hf_box_width(box), hf_box_height(box));
}

double
hf_measure_shift(const HfRegion *a, const HfRegion *b)
{
  HfBox box_a = hf_region_box(a), box_b = hf_region_box(b);
  double most = diagonal(hf_box_union(box_a, box_b));
  if (hf_region_is_empty(a) || hf_region_is_empty(b))
    return most;
  g_auto(Boundary) of_a = {NULL}, of_b = {NULL};
  boundary_init(&of_a, a, most);
  boundary_init(&of_b, b, most);
  return farthest_from(b, &of_a, farthest_from(a, &of_b, 0));
}

gboolean
hf_measure_equal(const HfRegion *a, const HfRegion *b)
{
  if (a->rings->len != b->rings->len)
    return FALSE;
  for (guint r = 0; r < a->rings->len; r++) {
    const HfRing *x = hf_region_ring(a, r), *y = hf_region_ring(b, r);
    if (x->n != y->n || memcmp(x->at, y->at, x->n * sizeof *x->at) != 0)
      return FALSE;
  }
  return TRUE;
}

/* ---- all figures of a cure --------------------------------------------------------------------
 */

static guint
n_ties(const HfSign *sign)
{
  guint n = 0;
  for (guint i = 0; i < sign->works->len; i++)
    n += hf_sign_work(sign, i)->ties->len;
  for (guint i = 0; i < sign->layout->shapes->len; i++) {
    guint entry = hf_layout_shape(sign->layout, i)->entry;
    n += hf_entry_is(hf_recipe_at(sign->recipe, entry), HF_KIND_PIN) ? 1 : 0;
  }
  return n;
}

static void
count_findings(HfCured *cured)
{
  const GPtrArray *findings = cured->sign->hold->findings;
  cured->stops = cured->cautions = cured->notes = 0;
  for (guint i = 0; i < findings->len; i++) {
    HfGravity gravity = ((const HfFinding *)g_ptr_array_index(findings, i))->gravity;
    *(gravity == HF_STOP      ? &cured->stops
      : gravity == HF_CAUTION ? &cured->cautions
                              : &cured->notes) += 1;
  }
}

/* (transfer full) metal of @sign in @layer; empty where there is none. */
static HfRegion *
metal_in(const HfSign *sign, HfLayerAt layer)
{
  for (guint i = 0; i < hf_sign_n_layers(sign); i++) {
    const HfSign *one = hf_sign_layer(sign, i);
    HfLayerAt at = MAX(one->recipe->in_layer, HF_LAYER_FRONT);
    if (at == layer)
      return hf_region_copy(one->metal->region);
  }
  return hf_region_new();
}

gboolean
hf_measure_same_metal(const HfSign *a, const HfSign *b)
{
  if (a->layers == NULL && b->layers == NULL)
    return hf_measure_equal(a->metal->region, b->metal->region);
  for (int at = HF_LAYER_FRONT; at < HF_N_LAYERS; at++) {
    g_autoptr(HfRegion) of_a = metal_in(a, (HfLayerAt)at), of_b = metal_in(b, (HfLayerAt)at);
    if (!hf_measure_equal(of_a, of_b))
      return FALSE;
  }
  return TRUE;
}

static void
measure_metal(const HfRegion *a, const HfRegion *b, HfCured *cured)
{
  g_autoptr(HfRegion) both = hf_region_union((const HfRegion *const[]){a, b}, 2);
  double area = hf_region_area(both);
  cured->added += fmax(area - hf_region_area(a), 0);
  cured->removed += fmax(area - hf_region_area(b), 0);
  cured->shift = fmax(cured->shift, hf_measure_shift(a, b));
}

/* Layer by layer: metal that comes in one does not make up for what goes in another. */
static void
measure_layers(const HfSign *given, HfCured *cured)
{
  cured->added = cured->removed = cured->shift = 0;
  if (given->layers == NULL && cured->sign->layers == NULL) {
    measure_metal(given->metal->region, cured->sign->metal->region, cured);
    return;
  }
  for (int at = HF_LAYER_FRONT; at < HF_N_LAYERS; at++) {
    g_autoptr(HfRegion) a = metal_in(given, (HfLayerAt)at);
    g_autoptr(HfRegion) b = metal_in(cured->sign, (HfLayerAt)at);
    if (!hf_region_is_empty(a) || !hf_region_is_empty(b))
      measure_metal(a, b, cured);
  }
}

static gboolean
has_same_studs(const HfSign *a, const HfSign *b)
{
  const GArray *of_a = a->hold->studs, *of_b = b->hold->studs;
  gboolean same = of_a->len == of_b->len;
  for (guint i = 0; same && i < of_a->len; i++) {
    const HfStud *p = &g_array_index(of_a, HfStud, i), *q = &g_array_index(of_b, HfStud, i);
    same = p->diameter == q->diameter && p->at.x == q->at.x && p->at.y == q->at.y;
  }
  return same;
}

void
hf_measure_cured(const HfSign *given, HfCured *cured)
{
  double size = diagonal(given->hold->box);
  measure_layers(given, cured);
  cured->as_is = hf_measure_same_metal(given, cured->sign);
  cured->studs = !has_same_studs(given, cured->sign);
  cured->ties = n_ties(cured->sign);
  cured->whole = cured->sign->hold->whole;
  count_findings(cured);
  HfMatch match = hf_match_findings(given, cured->sign, 0);
  g_clear_pointer(&cured->takes, g_array_unref);
  cured->takes = match.takes;
  guint had = n_ties(given);
  double net = fabs(cured->added - cured->removed), moved = fmin(cured->added, cured->removed);
  cured->cost = 100 * (net + MOVED_COST * moved) / fmax(given->hold->area, 1) +
                100 * cured->shift / fmax(size, 1) +
                TIE_COST * (cured->ties > had ? cured->ties - had : 0);
}
