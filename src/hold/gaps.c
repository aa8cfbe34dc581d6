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
#include "base/beside.h"
#include "base/text.h"
#include "hold/checks-private.h"
#include "hold/true-width-private.h"
#include "thin/thin.h"

typedef struct {
  HfCheck *check;
  HfRegion *turned; /* the rings turned round */
  HfThin *thin;
  gint *opening;   /* see hf_check_opening_of() */
  HfZoneSet *said; /* zones that were spoken of */
  double widest;   /* mm that `thin` knows */
} Gaps;

static guint
shape_of(const Gaps *gaps, HfEdgeId id)
{
  return hf_check_shape_at(gaps->check, hf_site_of_turned(gaps->turned, id));
}

/* The limits to look at, the widest first. By the usual one too: by a wider limit of one's own a
 * slot shorter than two limits would pass for a corner. */
static guint
pass_limits(const HfCheck *check, gboolean stop, double limits[3])
{
  HfLimit gap = check->hold->limits[HF_LAW_NARROW_GAP];
  HfLimit letters = check->hold->limits[HF_LAW_RUN_TOGETHER];
  HfLimit at_first = hf_law_usual(HF_LAW_NARROW_GAP, &check->hold->process);
  double usual = stop ? at_first.stop : at_first.caution;
  double one = stop ? gap.stop : gap.caution, other = stop ? letters.stop : letters.caution;
  double widest = fmax(one, other), narrower = fmin(one, other);
  guint n = 0;
  limits[n++] = widest - HF_SLACK;
  if (narrower < widest)
    limits[n++] = narrower - HF_SLACK;
  if (usual < narrower)
    limits[n++] = usual - HF_SLACK;
  return n;
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
  return measured < (stop ? limit.stop : fmax(limit.caution, limit.stop)) - HF_SLACK;
}

static gboolean
different_letters(const HfCheck *check, guint a, guint b)
{
  guint n = check->layout->shapes->len;
  return a < n && b < n && a != b && hf_layout_shape(check->layout, a)->letter >= 0 &&
         hf_layout_shape(check->layout, b)->letter >= 0;
}

/* A gap between two letters is a gap too: it is called by the graver. */
static HfLawKind
kind_of(const HfCheck *check, guint a, guint b, double width)
{
  if (!different_letters(check, a, b) || hf_check_gravity(check, HF_LAW_NARROW_GAP, width) >
                                             hf_check_gravity(check, HF_LAW_RUN_TOGETHER, width))
    return HF_LAW_NARROW_GAP;
  return HF_LAW_RUN_TOGETHER;
}

/* The stop of what is called so. */
static double
least_unsaid(const HfCheck *check, gboolean letters)
{
  const HfLimit *limits = check->hold->limits;
  double gap = limits[HF_LAW_NARROW_GAP].stop;
  return letters ? fmax(gap, limits[HF_LAW_RUN_TOGETHER].stop) : gap;
}

/* The limits are of bare metal; a coat on both edges narrows the gap further. */
static void
say_coat(const HfCheck *check, HfFinding *finding)
{
  double coat = hf_finish_coat(&check->recipe->finish);
  if (!(coat > 0))
    return;
  g_autofree char *both = hf_text_length(2 * coat, 2);
  g_autofree char *fix =
      g_strdup_printf("%s; the coat takes another %s off it", hf_law(finding->kind)->fix, both);
  hf_finding_fix(finding, fix);
}

/* What is too narrow is found in the pass for stops. A zone under the caution limit alone may end
 * in a corner that is narrower still: lost detail, and no stop. */
static gboolean
report(Gaps *gaps, const HfZone *zone, gboolean stop)
{
  guint a = shape_of(gaps, zone->site_a), b = shape_of(gaps, zone->site_b);
  double width = zone->width;
  if (!stop)
    width = fmax(width, least_unsaid(gaps->check, different_letters(gaps->check, a, b)));
  HfLawKind kind = kind_of(gaps->check, a, b, width);
  HfFinding *finding = hf_check_add(gaps->check, kind, width, zone->place.at);
  if (finding == NULL)
    return FALSE;
  gboolean enclosed =
      gaps->opening[zone->site_a.ring] >= 0 || gaps->opening[zone->site_b.ring] >= 0;
  hf_finding_form(finding, enclosed ? "enclosed" : "open");
  hf_finding_name(gaps->check, finding, a);
  hf_finding_name(gaps->check, finding, b);
  say_coat(gaps->check, finding);
  return TRUE;
}

