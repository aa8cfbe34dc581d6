/* SPDX-License-Identifier: GPL-3.0-or-later
 * point.h - points, boxes and matrices by value. Millimetres; x to the right, y up; angles in
 * radians, counter-clockwise from 3 o'clock.
 */
#pragma once
#include <glib.h>
#include <math.h>

typedef struct {
  double x, y;
} HfPoint;

/* Closed box; empty when min > max on either axis. */
typedef struct {
  HfPoint min, max;
} HfBox;

/* x' = xx x + xy y + x0;  y' = yx x + yy y + y0 */
typedef struct {
  double xx, xy, yx, yy, x0, y0;
} HfMatrix;

#define HF_BOX_EMPTY       ((HfBox){{INFINITY, INFINITY}, {-INFINITY, -INFINITY}})
#define HF_MATRIX_IDENTITY ((HfMatrix){1, 0, 0, 1, 0, 0})

static inline HfPoint
hf_point(double x, double y)
{
  return (HfPoint){x, y};
}

static inline HfPoint
hf_point_add(HfPoint a, HfPoint b)
{
  return (HfPoint){a.x + b.x, a.y + b.y};
}

static inline HfPoint
hf_point_sub(HfPoint a, HfPoint b)
{
  return (HfPoint){a.x - b.x, a.y - b.y};
}

static inline HfPoint
hf_point_scale(HfPoint a, double k)
{
  return (HfPoint){a.x * k, a.y * k};
}

/* a at t = 0, b at t = 1 */
static inline HfPoint
hf_point_mix(HfPoint a, HfPoint b, double t)
{
  return (HfPoint){a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
}

static inline double
hf_point_dot(HfPoint a, HfPoint b)
{
  return a.x * b.x + a.y * b.y;
}

/* > 0 when b turns counter-clockwise from a */
static inline double
hf_point_cross(HfPoint a, HfPoint b)
{
  return a.x * b.y - a.y * b.x;
}

static inline double
hf_point_length(HfPoint a)
{
  return sqrt(a.x * a.x +
              a.y * a.y); /* mm: far from overflow, and hypot costs five times as much */
}

static inline double
hf_point_distance(HfPoint a, HfPoint b)
{
  double dx = a.x - b.x, dy = a.y - b.y;
  return sqrt(dx * dx + dy * dy);
}

static inline HfPoint
hf_point_polar(HfPoint centre, double radius, double angle)
{
  return (HfPoint){centre.x + radius * cos(angle), centre.y + radius * sin(angle)};
}

static inline double
hf_angle_of(HfPoint direction)
{
  return atan2(direction.y, direction.x);
}

static inline gboolean
hf_box_is_empty(HfBox box)
{
  return !(box.min.x <= box.max.x && box.min.y <= box.max.y);
}

/** hf_lesser, hf_larger: of two numbers, @a where @b is none; fmin() is a call to the library. */
static inline double
hf_lesser(double a, double b)
{
  return b < a ? b : a;
}

static inline double
hf_larger(double a, double b)
{
  return b > a ? b : a;
}

static inline HfBox
hf_box_add_point(HfBox box, HfPoint p)
{
  return (HfBox){{hf_lesser(box.min.x, p.x), hf_lesser(box.min.y, p.y)},
                 {hf_larger(box.max.x, p.x), hf_larger(box.max.y, p.y)}};
}

static inline HfBox
hf_box_union(HfBox a, HfBox b)
{
  return (HfBox){{hf_lesser(a.min.x, b.min.x), hf_lesser(a.min.y, b.min.y)},
                 {hf_larger(a.max.x, b.max.x), hf_larger(a.max.y, b.max.y)}};
}

static inline HfBox
hf_box_grow(HfBox box, double by)
{
  return (HfBox){{box.min.x - by, box.min.y - by}, {box.max.x + by, box.max.y + by}};
}

static inline gboolean
hf_box_overlaps(HfBox a, HfBox b)
{
  return a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y;
}

static inline gboolean
hf_box_contains(HfBox box, HfPoint p)
{
  return box.min.x <= p.x && p.x <= box.max.x && box.min.y <= p.y && p.y <= box.max.y;
}

static inline double
hf_box_width(HfBox box)
{
  return hf_box_is_empty(box) ? 0 : box.max.x - box.min.x;
}

static inline double
hf_box_height(HfBox box)
{
  return hf_box_is_empty(box) ? 0 : box.max.y - box.min.y;
}

static inline HfPoint
hf_box_centre(HfBox box)
{
  return (HfPoint){(box.min.x + box.max.x) / 2, (box.min.y + box.max.y) / 2};
}

static inline HfPoint
hf_matrix_apply(HfMatrix m, HfPoint p)
{
  return (HfPoint){m.xx * p.x + m.xy * p.y + m.x0, m.yx * p.x + m.yy * p.y + m.y0};
}

/* where hf_matrix_apply() would have come from; @m must not flatten the plane */
static inline HfPoint
hf_matrix_undo(HfMatrix m, HfPoint p)
{
  double det = m.xx * m.yy - m.xy * m.yx, x = p.x - m.x0, y = p.y - m.y0;
  return (HfPoint){(m.yy * x - m.xy * y) / det, (m.xx * y - m.yx * x) / det};
}

/* first, then second */
static inline HfMatrix
hf_matrix_then(HfMatrix first, HfMatrix second)
{
  HfPoint o = hf_matrix_apply(second, (HfPoint){first.x0, first.y0});
  return (HfMatrix){second.xx * first.xx + second.xy * first.yx,
                    second.xx * first.xy + second.xy * first.yy,
                    second.yx * first.xx + second.yy * first.yx,
                    second.yx * first.xy + second.yy * first.yy,
                    o.x,
                    o.y};
}

static inline HfMatrix
hf_matrix_move(double x, double y)
{
  return (HfMatrix){1, 0, 0, 1, x, y};
}

static inline HfMatrix
hf_matrix_scale(double x, double y)
{
  return (HfMatrix){x, 0, 0, y, 0, 0};
}

/* counter-clockwise about the origin; radians */
static inline HfMatrix
hf_matrix_turn(double angle)
{
  double c = cos(angle), s = sin(angle);
  return (HfMatrix){c, -s, s, c, 0, 0};
}
