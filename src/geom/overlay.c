/* SPDX-License-Identifier: GPL-3.0-or-later
 * overlay.c - a boolean of very many rings, piece by piece.
 *
 *      +-----------------+     Rings whose edges touch or cross make a piece: here {plate},
 *      |  +--+   +-----+ |     {a}, {b, c}. No other ring comes near any edge of a piece, so all
 *      |  |a |   |b +--|-|--   of the piece lies in the same others: it is enough to know how many
 *      |  +--+   +--|c | | .   wind round one of its vertices.
 *      +------------+--+-+
 *
 *   one ring    stays where what lies on its two sides differs; nothing is computed
 *   several     go through the clipper, with a frame round them for each other that they lie in
 *
 * The sweep of the clipper looks at every edge that it meets for each vertex: n vertices in a row
 * of m letters cost n m. A piece is much smaller than the whole, and goes through it lying down
 * where that meets fewer edges.
 *
 * Invariant: the same area as by one call, its rings in order of pieces. Accuracy: crossings are
 * rounded to the grid piece by piece as they are all at once; rings nearer than NEAR are one piece,
 * so rounding never makes two pieces meet. Degenerate: edges that coincide touch.
 */
#include "geom/forest.h"
#include "geom/index.h"
#include "geom/overlay-private.h"

#define NEAR (3.0 / HF_GRID_PER_MM) /* mm; a crossing moves by less than one unit */

enum { FRAME = 64, LOOK_EVERY = 4096 }; /* grid units round a piece; edges between two looks */

typedef struct {
  HfRegion all; /* rings borrowed, those of the subject first */
  guint n_subject;
  HfIndex *index;
  guint *head; /* a forest of the rings: which make one piece */
  gboolean up; /* rays go up: the short way */
  GArray *found;
} Work;

/* ---- how much work it is --------------------------------------------------------------------- */

typedef struct {
  double edges, along_x, along_y; /* sums of |dx|, |dy| */
  HfBox box;
} Extent;

static void
extend(Extent *extent, const HfRing *ring)
{
  extent->edges += ring->n;
  extent->box = hf_box_union(extent->box, hf_ring_box(ring));
  for (guint v = 0; v < ring->n; v++) {
    HfPoint d =
        hf_point_sub(hf_grid_point(ring->at[(v + 1) % ring->n]), hf_grid_point(ring->at[v]));
    extent->along_x += fabs(d.x);
    extent->along_y += fabs(d.y);
  }
}

/* Edges that a level line, or a plumb one, meets on average. */
static double
met_level(const Extent *extent)
{
  return extent->along_y / fmax(hf_box_height(extent->box), 1e-3);
}

static double
met_plumb(const Extent *extent)
{
  return extent->along_x / fmax(hf_box_width(extent->box), 1e-3);
}

double
hf_overlay_work(const HfOverlay *overlay)
{
  Extent extent = {.box = HF_BOX_EMPTY};
  for (guint i = 0; i < overlay->n_subject + overlay->n_clip; i++) {
    const HfRegion *region =
        i < overlay->n_subject ? overlay->subject[i] : overlay->clip[i - overlay->n_subject];
    for (guint r = 0; r < region->rings->len; r++)
      extend(&extent, hf_region_ring(region, r));
  }
  return extent.edges * met_level(&extent);
}

/* ---- pieces ---------------------------------------------------------------------------------- */

static void
join_touching(Work *work, HfEdgeId id)
{
  HfPoint a = hf_edge_start(&work->all, id), b = hf_edge_end(&work->all, id);
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
  hf_index_query(work->index, hf_box_grow(box, NEAR), work->found);
  for (guint i = 0; i < work->found->len; i++) {
    HfEdgeId other = g_array_index(work->found, HfEdgeId, i);
    if (other.ring <= id.ring ||
        hf_forest_root(work->head, other.ring) == hf_forest_root(work->head, id.ring))
      continue;
    HfPoint c = hf_edge_start(&work->all, other), d = hf_edge_end(&work->all, other);
    HfBox beside = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, c), d);
    if (hf_box_overlaps(hf_box_grow(box, NEAR), beside) &&
        hf_segment_gap(a, b, c, d, NULL, NULL) <= NEAR)
      hf_forest_join(work->head, id.ring, other.ring);
  }
}

