/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_tour.c - orders that can be checked by hand or by trying all of them.
 */
#include "tour/tour-private.h"
#include <math.h>

typedef struct {
  double x, y;
} Town;

static double
between(guint from, guint to, gconstpointer data)
{
  const Town *towns = data;
  return hypot(towns[to].x - towns[from].x, towns[to].y - towns[from].y);
}

static HfTour *
find(const Town *towns, guint n, const guint *cluster_of, guint clusters,
     const HfTourBefore *before, guint n_before)
{
  HfTourProblem problem = {n, clusters, cluster_of, between, towns, TRUE, before, n_before};
  g_autoptr(GError) error = NULL;
  HfTour *tour = hf_tour_find(&problem, 1000000, NULL, &error);
  g_assert_no_error(error);
  return tour;
}

/* Six towns on a circle: round it, six chords of one radius. */
static void
test_round(void)
{
  Town towns[6];
  guint cluster_of[6];
  for (guint i = 0; i < 6; i++) {
    guint turned = i * 5 % 6; /* not in their order */
    towns[i] = (Town){cos(turned * G_PI / 3), sin(turned * G_PI / 3)};
    cluster_of[i] = i;
  }
  g_autoptr(HfTour) tour = find(towns, 6, cluster_of, 6, NULL, 0);
  g_assert_cmpfloat_with_epsilon(tour->cost, 6, 1e-9);
  g_assert_cmpuint(tour->n, ==, 6);
  g_assert_cmpuint(tour->node[0], ==, 0);
}

/* Of each cluster the node that is on the way. */
static void
test_one_of_each(void)
{
  const Town towns[] = {{0, 0}, {5, 3}, {5, 0}, {9, 7}, {10, 0}, {10, -4}};
  const guint cluster_of[] = {0, 1, 1, 2, 2, 2};
  g_autoptr(HfTour) tour = find(towns, 6, cluster_of, 3, NULL, 0);
  g_assert_cmpfloat_with_epsilon(tour->cost, 20, 1e-9);
  guint seen = 0;
  for (guint i = 0; i < tour->n; i++)
    seen |= 1u << tour->node[i];
  g_assert_cmpuint(seen, ==, 1 | 4 | 16);
}

/* On a line 1, 2, 3 from home; the farthest first, then the nearest: 3 + 2 + 1 + 2. */
static void
test_before(void)
{
  const Town towns[] = {{0, 0}, {1, 0}, {2, 0}, {3, 0}};
  const guint cluster_of[] = {0, 1, 2, 3};
  const HfTourBefore before[] = {{3, 1}, {1, 2}};
  g_autoptr(HfTour) tour = find(towns, 4, cluster_of, 4, before, 2);
  const guint wanted[] = {0, 3, 1, 2};
  for (guint i = 0; i < 4; i++)
    g_assert_cmpuint(tour->node[i], ==, wanted[i]);
  g_assert_cmpfloat_with_epsilon(tour->cost, 8, 1e-9);
}

