/* SPDX-License-Identifier: GPL-3.0-or-later
 * middles.c - what a cut-through letter encloses: which of it is symmetric, which is held from two
 * sides, which belongs with which.
 *
 *      #####     #####
 *     ## . ##   ## .        O: its middle is the letter's own, its ends are alike: a pair. e, P, A:
 *     ##   ##   #######     it is not. b, d, p, q beside an o are held as the o is: their boxes
 *      #####     #####      agree. Two middles in one letter (8, B) go together.
 *
 * Symmetric: hull (32 directions) and centre of mass agree with their image to 2 % of the size.
 * Related: middles of words of one face, in however many entries, whose boxes in ems agree to 1.3
 * times in width and 1.17 times in height. Every answer is the same for a letter and its mirror
 * image. docs/maths.md#ties-the-habit Source: common practice, no source.
 */
#include "tie/offers-private.h"

#define SYMMETRIC   0.02 /* of its size */
#define IN_MIDDLE   0.15 /* of the letter's height: its middle is the letter's own */
#define LIKE_WIDTH  1.3  /* boxes that are related */
#define LIKE_HEIGHT 1.17
#define ROUND       0.15 /* of half the diagonal of its box: so far its hull stays inside */

/* ---- what a part is -------------------------------------------------------------------------- */

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
  HfBox box = hf_view_letter_box(ground, view, 0);
  habit.high = -(box.min.y + box.max.y) / 2 / fmax(hf_box_height(box), 1);
  gboolean ends = hf_view_mirrored(ground, part, HF_MIRROR_ENDS, SYMMETRIC);
  habit.sides = hf_view_mirrored(ground, part, HF_MIRROR_SIDES, SYMMETRIC) &&
                hf_view_letter_mirrored(ground, view, HF_MIRROR_SIDES, SYMMETRIC);
  habit.ends = ends && hf_view_letter_mirrored(ground, view, HF_MIRROR_ENDS, SYMMETRIC);
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
gboolean
hf_middles_related(const HfOffers *offers, guint i, guint k)
{
  const HfGround *ground = offers->ground;
  const HfView *a = &ground->views[g_array_index(offers->needy, guint, i)];
  const HfView *b = &ground->views[g_array_index(offers->needy, guint, k)];
  const HfLayout *layout = ground->sign->layout;
  double scale = a->size / b->size; /* lines of one face go together at whatever size */
  return offers->kin[hf_layout_shape(layout, a->shape)->entry] ==
             offers->kin[hf_layout_shape(layout, b->shape)->entry] &&
         are_like(hf_box_width(a->box), scale * hf_box_width(b->box), LIKE_WIDTH) &&
         are_like(hf_box_height(a->box), scale * hf_box_height(b->box), LIKE_HEIGHT);
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
      habit->pair = hf_middles_related(offers, i, g_array_index(kinds, guint, k));
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

const HfHabit *
hf_habit_at(const HfOffers *offers, guint part)
{
  static const HfHabit none = {.counter = FALSE};
  guint node = offers->node[part];
  return node == 0 || node == HF_NO_PART ? &none : &offers->habits[node - 1];
}
