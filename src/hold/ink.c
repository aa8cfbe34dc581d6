/* SPDX-License-Identifier: GPL-3.0-or-later
 * ink.c - pieces and counters of a drawn letter, and what of them is still there.
 *
 * What counts is the outline as the face draws it, before the recipe made it bolder and before any
 * rule: an edge of the metal within `reach` of a spot, running the same way with metal on the same
 * side, is the letter's own. Where nothing moved edges, `reach` is next to nothing; where letters
 * are bolder or mended it is a quarter of their stroke.
 */
#include "hold/ink-private.h"
#include "recipe/kind.h"

#define COARSE_MM   0.05 /* shares are compared, not drawn */
#define SPOTS_MOST  900
#define SPOTS_LEAST 24
#define STILL_MM    0.15 /* an edge that nothing moved */
#define LATTICE     9    /* places across the smaller side of a box, to measure an area */

static double
bolder_of(const HfCheck *check, const HfShape *shape)
{
  double by = hf_entry_font(hf_recipe_at(check->recipe, shape->entry))->bolder;
  return shape->drawn == NULL || isnan(by) ? 0 : by;
}

gboolean
hf_ink_is_mended(const HfCheck *check, guint shape)
{
  for (guint i = shape + 1; i < check->layout->shapes->len; i++)
    if (hf_layout_shape(check->layout, i)->mends == shape + 1)
      return TRUE;
  return FALSE;
}

/* mm that mending may move an edge: it makes a web of no width so much over the limit
 * (docs/maths.md). */
static double
mended_by(const HfCheck *check)
{
  double web = check->hold->limits[HF_LAW_THIN_LONG_WEB].stop;
  double joint = check->hold->limits[HF_LAW_WEAK_JOINT].stop;
  return HF_OVER_LIMIT / 2 * fmax(web, joint) + STILL_MM;
}

/* Areas, and of each piece the width of its stroke; counters are taken off their piece. */
static void
measure_rings(HfInk *ink)
{
  g_autofree double *edge = g_new0(double, ink->n);
  for (guint r = 0; r < ink->n; r++) {
    const HfRing *ring = hf_region_ring(ink->drawn, r);
    HfInkRing *of = &ink->rings[r];
    of->counter = ring->parent >= 0;
    of->piece = of->counter ? (guint)ring->parent : r;
    of->area += fabs(hf_ring_area(ring));
    of->box = hf_ring_box(ring);
    edge[r] += hf_ring_perimeter(ring);
    if (of->counter) {
      ink->rings[of->piece].area -= of->area;
      edge[of->piece] += edge[r];
    }
  }
  for (guint r = 0; r < ink->n; r++) {
    HfInkRing *of = &ink->rings[r];
    of->width = 2 * of->area / edge[r];
    if (!of->counter && of->area > ink->rings[ink->body].area)
      ink->body = r;
  }
}

HfInk *
hf_ink_new(const HfCheck *check, guint shape)
{
  const HfShape *of = hf_layout_shape(check->layout, shape);
  g_autoptr(HfInk) ink = g_new0(HfInk, 1);
  ink->drawn = hf_region_of_outline(of->drawn != NULL ? of->drawn : of->outline, 0, COARSE_MM);
  ink->n = ink->drawn->rings->len;
  if (ink->n == 0)
    return NULL;
  ink->rings = g_new0(HfInkRing, ink->n);
  ink->opening = of->opening;
  ink->bolder = bolder_of(check, of);
  if (ink->bolder < 0)
    ink->lighter = hf_region_of_outline(of->outline, 0, COARSE_MM);
  while (hf_region_ring(ink->drawn, ink->body)->parent >= 0)
    ink->body++;
  measure_rings(ink);
  ink->layout = check->layout;
  ink->shape = shape;
  ink->reach = fabs(ink->bolder) + STILL_MM; /* at an inside corner a moved spot lies so deep */
  ink->mended = hf_ink_is_mended(check, shape) ? mended_by(check) : 0;
  return g_steal_pointer(&ink);
}

void
hf_ink_free(HfInk *ink)
{
  if (ink == NULL)
    return;
  for (guint r = 0; r < ink->n; r++)
    g_free(ink->rings[r].spots);
  g_free(ink->rings);
  hf_region_free(ink->drawn);
  hf_region_free(ink->lighter);
  g_free(ink);
}

static double
reach_of(const HfInk *ink, const HfInkRing *ring)
{
  return fmax(fmin(ring->width / 4, ink->reach), STILL_MM);
}

double
hf_ink_margin(const HfInk *ink)
{
  double most = 0;
  for (guint r = 0; r < ink->n; r++)
    most = fmax(most, reach_of(ink, &ink->rings[r]));
  return fmax(most, ink->mended) + fabs(ink->bolder) + 1;
}

/* ---- spots ------------------------------------------------------------------------------------
 */

