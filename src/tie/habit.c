/* SPDX-License-Identifier: GPL-3.0-or-later
 * habit.c - where a maker puts ties by habit: across the middle of what a cut-through letter
 * encloses, upright, related middles alike.
 *
 *      ##|##      #####       ##|##     O: two, opposite each other on its axis. Two middles one
 *     ##   ##     ##  ##     ##   ##    above the other (8, B): one tie each, away from each
 *     ##   ##     ##__##      #####     other, or two each to the sides; never one between them.
 *     ##   ##     #    #     ##   ##    A, P, 6, 9: the one that leads out of the letter; p is
 *      ##|##      #    #      ##|##     the image of b.
 *
 * Every term is the same for a letter and its mirror image. What is no habit stays as a spare: it
 * is chosen from only when without it something would not be held.
 * Symmetric: hull (32 directions) and centre of mass agree with their image to 2 % of the size.
 * Related: middles of words of one face whose boxes agree to 1.3 times in width and 1.17 times in
 * height. Accuracy, weights: docs/maths.md#ties-the-habit. Source: common practice, no source.
 */
#include "tie/set-private.h"
#include <string.h>

#define SYMMETRIC   0.02 /* of its size */
#define IN_MIDDLE   0.15 /* of the letter's height: its middle is the letter's own */
#define LIKE_WIDTH  1.3  /* boxes that are related */
#define LIKE_HEIGHT 1.17
#define TRUE_WAY    0.9999 /* cosine: upright or level */
#define SQUARE      0.9 /* cosine of 26 deg: it crosses the stroke squarely, at one edge at least */
#define SKEW        0.7 /* cosine of 46 deg: at the other; the diagonal of a 4 is neither */
#define ON_AXIS     0.02 /* of the way to the side */
#define ROUND       0.15 /* of half the diagonal of its box: so far its hull stays inside */
#define LIKE_LENGTH 1.6  /* bars that make a pair */
#define ON_LINE     0.05 /* mm */
#define EVEN        0.05 /* mm2: costs no further apart are even */
#define OPPOSITE    2.8  /* rad: 160 deg */

#define LEVEL   1.0 /* square ties: not upright */
#define INWARD  0.3 /* it leads further into the letter, not out of it */
#define BETWEEN 6.0 /* from one middle of a letter to another */

/* ---- what a part is -------------------------------------------------------------------------- */

/* Of a direction its image. */
static guint
image_of(guint way, HfMirror mirror)
{
  guint image = mirror == HF_MIRROR_TURN ? way : HF_VIEW_WAYS - way;
  return (image + (mirror == HF_MIRROR_ENDS ? 0 : HF_VIEW_WAYS / 2)) % HF_VIEW_WAYS;
}

gboolean
hf_view_mirrored(const HfGround *ground, guint part, HfMirror mirror, double within)
{
  const HfView *view = &ground->views[part];
  const HfPart *its = &g_array_index(ground->sign->hold->parts, HfPart, part);
  double size = fmax(hf_box_width(view->box), hf_box_height(view->box));
  HfPoint mass = hf_view_point(view, its->centroid);
  for (guint k = 0; k < HF_VIEW_WAYS; k++) {
    if (fabs(view->support[k] - view->support[image_of(k, mirror)]) > within * size)
      return FALSE;
  }
  return (mirror == HF_MIRROR_ENDS || fabs(mass.x) < within * size) &&
         (mirror == HF_MIRROR_SIDES || fabs(mass.y) < within * size);
}

/* Of the letter, mm along level and up, the view turned by @angle. */
static HfBox
letter_box(const HfGround *ground, const HfView *view, double angle)
{
  HfMatrix turn = {view->level.x, view->level.y, view->up.x, view->up.y, 0, 0};
  g_autoptr(HfOutline) turned = hf_outline_new();
  hf_outline_append(turned, hf_layout_shape(ground->sign->layout, view->shape)->outline,
                    hf_matrix_then(hf_matrix_move(-view->middle.x, -view->middle.y),
                                   hf_matrix_then(turn, hf_matrix_turn(-angle))));
  return hf_outline_box(turned);
}