static void
test_ring(void)
{
  const Town towns[] = {{0, 0}, {1, 0}, {2, 0}};
  const guint cluster_of[] = {0, 1, 2};
  const HfTourBefore before[] = {{1, 2}, {2, 1}};
  HfTourProblem problem = {3, 3, cluster_of, between, towns, TRUE, before, 2};
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_tour_find(&problem, 1000, NULL, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
}

static void
test_home_alone(void)
{
  const Town towns[] = {{0, 0}, {3, 4}};
  const guint cluster_of[] = {0, 1};
  g_autoptr(HfTour) one = find(towns, 1, cluster_of, 1, NULL, 0);
  g_assert_cmpuint(one->n, ==, 1);
  g_assert_cmpfloat(one->cost, ==, 0);
  g_autoptr(HfTour) two = find(towns, 2, cluster_of, 2, NULL, 0);
  g_assert_cmpfloat_with_epsilon(two->cost, 10, 1e-9);
}

static gboolean
is_kept(const HfTour *tour, const guint *cluster_of, const HfTourBefore *before, guint n_before)
{
  guint place[400] = {0};
  for (guint i = 0; i < tour->n; i++)
    place[cluster_of[tour->node[i]]] = i;
  for (guint i = 0; i < n_before; i++)
    if (place[before[i].first] >= place[before[i].then])
      return FALSE;
  return TRUE;
}

/* Many clusters: no matrix, only near places are tried; each cluster once, orders kept, and the
 * same again the next time. */
static void
test_many(void)
{
  enum { CLUSTERS = 400, EACH = 4, NODES = CLUSTERS * EACH };
  g_autoptr(GRand) random = g_rand_new_with_seed(7);
  g_autofree Town *towns = g_new(Town, NODES);
  g_autofree guint *cluster_of = g_new(guint, NODES);
  HfTourBefore before[CLUSTERS / 5];
  for (guint c = 0; c < CLUSTERS; c++) {
    double x = g_rand_double(random) * 1000, y = g_rand_double(random) * 1000;
    for (guint k = 0; k < EACH; k++) {
      towns[c * EACH + k] = (Town){x + g_rand_double(random) * 20, y + g_rand_double(random) * 20};
      cluster_of[c * EACH + k] = c;
    }
  }
  for (guint i = 0; i < G_N_ELEMENTS(before); i++)
    before[i] = (HfTourBefore){1 + i, 1 + i * 5 % (CLUSTERS - 1 - i) + i};
  for (guint i = 0; i < G_N_ELEMENTS(before); i++)
    if (before[i].then <= before[i].first)
      before[i].then = before[i].first + 1;
  g_autoptr(HfTour) tour = find(towns, NODES, cluster_of, CLUSTERS, before, G_N_ELEMENTS(before));
  g_autoptr(HfTour) again = find(towns, NODES, cluster_of, CLUSTERS, before, G_N_ELEMENTS(before));
  g_assert_cmpuint(tour->n, ==, CLUSTERS);
  g_assert_true(is_kept(tour, cluster_of, before, G_N_ELEMENTS(before)));
  g_assert_cmpmem(tour->node, tour->n * sizeof *tour->node, again->node,
                  again->n * sizeof *again->node);
  double cost = 0;
  for (guint i = 0; i < tour->n; i++)
    cost += between(tour->node[i], tour->node[(i + 1) % tour->n], towns);
  g_assert_cmpfloat_with_epsilon(cost, tour->cost, 1e-6 * cost);
  /* 0.7124 sqrt(n A): a random tour's length (Beardwood, Halton, Hammersley 1959); the orders that
   * must be kept and the few trials may cost as much again, but not a tour drawn at random (520
   * a step). */
  g_assert_cmpfloat(cost, <, 2 * 0.7124 * sqrt(CLUSTERS * 1e6));
}

/* Uphill costs twice. */
static double
uphill(guint from, guint to, gconstpointer data)
{
  const Town *towns = data;
  return between(from, to, data) * (towns[to].y > towns[from].y ? 2 : 1);
}

/* Too many nodes for a matrix, and costs that are not the same both ways: no stretch is turned
 * round as if they were, so what the exchanges say that they gain is what the route costs less. */
static void
test_uneven(void)
{
  enum { CLUSTERS = 400, NODES = 1600 };
  g_autoptr(GRand) random = g_rand_new_with_seed(3);
  g_autofree Town *towns = g_new(Town, NODES);
  g_autofree guint *cluster_of = g_new(guint, NODES);
  for (guint i = 0; i < NODES; i++) {
    towns[i] = (Town){g_rand_double(random) * 1000, g_rand_double(random) * 1000};
    cluster_of[i] = i / 4;
  }
  HfTourProblem problem = {NODES, CLUSTERS, cluster_of, uphill, towns, FALSE, NULL, 0};
  g_autoptr(HfSearch) search = hf_search_new(&problem, NULL);
  g_autoptr(HfRoute) route = hf_route_new(CLUSTERS);
  for (guint c = 0; c < CLUSTERS; c++) {
    hf_route_put_in(route, c, c);
    route->node[c] = 4 * c;
  }
  hf_route_settle(search, route);
  double before = route->cost;
  g_assert_true(hf_swap_improve(search, route, 60, 10000000));
  double told = route->cost;
  hf_route_settle(search, route);
  g_assert_cmpfloat_with_epsilon(told, route->cost, 1e-6 * before);
  g_assert_cmpfloat(route->cost, <, before / 2);
}

static void
test_stopped(void)
{
  const Town towns[] = {{0, 0}, {1, 0}, {2, 0}, {3, 0}};
  const guint cluster_of[] = {0, 1, 2, 3};
  HfTourProblem problem = {4, 4, cluster_of, between, towns, TRUE, NULL, 0};
  HfCancel cancel = {0};
  hf_cancel_ask(&cancel);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfTour) tour = hf_tour_find(&problem, G_MAXUINT64 / 2, &cancel, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(tour->n, ==, 4);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/tour/round", test_round);
  g_test_add_func("/tour/one-of-each", test_one_of_each);
  g_test_add_func("/tour/before", test_before);
  g_test_add_func("/tour/ring", test_ring);
  g_test_add_func("/tour/home-alone", test_home_alone);
  g_test_add_func("/tour/many", test_many);
  g_test_add_func("/tour/uneven", test_uneven);
  g_test_add_func("/tour/stopped", test_stopped);
  return g_test_run();
}
