/* SPDX-License-Identifier: GPL-3.0-or-later
 * webs.c - where the metal is narrower than its limit: short webs, long webs, joints.
 *
 * A table of passes from the gravest and widest on; a zone that was reported is not reported again
 * by a later pass:
 *
 *   long web, stop > short web, stop > joint, stop > long web, caution > short, caution > ...
 *
 * neck: a cut at the narrowest place divides the part and both sides have metal as wide as the
 * limit; tail: one side has not; loop: the cut divides nothing. docs/maths.md#webs
 */
#include "base/text.h"
#include "hold/checks-private.h"
#include "hold/true-width-private.h"
#include "thin/thin.h"

typedef struct {
  HfLawKind kind;
  gboolean stop;
} Pass;

static const Pass passes[] = {
    {HF_LAW_THIN_LONG_WEB, TRUE},  {HF_LAW_THIN_WEB, TRUE},  {HF_LAW_WEAK_JOINT, TRUE},
    {HF_LAW_THIN_LONG_WEB, FALSE}, {HF_LAW_THIN_WEB, FALSE}, {HF_LAW_WEAK_JOINT, FALSE},
};

typedef struct {
  HfCheck *check;
  HfThin *thin;
  HfZoneSet *said;   /* zones that were spoken of */
  HfZoneSet *mild;   /* those spoken of as cautions that might stop by another law yet */
  HfSides *sides;    /* of the metal */
  GPtrArray *levels; /* HfZones at each limit asked for: laws share limits */
} Webs;

static double
pass_limit(const HfCheck *check, Pass pass)
{
  HfLimit limit = check->hold->limits[pass.kind];
  return (pass.stop ? limit.stop : limit.caution) - HF_SLACK;
}

double
hf_webs_widest(const HfCheck *check)
{
  double widest = 0;
  for (guint i = 0; i < G_N_ELEMENTS(passes); i++)
    widest = fmax(widest, pass_limit(check, passes[i]) + HF_CHORDS_OFF);
  return widest;
}

/* ---- joints ---------------------------------------------------------------------------------- */

guint
hf_check_shape_beyond(const HfCheck *check, HfEdgeId site, HfPoint foot, int way, double far)
{
  const HfRegion *region = check->metal->region;
  const HfRing *ring = hf_region_ring(region, site.ring);
  double t;
  hf_segment_nearest(hf_edge_start(region, site), hf_edge_end(region, site), foot, &t);
  double length = hf_point_distance(hf_edge_start(region, site), hf_edge_end(region, site));
  double walked = (way > 0 ? 1 - t : t) * length;
  for (guint i = 0; walked < far && i < ring->n; i++) {
    site.vertex = (site.vertex + (way > 0 ? 1 : ring->n - 1)) % ring->n;
    walked += hf_point_distance(hf_edge_start(region, site), hf_edge_end(region, site));
  }
  return hf_check_shape_at(check, site);
}

/* On the left bank the boundary runs against the way along the axis, on the right bank with it. */
static gboolean
is_joint(const HfCheck *check, const HfZone *zone, double limit, HfWeb *web)
{
  double far = fmax(zone->width / 2, limit / 2);
  guint a_on = hf_check_shape_beyond(check, zone->site_a, zone->place.foot_a, -1, far);
  guint b_on = hf_check_shape_beyond(check, zone->site_b, zone->place.foot_b, +1, far);
  guint a_back = hf_check_shape_beyond(check, zone->site_a, zone->place.foot_a, +1, far);
  guint b_back = hf_check_shape_beyond(check, zone->site_b, zone->place.foot_b, -1, far);
  web->shape_a = hf_check_shape_at(check, zone->site_a);
  web->shape_b = hf_check_shape_at(check, zone->site_b);
  if (a_on == HF_NO_SHAPE || b_on == HF_NO_SHAPE || a_back == HF_NO_SHAPE || b_back == HF_NO_SHAPE)
    return FALSE;
  gboolean apart = a_on != a_back && a_on != b_back && b_on != a_back && b_on != b_back;
  gboolean both_cross = a_on != a_back && b_on != b_back;
  if (!apart && !both_cross)
    return FALSE;
  web->shape_a = a_on;
  web->shape_b = a_back;
  return TRUE;
}

