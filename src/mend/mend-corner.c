/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-corner.c - which corners beside what is added are filled, all of one radius at a time.
 *
 *      +---------+---------+     Halved again and again by place, each half with the metal about
 *      | c  c    |    c    |     it only, down to one corner with the metal about that: each is
 *      |      c  | c       |     judged by a few edges. What is filled goes in by one union.
 *      +---------+---------+
 *
 * Within such a window a corner closes, divides or joins something just when the pieces or the
 * openings there become more or fewer: what it touches twice it touches within the window, and so
 * encloses what lies between. Cost O(n log n) for n edges and corners, and a box test for each two
 * corners.
 */
#include "mend/mend-private.h"

#define FINE  0.002 /* mm */
#define ABOUT 1.0   /* mm that a window reaches beyond its corner */
#define CRUMB 0.01  /* mm2: smaller pieces and openings do not count */
enum { WORK = 2 };  /* units for each edge of a window */

typedef struct {
  const HfRegion *corner;
  HfRegion *grown; /* (nullable) what fills it; of those that are filled */
  HfRegion *metal; /* (nullable) about it; %NULL: not beside what is added */
  HfBox box;
} Corner;

static void
corner_clear(Corner *one)
{
  hf_region_free(one->grown);
  hf_region_free(one->metal);
}

/* By their middles, along x or y. */
static int
by_x(gconstpointer p, gconstpointer q)
{
  const Corner *a = *(Corner *const *)p, *b = *(Corner *const *)q;
  double x = a->box.min.x + a->box.max.x, y = b->box.min.x + b->box.max.x;
  return (x > y) - (x < y);
}

static int
by_y(gconstpointer p, gconstpointer q)
{
  const Corner *a = *(Corner *const *)p, *b = *(Corner *const *)q;
  double x = a->box.min.y + a->box.max.y, y = b->box.min.y + b->box.max.y;
  return (x > y) - (x < y);
}

/* Gives each of the @n corners that lies beside @reach the metal about it. */
static void
look_about(Corner **all, guint n, const HfRegion *metal, const HfRegion *reach,
           const HfCancel *cancel)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < n; i++)
    box = hf_box_union(box, all[i]->box);
  g_autoptr(HfRegion) near_reach = hf_region_within(reach, box);
  if (hf_region_is_empty(near_reach) || !hf_cancel_check(cancel, NULL))
    return;
  g_autoptr(HfRegion) near_metal = hf_region_within(metal, box);
  hf_cancel_count(cancel, WORK * hf_region_n_edges(near_metal));
  if (n == 1) {
    g_autoptr(HfRegion) beside = hf_region_intersect(all[0]->corner, near_reach);
    all[0]->metal = hf_region_is_empty(beside) ? NULL : g_steal_pointer(&near_metal);
    return;
  }
  gboolean wide = hf_box_width(box) > hf_box_height(box);
  qsort(all, n, sizeof *all, wide ? by_x : by_y);
  look_about(all, n / 2, near_metal, near_reach, cancel);
  look_about(all + n / 2, n - n / 2, near_metal, near_reach, cancel);
}

static guint
count_rings(const HfRegion *region, gboolean openings)
{
  guint n = 0;
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    n += (ring->parent >= 0) == openings && fabs(hf_ring_area(ring)) > CRUMB;
  }
  return n;
}

/* Fills corner @k, unless that would join what is apart or close or divide an opening: with what is
 * filled of those before it. */
static void
judge(Corner *all, guint k)
{
  Corner *one = &all[k];
  g_autoptr(HfRegion) grown = hf_region_offset(one->corner, FINE / 4, FINE / 4);
  g_autoptr(GPtrArray) parts = g_ptr_array_new();
  g_ptr_array_add(parts, one->metal);
  for (guint i = 0; i < k; i++)
    if (all[i].grown != NULL && hf_box_overlaps(all[i].box, one->box))
      g_ptr_array_add(parts, all[i].grown);
  g_autoptr(HfRegion) now = hf_region_union((const HfRegion *const *)parts->pdata, parts->len);
  const HfRegion *both[] = {now, grown};
  g_autoptr(HfRegion) filled = hf_region_union(both, G_N_ELEMENTS(both));
  if (count_rings(filled, FALSE) == count_rings(now, FALSE) &&
      count_rings(filled, TRUE) == count_rings(now, TRUE))
    one->grown = g_steal_pointer(&grown);
}

/* (transfer full) @metal with all that is filled. */
static HfRegion *
with_filled(const HfRegion *metal, const Corner *all, guint n)
{
  g_autoptr(GPtrArray) parts = g_ptr_array_new();
  g_ptr_array_add(parts, (gpointer)metal);
  for (guint i = 0; i < n; i++)
    if (all[i].grown != NULL)
      g_ptr_array_add(parts, all[i].grown);
  return hf_region_union((const HfRegion *const *)parts->pdata, parts->len);
}

HfRegion *
hf_mend_with_corners(const HfRegion *metal, const GPtrArray *corners, const HfRegion *reach,
                     const HfCancel *cancel)
{
  guint n = corners->len, beside = 0;
  if (n == 0)
    return NULL;
  g_autofree Corner *all = g_new0(Corner, n);
  g_autofree Corner **order = g_new(Corner *, n);
  for (guint i = 0; i < n; i++) {
    all[i].corner = corners->pdata[i];
    all[i].box = hf_box_grow(hf_region_box(all[i].corner), ABOUT);
    order[i] = &all[i];
  }
  look_about(order, n, metal, reach, cancel);
  for (guint i = 0; i < n && hf_cancel_check(cancel, NULL); i++)
    if (all[i].metal != NULL) {
      judge(all, i);
      beside++;
    }
  HfRegion *filled = beside > 0 ? with_filled(metal, all, n) : NULL;
  for (guint i = 0; i < n; i++)
    corner_clear(&all[i]);
  return filled;
}
