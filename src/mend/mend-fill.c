/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-fill.c - what is too small to cut becomes metal, or is made larger.
 *
 *      |metal|       a ____ b      a narrow gap is filled between its feet, from end to end or up
 *      |    a|------|b              to where it is wide enough, with a straight edge there
 *
 * Fills run into the metal beside them by a hair, so that the union swallows their edges.
 */
#include "geom/bolder.h"
#include "mend/mend-private.h"

#define HAIR    0.03 /* mm */
#define WIDER   1.2  /* limits: up to where a gap is filled */
#define ROOMIER 0.02 /* mm: an opening is made larger than its limit by this */

/* ---- openings -------------------------------------------------------------------------------- */

/* The smallest opening that holds @p; -1: none. */
static gint
opening_at(const HfRegion *metal, HfPoint p)
{
  gint found = -1;
  double smallest = INFINITY;
  for (guint r = 0; r < metal->rings->len; r++) {
    const HfRing *ring = hf_region_ring(metal, r);
    double area = fabs(hf_ring_area(ring));
    if (ring->parent < 0 || area >= smallest || !hf_ring_holds(ring, p))
      continue;
    smallest = area;
    found = (gint)r;
  }
  return found;
}

static gboolean
is_hole_to_hang_by(const HfMendView *view, HfPoint at)
{
  for (guint i = 0; i < view->sign->layout->hangs->len; i++) {
    const HfHang *hang = &g_array_index(view->sign->layout->hangs, HfHang, i);
    if (hang->kind == HF_HANG_HOLE && hf_point_distance(hang->at, at) < hang->diameter / 2)
      return TRUE;
  }
  return FALSE;
}

/* The opening as a region of its own, whatever lies in it swallowed. */
static HfRegion *
opening_region(const HfRing *ring)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_add_ring(raw, ring->at, NULL, ring->n);
  return hf_region_clean(raw);
}

/* The two that made most of its edge, the most first. */
static void
ring_makers(const HfMendView *view, guint r, guint *ret_a, guint *ret_b)
{
  const HfRing *ring = hf_region_ring(view->sign->metal->region, r);
  guint n = view->sign->layout->shapes->len;
  g_autofree double *made = g_new0(double, n + 1);
  for (guint v = 0; v < ring->n; v++)
    made[MIN(ring->from[v].shape, n)] +=
        hf_point_distance(hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]));
  guint first = HF_NO_SHAPE, second = HF_NO_SHAPE;
  for (guint s = 0; s < n; s++)
    if (made[s] > 0 && (first == HF_NO_SHAPE || made[s] > made[first]))
      first = s;
  for (guint s = 0; s < n; s++)
    if (s != first && made[s] > 0 && (second == HF_NO_SHAPE || made[s] > made[second]))
      second = s;
  *ret_a = first;
  *ret_b = second == HF_NO_SHAPE ? first : second;
}

static void
fill_ring(HfMendView *view, HfLawKind kind, HfPoint at, guint r, const char *what)
{
  g_autoptr(HfRegion) opening = opening_region(hf_region_ring(view->sign->metal->region, r));
  g_autoptr(HfRegion) grown = hf_region_offset(opening, HAIR, 0.005);
  guint a, b;
  ring_makers(view, r, &a, &b);
  hf_mend_add(view, kind, at, hf_region_chords(grown), FALSE, what, a, b);
}

void
hf_mend_fill_opening(HfMendView *view, HfLawKind kind, HfPoint at)
{
  gint r = opening_at(view->sign->metal->region, at);
  if (r >= 0 && !is_hole_to_hang_by(view, at))
    fill_ring(view, kind, at, (guint)r, "the filled opening of %s");
}

/* ---- gaps ------------------------------------------------------------------------------------ */

static void
put(GArray *points, HfPoint p)
{
  HfGrid g = hf_grid_snap(p);
  g_array_append_val(points, g);
}

/* What lies between the feet of one piece of the gap's axis; at nodes up to the node itself. */
static void
add_cell(const HfMendNet *net, const HfNetPiece *piece, HfRegion *cells)
{
  g_autoptr(GArray) axis = g_array_new(FALSE, FALSE, sizeof(HfAxisPoint));
  HfAxisPoint p = hf_mend_net_point(net, piece->edge, piece->from);
  g_array_append_val(axis, p);
  for (guint i = (guint)floor(piece->from) + 1; i < piece->to; i++) {
    p = hf_mend_net_point(net, piece->edge, i);
    g_array_append_val(axis, p);
  }
  p = hf_mend_net_point(net, piece->edge, piece->to);
  g_array_append_val(axis, p);
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  if (piece->end[0] != HF_NET_MOUTH)
    put(points, g_array_index(axis, HfAxisPoint, 0).at);
  for (guint i = 0; i < axis->len; i++)
    put(points, g_array_index(axis, HfAxisPoint, i).foot_b);
  if (piece->end[1] != HF_NET_MOUTH)
    put(points, p.at);
  for (guint i = axis->len; i-- > 0;)
    put(points, g_array_index(axis, HfAxisPoint, i).foot_a);
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_add_ring(raw, (HfGrid *)(void *)points->data, NULL, points->len);
  g_autoptr(HfRegion) clean = hf_region_clean(raw);
  for (guint r = 0; r < clean->rings->len; r++) {
    const HfRing *ring = hf_region_ring(clean, r);
    hf_region_add_ring(cells, ring->at, NULL, ring->n);
  }
}