/* Hull of the letter itself, from the middle of what it encloses. */
static gboolean
letter_mirrored(const HfGround *ground, const HfView *view, HfMirror mirror)
{
  double far[HF_VIEW_WAYS];
  double size = 0;
  for (guint k = 0; k < HF_VIEW_WAYS / 4; k++) {
    HfBox box = letter_box(ground, view, 2 * G_PI * k / HF_VIEW_WAYS);
    far[k] = box.max.x;
    far[k + HF_VIEW_WAYS / 4] = box.max.y;
    far[k + HF_VIEW_WAYS / 2] = -box.min.x;
    far[k + 3 * HF_VIEW_WAYS / 4] = -box.min.y;
    size = fmax(size, fmax(hf_box_width(box), hf_box_height(box)));
  }
  for (guint k = 0; k < HF_VIEW_WAYS; k++)
    if (fabs(far[k] - far[image_of(k, mirror)]) > SYMMETRIC * size)
      return FALSE;
  return TRUE;
}

static gboolean
is_counter(const HfGround *ground, guint part)
{
  guint of = ground->views[part].shape;
  const HfShape *shape = of == HF_NO_SHAPE ? NULL : hf_layout_shape(ground->sign->layout, of);
  return shape != NULL && shape->letter >= 0 && shape->opening;
}

/* A ring of Hangul is tied as an O is; of a box with corners the corners are. */
static gboolean
is_round(const HfView *view)
{
  double corner = hypot(hf_box_width(view->box), hf_box_height(view->box)) / 2;
  double least = INFINITY;
  for (guint k = 0; k < HF_VIEW_WAYS; k++)
    least = fmin(least, corner - view->support[k]);
  return least > ROUND * corner;
}

static HfHabit
habit_of(const HfOffers *offers, guint part)
{
  const HfGround *ground = offers->ground;
  const HfView *view = &ground->views[part];
  guint of = view->shape;
  HfHabit habit = {.counter = is_counter(ground, part)};
  habit.strokes = of != HF_NO_SHAPE && hf_strokes_is(hf_layout_shape(ground->sign->layout, of));
  habit.counter = habit.counter && (!habit.strokes || is_round(view));
  habit.strokes = habit.strokes && !habit.counter;
  if (!habit.counter)
    return habit;
  HfBox box = letter_box(ground, view, 0);
  habit.high = -(box.min.y + box.max.y) / 2 / fmax(hf_box_height(box), 1);
  gboolean ends = hf_view_mirrored(ground, part, HF_MIRROR_ENDS, SYMMETRIC);
  habit.sides = hf_view_mirrored(ground, part, HF_MIRROR_SIDES, SYMMETRIC) &&
                letter_mirrored(ground, view, HF_MIRROR_SIDES);
  habit.ends = ends && letter_mirrored(ground, view, HF_MIRROR_ENDS);
  habit.pair = fabs(habit.high) < IN_MIDDLE &&
               (ends || hf_view_mirrored(ground, part, HF_MIRROR_TURN, SYMMETRIC));
  return habit;
}

/* ---- what belongs together ------------------------------------------------------------------- */

static guint
shape_of(const HfOffers *offers, guint needy)
{
  return offers->ground->views[g_array_index(offers->needy, guint, needy)].shape;
}

/* Nodes are in order of their letters. */
static void
find_mates(HfOffers *offers)
{
  guint end;
  for (guint i = 0; i < offers->needy->len; i = end) {
    for (end = i + 1; end < offers->needy->len && shape_of(offers, end) == shape_of(offers, i);)
      end++;
    for (guint k = i; end - i > 1 && k < end; k++) {
      offers->habits[k].mates = end - i - 1;
      offers->habits[k].pair = FALSE;
    }
  }
}

static gboolean
are_like(double a, double b, double most)
{
  return a < b * most && b < a * most;
}

