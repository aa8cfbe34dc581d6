/* SPDX-License-Identifier: GPL-3.0-or-later
 * inscribed.c - the largest circle in a ring less its openings, by branch and bound.
 *
 *   +---+---+    A square of half side h whose centre lies d inside the boundary holds no point
 *   | . | . |    that lies deeper than d + h sqrt 2. The most promising square is split into four
 *   +---+---+    until none can better the best centre by more than the accuracy.
 *   | . | . |    docs/maths.md#inscribed-circle
 *   +---+---+
 *
 * Along a slot of even width a hundred thousand squares are as promising as one another. So a
 * square knows the few edges that can be nearest to any of its points:
 *
 *   nearest to p in the square: at most d + r from p, so at most d + 2 r from the centre
 *   (d: from the centre to its own nearest edge, r: from the centre to a corner)
 *
 * and counts with two that face each other, between which no point is far from both.
 */
#include "geom/axis.h"
#include "geom/index.h"

static const double HAIR = 1e-9; /* mm: rounding in the sum above */
static const double SURE = 1e-6; /* mm from an edge: rounding does not turn its side round */

typedef struct {
  HfPoint a, b;
  double length;
} Segment;

typedef struct {
  HfPoint at;
  double half, depth, most; /* depth: signed distance to the boundary, > 0 inside */
  guint from, n;            /* its edges: in Search.near */
} Square;

/* What the heap moves about: a square is ten times as large as what it is sorted by. */
typedef struct {
  double most;
  guint square; /* of Search.squares */
} Promise;

typedef struct {
  const HfRegion *region;
  guint outer;
  GArray *segments; /* Segment */
  GArray *near;     /* guint: segments; at first all of them */
  GArray *squares;  /* Square; some are done with */
  GArray *spare;    /* guint: those */
  GArray *heap;     /* Promise */
  GArray *ways;     /* Way: of each edge of the square at hand, used again and again */
} Search;

static void
add_segments(Search *search)
{
  for (guint r = 0; r < search->region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(search->region, r);
    if (r != search->outer && ring->parent != (gint)search->outer)
      continue;
    for (guint v = 0; v < ring->n; v++) {
      Segment s = {hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]), 0};
      s.length = hf_point_distance(s.a, s.b);
      g_array_append_val(search->near, search->segments->len);
      g_array_append_val(search->segments, s);
    }
  }
}

/* From the boundary to a point. */
typedef struct {
  HfPoint way;   /* from the nearest point of an edge */
  double length; /* of that, mm */
  double slack;  /* mm from there to the nearer end of the edge */
} Way;

static Way
way_from(const Segment *s, HfPoint p)
{
  double t;
  Way way = {.way = hf_point_sub(p, hf_segment_nearest(s->a, s->b, p, &t))};
  way.length = hf_point_length(way.way);
  way.slack = MIN(t, 1 - t) * s->length;
  return way;
}

static const Segment *
near_segment(const Search *search, guint i)
{
  return &g_array_index(search->segments, Segment, g_array_index(search->near, guint, i));
}

static gboolean
is_inside(const Search *search, HfPoint p)
{
  gboolean inside = hf_ring_holds(hf_region_ring(search->region, search->outer), p);
  for (guint r = 0; inside && r < search->region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(search->region, r);
    inside = ring->parent != (gint)search->outer || !hf_ring_holds(ring, p);
  }
  return inside;
}

/* The same, of a point whose nearest edge is @number: nothing lies between, so where its foot is no
 * end of that edge the side of the edge tells. */
static gboolean
is_beside(const Search *search, guint number, Way way, HfPoint p)
{
  if (!(way.slack > HAIR && way.length > SURE))
    return is_inside(search, p);
  const Segment *s = near_segment(search, number);
  return hf_point_cross(hf_point_sub(s->b, s->a), hf_point_sub(p, s->a)) > 0;
}

static gboolean
is_straight(Way way, double r)
{
  return way.slack >= r && way.length >= r;
}

/* What no point of @square lies deeper than, for the sake of two edges. For u from the centre, of
 * length r at most, an edge that is way w from the centre is from there
 *   |w| + w u / |w| away where the foot stays on the edge and u on its side, and else at most
 *   |w| + w u / |w| + r^2 / 2 |w|; and the lesser of two is at most their mean. */
static double
between(const Square *square, Way a, Way b)
{
  double r = square->half * G_SQRT2, bend = 0;
  HfPoint sum =
      hf_point_add(hf_point_scale(a.way, 1 / a.length), hf_point_scale(b.way, 1 / b.length));
  bend += is_straight(a, r) ? 0 : r * r / 4 / a.length;
  bend += is_straight(b, r) ? 0 : r * r / 4 / b.length;
  return (a.length + b.length) / 2 + hf_point_length(sum) * r / 2 + bend;
}

/* In a slot two edges that face each other say much more than one; never less than their mean. */
static double
most_between(const Square *square, Way nearest, const Way *ways)
{
  double most = square->depth + square->half * G_SQRT2;
  if (square->depth <= 0)
    return most;
  for (guint i = 0; i < square->n; i++)
    if ((nearest.length + ways[i].length) / 2 < most)
      most = MIN(most, between(square, nearest, ways[i]));
  return most;
}

