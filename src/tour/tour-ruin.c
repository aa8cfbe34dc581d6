/* SPDX-License-Identifier: GPL-3.0-or-later
 * tour-ruin.c - which clusters are taken out of a route: any, a stretch, what lies together, or
 * what costs most where it stands.
 */
#include "tour/tour-private.h"
#include <math.h>

static guint
any_place(HfSearch *search, const HfRoute *route)
{
  return (guint)g_rand_int_range(search->random, 1, (gint)route->n);
}

static void
take(HfRoute *route, guint cluster, guint *ret_out, guint *count)
{
  hf_route_take_out(route, cluster);
  ret_out[(*count)++] = cluster;
}

static void
take_any(HfSearch *search, HfRoute *route, guint n, guint *ret_out)
{
  for (guint count = 0; count < n;)
    take(route, route->at[any_place(search, route)], ret_out, &count);
}

static void
take_stretch(HfSearch *search, HfRoute *route, guint n, guint *ret_out)
{
  guint from = (guint)g_rand_int_range(search->random, 1, (gint)(route->n - n) + 1);
  for (guint count = 0; count < n;)
    take(route, route->at[from], ret_out, &count);
}

/* One, and of those near it two in three; the rest any. */
static void
take_near(HfSearch *search, HfRoute *route, guint n, guint *ret_out)
{
  const HfRuns *near = &search->near;
  guint count = 0, seed = route->at[any_place(search, route)];
  take(route, seed, ret_out, &count);
  for (guint k = near->first[seed]; count < n && k < near->first[seed + 1]; k++)
    if (near->of[k] != 0 && g_rand_int_range(search->random, 0, 3) > 0)
      take(route, near->of[k], ret_out, &count);
  while (count < n)
    take(route, route->at[any_place(search, route)], ret_out, &count);
}

static double
gain_of(HfSearch *search, const HfRoute *route, guint place)
{
  guint a = hf_route_node(route, place - 1), v = hf_route_node(route, place);
  guint b = hf_route_node(route, place + 1);
  search->work += 3;
  return hf_search_cost(search, a, v) + hf_search_cost(search, v, b) - hf_search_cost(search, a, b);
}

/* Each time the worst of a few that are drawn. */
static void
take_dear(HfSearch *search, HfRoute *route, guint n, guint *ret_out)
{
  for (guint count = 0; count < n;) {
    guint worst = any_place(search, route);
    double gain = gain_of(search, route, worst);
    for (guint draw = 0; draw < 4; draw++) {
      guint place = any_place(search, route);
      double other = gain_of(search, route, place);
      if (other > gain) {
        gain = other;
        worst = place;
      }
    }
    take(route, route->at[worst], ret_out, &count);
  }
}

void
hf_ruin(HfSearch *search, HfRoute *route, guint n, guint *ret_out)
{
  static void (*const ways[])(HfSearch *, HfRoute *, guint, guint *) = {
      take_any,
      take_stretch,
      take_near,
      take_dear,
  };
  ways[g_rand_int_range(search->random, 0, (gint)G_N_ELEMENTS(ways))](search, route, n, ret_out);
}