/* ---- reporting ------------------------------------------------------------------------------- */

static HfCut
cut_of(const HfZone *zone)
{
  return (HfCut){zone->place.foot_a, zone->place.foot_b, zone->site_a, zone->site_b};
}

static void
say_beyond(const Webs *webs, HfFinding *finding, const HfZone *zone)
{
  if (!hf_zone_divides(zone))
    return;
  HfCut cut = cut_of(zone);
  HfBeyond beyond = hf_sides_beyond(webs->sides, &cut);
  finding->area = beyond.area;
  finding->mass = hf_check_mass(webs->check, beyond.area);
  finding->reach = beyond.reach;
  finding->box = beyond.box;
}

/* A joint is called a joint, unless it breaks a graver limit as the web that it is too. */
static HfLawKind
kind_of(const HfCheck *check, HfLawKind kind, double width, gboolean joint)
{
  int as_joint = hf_check_gravity(check, HF_LAW_WEAK_JOINT, width);
  if (joint && as_joint >= 0 && as_joint >= hf_check_gravity(check, kind, width))
    return HF_LAW_WEAK_JOINT;
  return kind;
}

/* A web that is long only by the caution is none of the long ones that stop: how long it is counts
 * where it is under the limit that it is held against. One that is too thin for any web stays so.
 */
static double
weighed(const HfCheck *check, HfLawKind kind, const HfZones *zones, double width)
{
  double stop = check->hold->limits[HF_LAW_THIN_LONG_WEB].stop;
  double any = check->hold->limits[HF_LAW_THIN_WEB].stop - HF_SLACK;
  gboolean milder = kind == HF_LAW_THIN_LONG_WEB && zones->limit > stop && width >= any;
  return milder ? fmax(width, stop) : width;
}

static void
report(Webs *webs, HfLawKind kind, const HfZones *zones, const HfZone *zone, const HfWeb *web)
{
  HfCheck *check = webs->check;
  double width = weighed(check, kind, zones, zone->width);
  kind = kind_of(check, kind, width, web->joint);
  HfFinding *finding = hf_check_add(check, kind, width, zone->place.at);
  if (finding == NULL)
    return;
  finding->measured = zone->width;
  hf_finding_form(finding, web->form);
  hf_finding_name(check, finding, web->shape_a);
  hf_finding_name(check, finding, web->shape_b);
  say_beyond(webs, finding, zone);
  if (kind == HF_LAW_WEAK_JOINT && finding->gravity == HF_STOP) {
    HfCut cut = cut_of(zone);
    g_array_append_val(check->cuts, cut);
  }
  HfWeb shown = *web;
  shown.first_spot = check->hold->spots->len;
  hf_zone_spots(zones, zone, check->hold->spots);
  shown.n_spots = check->hold->spots->len - shown.first_spot;
  g_array_append_val(check->hold->webs, shown);
  hf_zone_set_add(width > zone->width ? webs->mild : webs->said, zones, zone);
}

/* Spoken of already, and no graver by this law? */
static gboolean
was_said(const Webs *webs, HfLawKind kind, const HfZones *zones, const HfZone *zone)
{
  return hf_zone_set_meets(webs->said, zones, zone) ||
         (hf_check_gravity(webs->check, kind, weighed(webs->check, kind, zones, zone->width)) !=
              HF_STOP &&
          hf_zone_set_meets(webs->mild, zones, zone));
}

static gboolean
counts(const Webs *webs, HfLawKind kind, const HfZone *zone, const HfWeb *web)
{
  if (kind == HF_LAW_THIN_LONG_WEB)
    return zone->length > webs->check->hold->figures[HF_FIGURE_LONG_WEB] * zone->width;
  return kind != HF_LAW_WEAK_JOINT || web->joint;
}

