/* SPDX-License-Identifier: GPL-3.0-or-later
 * beyond.c - what hangs beyond a cut between two feet on one ring; where rings touch.
 *
 *      outer ring: both ways round     opening: one way round is a lobe of metal,
 *      enclose metal                   the other one the rest of the opening
 */
#include "thin/splice.h"

/* The way round the ring from foot a on to foot b, closed by the chord. */
static GArray *
way_round(const HfRegion *region, HfEdgeId from, HfPoint a, HfEdgeId to, HfPoint b)
{
  GArray *way = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  const HfRing *ring = hf_region_ring(region, from.ring);
  g_array_append_val(way, a);
  double ta, tb;
  hf_segment_nearest(hf_edge_start(region, from), hf_edge_end(region, from), a, &ta);
  hf_segment_nearest(hf_edge_start(region, to), hf_edge_end(region, to), b, &tb);
  guint steps = (to.vertex + ring->n - from.vertex) % ring->n;
  if (steps == 0 && ta >= tb)
    steps = ring->n;
  for (guint i = 1; i <= steps; i++) {
    HfPoint p = hf_grid_point(ring->at[(from.vertex + i) % ring->n]);
    g_array_append_val(way, p);
  }
  g_array_append_val(way, b);
  return way;
}

typedef struct {
  double area;
  HfPoint moment; /* area times centroid */
} Sum;

static Sum
sum_of(const HfPoint *p, guint n)
{
  Sum sum = {0, {0, 0}};
  HfPoint o = p[0];
  for (guint i = 0; i < n; i++) {
    HfPoint a = hf_point_sub(p[i], o), b = hf_point_sub(p[(i + 1) % n], o);
    double cross = hf_point_cross(a, b) / 2;
    sum.area += cross;
    sum.moment = hf_point_add(sum.moment, hf_point_scale(hf_point_add(a, b), cross / 3));
  }
  sum.moment = hf_point_add(sum.moment, hf_point_scale(o, sum.area));
  return sum;
}

static gboolean
way_holds(const GArray *way, HfPoint p)
{
  gboolean inside = FALSE;
  const HfPoint *at = (const HfPoint *)(const void *)way->data;
  HfPoint a = at[way->len - 1];
  for (guint i = 0; i < way->len; i++) {
    HfPoint b = at[i];
    if ((a.y > p.y) != (b.y > p.y) && p.x - a.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
      inside = !inside;
    a = b;
  }
  return inside;
}

static Sum
sum_ring(const HfRing *ring)
{
  g_autofree HfPoint *points = g_new(HfPoint, ring->n);
  for (guint v = 0; v < ring->n; v++)
    points[v] = hf_grid_point(ring->at[v]);
  return sum_of(points, ring->n);
}

/* Takes off the openings of the part that lie within the way. */
static void
take_openings(const HfRegion *region, guint own, const GArray *way, HfBox box, Sum *sum)
{
  guint root = hf_region_root(region, own);
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    if (r == own || r == root || ring->parent != (gint)root ||
        !hf_box_overlaps(box, hf_ring_box(ring)))
      continue;
    HfPoint p = hf_point_mix(hf_grid_point(ring->at[0]), hf_grid_point(ring->at[1]), 0.5);
    if (!way_holds(way, p))
      continue;
    Sum opening = sum_ring(ring); /* clockwise: negative */
    sum->area += opening.area;
    sum->moment = hf_point_add(sum->moment, opening.moment);
  }
}

static HfBeyond
side_of(const HfRegion *region, const GArray *way, guint ring, HfPoint middle)
{
  const HfPoint *p = (const HfPoint *)(const void *)way->data;
  HfBeyond side = {.box = HF_BOX_EMPTY};
  for (guint i = 0; i < way->len; i++) {
    side.box = hf_box_add_point(side.box, p[i]);
    side.reach = fmax(side.reach, hf_point_distance(middle, p[i]));
  }
  Sum sum = sum_of(p, way->len);
  if (sum.area > 0)
    take_openings(region, ring, way, side.box, &sum);
  side.area = sum.area;
  side.centroid = hf_point_scale(sum.moment, sum.area != 0 ? 1 / sum.area : 0);
  return side;
}

HfBeyond
hf_region_beyond(const HfRegion *region, const HfCut *cut)
{
  HfPoint middle = hf_point_mix(cut->a, cut->b, 0.5);
  g_autoptr(GArray) there = way_round(region, cut->site_a, cut->a, cut->site_b, cut->b);
  g_autoptr(GArray) back = way_round(region, cut->site_b, cut->b, cut->site_a, cut->a);
  HfBeyond a = side_of(region, there, cut->site_a.ring, middle);
  HfBeyond b = side_of(region, back, cut->site_a.ring, middle);
  if (a.area <= 0 || b.area <= 0) /* on an opening: the lobe is the side with area */
    return a.area > b.area ? a : b;
  return a.area < b.area ? a : b;
}

/* ---- touches --------------------------------------------------------------------------------- */

typedef struct {
  HfGrid at;
  HfEdgeId id;
} Vertex;

static int
by_grid(gconstpointer p, gconstpointer q)
{
  const Vertex *a = p, *b = q;
  if (a->at.x != b->at.x)
    return a->at.x < b->at.x ? -1 : 1;
  if (a->at.y != b->at.y)
    return a->at.y < b->at.y ? -1 : 1;
  if (a->id.ring != b->id.ring)
    return a->id.ring < b->id.ring ? -1 : 1;
  return (a->id.vertex > b->id.vertex) - (a->id.vertex < b->id.vertex);
}

GArray *
hf_region_touches(const HfRegion *region)
{
  GArray *touches = g_array_new(FALSE, FALSE, sizeof(HfTouch));
  guint n = hf_region_n_edges(region), k = 0;
  g_autofree Vertex *all = g_new(Vertex, n + 1);
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++)
      all[k++] = (Vertex){hf_region_ring(region, r)->at[v], {r, v}};
  qsort(all, n, sizeof *all, by_grid);
  for (guint i = 0; i + 1 < n; i++)
    for (guint j = i + 1; j < n && all[j].at.x == all[i].at.x && all[j].at.y == all[i].at.y; j++) {
      HfTouch touch = {all[i].id, all[j].id, hf_grid_point(all[i].at)};
      g_array_append_val(touches, touch);
    }
  return touches;
}