/* b, d, p, q beside an o; 0 beside an O. */
static gboolean
are_related(const HfOffers *offers, guint i, guint k)
{
  const HfGround *ground = offers->ground;
  const HfView *a = &ground->views[g_array_index(offers->needy, guint, i)];
  const HfView *b = &ground->views[g_array_index(offers->needy, guint, k)];
  return hf_layout_shape(ground->sign->layout, a->shape)->entry ==
             hf_layout_shape(ground->sign->layout, b->shape)->entry &&
         are_like(hf_box_width(a->box), hf_box_width(b->box), LIKE_WIDTH) &&
         are_like(hf_box_height(a->box), hf_box_height(b->box), LIKE_HEIGHT);
}

/* Kinds of middles are few, letters many: each is held against those that differ so far. */
static void
pair_related(HfOffers *offers)
{
  g_autoptr(GArray) kinds = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < offers->needy->len; i++) {
    gboolean known = !offers->habits[i].pair;
    for (guint k = 0; k < kinds->len && !known; k++)
      known = offers->twins[g_array_index(kinds, guint, k)] == offers->twins[i];
    if (!known)
      g_array_append_val(kinds, i);
  }
  for (guint i = 0; i < offers->needy->len; i++) {
    HfHabit *habit = &offers->habits[i];
    for (guint k = 0; k < kinds->len && habit->counter && habit->mates == 0 && !habit->pair; k++)
      habit->pair = are_related(offers, i, g_array_index(kinds, guint, k));
  }
}

void
hf_offers_habits(HfOffers *offers)
{
  offers->habits = g_new0(HfHabit, offers->needy->len + 1);
  if (!(offers->style > 0))
    return;
  for (guint i = 0; i < offers->needy->len; i++)
    offers->habits[i] = habit_of(offers, g_array_index(offers->needy, guint, i));
  find_mates(offers);
  pair_related(offers);
}

/* ---- what a bar costs ------------------------------------------------------------------------ */

const HfHabit *
hf_habit_at(const HfOffers *offers, guint part)
{
  static const HfHabit none = {.counter = FALSE};
  guint node = offers->node[part];
  return node == 0 || node == HF_NO_PART ? &none : &offers->habits[node - 1];
}

static gboolean
is_between(const HfOffers *offers, const HfBar *bar)
{
  return hf_habit_at(offers, bar->part[1])->counter &&
         offers->ground->views[bar->part[0]].shape == offers->ground->views[bar->part[1]].shape;
}

double
hf_habit_style(const HfOffers *offers, const HfBar *bar)
{
  const HfHabit *habit = hf_habit_at(offers, bar->part[0]);
  const HfView *view = &offers->ground->views[bar->part[0]];
  double level = hf_point_dot(bar->way, view->level), up = hf_point_dot(bar->way, view->up);
  double cost = LEVEL * level * level;
  cost += up * habit->high < 0 ? INWARD * up * up * fmin(1, fabs(habit->high) / IN_MIDDLE) : 0;
  return cost + (is_between(offers, bar) ? BETWEEN : 0);
}

/* ---- what is spare --------------------------------------------------------------------------- */

/* 0 right, 1 up, 2 left, 3 down; -1: aslant. */
static int
compass(const HfView *view, const HfBar *bar)
{
  double level = hf_point_dot(bar->way, view->level), up = hf_point_dot(bar->way, view->up);
  if (fabs(level) > TRUE_WAY)
    return level > 0 ? 0 : 2;
  if (fabs(up) > TRUE_WAY)
    return up > 0 ? 1 : 3;
  return -1;
}

static gboolean
is_meant(const HfOffers *offers, const HfBar *bar)
{
  const HfView *view = &offers->ground->views[bar->part[0]];
  double less = fmin(bar->end[0].square, bar->end[1].square);
  double more = fmax(bar->end[0].square, bar->end[1].square);
  return compass(view, bar) >= 0 && less > SKEW && more > SQUARE && !is_between(offers, bar);
}