static HfWeb
web_of(const HfCheck *check, const HfZone *zone, double limit)
{
  HfWeb web = {.at = zone->place.at,
               .foot_a = zone->place.foot_a,
               .foot_b = zone->place.foot_b,
               .width = zone->width,
               .length = zone->length,
               .form = hf_zone_form(zone)};
  web.joint = is_joint(check, zone, limit, &web);
  return web;
}

/* Where a web is allowed to be narrower than a joint, a joint may be hidden in a zone that is
 * narrowest elsewhere: the narrowest place of the zone that is a joint. */
static gboolean
hidden_joint(const HfCheck *check, const HfZones *zones, const HfZone *zone, HfZone *ret_joint)
{
  gboolean found = FALSE;
  for (guint i = 0; i < zone->n; i++) {
    HfZone at;
    if (hf_zone_at(zones, zone, i, &at) && (!found || at.width < ret_joint->width) &&
        web_of(check, &at, zones->limit).joint) {
      *ret_joint = at;
      found = TRUE;
    }
  }
  return found;
}

/* Those that were spoken of when it was first asked for are left out: they stay so. */
static const HfZones *
zones_at(Webs *webs, double limit)
{
  for (guint i = 0; i < webs->levels->len; i++) {
    const HfZones *zones = webs->levels->pdata[i];
    if (zones->limit == limit)
      return zones;
  }
  HfZones *zones = hf_zones_unsaid(webs->thin, limit, webs->said);
  g_ptr_array_add(webs->levels, zones);
  return zones;
}

/* With @off > 0: those that are narrower than @limit only between their true curves. */
static void
run_at(Webs *webs, HfLawKind kind, double limit, double off)
{
  if (!(limit > 0))
    return;
  const HfZones *zones = zones_at(webs, limit + off);
  for (guint i = 0; i < zones->zones->len; i++) {
    HfZone own = g_array_index(zones->zones, HfZone, i), *zone = &own;
    if (hf_zone_is_corner(zones, zone) || hf_zone_is_tip(zones, zone) ||
        was_said(webs, kind, zones, zone) ||
        (off > 0 && !hf_check_true_width(webs->check, zones, hf_site_of_metal, limit, zone)))
      continue;
    HfWeb web = web_of(webs->check, zone, limit);
    HfZone joint;
    if (kind == HF_LAW_WEAK_JOINT && !web.joint && hidden_joint(webs->check, zones, zone, &joint)) {
      *zone = joint;
      web = web_of(webs->check, zone, limit);
    }
    if (counts(webs, kind, zone, &web))
      report(webs, kind, zones, zone, &web);
  }
}

/* What a pass looks under: its limit, the usual one where that is narrower, and its limit between
 * the true curves. */
typedef struct {
  double limit, usual, wide; /* mm; usual: 0 when it is none of them */
} Under;

/* By the usual limit too: by a wider one of one's own a thin tail that is shorter than two limits
 * would pass for a corner. */
static Under
pass_under(const HfCheck *check, Pass pass)
{
  HfLimit at_first = hf_law_usual(pass.kind, &check->hold->process);
  double limit = pass_limit(check, pass);
  double usual = (pass.stop ? at_first.stop : at_first.caution) - HF_SLACK;
  return (Under){limit, usual < limit ? usual : 0, limit + HF_CHORDS_OFF};
}

static void
run_pass(Webs *webs, Pass pass)
{
  Under under = pass_under(webs->check, pass);
  run_at(webs, pass.kind, under.limit, 0);
  run_at(webs, pass.kind, under.usual, 0);
  run_at(webs, pass.kind, under.limit, HF_CHORDS_OFF);
}

/* Levels are large: those that no pass from number @next on looks at are let go. */
static void
drop_levels(Webs *webs, guint next)
{
  for (guint i = webs->levels->len; i-- > 0;) {
    double at = ((const HfZones *)webs->levels->pdata[i])->limit;
    gboolean asked = FALSE;
    for (guint k = next; k < G_N_ELEMENTS(passes); k++) {
      Under under = pass_under(webs->check, passes[k]);
      asked |= at == under.limit || at == under.usual || at == under.wide;
    }
    if (!asked)
      g_ptr_array_remove_index(webs->levels, i);
  }
}

