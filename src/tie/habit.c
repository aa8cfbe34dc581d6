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
 * Which middles are symmetric and which are related: middles.c. Accuracy, weights:
 * docs/maths.md#ties-the-habit. Source: common practice, no source.
 */
#include "tie/set-private.h"
#include <string.h>

#define IN_MIDDLE   0.15   /* of the letter's height: its middle is the letter's own */
#define TRUE_WAY    0.9999 /* cosine: upright or level */
#define SQUARE      0.9 /* cosine of 26 deg: it crosses the stroke squarely, at one edge at least */
#define SQUARER     0.95 /* of 18 deg: level, where the sides differ; not so the diagonal of a 4 */
#define SKEW        0.7  /* of 46 deg: at the other edge */
#define ON_AXIS     0.02 /* of the way to the side */
#define LIKE_LENGTH 1.6  /* bars that make a pair */
#define ON_LINE     0.05 /* mm */
#define EVEN        0.05 /* mm2: costs no further apart are even */

#define LEVEL   1.0 /* square ties: not upright */
#define INWARD  0.3 /* it leads further into the letter, not out of it */
#define BETWEEN 6.0 /* from one middle of a letter to another */
#define BESIDE  3.0 /* beside the middle of what it holds, not through it: square of how far */

/* ---- what a bar costs ------------------------------------------------------------------------ */

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
  HfPoint way = hf_view_way(view, bar->way);
  double cost = LEVEL * way.x * way.x + BESIDE * bar->off * bar->off;
  cost +=
      way.y * habit->high < 0 ? INWARD * way.y * way.y * fmin(1, fabs(habit->high) / IN_MIDDLE) : 0;
  return cost + (is_between(offers, bar) ? BETWEEN : 0);
}

/* ---- what is meant --------------------------------------------------------------------------- */

/* 0 right, 1 up, 2 left, 3 down; -1: aslant. */
static int
compass(const HfView *view, const HfBar *bar)
{
  HfPoint way = hf_view_way(view, bar->way);
  if (fabs(way.x) > TRUE_WAY)
    return way.x > 0 ? 0 : 2;
  if (fabs(way.y) > TRUE_WAY)
    return way.y > 0 ? 1 : 3;
  return -1;
}

/* The middle of a symmetric letter is held on its axis. */
static gboolean
is_on_axis(const HfHabit *habit, int way, const HfBar *bar)
{
  gboolean has_axis = way % 2 == 1 ? habit->sides : habit->ends;
  return !has_axis || fabs(bar->off) < ON_AXIS;
}

static gboolean
is_meant(const HfOffers *offers, const HfHabit *habit, int way, const HfBar *bar)
{
  double less = fmin(bar->end[0].square, bar->end[1].square);
  double more = fmax(bar->end[0].square, bar->end[1].square);
  return !bar->struck && less > SKEW && more > (habit->sides || way % 2 == 1 ? SQUARE : SQUARER) &&
         !is_between(offers, bar);
}

