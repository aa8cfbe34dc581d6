/* SPDX-License-Identifier: GPL-3.0-or-later
 * rooms.c - openings that chosen bars close off: each must still hold the crater of a pierce.
 *
 *     +-----------+      One bar from an island to its surroundings closes nothing off. A second
 *     |   +---+   |      one does: bars are looked at only where they join rings of metal that
 *     |===| i |===|      other bars join already. Then the opening, with all islands and bars of
 *     |   +---+   |      that group taken off, is measured piece by piece.
 *     +-----------+
 */
#include "geom/axis.h"
#include "tie/set-private.h"

#define ACCURACY 0.01 /* mm, of a radius */
#define TOUCHES  0.01 /* mm: a bar that bounds an opening */

static const HfBar *
bar_at(const HfOffers *offers, const GArray *chosen, guint i)
{
  return &g_array_index(offers->bars, HfBar, g_array_index(chosen, guint, i));
}

/* Outer rings and openings alike, as solid metal. */
static void
add_filled(HfRegion *to, const HfRing *ring)
{
  g_autofree HfGrid *at = g_new(HfGrid, ring->n);
  gboolean turn = hf_ring_area(ring) < 0;
  for (guint v = 0; v < ring->n; v++)
    at[v] = ring->at[turn ? ring->n - 1 - v : v];
  hf_region_add_ring(to, at, NULL, ring->n);
}

static double
distance_to_bar(const HfBar *bar, HfPoint p)
{
  HfPoint from = hf_point_sub(p, bar->at), left = {-bar->way.y, bar->way.x};
  double along = hf_point_dot(from, bar->way), off = fabs(hf_point_dot(from, left));
  double x = fmax(fmax(-bar->end[0].bar - along, along - bar->end[1].bar), 0);
  return hypot(x, fmax(off - bar->width / 2, 0));
}

static gboolean
bounds(const HfBar *bar, const HfRing *ring)
{
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    if (distance_to_bar(bar, hf_point_mix(a, b, 0.5)) < TOUCHES)
      return TRUE;
  }
  return FALSE;
}

static gboolean
knows(const GArray *conflicts, guint a, guint b)
{
  for (guint i = 0; i < conflicts->len; i++) {
    HfConflict one = g_array_index(conflicts, HfConflict, i);
    if ((one.a == a && one.b == b) || (one.a == b && one.b == a))
      return TRUE;
  }
  return FALSE;
}

/* No two of the bars that bound it may be chosen together again. */
static guint
forbid(const HfOffers *offers, const GArray *chosen, const HfRing *room, GArray *conflicts)
{
  g_autoptr(GArray) round = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < chosen->len; i++)
    if (bounds(bar_at(offers, chosen, i), room))
      g_array_append_val(round, g_array_index(chosen, guint, i));
  guint added = 0;
  if (round->len == 1) { /* between it and a joint that there was */
    HfBar *bar = &g_array_index(offers->bars, HfBar, g_array_index(round, guint, 0));
    added = !bar->struck;
    bar->struck = TRUE;
  }
  for (guint i = 0; i + 1 < round->len; i++)
    for (guint k = i + 1; k < round->len; k++) {
      HfConflict one = {g_array_index(round, guint, i), g_array_index(round, guint, k)};
      if (knows(conflicts, one.a, one.b))
        continue;
      g_array_append_val(conflicts, one);
      added++;
    }
  return added;
}

