/* SPDX-License-Identifier: GPL-3.0-or-later
 * monogram-shaped.c - two or three letters drawn out to fill a circle or a diamond.
 *
 *     +--+---+--+         .-+-+-.             /|\        first side by side in a square, all as
 *     |  |   |  |  --->  (  | |  )   or     /| | |\      high as it is, as wide as they are to each
 *     |  |   |  |        (  | |  )          \| | |/      other; then through a map of the square
 *     +--+---+--+         '-+-+-'             \|/        as true curves (bend.c)
 *
 * Circle: (u, v) -> (u sqrt(1 - v^2 / 2), v sqrt(1 - u^2 / 2)): the elliptical grid map, which
 * takes the square's edge to the circle (C. Fong, Analytical Methods for Squaring the Disc, 2014).
 * Diamond: (u, v) -> (u, v (1 - 3/4 |u|)). docs/maths.md#monograms
 */
#include "geom/clear.h"
#include "layout/bend-private.h"
#include "layout/initial-private.h"

static const double CLOSE = 1e-7; /* mm: how well the gap is met */
static const double SLOPE = 0.75; /* a diamond's ends are a quarter as high as its middle */

enum { ROUNDS = 40 };

typedef struct {
  HfBend bend;
  double half; /* mm: of the square */
} Filling;

static HfShape *
shape_at(const GPtrArray *shapes, guint i)
{
  return (HfShape *)g_ptr_array_index(shapes, i);
}

/* ---- the maps -------------------------------------------------------------------------------- */

static double
half_of(const HfBend *bend)
{
  return ((const Filling *)(const void *)bend)->half;
}

static HfPoint
circle_point(const HfBend *bend, HfPoint p)
{
  double r = half_of(bend), u = p.x / r, v = p.y / r;
  return hf_point(p.x * sqrt(1 - v * v / 2), p.y * sqrt(1 - u * u / 2));
}

static HfPoint
circle_derivative(const HfBend *bend, HfPoint p, HfPoint d)
{
  double r = half_of(bend), u = p.x / r, v = p.y / r;
  double a = sqrt(1 - v * v / 2), b = sqrt(1 - u * u / 2);
  return hf_point(a * d.x - u * v / (2 * a) * d.y, b * d.y - u * v / (2 * b) * d.x);
}

static HfPoint
diamond_point(const HfBend *bend, HfPoint p)
{
  return hf_point(p.x, p.y * (1 - SLOPE * fabs(p.x) / half_of(bend)));
}

static HfPoint
diamond_derivative(const HfBend *bend, HfPoint p, HfPoint d)
{
  double r = half_of(bend), lean = (p.x < 0 ? SLOPE : -SLOPE) * p.y / r;
  return hf_point(d.x, d.y * (1 - SLOPE * fabs(p.x) / r) + lean * d.x);
}

/* ---- side by side in the square -------------------------------------------------------------- */

/* @wide: of a letter that is as high as the square, for its own width. */
static double
stretch(const GPtrArray *shapes, double half, double gap)
{
  double sum = 0;
  for (guint i = 0; i < shapes->len; i++) {
    HfBox box = hf_outline_box(shape_at(shapes, i)->outline);
    sum += hf_box_width(box) * 2 * half / hf_box_height(box);
  }
  return (2 * half - (shapes->len - 1) * gap) / sum;
}

/* From where a letter is to its strip of the square, which begins at @x. */
static HfMatrix
to_strip(HfBox box, double half, double wide, double x)
{
  double up = 2 * half / hf_box_height(box), across = up * wide;
  return (HfMatrix){across, 0, 0, up, x - box.min.x * across, -half - box.min.y * up};
}

