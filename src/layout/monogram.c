/* SPDX-License-Identifier: GPL-3.0-or-later
 * monogram.c - two or three letters set as the trade sets them.
 *
 *         |\  /|              tall middle: the outer letters are two thirds as high, about the
 *      A  | \/ |  H           middle of the one between them
 *     /-\ |    | |-|
 *         |    |              stacked: two letters one above the other; of three the last stands
 *                             beside them, as high as both and what is between them
 *
 * A letter comes up to the others along a line until it is the gap away from them on true curves,
 * or until it runs into them as widely as a joint has to be. It never goes on by more than what is
 * still clear, so it can't jump over the place where they first meet (sphere tracing; J. C. Hart,
 * The Visual Computer 12, 1996). docs/maths.md#monograms
 */
#include "geom/clear.h"
#include "layout/initial-private.h"
#include "layout/joint-private.h"

static const double OUTER = 2.0 / 3;    /* of the middle letter's height; common practice */
static const double CLOSE = 1e-7;       /* mm: how well a gap is met */
static const double FLAT_MM = 0.004;    /* what a joint is measured on */
static const double DEEPEST = 0.6;      /* of the smaller letter: deeper is not looked for */
static const double JOINT_CLOSE = 2e-5; /* mm: how well a joint's place is found */

enum { MOST_ADVANCES = 400, STEPS = 48, HALVINGS = 30, ROUNDS = 8 };

/* A letter that comes up to others. */
typedef struct {
  const HfOutline *there; /* those that stand already */
  const HfShape *shape;
  HfPoint away;   /* unit: back to where it comes from */
  double start;   /* mm along `away` at which their boxes are apart */
  double end;     /* and at which it has gone too far */
  double deepest; /* mm past the first touch that a joint is looked for */
} Coming;

static HfShape *
shape_at(const GPtrArray *shapes, guint i)
{
  return (HfShape *)g_ptr_array_index(shapes, i);
}

static void
move_one(GPtrArray *shapes, guint i, HfMatrix m)
{
  HfShape *before = shape_at(shapes, i);
  g_ptr_array_index(shapes, i) = hf_shape_moved(before, m);
  hf_shape_free(before);
}

static HfMatrix
moved_by(const Coming *c, double t)
{
  return hf_matrix_move(c->away.x * t, c->away.y * t);
}

static HfOutline *
outline_at(const Coming *c, double t)
{
  HfOutline *there = hf_outline_new();
  hf_outline_append(there, c->shape->outline, moved_by(c, t));
  return there;
}

/* From where their boxes are apart until they are @gap apart; as far as it may where they never
 * come so near. */
static double
up_to_gap(const Coming *c, double gap)
{
  g_autoptr(HfClear) clear = hf_clear_new(c->there);
  double t = c->start + gap;
  for (guint i = 0; i < MOST_ADVANCES && t > c->end; i++) {
    g_autoptr(HfOutline) there = outline_at(c, t);
    double over = hf_clear_apart(clear, there, INFINITY) - gap;
    if (over < CLOSE)
      break;
    t -= over;
  }
  return MAX(t, c->end);
}

static double
joint_at(const Coming *c, const HfPolygons *there, double t, double wanted)
{
  g_autoptr(HfPolygons) own = hf_polygons_new(c->shape->outline, moved_by(c, t), FLAT_MM);
  return hf_joint_width(there, own, wanted, NULL);
}

/* From where they touch by the bite and deeper, until the joint is @wanted wide; where none is, the
 * widest. */
static double
up_to_joint(const Coming *c, double wanted, double bite)
{
  g_autoptr(HfPolygons) there = hf_polygons_new(c->there, HF_MATRIX_IDENTITY, FLAT_MM);
  double first = up_to_gap(c, 0) - bite, step = MAX(c->deepest / STEPS, wanted / 8);
  double best = first, widest = 0;
  for (double t = first; t >= first - c->deepest; t -= step) {
    double width = joint_at(c, there, t, wanted);
    if (width > widest) {
      widest = width;
      best = t;
    }
    if (width >= wanted)
      break;
  }
  if (widest < wanted)
    return best;
  double loose = MIN(best + step, first), tight = best;
  for (guint i = 0; i < HALVINGS && loose - tight > JOINT_CLOSE; i++) {
    double t = (loose + tight) / 2;
    *(joint_at(c, there, t, wanted) >= wanted ? &tight : &loose) = t;
  }
  return tight;
}

