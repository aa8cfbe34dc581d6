/* SPDX-License-Identifier: GPL-3.0-or-later
 * course.c - points of a line by the length up to them.
 *
 *   s(u) = integral of |P'| over 0..u       Gauss-Legendre, eight points a span; a span is halved
 *                                           until that and two halves agree to 1e-11 of it.
 *                                           u(s) by Newton's method, kept in its bracket.
 *
 * Nodes and weights: M. Abramowitz, I. Stegun, Handbook of Mathematical Functions, table 25.4 (from
 * memory; tests/unit/test_course.c integrates what is known in closed form).
 * docs/maths.md#words-along-a-line
 */
#include "layout/course-private.h"

typedef enum { ALONG_CURVE, ALONG_ELLIPSE, ALONG_WAVE } Along;

typedef struct {
  Along along;
  HfCurve curve;   /* CURVE */
  double a, k;     /* ELLIPSE: half axes; WAVE: half its height, 2 pi / length */
  double from, to; /* its parameter; u in 0..1 runs from the one to the other */
  double s, length;
} Span;

/* A point, and its first and second derivative by u. */
typedef struct {
  HfPoint p, d, dd;
} Jet;

enum { MOST_HALVINGS = 24, NEWTON_STEPS = 60, LOOKS = 32 };
static const double CLOSE = 1e-11; /* of a span */
static const double CORNER = 1e-3; /* rad: what turns less goes on smoothly */
static const double SMOOTH = 1e-6; /* 1/mm: bends that differ by less are one */

static HfPoint
second(const HfCurve *c, double t)
{
  switch (c->kind) {
  case HF_CURVE_LINE:
    return hf_point(0, 0);
  case HF_CURVE_ARC:
    return hf_point_scale(hf_point_sub(hf_curve_point(c, t), c->c0), -c->sweep * c->sweep);
  case HF_CURVE_CUBIC: {
    HfPoint a = hf_point_add(hf_point_sub(c->p0, hf_point_scale(c->c0, 2)), c->c1);
    HfPoint b = hf_point_add(hf_point_sub(c->c0, hf_point_scale(c->c1, 2)), c->p1);
    return hf_point_scale(hf_point_mix(a, b, t), 6);
  }
  }
  g_assert_not_reached();
}

static Jet
jet_at(const Span *span, double u)
{
  double h = span->to - span->from, t = span->from + h * u, a = span->a, k = span->k;
  Jet jet = {{0, 0}, {0, 0}, {0, 0}};
  switch (span->along) {
  case ALONG_CURVE:
    jet = (Jet){hf_curve_point(&span->curve, t), hf_curve_derivative(&span->curve, t),
                second(&span->curve, t)};
    break;
  case ALONG_ELLIPSE:
    jet = (Jet){{a * cos(t), k * sin(t)}, {-a * sin(t), k * cos(t)}, {-a * cos(t), -k * sin(t)}};
    break;
  case ALONG_WAVE:
    jet = (Jet){{t, a * sin(k * t)}, {1, a * k * cos(k * t)}, {0, -a * k * k * sin(k * t)}};
    break;
  }
  jet.d = hf_point_scale(jet.d, h);
  jet.dd = hf_point_scale(jet.dd, h * h);
  return jet;
}

static double
length_between(const Span *span, double u0, double u1)
{
  static const double node[] = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                0.9602898564975363};
  static const double weight[] = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                  0.1012285362903763};
  double middle = (u0 + u1) / 2, half = (u1 - u0) / 2, sum = 0;
  for (guint i = 0; i < G_N_ELEMENTS(node); i++)
    sum += weight[i] * (hf_point_length(jet_at(span, middle - half * node[i]).d) +
                        hf_point_length(jet_at(span, middle + half * node[i]).d));
  return sum * half;
}

static const Span *
span_at(const HfCourse *course, guint i)
{
  return &g_array_index(course->spans, Span, i);
}

/* ---- building ------------------------------------------------------------------------------- */

static HfCoursePoint
point_of(const Span *span, double u)
{
  Jet jet = jet_at(span, u);
  double speed = hf_point_length(jet.d);
  if (speed <= 1e-9 * span->length) { /* a handle of no length: as it runs a little further on */
    HfPoint ahead = jet_at(span, fmin(u + 1e-4, 1)).p, behind = jet_at(span, fmax(u - 1e-4, 0)).p;
    HfPoint way = hf_point_sub(ahead, behind);
    return (HfCoursePoint){jet.p, hf_point_scale(way, 1 / hf_point_length(way)), 0};
  }
  return (HfCoursePoint){jet.p, hf_point_scale(jet.d, 1 / speed),
                         hf_point_cross(jet.d, jet.dd) / (speed * speed * speed)};
}

/* What lies between two spans, the second from @s on. */
static void
note_join(HfCourse *course, const Span *before, const Span *after, double s)
{
  HfCoursePoint end = point_of(before, 1), start = point_of(after, 0);
  double turn = atan2(hf_point_cross(end.way, start.way), hf_point_dot(end.way, start.way));
  if (fabs(turn) > CORNER)
    g_array_append_val(course->turns, s);
  else if (fabs(end.bend - start.bend) > SMOOTH)
    g_array_append_val(course->joins, s);
}

