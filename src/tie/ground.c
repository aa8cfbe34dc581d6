/* SPDX-License-Identifier: GPL-3.0-or-later
 * ground.c - the metal as ties see it: whose edge is it, what does a ray meet, is there room?
 *
 *      part ───> |   | body        a ray from a part's edge to the first metal that it meets
 *                 ───>             cells of the index, MOST_CELLS ahead at a time
 *
 * Seams are chords along which metal was cut in two to see what hangs together: edges without a
 * source that are there both ways. No tie begins or ends there, since the cut is not in the sign.
 * Invariant: ring and part go together (one part, one outer ring and its openings); numbers of
 * shapes are those of the layout. Limits: an edge of no shape belongs to nobody and carries no tie.
 */
#include "tie/ground-private.h"

#define ABOUT 0.7

#define MOST_CELLS 8 /* a ray looks so many cells ahead at a time */

static gint64 *
seam_key(HfEdgeId id)
{
  gint64 *key = g_new(gint64, 1);
  *key = (gint64)((guint64)id.ring << 32 | id.vertex);
  return key;
}

guint
hf_ground_shape(const HfGround *ground, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(ground->region, id.ring);
  return ring->from == NULL ? HF_NO_SHAPE : ring->from[id.vertex].shape;
}

gboolean
hf_ground_is_seam(const HfGround *ground, HfEdgeId id)
{
  gint64 key = (gint64)((guint64)id.ring << 32 | id.vertex);
  return ground->seams != NULL && hf_ground_shape(ground, id) == HF_NO_SHAPE && /* few are */
         g_hash_table_contains(ground->seams, &key);
}

static GBytes *
edge_key(HfGrid a, HfGrid b)
{
  HfGrid ends[2] = {a, b};
  return g_bytes_new(ends, sizeof ends);
}

/* Chords that the metal was cut along: edges without a source that are there both ways. */
static void
find_seams(HfGround *ground)
{
  g_autoptr(GHashTable) ways =
      g_hash_table_new_full(g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, g_free);
  for (guint r = 0; r < ground->region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(ground->region, r);
    for (guint v = 0; v < ring->n; v++) {
      HfEdgeId id = {r, v};
      if (hf_ground_shape(ground, id) != HF_NO_SHAPE)
        continue;
      HfGrid a = ring->at[v], b = ring->at[(v + 1) % ring->n];
      g_autoptr(GBytes) back = edge_key(b, a);
      gint64 *other = g_hash_table_lookup(ways, back);
      gint64 *key = seam_key(id);
      if (other != NULL) {
        guint far = (guint)((guint64)*other >> 32);
        g_array_append_val(ground->seam_pairs, far);
        g_array_append_val(ground->seam_pairs, r);
        g_hash_table_add(ground->seams, g_memdup2(other, sizeof *other));
        g_hash_table_add(ground->seams, key);
      } else
        g_hash_table_insert(ways, edge_key(a, b), key);
    }
  }
}

/* ---- views ----------------------------------------------------------------------------------- */

HfPoint
hf_view_point(const HfView *view, HfPoint p)
{
  HfPoint from = hf_point_sub(p, view->middle);
  return hf_point(hf_point_dot(from, view->level), hf_point_dot(from, view->up));
}

HfPoint
hf_view_way(const HfView *view, HfPoint way)
{
  double level = hf_point_dot(way, view->level), up = hf_point_dot(way, view->up);
  if (view->lean == 0)
    return hf_point(level, up);
  HfPoint leant = {level - up * tan(view->lean), up / cos(view->lean)};
  return hf_point_scale(leant, 1 / hf_point_length(leant));
}

HfPoint
hf_view_upright(const HfView *view)
{
  return hf_point_add(hf_point_scale(view->level, sin(view->lean)),
                      hf_point_scale(view->up, cos(view->lean)));
}

double
hf_view_off(const HfView *view, HfPoint foot, HfPoint way)
{
  HfPoint left = {-way.y, way.x};
  double half = (fabs(hf_point_dot(left, view->level)) * hf_box_width(view->box) +
                 fabs(hf_point_dot(left, view->up)) * hf_box_height(view->box)) /
                2;
  double off = hf_point_dot(hf_point_sub(foot, view->middle), left);
  return half > 0 ? CLAMP(off / half, -1, 1) : 0;
}

/* The first shape that made about as much of its edge as any: where the edges of several lie upon
 * one another it is for the grid to say which made them, and changes when a sign is turned. */
