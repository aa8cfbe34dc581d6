/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour.c - the search: some clusters are taken out and put in again, better or, while it is warm,
 * a little worse.
 *
 * While it cools, from WARM to COLD of the cost of a step, single stretches change places at random
 * (tour-swap.c) and, now and then, a handful of clusters is taken out and put in anew, each where
 * it is cheapest (tour-ruin.c). How much it may do is counted in costs asked for, so what comes out
 * hangs on no clock.
 */
#include "base/beside.h"
#include "tour/tour-private.h"
#include <math.h>
#include <string.h>

enum {
  MOST_OUT = 24, /* clusters taken out at once */
  SMALL = 150,   /* clusters: up to here each trial gets the best nodes of its order */
  LOOK = 64,     /* trials between two looks at whether to stop */
  LONGEST = 60,  /* of a stretch that changes places, in a large tour */
  SWAPS = 20,    /* draws for each cluster, between two trials */
  ANEW_IN = 3,   /* with one node each, one trial in so many takes clusters out */
};
static const double WARM = 1, COLD = 0.02; /* of the mean cost of a step */

typedef struct {
  HfSearch *search;
  HfRoute *best, *now, *trial;
  guint *out;
  guint64 work;
  gboolean is_small;
} Anneal;

/* Which is put in next: any, or the one that is cheapest now. */
enum { AS_THEY_CAME, CHEAPEST_FIRST, WAYS_IN };

static void
put_in_slot(HfRoute *route, guint cluster, HfSlot slot)
{
  hf_route_put_in(route, cluster, slot.place);
  route->node[cluster] = slot.node;
}

static void
recreate(Anneal *anneal, HfRoute *route, guint n, guint *out)
{
  HfSearch *search = anneal->search;
  gboolean near = !anneal->is_small;
  double noise = g_rand_int_range(search->random, 0, 3) == 0 ? 0.2 : 0;
  guint way = (guint)g_rand_int_range(search->random, 0, n > 10 ? 1 : WAYS_IN);
  while (n > 0) {
    guint pick = way == AS_THEY_CAME ? (guint)g_rand_int_range(search->random, 0, (gint)n) : 0;
    HfSlot best = hf_slot_find(search, route, out[pick], near, noise);
    for (guint i = 1; way == CHEAPEST_FIRST && i < n; i++) {
      HfSlot slot = hf_slot_find(search, route, out[i], near, noise);
      if (slot.more < best.more) {
        best = slot;
        pick = i;
      }
    }
    put_in_slot(route, out[pick], best);
    if (near)
      hf_nodes_choose_near(search, route, best.place);
    out[pick] = out[--n];
  }
}

/* A first tour: home, then each cluster in an order that may be, at its cheapest place. */
static void
begin(Anneal *anneal)
{
  HfSearch *search = anneal->search;
  HfRoute *route = anneal->now;
  guint n = search->problem->n_clusters;
  hf_route_put_in(route, 0, 0);
  route->node[0] = search->members.of[search->members.first[0]];
  g_autofree guint *out = g_new(guint, n);
  for (guint c = 1; c < n; c++)
    out[c - 1] = c;
  for (guint left = n - 1; left > 0;) {
    guint pick = (guint)g_rand_int_range(search->random, 0, (gint)left);
    put_in_slot(route, out[pick], hf_slot_find(search, route, out[pick], !anneal->is_small, 0));
    out[pick] = out[--left];
  }
  hf_route_settle(search, route);
  hf_nodes_choose(search, route);
}

/* One trial: out, in, and its nodes and stretches set right. */
static void
try_once(Anneal *anneal, guint most)
{
  HfSearch *search = anneal->search;
  HfRoute *trial = anneal->trial;
  guint n = (guint)g_rand_int_range(search->random, 1, (gint)most + 1);
  hf_route_copy(trial, anneal->now);
  hf_ruin(search, trial, n, anneal->out);
  recreate(anneal, trial, n, anneal->out);
  hf_route_settle(search, trial);
  if (anneal->is_small && search->problem->n_nodes > search->problem->n_clusters)
    hf_nodes_choose(search, trial);
}

static void
keep_best(Anneal *anneal)
{
  HfSearch *search = anneal->search;
  HfRoute *now = anneal->now;
  if (now->cost >= anneal->best->cost)
    return;
  guint longest = anneal->is_small ? now->n : LONGEST;
  if (anneal->is_small)
    while (hf_swap_improve(search, now, longest, anneal->work)) {
      double was = now->cost;
      hf_nodes_choose(search, now);
      if (now->cost >= was)
        break;
    }
  hf_route_copy(anneal->best, now);
}

/* Whether a tour that costs @worse more is taken. */
static gboolean
is_taken(Anneal *anneal, double worse, double warmth)
{
  return worse <= 0 || worse < -warmth * log(1 - g_rand_double(anneal->search->random));
}

