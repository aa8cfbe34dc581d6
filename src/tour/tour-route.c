/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour-route.c - a route, what is put into it and where, and the nodes at which its clusters are
 * met.
 *
 * Nodes of an order: the shortest way through layers. best[v] is the least cost from home to v, v a
 * node of the layer; from[v] the node before it. Exact, n_a n_b costs for each two layers.
 */
#include "tour/tour-private.h"
#include <string.h>

HfRoute *
hf_route_new(guint clusters)
{
  HfRoute *route = g_new0(HfRoute, 1);
  route->clusters = clusters;
  route->at = g_new0(guint, clusters);
  route->place = g_new(guint, clusters);
  route->node = g_new0(guint, clusters);
  for (guint c = 0; c < clusters; c++)
    route->place[c] = HF_TOUR_NOWHERE;
  return route;
}

void
hf_route_free(HfRoute *route)
{
  g_free(route->at);
  g_free(route->place);
  g_free(route->node);
  g_free(route);
}

void
hf_route_copy(HfRoute *to, const HfRoute *from)
{
  to->n = from->n;
  to->cost = from->cost;
  memcpy(to->at, from->at, sizeof *to->at * from->n);
  memcpy(to->place, from->place, sizeof *to->place * from->clusters);
  memcpy(to->node, from->node, sizeof *to->node * from->clusters);
}

void
hf_route_take_out(HfRoute *route, guint cluster)
{
  guint from = route->place[cluster];
  route->n--;
  for (guint i = from; i < route->n; i++) {
    route->at[i] = route->at[i + 1];
    route->place[route->at[i]] = i;
  }
  route->place[cluster] = HF_TOUR_NOWHERE;
}

void
hf_route_put_in(HfRoute *route, guint cluster, guint place)
{
  for (guint i = route->n++; i > place; i--) {
    route->at[i] = route->at[i - 1];
    route->place[route->at[i]] = i;
  }
  route->at[place] = cluster;
  route->place[cluster] = place;
}

void
hf_route_settle(HfSearch *search, HfRoute *route)
{
  route->cost = 0;
  for (guint i = 0; i < route->n; i++)
    route->cost += hf_search_cost(search, hf_route_node(route, i), hf_route_node(route, i + 1));
  search->work += route->n;
}

/* The places at which @cluster may be put in: from *ret_low to *ret_high, both counted. */
static void
find_window(const HfSearch *search, const HfRoute *route, guint cluster, guint *ret_low,
            guint *ret_high)
{
  const HfRuns *before = &search->before, *after = &search->after;
  *ret_low = 1;
  *ret_high = route->n;
  for (guint k = before->first[cluster]; k < before->first[cluster + 1]; k++) {
    guint place = route->place[before->of[k]];
    if (place != HF_TOUR_NOWHERE)
      *ret_low = MAX(*ret_low, place + 1);
  }
  for (guint k = after->first[cluster]; k < after->first[cluster + 1]; k++)
    *ret_high = MIN(*ret_high, route->place[after->of[k]]);
}

static void
try_place(HfSearch *search, const HfRoute *route, guint cluster, guint place, double noise,
          HfSlot *slot)
{
  const HfRuns *members = &search->members;
  guint a = hf_route_node(route, place - 1), b = hf_route_node(route, place);
  double without = hf_search_cost(search, a, b);
  double dearer = noise > 0 ? 1 + noise * g_rand_double(search->random) : 1;
  for (guint k = members->first[cluster]; k < members->first[cluster + 1]; k++) {
    guint v = members->of[k];
    double more = hf_search_cost(search, a, v) + hf_search_cost(search, v, b) - without;
    if (more * dearer < slot->more)
      *slot = (HfSlot){place, v, more * dearer};
  }
  search->work += 2 * (members->first[cluster + 1] - members->first[cluster]) + 2;
}