/* Metal that is pinched to a point without falling apart there: two rings of one part touch. */
static void
report_pinches(HfCheck *check)
{
  for (guint i = 0; i < check->touches->len; i++) {
    HfTouch touch = g_array_index(check->touches, HfTouch, i);
    const HfRegion *region = check->metal->region;
    if (hf_region_root(region, touch.a.ring) != hf_region_root(region, touch.b.ring))
      continue;
    guint a = hf_check_shape_at(check, touch.a), b = hf_check_shape_at(check, touch.b);
    HfLawKind kind = a != b ? HF_LAW_WEAK_JOINT : HF_LAW_THIN_WEB;
    HfWeb web = {touch.at, touch.at, touch.at, 0, 0, "loop", a != b, a, b};
    HfFinding *finding = hf_check_add(check, kind, 0, touch.at);
    if (finding == NULL)
      continue;
    hf_finding_form(finding, "loop");
    hf_finding_name(check, finding, a);
    hf_finding_name(check, finding, b);
    g_array_append_val(check->hold->webs, web);
  }
}

static gboolean
has_web_in(const HfCheck *check, HfBox box)
{
  for (guint i = 0; i < check->hold->webs->len; i++)
    if (hf_box_contains(box, g_array_index(check->hold->webs, HfWeb, i).at))
      return TRUE;
  return FALSE;
}

/* A part as round as a dot has no feet 120 degrees apart, however small it is: its largest circle
 * is its width. */
static void
report_small_dots(HfCheck *check)
{
  const HfRegion *region = check->metal->region;
  double limit = check->hold->limits[HF_LAW_THIN_WEB].caution;
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    HfBox box = hf_ring_box(ring);
    if (ring->parent >= 0 || fmax(hf_box_width(box), hf_box_height(box)) > 3 * limit ||
        has_web_in(check, box))
      continue;
    g_autoptr(HfRegion) part = hf_region_part(region, r);
    HfPoint centre;
    double width = 2 * hf_region_inscribed(part, 0, HF_SLACK / 4, &centre);
    HfFinding *finding = hf_check_add(check, HF_LAW_THIN_WEB, width, centre);
    if (finding == NULL)
      continue;
    finding->area = hf_region_area(part);
    finding->mass = hf_check_mass(check, finding->area);
    finding->box = box;
    hf_finding_name(check, finding, hf_check_shape_at(check, (HfEdgeId){r, 0}));
    g_autofree char *widest = hf_text_mm(width), *needs = hf_text_mm(finding->limit);
    hf_finding_say(finding, "all of it is %s wide at the most, a web %s %s", widest,
                   finding->gravity == HF_STOP ? "needs" : "should have", needs);
  }
}

static int
thinnest_first(gconstpointer p, gconstpointer q)
{
  const HfWeb *a = p, *b = q;
  if (a->width != b->width)
    return a->width < b->width ? -1 : 1;
  if (a->at.x != b->at.x)
    return a->at.x < b->at.x ? -1 : 1;
  return (a->at.y > b->at.y) - (a->at.y < b->at.y);
}

