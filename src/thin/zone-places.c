/* SPDX-License-Identifier: GPL-3.0-or-later
 * zone-places.c - where a zone is: which points of the axis it covers, its middle line, and whether
 * it is one that was dealt with before.
 *
 *   edge 7   0----1----2----3----4      a place is an axis edge and a (fractional) number on it;
 *                 [=======]             a zone covers stretches of edges
 */
#include "thin/level-private.h"
#include "thin/zones-private.h"

enum { MOST_SPOTS = 40000 };
static const double SPOT_APART = 0.25; /* mm */

gboolean
hf_zone_covers(const HfZones *zones, const HfZone *zone, guint edge, double where)
{
  for (guint i = 0; i < zone->n; i++) {
    HfStretch s = g_array_index(zones->stretches, HfStretch, zone->first + i);
    if (s.edge == edge && s.from <= where && where <= s.to)
      return TRUE;
  }
  return FALSE;
}

/* The point of an axis edge by its (fractional) number. */
static HfAxisPoint
edge_at(const HfAxis *axis, const HfAxisEdge *edge, double where)
{
  guint i = MIN((guint)fmax(where, 0), edge->n - 2);
  return hf_axis_point_between(hf_axis_edge_point(axis, edge, i),
                               hf_axis_edge_point(axis, edge, i + 1), where - i);
}

void
hf_zone_place(const HfZones *zones, guint number, double where, HfZone *zone)
{
  const HfAxisEdge *edge = hf_axis_edge(zones->thin->axis, number);
  zone->place = edge_at(zones->thin->axis, edge, where);
  zone->site_a = edge->site_a;
  zone->site_b = edge->site_b;
  zone->edge = number;
  zone->where = where;
  zone->width = 2 * zone->place.radius;
}

gboolean
hf_zone_at(const HfZones *zones, const HfZone *zone, guint i, HfZone *ret_zone)
{
  HfStretch s = g_array_index(zones->stretches, HfStretch, zone->first + i);
  const HfAxis *axis = zones->thin->axis;
  const HfAxisEdge *edge = hf_axis_edge(axis, s.edge);
  if (s.inner_from > s.inner_to || edge->n < 2)
    return FALSE;
  double best = s.inner_from, least = edge_at(axis, edge, best).radius;
  for (guint k = (guint)ceil(s.inner_from); k <= s.inner_to + 1; k++) {
    double where = fmin(k, s.inner_to), radius = edge_at(axis, edge, where).radius;
    if (radius < least) {
      least = radius;
      best = where;
    }
  }
  *ret_zone = *zone;
  hf_zone_place(zones, s.edge, best, ret_zone);
  return TRUE;
}

/* ---- the middle line ------------------------------------------------------------------------- */

static void
add_spot(GArray *spots, HfAxisPoint p, gboolean first)
{
  HfWebSpot spot = {p.at, 2 * p.radius, first};
  g_array_append_val(spots, spot);
}

static void
stretch_spots(const HfZones *zones, const HfStretch *s, GArray *spots)
{
  const HfAxis *axis = zones->thin->axis;
  const HfAxisEdge *edge = hf_axis_edge(axis, s->edge);
  HfPoint last = edge_at(axis, edge, s->from).at;
  add_spot(spots, edge_at(axis, edge, s->from), TRUE);
  for (guint k = (guint)floor(s->from) + 1; k < s->to; k++) {
    HfAxisPoint p = edge_at(axis, edge, k);
    if (hf_point_distance(p.at, last) < SPOT_APART)
      continue;
    add_spot(spots, p, FALSE);
    last = p.at;
  }
  add_spot(spots, edge_at(axis, edge, s->to), FALSE);
}

void
hf_zone_spots(const HfZones *zones, const HfZone *zone, GArray *spots)
{
  for (guint i = 0; i < zone->n && spots->len < MOST_SPOTS; i++)
    stretch_spots(zones, &g_array_index(zones->stretches, HfStretch, zone->first + i), spots);
}

/* ---- dealt with ------------------------------------------------------------------------------ */

/* A range of one axis edge; those of one edge are a chain. */
typedef struct {
  double from, to;
  guint before; /* the one of the same edge that was added before, plus one; 0: none */
} Link;

struct HfZoneSet {
  GHashTable *covered; /* edge -> last link of its chain, plus one: stretches that are covered */
  GHashTable *places;  /* the same: narrowest places */
  GArray *links;       /* Link */
};

HfZoneSet *
hf_zone_set_new(void)
{
  HfZoneSet *set = g_new0(HfZoneSet, 1);
  set->covered = g_hash_table_new(NULL, NULL);
  set->places = g_hash_table_new(NULL, NULL);
  set->links = g_array_new(FALSE, FALSE, sizeof(Link));
  return set;
}

void
hf_zone_set_free(HfZoneSet *set)
{
  if (set == NULL)
    return;
  g_hash_table_unref(set->covered);
  g_hash_table_unref(set->places);
  g_array_unref(set->links);
  g_free(set);
}

static void
link_to(HfZoneSet *set, GHashTable *of, guint edge, double from, double to)
{
  gpointer key = GUINT_TO_POINTER(edge);
  Link link = {from, to, GPOINTER_TO_UINT(g_hash_table_lookup(of, key))};
  g_array_append_val(set->links, link);
  g_hash_table_insert(of, key, GUINT_TO_POINTER(set->links->len));
}

/* Does a range of @edge that was added overlap from..to? */
static gboolean
meets(const HfZoneSet *set, GHashTable *of, guint edge, double from, double to)
{
  guint at = GPOINTER_TO_UINT(g_hash_table_lookup(of, GUINT_TO_POINTER(edge)));
  while (at != 0) {
    const Link *link = &g_array_index(set->links, Link, at - 1);
    if (link->from <= to && from <= link->to)
      return TRUE;
    at = link->before;
  }
  return FALSE;
}

void
hf_zone_set_add(HfZoneSet *set, const HfZones *zones, const HfZone *zone)
{
  link_to(set, set->places, zone->edge, zone->where, zone->where);
  for (guint i = 0; i < zone->n; i++) {
    HfStretch s = g_array_index(zones->stretches, HfStretch, zone->first + i);
    link_to(set, set->covered, s.edge, s.from, s.to);
  }
}

gboolean
hf_zone_set_has_place(const HfZoneSet *set, guint edge, double from, double to)
{
  return meets(set, set->places, edge, from, to);
}

gboolean
hf_zone_set_meets(const HfZoneSet *set, const HfZones *zones, const HfZone *zone)
{
  if (meets(set, set->covered, zone->edge, zone->where, zone->where))
    return TRUE;
  for (guint i = 0; i < zone->n; i++) {
    HfStretch s = g_array_index(zones->stretches, HfStretch, zone->first + i);
    if (hf_zone_set_has_place(set, s.edge, s.from, s.to))
      return TRUE;
  }
  return FALSE;
}
