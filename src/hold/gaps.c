/* SPDX-License-Identifier: GPL-3.0-or-later
 * gaps.c - where the space between two edges of metal is too narrow for the kerf.
 *
 *   The rings turned round bound what is not metal; its axis has the widths of the gaps:
 *
 *     |metal|<- r ->x<- r ->|metal|       x narrowest place of a zone under the limit
 *
 * A zone that only runs into a corner is not a gap: the cut ends there, see detail.c. Between two
 * letters it is reported as letters that run together, once.
 */
#include "hold/checks-private.h"
#include "hold/zones-private.h"

#define SLACK 0.01 /* as the law's */

typedef struct {
  HfCheck *check;
  HfRegion *turned; /* the rings turned round */
  HfThin *thin;
  gint *opening; /* see hf_check_opening_of() */
  GArray *said;  /* HfZone of the pass before */
  HfZones *stops;
} Gaps;

HfRegion *
hf_region_turned(const HfRegion *region)
{
  HfRegion *turned = hf_region_new();
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    g_autofree HfGrid *at = g_new(HfGrid, ring->n);
    for (guint v = 0; v < ring->n; v++)
      at[v] = ring->at[ring->n - 1 - v];
    hf_region_add_ring(turned, at, NULL, ring->n);
  }
  return turned;
}

static guint
shape_of(const Gaps *gaps, HfEdgeId id)
{
  guint n = hf_region_ring(gaps->turned, id.ring)->n;
  return hf_check_shape_at(gaps->check, (HfEdgeId){id.ring, (2 * n - 2 - id.vertex) % n});
}

static double
pass_limit(const HfCheck *check, gboolean stop)
{
  HfLimit gap = check->hold->limits[HF_LAW_NARROW_GAP];
  HfLimit letters = check->hold->limits[HF_LAW_RUN_TOGETHER];
  return (stop ? fmax(gap.stop, letters.stop) : fmax(gap.caution, letters.caution)) - SLACK;
}

/* All of an opening is narrower than the limit: openings.c has said so. */
static gboolean
said_as_opening(const Gaps *gaps, const HfZone *zone, gboolean stop)
{
  if (zone->mouths > 0 || gaps->opening[zone->site_a.ring] < 0)
    return FALSE;
  const HfHold *hold = gaps->check->hold;
  double diameter = hf_check_round_hole(gaps->check, zone->site_a.ring);
  HfLimit limit = hold->limits[diameter > 0 ? HF_LAW_SMALL_HOLE : HF_LAW_SMALL_OPENING];
  double measured = diameter > 0 ? diameter : zone->widest / 2;
  return measured < (stop ? limit.stop : fmax(limit.caution, limit.stop)) - SLACK;
}

static gboolean
was_said(const Gaps *gaps, const HfZones *zones, const HfZone *zone)
{
  for (guint i = 0; i < gaps->said->len; i++) {
    const HfZone *said = &g_array_index(gaps->said, HfZone, i);
    if (hf_zone_covers(gaps->stops, said, zone->edge, zone->where) ||
        hf_zone_covers(zones, zone, said->edge, said->where))
      return TRUE;
  }
  return FALSE;
}

static gboolean
different_letters(const HfCheck *check, guint a, guint b)
{
  guint n = check->layout->shapes->len;
  return a < n && b < n && a != b && hf_layout_shape(check->layout, a)->letter >= 0 &&
         hf_layout_shape(check->layout, b)->letter >= 0;
}

/* What is too narrow is found in the pass for stops. A zone under the caution limit alone may end
 * in a corner that is narrower still: lost detail, and no stop. */
static gboolean
report(Gaps *gaps, const HfZone *zone, gboolean stop)
{
  guint a = shape_of(gaps, zone->site_a), b = shape_of(gaps, zone->site_b);
  HfLawKind kind = different_letters(gaps->check, a, b) ? HF_LAW_RUN_TOGETHER : HF_LAW_NARROW_GAP;
  double least = stop ? 0 : gaps->check->hold->limits[kind].stop;
  HfFinding *finding = hf_check_add(gaps->check, kind, fmax(zone->width, least), zone->place.at);
  if (finding == NULL)
    return FALSE;
  gboolean enclosed =
      gaps->opening[zone->site_a.ring] >= 0 || gaps->opening[zone->site_b.ring] >= 0;
  hf_finding_form(finding, enclosed ? "enclosed" : "open");
  hf_finding_name(gaps->check, finding, a);
  hf_finding_name(gaps->check, finding, b);
  return TRUE;
}

static void
run_pass(Gaps *gaps, gboolean stop)
{
  double limit = pass_limit(gaps->check, stop);
  if (!(limit > 0))
    return;
  HfZones *zones = hf_zones_new(gaps->thin, limit);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    if (hf_zone_only_tapers(zones, zone) || said_as_opening(gaps, zone, stop) ||
        (!stop && was_said(gaps, zones, zone)))
      continue;
    if (report(gaps, zone, stop) && stop)
      g_array_append_val(gaps->said, *zone);
  }
  if (stop)
    gaps->stops = zones;
  else
    hf_zones_free(zones);
}

/* ---- ahead of time ----------------------------------------------------------------------------
 */

/* Found by a thread of its own while the webs are: it needs nothing of theirs. */
struct HfGapsAhead {
  HfRegion *turned;
  double widest;
  HfThin *thin;
  GThread *thread; /* %NULL once it was waited for */
};

static gpointer
find_thin(gpointer data)
{
  HfGapsAhead *ahead = data;
  g_autoptr(HfIndex) index = hf_index_new(ahead->turned, fmax(ahead->widest, 0.1));
  ahead->thin = hf_thin_new(ahead->turned, index, ahead->widest, TRUE);
  return NULL;
}

void
hf_gaps_begin(HfCheck *check)
{
  HfGapsAhead *ahead = g_new0(HfGapsAhead, 1);
  ahead->turned = hf_region_turned(check->metal->region);
  ahead->widest = fmax(pass_limit(check, TRUE), pass_limit(check, FALSE));
  ahead->thread = g_thread_new("gaps", find_thin, ahead);
  check->gaps = ahead;
}

static void
wait_for(HfGapsAhead *ahead)
{
  if (ahead->thread != NULL)
    g_thread_join(g_steal_pointer(&ahead->thread));
}

void
hf_gaps_end(HfCheck *check)
{
  HfGapsAhead *ahead = g_steal_pointer(&check->gaps);
  if (ahead == NULL)
    return;
  wait_for(ahead);
  hf_thin_free(ahead->thin);
  hf_region_free(ahead->turned);
  g_free(ahead);
}

gboolean
hf_check_gaps(HfCheck *check, GError **error)
{
  g_return_val_if_fail(check->gaps != NULL, FALSE);
  wait_for(check->gaps);
  if (!hf_cancel_check(check->cancel, error))
    return FALSE;
  g_autofree gint *opening = hf_check_opening_of(check);
  g_autoptr(GArray) said = g_array_new(FALSE, FALSE, sizeof(HfZone));
  Gaps gaps = {check, check->gaps->turned, check->gaps->thin, opening, said, NULL};
  run_pass(&gaps, TRUE);
  run_pass(&gaps, FALSE);
  hf_zones_free(gaps.stops);
  hf_check_lost_detail(check);
  return TRUE;
}
