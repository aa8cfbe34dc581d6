/* SPDX-License-Identifier: GPL-3.0-or-later
 * stud-choice.c - the fewest studs that hold a piece, of the spots where there is room.
 *
 *    three     o---------o       as far as can be from the centre of mass + to the nearest side of
 *               \   +   /        what they span, and that as wide as can be
 *                \     /
 *                 `-o-'          four where three that are mirror images are hardly about it: H
 *
 *    two       o----+----o       where what three span is too narrow
 *    one           o+            where two have no room beside each other
 *
 * More where metal is farther than the reach from any. docs/maths.md#studs
 */
#include "hold/studs-private.h"

#define APART      2.0 /* diameters: no two are nearer to each other */
#define LEAST_WIDE 3.0 /* diameters: what three span is as good as a line where it is narrower, */
#define LEAST_LONG 0.1 /* or narrower than so much of the piece's longer side */
#define INSIDE     0.1 /* mm: rounding does not put the centre of mass outside */
#define HARDLY     (1 / 3.0)
#define WIDTH_PART 0.1 /* of what is spanned: its width counts so much of its margin */
#define INWARD     0.8 /* of the largest radius, or twice what is asked: studs rather stand there */
#define WORTH      0.5 /* of the margin that is had at the very edge of the room */
enum { MOST_STUDS = 60, MOST_AT_ONCE = 4 };

typedef struct {
  HfPoint at[MOST_AT_ONCE];
  guint n;
  double margin; /* mm from the centre of mass to the nearest side; < 0: outside */
  double width;  /* mm, the least, of what they span */
  double score;
} Set;

typedef struct {
  const HfStudRoom *room;
  const HfStudAsk *ask;
  double least; /* mm to every edge */
  GArray *spots;
} Choosing;

static double
least_width(const Choosing *c)
{
  return fmax(LEAST_WIDE * c->ask->diameter, LEAST_LONG * hf_stud_room_long(c->room));
}

/* ---- what a set spans -------------------------------------------------------------------------
 */

static double
beside_line(HfPoint a, HfPoint b, HfPoint p)
{
  HfPoint along = hf_point_sub(b, a);
  return hf_point_cross(along, hf_point_sub(p, a)) / hf_point_length(along);
}

/* Corners in order, counter-clockwise. */
static void
weigh_corners(Set *set, const HfPoint *corner, guint n)
{
  static const HfPoint mass = {0, 0};
  double inside = INFINITY, nearest = INFINITY;
  set->width = INFINITY;
  for (guint i = 0; i < n; i++) {
    HfPoint a = corner[i], b = corner[(i + 1) % n];
    double across = 0;
    for (guint j = 0; j < n; j++)
      across = fmax(across, beside_line(a, b, corner[j]));
    set->width = fmin(set->width, across);
    inside = fmin(inside, beside_line(a, b, mass));
    nearest = fmin(nearest, hf_point_length(hf_segment_nearest(a, b, mass, NULL)));
  }
  set->margin = inside >= 0 ? inside : -nearest;
  set->score = set->margin + WIDTH_PART * set->width;
}

static gboolean
too_near(const Choosing *c, const Set *set)
{
  for (guint i = 0; i < set->n; i++)
    for (guint j = 0; j < i; j++)
      if (hf_point_distance(set->at[i], set->at[j]) < APART * c->ask->diameter)
        return TRUE;
  return FALSE;
}

static gboolean
is_hull_of_all(const HfPoint *corner, guint n)
{
  for (guint i = 0; i < n; i++)
    if (beside_line(corner[i], corner[(i + 1) % n], corner[(i + 2) % n]) <= 0)
      return FALSE;
  return TRUE;
}

static int
by_angle(gconstpointer p, gconstpointer q)
{
  double a = hf_angle_of(*(const HfPoint *)p), b = hf_angle_of(*(const HfPoint *)q);
  return (a > b) - (a < b);
}