static gboolean
is_closed(const GArray *zone)
{
  for (guint i = 0; i < zone->len; i++)
    for (int k = 0; k < 2; k++)
      if (g_array_index(zone, HfNetPiece, i).end[k] == HF_NET_MOUTH)
        return FALSE;
  return TRUE;
}

void
hf_mend_fill_gap(HfMendView *view, HfLawKind kind, HfPoint at, double limit)
{
  const HfMendNet *net = hf_mend_gap_net(view);
  g_autoptr(GArray) zone = hf_mend_net_zone(net, at, WIDER * limit / 2, limit);
  if (zone->len == 0)
    return;
  if (is_closed(zone)) {
    gint r = opening_at(view->sign->metal->region, at);
    if (r >= 0 && !is_hole_to_hang_by(view, at))
      fill_ring(view, kind, at, (guint)r, "the filled opening of %s");
    return;
  }
  g_autoptr(HfRegion) cells = hf_region_new();
  for (guint i = 0; i < zone->len; i++)
    add_cell(net, &g_array_index(zone, HfNetPiece, i), cells);
  g_autoptr(HfRegion) one = hf_region_clean(cells);
  g_autoptr(HfRegion) grown = hf_region_offset(one, HAIR, 0.005);
  if (hf_region_is_empty(grown))
    return;
  guint a, b;
  hf_mend_makers(view, net, zone, &a, &b);
  if (a == b && hf_mend_is_letter(view, a))
    return; /* between two strokes of one letter: part of its drawing */
  hf_mend_fill_smooth(view, kind, at, hf_region_chords(grown), WIDER * limit,
                      "the filled gap of %s", (guint[]){a, b});
}

/* ---- larger ---------------------------------------------------------------------------------- */

/* The true curves that ring @r was made of, chords where they are not known. */
static HfOutline *
ring_curves(const HfMendView *view, const HfRing *ring)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_begin(outline, hf_grid_point(ring->at[0]));
  for (guint v = 0; v < ring->n;) {
    HfEdge from = ring->from[v];
    guint end = v + 1;
    while (end < ring->n && ring->from[end].shape == from.shape &&
           ring->from[end].curve == from.curve &&
           fabs(ring->from[end].t0 - ring->from[end - 1].t1) < 1e-9)
      end++;
    HfPoint to = hf_grid_point(ring->at[end % ring->n]);
    const HfShape *shape = from.shape < view->sign->layout->shapes->len
                               ? hf_layout_shape(view->sign->layout, from.shape)
                               : NULL;
    if (shape == NULL || from.curve >= shape->outline->curves->len) {
      hf_outline_line_to(outline, to);
      v = end;
      continue;
    }
    HfCurve curve = hf_curve_between(&g_array_index(shape->outline->curves, HfCurve, from.curve),
                                     from.t0, ring->from[end - 1].t1);
    if (curve.kind == HF_CURVE_CUBIC)
      hf_outline_cubic_to(outline, curve.c0, curve.c1, to);
    else if (curve.kind == HF_CURVE_ARC)
      hf_outline_arc_to(outline, curve.c0, curve.sweep, to);
    else
      hf_outline_line_to(outline, to);
    v = end;
  }
  hf_outline_close(outline);
  return outline;
}

static gboolean
holds_island(const HfRegion *metal, guint hole)
{
  for (guint r = 0; r < metal->rings->len; r++)
    if (hf_region_ring(metal, r)->parent < 0 &&
        hf_ring_holds(hf_region_ring(metal, hole),
                      hf_grid_point(hf_region_ring(metal, r)->at[0])) &&
        hf_region_ring(metal, hole)->parent != (gint)r)
      return TRUE;
  return FALSE;
}

void
hf_mend_enlarge(HfMendView *view, HfLawKind kind, HfPoint at, double limit)
{
  const HfRegion *metal = view->sign->metal->region;
  gint r = opening_at(metal, at);
  if (r < 0 || is_hole_to_hang_by(view, at) || holds_island(metal, (guint)r))
    return;
  const HfRing *ring = hf_region_ring(metal, (guint)r);
  g_autoptr(HfRegion) opening = opening_region(ring);
  HfPoint centre;
  double room = hf_region_inscribed(opening, 0, 0.002, &centre);
  g_autoptr(HfOutline) curves = ring_curves(view, ring);
  HfOutline *larger = hf_outline_bolder(curves, limit + ROOMIER - room);
  guint a, b;
  ring_makers(view, (guint)r, &a, &b);
  hf_mend_add(view, kind, at, larger, TRUE, "the larger opening of %s", a, b);
}
