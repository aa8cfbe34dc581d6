/* SPDX-License-Identifier: GPL-3.0-or-later
 * retrace.c - runs of edges that go along one curve become that stretch of it.
 *
 *   edges   a1 a2 a3 | b1 | c1 c2          curves   (___a___) b (__c_)
 *
 * Accuracy: the chords' own, a joint stays at the ring's vertex. Degenerate: a ring that is all one
 * curve begins where that does.
 */
#include "geom/retrace.h"
#include "geom/trace.h"

#define GOES_ON   1e-6 /* of the parameter */
#define ON_CIRCLE 0.01 /* mm: a vertex this near to an arc's circle is moved onto it */

typedef struct {
  const HfRing *ring;
  HfCurveOf curve_of;
  gconstpointer data;
} Walk;

static const HfCurve *
curve_at(const Walk *walk, guint v)
{
  const HfEdge *from = walk->ring->from == NULL ? NULL : &walk->ring->from[v % walk->ring->n];
  if (from == NULL || from->shape == HF_NO_SHAPE || from->t0 == from->t1)
    return NULL;
  return walk->curve_of(from, walk->data);
}

/* Does edge @v + 1 go on where edge @v ends, on the same curve the same way? */
static gboolean
goes_on(const Walk *walk, guint v)
{
  const HfCurve *curve = curve_at(walk, v);
  if (curve == NULL || curve != curve_at(walk, v + 1))
    return FALSE;
  const HfEdge *a = &walk->ring->from[v % walk->ring->n];
  const HfEdge *b = &walk->ring->from[(v + 1) % walk->ring->n];
  return fabs(b->t0 - a->t1) < GOES_ON && (a->t1 > a->t0) == (b->t1 > b->t0);
}

static HfPoint
vertex(const Walk *walk, guint v)
{
  return hf_grid_point(walk->ring->at[v % walk->ring->n]);
}

static HfPoint
onto_circle(const HfCurve *curve, HfPoint p)
{
  if (curve == NULL || curve->kind != HF_CURVE_ARC)
    return p;
  HfPoint out = hf_point_sub(p, curve->c0);
  double length = hf_point_length(out), r = hf_curve_radius(curve);
  if (length == 0 || fabs(length - r) > ON_CIRCLE)
    return p;
  return hf_point_add(curve->c0, hf_point_scale(out, r / length));
}

/* Where the stretch before vertex @v and the one behind it meet. */
static HfPoint
joint(const Walk *walk, guint v)
{
  const HfCurve *behind = curve_at(walk, v), *before = curve_at(walk, v + walk->ring->n - 1);
  HfPoint p = onto_circle(behind, vertex(walk, v));
  return before != NULL && before->kind == HF_CURVE_ARC ? onto_circle(before, p) : p;
}

/* Edges [first, first + n), all of one curve or one alone. */
static void
draw_stretch(const Walk *walk, guint first, guint n, HfPoint to, HfOutline *out)
{
  const HfCurve *curve = curve_at(walk, first);
  if (curve == NULL || curve->kind == HF_CURVE_LINE) {
    hf_outline_line_to(out, to);
    return;
  }
  const HfEdge *from = walk->ring->from;
  HfCurve part = hf_curve_between(curve, from[first % walk->ring->n].t0,
                                  from[(first + n - 1) % walk->ring->n].t1);
  if (curve->kind == HF_CURVE_CUBIC)
    hf_outline_cubic_to(out, part.c0, part.c1, to);
  else
    hf_outline_arc_to(out, part.c0, part.sweep, to);
}

static void
draw_ring(const Walk *walk, HfOutline *out)
{
  guint n = walk->ring->n, first = 0;
  g_assert(n > 0);
  while (first < n && goes_on(walk, first + n - 1))
    first++;
  first %= n;
  HfPoint start = joint(walk, first);
  hf_outline_begin(out, start);
  for (guint i = 0, many; i < n; i += many) {
    for (many = 1; i + many < n && goes_on(walk, first + i + many - 1);)
      many++;
    draw_stretch(walk, first + i, many, i + many == n ? start : joint(walk, first + i + many), out);
  }
  hf_outline_close(out);
}

HfOutline *
hf_region_curves(const HfRegion *region, HfCurveOf curve_of, gconstpointer data)
{
  HfOutline *out = hf_outline_new();
  for (guint r = 0; r < region->rings->len; r++) {
    Walk walk = {hf_region_ring(region, r), curve_of, data};
    draw_ring(&walk, out);
  }
  return out;
}

static const HfCurve *
curve_of_outline(const HfEdge *from, gconstpointer outline)
{
  return &g_array_index(((const HfOutline *)outline)->curves, HfCurve, from->curve);
}

HfOutline *
hf_region_curves_of(HfRegion *region, const HfOutline *outline, double tolerance)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, tolerance);
  if (!hf_region_is_empty(raw) && !hf_region_is_empty(region)) {
    g_autoptr(HfTrace) trace = hf_trace_new(raw, 1);
    hf_trace_whole(trace, region, HF_TRACE_CLOSEST);
  }
  return hf_region_curves(region, curve_of_outline, outline);
}