/* %FALSE: they span less than their number, or stand on each other. */
static gboolean
weigh(const Choosing *c, Set *set)
{
  HfPoint corner[MOST_AT_ONCE], middle = {0, 0};
  if (too_near(c, set))
    return FALSE;
  if (set->n == 3) {
    gboolean left = beside_line(set->at[0], set->at[1], set->at[2]) > 0;
    HfPoint turned[] = {set->at[0], set->at[left ? 1 : 2], set->at[left ? 2 : 1]};
    weigh_corners(set, turned, 3);
    return set->width > 0;
  }
  for (guint i = 0; i < set->n; i++)
    middle = hf_point_add(middle, hf_point_scale(set->at[i], 1.0 / set->n));
  for (guint i = 0; i < set->n; i++)
    corner[i] = hf_point_sub(set->at[i], middle);
  qsort(corner, set->n, sizeof *corner, by_angle);
  for (guint i = 0; i < set->n; i++)
    corner[i] = hf_point_add(corner[i], middle);
  if (!is_hull_of_all(corner, set->n))
    return FALSE;
  weigh_corners(set, corner, set->n);
  return TRUE;
}

static gboolean
is_enough(const Choosing *c, const Set *set)
{
  return set->n > 0 && set->margin >= INSIDE && set->width >= least_width(c);
}

/* ---- three, four ------------------------------------------------------------------------------
 */

static HfPoint
spot(const Choosing *c, guint i)
{
  return g_array_index(c->spots, HfPoint, i);
}

static void
better(const Choosing *c, Set *best, Set tried)
{
  if (!weigh(c, &tried))
    return;
  gboolean in = tried.margin >= 0, was_in = best->n > 0 && best->margin >= 0;
  if (best->n == 0 || (in && !was_in) || (in == was_in && tried.score > best->score))
    *best = tried;
}

/* Does it lie on the same side of all three? */
static gboolean
is_about_mass(HfPoint p, HfPoint q, HfPoint r)
{
  double a = hf_point_cross(p, q), b = hf_point_cross(q, r), d = hf_point_cross(r, p);
  return (a > 0 && b > 0 && d > 0) || (a < 0 && b < 0 && d < 0);
}

/* Those that the centre of mass lies outside of are only weighed until one is about it: their
 * margin is below 0, and their width counts for less. */
static Set
best_three(const Choosing *c)
{
  Set best = {.n = 0};
  for (guint i = 0; i < MIN(c->spots->len, HF_STUD_SPOTS); i++)
    for (guint j = 0; j < i; j++)
      for (guint k = 0; k < j; k++) {
        HfPoint p = spot(c, i), q = spot(c, j), r = spot(c, k);
        if (best.n == 0 || best.margin < 0 || is_about_mass(p, q, r))
          better(c, &best, (Set){{p, q, r}, 3});
      }
  return best;
}

/* Spots that have a mirror image with as much room; those on the line: their own. */
typedef struct {
  GArray *pairs, *fixed; /* HfPoint: one of each pair */
} Mirrored;

static Mirrored
find_mirrored(const Choosing *c)
{
  Mirrored found = {g_array_new(FALSE, FALSE, sizeof(HfPoint)),
                    g_array_new(FALSE, FALSE, sizeof(HfPoint))};
  for (guint i = 0; i < c->spots->len; i++) {
    HfPoint p = spot(c, i), q = hf_stud_room_mirrored(c->room, p);
    if (hf_point_distance(p, q) < 0.1) {
      HfPoint on = hf_point_mix(p, q, 0.5);
      g_array_append_val(found.fixed, on);
    } else if (hf_stud_room_clear(c->room, q) >= c->least) {
      g_array_append_val(found.pairs, p);
    }
  }
  return found;
}

static void
mirrored_clear(Mirrored *found)
{
  g_array_unref(found->pairs);
  g_array_unref(found->fixed);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Mirrored, mirrored_clear)

