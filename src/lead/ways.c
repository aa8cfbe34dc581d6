/* SPDX-License-Identifier: GPL-3.0-or-later
 * ways.c - ways in from a pierce to the contour, and out again, all in scrap.
 *
 *      pierce x                     pierce x           . x .
 *             |                          \            (  |  )
 *              `-.__                      \            '-|-'
 *      ------>-----'--->---         ----->-'--->---   the middle of a hole
 *      an arc into the travel       straight, leaning back
 *
 * Invariant: no point of a way is nearer to metal that stays than half a kerf, so what the torch
 * takes on it lies in the scrap or in what the contour's own cut takes. The pierce should be
 * farther off: crater, half a kerf and 1 mm. Where there is less room the way is made shorter,
 * which is told. Kinds, lengths and the distance of the pierce: common practice, no source; an arc
 * leaves less of a notch than a straight way, in a tiny hole straight from its middle is usual.
 */
#include "lead/lead-private.h"

#define CHORD      (G_PI / 12) /* of the arcs of a way, when room is measured */
#define SLACK_MM   0.02        /* the path itself is half a kerf off, give or take so much */
#define OUT_MM     1.5         /* radius of the way out */
#define THIN_WAY   4.0         /* mm: usual length on sheet up to 3 mm */
#define THICK_MORE 3.0         /* mm: and t + 3 mm on thicker */

/* What the kinds cost beside an arc, mm of travel; ours. */
#define COST_STRAIGHT 10.0
#define COST_CENTRE   4.0
#define COST_SHORT    400.0 /* for a pierce without any of the room that it needs */

static double
edge_gap(const HfLeadWork *work, HfEdgeId id, HfPoint a, HfPoint b)
{
  return hf_segment_gap(a, b, hf_edge_start(work->metal, id), hf_edge_end(work->metal, id), NULL,
                        NULL);
}

double
hf_lead_gap(HfLeadWork *work, HfPoint a, HfPoint b, double at_most)
{
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
  hf_index_query(work->index, hf_box_grow(box, at_most), work->ids);
  double least = at_most;
  for (guint i = 0; i < work->ids->len; i++)
    least = hf_lesser(least, edge_gap(work, g_array_index(work->ids, HfEdgeId, i), a, b));
  return least;
}

/* Does the curve, burnt, spare all metal that stays? */
static gboolean
is_in_scrap(HfLeadWork *work, const HfCurve *curve)
{
  double half = work->options->kerf / 2, turned = fabs(curve->sweep);
  guint n = curve->kind == HF_CURVE_ARC ? MAX((guint)ceil(turned / CHORD), 1) : 1;
  HfPoint a = curve->p0;
  for (guint i = 1; i <= n; i++) {
    HfPoint b = i == n ? curve->p1 : hf_curve_point(curve, (double)i / n);
    if (hf_lead_gap(work, a, b, half) < half - SLACK_MM)
      return FALSE;
    a = b;
  }
  return TRUE;
}

/* To the scrap side of travel. */
static HfPoint
aside(const HfLeadWork *work, HfPoint along)
{
  return hf_point(-along.y * work->side, along.x * work->side);
}

/* A quarter turn, or less, into the travel at @at. */
static HfCurve
arc_in(const HfLeadWork *work, HfPoint at, HfPoint along, double radius, double turned)
{
  HfPoint centre = hf_point_add(at, hf_point_scale(aside(work, along), radius));
  double end = hf_angle_of(hf_point_sub(at, centre)), sweep = turned * work->side;
  HfPoint from = hf_point_polar(centre, radius, end - sweep);
  return (HfCurve){HF_CURVE_ARC, from, at, centre, {0, 0}, sweep};
}

static HfCurve
straight_in(const HfLeadWork *work, HfPoint at, HfPoint along, double length, double lean)
{
  HfPoint back = hf_point_scale(along, -sin(lean)),
          up = hf_point_scale(aside(work, along), cos(lean));
  HfPoint from = hf_point_add(at, hf_point_scale(hf_point_add(back, up), length));
  return (HfCurve){.kind = HF_CURVE_LINE, .p0 = from, .p1 = at};
}

/* A candidate: kept when it is possible, and better than what is there. */
typedef struct {
  HfLeadWay way;
  double cost, has;
  gboolean found;
} Best;

static void
try_way(HfLeadWork *work, Best *best, HfCurve in, double cost)
{
  double needs = hf_lead_needs(work->options);
  if (best->found && cost >= best->cost)
    return;
  double has = hf_lead_gap(work, in.p0, in.p0, needs);
  cost += COST_SHORT * (1 - has / needs);
  if ((best->found && cost >= best->cost) || !is_in_scrap(work, &in))
    return;
  *best = (Best){.way = {.in = {in}, .n_in = 1}, .cost = cost, .has = has, .found = TRUE};
}

