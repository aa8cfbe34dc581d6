/* SPDX-License-Identifier: GPL-3.0-or-later
 * times.c - how long a plan takes on a table.
 *
 * Each stretch has a speed that it can't exceed: its feed, and on an arc sqrt(a r). Between two
 * stretches the direction may jump by what the axes gain in JUMP_S: 2 v sin(turn / 2) <= a JUMP_S.
 * Forward and backward over the cut no speed is reached that a does not give over the length
 * before it; then each stretch is a trapezoid, or a triangle, of its own. Where two are in line
 * that comes to one profile for both.
 * Limits: one acceleration for all axes, no jerk; what a machine really does at corners is its own.
 */
#include "cut/times.h"

#define JUMP_S 0.01 /* ours; common practice has no figure */

typedef struct {
  double length, most; /* mm, mm/s */
} Leg;

static double
turn_between(const HfCurve *a, const HfCurve *b)
{
  HfPoint u = hf_curve_derivative(a, 1), v = hf_curve_derivative(b, 0);
  return fabs(atan2(hf_point_cross(u, v), hf_point_dot(u, v)));
}

static double
corner_speed(const HfCurve *a, const HfCurve *b, double acceleration)
{
  double sine = sin(turn_between(a, b) / 2);
  return sine > 1e-9 ? acceleration * JUMP_S / (2 * sine) : INFINITY;
}

static Leg
leg_of(const HfCutStretch *stretch, double feed, double slow, double acceleration)
{
  Leg leg = {hf_lead_length(&stretch->curve), feed * (stretch->is_slow ? slow : 1)};
  if (stretch->curve.kind == HF_CURVE_ARC)
    leg.most = fmin(leg.most, sqrt(acceleration * hf_curve_radius(&stretch->curve)));
  return leg;
}

/* The speeds at the n + 1 ends. */
static void
limit_ends(const Leg *legs, guint n, double acceleration, double *ends)
{
  ends[0] = ends[n] = 0;
  for (guint i = 0; i < n; i++)
    ends[i + 1] = fmin(ends[i + 1], sqrt(ends[i] * ends[i] + 2 * acceleration * legs[i].length));
  for (guint i = n; i-- > 0;)
    ends[i] = fmin(ends[i], sqrt(ends[i + 1] * ends[i + 1] + 2 * acceleration * legs[i].length));
}

static double
leg_seconds(Leg leg, double from, double to, double a)
{
  if (leg.length <= 0)
    return 0;
  double peak = fmin(leg.most, sqrt((from * from + to * to) / 2 + a * leg.length));
  peak = fmax(peak, fmax(from, to));
  double even = leg.length - (2 * peak * peak - from * from - to * to) / (2 * a);
  return (2 * peak - from - to) / a + fmax(even, 0) / peak;
}

double
hf_motion_seconds(const HfCutStretch *stretches, guint n, double feed, double slow,
                  double acceleration)
{
  if (n == 0)
    return 0;
  g_autofree Leg *legs = g_new(Leg, n);
  g_autofree double *ends = g_new(double, n + 1);
  for (guint i = 0; i < n; i++)
    legs[i] = leg_of(&stretches[i], feed, slow, acceleration);
  for (guint i = 1; i < n; i++)
    ends[i] = fmin(fmin(legs[i - 1].most, legs[i].most),
                   corner_speed(&stretches[i - 1].curve, &stretches[i].curve, acceleration));
  ends[n] = 0;
  limit_ends(legs, n, acceleration, ends);
  double seconds = 0;
  for (guint i = 0; i < n; i++)
    seconds += leg_seconds(legs[i], ends[i], ends[i + 1], acceleration);
  return seconds;
}

HfPlanTable
hf_plan_table_of(const HfShop *shop)
{
  return (HfPlanTable){.travel_speed = shop->travel_speed / 60,
                       .acceleration = shop->acceleration,
                       .slat_pitch = shop->slat_pitch,
                       .slat_angle = shop->slat_run == HF_SLATS_ALONG_Y ? G_PI / 2 : 0,
                       .width = isnan(shop->table_width) ? 0 : shop->table_width,
                       .height = isnan(shop->table_height) ? 0 : shop->table_height};
}

void
hf_plan_times_free(HfPlanTimes *times)
{
  if (times != NULL) {
    g_array_free(times->cuts, TRUE);
    g_free(times);
  }
}

static double
travel_seconds(const HfPlan *plan, const HfPlanTable *table)
{
  double seconds = 0;
  HfPoint here = {0, 0};
  for (guint i = 0; i <= plan->cuts->len; i++) {
    gboolean home = i == plan->cuts->len;
    const HfCut *cut = home ? NULL : hf_plan_cut(plan, i);
    guint first = home ? plan->vias->len - plan->n_home : cut->first_via;
    guint n = home ? plan->n_home : cut->n_via;
    for (guint k = 0; k <= n; k++) {
      HfPoint to = k < n  ? g_array_index(plan->vias, HfPoint, first + k)
                   : home ? hf_point(0, 0)
                          : cut->pierce;
      seconds += hf_plan_travel_seconds(table, hf_point_distance(here, to));
      here = to;
    }
    if (!home)
      here = cut->end;
  }
  return seconds;
}

static HfRange
sum(HfRange a, HfRange b)
{
  return (HfRange){a.low + b.low, a.usual + b.usual, a.high + b.high};
}

static HfCutTime
cut_time(const HfPlan *plan, const HfCut *cut, const HfCutRow *row, double slow,
         double acceleration)
{
  const HfCutStretch *first = cut->n > 0 ? hf_plan_stretch(plan, cut->first) : NULL;
  HfCutTime time = {0};
  for (guint i = 0; i < cut->n; i++)
    time.length += hf_lead_length(&first[i].curve);
  time.seconds =
      (HfRange){hf_motion_seconds(first, cut->n, row->feed.high / 60, slow, acceleration),
                hf_motion_seconds(first, cut->n, row->feed.usual / 60, slow, acceleration),
                hf_motion_seconds(first, cut->n, row->feed.low / 60, slow, acceleration)};
  return time;
}

HfPlanTimes *
hf_plan_times(const HfPlan *plan, const HfShop *shop, const HfCutRow *row, double slow)
{
  HfPlanTable table = hf_plan_table_of(shop);
  HfPlanTimes *times = g_new0(HfPlanTimes, 1);
  guint n = plan->cuts->len;
  times->cuts = g_array_new(FALSE, FALSE, sizeof(HfCutTime));
  for (guint i = 0; i < n; i++) {
    HfCutTime time = cut_time(plan, hf_plan_cut(plan, i), row, slow, table.acceleration);
    g_array_append_val(times->cuts, time);
    times->moving = sum(times->moving, time.seconds);
  }
  times->waiting =
      (HfRange){n * row->pierce_delay.low, n * row->pierce_delay.usual, n * row->pierce_delay.high};
  times->finding = n * shop->height_time;
  times->travel = n > 0 ? travel_seconds(plan, &table) : 0;
  double fixed = times->finding + times->travel;
  times->total = sum(sum(times->moving, times->waiting), (HfRange){fixed, fixed, fixed});
  return times;
}