static gboolean
join_all(Work *work, const HfCancel *cancel)
{
  guint since = 0;
  for (guint r = 0; r < work->all.rings->len; r++) {
    guint n = hf_region_ring(&work->all, r)->n;
    gboolean alone = hf_index_is_alone(work->index, r, NEAR, work->found);
    for (guint v = 0; !alone && v < n; v++)
      join_touching(work, (HfEdgeId){r, v});
    since += n;
    if (since > LOOK_EVERY && !hf_cancel_check(cancel, NULL))
      return FALSE;
    since = since > LOOK_EVERY ? 0 : since;
  }
  return TRUE;
}

/* How often the rings of other pieces wind round the piece @head, subject and clip. */
static void
count_round(Work *work, guint head, int round[2])
{
  HfPoint p = hf_grid_point(hf_region_ring(&work->all, head)->at[0]);
  hf_index_crossed(work->index, p, work->up, work->found);
  round[0] = round[1] = 0;
  for (guint i = 0; i < work->found->len; i++) {
    HfEdgeId id = g_array_index(work->found, HfEdgeId, i);
    if (hf_forest_root(work->head, id.ring) == head)
      continue;
    HfPoint d = hf_point_sub(hf_edge_end(&work->all, id), hf_edge_start(&work->all, id));
    round[id.ring < work->n_subject ? 0 : 1] += (work->up ? d.x < 0 : d.y > 0) ? 1 : -1;
  }
}

/* ---- a piece of one ring --------------------------------------------------------------------- */

static gboolean
is_metal(HfClipKind kind, int subject, int clip)
{
  switch (kind) {
  case HF_CLIP_UNION:
    return subject != 0 || clip != 0;
  case HF_CLIP_INTERSECT:
    return subject != 0 && clip != 0;
  case HF_CLIP_SUBTRACT:
    return subject != 0 && clip == 0;
  }
  return FALSE;
}

/* Metal stays on the left of each edge. */
static void
put_ring(HfRegion *result, const HfRing *ring, gboolean turned)
{
  hf_region_add_ring(result, ring->at, NULL, ring->n);
  HfRing *own = hf_region_ring(result, result->rings->len - 1);
  for (guint v = 0; turned && v < own->n; v++)
    own->at[v] = ring->at[own->n - 1 - v];
}

static void
settle_one(const Work *work, HfClipKind kind, guint r, const int round[2], HfRegion *result)
{
  const HfRing *ring = hf_region_ring(&work->all, r);
  gboolean outer = hf_ring_area(ring) > 0;
  int role = r < work->n_subject ? 0 : 1, within[2] = {round[0], round[1]};
  within[role] += outer ? 1 : -1;
  gboolean in = is_metal(kind, within[0], within[1]), out = is_metal(kind, round[0], round[1]);
  if (in != out)
    put_ring(result, ring, in != outer);
}

/* ---- a piece of several ---------------------------------------------------------------------- */

static HfGrid
swapped(HfGrid g)
{
  return (HfGrid){g.y, g.x};
}

/* Lying down: x and y change places, which turns each ring round; so it is turned once more. */
static void
lay_down(HfRegion *region)
{
  for (guint r = 0; r < region->rings->len; r++) {
    HfRing *ring = hf_region_ring(region, r);
    for (guint i = 0, j = ring->n - 1; i <= j && j < ring->n; i++, j--) {
      HfGrid low = swapped(ring->at[i]);
      ring->at[i] = swapped(ring->at[j]);
      ring->at[j] = low;
    }
  }
}

/* @depth frames, each FRAME wider than the one before. Returns: the box of the widest. */
static void
add_frames(HfRegion *region, HfBox box, int depth, int from)
{
  for (int k = from; k < from + depth; k++) {
    HfBox frame = hf_box_grow(box, (k + 1) * FRAME / (double)HF_GRID_PER_MM);
    HfGrid low = hf_grid_snap(frame.min), high = hf_grid_snap(frame.max);
    HfGrid at[] = {low, {high.x, low.y}, high, {low.x, high.y}};
    hf_region_add_ring(region, at, NULL, G_N_ELEMENTS(at));
  }
}

/* Is it made of a frame's edge? Frames lie outside the box of the piece, and nothing else does. */
static gboolean
is_frame(const HfRing *ring, HfBox box)
{
  return !hf_box_contains(hf_box_grow(box, NEAR), hf_grid_point(ring->at[0]));
}

