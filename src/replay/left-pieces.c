/* SPDX-License-Identifier: GPL-3.0-or-later
 * left-pieces.c - the sheet without the cuts, piece by piece.
 *
 *    sheet +------------------+     The sheet is taken a little larger than all that is cut and all
 *          | .---- kerf ----. |     of the design: what hangs together with its rim is the
 * skeleton. | | sign  ()drop | | | '--------------' |
 *          +------------------+
 */
#include "replay/replay-private.h"

#define RIM_MM     10.0
#define NEAREST_MM 0.01

static HfRegion *
sheet_of(HfReplay *replay)
{
  HfBox box = hf_region_box(replay->cut);
  if (replay->design != NULL)
    box = hf_box_union(box, hf_region_box(replay->design));
  replay->sheet = hf_box_grow(box, RIM_MM);
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_rectangle(outline, replay->sheet, 0);
  return hf_region_of_outline(outline, HF_NO_SHAPE, HF_FLATTEN_MM);
}

/* Rings of the region that hold @p, itself left out. */
static guint
rings_round(HfIndex *index, const HfRegion *left, HfPoint p, guint self, GArray *ids)
{
  guint outer = 0;
  hf_index_rings_round(index, p, ids);
  for (guint i = 0; i < ids->len; i++) {
    guint ring = g_array_index(ids, HfEdgeId, i).ring;
    outer += ring != self && hf_region_ring(left, ring)->parent < 0 ? 1 : 0;
  }
  return outer;
}

static double
area_with_openings(const HfRegion *left, const guint *first_opening, const GArray *openings,
                   guint ring)
{
  double area = hf_ring_area(hf_region_ring(left, ring));
  for (guint i = first_opening[ring]; i < first_opening[ring + 1]; i++)
    area += hf_ring_area(hf_region_ring(left, g_array_index(openings, guint, i)));
  return area;
}

/* Each ring's openings, one after the other; @first has a place more than there are rings. */
static GArray *
openings_by_ring(const HfRegion *left, guint *first)
{
  guint n = left->rings->len;
  GArray *openings = g_array_new(FALSE, TRUE, sizeof(guint));
  for (guint i = 0; i < n; i++)
    if (hf_region_ring(left, i)->parent >= 0)
      first[hf_region_ring(left, i)->parent + 1]++;
  for (guint i = 0; i < n; i++)
    first[i + 1] += first[i];
  g_array_set_size(openings, first[n]);
  g_autofree guint *next = g_memdup2(first, (n + 1) * sizeof *next);
  for (guint i = 0; i < n; i++)
    if (hf_region_ring(left, i)->parent >= 0)
      g_array_index(openings, guint, next[hf_region_ring(left, i)->parent]++) = i;
  return openings;
}

static void
find_pieces(HfReplay *replay)
{
  const HfRegion *left = replay->left;
  g_autofree guint *first = g_new0(guint, left->rings->len + 2);
  g_autoptr(GArray) openings = openings_by_ring(left, first);
  g_autoptr(HfIndex) index = hf_index_new(left, hf_index_cell(left));
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint i = 0; i < left->rings->len; i++) {
    const HfRing *ring = hf_region_ring(left, i);
    if (ring->parent >= 0)
      continue;
    HfPiece piece = {.ring = i, .box = hf_ring_box(ring), .at = hf_ring_beside(ring, 0.0005)};
    guint round = rings_round(index, left, piece.at, i, ids);
    gboolean rim = piece.box.min.x <= replay->sheet.min.x + 0.001;
    piece.area = area_with_openings(left, first, openings, i);
    piece.kind = rim ? HF_PIECE_SKELETON : round <= 1 ? HF_PIECE_SIGN : HF_PIECE_DROP;
    g_array_append_val(replay->pieces, piece);
  }
}

/* Where crossings were rounded more than once an edge lies on none: the nearest is its own. The rim
 * of the sheet has none. */
static void
name_by_nearest(HfTrace *trace, const HfReplayWork *work, HfRing *ring)
{
  for (guint v = 0; v < ring->n; v++) {
    HfEdgeId id;
    double share, away;
    HfPoint a = hf_grid_point(ring->at[v]),
            b = hf_grid_point(ring->at[v + 1 < ring->n ? v + 1 : 0]);
    if (ring->from[v].shape == HF_NO_SHAPE &&
        hf_trace_nearest(trace, hf_point_mix(a, b, 0.5), NEAREST_MM, &id, &share, &away))
      ring->from[v] = hf_region_ring(work->outline, id.ring)->from[id.vertex];
  }
}

gboolean
hf_replay_leave(HfReplayWork *work, GError **error)
{
  HfReplay *replay = work->replay;
  g_autoptr(HfRegion) sheet = sheet_of(replay);
  replay->left = hf_region_subtract_until(sheet, replay->cut, work->cancel);
  if (replay->left == NULL)
    return hf_cancel_check(work->cancel, error);
  g_autoptr(HfTrace) trace = hf_trace_new(work->outline, hf_index_cell(work->outline));
  hf_trace_whole(trace, replay->left, HF_TRACE_CLOSEST);
  for (guint i = 0; i < replay->left->rings->len; i++)
    name_by_nearest(trace, work, hf_region_ring(replay->left, i));
  find_pieces(replay);
  return hf_cancel_check(work->cancel, error);
}