static guint
owner_of(const HfGround *ground, guint part, double *lengths)
{
  const HfPart *its = &g_array_index(ground->sign->hold->parts, HfPart, part);
  const HfView *view = &ground->views[part];
  for (guint i = 0; i < view->rings->len; i++) {
    guint r = g_array_index(view->rings, guint, i);
    for (guint v = 0; v < hf_region_ring(ground->region, r)->n; v++) {
      HfEdgeId id = {r, v};
      guint shape = hf_ground_shape(ground, id);
      if (shape != HF_NO_SHAPE)
        lengths[shape] +=
            hf_point_distance(hf_edge_start(ground->region, id), hf_edge_end(ground->region, id));
    }
  }
  guint best = HF_NO_SHAPE;
  double most = 0;
  for (guint i = 0; i < its->shapes->len; i++)
    most = fmax(most, lengths[g_array_index(its->shapes, guint, i)]);
  for (guint i = 0; i < its->shapes->len && best == HF_NO_SHAPE; i++)
    if (lengths[g_array_index(its->shapes, guint, i)] >= ABOUT * most)
      best = g_array_index(its->shapes, guint, i);
  for (guint i = 0; i < view->rings->len; i++) {
    guint r = g_array_index(view->rings, guint, i);
    for (guint v = 0; v < hf_region_ring(ground->region, r)->n; v++) {
      guint shape = hf_ground_shape(ground, (HfEdgeId){r, v});
      if (shape != HF_NO_SHAPE)
        lengths[shape] = 0;
    }
  }
  return best;
}

static void
measure_view(const HfGround *ground, HfView *view)
{
  double most[HF_VIEW_WAYS];
  HfPoint ways[HF_VIEW_WAYS];
  HfBox box = HF_BOX_EMPTY;
  for (guint k = 0; k < HF_VIEW_WAYS; k++) {
    double angle = 2 * G_PI * k / HF_VIEW_WAYS;
    most[k] = -INFINITY;
    ways[k] =
        hf_point_add(hf_point_scale(view->level, cos(angle)), hf_point_scale(view->up, sin(angle)));
  }
  for (guint i = 0; i < view->rings->len; i++) {
    const HfRing *ring = hf_region_ring(ground->region, g_array_index(view->rings, guint, i));
    view->girth += hf_ring_perimeter(ring);
    for (guint v = 0; ring->parent < 0 && v < ring->n; v++) {
      HfPoint p = hf_grid_point(ring->at[v]);
      box =
          hf_box_add_point(box, hf_point(hf_point_dot(p, view->level), hf_point_dot(p, view->up)));
      for (guint k = 0; k < HF_VIEW_WAYS; k++) {
        double far = hf_point_dot(p, ways[k]);
        if (far > most[k]) {
          most[k] = far;
          view->extreme[k] = p;
        }
      }
    }
  }
  HfPoint middle = hf_box_centre(box);
  view->middle =
      hf_point_add(hf_point_scale(view->level, middle.x), hf_point_scale(view->up, middle.y));
  view->box = (HfBox){hf_point_sub(box.min, middle), hf_point_sub(box.max, middle)};
  for (guint k = 0; k < HF_VIEW_WAYS; k++)
    view->support[k] = most[k] - hf_point_dot(view->middle, ways[k]);
}

static void
take_frame(const HfGround *ground, HfView *view)
{
  view->em = HF_MATRIX_IDENTITY;
  view->size = 1;
  if (view->shape != HF_NO_SHAPE) {
    view->em = hf_layout_shape(ground->sign->layout, view->shape)->em;
    view->lean = ground->leaning ? hf_layout_shape(ground->sign->layout, view->shape)->lean : 0;
  }
  HfMatrix m = view->em;
  double length = hypot(m.xx, m.yx);
  if (!(length > 0)) {
    view->em = m = HF_MATRIX_IDENTITY;
    length = 1;
  }
  view->size = length;
  view->level = hf_point(m.xx / length, m.yx / length);
  view->up = hf_point(-view->level.y, view->level.x);
}

static void
mark_weak(HfGround *ground)
{
  for (guint i = 0; ground->seam_pairs != NULL && i < ground->seam_pairs->len; i++) {
    guint part = ground->part[g_array_index(ground->seam_pairs, guint, i)];
    if (part != HF_NO_PART)
      ground->views[part].weak = TRUE;
  }
}

static void
make_views(HfGround *ground)
{
  const GArray *parts = ground->sign->hold->parts;
  ground->views = g_new0(HfView, parts->len + 1);
  for (guint i = 0; i < parts->len; i++)
    ground->views[i].rings = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint r = 0; r < ground->region->rings->len; r++)
    if (ground->part[r] != HF_NO_PART)
      g_array_append_val(ground->views[ground->part[r]].rings, r);
  g_autofree double *lengths = g_new0(double, ground->sign->layout->shapes->len + 1);
  for (guint i = 0; i < parts->len; i++) {
    HfView *view = &ground->views[i];
    view->shape = owner_of(ground, i, lengths);
    take_frame(ground, view);
    measure_view(ground, view);
  }
  mark_weak(ground);
}