static double
usual_length(const HfLeadWork *work)
{
  const HfLeadOptions *options = work->options;
  if (!isnan(work->way.length))
    return work->way.length;
  return options->thickness <= 3 ? THIN_WAY : options->thickness + THICK_MORE;
}

/* The pierce as far off as it should be, unless the recipe wants it nearer. */
static double
usual_least(const HfLeadWork *work, double usual)
{
  double least = work->options->crater + 1;
  return isnan(work->way.length) ? least : fmin(least, usual);
}

/* Longer ones first: shorter ones are only looked at where those had no room. */
static void
try_arcs(HfLeadWork *work, Best *best, HfPoint at, HfPoint along)
{
  double length = usual_length(work) / (G_PI / 2), least = usual_least(work, length);
  double usual = fmax(length, least);
  const double radii[] = {usual, least, least * 0.7, least * 0.45};
  for (guint i = 0; i < G_N_ELEMENTS(radii) && !(best->found && best->cost <= i * 2.0); i++)
    try_way(work, best, arc_in(work, at, along, radii[i], G_PI / 2), i * 2.0);
}

static void
try_straights(HfLeadWork *work, Best *best, HfPoint at, HfPoint along)
{
  double length = usual_length(work), least = usual_least(work, length);
  double usual = fmax(length, least);
  const double lengths[] = {usual, least, least * 0.6, least * 0.3},
               leans[] = {G_PI / 6, 0, -G_PI / 6, G_PI / 3};
  for (guint i = 0; i < G_N_ELEMENTS(lengths); i++)
    for (guint k = 0; k < G_N_ELEMENTS(leans); k++)
      try_way(work, best, straight_in(work, at, along, lengths[i], leans[k]),
              COST_STRAIGHT + 2.0 * i + k);
}

/* From the middle of the largest circle, where that is near. */
static void
try_centre(HfLeadWork *work, Best *best, HfPoint at, HfPoint centre, double room)
{
  gboolean wanted = work->way.in == HF_WAY_IN_MIDDLE;
  if (isnan(room) || (!wanted && hf_point_distance(at, centre) > 3 * room))
    return;
  HfCurve in = {.kind = HF_CURVE_LINE, .p0 = centre, .p1 = at};
  if (hf_point_distance(at, centre) > SLACK_MM)
    try_way(work, best, in, COST_CENTRE);
}

/* Round on, away from the metal, where there is room; an opening's drop falls, so its arc is put
 * out on the contour. */
static void
find_out(HfLeadWork *work, HfLeadWay *way, HfPoint at, HfPoint along, gboolean is_opening)
{
  double kerf = work->options->kerf;
  gboolean none = is_opening || work->way.leave_off == 0;
  way->past = none ? kerf / 2 : 0;
  if (none)
    return;
  HfPoint centre = hf_point_add(at, hf_point_scale(aside(work, along), OUT_MM));
  double start = hf_angle_of(hf_point_sub(at, centre)), sweep = G_PI / 3 * work->side;
  HfPoint to = hf_point_polar(centre, OUT_MM, start + sweep);
  HfCurve out = {HF_CURVE_ARC, at, to, centre, {0, 0}, sweep};
  if (is_in_scrap(work, &out)) {
    way->out = out;
    way->n_out = 1;
  } else
    way->past = kerf / 2;
}

static gboolean
is_same(HfPoint a, HfPoint b)
{
  return a.x == b.x && a.y == b.y;
}

gboolean
hf_lead_best_way(HfLeadWork *work, HfPoint at, HfPoint along, HfPoint centre, double room,
                 HfLeadWay *ret_way, double *ret_cost, double *ret_has)
{
  Best best = {.found = FALSE};
  int in = work->way.in;
  if (in == HF_WAY_IN_USUAL || in == HF_WAY_IN_ARC)
    try_arcs(work, &best, at, along);
  if (in == HF_WAY_IN_MIDDLE || (in == HF_WAY_IN_USUAL && (!best.found || best.cost > COST_CENTRE)))
    try_centre(work, &best, at, centre, room);
  /* no other pierce has more room than the middle of the largest circle */
  if (in == HF_WAY_IN_STRAIGHT ||
      (in == HF_WAY_IN_USUAL &&
       (!best.found || (best.cost > COST_STRAIGHT && !is_same(best.way.in[0].p0, centre)))))
    try_straights(work, &best, at, along);
  if (!best.found)
    return FALSE;
  find_out(work, &best.way, at, along, !isnan(room));
  *ret_way = best.way;
  *ret_cost = best.cost;
  *ret_has = best.has;
  return TRUE;
}