/* The middle of a symmetric letter is held on its axis. */
static gboolean
is_on_axis(const HfHabit *habit, int way, const HfBar *bar)
{
  gboolean has_axis = way % 2 == 1 ? habit->sides : habit->ends;
  return !has_axis || fabs(bar->off) < ON_AXIS;
}

/* The bars of one part, and which of them are meant. */
typedef struct {
  HfOffers *offers;
  HfHabit *habit;
  guint first, end;
  guint single, pair[2]; /* G_MAXUINT: there is none */
} Plan;

static HfBar *
bar_at(const Plan *plan, guint i)
{
  return &g_array_index(plan->offers->bars, HfBar, i);
}

static int
way_of(const Plan *plan, guint i)
{
  const HfBar *bar = bar_at(plan, i);
  int way = compass(&plan->offers->ground->views[bar->part[0]], bar);
  return is_meant(plan->offers, bar) && is_on_axis(plan->habit, way, bar) ? way : -1;
}

static double
cost_of(const Plan *plan, guint i)
{
  return bar_at(plan, i)->area + bar_at(plan, i)->style;
}

/* Of a middle whose sides are alike an upright one, if any can be laid. */
static void
find_single(Plan *plan)
{
  gboolean upright = FALSE;
  plan->single = G_MAXUINT;
  for (guint i = plan->first; i < plan->end && plan->habit->sides; i++)
    upright = upright || way_of(plan, i) % 2 == 1;
  for (guint i = plan->first; i < plan->end; i++) {
    int way = way_of(plan, i);
    if (way < 0 || (upright && way % 2 == 0))
      continue;
    if (plan->single == G_MAXUINT || cost_of(plan, i) < cost_of(plan, plan->single) - EVEN)
      plan->single = i;
  }
}

/* On one line, in opposite directions. */
static gboolean
are_opposite(const Plan *plan, guint i, guint k)
{
  const HfBar *a = bar_at(plan, i), *b = bar_at(plan, k);
  int way = way_of(plan, i);
  if (way < 0 || way_of(plan, k) != (way + 2) % 4)
    return FALSE;
  return fabs(hf_point_cross(a->way, hf_point_sub(b->at, a->at))) < ON_LINE;
}

static void
find_pair(Plan *plan)
{
  double least = INFINITY;
  plan->pair[0] = plan->pair[1] = G_MAXUINT;
  for (guint i = plan->first; i < plan->end; i++)
    for (guint k = plan->first; k < i; k++) {
      double cost = are_opposite(plan, i, k) ? cost_of(plan, i) + cost_of(plan, k) : INFINITY;
      if (!(cost < least - EVEN))
        continue;
      least = cost;
      plan->pair[0] = k;
      plan->pair[1] = i;
    }
}

/* For looks alone: upright (or as the rule has it), one about as long as the other. */
static gboolean
is_handsome(const Plan *plan)
{
  if (plan->pair[0] == G_MAXUINT)
    return FALSE;
  double a = bar_at(plan, plan->pair[0])->length, b = bar_at(plan, plan->pair[1])->length;
  gboolean upright = way_of(plan, plan->pair[0]) % 2 == 1;
  return (upright || plan->offers->law.direction == HF_TIE_LEVEL) &&
         fmax(a, b) < LIKE_LENGTH * fmin(a, b);
}

static gboolean
reaches_too_far(const Plan *plan)
{
  return plan->single != G_MAXUINT && bar_at(plan, plan->single)->reach > plan->offers->law.reach;
}

static Plan
plan_of(HfOffers *offers, guint first, guint end)
{
  guint part = g_array_index(offers->bars, HfBar, first).part[0];
  Plan plan = {offers, &offers->habits[offers->node[part] - 1], first, end};
  find_single(&plan);
  find_pair(&plan);
  gboolean two = reaches_too_far(&plan) || (plan.habit->pair && is_handsome(&plan)) ||
                 offers->rule->count == 2;
  plan.habit->ties = two ? 2 : 1;
  return plan;
}

