/* SPDX-License-Identifier: GPL-3.0-or-later
 * true-width.c - how narrow a zone is between the true curves, not between their chords.
 *
 *        ( chord |  <- up to 5 um off    The chords of an opening lie in it, those of a disc in the
 *         \      |                       metal: between two openings the chords leave a web up to
 *    hole  )     | web                   10 um more than the curves do. A zone that only the chords
 *         /      |                       let pass is measured again here.
 *
 * Invariant: what is passed is true to less than HF_SLACK under its limit. From each place of the
 * middle line, five to a step, the nearest point of the curve that either foot's edge came from, or
 * the edge before or behind it: Newton's method within the stretch of the edge. Accuracy: a fifth
 * of a step is off by 1/25 of the chord's height, 0.2 um. An edge without a source is its chord.
 */
#include "hold/true-width-private.h"

enum { PLACES = 5, ROUNDS = 4 };

static const double ON_CURVE = 1e-3; /* mm, beside the flattening: what rounding moved an end by */

static HfGrid
vertex(const HfRing *ring, guint v)
{
  return ring->at[v < ring->n ? v : v - ring->n];
}

/* The curve that edge @v of @ring came from, where both its ends still lie on it; else %NULL. */
static const HfCurve *
curve_of(const HfLayout *layout, const HfRing *ring, guint v)
{
  const HfEdge *from = ring->from == NULL ? NULL : &ring->from[v];
  if (from == NULL || from->shape >= layout->shapes->len || from->t0 == from->t1)
    return NULL;
  const GArray *curves = hf_layout_shape(layout, from->shape)->outline->curves;
  if (from->curve >= curves->len)
    return NULL;
  const HfCurve *curve = &g_array_index(curves, HfCurve, from->curve);
  if (curve->kind == HF_CURVE_LINE)
    return NULL;
  double off =
      fmax(hf_point_distance(hf_curve_point(curve, from->t0), hf_grid_point(vertex(ring, v))),
           hf_point_distance(hf_curve_point(curve, from->t1), hf_grid_point(vertex(ring, v + 1))));
  return off > HF_FLATTEN_MM + ON_CURVE ? NULL : curve;
}

/* Least distance from @p to @curve between t0 and t1. */
static double
off_curve(const HfCurve *curve, double t0, double t1, HfPoint p, double t)
{
  double low = fmin(t0, t1), high = fmax(t0, t1), least = INFINITY;
  for (int i = 0; i < ROUNDS; i++) {
    HfPoint off = hf_point_sub(hf_curve_point(curve, t), p), d = hf_curve_derivative(curve, t);
    double square = hf_point_dot(d, d);
    least = fmin(least, hf_point_length(off));
    if (square <= 0)
      break;
    t = CLAMP(t - hf_point_dot(off, d) / square, low, high);
  }
  return least;
}

/* Least distance from @p to what edge @site of the metal, the one before it and the one after stand
 * for. */
static double
off_bank(const HfCheck *check, HfEdgeId site, HfPoint p)
{
  const HfRing *ring = hf_region_ring(check->metal->region, site.ring);
  double off = INFINITY, square = INFINITY; /* of curves, of chords */
  for (guint k = 0; k < 3; k++) {
    guint v = (site.vertex + ring->n - 1 + k) % ring->n;
    double share;
    HfPoint a = hf_grid_point(vertex(ring, v)), b = hf_grid_point(vertex(ring, v + 1));
    HfPoint way = hf_point_sub(hf_segment_nearest(a, b, p, &share), p);
    const HfCurve *curve = curve_of(check->layout, ring, v);
    const HfEdge *from = curve == NULL ? NULL : &ring->from[v];
    if (from == NULL)
      square = fmin(square, hf_point_dot(way, way));
    else
      off = fmin(off,
                 off_curve(curve, from->t0, from->t1, p, from->t0 + share * (from->t1 - from->t0)));
  }
  return fmin(off, sqrt(square));
}

static double
width_at(const HfCheck *check, const HfZone *at, HfSiteOf site_of)
{
  const HfRegion *region = check->metal->region;
  return off_bank(check, site_of(region, at->site_a), at->place.at) +
         off_bank(check, site_of(region, at->site_b), at->place.at);
}

HfEdgeId
hf_site_of_metal(const HfRegion *region G_GNUC_UNUSED, HfEdgeId site)
{
  return site;
}

HfEdgeId
hf_site_of_turned(const HfRegion *region, HfEdgeId site)
{
  guint n = hf_region_ring(region, site.ring)->n;
  return (HfEdgeId){site.ring, (2 * n - 2 - site.vertex) % n};
}

/* Is all of the zone between edges that are their own chords, and so its width the true one? */
static gboolean
is_straight(const HfCheck *check, const HfZones *zones, HfSiteOf site_of, const HfZone *zone)
{
  const HfRegion *region = check->metal->region;
  for (guint i = 0; i < zone->n; i++) {
    HfZone at;
    if (!hf_zone_at(zones, zone, i, &at)) /* a tip, which is not measured */
      continue;
    for (guint k = 0; k < 6; k++) {
      HfEdgeId site = site_of(region, k < 3 ? at.site_a : at.site_b);
      const HfRing *ring = hf_region_ring(region, site.ring);
      if (curve_of(check->layout, ring, (site.vertex + ring->n - 1 + k % 3) % ring->n) != NULL)
        return FALSE;
    }
  }
  return !zone->tips_only;
}

gboolean
hf_check_true_width(const HfCheck *check, const HfZones *zones, HfSiteOf site_of, double limit,
                    HfZone *zone)
{
  if (is_straight(check, zones, site_of, zone))
    return zone->width < limit;
  HfZone least = *zone;
  least.width = INFINITY;
  for (guint i = 0; i < zone->n; i++) {
    HfStretch s = g_array_index(zones->stretches, HfStretch, zone->first + i);
    for (double where = s.inner_from; where <= s.inner_to;) {
      HfZone at = *zone;
      hf_zone_place(zones, s.edge, where, &at);
      if (at.width < zones->limit)
        at.width = width_at(check, &at, site_of);
      if (at.width < least.width)
        least = at;
      if (where >= s.inner_to)
        break;
      where = fmin(where + 1.0 / PLACES, s.inner_to);
    }
  }
  *zone = least;
  return least.width < limit;
}
