/* SPDX-License-Identifier: GPL-3.0-or-later
 * apart.c - how far a region must go along a straight way until it lies clear of another.
 */
#include "geom/apart.h"
#include "geom/index.h"

#define THIN 1e-6 /* mm: a strip, or an overlap, that is less is a touch */

/* An edge, by what it is along and across the way. */
typedef struct {
  double low, high;       /* across */
  double at_low, at_high; /* along */
} Side;

/* ---- sides -------------------------------------------------------------------------------------
 */

static int
by_value(gconstpointer a, gconstpointer b)
{
  double p = *(const double *)a, q = *(const double *)b;
  return (p > q) - (p < q);
}

/* Those edges of @region that are not along the way; its corners go into @heights. */
static GArray *
sides_of(const HfRegion *region, HfPoint way, GArray *heights)
{
  GArray *sides = g_array_new(FALSE, FALSE, sizeof(Side));
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      HfPoint a = hf_edge_start(region, (HfEdgeId){r, v});
      HfPoint b = hf_edge_end(region, (HfEdgeId){r, v});
      double of_a = hf_point_cross(way, a), of_b = hf_point_cross(way, b);
      g_array_append_val(heights, of_a);
      gboolean up = of_a < of_b;
      Side side = {fmin(of_a, of_b), fmax(of_a, of_b), hf_point_dot(way, up ? a : b),
                   hf_point_dot(way, up ? b : a)};
      if (side.high > side.low)
        g_array_append_val(sides, side);
    }
  return sides;
}

/* ---- one strip ---------------------------------------------------------------------------------
 */

/* Where a side enters and leaves the strip, along. */
typedef struct {
  double below, above;
} Cut;

static double
along_at(const Side *side, double height)
{
  double share = (height - side->low) / (side->high - side->low);
  return side->at_low + share * (side->at_high - side->at_low);
}

static int
from_left(gconstpointer a, gconstpointer b)
{
  const Cut *p = a, *q = b;
  double x = p->below + p->above, y = q->below + q->above;
  return (x > y) - (x < y);
}

/* From left to right; each two of them bound a trapezoid. */
static void
cut_strip(const GArray *sides, double low, double high, GArray *ret_cuts)
{
  g_array_set_size(ret_cuts, 0);
  double middle = (low + high) / 2;
  for (guint i = 0; i < sides->len; i++) {
    const Side *side = &g_array_index(sides, Side, i);
    if (side->low >= middle || side->high <= middle)
      continue;
    Cut cut = {along_at(side, fmax(low, side->low)), along_at(side, fmin(high, side->high))};
    g_array_append_val(ret_cuts, cut);
  }
  g_array_sort(ret_cuts, from_left);
}

static void
block_strip(const GArray *moving, const GArray *fixed, GArray *blocked)
{
  for (guint m = 0; m + 1 < moving->len; m += 2)
    for (guint f = 0; f + 1 < fixed->len; f += 2) {
      const Cut *own = &g_array_index(moving, Cut, m), *its = &g_array_index(fixed, Cut, f);
      HfBlocked one = {fmin(its[0].below - own[1].below, its[0].above - own[1].above),
                       fmax(its[1].below - own[0].below, its[1].above - own[0].above)};
      if (one.to - one.from > THIN)
        g_array_append_val(blocked, one);
    }
}

/* ---- all of them -------------------------------------------------------------------------------
 */

static int
by_from(gconstpointer a, gconstpointer b)
{
  const HfBlocked *p = a, *q = b;
  return (p->from > q->from) - (p->from < q->from);
}

static void
merge(GArray *blocked)
{
  g_array_sort(blocked, by_from);
  guint n = 0;
  for (guint i = 0; i < blocked->len; i++) {
    HfBlocked one = g_array_index(blocked, HfBlocked, i);
    HfBlocked *last = n > 0 ? &g_array_index(blocked, HfBlocked, n - 1) : NULL;
    if (last != NULL && one.from <= last->to)
      last->to = fmax(last->to, one.to);
    else
      g_array_index(blocked, HfBlocked, n++) = one;
  }
  g_array_set_size(blocked, n);
}

GArray *
hf_apart_blocked(const HfRegion *moving, const HfRegion *fixed, HfPoint way)
{
  GArray *blocked = g_array_new(FALSE, FALSE, sizeof(HfBlocked));
  g_autoptr(GArray) heights = g_array_new(FALSE, FALSE, sizeof(double));
  g_autoptr(GArray) own = sides_of(moving, way, heights), its = sides_of(fixed, way, heights);
  g_autoptr(GArray) own_cuts = g_array_new(FALSE, FALSE, sizeof(Cut));
  g_autoptr(GArray) its_cuts = g_array_new(FALSE, FALSE, sizeof(Cut));
  g_array_sort(heights, by_value);
  for (guint i = 1; i < heights->len; i++) {
    double low = g_array_index(heights, double, i - 1), high = g_array_index(heights, double, i);
    if (high - low < THIN)
      continue;
    cut_strip(own, low, high, own_cuts);
    if (own_cuts->len < 2)
      continue;
    cut_strip(its, low, high, its_cuts);
    block_strip(own_cuts, its_cuts, blocked);
  }
  merge(blocked);
  return blocked;
}

double
hf_apart_from(const GArray *blocked, double from)
{
  for (guint i = 0; i < blocked->len; i++) {
    const HfBlocked *one = &g_array_index(blocked, HfBlocked, i);
    if (one->from < from && from < one->to)
      from = one->to;
  }
  return from;
}