/* With @off > 0: those that are narrower than @limit only between their true curves. */
static void
run_at(Gaps *gaps, gboolean stop, double limit, double off)
{
  if (!(limit > 0))
    return;
  g_autoptr(HfZones) zones = hf_zones_unsaid(gaps->thin, limit + off, gaps->said);
  for (guint i = 0; i < zones->zones->len; i++) {
    HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    if (hf_zone_only_tapers(zones, zone) || said_as_opening(gaps, zone, stop) ||
        hf_zone_set_meets(gaps->said, zones, zone))
      continue;
    if (off > 0 && !hf_check_true_width(gaps->check, zones, hf_site_of_turned, limit, zone))
      continue;
    if (!report(gaps, zone, stop))
      continue;
    hf_zone_set_add(gaps->said, zones, zone);
  }
}

static void
run_pass(Gaps *gaps, gboolean stop)
{
  double limits[3];
  guint n = pass_limits(gaps->check, stop, limits);
  for (guint i = 0; i < n; i++)
    run_at(gaps, stop, limits[i], 0);
  run_at(gaps, stop, limits[0], HF_CHORDS_OFF);
}

/* ---- cracks -----------------------------------------------------------------------------------
 *
 *      -----------------          A gap that tapers: the kerf goes in as far as it fits, to the
 *      --...__          |  kerf   place x. Beyond, over the length l, it is a crack: nothing cuts
 *      l      ``x------           it, and it shows.
 *
 *      ======--....             Where two edges run into each other at a slant the gap ends in
 *      joint   l   ``x---       metal, and goes on to open as evenly: the tip of a corner. The arc
 *      =====------------        fills it, and the joint is longer by l: nothing shows but a rounder
 *                               corner, while l is short.
 */

#define OPENS_TO  1.5          /* kerfs: a corner's tip goes on opening at least so wide ... */
#define EVENLY    1.15         /* ... within no more than so many times as long as its tip says */
#define TIP_MOST  (10.0 / 3.0) /* times the limit: so long a corner's tip may be, 5.7 degrees */
#define TIP_NOTED 2.0          /* times the limit: from there on it is told */

typedef struct {
  double kerf, longest; /* mm */
  HfZones *wider;       /* at OPENS_TO kerfs; NULL: not asked yet */
} Cracks;

/* The tip of a corner that opens evenly, as the inner corners of an N do. */
static gboolean
is_tip(const Gaps *gaps, Cracks *cracks, const HfZone *zone)
{
  double wider = fmin(OPENS_TO * cracks->kerf, gaps->widest);
  if (zone->mouths != 1)
    return FALSE;
  if (cracks->wider == NULL)
    cracks->wider = hf_zones_new(gaps->thin, wider);
  for (guint i = 0; i < cracks->wider->zones->len; i++) {
    const HfZone *one = &g_array_index(cracks->wider->zones, HfZone, i);
    if (hf_zone_covers(cracks->wider, one, zone->edge, zone->where))
      return one->mouths == 1 && one->length <= EVENLY * wider / cracks->kerf * zone->length;
  }
  return TRUE;
}

static void
add_crack(Gaps *gaps, const HfZone *zone, double limit)
{
  HfCheck *check = gaps->check;
  double law = check->hold->limits[HF_LAW_CRACK].stop;
  HfFinding *finding =
      hf_check_add(check, HF_LAW_CRACK, zone->length * law / limit, zone->place.at);
  if (finding == NULL)
    return;
  finding->measured = zone->length;
  finding->limit = limit;
  hf_finding_name(check, finding, shape_of(gaps, zone->site_a));
  hf_finding_name(check, finding, shape_of(gaps, zone->site_b));
  if (finding->gravity == HF_STOP)
    return;
  g_autofree char *length = hf_text_mm(zone->length);
  hf_finding_form(finding, "corner");
  hf_finding_say(finding,
                 "the corner between them is too slim for the kerf: it comes out shut "
                 "along its last %s",
                 length);
  hf_finding_fix(finding, "what joins there joins so much longer; let it open faster to keep it");
}

static void
find_cracks(Gaps *gaps)
{
  double longest = gaps->check->hold->limits[HF_LAW_CRACK].stop;
  Cracks cracks = {gaps->check->hold->process.kerf - HF_SLACK, longest, NULL};
  if (!(cracks.kerf > 0))
    return;
  g_autoptr(HfZones) zones = hf_zones_unsaid(gaps->thin, cracks.kerf, gaps->said);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    if (zone->length <= longest || said_as_opening(gaps, zone, TRUE) ||
        hf_zone_set_meets(gaps->said, zones, zone))
      continue;
    gboolean tip = is_tip(gaps, &cracks, zone);
    if (tip && zone->length <= TIP_NOTED * longest)
      continue;
    add_crack(gaps, zone, tip ? TIP_MOST * longest : longest);
    hf_zone_set_add(gaps->said, zones, zone);
  }
  hf_zones_free(cracks.wider);
}

/* ---- ahead of time ----------------------------------------------------------------------------
 */

/* Where to look is found by a thread of its own; what there is, together with the webs. */
struct HfGapsAhead {
  HfRegion *turned;
  double widest;
  HfThin *thin;
  const HfCancel *cancel; /* (nullable) */
  HfBeside finding;
  gboolean ended; /* what is being found is had */
};

