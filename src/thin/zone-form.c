/* SPDX-License-Identifier: GPL-3.0-or-later
 * zone-form.c - what kind of place a zone is: neck, loop or tail; a corner; a taper or a slot.
 *
 *   corner                taper                         slot
 *      \ /                 ___________                    ___________
 *       V  < 2 limits          ------=====___ narrows        __________|  even, blunt
 *                          ___________---                 ___________|
 *
 * Every answer follows from the zone's own figures and, for tapers, from the zones of a smaller
 * limit within it: these lie each within one zone (level.c), so only its own edges are looked at.
 *
 * The figures below are all in limits, widths or shares, so the answers do not change when the
 * region and the limit grow together. Where each comes from: a straight wedge that opens by A is
 * 2 s sin(A/2) wide s from its point; two arcs that touch are s^2/R wide.
 */
#include "thin/level-private.h"
#include "thin/zones-private.h"

static const struct {
  double corner;   /* limits: a dead end that is shorter is a corner, a wedge of over 29 degrees */
  double sharp;    /* limits: 2 sin 14.5 degrees is the width one limit away from a long tip */
  double narrowed; /* limits, and ... */
  double steady;   /* of its length, at most, is as narrow as that. Of a straight wedge 0.6 of it
                      is below 0.6 limits, of two arcs that touch 0.77 (the root of 0.6), of a
                      slot that is two limits deep 0.88 */
  double slot;     /* limits: for so long at least a slot is nearly as narrow as at its end ... */
  double even_tip; /* times its narrowest: a wedge that ends in a point is 1.5 times as wide as
                      one limit from its tip for 1.5 limits, no longer */
  double even_blunt; /* one with a blunt end for longer, the slower it opens */
  double point;      /* limits: what ends as narrow as this runs into a tip */
} form = {2, 0.55, 0.6, 0.82, 2, 1.5, 1.1, 0.1};

const char *
hf_zone_form(const HfZone *zone)
{
  if (!hf_zone_divides(zone))
    return "loop";
  return zone->mouths_a > 0 && zone->mouths_b > 0 ? "neck" : "tail";
}

static gboolean
is_dead_end(const HfZone *zone)
{
  return zone->mouths == 1 && zone->tree && !zone->bulges;
}

gboolean
hf_zone_is_corner(const HfZones *zones, const HfZone *zone)
{
  return is_dead_end(zone) && zone->length < form.corner * zones->limit;
}

/* The edges of a zone, each once: its stretches are in order of them. */
static guint *
edges_of(const HfZones *zones, const HfZone *zone, guint *ret_n)
{
  guint *edges = g_new(guint, zone->n + 1), n = 0;
  for (guint i = 0; i < zone->n; i++) {
    guint edge = g_array_index(zones->stretches, HfStretch, zone->first + i).edge;
    if (n == 0 || edges[n - 1] != edge)
      edges[n++] = edge;
  }
  *ret_n = n;
  return edges;
}

/* The longest zone under @limit within @zone. */
static double
length_within(const HfZones *zones, const HfZone *zone, double limit)
{
  guint n;
  g_autofree guint *edges = edges_of(zones, zone, &n);
  g_autoptr(HfZones) inner = hf_zones_along(zones->thin, limit, edges, n);
  double length = 0;
  for (guint i = 0; i < inner->zones->len; i++) {
    const HfZone *one = &g_array_index(inner->zones, HfZone, i);
    if (hf_zone_covers(zones, zone, one->edge, one->where)) /* an edge may have another zone too */
      length = fmax(length, one->length);
  }
  return length;
}

/* Even, though its end may run into a sharp corner:
 *   ________________________
 *                          /    nearly as narrow as at its narrowest for two limits or more
 *   ______________________/
 */
static gboolean
is_slot(const HfZones *zones, const HfZone *zone, double even)
{
  double width = fmin(even * zone->width, zones->limit);
  return length_within(zones, zone, width) >= form.slot * zones->limit;
}

gboolean
hf_zone_narrows(const HfZones *zones, const HfZone *zone)
{
  if (!is_dead_end(zone) || zone->width > form.sharp * zones->limit)
    return FALSE;
  return length_within(zones, zone, form.narrowed * zones->limit) <= form.steady * zone->length &&
         !is_slot(zones, zone, form.even_blunt);
}

gboolean
hf_zone_only_tapers(const HfZones *zones, const HfZone *zone)
{
  if (hf_zone_is_corner(zones, zone) || hf_zone_narrows(zones, zone))
    return TRUE;
  return is_dead_end(zone) && zone->floor <= form.point * zones->limit &&
         !is_slot(zones, zone, form.even_tip);
}

gboolean
hf_zone_is_tip(const HfZones *zones, const HfZone *zone)
{
  return is_dead_end(zone) && hf_zone_only_tapers(zones, zone);
}
