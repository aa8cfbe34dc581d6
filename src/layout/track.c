/* SPDX-License-Identifier: GPL-3.0-or-later
 * track.c - a closed line by length, and its sides from corner to corner.
 *
 *      s = 0 ___ top       Chords of 0.002 mm; where they turn by more than CORNER from one to the
 *        .---o---.         next is a corner. Without any it begins at its top, in the middle, so
 *       (         )        that what is set out evenly along it is alike on both sides.
 *        '-------'
 */
#include "layout/border-private.h"

#define FINE_MM 0.002
#define CORNER  (20 * G_PI / 180)

static void
add_point(HfTrack *way, HfPoint at)
{
  HfTrackPoint point = {at, 0};
  if (way->points->len > 0) {
    const HfTrackPoint *last = &g_array_index(way->points, HfTrackPoint, way->points->len - 1);
    double step = hf_point_distance(last->at, at);
    if (step < 1e-9)
      return;
    point.s = last->s + step;
  }
  g_array_append_val(way->points, point);
}

static const HfTrackPoint *
point_at(const HfTrack *way, guint i)
{
  return &g_array_index(way->points, HfTrackPoint, i);
}

/* By how much it turns at point @i. */
static double
turn_at(const HfTrack *way, guint i)
{
  guint n = way->points->len - 1;
  HfPoint here = point_at(way, i)->at;
  HfPoint in = hf_point_sub(here, point_at(way, i > 0 ? i - 1 : n - 1)->at);
  HfPoint out = hf_point_sub(point_at(way, i + 1)->at, here);
  return atan2(hf_point_cross(in, out), hf_point_dot(in, out));
}

/* The highest point; of several the one that is most in the middle. */
static double
top_of(const HfTrack *way)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < way->points->len; i++)
    box = hf_box_add_point(box, point_at(way, i)->at);
  HfPoint top = {hf_box_centre(box).x, box.max.y};
  double best = INFINITY, s = 0;
  for (guint i = 0; i + 1 < way->points->len; i++) {
    HfPoint a = point_at(way, i)->at, along = hf_point_sub(point_at(way, i + 1)->at, a);
    double length = hf_point_length(along);
    double t = hf_point_dot(hf_point_sub(top, a), along) / (length * length);
    t = CLAMP(t, 0, 1);
    double off = hf_point_distance(top, hf_point_add(a, hf_point_scale(along, t)));
    if (off < best - 1e-9) {
      best = off;
      s = point_at(way, i)->s + t * length;
    }
  }
  return s;
}

static void
find_sides(HfTrack *way)
{
  g_autoptr(GArray) corners = g_array_new(FALSE, FALSE, sizeof(double));
  for (guint i = 0; i + 1 < way->points->len; i++)
    if (fabs(turn_at(way, i)) > CORNER)
      g_array_append_val(corners, point_at(way, i)->s);
  for (guint i = 0; i < corners->len; i++) {
    double from = g_array_index(corners, double, i);
    double to = i + 1 < corners->len ? g_array_index(corners, double, i + 1)
                                     : g_array_index(corners, double, 0) + way->length;
    HfTrackSide side = {from, to - from, FALSE};
    g_array_append_val(way->sides, side);
  }
  if (corners->len == 0) {
    HfTrackSide side = {top_of(way), way->length, TRUE};
    g_array_append_val(way->sides, side);
  }
}

HfTrack *
hf_track_new(const HfOutline *outline, guint contour)
{
  guint n;
  const HfCurve *curve = hf_outline_contour(outline, contour, &n);
  HfTrack *way = g_new0(HfTrack, 1);
  way->points = g_array_new(FALSE, FALSE, sizeof(HfTrackPoint));
  way->sides = g_array_new(FALSE, FALSE, sizeof(HfTrackSide));
  for (guint i = 0; i < n; i++) {
    guint steps = hf_curve_steps(&curve[i], FINE_MM);
    for (guint k = 0; k < steps; k++)
      add_point(way, hf_curve_point(&curve[i], (double)k / steps));
  }
  add_point(way, curve[0].p0);
  way->length = point_at(way, way->points->len - 1)->s;
  find_sides(way);
  return way;
}

void
hf_track_free(HfTrack *way)
{
  if (way == NULL)
    return;
  g_array_unref(way->points);
  g_array_unref(way->sides);
  g_free(way);
}

HfPoint
hf_track_at(const HfTrack *way, double s, double *ret_way)
{
  s = fmod(s, way->length);
  if (s < 0)
    s += way->length;
  guint low = 0, high = way->points->len - 1;
  while (high - low > 1) {
    guint middle = (low + high) / 2;
    if (point_at(way, middle)->s <= s)
      low = middle;
    else
      high = middle;
  }
  const HfTrackPoint *a = point_at(way, low), *b = point_at(way, high);
  if (ret_way != NULL)
    *ret_way = hf_angle_of(hf_point_sub(b->at, a->at));
  return hf_point_mix(a->at, b->at, (s - a->s) / (b->s - a->s));
}