HfSlot
hf_slot_find(HfSearch *search, const HfRoute *route, guint cluster, gboolean near, double noise)
{
  guint low, high;
  HfSlot slot = {HF_TOUR_NOWHERE, 0, G_MAXDOUBLE};
  find_window(search, route, cluster, &low, &high);
  if (near && high - low > 12) {
    const HfRuns *runs = &search->near;
    for (guint k = runs->first[cluster];
         k < MIN(runs->first[cluster] + 12, runs->first[cluster + 1]); k++) {
      guint place = route->place[runs->of[k]];
      if (place == HF_TOUR_NOWHERE)
        continue;
      if (place >= low && place <= high)
        try_place(search, route, cluster, place, noise, &slot);
      if (place + 1 >= low && place + 1 <= high)
        try_place(search, route, cluster, place + 1, noise, &slot);
    }
    try_place(search, route, cluster, low, noise, &slot);
    try_place(search, route, cluster, high, noise, &slot);
    return slot;
  }
  for (guint place = low; place <= high; place++)
    try_place(search, route, cluster, place, noise, &slot);
  return slot;
}

/* The least cost of each node of the layer at @i, from the layer before. */
static void
reach_layer(HfSearch *search, const HfRoute *route, guint i)
{
  const HfRuns *m = &search->members;
  guint a = route->at[i - 1], b = route->at[i];
  for (guint k = m->first[b]; k < m->first[b + 1]; k++) {
    guint v = m->of[k], from = m->of[m->first[a]];
    double best = search->best[from] + hf_search_cost(search, from, v);
    for (guint j = m->first[a] + 1; j < m->first[a + 1]; j++) {
      double cost = search->best[m->of[j]] + hf_search_cost(search, m->of[j], v);
      if (cost < best) {
        best = cost;
        from = m->of[j];
      }
    }
    search->best[v] = best;
    search->from[v] = from;
  }
  search->work += (guint64)(m->first[b + 1] - m->first[b]) * (m->first[a + 1] - m->first[a]);
}

/* The best nodes round from @home; %TRUE: better than @route was, which has them now. */
static gboolean
choose_from(HfSearch *search, HfRoute *route, guint home)
{
  const HfRuns *m = &search->members;
  for (guint k = m->first[0]; k < m->first[1]; k++)
    search->best[m->of[k]] = m->of[k] == home ? 0 : G_MAXDOUBLE / 4;
  for (guint i = 1; i < route->n; i++)
    reach_layer(search, route, i);
  guint last = route->at[route->n - 1], end = m->of[m->first[last]];
  double best = G_MAXDOUBLE;
  for (guint k = m->first[last]; k < m->first[last + 1]; k++) {
    double cost = search->best[m->of[k]] + hf_search_cost(search, m->of[k], home);
    if (cost < best) {
      best = cost;
      end = m->of[k];
    }
  }
  if (best >= route->cost)
    return FALSE;
  route->cost = best;
  for (guint i = route->n; i-- > 0;) {
    route->node[route->at[i]] = end;
    end = i > 0 ? search->from[end] : end;
  }
  return TRUE;
}

void
hf_nodes_choose(HfSearch *search, HfRoute *route)
{
  const HfRuns *m = &search->members;
  if (route->n > 1)
    for (guint k = m->first[0]; k < m->first[1]; k++)
      choose_from(search, route, m->of[k]);
}

void
hf_nodes_choose_near(HfSearch *search, HfRoute *route, guint place)
{
  const HfRuns *m = &search->members;
  for (guint i = MAX(place, 2) - 1; i < MIN(place + 2, route->n); i++) {
    guint a = hf_route_node(route, i - 1), b = hf_route_node(route, i + 1), c = route->at[i];
    double was =
        hf_search_cost(search, a, route->node[c]) + hf_search_cost(search, route->node[c], b);
    for (guint k = m->first[c]; k < m->first[c + 1]; k++) {
      double cost = hf_search_cost(search, a, m->of[k]) + hf_search_cost(search, m->of[k], b);
      if (cost < was) {
        route->cost += cost - was;
        was = cost;
        route->node[c] = m->of[k];
      }
    }
    search->work += 2 * (m->first[c + 1] - m->first[c]);
  }
}