/* The openings of one group of rings, bars taken off. @ret_whole: as it was before. */
static HfRegion *
rooms_of(const HfOffers *offers, const GArray *chosen, guint *up, guint group, HfRegion **ret_whole)
{
  const HfRegion *metal = offers->ground->region;
  g_autoptr(HfRegion) islands = hf_region_new();
  g_autoptr(HfRegion) bars = hf_region_new();
  g_autoptr(HfRegion) opening = hf_region_new();
  g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
  for (guint i = 0; i < chosen->len; i++) {
    const HfBar *bar = bar_at(offers, chosen, i);
    if (hf_choice_root(up, bar->end[0].edge.ring) != group)
      continue;
    g_autoptr(HfOutline) outline = hf_bar_outline(bar);
    hf_region_flatten(bars, outline, HF_NO_SHAPE, HF_FLATTEN_MM);
    for (int which = 0; which < 2; which++) {
      guint r = bar->end[which].edge.ring;
      if (!g_hash_table_add(seen, GUINT_TO_POINTER(r + 1)))
        continue;
      const HfRing *ring = hf_region_ring(metal, r);
      add_filled(ring->parent >= 0 ? opening : islands, ring);
    }
  }
  g_autoptr(HfRegion) clean_bars = hf_region_clean(bars);
  g_autoptr(HfRegion) clean_islands = hf_region_clean(islands);
  const HfRegion *both[] = {clean_bars, clean_islands};
  g_autoptr(HfRegion) solid = hf_region_union(both, 2);
  if (opening->rings->len > 0) {
    g_autoptr(HfRegion) all = hf_region_clean(opening);
    *ret_whole = hf_region_subtract(all, clean_islands);
    return hf_region_subtract(all, solid);
  }
  /* between parts that lie apart: what their union encloses */
  HfRegion *rooms = hf_region_new();
  for (guint r = 0; r < solid->rings->len; r++)
    if (hf_region_ring(solid, r)->parent >= 0)
      add_filled(rooms, hf_region_ring(solid, r));
  g_autoptr(HfRegion) raw = rooms;
  *ret_whole = NULL;
  return hf_region_clean(raw);
}

static double
widest_of(const HfRegion *region)
{
  double widest = 0;
  HfPoint centre;
  for (guint r = 0; region != NULL && r < region->rings->len; r++)
    if (hf_region_ring(region, r)->parent < 0)
      widest = fmax(widest, hf_region_inscribed(region, r, ACCURACY, &centre));
  return region == NULL ? INFINITY : widest;
}

static guint
prove_group(const HfOffers *offers, const GArray *chosen, guint *up, guint group, GArray *conflicts)
{
  HfRegion *before = NULL;
  g_autoptr(HfRegion) rooms = rooms_of(offers, chosen, up, group, &before);
  g_autoptr(HfRegion) whole = before;
  guint added = 0;
  for (guint r = 0; r < rooms->rings->len; r++) {
    HfPoint centre;
    if (hf_region_ring(rooms, r)->parent >= 0 ||
        hf_region_inscribed(rooms, r, ACCURACY, &centre) >= offers->law.pierce - ACCURACY)
      continue;
    if (widest_of(whole) < offers->law.pierce) /* it was too small before */
      return 0;
    added += forbid(offers, chosen, hf_region_ring(rooms, r), conflicts);
  }
  return added;
}

/* Rings that touch along a joint that counts as open. */
static void
join_at_seams(const HfGround *ground, guint *up)
{
  if (ground->seams == NULL)
    return;
  for (guint i = 0; i < ground->seam_pairs->len; i += 2) {
    guint a = hf_choice_root(up, g_array_index(ground->seam_pairs, guint, i));
    guint b = hf_choice_root(up, g_array_index(ground->seam_pairs, guint, i + 1));
    up[MAX(a, b)] = MIN(a, b);
  }
}

guint
hf_bars_prove(const HfOffers *offers, const GArray *chosen, GArray *conflicts)
{
  guint n = offers->ground->region->rings->len, added = 0;
  g_autofree guint *up = g_new(guint, n + 1);
  g_autofree gboolean *closes = g_new0(gboolean, n + 1);
  for (guint r = 0; r < n; r++)
    up[r] = r;
  join_at_seams(offers->ground, up);
  for (guint i = 0; i < chosen->len; i++) {
    const HfBar *bar = bar_at(offers, chosen, i);
    guint a = hf_choice_root(up, bar->end[0].edge.ring),
          b = hf_choice_root(up, bar->end[1].edge.ring);
    guint low = MIN(a, b), high = MAX(a, b);
    closes[low] = a == b || closes[a] || closes[b];
    up[high] = low;
  }
  for (guint r = 0; r < n; r++)
    if (up[r] == r && closes[r])
      added += prove_group(offers, chosen, up, r, conflicts);
  return added;
}