static double
along(HfBox box, HfPoint way, gboolean far)
{
  HfPoint corner = {way.x > 0 ? box.max.x : box.min.x, way.y > 0 ? box.max.y : box.min.y};
  if (!far)
    corner = hf_point(way.x > 0 ? box.min.x : box.max.x, way.y > 0 ? box.min.y : box.max.y);
  return corner.x * way.x + corner.y * way.y;
}

/* Brings letter @i up to those of @shapes from @first on that are before it. @away: where it comes
 * from. */
static void
bring(GPtrArray *shapes, guint first, guint i, HfPoint away, const HfMonogram *as)
{
  g_autoptr(HfOutline) there = hf_outline_new();
  for (guint k = first; k < i; k++)
    hf_outline_append(there, shape_at(shapes, k)->outline, HF_MATRIX_IDENTITY);
  Coming c = {there, shape_at(shapes, i), away, 0, 0, 0};
  HfBox box = hf_outline_box(c.shape->outline), before = hf_outline_box(there);
  c.start = along(before, away, TRUE) - along(box, away, FALSE);
  double deep = along(box, away, TRUE) - along(box, away, FALSE);
  double wide = along(before, away, TRUE) - along(before, away, FALSE);
  c.end = c.start - (deep + wide) / 2; /* middle on middle */
  c.deepest = DEEPEST * MIN(deep, wide);
  double t = isnan(as->gap) ? up_to_joint(&c, as->joint, as->bite)
             : as->gap >= 0 ? up_to_gap(&c, as->gap)
                            : MAX(up_to_gap(&c, 0) + as->gap, c.end);
  move_one(shapes, i, moved_by(&c, t));
}

/* ---- tall middle ----------------------------------------------------------------------------- */

static void
set_tall_middle(GPtrArray *shapes, const HfMonogram *as)
{
  HfMatrix smaller =
      hf_matrix_then(hf_matrix_scale(OUTER, OUTER), hf_matrix_move(0, as->cap * (1 - OUTER) / 2));
  move_one(shapes, 0, smaller);
  move_one(shapes, 2, smaller);
  bring(shapes, 0, 1, hf_point(1, 0), as);
  bring(shapes, 0, 2, hf_point(1, 0), as);
}

/* ---- stacked --------------------------------------------------------------------------------- */

static double
middle_x(const HfShape *shape)
{
  return hf_box_centre(hf_outline_box(shape->outline)).x;
}

static HfBox
pair_box(const GPtrArray *shapes)
{
  return hf_box_union(hf_outline_box(shape_at(shapes, 0)->outline),
                      hf_outline_box(shape_at(shapes, 1)->outline));
}

static void
set_pair(GPtrArray *shapes, const HfMonogram *as)
{
  double aside = middle_x(shape_at(shapes, 0)) - middle_x(shape_at(shapes, 1));
  move_one(shapes, 1, hf_matrix_move(aside, 0));
  bring(shapes, 0, 1, hf_point(0, -1), as);
}

static void
grow_pair(GPtrArray *shapes, double k)
{
  move_one(shapes, 0, hf_matrix_scale(k, k));
  move_one(shapes, 1, hf_matrix_scale(k, k));
}

static void
set_stacked(GPtrArray *shapes, const HfMonogram *as)
{
  if (shapes->len == 2) {
    set_pair(shapes, as);
    return;
  }
  HfBox tall = hf_outline_box(shape_at(shapes, 2)->outline);
  double k = 0.5;
  for (guint i = 0; i < ROUNDS; i++) { /* the gap does not grow with them */
    grow_pair(shapes, k);
    set_pair(shapes, as);
    k = hf_box_height(tall) / hf_box_height(pair_box(shapes));
    if (fabs(k - 1) < 1e-9)
      break;
  }
  HfPoint foot = hf_point(0, tall.min.y - pair_box(shapes).min.y);
  move_one(shapes, 0, hf_matrix_move(foot.x, foot.y));
  move_one(shapes, 1, hf_matrix_move(foot.x, foot.y));
  bring(shapes, 0, 2, hf_point(1, 0), as);
}

/* ---- the entry ------------------------------------------------------------------------------- */

gboolean
hf_set_monogram(GPtrArray *shapes, const HfMonogram *as)
{
  switch (as->set) {
  case HF_SET_TALL_MIDDLE:
    g_assert(shapes->len == 3);
    set_tall_middle(shapes, as);
    return TRUE;
  case HF_SET_STACKED:
    g_assert(shapes->len == 2 || shapes->len == 3);
    set_stacked(shapes, as);
    return TRUE;
  case HF_SET_CIRCLE:
  case HF_SET_DIAMOND:
    return hf_set_shaped_monogram(shapes, as);
  case HF_SET_ALONE:
    return TRUE;
  }
  g_assert_not_reached();
}