/* Spots at equal distances along the ring. The ink lies to the left of the drawn edge. */
static void
place_spots(const HfInk *ink, guint r)
{
  const HfRing *ring = hf_region_ring(ink->drawn, r);
  HfInkRing *of = &ink->rings[r];
  double edge = hf_ring_perimeter(ring), walked = 0;
  of->n = (guint)CLAMP(edge / fmax(of->width / 3, 1e-6), SPOTS_LEAST, SPOTS_MOST);
  of->spots = g_new0(HfSpotOfInk, of->n);
  of->step = edge / of->n;
  guint v = 0;
  for (guint i = 0; i < of->n; i++) {
    HfPoint a, b;
    double wanted = (i + 0.5) * of->step, length;
    for (;; v++) {
      a = hf_grid_point(ring->at[v % ring->n]);
      b = hf_grid_point(ring->at[(v + 1) % ring->n]);
      length = hf_point_distance(a, b);
      if (walked + length >= wanted || v + 1 >= ring->n)
        break;
      walked += length;
    }
    HfPoint along = hf_point_scale(hf_point_sub(b, a), length > 0 ? 1 / length : 0);
    HfSpotOfInk *spot = &of->spots[i];
    spot->out = hf_point(along.y, -along.x);
    spot->at = hf_point_add(hf_point_mix(a, b, CLAMP((wanted - walked) / length, 0, 1)),
                            hf_point_scale(spot->out, ink->bolder));
  }
}

static guint
shape_of(const HfNear *near, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(near->metal, id.ring);
  return ring->from != NULL ? ring->from[id.vertex].shape : HF_NO_SHAPE;
}

static gboolean
mends_it(const HfInk *ink, const HfNear *near, HfEdgeId id)
{
  guint s = shape_of(near, id);
  return s < ink->layout->shapes->len && hf_layout_shape(ink->layout, s)->mends == ink->shape + 1;
}

/* Puts into the spot the ring of the nearest edge of the metal that runs there as the letter's
 * does, or that mended it and is no farther off than mending goes; -1: none. */
static void
find_edge(const HfInk *ink, const HfNear *near, HfSpotOfInk *spot, double reach, GArray *ids)
{
  HfPoint along = hf_point(-spot->out.y, spot->out.x); /* metal on its left */
  if (ink->opening)
    along = hf_point_scale(along, -1);
  spot->ring = -1;
  double nearest = INFINITY, most = fmax(reach, ink->mended);
  HfBox around = hf_box_grow((HfBox){spot->at, spot->at}, most * (1 + 1e-9));
  hf_index_query(near->index, around, ids);
  for (guint i = 0; i < ids->len; i++) {
    HfEdgeId id = g_array_index(ids, HfEdgeId, i);
    HfPoint a = hf_edge_start(near->metal, id), b = hf_edge_end(near->metal, id);
    HfPoint way = hf_point_sub(b, a);
    if (!hf_box_overlaps(around, hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b)))
      continue;
    double away = hf_point_distance(hf_segment_nearest(a, b, spot->at, NULL), spot->at);
    if (away > most || away > nearest || hf_point_dot(way, along) < 0.5 * hf_point_length(way) ||
        (away > reach && !mends_it(ink, near, id)))
      continue;
    nearest = away;
    spot->ring = (gint)id.ring;
    spot->own = shape_of(near, id) == ink->shape || mends_it(ink, near, id);
  }
}

void
hf_ink_look(HfInk *ink, const HfNear *near)
{
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < ink->n; r++) {
    HfInkRing *of = &ink->rings[r];
    guint seen = 0;
    place_spots(ink, r);
    for (guint i = 0; i < of->n; i++) {
      HfSpotOfInk *spot = &of->spots[i];
      find_edge(ink, near, spot, reach_of(ink, of), ids);
      spot->metal = spot->ring < 0 && hf_near_contains(near, spot->at);
      seen += spot->ring >= 0;
    }
    of->shows = (double)seen / of->n;
  }
}

/* ---- by area ----------------------------------------------------------------------------------
 */

double
hf_ink_there(const HfInk *ink, const HfNear *near, guint ring)
{
  const HfInkRing *of = &ink->rings[ring];
  double side = fmin(hf_box_width(of->box), hf_box_height(of->box)) / LATTICE;
  guint nx = (guint)CLAMP(hf_box_width(of->box) / side, 1, 60), asked = 0, there = 0;
  guint ny = (guint)CLAMP(hf_box_height(of->box) / side, 1, 60);
  gboolean as_metal = of->counter == ink->opening;
  const HfRegion *drawn = ink->lighter != NULL ? ink->lighter : ink->drawn;
  for (guint i = 0; i < nx * ny; i++) {
    guint column = i % nx, row = i / nx;
    HfPoint p = {of->box.min.x + hf_box_width(of->box) * (column + 0.5) / nx,
                 of->box.min.y + hf_box_height(of->box) * (row + 0.5) / ny};
    gboolean in = of->counter ? hf_ring_holds(hf_region_ring(ink->drawn, ring), p)
                              : hf_region_contains(drawn, p) &&
                                    hf_ring_holds(hf_region_ring(ink->drawn, ring), p);
    if (!in)
      continue;
    asked++;
    there += hf_near_contains(near, p) == as_metal;
  }
  return asked > 0 ? (double)there / asked : of->shows;
}
