/* SPDX-License-Identifier: GPL-3.0-or-later
 * smallest.c - how small a letter may be cut before a limit speaks up.
 *
 * Widths grow with the letter, limits do not, so a letter at scale s against a limit w is the
 * letter as it is against w / s: one axis serves every size, and the least size is found by
 * halving. It is one size, and all above it hold: a zone of the axis only shrinks as the letter
 * grows, and so does its length in widths.
 *
 * A tip that tapers to nothing at less than 28 degrees is too thin for longer than two limits at
 * any size at all. It is told apart, or no face with a pointed A would have a smallest size.
 *
 *   standing      +--+          cut through  +-------+
 *                 |##|  metal                |#+--+##|  metal
 *   gap and       |##|                       |#|  |##|
 *   opening round +--+                       +-+--+--+  gap
 */
#include "hold/hold.h"
#include "hold/zones-private.h"

#define MARGIN    3.0   /* of the frame round the letter, in letter sizes */
#define LARGEST   64.0  /* scale; beyond it a letter is no letter */
#define PRECISION 0.001 /* of the scale */
#define BLUNT     0.02  /* a tip may be so wide at its end, in letter sizes */
#define SHARP     0.55  /* limits: 2 tan 14 degrees is the width at one limit from such a tip */
#define NARROWED  0.6   /* limits, a little more than that */
#define STEADY    0.82  /* of its length; see tapers() */

/* One letter, ready to be asked about any size. */
typedef struct {
  HfRegion *metal, *gap;
  HfIndex *metal_index, *gap_index;
  HfThin *metal_axis, *gap_axis;
  HfLimit web, long_web, narrow;
  double pierce;     /* mm, least radius */
  double long_ratio; /* widths */
  double blunt;      /* mm */
} Letter;

static HfRegion *
frame_around(HfBox box)
{
  double margin = MARGIN * fmax(hf_box_width(box), hf_box_height(box));
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_rectangle(outline, hf_box_grow(box, margin), 0);
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, HF_NO_SHAPE, HF_FLATTEN_MM);
  return hf_region_clean(raw);
}

static void
letter_init(Letter *letter, const HfRegion *shape, gboolean cut_through, const HfProcess *process,
            const HfShop *shop)
{
  HfBox box = hf_region_box(shape);
  g_autoptr(HfRegion) frame = frame_around(box);
  HfRegion *around = hf_region_subtract(frame, shape), *inside = hf_region_copy(shape);
  letter->metal = cut_through ? around : inside;
  letter->gap = cut_through ? inside : around;
  double size = fmax(hf_box_width(box), hf_box_height(box)), widest = 1e3 * size;
  letter->blunt = BLUNT * size;
  letter->metal_index = hf_index_new(letter->metal, size / 10);
  letter->gap_index = hf_index_new(letter->gap, size / 10);
  letter->metal_axis = hf_thin_new_full(letter->metal, letter->metal_index, widest);
  letter->gap_axis = hf_thin_new_full(letter->gap, letter->gap_index, widest);
  static const HfRecipe silent = {NULL};
  letter->web = hf_law_limit(HF_LAW_THIN_WEB, process, shop, &silent);
  letter->long_web = hf_law_limit(HF_LAW_THIN_LONG_WEB, process, shop, &silent);
  letter->narrow = hf_law_limit(HF_LAW_NARROW_GAP, process, shop, &silent);
  letter->long_ratio = hf_law_figure(HF_FIGURE_LONG_WEB, shop, &silent, NULL);
  letter->pierce = hf_law_limit(HF_LAW_SMALL_OPENING, process, shop, &silent).stop;
}

static void
letter_clear(Letter *letter)
{
  hf_thin_free(letter->metal_axis);
  hf_thin_free(letter->gap_axis);
  hf_index_free(letter->metal_index);
  hf_index_free(letter->gap_index);
  hf_region_free(letter->metal);
  hf_region_free(letter->gap);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Letter, letter_clear)

/* The longest zone under @limit within @zone. */
static double
length_within(const HfThin *axis, const HfZones *zones, const HfZone *zone, double limit)
{
  g_autoptr(HfZones) inner = hf_zones_new(axis, limit);
  double length = 0;
  for (guint i = 0; i < inner->zones->len; i++) {
    const HfZone *one = &g_array_index(inner->zones, HfZone, i);
    if (hf_zone_covers(zones, zone, one->edge, one->where))
      length = fmax(length, one->length);
  }
  return length;
}

/* A dead end that grows steadily thinner and ends in a tip: not a slot, and not a hairline. Of its
 * length a straight wedge has 0.6 below 0.6 limits, two arcs that touch 0.77, a slot two limits
 * deep 0.88. */
static gboolean
tapers(const HfThin *axis, const HfZones *zones, const HfZone *zone, double blunt)
{
  if (zone->mouths != 1 || !zone->tree || zone->bulges || zone->floor > blunt ||
      zone->width > SHARP * zones->limit)
    return FALSE;
  return length_within(axis, zones, zone, NARROWED * zones->limit) <= STEADY * zone->length;
}

/* What is looked for: zones under `limit` that are longer than `ratio` widths, narrower than
 * `narrower` somewhere, and no corners. */
typedef struct {
  const HfThin *axis;
  double limit, ratio, narrower;
  gboolean tips; /* those that taper to a tip, else those that do not */
} Sought;

