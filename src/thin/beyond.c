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

/* ---- what is known of each ring ahead -------------------------------------------------------- */

typedef struct {
  HfBox box;
  Sum sum;
  double *upto;   /* of each vertex: area swept from the first one's view up to it, n + 1 */
  double open;    /* outer ring: area of its openings, > 0 */
  guint first, n; /* outer ring: its openings, of sides->openings */
} RingKnown;

struct HfSides {
  const HfRegion *region;
  RingKnown *rings;
  guint *openings; /* ring numbers, by outer ring, in order */
};

static void
know_ring(RingKnown *known, const HfRing *ring)
{
  HfPoint o = hf_grid_point(ring->at[0]);
  known->box = hf_ring_box(ring);
  known->sum = sum_ring(ring);
  known->upto = g_new(double, ring->n + 1);
  known->upto[0] = 0;
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_point_sub(hf_grid_point(ring->at[v]), o);
    HfPoint b = hf_point_sub(hf_grid_point(ring->at[(v + 1) % ring->n]), o);
    known->upto[v + 1] = known->upto[v] + hf_point_cross(a, b) / 2;
  }
}

static void
know_openings(HfSides *sides)
{
  guint n = sides->region->rings->len, first = 0;
  sides->openings = g_new(guint, n + 1);
  for (guint pass = 0; pass < 2; pass++) {
    for (guint r = 0; r < n; r++) {
      gint parent = hf_region_ring(sides->region, r)->parent;
      if (parent < 0)
        continue;
      RingKnown *root = &sides->rings[parent];
      if (pass == 1) {
        sides->openings[root->first + root->n] = r;
        root->open += fabs(sides->rings[r].sum.area);
      }
      root->n++;
    }
    for (guint r = 0; pass == 0 && r < n; r++) {
      sides->rings[r].first = first;
      first += sides->rings[r].n;
      sides->rings[r].n = 0;
    }
  }
}

HfSides *
hf_sides_new(const HfRegion *region)
{
  HfSides *sides = g_new0(HfSides, 1);
  sides->region = region;
  sides->rings = g_new0(RingKnown, region->rings->len + 1);
  for (guint r = 0; r < region->rings->len; r++)
    know_ring(&sides->rings[r], hf_region_ring(region, r));
  know_openings(sides);
  return sides;
}

void
hf_sides_free(HfSides *sides)
{
  if (sides == NULL)
    return;
  for (guint r = 0; r < sides->region->rings->len; r++)
    g_free(sides->rings[r].upto);
  g_free(sides->rings);
  g_free(sides->openings);
  g_free(sides);
}

/* ---- one side -------------------------------------------------------------------------------- */

/* Takes off the openings of the part that lie within the way. */
static void
take_openings(const HfSides *sides, guint own, const GArray *way, HfBox box, Sum *sum)
{
  const HfRegion *region = sides->region;
  const RingKnown *root = &sides->rings[hf_region_root(region, own)];
  for (guint i = 0; i < root->n; i++) {
    guint r = sides->openings[root->first + i];
    const HfRing *ring = hf_region_ring(region, r);
    if (r == own || !hf_box_overlaps(box, sides->rings[r].box))
      continue;
    HfPoint p = hf_point_mix(hf_grid_point(ring->at[0]), hf_grid_point(ring->at[1]), 0.5);
    if (!way_holds(way, p))
      continue;
    Sum opening = sides->rings[r].sum; /* clockwise: negative */
    sum->area += opening.area;
    sum->moment = hf_point_add(sum->moment, opening.moment);
  }
}

static HfBeyond
side_of(const HfSides *sides, const HfCut *cut, gboolean there)
{
  g_autoptr(GArray) way = there
                              ? way_round(sides->region, cut->site_a, cut->a, cut->site_b, cut->b)
                              : way_round(sides->region, cut->site_b, cut->b, cut->site_a, cut->a);
  HfPoint middle = hf_point_mix(cut->a, cut->b, 0.5);
  const HfPoint *p = (const HfPoint *)(const void *)way->data;
  HfBeyond side = {.box = HF_BOX_EMPTY};
  for (guint i = 0; i < way->len; i++) {
    side.box = hf_box_add_point(side.box, p[i]);
    side.reach = fmax(side.reach, hf_point_distance(middle, p[i]));
  }
  Sum sum = sum_of(p, way->len);
  if (sum.area > 0)
    take_openings(sides, cut->site_a.ring, way, side.box, &sum);
  side.area = sum.area;
  side.centroid = hf_point_scale(sum.moment, sum.area != 0 ? 1 / sum.area : 0);
  return side;
}

/* ---- which side ------------------------------------------------------------------------------ */

/* mm2 that the way there encloses, openings not taken off; the way back encloses the rest. */
static double
enclosed(const HfSides *sides, const HfCut *cut)
{
  const HfRegion *region = sides->region;
  const HfRing *ring = hf_region_ring(region, cut->site_a.ring);
  const double *upto = sides->rings[cut->site_a.ring].upto;
  HfPoint o = hf_grid_point(ring->at[0]);
  HfPoint a = hf_point_sub(cut->a, o), b = hf_point_sub(cut->b, o);
  HfPoint i = hf_point_sub(hf_edge_end(region, cut->site_a), o);
  HfPoint j = hf_point_sub(hf_edge_start(region, cut->site_b), o);
  double swept = upto[cut->site_b.vertex] - upto[cut->site_a.vertex + 1];
  if (cut->site_b.vertex <= cut->site_a.vertex) /* past the first vertex */
    swept += upto[ring->n];
  return swept + (hf_point_cross(a, i) + hf_point_cross(j, b) + hf_point_cross(b, a)) / 2;
}

/* The side with less area is told from what the ways enclose, unless openings could turn it round.
 * So a cut costs what the smaller side does, and a thousand letters on one rail no more than their
 * own outlines. */
static gboolean
one_is_smaller(const HfSides *sides, const HfCut *cut, gboolean *ret_there)
{
  const RingKnown *ring = &sides->rings[cut->site_a.ring];
  if (cut->site_a.vertex == cut->site_b.vertex || ring->sum.area <= 0)
    return FALSE;
  double open = sides->rings[hf_region_root(sides->region, cut->site_a.ring)].open;
  double there = enclosed(sides, cut), back = ring->sum.area - there;
  double sure = 1e-6 * ring->sum.area;
  *ret_there = there < back;
  return fmin(there, back) > sure && fmin(there, back) + sure < fmax(there, back) - open;
}

HfBeyond
hf_sides_beyond(const HfSides *sides, const HfCut *cut)
{
  gboolean smaller;
  if (one_is_smaller(sides, cut, &smaller)) {
    HfBeyond side = side_of(sides, cut, smaller);
    if (side.area > 0)
      return side;
  }
  HfBeyond a = side_of(sides, cut, TRUE), b = side_of(sides, cut, FALSE);
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
  int order = hf_grid_compare(a->at, b->at);
  if (order != 0)
    return order;
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