/* The bars of one part, and which of them are meant. */
typedef struct {
  HfOffers *offers;
  const GArray *foes; /* guint64: two bars that can't both be laid, sorted */
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
  gboolean meant = way >= 0 && is_meant(plan->offers, plan->habit, way, bar);
  return meant && is_on_axis(plan->habit, way, bar) ? way : -1;
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

/* ---- pairs ----------------------------------------------------------------------------------- */

static guint64
foes_key(guint a, guint b)
{
  return (guint64)MIN(a, b) << 32 | MAX(a, b);
}

static int
key_compare(gconstpointer p, gconstpointer q)
{
  guint64 a = *(const guint64 *)p, b = *(const guint64 *)q;
  return a < b ? -1 : a > b;
}

static GArray *
foes_of(const GArray *conflicts)
{
  GArray *foes = g_array_sized_new(FALSE, FALSE, sizeof(guint64), conflicts->len);
  for (guint i = 0; i < conflicts->len; i++) {
    HfConflict one = g_array_index(conflicts, HfConflict, i);
    guint64 key = foes_key(one.a, one.b);
    g_array_append_val(foes, key);
  }
  g_array_sort(foes, key_compare);
  return foes;
}

/* On one line, in opposite directions, and both can be laid. */
static gboolean
are_opposite(const Plan *plan, guint i, guint k)
{
  const HfBar *a = bar_at(plan, i), *b = bar_at(plan, k);
  int way = way_of(plan, i);
  if (way < 0 || way_of(plan, k) != (way + 2) % 4 ||
      fabs(hf_point_cross(a->way, hf_point_sub(b->at, a->at))) >= ON_LINE)
    return FALSE;
  guint64 key = foes_key(i, k);
  return !g_array_binary_search((GArray *)plan->foes, &key, key_compare, NULL);
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

/* ---- what is spare --------------------------------------------------------------------------- */

static Plan
plan_of(HfOffers *offers, const GArray *foes, guint first, guint end)
{
  guint part = g_array_index(offers->bars, HfBar, first).part[0];
  Plan plan = {offers, foes, &offers->habits[offers->node[part] - 1], first, end, 0, {0, 0}};
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
  for (guint i = plan->first; i < plan->end; i++)
    bar_at(plan, i)->spare =
        plan->single != G_MAXUINT && i != best[0] && i != best[1] && i != best[2] && i != best[3];
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

static GArray *
plans_of(HfOffers *offers, const GArray *foes)
{
  GArray *plans = g_array_new(FALSE, FALSE, sizeof(Plan));
  for (guint i = 0, end; i < offers->bars->len; i = end) {
    end = end_of_part(offers, i);
    if (!hf_habit_at(offers, g_array_index(offers->bars, HfBar, i).part[0])->counter)
      continue;
    Plan plan = plan_of(offers, foes, i, end);
    g_array_append_val(plans, plan);
  }
  return plans;
}

static guint
needy_of(const Plan *plan)
{
  return plan->offers->node[bar_at(plan, plan->first)->part[0]] - 1;
}

/* What needs two has its likes held by two: g beside a q that reaches a little farther. Kinds of
 * middles are few: each is held against those alone. */
static void
take_after(GArray *plans)
{
  g_autoptr(GArray) kinds = g_array_new(FALSE, FALSE, sizeof(guint)); /* plans, one a kind */
  g_autoptr(GHashTable) known = g_hash_table_new(NULL, NULL);
  for (guint i = 0; i < plans->len; i++) {
    const Plan *plan = &g_array_index(plans, Plan, i);
    guint class = plan->offers->twins[needy_of(plan)];
    if (plan->habit->ties == 2 && plan->habit->mates == 0 && plan->pair[0] != G_MAXUINT &&
        g_hash_table_add(known, GUINT_TO_POINTER(class)))
      g_array_append_val(kinds, i);
  }
  for (guint i = 0; i < plans->len; i++) {
    const Plan *plan = &g_array_index(plans, Plan, i);
    gboolean can = plan->habit->mates == 0 && plan->pair[0] != G_MAXUINT;
    for (guint k = 0; k < kinds->len && can && plan->habit->ties < 2; k++) {
      const Plan *like = &g_array_index(plans, Plan, g_array_index(kinds, guint, k));
      if (hf_middles_related(plan->offers, needy_of(plan), needy_of(like)))
        plan->habit->ties = 2;
    }
  }
}

void
hf_habit_spare(HfOffers *offers, const GArray *conflicts)
{
  if (offers->rule->count > 2)
    return;
  g_autoptr(GArray) foes = foes_of(conflicts);
  g_autoptr(GArray) plans = plans_of(offers, foes);
  take_after(plans);
  for (guint i = 0, end; i < plans->len; i = end) {
    const Plan *first = &g_array_index(plans, Plan, i);
    guint of = offers->ground->views[bar_at(first, first->first)->part[0]].shape;
    for (end = i + 1; end < plans->len; end++) {
      const Plan *next = &g_array_index(plans, Plan, end);
      if (offers->ground->views[bar_at(next, next->first)->part[0]].shape != of)
        break;
    }
    settle(first, end - i);
  }
}