static void
add_span(HfCourse *course, Span span, int halvings)
{
  double whole = length_between(&span, 0, 1);
  double halves = length_between(&span, 0, 0.5) + length_between(&span, 0.5, 1);
  if (halvings < MOST_HALVINGS && fabs(whole - halves) > CLOSE * halves) {
    Span second_half = span;
    span.to = second_half.from = (span.from + span.to) / 2;
    add_span(course, span, halvings + 1);
    add_span(course, second_half, halvings + 1);
    return;
  }
  if (!(halves > 0))
    return;
  span.s = course->length;
  span.length = halves;
  if (course->spans->len > 0)
    note_join(course, span_at(course, course->spans->len - 1), &span, span.s);
  g_array_append_val(course->spans, span);
  course->length += halves;
}

void
hf_course_close(HfCourse *course)
{
  GArray *turns = course->turns, *joins = course->joins;
  course->turns = g_array_new(FALSE, FALSE, sizeof(double));
  course->joins = g_array_new(FALSE, FALSE, sizeof(double));
  course->closed = TRUE;
  note_join(course, span_at(course, course->spans->len - 1), span_at(course, 0), 0);
  g_array_append_vals(course->turns, turns->data, turns->len);
  g_array_append_vals(course->joins, joins->data, joins->len);
  g_array_unref(turns);
  g_array_unref(joins);
}

HfCourse *
hf_course_new(void)
{
  HfCourse *course = g_new0(HfCourse, 1);
  course->spans = g_array_new(FALSE, FALSE, sizeof(Span));
  course->joins = g_array_new(FALSE, FALSE, sizeof(double));
  course->turns = g_array_new(FALSE, FALSE, sizeof(double));
  return course;
}

void
hf_course_free(HfCourse *course)
{
  if (course == NULL)
    return;
  g_array_unref(course->spans);
  g_array_unref(course->joins);
  g_array_unref(course->turns);
  g_free(course);
}

void
hf_course_add_curve(HfCourse *course, const HfCurve *curve)
{
  add_span(course, (Span){.along = ALONG_CURVE, .curve = *curve, .from = 0, .to = 1}, 0);
}

void
hf_course_add_ellipse(HfCourse *course, double a, double b, double from, double to)
{
  add_span(course, (Span){.along = ALONG_ELLIPSE, .a = a, .k = b, .from = from, .to = to}, 0);
}

void
hf_course_add_wave(HfCourse *course, double a, double k, double from, double to)
{
  add_span(course, (Span){.along = ALONG_WAVE, .a = a, .k = k, .from = from, .to = to}, 0);
}

/* ---- by length ------------------------------------------------------------------------------ */

static double
parameter_of(const Span *span, double ds)
{
  double low = 0, high = 1, u = CLAMP(ds / span->length, 0, 1);
  for (int i = 0; i < NEWTON_STEPS; i++) {
    double over = length_between(span, 0, u) - ds;
    if (fabs(over) <= CLOSE * span->length)
      break;
    *(over > 0 ? &high : &low) = u;
    double speed = hf_point_length(jet_at(span, u).d);
    double next = speed > 0 ? u - over / speed : NAN;
    u = next > low && next < high ? next : (low + high) / 2;
  }
  return u;
}

static guint
find_span(const HfCourse *course, double s)
{
  guint low = 0, high = course->spans->len;
  while (high - low > 1) {
    guint middle = (low + high) / 2;
    if (span_at(course, middle)->s <= s)
      low = middle;
    else
      high = middle;
  }
  return low;
}

HfCoursePoint
hf_course_at(const HfCourse *course, double s)
{
  double beyond = 0;
  if (course->closed) {
    s = fmod(s, course->length);
    s += s < 0 ? course->length : 0;
  } else {
    beyond = s - CLAMP(s, 0, course->length);
    s -= beyond;
  }
  const Span *span = span_at(course, find_span(course, s));
  HfCoursePoint point = point_of(span, parameter_of(span, s - span->s));
  if (beyond == 0)
    return point;
  point.at = hf_point_add(point.at, hf_point_scale(point.way, beyond));
  point.bend = 0;
  return point;
}

/* ---- in a direction ------------------------------------------------------------------------- */

/* Left of the ray from the centre: > 0. */
static double
beside(const Span *span, double u, HfPoint centre, HfPoint ray)
{
  return hf_point_cross(ray, hf_point_sub(jet_at(span, u).p, centre));
}

static double
crossing(const Span *span, double u0, double u1, HfPoint centre, HfPoint ray)
{
  gboolean left = beside(span, u0, centre, ray) > 0;
  for (int i = 0; i < NEWTON_STEPS; i++) {
    double middle = (u0 + u1) / 2;
    *((beside(span, middle, centre, ray) > 0) == left ? &u0 : &u1) = middle;
  }
  return (u0 + u1) / 2;
}

double
hf_course_toward(const HfCourse *course, HfPoint centre, double direction)
{
  HfPoint ray = hf_point_polar(hf_point(0, 0), 1, direction);
  double found = NAN, farthest = 0;
  for (guint i = 0; i < course->spans->len; i++) {
    const Span *span = span_at(course, i);
    for (int k = 0; k < LOOKS; k++) {
      double u0 = (double)k / LOOKS, u1 = (k + 1.0) / LOOKS;
      if ((beside(span, u0, centre, ray) > 0) == (beside(span, u1, centre, ray) > 0))
        continue;
      double u = crossing(span, u0, u1, centre, ray);
      double away = hf_point_dot(ray, hf_point_sub(jet_at(span, u).p, centre));
      if (away <= farthest)
        continue;
      farthest = away;
      found = span->s + length_between(span, 0, u);
    }
  }
  return found;
}
