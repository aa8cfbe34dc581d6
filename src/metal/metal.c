/* SPDX-License-Identifier: GPL-3.0-or-later
 * metal.c - adds and removes the placed shapes in order, then names every edge.
 *
 *      shapes in order:   + + + - - +          batches of the same sign go through the
 *      booleans:         (union) - (union) + . clipper together
 *
 * Each shape is cleaned by itself first, so that contours that overlap or wind the wrong way inside
 * one letter can't cancel metal of another.
 */
#include "metal/metal.h"
#include "metal/meet-private.h"
#include "metal/names-private.h"

/* A ring thinner than this all along is dust from rounding: area over half the perimeter, mm. */
static const double DUST_WIDTH = 0.002;

enum { EDGE_WORK = 1 }; /* units of work for each edge that goes through a boolean */

/* @from is left empty. */
static void
move_rings(HfRegion *to, HfRegion *from)
{
  gsize n;
  g_autofree HfRing *rings = g_array_steal(from->rings, &n);
  if (n > 0)
    g_array_append_vals(to->rings, rings, (guint)n);
}

/* (nullable: stopped) (element-type HfRegion) All shapes, flattened and cleaned; @flat: as they
 * were before they were cleaned. */
static GPtrArray *
clean_shapes(const HfLayout *layout, HfRegion *flat, const HfCancel *cancel)
{
  g_autoptr(GPtrArray) clean = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < layout->shapes->len; i++) {
    g_autoptr(HfRegion) raw = hf_region_new();
    if (!hf_cancel_check(cancel, NULL))
      return NULL;
    hf_region_flatten(raw, hf_layout_shape(layout, i)->outline, i, HF_FLATTEN_MM);
    hf_cancel_count(cancel, EDGE_WORK * hf_region_n_edges(raw));
    g_ptr_array_add(clean, hf_region_clean(raw));
    move_rings(flat, raw);
  }
  return g_steal_pointer(&clean);
}

/* (transfer full) (element-type HfMeeting) (nullable: stopped) */
static GArray *
let_meet(const HfLayout *layout, const GPtrArray *clean, const HfCancel *cancel)
{
  g_autofree gboolean *opening = g_new(gboolean, clean->len + 1);
  for (guint i = 0; i < clean->len; i++)
    opening[i] = hf_layout_shape(layout, i)->opening;
  return hf_regions_meet((HfRegion *const *)clean->pdata, opening, clean->len, cancel);
}

/* (nullable: stopped) They meet anew, as crossings were rounded. */
static HfRegion *
combine(HfRegion *so_far, HfRegion *batch, gboolean opening, const HfCancel *cancel)
{
  g_autoptr(HfRegion) before = so_far;
  HfRegion *both[] = {before, batch};
  g_autoptr(GArray) met =
      hf_regions_meet(both, (gboolean[]){FALSE, opening}, G_N_ELEMENTS(both), cancel);
  if (met == NULL)
    return NULL;
  return opening ? hf_region_subtract_until(before, batch, cancel)
                 : hf_region_union_until((const HfRegion *const *)both, G_N_ELEMENTS(both), cancel);
}

/* (nullable: stopped) */
static HfRegion *
add_and_remove(const HfLayout *layout, const GPtrArray *clean, const GArray *meetings,
               const HfCancel *cancel)
{
  g_autoptr(HfRegion) region = NULL;
  guint n = layout->shapes->len;
  for (guint first = 0, end; first < n; first = end) {
    gboolean opening = hf_layout_shape(layout, first)->opening;
    for (end = first + 1; end < n && hf_layout_shape(layout, end)->opening == opening;)
      end++;
    HfRegion **shapes = (HfRegion **)clean->pdata + first;
    hf_regions_merge(shapes, end - first, meetings, first);
    g_autoptr(HfRegion) batch =
        hf_region_union_until((const HfRegion *const *)shapes, end - first, cancel);
    if (batch == NULL)
      return NULL;
    HfRegion *before = region != NULL ? g_steal_pointer(&region) : NULL;
    if (before == NULL && !opening)
      region = g_steal_pointer(&batch);
    else
      region = combine(before != NULL ? before : hf_region_new(), batch, opening, cancel);
    if (region == NULL)
      return NULL;
    hf_cancel_count(cancel, EDGE_WORK * hf_region_n_edges(region));
  }
  return region != NULL ? g_steal_pointer(&region) : hf_region_new();
}

/* Drops dust; what an outer ring of dust held goes with it. */
static double
drop_dust(HfRegion *region)
{
  double dropped = 0;
  g_autofree gboolean *gone = g_new0(gboolean, region->rings->len + 1);
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    double area = fabs(hf_ring_area(ring));
    gone[i] = area < DUST_WIDTH * hf_ring_perimeter(ring) / 2;
    dropped += gone[i] ? area : 0;
  }
  for (guint i = region->rings->len; i-- > 0;) {
    gint parent = hf_region_ring(region, i)->parent;
    if (gone[i] || (parent >= 0 && gone[parent]))
      g_array_remove_index(region->rings, i);
  }
  return dropped;
}

HfMetal *
hf_metal_new(const HfLayout *layout, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfMetal) metal = g_new0(HfMetal, 1);
  g_autoptr(HfRegion) flat = hf_region_new();
  g_autoptr(GPtrArray) clean = clean_shapes(layout, flat, cancel);
  if (clean != NULL) {
    metal->meetings = let_meet(layout, clean, cancel);
    if (metal->meetings != NULL)
      metal->region = add_and_remove(layout, clean, metal->meetings, cancel);
  }
  if (!hf_cancel_check(cancel, error) || metal->region == NULL)
    return NULL;
  g_clear_pointer(&clean, g_ptr_array_unref);
  metal->sliver_area = drop_dust(metal->region);
  if (!hf_region_repair(metal->region)) {
    hf_error_set(error, HF_ERROR_BUG, NULL, "move one of the entries by 0.01 mm and tell us",
                 "the outlines could not be joined cleanly");
    return NULL;
  }
  return hf_metal_name_edges(metal->region, flat, cancel, error) ? g_steal_pointer(&metal) : NULL;
}

HfMetal *
hf_metal_ref(HfMetal *metal)
{
  g_atomic_int_inc(&metal->others);
  return metal;
}

void
hf_metal_free(HfMetal *metal)
{
  if (metal == NULL || g_atomic_int_add(&metal->others, -1) > 0)
    return;
  hf_region_free(metal->region);
  if (metal->meetings != NULL)
    g_array_unref(metal->meetings);
  g_free(metal);
}
