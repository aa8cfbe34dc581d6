/* SPDX-License-Identifier: GPL-3.0-or-later
 * smallest.c - how small a letter may be cut before a limit speaks up.
 *
 * Widths grow with the letter, limits do not, so a letter at scale s against a limit w is the
 * letter as it is against w / s: one axis serves every size, and the least size is found by
 * halving. It is one size, and all above it hold: a zone of the axis only shrinks as the letter
 * grows, and so does its length in widths.
 *
 * A tip that tapers to nothing at less than 29 degrees is too thin for longer than two limits at
 * any size at all: it burns back, and stops nothing. It is told apart.
 *
 *   standing      +--+          cut through  +-------+
 *                 |##|  metal                |#+--+##|  metal
 *   gap and       |##|                       |#|  |##|
 *   opening round +--+                       +-+--+--+  gap
 */
#include "hold/hold.h"
#include "thin/thin.h"

#define MARGIN    3.0   /* of the frame round the letter, in letter sizes */
#define LARGEST   64.0  /* scale; beyond it a letter is no letter */
#define PRECISION 0.001 /* of the scale */
#define BLUNT     0.02  /* a tip may be so wide at its end, in letter sizes */

/* One letter, ready to be asked about any size. */
typedef struct {
  HfRegion *metal, *gap;
  HfIndex *metal_index, *gap_index;
  HfThin *metal_axis, *gap_axis;
  HfLimit web, long_web;
  double narrow, pierce; /* stops: mm; mm of radius */
  double long_ratio;     /* widths */
  double blunt;          /* mm */
} Letter;

static HfRegion *
frame_around(HfBox box)
{
  double margin = MARGIN * fmax(hf_box_width(box), hf_box_height(box));
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_rectangle(outline, hf_box_grow(box, margin), 0);
  return hf_region_of_outline(outline, HF_NO_SHAPE, HF_FLATTEN_MM);
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
  letter->narrow = hf_law_limit(HF_LAW_NARROW_GAP, process, shop, &silent).stop;
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

/* One pass of the check over the metal: zones under `limit` that are longer than `ratio` widths and
 * narrower than `stop`. */
typedef struct {
  HfLawKind kind;
  double limit, ratio, stop;
} Pass;

/* @tips: those that end in a tip, else those that do not. */
static gboolean
has_web(const Letter *letter, Pass pass, gboolean tips, HfPoint *at)
{
  if (!(pass.limit > 0))
    return FALSE;
  g_autoptr(HfZones) zones = hf_zones_new(letter->metal_axis, pass.limit);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    if (zone->length <= pass.ratio * zone->width || zone->width >= pass.stop ||
        hf_zone_is_corner(zones, zone) || hf_zone_is_tip(zones, zone) != tips)
      continue;
    *at = zone->place.at;
    return TRUE;
  }
  return FALSE;
}

/* As webs.c: zones under the stop and under the caution, the width of either against the stop. */
static HfLawKind
thin_web_at(const Letter *letter, double scale, gboolean tips, HfPoint *at)
{
  double web = letter->web.stop / scale, long_web = letter->long_web.stop / scale;
  double ratio = letter->long_ratio;
  const Pass passes[] = {
      {HF_LAW_THIN_WEB, web, -1, web},
      {HF_LAW_THIN_WEB, letter->web.caution / scale, -1, web},
      {HF_LAW_THIN_LONG_WEB, long_web, ratio, long_web},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(passes); i++)
    if (has_web(letter, passes[i], tips, at))
      return passes[i].kind;
  return HF_N_LAWS;
}

/* As gaps.c; an opening that is too narrow all over has no room to pierce either. */
static gboolean
narrow_gap_at(const Letter *letter, double scale, HfPoint *at)
{
  if (!(letter->narrow > 0))
    return FALSE;
  g_autoptr(HfZones) zones = hf_zones_new(letter->gap_axis, letter->narrow / scale);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    gboolean opening = zone->mouths == 0 && zone->widest / 2 < letter->pierce / scale;
    if (opening || hf_zone_only_tapers(zones, zone))
      continue;
    *at = zone->place.at;
    return TRUE;
  }
  return FALSE;
}

/* Which limit is broken at @scale, tips left out; HF_N_LAWS: none. */
static HfLawKind
broken_at(const Letter *letter, double scale, HfPoint *at)
{
  HfLawKind kind = thin_web_at(letter, scale, FALSE, at);
  if (kind != HF_N_LAWS)
    return kind;
  return narrow_gap_at(letter, scale, at) ? HF_LAW_NARROW_GAP : HF_N_LAWS;
}

/* The largest circle in each part of the gap: its centre is a node of the axis. */
static HfAxisNode *
largest_circles(const Letter *letter)
{
  const HfAxis *axis = hf_thin_axis(letter->gap_axis);
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
  HfLawKind kind = broken_at(letter, smallest->scale, &at);
  if (kind == HF_N_LAWS)
    return;
  double low = smallest->scale, high = fmax(2 * low, LARGEST);
  HfLawKind largest = broken_at(letter, high, &at);
  if (largest != HF_N_LAWS) {
    smallest->scale = INFINITY;
    smallest->kind = largest;
    smallest->at = at;
    return;
  }
  while (high > low * (1 + PRECISION)) {
    double middle = sqrt(low * high);
    HfLawKind here = broken_at(letter, middle, &at);
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
  smallest.tip = thin_web_at(&letter, scale, TRUE, &at) != HF_N_LAWS;
  return smallest;
}
