/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour.h - in which order, and at which of their places, clusters are gone through (the door of
 * tour/). Knows no geometry: only clusters, a cost and what must come before what.
 *
 *      home ──> b3 ──> a1 ──> d2 ──> home      one node of each cluster, clusters in an order in
 *               │      │      │                which nothing comes before what it needs; the sum
 *               b      a      d                of the costs from node to node small
 *
 * The clustered travelling salesman problem with precedence (GTSP with precedence; with clusters of
 * one node the sequential ordering problem). Method: ruin and recreate (Schrimpf et al., Record
 * breaking optimization results using the ruin and recreate principle, 2000; for clusters Smith and
 * Imeson, GLNS, 2017) under annealing, the segment exchange that keeps directions (Gambardella and
 * Dorigo, An ant colony system hybridized with a new local search for the sequential ordering
 * problem, 2000), and the best nodes of an order by dynamic programming. Papers from memory.
 */
#pragma once
#include "base/cancel.h"

/* The cost of an arc that may not be gone; anything from here on is as good as forbidden. */
#define HF_TOUR_NEVER 1e12

/** HfTourCost: from node @from to node @to, at least 0; need not be the same both ways. */
typedef double (*HfTourCost)(guint from, guint to, gconstpointer data);

typedef struct {
  guint first, then; /* clusters: @first is gone through before @then */
} HfTourBefore;

enum {
  HF_TOUR_MOST_NODES = 200000,
  HF_TOUR_MOST_CLUSTERS = 10000, /* who is near whom costs their square: some seconds */
  HF_TOUR_MOST_PAIRS = 4000000,  /* of clusters, what follows from others counted */
};

typedef struct {
  guint n_nodes, n_clusters;
  const guint *cluster_of; /* of each node; every cluster has one node at least */
  HfTourCost cost;
  gconstpointer data;
  gboolean is_even;           /* @cost is the same both ways; of few nodes it is seen anyway */
  const HfTourBefore *before; /* n_before of them; none names cluster 0 */
  guint n_before;
} HfTourProblem;

typedef struct {
  guint n;     /* clusters */
  guint *node; /* one of each cluster in the order of the tour; the first is of cluster 0 */
  double cost; /* round: from the last back to the first */
} HfTour;

/**
 * hf_tour_find: a good round tour that begins in cluster 0.
 * @problem: its cost is asked for in two threads at once
 * @work: about how many costs each of the two may ask for; a tour is found whatever it is (some
 * hundred millions are one second). The same problem and the same @work give the same tour.
 * @cancel: (nullable): asked, the best one yet is returned, and no error set
 * Returns: (transfer full), or %NULL: clusters that wait for each other in a ring
 * (HF_ERROR_BAD_VALUE), or over a cap above (HF_ERROR_TOO_BIG).
 * Memory: 16 bytes for each pair of nodes up to 1,500 nodes, none of the kind above.
 */
HfTour *hf_tour_find(const HfTourProblem *problem, guint64 work, const HfCancel *cancel,
                     GError **error);
/** hf_tour_free: %NULL: nothing. */
void hf_tour_free(HfTour *tour);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTour, hf_tour_free)
