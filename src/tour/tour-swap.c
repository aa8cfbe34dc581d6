/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour-swap.c - a route made better where it stands: two neighbouring stretches change places, or
 * one is turned round.
 *
 *     .. a [i ..... j][j+1 ... k] b ..    ──>    .. a [j+1 ... k][i ..... j] b ..
 *
 * Directions stay, so any costs will do. What comes after something in the left stretch is marked
 * while the left one grows; the right one ends before the first marked cluster, so no order is ever
 * broken. Turning round asks that nothing in the stretch is marked by the rest of it.
 */
#include "tour/tour-private.h"
#include <math.h>
#include <string.h>

enum {
  NEAR = 12,      /* of the clusters near one, those that may be made to follow it */
  ANY_IN = 8,     /* one draw in so many takes any stretches */
  GO_ON_IN = 4,   /* a stretch goes on with a chance of 3 in 4, */
  LENGTH_IN = 4,  /* and in one draw of so many has any length */
  DRAW_WORK = 30, /* costs that might have been asked for in the time of one draw */
};

static const double GAIN = 1e-9; /* of the cost: less is rounding */

typedef struct {
  HfSearch *search;
  HfRoute *route;
  guint longest;
  double least; /* gain that counts */
} Swap;

static double
cost_at(const Swap *swap, guint i, guint k)
{
  return hf_search_cost(swap->search, hf_route_node(swap->route, i), hf_route_node(swap->route, k));
}

static void
place_anew(HfRoute *route, guint from, guint to)
{
  for (guint i = from; i <= to; i++)
    route->place[route->at[i]] = i;
}

static void
exchange(HfRoute *route, guint i, guint j, guint k)
{
  g_autofree guint *left = g_memdup2(route->at + i, sizeof *left * (j - i + 1));
  memmove(route->at + i, route->at + j + 1, sizeof *left * (k - j));
  memcpy(route->at + i + (k - j), left, sizeof *left * (j - i + 1));
  place_anew(route, i, k);
}

static void
turn_round(HfRoute *route, guint i, guint j)
{
  for (guint a = i, b = j; a < b; a++, b--) {
    guint c = route->at[a];
    route->at[a] = route->at[b];
    route->at[b] = c;
  }
  place_anew(route, i, j);
}

static void
mark_after(Swap *swap, guint cluster)
{
  const HfRuns *after = &swap->search->after;
  for (guint k = after->first[cluster]; k < after->first[cluster + 1]; k++)
    swap->search->mark[after->of[k]] = swap->search->turn;
}

/* The first right stretch whose exchange with i to j gains; %TRUE: done. */
static gboolean
try_right(Swap *swap, guint i, guint j)
{
  HfRoute *route = swap->route;
  double a_left = cost_at(swap, i - 1, i), left_right = cost_at(swap, j, j + 1);
  double a_right = cost_at(swap, i - 1, j + 1);
  guint end = MIN(route->n - 1, j + swap->longest);
  for (guint k = j + 1; k <= end && swap->search->mark[route->at[k]] != swap->search->turn; k++) {
    double more = a_right + cost_at(swap, k, i) + cost_at(swap, j, k + 1) - a_left - left_right -
                  cost_at(swap, k, k + 1);
    swap->search->work += 3;
    if (more < -swap->least) {
      exchange(route, i, j, k);
      route->cost += more;
      return TRUE;
    }
  }
  return FALSE;
}

static gboolean
try_turn(Swap *swap, guint i, guint j)
{
  double more = cost_at(swap, i - 1, j) + cost_at(swap, i, j + 1) - cost_at(swap, i - 1, i) -
                cost_at(swap, j, j + 1);
  swap->search->work += 4;
  if (more >= -swap->least)
    return FALSE;
  turn_round(swap->route, i, j);
  swap->route->cost += more;
  return TRUE;
}

/* Stretches that begin at @i. */
static gboolean
try_from(Swap *swap, guint i)
{
  HfRoute *route = swap->route;
  gboolean may_turn = swap->search->is_even;
  swap->search->turn++;
  for (guint j = i; j < route->n && (may_turn || j - i < swap->longest); j++) {
    may_turn = may_turn && swap->search->mark[route->at[j]] != swap->search->turn;
    if (may_turn && j > i && try_turn(swap, i, j))
      return TRUE;
    mark_after(swap, route->at[j]);
    if (j + 1 < route->n && j - i < swap->longest && try_right(swap, i, j))
      return TRUE;
  }
  return FALSE;
}