/* ---- making ---------------------------------------------------------------------------------- */

static void
number_parts(HfGround *ground)
{
  guint n = ground->region->rings->len;
  ground->part = g_new(guint, n + 1);
  for (guint r = 0; r < n; r++)
    ground->part[r] = HF_NO_PART;
  const GArray *parts = ground->sign->hold->parts;
  for (guint i = 0; i < parts->len; i++)
    ground->part[g_array_index(parts, HfPart, i).outer] = i;
  for (guint r = 0; r < n; r++) {
    gint parent = hf_region_ring(ground->region, r)->parent;
    if (parent >= 0)
      ground->part[r] = ground->part[parent];
  }
}

HfGround *
hf_ground_new(const HfSign *sign, gboolean leaning, const HfCancel *cancel)
{
  HfGround *ground = g_new0(HfGround, 1);
  const HfHold *hold = sign->hold;
  ground->sign = sign;
  ground->cancel = cancel;
  ground->leaning = leaning;
  ground->region = hold->cut != NULL ? hold->cut : sign->metal->region;
  ground->cell = fmax(2 * hold->limits[HF_LAW_THIN_LONG_WEB].stop, 1);
  ground->index = hf_index_new(ground->region, ground->cell);
  HfBox box = hf_region_box(ground->region);
  ground->farthest = hypot(hf_box_width(box), hf_box_height(box));
  ground->ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  number_parts(ground);
  if (hold->cut != NULL) {
    ground->seams = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    ground->seam_pairs = g_array_new(FALSE, FALSE, sizeof(guint));
    find_seams(ground);
  }
  make_views(ground);
  return ground;
}

void
hf_ground_free(HfGround *ground)
{
  if (ground == NULL)
    return;
  for (guint i = 0; i < ground->sign->hold->parts->len; i++)
    g_array_unref(ground->views[i].rings);
  g_free(ground->views);
  g_clear_pointer(&ground->seams, g_hash_table_unref);
  g_clear_pointer(&ground->seam_pairs, g_array_unref);
  g_free(ground->part);
  g_array_unref(ground->ids);
  hf_index_free(ground->index);
  g_free(ground);
}

/* ---- asking ---------------------------------------------------------------------------------- */

gboolean
hf_ground_ray(HfGround *ground, HfPoint from, HfPoint way, double least, HfMet *ret_met)
{
  double step = ground->cell, low = 0;
  for (int i = 0; low < ground->farthest; i++) {
    double high = low + step, first = INFINITY;
    HfPoint a = hf_point_add(from, hf_point_scale(way, low));
    HfPoint b = hf_point_add(from, hf_point_scale(way, high));
    hf_index_query(ground->index, hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b),
                   ground->ids);
    for (guint k = 0; k < ground->ids->len; k++) {
      HfEdgeId id = g_array_index(ground->ids, HfEdgeId, k);
      HfPoint p = hf_point_sub(hf_edge_start(ground->region, id), from);
      HfPoint q = hf_point_sub(hf_edge_end(ground->region, id), from);
      double side_p = hf_point_cross(way, p), side_q = hf_point_cross(way, q);
      if ((side_p > 0) == (side_q > 0) || hf_ground_is_seam(ground, id))
        continue;
      double at = hf_point_dot(way, hf_point_mix(p, q, side_p / (side_p - side_q)));
      if (!(at > least && at >= low && at <= high && at < first))
        continue;
      first = at;
      /* metal is on the left of an edge: one that runs from our right to our left has it behind */
      *ret_met = (HfMet){at, side_q <= 0, id, ground->part[id.ring]};
    }
    if (first < INFINITY)
      return TRUE;
    low = high;
    step = fmin(2 * step, MOST_CELLS * ground->cell);
  }
  return FALSE;
}

gboolean
hf_ground_nearest(HfGround *ground, HfPoint p, guint part, double within, HfPoint *ret_at,
                  guint *ret_part)
{
  double best = within;
  gboolean found = FALSE;
  for (double look = fmin(ground->cell, within);; look = fmin(2 * look, within)) {
    hf_index_query(ground->index, hf_box_grow((HfBox){p, p}, look), ground->ids);
    for (guint i = 0; i < ground->ids->len; i++) {
      HfEdgeId id = g_array_index(ground->ids, HfEdgeId, i);
      if (ground->part[id.ring] == part || ground->part[id.ring] == HF_NO_PART)
        continue;
      HfPoint a = hf_edge_start(ground->region, id), b = hf_edge_end(ground->region, id);
      HfPoint at = hf_segment_nearest(a, b, p, NULL);
      double d = hf_point_distance(p, at);
      if (d >= best)
        continue;
      best = d;
      found = TRUE;
      *ret_at = at;
      *ret_part = ground->part[id.ring];
    }
    if ((found && best <= look) || look >= within)
      return found;
  }
}