static gboolean
has_zone(const Letter *letter, Sought sought, HfPoint *at)
{
  if (!(sought.limit > 0))
    return FALSE;
  g_autoptr(HfZones) zones = hf_zones_new(sought.axis, sought.limit);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    if (zone->length <= sought.ratio * zone->width || zone->width >= sought.narrower ||
        hf_zone_is_corner(zones, zone) ||
        tapers(sought.axis, zones, zone, letter->blunt) != sought.tips)
      continue;
    *at = zone->place.at;
    return TRUE;
  }
  return FALSE;
}

enum { PASSES = 6 };

/* What the checks look for at one size: webs.c and gaps.c look for zones under the stop and under
 * the caution, and weigh the width of either against the stop. */
static guint
sought_at(const Letter *letter, double scale, gboolean tips, Sought *sought, HfLawKind *kinds)
{
  const struct {
    HfLawKind kind;
    const HfThin *axis;
    HfLimit limit;
    double ratio;
  } laws[] = {
      {HF_LAW_THIN_WEB, letter->metal_axis, letter->web, -1},
      {HF_LAW_THIN_LONG_WEB, letter->metal_axis, letter->long_web, letter->long_ratio},
      {HF_LAW_NARROW_GAP, letter->gap_axis, letter->narrow, -1},
  };
  guint n = 0;
  for (guint i = 0; i < (tips ? 2 : 3); i++) { /* a gap that tapers is lost detail */
    double stop = laws[i].limit.stop / scale, caution = laws[i].limit.caution / scale;
    kinds[n] = kinds[n + 1] = laws[i].kind;
    sought[n++] = (Sought){laws[i].axis, stop, laws[i].ratio, stop, tips};
    sought[n++] = (Sought){laws[i].axis, caution, laws[i].ratio, stop, tips};
  }
  return n;
}

/* Which limit is broken at @scale; HF_N_LAWS: none. */
static HfLawKind
broken_at(const Letter *letter, double scale, gboolean tips, HfPoint *at)
{
  Sought sought[PASSES];
  HfLawKind kinds[PASSES];
  guint n = sought_at(letter, scale, tips, sought, kinds);
  for (guint i = 0; i < n; i++)
    if (has_zone(letter, sought[i], at))
      return kinds[i];
  return HF_N_LAWS;
}

/* The largest circle in each part of the gap: its centre is a node of the axis. */
static HfAxisNode *
largest_circles(const Letter *letter)
{
  const HfAxis *axis = letter->gap_axis->axis;
  HfAxisNode *largest = g_new0(HfAxisNode, letter->gap->rings->len + 1);
  for (guint e = 0; e < axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, e);
    const HfRing *ring = hf_region_ring(letter->gap, edge->site_a.ring);
    HfAxisNode *best = &largest[ring->parent >= 0 ? (guint)ring->parent : edge->site_a.ring];
    const guint ends[] = {edge->node_a, edge->node_b};
    for (guint k = 0; k < 2; k++) {
      const HfAxisNode *node = &g_array_index(axis->nodes, HfAxisNode, ends[k]);
      if (node->radius > best->radius)
        *best = *node;
    }
  }
  return largest;
}

/* An opening must have room to pierce. What is round a standing letter, the frame, is none. */
static void
grow_to_pierce(const Letter *letter, gboolean cut_through, HfSmallest *smallest)
{
  HfBox all = hf_region_box(letter->gap);
  g_autofree HfAxisNode *largest = largest_circles(letter);
  for (guint i = 0; letter->pierce > 0 && i < letter->gap->rings->len; i++) {
    const HfRing *ring = hf_region_ring(letter->gap, i);
    if (ring->parent >= 0 || (!cut_through && hf_ring_box(ring).min.x <= all.min.x))
      continue;
    if (letter->pierce > smallest->scale * largest[i].radius)
      *smallest = (HfSmallest){letter->pierce / largest[i].radius, HF_LAW_SMALL_OPENING,
                               largest[i].at, FALSE};
  }
}

/* The least scale from @smallest->scale on that breaks nothing. */
static void
grow_to_hold(const Letter *letter, HfSmallest *smallest)
{
  HfPoint at;
  HfLawKind kind = broken_at(letter, smallest->scale, FALSE, &at);
  if (kind == HF_N_LAWS)
    return;
  double low = smallest->scale, high = fmax(2 * low, LARGEST);
  HfLawKind largest = broken_at(letter, high, FALSE, &at);
  if (largest != HF_N_LAWS) {
    smallest->scale = INFINITY;
    smallest->kind = largest;
    smallest->at = at;
    return;
  }
  while (high > low * (1 + PRECISION)) {
    double middle = sqrt(low * high);
    HfLawKind here = broken_at(letter, middle, FALSE, &at);
    if (here == HF_N_LAWS) {
      high = middle;
      continue;
    }
    low = middle;
    kind = here; /* what still speaks at the largest size that will not do */
    smallest->at = at;
  }
  smallest->scale = high;
  smallest->kind = kind;
}

HfSmallest
hf_hold_smallest(const HfRegion *shape, gboolean cut_through, const HfProcess *process,
                 const HfShop *shop, double at_least)
{
  HfSmallest smallest = {at_least, HF_N_LAWS, {0, 0}, FALSE};
  if (hf_region_is_empty(shape))
    return smallest;
  g_auto(Letter) letter = {NULL};
  letter_init(&letter, shape, cut_through, process, shop);
  grow_to_pierce(&letter, cut_through, &smallest);
  grow_to_hold(&letter, &smallest);
  HfPoint at;
  double scale = isinf(smallest.scale) ? LARGEST : smallest.scale;
  smallest.tip = broken_at(&letter, scale, TRUE, &at) != HF_N_LAWS;
  return smallest;
}
