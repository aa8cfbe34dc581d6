/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-spare.c - what mending must leave as it is: the edges of plates, rings and bars, and the
 * letters.
 *
 *      plate edge |                  What is added to a plate stays within it by a hair, and is
 *      -----------+ . . hair         given up where it would close what is open there: a letter
 *        ( added  )                  that runs off its plate is not hidden.
 *
 *      n -> r: given up              Of each letter that is touched every piece and every counter
 *                                    stays one piece, and most of it.
 *
 * Measured against the letters as their faces draw them, as far as they showed before any mending.
 */
#include "mend/mend-private.h"

#define HAIR           0.03 /* mm */
#define FINE           0.01 /* mm: chords; only areas are compared */
#define STAYS          0.75 /* share of a piece or counter that stays */
#define COUNTER_STAYS  0.55 /* the same of a counter that a standing letter's own strokes narrow */
#define COUNTER_STROKE 0.8
#define STROKE         0.6  /* of its largest circle: what goes may be as thick */
#define CRUMB          0.02 /* mm2 */

/* ---- plates, rings, bars --------------------------------------------------------------------- */

gboolean
hf_mend_is_letter(const HfMendView *view, guint shape)
{
  return shape < view->n_drawn && hf_layout_shape(view->sign->layout, shape)->letter >= 0;
}

gboolean
hf_mend_is_fixed(const HfMendView *view, guint shape)
{
  if (shape >= view->n_drawn || hf_mend_is_letter(view, shape))
    return FALSE;
  const HfShape *one = hf_layout_shape(view->sign->layout, shape);
  return !one->opening && hf_recipe_at(view->sign->recipe, one->entry)->kind != HF_ENTRY_TIES;
}

/* All that is metal and no letter, as it was drawn. */
static const HfRegion *
fixed_metal(HfMendView *view)
{
  if (view->fixed != NULL)
    return view->fixed;
  g_autoptr(GPtrArray) all = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < view->n_drawn; i++) {
    const HfShape *shape = hf_layout_shape(view->sign->layout, i);
    if (hf_mend_is_fixed(view, i))
      g_ptr_array_add(all, hf_region_of_outline(shape->outline, 0, FINE));
  }
  view->fixed = all->len > 0 ? hf_region_union((const HfRegion *const *)all->pdata, all->len)
                             : hf_region_new();
  view->fixed_inner = hf_region_offset(view->fixed, -HAIR, 0.005);
  return view->fixed;
}

HfRegion *
hf_mend_within_fixed(HfMendView *view, const HfRegion *added)
{
  const HfRegion *fixed = fixed_metal(view);
  HfBox box = hf_box_grow(hf_region_box(added), 1);
  g_autoptr(HfRegion) near_fixed = hf_region_within(fixed, box);
  g_autoptr(HfRegion) inner = hf_region_within(view->fixed_inner, box);
  g_autoptr(HfRegion) metal = hf_region_within(view->sign->metal->region, box);
  g_autoptr(HfRegion) strip = hf_region_subtract(near_fixed, inner);
  g_autoptr(HfRegion) on_strip = hf_region_intersect(added, strip);
  g_autoptr(HfRegion) closes = hf_region_subtract(on_strip, metal);
  if (hf_region_area(closes) > CRUMB / 4)
    return NULL;
  return hf_region_intersect(added, inner);
}

