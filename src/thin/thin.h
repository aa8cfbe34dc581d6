/* SPDX-License-Identifier: GPL-3.0-or-later
 * thin.h - where a region is narrower than a limit: connected zones of its axis (the door of
 * thin/).
 *
 *    ________            ________      r < limit / 2 between the two mouths |
 *            \___|__|___/              narrowest place x; feet a (left of the way) and b
 *               | x  |
 *    ________/-------\___________      The region may be the metal (webs) or, its rings turned
 *                                      round, what is not metal (gaps).
 */
#pragma once
#include "base/beside.h"
#include "geom/axis.h"

/* The axis near all places that are narrower than some width; exact there, and only there. */
typedef struct HfThin HfThin;

/**
 * hf_thin_new:
 * @region: (borrowed) valid; must outlive the result
 * @index: over @region
 * @tapers: zones that only taper into a corner, however long, do not count (gaps)
 * Returns: (transfer full), its axis empty when stopped by @cancel (nullable). Cost: a pair test
 * for each two edges within @widest, and 17 us for each edge within 1.5 @widest of a narrow place.
 */
HfThin *hf_thin_new(const HfRegion *region, HfIndex *index, double widest, gboolean tapers,
                    const HfCancel *cancel);
/** hf_thin_begin: the first part of hf_thin_new(), all but the axis; @cancel must outlive it. */
HfThin *hf_thin_begin(const HfRegion *region, HfIndex *index, double widest, gboolean tapers,
                      const HfCancel *cancel);
/** hf_thin_finish: the rest of it. */
void hf_thin_finish(HfThin *thin);
/** hf_thin_finish_both: the rest of two that were begun: of @metal, and of @beyond, its rings
 * turned round. Where both ask of much the same edges these cost once, not twice. @beyond is
 * finished when what this returns has ended. */
HfBeside hf_thin_finish_both(HfThin *metal, HfThin *beyond);
/** hf_thin_new_full: the same from the full axis, for comparison in tests. */
HfThin *hf_thin_new_full(const HfRegion *region, HfIndex *index, double widest);
/** hf_thin_free: frees it and all that it owns; %NULL: nothing. */
void hf_thin_free(HfThin *thin);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfThin, hf_thin_free)

/** hf_thin_axis: (transfer none) the axis itself. */
const HfAxis *hf_thin_axis(const HfThin *thin);

/** hf_thin_sites: how many edges took part in the axis: its cost goes by them. */
guint hf_thin_sites(const HfThin *thin);

/* A stretch of one axis edge, in (fractional) numbers of its points. */
typedef struct {
  guint edge;
  double from, to;
  double inner_from, inner_to; /* what of it lies outside tips; none: from > to */
} HfStretch;

typedef struct {
  HfAxisPoint place; /* narrowest, tips left out: see docs/maths.md#webs */
  HfEdgeId site_a, site_b;
  guint edge;    /* axis edge of the place */
  double where;  /* and its number on it */
  double width;  /* 2 r there */
  double widest; /* largest 2 r in the zone */
  double length; /* mm of axis under the limit: the longest way through, of a net the sum */
  guint mouths;  /* how often it widens to the limit */
  guint mouths_a, mouths_b; /* mouths left on either end of the way when it is cut at the place */
  gboolean tree;            /* no way round within the zone */
  gboolean bulges;    /* from its mouth on it narrows and widens again by a tenth of the limit */
  gboolean tips_only; /* nothing but corners closer than a limit to their tip */
  double floor;       /* 2 r where the outermost corners fork off; 0: runs to a tip */
  guint first, n;     /* its stretches in HfZones.stretches */
} HfZone;

typedef struct {
  const HfThin *thin; /* (borrowed) */
  double limit;
  GArray *zones;     /* HfZone, narrowest first */
  GArray *stretches; /* HfStretch */
} HfZones;

