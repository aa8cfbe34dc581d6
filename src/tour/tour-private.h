/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour-private.h - what the parts of the search share.
 *
 * Invariant of a route between two moves: at[] and place[] say the same, node[c] is one of c's, and
 * no cluster stands before one that must come before it.
 */
#pragma once
#include "tour/tour.h"

#define HF_TOUR_NOWHERE G_MAXUINT

/* For each key a run of others: of[first[key]] to of[first[key + 1]]. */
typedef struct {
  guint *first; /* one more than there are keys */
  guint *of;
} HfRuns;

typedef struct {
  const HfTourProblem *problem;
  double *matrix; /* (nullable): n_nodes squared, as many nodes as that is worth for */
  HfRuns members; /* nodes of each cluster */
  HfRuns before;  /* clusters that come before each, all that follows from others too */
  HfRuns after;
  HfRuns near;      /* (nullable parts): clusters near each, nearest first */
  gboolean is_even; /* costs are the same both ways */
  guint64 work;     /* costs asked for */
  GRand *random;
  double *best; /* for the choice of nodes: of each node */
  guint *from;
  guint *mark; /* of each cluster: the last turn that marked it */
  guint turn;
} HfSearch;

typedef struct {
  guint n, clusters;
  guint *at;    /* clusters in their order, n of them; at[0] is 0 */
  guint *place; /* of each cluster; HF_TOUR_NOWHERE: not in it */
  guint *node;  /* of each cluster */
  double cost;
} HfRoute;

static inline double
hf_search_cost(const HfSearch *search, guint from, guint to)
{
  return search->matrix != NULL ? search->matrix[(gsize)from * search->problem->n_nodes + to]
                                : search->problem->cost(from, to, search->problem->data);
}

/* The node at place @i of @route; the place after the last is home again. */
static inline guint
hf_route_node(const HfRoute *route, guint i)
{
  return route->node[route->at[i < route->n ? i : 0]];
}

/** hf_search_new: (transfer full), or %NULL with @error as hf_tour_find() says. */
HfSearch *hf_search_new(const HfTourProblem *problem, GError **error);
/** hf_search_free: with all that it owns. */
void hf_search_free(HfSearch *search);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfSearch, hf_search_free)
/** hf_runs_new: (transfer full parts) @n pairs key, other; @keys keys. */
HfRuns hf_runs_new(guint keys, const guint *pairs, gsize n);
/** hf_runs_clear: frees the parts, not @runs. */
void hf_runs_clear(HfRuns *runs);
/** hf_order_follow: what must come before and after each, with all that follows; needs the
 * problem's own pairs only. %FALSE: a ring, or too many. */
gboolean hf_order_follow(HfSearch *search, GError **error);

/** hf_route_new: (transfer full) empty, for so many clusters. */
HfRoute *hf_route_new(guint clusters);
/** hf_route_free: with its parts. */
void hf_route_free(HfRoute *route);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfRoute, hf_route_free)
/** hf_route_copy: both of one search. hf_route_take_out, hf_route_put_in: the rest moves up or down
 * by one; the cost is not changed. */
void hf_route_copy(HfRoute *to, const HfRoute *from);
void hf_route_take_out(HfRoute *route, guint cluster);
void hf_route_put_in(HfRoute *route, guint cluster, guint place);
/** hf_route_settle: the cost anew, from its nodes. */
void hf_route_settle(HfSearch *search, HfRoute *route);

/* A place for a cluster that is not in the route, and the node that it is met at. */
typedef struct {
  guint place, node;
  double more; /* what it adds to the cost */
} HfSlot;

/** hf_slot_find: the cheapest between what must come before and after; @near: only beside those
 * that are near, where there are such in it. @noise: each is taken for up to that share dearer. */
HfSlot hf_slot_find(HfSearch *search, const HfRoute *route, guint cluster, gboolean near,
                    double noise);
/** hf_nodes_choose: the best nodes for the order of @route, exactly where home has one node (else
 * for each of home's). */
void hf_nodes_choose(HfSearch *search, HfRoute *route);
/** hf_nodes_choose_near: each cluster about @place by itself. */
void hf_nodes_choose_near(HfSearch *search, HfRoute *route, guint place);
/** hf_swap_improve: neighbouring stretches change places, and stretches are turned round where
 * costs are even, until none helps; no stretch longer than @longest. %TRUE: it got better. */
gboolean hf_swap_improve(HfSearch *search, HfRoute *route, guint longest, guint64 until);
/** hf_swap_anneal: @tries exchanges of stretches that are drawn, mostly so that near ones follow
 * each other; each that gains is kept, and one that loses while it is warm. */
void hf_swap_anneal(HfSearch *search, HfRoute *route, double warmth, guint tries);
/** hf_ruin: takes @n clusters out of @route into @ret_out, in one of several ways. */
void hf_ruin(HfSearch *search, HfRoute *route, guint n, guint *ret_out);