HfRegion *
hf_mend_beside_letters(HfMendView *view, const HfRegion *added, const guint *letters, guint n)
{
  HfRegion *kept = hf_region_copy(added);
  HfBox box = hf_box_grow(hf_region_box(added), 1);
  fixed_metal(view);
  g_autoptr(HfRegion) near_fixed = hf_region_within(view->fixed, box);
  g_autoptr(HfRegion) outside = hf_region_subtract(added, near_fixed);
  for (guint r = 0; r < outside->rings->len; r++) {
    if (hf_region_ring(outside, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(outside, r);
    g_autoptr(HfRegion) grown = hf_region_offset(part, HAIR, 0.005);
    gboolean beside = FALSE;
    for (guint i = 0; i < n; i++) {
      if (!hf_mend_is_letter(view, letters[i]))
        continue;
      g_autoptr(HfRegion) letter =
          hf_region_of_outline(hf_layout_shape(view->sign->layout, letters[i])->outline, 0, FINE);
      g_autoptr(HfRegion) both = hf_region_intersect(grown, letter);
      beside |= !hf_region_is_empty(both);
    }
    if (beside)
      continue;
    HfRegion *less = hf_region_subtract(kept, grown);
    hf_region_free(kept);
    kept = less;
  }
  return kept;
}

/* ---- letters --------------------------------------------------------------------------------- */

static guint
count_parts(const HfRegion *region, double least)
{
  guint n = 0;
  for (guint r = 0; r < region->rings->len; r++)
    n += hf_region_ring(region, r)->parent < 0 && hf_ring_area(hf_region_ring(region, r)) > least;
  return n;
}

typedef struct {
  HfRegion *region;
  HfBox box;
} Change;

/* Is @piece still one, and most of it there, once @goes is taken off it? */
static gboolean
stays(const HfRegion *piece, const HfRegion *goes, gboolean counters)
{
  double area = hf_region_area(piece);
  if (area < CRUMB)
    return TRUE;
  g_autoptr(HfRegion) lost = hf_region_intersect(piece, goes);
  if (hf_region_area(lost) < CRUMB)
    return TRUE;
  g_autoptr(HfRegion) left = hf_region_subtract(piece, goes);
  if (hf_region_area(left) < (counters ? COUNTER_STAYS : STAYS) * area ||
      count_parts(left, CRUMB) != 1)
    return FALSE;
  HfPoint centre;
  double thick = 0, whole = hf_region_inscribed(piece, 0, 0.05, &centre);
  for (guint r = 0; r < lost->rings->len; r++)
    if (hf_region_ring(lost, r)->parent < 0)
      thick = fmax(thick, hf_region_inscribed(lost, r, 0.05, &centre));
  return thick < (counters ? COUNTER_STROKE : STROKE) * whole;
}

/* Each outer ring of @shown with its openings. */
static gboolean
each_stays(const HfRegion *shown, const HfRegion *goes, gboolean counters)
{
  for (guint r = 0; r < shown->rings->len; r++) {
    if (hf_region_ring(shown, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) piece = hf_region_part(shown, r);
    if (!stays(piece, goes, counters))
      return FALSE;
  }
  return TRUE;
}

/* The openings of a letter, as regions. */
static HfRegion *
counters_of(const HfRegion *letter)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  for (guint r = 0; r < letter->rings->len; r++) {
    const HfRing *ring = hf_region_ring(letter, r);
    if (ring->parent >= 0)
      hf_region_add_ring(raw, ring->at, NULL, ring->n);
  }
  return hf_region_clean(raw);
}

/* What shows of the air, or of the metal, that the letter draws; of the sign before mending. */
static HfRegion *
shown_before(const HfMendView *view, const HfRegion *drawn, gboolean as_air)
{
  g_autoptr(HfRegion) metal =
      hf_region_about(view->given->metal->region, hf_box_grow(hf_region_box(drawn), 1));
  g_autoptr(HfRegion) clean = hf_region_clean(metal);
  return as_air ? hf_region_subtract(drawn, clean) : hf_region_intersect(drawn, clean);
}

/* All that goes of it: what has gone already, and @change. */
static HfRegion *
gone_after(const HfMendView *view, const HfRegion *shown, const HfRegion *change, gboolean adds)
{
  g_autoptr(HfRegion) near_it =
      hf_region_about(view->sign->metal->region, hf_box_grow(hf_region_box(shown), 1));
  g_autoptr(HfRegion) metal = hf_region_clean(near_it);
  g_autoptr(HfRegion) gone =
      adds ? hf_region_intersect(shown, metal) : hf_region_subtract(shown, metal);
  const HfRegion *both[] = {gone, change};
  return hf_region_union(both, G_N_ELEMENTS(both));
}

static gboolean
spares(const HfMendView *view, const HfRegion *drawn, const HfRegion *change, gboolean adds,
       gboolean counters)
{
  g_autoptr(HfRegion) shown = shown_before(view, drawn, adds);
  if (hf_region_is_empty(shown))
    return TRUE;
  g_autoptr(HfRegion) gone = gone_after(view, shown, change, adds);
  return each_stays(shown, gone, counters);
}

void
hf_mend_note_change(HfMendView *view, const HfRegion *change, gboolean adds)
{
  if (view->changed[adds] == NULL)
    view->changed[adds] = g_array_new(FALSE, FALSE, sizeof(Change));
  Change one = {hf_region_copy(change), hf_region_box(change)};
  g_array_append_val(view->changed[adds], one);
}

/* @one with what changed about @box before. */
static HfRegion *
changed_about(const HfMendView *view, const HfRegion *one, gboolean adds, HfBox box)
{
  g_autoptr(GPtrArray) all = g_ptr_array_new();
  g_ptr_array_add(all, (gpointer)one);
  const GArray *before = view->changed[adds];
  for (guint i = 0; before != NULL && i < before->len; i++)
    if (hf_box_overlaps(g_array_index(before, Change, i).box, box))
      g_ptr_array_add(all, g_array_index(before, Change, i).region);
  return hf_region_union((const HfRegion *const *)all->pdata, all->len);
}

static void
changes_free(GArray *changes)
{
  for (guint i = 0; changes != NULL && i < changes->len; i++)
    hf_region_free(g_array_index(changes, Change, i).region);
  if (changes != NULL)
    g_array_unref(changes);
}

void
hf_mend_view_clear(HfMendView *view)
{
  hf_mend_net_free(view->metal_net);
  hf_mend_net_free(view->gap_net);
  hf_region_free(view->fixed);
  hf_region_free(view->fixed_inner);
  changes_free(view->changed[FALSE]);
  changes_free(view->changed[TRUE]);
}

gboolean
hf_mend_spares_letters(const HfMendView *view, const HfRegion *one, gboolean adds)
{
  HfBox box = hf_region_box(one);
  for (guint i = 0; i < view->n_drawn; i++) {
    const HfShape *shape = hf_layout_shape(view->sign->layout, i);
    if (shape->letter < 0 || !hf_box_overlaps(hf_outline_box(shape->outline), box))
      continue;
    g_autoptr(HfRegion) letter = hf_region_of_outline(shape->outline, 0, FINE);
    g_autoptr(HfRegion) counters = counters_of(letter);
    g_autoptr(HfRegion) change = changed_about(view, one, adds, hf_region_box(letter));
    gboolean air = shape->opening; /* the strokes are air, the counters metal */
    if ((air == adds && !spares(view, letter, change, adds, FALSE)) ||
        (air != adds && !spares(view, counters, change, adds, adds)))
      return FALSE;
  }
  return TRUE;
}