/* The same as a frame: what is straight at the letter's middle. */
static HfMatrix
frame_there(const Filling *own, HfMatrix frame, HfPoint middle)
{
  const HfBend *bend = &own->bend;
  HfPoint at = bend->point(bend, middle);
  HfPoint x = bend->derivative(bend, middle, hf_point(1, 0));
  HfPoint y = bend->derivative(bend, middle, hf_point(0, 1));
  HfMatrix local = {x.x,
                    y.x,
                    x.y,
                    y.y,
                    at.x - x.x * middle.x - y.x * middle.y,
                    at.y - x.y * middle.x - y.y * middle.y};
  return hf_matrix_then(frame, local);
}

static HfOutline *
filled(const Filling *own, const HfOutline *outline, HfMatrix strip)
{
  if (outline == NULL)
    return NULL;
  g_autoptr(HfOutline) there = hf_outline_new();
  hf_outline_append(there, outline, strip);
  return hf_bend_outline(&own->bend, there);
}

static HfShape *
fill(const Filling *own, const HfShape *shape, HfMatrix strip)
{
  HfPoint middle = hf_matrix_apply(strip, hf_box_centre(hf_outline_box(shape->outline)));
  HfShape *to = hf_shape_new(filled(own, shape->outline, strip), g_strdup(shape->label),
                             shape->entry, shape->letter, shape->opening);
  to->drawn = filled(own, shape->drawn, strip);
  to->em = frame_there(own, hf_matrix_then(shape->em, strip), middle);
  to->letter_height = shape->letter_height * strip.yy;
  to->lean = 0;
  return to;
}

/* (transfer full) all of them @gap apart in the square. */
static GPtrArray *
fill_all(const Filling *own, const GPtrArray *shapes, double gap)
{
  GPtrArray *to = g_ptr_array_new();
  double wide = stretch(shapes, own->half, gap), x = -own->half;
  for (guint i = 0; i < shapes->len; i++) {
    const HfShape *shape = shape_at(shapes, i);
    HfBox box = hf_outline_box(shape->outline);
    HfMatrix strip = to_strip(box, own->half, wide, x);
    g_ptr_array_add(to, fill(own, shape, strip));
    x += hf_box_width(box) * strip.xx + gap;
  }
  return to;
}

/* ---- the gap --------------------------------------------------------------------------------- */

static double
least_apart(const GPtrArray *shapes)
{
  double least = INFINITY;
  for (guint i = 0; i + 1 < shapes->len; i++) {
    g_autoptr(HfClear) clear = hf_clear_new(shape_at(shapes, i)->outline);
    least = hf_clear_apart(clear, shape_at(shapes, i + 1)->outline, least);
  }
  return least;
}

static void
take_over(GPtrArray *shapes, GPtrArray *filled_shapes)
{
  for (guint i = 0; i < shapes->len; i++) {
    hf_shape_free(shape_at(shapes, i));
    g_ptr_array_index(shapes, i) = g_ptr_array_index(filled_shapes, i);
  }
  g_ptr_array_unref(filled_shapes);
}

gboolean
hf_set_shaped_monogram(GPtrArray *shapes, const HfMonogram *as)
{
  Filling own = {{circle_point, circle_derivative, NULL, NULL, TRUE}, as->cap / 2};
  double middle = 0;
  g_autoptr(GArray) breaks = g_array_new(FALSE, FALSE, sizeof(double));
  g_array_append_val(breaks, middle);
  if (as->set == HF_SET_DIAMOND)
    own.bend = (HfBend){diamond_point, diamond_derivative, NULL, breaks, FALSE};
  double gap = as->gap, over = INFINITY;
  for (guint i = 0; i < ROUNDS && fabs(over) > CLOSE; i++) {
    if (stretch(shapes, own.half, gap) <= 0)
      return FALSE;
    GPtrArray *to = fill_all(&own, shapes, gap);
    over = as->gap - least_apart(to);
    gap += over;
    if (fabs(over) <= CLOSE || i + 1 == ROUNDS) {
      take_over(shapes, to);
      return TRUE;
    }
    g_ptr_array_set_free_func(to, (GDestroyNotify)hf_shape_free);
    g_ptr_array_unref(to);
  }
  g_assert_not_reached();
}