static gpointer
find_thin(gpointer data)
{
  HfGapsAhead *ahead = data;
  g_autoptr(HfIndex) index = hf_index_new(ahead->turned, fmax(ahead->widest, 0.1));
  ahead->thin = hf_thin_begin(ahead->turned, index, ahead->widest, TRUE, ahead->cancel);
  return NULL;
}

void
hf_gaps_begin(HfCheck *check)
{
  HfGapsAhead *ahead = g_new0(HfGapsAhead, 1);
  ahead->turned = hf_region_turned(check->metal->region);
  double stop[3], caution[3];
  pass_limits(check, TRUE, stop);
  pass_limits(check, FALSE, caution);
  ahead->widest = fmax(stop[0], caution[0]) + HF_CHORDS_OFF;
  ahead->cancel = check->cancel;
  ahead->finding = hf_beside("gaps", find_thin, ahead);
  check->gaps = ahead;
}

static void
wait_for(HfGapsAhead *ahead)
{
  if (!ahead->ended)
    hf_beside_end(&ahead->finding);
  ahead->ended = TRUE;
}

void
hf_gaps_finish_with(HfCheck *check, HfThin *webs)
{
  if (check->gaps == NULL) { /* nobody asks for them */
    hf_thin_finish(webs);
    return;
  }
  wait_for(check->gaps);
  check->gaps->finding = hf_thin_finish_both(webs, check->gaps->thin);
  check->gaps->ended = FALSE;
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

static gboolean
check_gaps(HfCheck *check, GError **error)
{
  g_return_val_if_fail(check->gaps != NULL, FALSE);
  wait_for(check->gaps);
  hf_cancel_count(check->cancel, HF_AXIS_WORK * hf_thin_sites(check->gaps->thin));
  if (!hf_cancel_check(check->cancel, error))
    return FALSE;
  g_autofree gint *opening = hf_check_opening_of(check);
  g_autoptr(HfZoneSet) said = hf_zone_set_new();
  Gaps gaps = {check, check->gaps->turned, check->gaps->thin, opening, said, check->gaps->widest};
  run_pass(&gaps, TRUE);
  find_cracks(&gaps);
  run_pass(&gaps, FALSE);
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_narrow_gap_law = {
    .key = "narrow-gap",
    .quantity = "narrowest place of a gap",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"k"},
    .caution = {"max(1.5 t, 1.5 k)"},
    .source = HF_COMMON_PRACTICE,
    .reference = "the stop is computed: a cut is one kerf wide",
    .why = "under the kerf it can't be cut as drawn; a little wider, dross closes it",
    .what = "gap is {measured} wide{worst}, {needs} {limit}",
    .fix = "widen it or close it",
    .cures = HF_CURES("mend", "arc", "lighter", "bolder", "further", "closer", "fill", "larger",
                      "scale", "grown"),
    .check = check_gaps,
    .after = &hf_thin_web_law,
    .measures = HF_MEASURES_GAP,
    .trouble = HF_TROUBLE_GAP,
    .mends = HF_MENDS_GAP,
};

const HfLaw hf_run_together_law = {
    .key = "run-together",
    .quantity = "gap between two letters",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"k"},
    .caution = {"max(1.5 t, 1.5 k)"},
    .source = HF_COMMON_PRACTICE,
    .reference = "the stop is computed: a cut is one kerf wide",
    .why = "the letters run together or dross joins them",
    .what = "only {measured} apart{worst}, {needs} {limit}",
    .fix = "widen the spacing",
    .cures = HF_CURES("further", "lighter", "joined", "closer", "fill", "larger", "scale", "grown"),
    .check = check_gaps,
    .after = &hf_thin_web_law,
    .measures = HF_MEASURES_GAP,
    .trouble = HF_TROUBLE_GAP,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_crack_law = {
    .key = "crack",
    .quantity = "length along which a gap that tapers is narrower than the kerf",
    .unit = "mm",
    .note_within = TRUE,
    .gravity = HF_STOP,
    .stop = {"3 k", "; 10 k in a corner that opens evenly"},
    .source = HF_COMMON_PRACTICE,
    .reference =
        "where the gap is one kerf wide is computed; how long a crack may be has no source",
    .why = "the kerf can't go in: it comes out shut, or as a scar",
    .what =
        "gap tapers so slowly that it is narrower than the kerf along {measured}{worst}, {needs} "
        "{limit}",
    .fix = "let it open faster, or close it",
    .cures = HF_CURES("overlap", "arc", "closer", "further", "mend", "lighter", "bolder", "fill",
                      "larger", "scale", "grown"),
    .check = check_gaps,
    .after = &hf_thin_web_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_GAP,
    .mends = HF_MENDS_NOTHING,
};
