/* SPDX-License-Identifier: GPL-3.0-or-later
 * inscribed.c - the largest circle in a ring less its openings, by branch and bound.
 *
 *   +---+---+    A square of half side h whose centre lies d inside the boundary holds no point
 *   | . | . |    that lies deeper than d + h sqrt 2. The most promising square is split into four
 *   +---+---+    until none can better the best centre by more than the accuracy.
 *   | . | . |    docs/maths.md#inscribed-circle
 *   +---+---+
 */
#include "geom/axis.h"

typedef struct {
  HfPoint at;
  double half, depth, most; /* depth: signed distance to the boundary, > 0 inside */
} Square;

typedef struct {
  HfPoint a, b;
} Segment;

static GArray *
segments_of(const HfRegion *region, guint outer)
{
  GArray *segments = g_array_new(FALSE, FALSE, sizeof(Segment));
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    if (r != outer && ring->parent != (gint)outer)
      continue;
    for (guint v = 0; v < ring->n; v++) {
      Segment s = {hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n])};
      g_array_append_val(segments, s);
    }
  }
  return segments;
}

static double
depth_at(const GArray *segments, HfPoint p)
{
  double square = INFINITY;
  gboolean inside = FALSE;
  const Segment *all = (const Segment *)(const void *)segments->data;
  for (guint i = 0; i < segments->len; i++) {
    const Segment *s = &all[i];
    double dx = s->b.x - s->a.x, dy = s->b.y - s->a.y, px = p.x - s->a.x, py = p.y - s->a.y;
    double t = CLAMP((px * dx + py * dy) / (dx * dx + dy * dy), 0, 1);
    double ex = px - t * dx, ey = py - t * dy;
    square = fmin(square, ex * ex + ey * ey);
    if ((s->a.y > p.y) != (s->b.y > p.y) && px < dx * py / dy)
      inside = !inside;
  }
  return inside ? sqrt(square) : -sqrt(square);
}

static Square
square_new(const GArray *segments, HfPoint at, double half)
{
  double depth = depth_at(segments, at);
  return (Square){at, half, depth, depth + half * G_SQRT2};
}

/* A binary heap with the most promising square first. */
static void
heap_push(GArray *heap, Square square)
{
  g_array_append_val(heap, square);
  Square *at = (Square *)(void *)heap->data;
  for (guint i = heap->len - 1; i > 0 && at[(i - 1) / 2].most < at[i].most; i = (i - 1) / 2) {
    Square other = at[i];
    at[i] = at[(i - 1) / 2];
    at[(i - 1) / 2] = other;
  }
}

static Square
heap_pop(GArray *heap)
{
  Square *at = (Square *)(void *)heap->data, top = at[0];
  guint n = heap->len - 1, i = 0;
  at[0] = at[n];
  g_array_set_size(heap, n);
  for (;;) {
    guint big = i, left = 2 * i + 1, right = left + 1;
    if (left < n && at[left].most > at[big].most)
      big = left;
    if (right < n && at[right].most > at[big].most)
      big = right;
    if (big == i)
      return top;
    Square other = at[i];
    at[i] = at[big];
    at[big] = other;
    i = big;
  }
}

static void
heap_fill(GArray *heap, const GArray *segments, HfBox box)
{
  double half = fmax(fmin(hf_box_width(box), hf_box_height(box)), 1e-3) / 2;
  half = fmax(half, fmax(hf_box_width(box), hf_box_height(box)) / 128);
  for (double y = box.min.y; y < box.max.y; y += 2 * half)
    for (double x = box.min.x; x < box.max.x; x += 2 * half)
      heap_push(heap, square_new(segments, hf_point(x + half, y + half), half));
}

double
hf_region_inscribed(const HfRegion *region, guint outer, double accuracy, HfPoint *ret_centre)
{
  g_return_val_if_fail(accuracy > 0 && outer < region->rings->len, 0);
  g_autoptr(GArray) segments = segments_of(region, outer);
  g_autoptr(GArray) heap = g_array_new(FALSE, FALSE, sizeof(Square));
  HfBox box = hf_ring_box(hf_region_ring(region, outer));
  Square best = square_new(segments, hf_box_centre(box), 0);
  heap_fill(heap, segments, box);
  while (heap->len > 0) {
    Square top = heap_pop(heap);
    if (top.depth > best.depth)
      best = top;
    if (top.most - best.depth <= accuracy)
      break;
    double h = top.half / 2;
    for (int i = 0; i < 4; i++) {
      HfPoint at = {top.at.x + (i & 1 ? h : -h), top.at.y + (i & 2 ? h : -h)};
      Square part = square_new(segments, at, h);
      if (part.most > best.depth)
        heap_push(heap, part);
    }
  }
  if (ret_centre != NULL)
    *ret_centre = best.at;
  return fmax(best.depth, 0);
}