/** hf_zones_new: the zones narrower than @limit <= the width that @thin knows that are more than a
 * plain corner (somewhere their feet lie 120 degrees or more apart). */
HfZones *hf_zones_new(const HfThin *thin, double limit);
/** hf_zones_free: frees it and all that it owns; %NULL: nothing. */
void hf_zones_free(HfZones *zones);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfZones, hf_zones_free)

/** hf_zone_covers: is point @where of axis edge @edge in the zone? */
gboolean hf_zone_covers(const HfZones *zones, const HfZone *zone, guint edge, double where);

/* Zones that were dealt with, at any limits. */
typedef struct HfZoneSet HfZoneSet;
/** hf_zone_set_new: (transfer full) no zone was dealt with yet. */
HfZoneSet *hf_zone_set_new(void);
/** hf_zone_set_free: frees it and all that it owns; %NULL: nothing. */
void hf_zone_set_free(HfZoneSet *set);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfZoneSet, hf_zone_set_free)
/** hf_zones_unsaid: as hf_zones_new(), but without zones that cover the narrowest place of one in
 *  @said: what hf_zone_set_meets() is sure to say of them needs no measuring. */
HfZones *hf_zones_unsaid(const HfThin *thin, double limit, const HfZoneSet *said);

/** hf_zone_set_add: remembers @zone of @zones, by where its axis runs: neither is kept. */
void hf_zone_set_add(HfZoneSet *set, const HfZones *zones, const HfZone *zone);
/** hf_zone_set_meets: does @zone, of the same axis, cover the narrowest place of one in the set, or
 *  one in the set that of @zone? Cost O(stretches of @zone). */
gboolean hf_zone_set_meets(const HfZoneSet *set, const HfZones *zones, const HfZone *zone);

/** hf_zone_at: @zone as seen from the narrowest place of its stretch number @i (of zone->n), tips
 * left out: place, sites and width are those there. %FALSE: all of it is a tip. */
gboolean hf_zone_at(const HfZones *zones, const HfZone *zone, guint i, HfZone *ret_zone);

/** hf_zone_place: gives @zone the place, sites and width of point @where of axis edge @edge. */
void hf_zone_place(const HfZones *zones, guint edge, double where, HfZone *zone);

/* A place on the middle line of a zone. */
typedef struct {
  HfPoint at;
  double width;   /* mm, there */
  gboolean first; /* of a stretch; else the line runs on from the place before */
} HfWebSpot;

/** hf_zone_spots: adds the middle line of @zone to @spots (HfWebSpot), as fine as the eye needs it.
 */
void hf_zone_spots(const HfZones *zones, const HfZone *zone, GArray *spots);

/** hf_zone_is_corner: a dead end, shorter than two limits, that only runs into a corner. */
gboolean hf_zone_is_corner(const HfZones *zones, const HfZone *zone);

/** hf_zone_narrows: a dead end that grows steadily narrower, to half its limit or less, like a
 * wedge or like two arcs that touch: not a slot, and not a hairline. */
gboolean hf_zone_narrows(const HfZones *zones, const HfZone *zone);

/** hf_zone_only_tapers: a dead end without a wider place behind that is a corner, ends in a point
 *  or narrows steadily to its end. A gap of this kind is detail that is lost: the kerf goes in as
 *  far as it fits. A long blunt one is a slot too narrow to cut. */
gboolean hf_zone_only_tapers(const HfZones *zones, const HfZone *zone);

/** hf_zone_is_tip: a dead end of metal that runs to a point, and so carries nothing. */
gboolean hf_zone_is_tip(const HfZones *zones, const HfZone *zone);

/** hf_zone_divides: a cut at the narrowest place would divide the region. */
static inline gboolean
hf_zone_divides(const HfZone *zone)
{
  return zone->site_a.ring == zone->site_b.ring;
}

/** hf_zone_form: "neck", "loop" or "tail". */
const char *hf_zone_form(const HfZone *zone);
