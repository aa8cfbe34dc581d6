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

/* grid units round a piece, and that what touches may lie apart; pairs of edges between two looks;
 * edges that the sweep looks at in a unit of work, about */
enum { FRAME = 64, REACH = 4, LOOK_EVERY = 65536, MET = 24 };

typedef struct {
  HfRegion all; /* rings borrowed, those of the subject first */
  guint n_subject;
  HfIndex *index;
  guint *head;      /* a forest of the rings: which make one piece */
  gboolean up;      /* rays go up: the short way */
  HfRegion holders; /* rings that may wind round another piece, borrowed */
  GArray *number;   /* guint: of each of them in `all` */
  HfIndex *round;   /* over them */
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

/* In whole grid units, a little more than NEAR. */
static gboolean
may_touch(HfGrid a, HfGrid b, HfGrid c, HfGrid d)
{
  return MIN(a.x, b.x) - REACH <= MAX(c.x, d.x) && MIN(c.x, d.x) - REACH <= MAX(a.x, b.x) &&
         MIN(a.y, b.y) - REACH <= MAX(c.y, d.y) && MIN(c.y, d.y) - REACH <= MAX(a.y, b.y);
}

/* The ends of edge @id on the grid. */
static void
ends_of(const Work *work, HfEdgeId id, HfGrid ends[2])
{
  const HfRing *ring = hf_region_ring(&work->all, id.ring);
  ends[0] = ring->at[id.vertex];
  ends[1] = ring->at[id.vertex + 1 < ring->n ? id.vertex + 1 : 0];
}

static void
join_touching(Work *work, HfEdgeId e, HfEdgeId f)
{
  HfGrid a[2], b[2];
  if (hf_forest_root(work->head, e.ring) == hf_forest_root(work->head, f.ring))
    return;
  ends_of(work, e, a);
  ends_of(work, f, b);
  if (may_touch(a[0], a[1], b[0], b[1]) &&
      hf_segment_gap(hf_grid_point(a[0]), hf_grid_point(a[1]), hf_grid_point(b[0]),
                     hf_grid_point(b[1]), NULL, NULL) <= NEAR)
    hf_forest_join(work->head, e.ring, f.ring);
}

/* Edges that touch have a cell in common; in most cells all edges are of one ring. */
static gboolean
join_all(Work *work, const HfCancel *cancel)
{
  guint since = 0;
  for (guint c = 0; c < hf_index_n_cells(work->index); c++) {
    guint n = hf_index_cell_of_rings(work->index, c, NULL);
    g_array_set_size(work->found, n);
    HfEdgeId *ids = (HfEdgeId *)(void *)work->found->data;
    if (n > 0)
      hf_index_cell_of_rings(work->index, c, ids);
    for (guint i = 0; i < n; i++) {
      for (guint k = i + 1; k < n; k++)
        if (ids[k].ring != ids[i].ring)
          join_touching(work, ids[i], ids[k]);
      since += n;
      if (since > LOOK_EVERY && !hf_cancel_check(cancel, NULL))
        return FALSE;
      since = since > LOOK_EVERY ? 0 : since;
    }
  }
  return TRUE;
}

/* ---- what winds round what -------------------------------------------------------------------
 */

/* Along an axis, the first vertices of the pieces. */
typedef struct {
  double at;
  guint head;
} Mark;

static int
by_place(gconstpointer p, gconstpointer q)
{
  const Mark *a = p, *b = q;
  return (a->at > b->at) - (a->at < b->at);
}

static HfPoint
first_vertex(const Work *work, guint ring)
{
  return hf_grid_point(hf_region_ring(&work->all, ring)->at[0]);
}

/* Pieces by their first vertices' x (@axis 0) or y. */
static GArray *
marks_along(Work *work, int axis)
{
  GArray *marks = g_array_new(FALSE, FALSE, sizeof(Mark));
  for (guint r = 0; r < work->all.rings->len; r++) {
    HfPoint p = first_vertex(work, r);
    Mark mark = {axis == 0 ? p.x : p.y, r};
    if (hf_forest_root(work->head, r) == r)
      g_array_append_val(marks, mark);
  }
  g_array_sort(marks, by_place);
  return marks;
}

static guint
first_from(const GArray *marks, double at)
{
  guint low = 0, high = marks->len;
  while (low < high) {
    guint middle = (low + high) / 2;
    if (g_array_index(marks, Mark, middle).at < at)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

/* Does the box of ring @r hold the first vertex of another piece? Only then may it wind round one.
 * Looked for among those that lie in its range of x, or of y: whichever are fewer. */
static gboolean
may_hold_others(Work *work, guint r, GArray *const marks[2])
{
  HfBox box = hf_ring_box(hf_region_ring(&work->all, r));
  guint from[2] = {first_from(marks[0], box.min.x), first_from(marks[1], box.min.y)};
  guint to[2] = {first_from(marks[0], nextafter(box.max.x, INFINITY)),
                 first_from(marks[1], nextafter(box.max.y, INFINITY))};
  int axis = to[0] - from[0] <= to[1] - from[1] ? 0 : 1;
  for (guint i = from[axis]; i < to[axis]; i++) {
    guint head = g_array_index(marks[axis], Mark, i).head;
    if (hf_box_contains(box, first_vertex(work, head)) && hf_forest_root(work->head, r) != head)
      return TRUE;
  }
  return FALSE;
}

/* Of a field of holes the plate is all that rays need to meet. */
static void
find_holders(Work *work)
{
  g_autoptr(GArray) by_x = marks_along(work, 0);
  g_autoptr(GArray) by_y = marks_along(work, 1);
  GArray *marks[2] = {by_x, by_y};
  work->holders.rings = g_array_new(FALSE, FALSE, sizeof(HfRing)); /* borrowed */
  for (guint r = 0; r < work->all.rings->len; r++)
    if (may_hold_others(work, r, marks)) {
      g_array_append_vals(work->holders.rings, hf_region_ring(&work->all, r), 1);
      g_array_append_val(work->number, r);
    }
  work->round = hf_index_new(&work->holders, hf_index_cell(&work->holders));
}

/* How often the rings of other pieces wind round the piece @head, subject and clip. */
static void
count_round(Work *work, guint head, int round[2])
{
  hf_index_crossed(work->round, first_vertex(work, head), work->up, work->found);
  round[0] = round[1] = 0;
  for (guint i = 0; i < work->found->len; i++) {
    HfEdgeId id = g_array_index(work->found, HfEdgeId, i);
    guint ring = g_array_index(work->number, guint, id.ring);
    if (hf_forest_root(work->head, ring) == head)
      continue;
    HfPoint d = hf_point_sub(hf_edge_end(&work->holders, id), hf_edge_start(&work->holders, id));
    round[ring < work->n_subject ? 0 : 1] += (work->up ? d.x < 0 : d.y > 0) ? 1 : -1;
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

/* Lying down where that meets fewer edges. What is counted is nothing in a row of letters, and most
 * of the work where a hundred shapes cross in one place. */
static gboolean
goes_down(const Extent *extent, const HfCancel *cancel)
{
  double met = extent->edges * hf_lesser(met_plumb(extent), met_level(extent));
  hf_cancel_count(cancel, (guint)hf_lesser(met / MET, G_MAXINT));
  return met_plumb(extent) < met_level(extent);
}

static void
settle_several(const Work *work, HfClipKind kind, const GArray *rings, const int round[2],
               const HfCancel *cancel, HfRegion *result)
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
  gboolean down = goes_down(&extent, cancel);
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
  work->index = hf_index_new_reaching(&work->all, fmax(0.2, usual), NEAR);
  work->up = met_plumb(&extent) < met_level(&extent);
  work->found = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  work->number = g_array_new(FALSE, FALSE, sizeof(guint));
}

static void
work_clear(Work *work)
{
  g_array_unref(work->all.rings);
  hf_index_free(work->index);
  hf_index_free(work->round);
  g_clear_pointer(&work->holders.rings, g_array_unref);
  g_array_unref(work->number);
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
  find_holders(&work);
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
      settle_several(&work, overlay->kind, rings, round, cancel, result);
  }
  return TRUE;
}