static gboolean
check_webs(HfCheck *check, GError **error)
{
  check->cuts = g_array_new(FALSE, FALSE, sizeof(HfCut));
  check->touches = hf_region_touches(check->metal->region);
  report_pinches(check);
  g_autoptr(HfThin) thin = hf_thin_begin(check->metal->region, check->index, hf_webs_widest(check),
                                         FALSE, check->cancel);
  hf_gaps_finish_with(check, thin);
  hf_cancel_count(check->cancel, HF_AXIS_WORK * hf_thin_sites(thin));
  if (!hf_cancel_check(check->cancel, error))
    return FALSE;
  g_autoptr(HfZoneSet) said = hf_zone_set_new(), mild = hf_zone_set_new();
  g_autoptr(HfSides) sides = hf_sides_new(check->metal->region);
  g_autoptr(GPtrArray) levels = g_ptr_array_new_with_free_func((GDestroyNotify)hf_zones_free);
  Webs webs = {check, thin, said, mild, sides, levels};
  for (guint i = 0; i < G_N_ELEMENTS(passes); i++) {
    run_pass(&webs, passes[i]);
    drop_levels(&webs, i + 1);
  }
  hf_webs_report_tips(check, thin);
  report_small_dots(check);
  g_array_sort(check->hold->webs, thinnest_first);
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_thin_web_law = {
    .key = "thin-web",
    .quantity = "web width, no longer than {long-web} widths",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"max(t, 1.5 k, 2 mm)"},
    .caution = {HF_TIMES_THE_STOP},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "burns through, bends in the hand",
    .what = "web is {measured}{worst}, {needs} {limit}[, a {form}[ with {mass} beyond it]]",
    .fix = "make it wider, or have holdfast thicken it",
    .cures = HF_CURES("mend", "bolder", "lighter", "further", "middle", "arc", "inward", "wider",
                      "larger", "plate", "scale", "grown"),
    .check = check_webs,
    .measures = HF_MEASURES_METAL,
    .trouble = HF_TROUBLE_WEB,
    .mends = HF_MENDS_WEB,
};

const HfLaw hf_thin_long_web_law = {
    .key = "thin-long-web",
    .quantity = "web width, longer than {long-web} widths",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"max(1.2 t, 2 k, 3 mm)"},
    .caution = {HF_TIMES_THE_STOP},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "bows from heat, bends in the hand",
    .what = "long web is {measured}{worst}, {needs} {limit}[, a {form}[ with {mass} beyond it]]",
    .fix = "make it wider, or have holdfast thicken it",
    .cures = HF_CURES("mend", "bolder", "lighter", "further", "middle", "arc", "inward", "wider",
                      "larger", "plate", "scale", "grown"),
    .check = check_webs,
    .measures = HF_MEASURES_METAL,
    .trouble = HF_TROUBLE_WEB,
    .mends = HF_MENDS_WEB,
    .counts_as = &hf_thin_web_law,
};

const HfLaw hf_weak_joint_law = {
    .key = "weak-joint",
    .quantity = "joint width between entries or letters",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"max(t, 1.5 k, 2 mm)"},
    .caution = {HF_TIMES_THE_STOP},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "a joint at a point is no joint",
    .what = "joint is {measured} wide{worst}, {needs} {limit}[, with {mass} beyond it]",
    .fix = "let one bite deeper into the other, or have holdfast thicken it",
    .cures = HF_CURES("bite", "arc", "longer", "closer", "joined", "mend", "bolder", "nearer",
                      "fill", "wider", "larger", "scale", "grown"),
    .check = check_webs,
    .measures = HF_MEASURES_METAL,
    .trouble = HF_TROUBLE_WEB,
    .mends = HF_MENDS_WEB,
};

const HfFigureRow hf_long_web_figure = {
    .law = HF_LAW_THIN_LONG_WEB,
    .key = "long-web",
    .value = 3,
    .unit = "",
    .meaning = "a web longer than so many of its widths is a long web",
};

const HfLaw hf_burnt_tip_law = {
    .key = "burnt-tip",
    .quantity = "how far a pointed end that carries nothing burns back",
    .unit = "mm",
    .note_within = TRUE,
    .gravity = HF_STOP,
    .stop = {"30 mm", "; of a letter 3 tenths of its height"},
    .caution = {"10 mm", "; of a letter a tenth of its height"},
    .source = HF_COMMON_PRACTICE,
    .reference = "how far is computed: to where it is as wide as a web must be; how much the eye "
                 "forgives has no source",
    .why = "the heat of two cuts that meet takes the point with it",
    .what = "the point burns back by about {measured}{worst}",
    .fix = "nothing hangs on it; larger letters or a face with blunt points keep it",
    .cures = HF_CURES("further", "larger", "scale"),
    .check = check_webs,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_WEB,
    .mends = HF_MENDS_NOTHING,
};