/* A square with the edges of @whole, which it is a part of; %NULL: with all there are. */
static Square
square_new(const Search *search, const Square *whole, HfPoint at, double half)
{
  Square square = {.at = at, .half = half, .n = search->segments->len};
  if (whole != NULL) {
    square.from = whole->from;
    square.n = whole->n;
  }
  g_array_set_size(search->ways, square.n);
  Way *ways = (Way *)(void *)search->ways->data;
  double least = INFINITY;
  guint first = 0; /* of those that are nearest */
  for (guint i = 0; i < square.n; i++) {
    ways[i] = way_from(near_segment(search, square.from + i), at);
    first = ways[i].length < least ? i : first;
    least = ways[first].length;
  }
  Way nearest = ways[first];
  gboolean same_side = whole != NULL && fabs(whole->depth) > hf_point_distance(whole->at, at);
  gboolean inside =
      same_side ? whole->depth > 0 : is_beside(search, square.from + first, nearest, at);
  square.depth = (inside ? 1 : -1) * nearest.length;
  square.most = most_between(&square, nearest, ways);
  return square;
}

/* Leaves @square, whose ways are at hand, those of its edges that can be nearest to one of its
 * points; no other can say anything in most_between(), of it or of its parts. */
static void
sort_out(Search *search, Square *square)
{
  double reach = fabs(square->depth) + 2 * G_SQRT2 * square->half + HAIR;
  const Way *ways = (const Way *)(void *)search->ways->data;
  guint from = search->near->len, n = 0;
  g_array_set_size(search->near, from + square->n);
  guint *near = &g_array_index(search->near, guint, 0);
  for (guint i = 0; i < square->n; i++)
    if (ways[i].length <= reach)
      near[from + n++] = near[square->from + i];
  g_array_set_size(search->near, from + n);
  square->from = from;
  square->n = n;
}

/* (its number) */
static guint
put_by(Search *search, Square square)
{
  guint last = search->spare->len;
  if (last == 0) {
    g_array_append_val(search->squares, square);
    return search->squares->len - 1;
  }
  guint number = g_array_index(search->spare, guint, last - 1);
  g_array_set_size(search->spare, last - 1);
  g_array_index(search->squares, Square, number) = square;
  return number;
}

/* A binary heap with the most promising square first. */
static void
heap_push(Search *search, Square square)
{
  GArray *heap = search->heap;
  Promise new = {square.most, put_by(search, square)};
  g_array_append_val(heap, new);
  Promise *at = (Promise *)(void *)heap->data;
  guint i = heap->len - 1;
  for (; i > 0 && at[(i - 1) / 2].most < new.most; i = (i - 1) / 2)
    at[i] = at[(i - 1) / 2];
  at[i] = new;
}

static Square
heap_pop(Search *search)
{
  GArray *heap = search->heap;
  Promise *at = (Promise *)(void *)heap->data, top = at[0];
  guint n = heap->len - 1, i = 0;
  Promise last = at[n];
  g_array_set_size(heap, n);
  for (;;) {
    guint left = 2 * i + 1, right = left + 1;
    guint big = right < n && at[right].most > at[left].most ? right : left;
    if (left >= n || !(at[big].most > last.most))
      break;
    at[i] = at[big];
    i = big;
  }
  if (n > 0)
    at[i] = last;
  g_array_append_val(search->spare, top.square);
  return g_array_index(search->squares, Square, top.square);
}

static void
heap_fill(Search *search, HfBox box)
{
  double half = fmax(fmin(hf_box_width(box), hf_box_height(box)), 1e-3) / 2;
  half = fmax(half, fmax(hf_box_width(box), hf_box_height(box)) / 128);
  for (double y = box.min.y; y < box.max.y; y += 2 * half)
    for (double x = box.min.x; x < box.max.x; x += 2 * half) {
      Square square = square_new(search, NULL, hf_point(x + half, y + half), half);
      sort_out(search, &square);
      heap_push(search, square);
    }
}

static void
split(Search *search, Square whole, double best)
{
  double h = whole.half / 2;
  for (int i = 0; i < 4; i++) {
    HfPoint at = {whole.at.x + (i & 1 ? h : -h), whole.at.y + (i & 2 ? h : -h)};
    Square part = square_new(search, &whole, at, h);
    if (!(part.most > best))
      continue;
    sort_out(search, &part);
    heap_push(search, part);
  }
}

static Square
deepest(Search *search, HfBox box, double accuracy, double enough)
{
  Square best = square_new(search, NULL, hf_box_centre(box), 0);
  heap_fill(search, box);
  while (search->heap->len > 0) {
    Square top = heap_pop(search);
    if (top.depth > best.depth)
      best = top;
    if (top.most - best.depth <= accuracy || best.depth >= enough)
      break;
    split(search, top, best.depth);
  }
  return best;
}

double
hf_region_inscribed(const HfRegion *region, guint outer, double accuracy, HfPoint *ret_centre)
{
  return hf_region_inscribed_until(region, outer, accuracy, INFINITY, ret_centre);
}

double
hf_region_inscribed_until(const HfRegion *region, guint outer, double accuracy, double enough,
                          HfPoint *ret_centre)
{
  g_return_val_if_fail(accuracy > 0 && outer < region->rings->len, 0);
  Search search = {region,
                   outer,
                   g_array_new(FALSE, FALSE, sizeof(Segment)),
                   g_array_new(FALSE, FALSE, sizeof(guint)),
                   g_array_new(FALSE, FALSE, sizeof(Square)),
                   g_array_new(FALSE, FALSE, sizeof(guint)),
                   g_array_new(FALSE, FALSE, sizeof(Promise)),
                   g_array_new(FALSE, FALSE, sizeof(Way))};
  add_segments(&search);
  Square best = deepest(&search, hf_ring_box(hf_region_ring(region, outer)), accuracy, enough);
  g_array_unref(search.segments);
  g_array_unref(search.near);
  g_array_unref(search.squares);
  g_array_unref(search.spare);
  g_array_unref(search.heap);
  g_array_unref(search.ways);
  if (ret_centre != NULL)
    *ret_centre = best.at;
  return fmax(best.depth, 0);
}
