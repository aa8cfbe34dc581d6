/* SPDX-License-Identifier: GPL-3.0-or-later
 * conflicts.c - bars that can't both be laid: they cross, or leave a sliver between them.
 */
#include "tie/set-private.h"

#define MARGIN 0.02 /* mm */
#define ALIKE  0.5  /* cosine: they leave their part about the same way */
#define APART  3.0  /* widths: two ties of the same parts nearer than that look like one wide one */

static void
corners_of(const HfBar *bar, HfPoint corners[4])
{
  double half = bar->width / 2, low = -bar->end[0].begins, high = bar->end[1].begins;
  corners[0] = hf_bar_point(bar, low, -half);
  corners[1] = hf_bar_point(bar, high, -half);
  corners[2] = hf_bar_point(bar, high, half);
  corners[3] = hf_bar_point(bar, low, half);
}

static gboolean
holds(const HfBar *bar, HfPoint p)
{
  HfPoint from = hf_point_sub(p, bar->at), left = {-bar->way.y, bar->way.x};
  double along = hf_point_dot(from, bar->way);
  return fabs(hf_point_dot(from, left)) < bar->width / 2 && along > -bar->end[0].begins &&
         along < bar->end[1].begins;
}

/* Along the bar's own axes they are at least so far apart: never more than the gap. */
static double
apart_along(const HfBar *bar, const HfPoint other[4])
{
  HfPoint left = {-bar->way.y, bar->way.x};
  HfBox box = HF_BOX_EMPTY;
  for (int k = 0; k < 4; k++) {
    HfPoint from = hf_point_sub(other[k], bar->at);
    box = hf_box_add_point(box, hf_point(hf_point_dot(from, bar->way), hf_point_dot(from, left)));
  }
  double half = bar->width / 2;
  double x = fmax(box.min.x - bar->end[1].begins, -bar->end[0].begins - box.max.x);
  return fmax(x, fmax(box.min.y - half, -half - box.max.y));
}

/* Told exactly only as far as it matters: is it less than @enough? */
static double
gap_between(const HfBar *a, const HfBar *b, double enough)
{
  HfPoint p[4], q[4];
  corners_of(a, p);
  corners_of(b, q);
  double apart = fmax(apart_along(a, q), apart_along(b, p));
  if (apart >= enough)
    return apart;
  if (holds(a, q[0]) || holds(b, p[0]))
    return 0;
  double gap = INFINITY;
  for (int i = 0; i < 4; i++)
    for (int k = 0; k < 4 && gap >= enough; k++)
      gap = fmin(gap, hf_segment_gap(p[i], p[(i + 1) % 4], q[k], q[(k + 1) % 4], NULL, NULL));
  return gap;
}

/* What joins the same two parts encloses an opening, which has to be pierced, and side by side is
 * no better than one; other bars only need the kerf between them. */
static double
least_gap(const HfTieLaw *law, const HfBar *a, const HfBar *b)
{
  gboolean same = (a->part[0] == b->part[0] && a->part[1] == b->part[1]) ||
                  (a->part[0] == b->part[1] && a->part[1] == b->part[0]);
  double toward = hf_point_dot(a->way, b->way) * (a->part[0] == b->part[0] ? 1 : -1);
  double apart = same && toward > ALIKE ? APART * fmax(a->width, b->width) : 0;
  return MARGIN + fmax(apart, same ? fmax(2 * law->pierce, law->gap) : law->gap);
}

GArray *
hf_bars_conflicts(const HfOffers *offers)
{
  GArray *conflicts = g_array_new(FALSE, FALSE, sizeof(HfConflict));
  g_autoptr(HfRegion) all = hf_region_new();
  const GArray *bars = offers->bars;
  for (guint i = 0; i < bars->len; i++) {
    HfPoint corners[4];
    HfGrid at[4];
    corners_of(&g_array_index(bars, HfBar, i), corners);
    for (int k = 0; k < 4; k++)
      at[k] = hf_grid_snap(corners[k]);
    hf_region_add_ring(all, at, NULL, 4);
  }
  double far = fmax(2 * offers->law.pierce, offers->law.gap) + MARGIN;
  for (guint i = 0; i < bars->len; i++)
    far = fmax(far, APART * g_array_index(bars, HfBar, i).width + MARGIN);
  g_autoptr(HfIndex) index = hf_index_new(all, 2 * far);
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  g_autofree guint *seen = g_new0(guint, bars->len + 1);
  for (guint i = 0; i < bars->len; i++) {
    const HfBar *a = &g_array_index(bars, HfBar, i);
    hf_index_query(index, hf_box_grow(hf_ring_box(hf_region_ring(all, i)), far), ids);
    for (guint k = 0; k < ids->len; k++) {
      guint j = g_array_index(ids, HfEdgeId, k).ring;
      const HfBar *b = &g_array_index(bars, HfBar, j);
      if (j <= i || seen[j] == i + 1)
        continue;
      seen[j] = i + 1;
      double least = least_gap(&offers->law, a, b);
      if (gap_between(a, b, least) < least) {
        HfConflict conflict = {i, j};
        g_array_append_val(conflicts, conflict);
      }
    }
  }
  return conflicts;
}