/* Those that are kept: a pair, one, or (none is needed, or no pair is to be had) the best of each
 * of the four ways. */
static void
mark_spare(const Plan *plan)
{
  guint best[4] = {plan->single, G_MAXUINT, G_MAXUINT, G_MAXUINT};
  if (plan->habit->ties == 2) {
    best[0] = plan->pair[0];
    best[1] = plan->pair[1];
  }
  for (guint i = plan->first; i < plan->end && plan->habit->ties == 0; i++) {
    int way = way_of(plan, i);
    if (way >= 0 && (best[way] == G_MAXUINT || way_of(plan, best[way]) != way ||
                     cost_of(plan, i) < cost_of(plan, best[way]) - EVEN))
      best[way] = i;
  }
  for (guint i = plan->first; i < plan->end && plan->single != G_MAXUINT; i++)
    bar_at(plan, i)->spare = i != best[0] && i != best[1] && i != best[2] && i != best[3];
}

/* Middles of one letter are held alike: two ties each only where each can have a pair. */
static void
settle(const Plan *plans, guint n)
{
  gboolean two = FALSE, can = TRUE;
  for (guint i = 0; i < n; i++) {
    two = two || plans[i].habit->ties == 2;
    can = can && plans[i].pair[0] != G_MAXUINT;
  }
  for (guint i = 0; i < n; i++) {
    HfHabit *habit = plans[i].habit;
    habit->ties = two && can ? 2 : 1;
    if (two && !can && n == 1 && !habit->sides)
      habit->ties = 0; /* any two that stand apart */
    mark_spare(&plans[i]);
  }
}

static guint
end_of_part(const HfOffers *offers, guint first)
{
  guint end = first + 1, part = g_array_index(offers->bars, HfBar, first).part[0];
  while (end < offers->bars->len && g_array_index(offers->bars, HfBar, end).part[0] == part)
    end++;
  return end;
}

void
hf_habit_spare(HfOffers *offers)
{
  g_autoptr(GArray) plans = g_array_new(FALSE, FALSE, sizeof(Plan));
  guint of = HF_NO_SHAPE;
  for (guint i = 0, end; i < offers->bars->len && offers->rule->count < 3; i = end) {
    guint part = g_array_index(offers->bars, HfBar, i).part[0];
    end = end_of_part(offers, i);
    if (!hf_habit_at(offers, part)->counter)
      continue;
    if (offers->ground->views[part].shape != of) {
      settle((const Plan *)(gconstpointer)plans->data, plans->len);
      g_array_set_size(plans, 0);
    }
    of = offers->ground->views[part].shape;
    Plan plan = plan_of(offers, i, end);
    g_array_append_val(plans, plan);
  }
  settle((const Plan *)(gconstpointer)plans->data, plans->len);
}

/* ---- pairs ----------------------------------------------------------------------------------- */

static gboolean
are_in_conflict(const GArray *conflicts, guint a, guint b)
{
  for (guint i = 0; i < conflicts->len; i++) {
    HfConflict one = g_array_index(conflicts, HfConflict, i);
    if ((one.a == a && one.b == b) || (one.a == b && one.b == a))
      return TRUE;
  }
  return FALSE;
}

gboolean
hf_habit_has_pair(const HfOffers *offers, const GArray *conflicts, guint first, guint end)
{
  for (guint i = first; i < end; i++)
    for (guint k = first; k < i; k++) {
      const HfBar *a = &g_array_index(offers->bars, HfBar, i);
      const HfBar *b = &g_array_index(offers->bars, HfBar, k);
      if (a->spare || b->spare || a->struck || b->struck)
        continue;
      if (fabs(remainder(a->angle[0] - b->angle[0], 2 * G_PI)) > OPPOSITE &&
          !are_in_conflict(conflicts, i, k))
        return TRUE;
    }
  return FALSE;
}
