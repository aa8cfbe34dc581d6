/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour_dump WORK: reads a problem as numbers from standard input, prints the tour that was found.
 *
 * In: nodes clusters pairs; the cluster of each node; the pairs; the matrix of costs, row by row.
 * Out: the cost, then the nodes.
 */
#include "tour/tour.h"
#include <stdio.h>
#include <stdlib.h>

typedef struct {
  guint n;
  double *of;
} Matrix;

static double
cost_of(guint from, guint to, gconstpointer data)
{
  const Matrix *matrix = data;
  return matrix->of[(gsize)from * matrix->n + to];
}

static double
next(void)
{
  double value;
  if (scanf("%lf", &value) != 1)
    exit(2);
  return value;
}

int
main(int argc, char **argv)
{
  if (argc != 2)
    return 2;
  HfTourProblem problem = {
      .n_nodes = (guint)next(), .n_clusters = (guint)next(), .n_before = (guint)next()};
  g_autofree guint *cluster_of = g_new(guint, problem.n_nodes);
  g_autofree HfTourBefore *before = g_new(HfTourBefore, problem.n_before + 1);
  g_autofree double *costs = g_new(double, (gsize)problem.n_nodes *problem.n_nodes);
  for (guint i = 0; i < problem.n_nodes; i++)
    cluster_of[i] = (guint)next();
  for (guint i = 0; i < problem.n_before; i++)
    before[i] = (HfTourBefore){(guint)next(), (guint)next()};
  for (gsize i = 0; i < (gsize)problem.n_nodes * problem.n_nodes; i++)
    costs[i] = next();
  Matrix matrix = {problem.n_nodes, costs};
  problem.cluster_of = cluster_of;
  problem.before = before;
  problem.cost = cost_of;
  problem.data = &matrix;
  g_autoptr(GError) error = NULL;
  g_autoptr(HfTour) tour =
      hf_tour_find(&problem, (guint64)g_ascii_strtod(argv[1], NULL), NULL, &error);
  if (tour == NULL) {
    fprintf(stderr, "%s\n", error->message);
    return 1;
  }
  printf("%.17g\n", tour->cost);
  for (guint i = 0; i < tour->n; i++)
    printf("%u ", tour->node[i]);
  printf("\n");
  return 0;
}