static Set
three_mirrored(const Choosing *c, const Mirrored *found)
{
  Set best = {.n = 0};
  for (guint i = 0; i < found->pairs->len; i++)
    for (guint j = 0; j < found->fixed->len; j++) {
      HfPoint p = g_array_index(found->pairs, HfPoint, i);
      HfPoint f = g_array_index(found->fixed, HfPoint, j);
      better(c, &best, (Set){{p, hf_stud_room_mirrored(c->room, p), f}, 3});
    }
  return best;
}

static Set
four_mirrored(const Choosing *c, const Mirrored *found)
{
  Set best = {.n = 0};
  for (guint i = 0; i < found->pairs->len; i++)
    for (guint j = 0; j < i; j++) {
      HfPoint p = g_array_index(found->pairs, HfPoint, i);
      HfPoint q = g_array_index(found->pairs, HfPoint, j);
      better(
          c, &best,
          (Set){{p, hf_stud_room_mirrored(c->room, p), q, hf_stud_room_mirrored(c->room, q)}, 4});
    }
  return best;
}

/* The fewest that are enough; else whatever comes nearest. */
static Set
three_or_four(const Choosing *c)
{
  if (hf_stud_room_mirror(c->room) != HF_STUD_NO_MIRROR) {
    g_auto(Mirrored) found = find_mirrored(c);
    Set three = three_mirrored(c, &found), four = four_mirrored(c, &found);
    gboolean hardly = is_enough(c, &four) && three.margin < HARDLY * four.margin;
    if (is_enough(c, &three) && !hardly)
      return three;
    if (is_enough(c, &four))
      return four;
  }
  return best_three(c);
}

/* ---- two, one ---------------------------------------------------------------------------------
 */

/* The centre of mass lies between them, and beside their line by no more than half of what three
 * would have to span. */
static gboolean
weigh_two(const Choosing *c, Set *set)
{
  double t, apart = hf_point_distance(set->at[0], set->at[1]);
  HfPoint foot = hf_segment_nearest(set->at[0], set->at[1], hf_point(0, 0), &t);
  double beside = hf_point_length(foot);
  if (too_near(c, set) || t <= 0 || t >= 1 || beside > least_width(c) / 2)
    return FALSE;
  set->margin = fmin(t, 1 - t) * apart;
  set->width = beside;
  set->score = set->margin - beside;
  return TRUE;
}

static void
better_two(const Choosing *c, Set *best, HfPoint p, HfPoint q)
{
  Set tried = {{p, q}, 2};
  if (weigh_two(c, &tried) && (best->n == 0 || tried.score > best->score))
    *best = tried;
}

static Set
two_mirrored(const Choosing *c)
{
  Set best = {.n = 0};
  g_auto(Mirrored) found = find_mirrored(c);
  for (guint i = 0; i < found.pairs->len; i++) {
    HfPoint p = g_array_index(found.pairs, HfPoint, i);
    better_two(c, &best, p, hf_stud_room_mirrored(c->room, p));
  }
  for (guint i = 0; i < found.fixed->len; i++)
    for (guint j = 0; j < i; j++)
      better_two(c, &best, g_array_index(found.fixed, HfPoint, i),
                 g_array_index(found.fixed, HfPoint, j));
  return best;
}

static Set
best_two(const Choosing *c)
{
  Set best = {.n = 0};
  if (hf_stud_room_mirror(c->room) != HF_STUD_NO_MIRROR)
    best = two_mirrored(c);
  for (guint i = 0; best.n == 0 && i < c->spots->len; i++)
    for (guint j = 0; j < i; j++)
      better_two(c, &best, spot(c, i), spot(c, j));
  return best;
}

/* The two farthest apart, wherever the centre of mass is. */
static Set
any_two(const Choosing *c)
{
  Set best = {.n = 0};
  for (guint i = 0; i < c->spots->len; i++)
    for (guint j = 0; j < i; j++) {
      Set tried = {{spot(c, i), spot(c, j)}, 2};
      tried.score = hf_point_distance(tried.at[0], tried.at[1]);
      if (!too_near(c, &tried) && tried.score > best.score)
        best = tried;
    }
  if (best.n == 2)
    best.margin =
        -hf_point_length(hf_segment_nearest(best.at[0], best.at[1], hf_point(0, 0), NULL));
  return best;
}