/* Some clusters anew; what comes of it is taken or left. */
static void
renew(Anneal *anneal, guint most, double warmth)
{
  try_once(anneal, most);
  if (!is_taken(anneal, anneal->trial->cost - anneal->now->cost, warmth))
    return;
  HfRoute *was = anneal->now;
  anneal->now = anneal->trial;
  anneal->trial = was;
  keep_best(anneal);
}

static int
compare_costs(gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return x < y ? -1 : x > y;
}

/* The mean cost of a step of @route, without the tenth of them that is dearest: a first tour may
 * hold some that are as good as forbidden. */
static double
usual_step(HfSearch *search, const HfRoute *route)
{
  g_autofree double *costs = g_new(double, route->n);
  for (guint i = 0; i < route->n; i++)
    costs[i] = hf_search_cost(search, hf_route_node(route, i), hf_route_node(route, i + 1));
  qsort(costs, route->n, sizeof *costs, compare_costs);
  double sum = 0;
  guint n = route->n - route->n / 10;
  for (guint i = 0; i < n; i++)
    sum += costs[i];
  return sum / n;
}

static void
cool(Anneal *anneal, const HfCancel *cancel)
{
  HfSearch *search = anneal->search;
  guint n = anneal->now->n, most = CLAMP((n - 1) / 3, 1, MOST_OUT);
  gboolean is_plain = search->problem->n_nodes == search->problem->n_clusters;
  double step = usual_step(search, anneal->best);
  guint64 from = search->work;
  for (guint i = 0; search->work < anneal->work; i++) {
    if (i % LOOK == 0 && cancel != NULL && !hf_cancel_check(cancel, NULL))
      return;
    double part = (double)(search->work - from) / (double)(anneal->work - from);
    double warmth = step * WARM * pow(COLD / WARM, part);
    if (is_plain) {
      hf_swap_anneal(search, anneal->now, warmth, SWAPS * n);
      keep_best(anneal);
    }
    if (!is_plain || g_rand_int(search->random) % ANEW_IN == 0)
      renew(anneal, most, warmth);
  }
}

static HfTour *
tour_of(const HfRoute *route)
{
  HfTour *tour = g_new0(HfTour, 1);
  tour->n = route->n;
  tour->node = g_new(guint, route->n);
  for (guint i = 0; i < route->n; i++)
    tour->node[i] = hf_route_node(route, i);
  tour->cost = route->cost;
  return tour;
}

/* From the first tour to the best; @anneal's routes are there. */
static void
search_all(Anneal *anneal, const HfCancel *cancel)
{
  HfSearch *search = anneal->search;
  begin(anneal);
  hf_swap_improve(search, anneal->now, anneal->is_small ? anneal->now->n : LONGEST, anneal->work);
  hf_nodes_choose(search, anneal->now);
  hf_route_copy(anneal->best, anneal->now);
  if (anneal->best->n > 2)
    cool(anneal, cancel);
  hf_swap_improve(search, anneal->best, anneal->is_small ? anneal->best->n : LONGEST, G_MAXUINT64);
  hf_nodes_choose(search, anneal->best);
  hf_route_settle(search, anneal->best);
}

typedef struct {
  const HfTourProblem *problem;
  guint64 work;
  const HfCancel *cancel;
  guint seed;
  GError *error;
} Start;

/* A whole search from one seed, in any thread. */
static gpointer
start(gpointer data)
{
  Start *start = data;
  g_autoptr(HfSearch) search = hf_search_new(start->problem, &start->error);
  if (search == NULL)
    return NULL;
  g_rand_set_seed(search->random, start->seed);
  guint n = start->problem->n_clusters;
  Anneal anneal = {search,          hf_route_new(n), hf_route_new(n), hf_route_new(n),
                   g_new(guint, n), start->work,     n <= SMALL};
  search_all(&anneal, start->cancel);
  HfTour *tour = tour_of(anneal.best);
  hf_route_free(anneal.best);
  hf_route_free(anneal.now);
  hf_route_free(anneal.trial);
  g_free(anneal.out);
  return tour;
}

/* Two searches side by side: what one misses by chance the other mostly finds. */
HfTour *
hf_tour_find(const HfTourProblem *problem, guint64 work, const HfCancel *cancel, GError **error)
{
  Start starts[] = {{problem, work, cancel, 1, NULL}, {problem, work, cancel, 2, NULL}};
  HfBeside beside = hf_beside("tour", start, &starts[1]);
  HfTour *tour = start(&starts[0]), *other = hf_beside_end(&beside);
  g_clear_error(&starts[1].error);
  if (tour == NULL) {
    g_propagate_error(error, starts[0].error);
    return NULL;
  }
  if (other->cost < tour->cost) {
    HfTour *worse = tour;
    tour = other;
    other = worse;
  }
  hf_tour_free(other);
  return tour;
}

void
hf_tour_free(HfTour *tour)
{
  if (tour != NULL) {
    g_free(tour->node);
    g_free(tour);
  }
}
