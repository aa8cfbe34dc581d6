/* SPDX-License-Identifier: GPL-3.0-or-later
 * wished.c - where and how the recipe wants a path begun (its key `cut`).
 *
 *      top left x . . . .          a direction is taken to the edge of the contour's box, and from
 *               . \  ___ .          there, as from a point, to what of the contour is nearest; the
 *               .  `o   \.          places beside it are tried where there is no room
 */
#include "lead/lead-private.h"

/* mm along the contour, to either side of the place that is meant. */
static const double beside[] = {0, 1, -1, 2, -2, 4, -4, 7, -7, 12, -12, 20, -20};
enum { STEPS = 16 }; /* places of one curve that are looked at, before the best is refined */

HfLeadWish
hf_lead_wished(const HfLeadWork *work)
{
  static const HfLeadWish usual = {{HF_WAY_IN_USUAL, NAN, NAN}, {HF_SPOT_NONE, 0, {0, 0}}};
  const HfLeadWish *wishes = work->options->wishes;
  return wishes != NULL ? wishes[hf_torch_path(work->paths, work->path)->ring] : usual;
}

void
hf_lead_tell_unmet(HfLeadWork *work, HfPoint at, char *says)
{
  HfLeadUnmet one = {work->path, at, says};
  g_array_append_val(work->paths->unmet, one);
}

/* Where direction @angle meets the box, stretched to a square: top left is its corner. */
static HfPoint
edge_of(HfBox box, double angle)
{
  HfPoint middle = hf_point_scale(hf_point_add(box.min, box.max), 0.5);
  double c = cos(angle), s = sin(angle), most = fmax(fabs(c), fabs(s));
  return hf_point(middle.x + (box.max.x - box.min.x) / 2 * c / most,
                  middle.y + (box.max.y - box.min.y) / 2 * s / most);
}

static HfPoint
target_of(const HfCurve *curves, guint n, const HfSpot *spot)
{
  if (spot->kind == HF_SPOT_POINT)
    return spot->point;
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < n; i++)
    box = hf_box_union(box, hf_curve_box(&curves[i]));
  double angle = spot->kind == HF_SPOT_LEFT_END    ? G_PI
                 : spot->kind == HF_SPOT_RIGHT_END ? 0
                                                   : spot->angle;
  return edge_of(box, angle);
}

/* Where a line or an arc is nearest to @p. */
static double
nearest_on(const HfCurve *curve, HfPoint p)
{
  if (curve->kind == HF_CURVE_LINE) {
    HfPoint along = hf_point_sub(curve->p1, curve->p0);
    double square = hf_point_dot(along, along);
    return square > 0 ? CLAMP(hf_point_dot(hf_point_sub(p, curve->p0), along) / square, 0, 1) : 0;
  }
  double best = 0, least = INFINITY;
  for (guint i = 0; i <= STEPS; i++) {
    double d = hf_point_distance(hf_curve_point(curve, (double)i / STEPS), p);
    if (d < least) {
      least = d;
      best = (double)i / STEPS;
    }
  }
  double turned =
      hf_angle_of(hf_point_sub(p, curve->c0)) - hf_angle_of(hf_point_sub(curve->p0, curve->c0));
  double t = remainder(turned - best * curve->sweep, 2 * G_PI) / curve->sweep + best;
  return t >= 0 && t <= 1 ? t : best;
}

static HfLeadPlace
nearest_place(const HfCurve *curves, guint n, HfPoint p)
{
  HfLeadPlace best = {0, 0, INFINITY};
  for (guint i = 0; i < n; i++) {
    double t = nearest_on(&curves[i], p), d = hf_point_distance(hf_curve_point(&curves[i], t), p);
    if (d < best.cost)
      best = (HfLeadPlace){i, t, d};
  }
  best.cost = 0;
  return best;
}

/* So many mm on from @place, at most once round; less than 0: back. */
static HfLeadPlace
further(const HfCurve *curves, guint n, HfLeadPlace place, double by)
{
  HfLeadPlace at = {place.curve, place.t, fabs(by)};
  for (guint i = 0; i <= n; i++) {
    double length = hf_lead_length(&curves[at.curve]);
    double t = length > 0 ? at.t + by / length : at.t;
    if (t >= 0 && t <= 1) {
      at.t = t;
      return at;
    }
    by -= (t > 1 ? 1 - at.t : -at.t) * length;
    at.curve = (at.curve + (t > 1 ? 1 : n - 1)) % n;
    at.t = t > 1 ? 0 : 1;
  }
  return at;
}

GArray *
hf_lead_wished_places(const HfCurve *curves, guint n, const HfSpot *spot)
{
  GArray *places = g_array_new(FALSE, FALSE, sizeof(HfLeadPlace));
  HfLeadPlace meant = nearest_place(curves, n, target_of(curves, n, spot));
  for (guint i = 0; i < G_N_ELEMENTS(beside); i++) {
    HfLeadPlace place = further(curves, n, meant, beside[i]);
    g_array_append_val(places, place);
  }
  return places;
}