gboolean
hf_swap_improve(HfSearch *search, HfRoute *route, guint longest, guint64 until)
{
  Swap swap = {search, route, longest, GAIN * route->cost};
  gboolean better = FALSE;
  guint idle = 0; /* starts in a row that gained nothing */
  for (guint i = 1; route->n > 2 && idle < route->n && search->work < until;
       i = i + 1 < route->n ? i + 1 : 1) {
    gboolean gained = FALSE;
    while (search->work < until && try_from(&swap, i))
      gained = TRUE;
    idle = gained ? 0 : idle + 1;
    better = better || gained;
  }
  return better;
}

/* 1 to @most, short ones mostly; @most is 1 at least. */
static guint
draw_length(GRand *random, guint most)
{
  if (g_rand_int(random) % LENGTH_IN == 0)
    return (guint)g_rand_int_range(random, 1, (gint)most + 1);
  guint n = 1;
  while (n < most && g_rand_int(random) % GO_ON_IN != 0)
    n++;
  return n;
}

/* The end of the longest right stretch from @j + 1, of at most @most clusters, of which none must
 * come after something in @i to @j; @j: there is none. */
static guint
free_right(const Swap *swap, guint i, guint j, guint most)
{
  const HfRoute *route = swap->route;
  const HfRuns *before = &swap->search->before;
  guint end = MIN(route->n - 1, j + most);
  for (guint k = j + 1; k <= end; k++)
    for (guint b = before->first[route->at[k]]; b < before->first[route->at[k] + 1]; b++) {
      guint place = route->place[before->of[b]];
      if (place >= i && place <= j)
        return k - 1;
    }
  return end;
}

typedef struct {
  guint i, j, k;
} Stretches;

/* Stretches whose exchange lets a cluster be followed by one that is near it. %FALSE: none. */
static gboolean
draw_near(const Swap *swap, Stretches *ret)
{
  const HfRoute *route = swap->route;
  const HfRuns *near = &swap->search->near;
  GRand *random = swap->search->random;
  guint a = (guint)g_rand_int_range(random, 0, (gint)route->n);
  guint run = MIN(near->first[1], NEAR);
  guint wanted = near->of[near->first[route->at[a]] + draw_length(random, run) - 1];
  guint p = route->place[wanted];
  if (p == 0 || p == a + 1)
    return FALSE;
  if (p > a) {
    *ret = (Stretches){a + 1, p - 1, 0};
    ret->k = free_right(swap, ret->i, ret->j, draw_length(random, route->n - p));
    return ret->k > ret->j;
  }
  *ret = (Stretches){p, p + draw_length(random, a - p) - 1, a};
  return free_right(swap, ret->i, ret->j, a - ret->j) == a;
}

static gboolean
draw_any(const Swap *swap, Stretches *ret)
{
  GRand *random = swap->search->random;
  guint n = swap->route->n;
  ret->i = (guint)g_rand_int_range(random, 1, (gint)n - 1);
  ret->j = ret->i + draw_length(random, n - 1 - ret->i) - 1;
  ret->k = free_right(swap, ret->i, ret->j, draw_length(random, n - 1 - ret->j));
  return ret->k > ret->j;
}

void
hf_swap_anneal(HfSearch *search, HfRoute *route, double warmth, guint tries)
{
  Swap swap = {search, route, route->n, 0};
  for (guint t = 0; route->n > 3 && t < tries; t++) {
    Stretches s;
    search->work += DRAW_WORK;
    if (!(g_rand_int(search->random) % ANY_IN == 0 ? draw_any(&swap, &s) : draw_near(&swap, &s)))
      continue;
    double more = cost_at(&swap, s.i - 1, s.j + 1) + cost_at(&swap, s.k, s.i) +
                  cost_at(&swap, s.j, s.k + 1) - cost_at(&swap, s.i - 1, s.i) -
                  cost_at(&swap, s.j, s.j + 1) - cost_at(&swap, s.k, s.k + 1);
    if (more <= 0 || more < -warmth * log(1 - g_rand_double(search->random))) {
      exchange(route, s.i, s.j, s.k);
      route->cost += more;
    }
  }
}