static Set
nearest_one(const Choosing *c)
{
  Set one = {.at = {spot(c, 0)}, .n = 1};
  for (guint i = 1; i < c->spots->len; i++)
    if (hf_point_length(spot(c, i)) < hf_point_length(one.at[0]) - 1e-6)
      one.at[0] = spot(c, i);
  return one;
}

/* ---- the choice -------------------------------------------------------------------------------
 */

static Set
choose_at(Choosing *c, double least)
{
  g_clear_pointer(&c->spots, g_array_unref);
  c->least = least;
  c->spots = hf_stud_spots(c->room, least);
  if (c->spots->len == 0)
    return (Set){.n = 0};
  Set set = three_or_four(c);
  if (is_enough(c, &set))
    return set;
  Set two = best_two(c);
  if (two.n > 0)
    return two;
  if (set.n == 0)
    set = any_two(c);
  return set.n > 0 ? set : nearest_one(c);
}

/* Nearer to the middle of the strokes, where that costs little. */
static Set
choose(Choosing *c)
{
  double least = c->ask->diameter / 2 + c->ask->edge;
  double inward = fmin(2 * least, INWARD * hf_stud_room_radius(c->room));
  Set in = inward > least ? choose_at(c, inward) : (Set){.n = 0};
  Set out = choose_at(c, least);
  if (in.n >= 3 && is_enough(c, &in) && in.margin >= WORTH * out.margin)
    return in;
  if (in.n == 2 && out.n == 2 && in.margin >= WORTH * out.margin)
    return in;
  return out;
}

static double
from_nearest(const GArray *studs, HfPoint p)
{
  double nearest = INFINITY;
  for (guint i = 0; i < studs->len; i++)
    nearest = fmin(nearest, hf_point_distance(g_array_index(studs, HfPoint, i), p));
  return nearest;
}

/* The spot that lies farthest from any stud, where that is out of reach, and its mirror image. */
static gboolean
add_far(const Choosing *c, GArray *studs)
{
  guint best = 0;
  for (guint i = 1; i < c->spots->len; i++)
    if (from_nearest(studs, spot(c, i)) > from_nearest(studs, spot(c, best)) + 1e-6)
      best = i;
  HfPoint p = spot(c, best), q = hf_stud_room_mirrored(c->room, p);
  if (from_nearest(studs, p) <= c->ask->reach)
    return FALSE;
  g_array_append_val(studs, p);
  if (hf_point_distance(p, q) >= APART * c->ask->diameter &&
      hf_stud_room_clear(c->room, q) >= c->least)
    g_array_append_val(studs, q);
  return studs->len < MOST_STUDS;
}

HfStudChoice
hf_studs_choose(const HfStudRoom *room, const HfStudAsk *ask)
{
  Choosing c = {.room = room, .ask = ask};
  HfStudChoice choice = {.at = g_array_new(FALSE, FALSE, sizeof(HfPoint))};
  Set set = choose(&c);
  g_array_append_vals(choice.at, set.at, set.n);
  choice.outside = set.n >= 2 ? fmax(-set.margin, 0) : 0;
  choice.few = set.n == 1 || set.n == 2;
  if (choice.few)
    choice.beside = set.n == 2 ? set.width : hf_point_length(set.at[0]);
  while (set.n >= 2 && add_far(&c, choice.at))
    ;
  g_clear_pointer(&c.spots, g_array_unref);
  return choice;
}

void
hf_stud_choice_clear(HfStudChoice *choice)
{
  g_clear_pointer(&choice->at, g_array_unref);
}

gboolean
hf_studs_hold(const HfStudChoice *choice)
{
  return choice->at->len > 0 && choice->outside == 0;
}