static void
settle_several(const Work *work, HfClipKind kind, const GArray *rings, const int round[2],
               HfRegion *result)
{
  g_autoptr(HfRegion) subject = hf_region_new();
  g_autoptr(HfRegion) clip = hf_region_new();
  g_autoptr(HfRegion) outcome = hf_region_new();
  Extent extent = {.box = HF_BOX_EMPTY};
  for (guint i = 0; i < rings->len; i++) {
    guint r = g_array_index(rings, guint, i);
    const HfRing *ring = hf_region_ring(&work->all, r);
    extend(&extent, ring);
    hf_region_add_ring(r < work->n_subject ? subject : clip, ring->at, NULL, ring->n);
  }
  add_frames(subject, extent.box, MIN(round[0], (int)rings->len + 1), 0);
  add_frames(clip, extent.box, MIN(round[1], (int)rings->len + 1), (int)rings->len + 1);
  gboolean down = met_plumb(&extent) < met_level(&extent);
  if (down) {
    lay_down(subject);
    lay_down(clip);
  }
  const HfRegion *a = subject, *b = clip;
  gboolean done = hf_clip(kind, &a, 1, &b, 1, outcome);
  g_assert(done); /* our bug: coordinates are capped long before they reach the clipper's range */
  if (down)
    lay_down(outcome);
  for (guint r = 0; r < outcome->rings->len; r++)
    if (!is_frame(hf_region_ring(outcome, r), extent.box))
      put_ring(result, hf_region_ring(outcome, r), FALSE);
}

/* ---- all of them ----------------------------------------------------------------------------- */

static void
take_rings(Work *work, const HfRegion *const *regions, guint n)
{
  for (guint i = 0; i < n; i++)
    g_array_append_vals(work->all.rings, regions[i]->rings->data, regions[i]->rings->len);
}

static void
work_init(Work *work, const HfOverlay *overlay)
{
  work->all.rings = g_array_new(FALSE, FALSE, sizeof(HfRing)); /* borrowed: nothing to clear */
  take_rings(work, overlay->subject, overlay->n_subject);
  work->n_subject = work->all.rings->len;
  take_rings(work, overlay->clip, overlay->n_clip);
  work->head = hf_forest_new(work->all.rings->len);
  Extent extent = {.box = HF_BOX_EMPTY};
  for (guint r = 0; r < work->all.rings->len; r++)
    extend(&extent, hf_region_ring(&work->all, r));
  double usual = (extent.along_x + extent.along_y) / (extent.edges + 1);
  work->index = hf_index_new(&work->all, fmax(0.2, usual));
  work->up = met_plumb(&extent) < met_level(&extent);
  work->found = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
}

static void
work_clear(Work *work)
{
  g_array_unref(work->all.rings);
  hf_index_free(work->index);
  g_free(work->head);
  g_array_unref(work->found);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Work, work_clear)

static void
drop_array(gpointer some)
{
  if (some != NULL)
    g_array_unref(some);
}

/* (element-type GArray of guint, nullable) By head, the rings of each piece in their order. */
static GPtrArray *
pieces_of(Work *work)
{
  guint n = work->all.rings->len;
  GPtrArray *pieces = g_ptr_array_new_full(n, drop_array);
  g_ptr_array_set_size(pieces, (gint)n);
  for (guint r = 0; r < n; r++) {
    guint head = hf_forest_root(work->head, r);
    if (pieces->pdata[head] == NULL)
      pieces->pdata[head] = g_array_new(FALSE, FALSE, sizeof(guint));
    g_array_append_val(pieces->pdata[head], r);
  }
  return pieces;
}

gboolean
hf_overlay_run(const HfOverlay *overlay, HfRegion *result, const HfCancel *cancel)
{
  g_auto(Work) work = {0};
  work_init(&work, overlay);
  if (!join_all(&work, cancel))
    return FALSE;
  g_autoptr(GPtrArray) pieces = pieces_of(&work);
  for (guint head = 0; head < pieces->len; head++) {
    const GArray *rings = pieces->pdata[head];
    int round[2];
    if (rings == NULL)
      continue;
    if (!hf_cancel_check(cancel, NULL))
      return FALSE;
    count_round(&work, head, round);
    if (rings->len == 1)
      settle_one(&work, overlay->kind, head, round, result);
    else
      settle_several(&work, overlay->kind, rings, round, result);
  }
  return TRUE;
}
