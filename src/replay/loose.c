/* SPDX-License-Identifier: GPL-3.0-or-later
 * loose.c - after which burn each piece hangs on the sheet no more, and what was cut on it then.
 *
 *      skeleton --- burn 3 --- sign        After burn t what is not yet cut is the pieces and what
 *                              |   \       the later burns will take. Two of them that touch hang
 *                           burn 2  burn 1 together. So, from the last burn back to the first, each
 *                              |      |    joins what it touches (union-find); the burn that joins
 *                            drop   drop   a piece to the skeleton is the one that loosened it, and
 *                                          later burns that hang with the piece then were cut on it
 *                                          when it lay loose.
 *
 * A burn that runs into earlier ones takes only what they have left, which may fall into several
 * areas: each is a node of its own.
 */
#include "replay/replay-private.h"

#define TOUCH_MM 0.002

/* An area that one burn is the first to take. */
typedef struct {
  guint burn;
  HfRegion *area; /* (nullable) where it is not all that the burn takes */
} Fresh;

typedef struct {
  HfReplayWork *work;
  guint n_pieces;
  GArray *fresh;      /* Fresh: nodes n_pieces and on, burn by burn */
  guint *first_fresh; /* of each burn; one more */
  guint *parent;      /* of each node */
  GArray **touches;   /* of each fresh: nodes (guint) that it touches */
  guint skeleton;     /* node; G_MAXUINT: there is none */
} Loosening;

static guint
root_of(Loosening *l, guint node)
{
  while (l->parent[node] != node)
    node = l->parent[node] = l->parent[l->parent[node]];
  return node;
}

/* ---- nodes ---------------------------------------------------------------------------------- */

static void
add_parts(Loosening *l, guint burn, const HfRegion *area)
{
  for (guint i = 0; i < area->rings->len; i++)
    if (hf_region_ring(area, i)->parent < 0) {
      Fresh fresh = {burn, hf_region_part(area, i)};
      g_array_append_val(l->fresh, fresh);
    }
}

static void
add_fresh(Loosening *l, guint burn)
{
  const GArray *over = (const GArray *)l->work->over->pdata[burn];
  const HfRegion *take = (const HfRegion *)l->work->takes->pdata[burn];
  l->first_fresh[burn] = l->fresh->len;
  if (over->len == 0) {
    Fresh all = {burn, NULL};
    g_array_append_val(l->fresh, all);
    return;
  }
  g_autoptr(HfRegion) area = hf_region_copy(take);
  for (guint i = 0; i < over->len; i++) {
    const HfRegion *earlier =
        (const HfRegion *)l->work->takes->pdata[g_array_index(over, guint, i)];
    HfRegion *rest = hf_region_subtract(area, earlier);
    hf_region_free(area);
    area = rest;
  }
  add_parts(l, burn, area);
}

static const HfRegion *
area_of(const Loosening *l, guint fresh)
{
  const Fresh *f = &g_array_index(l->fresh, Fresh, fresh);
  return f->area != NULL ? f->area : (const HfRegion *)l->work->takes->pdata[f->burn];
}

/* ---- what touches what ---------------------------------------------------------------------- */

static void
touch(Loosening *l, guint fresh, guint node)
{
  GArray *list = l->touches[fresh];
  if (list->len == 0 || g_array_index(list, guint, list->len - 1) != node)
    g_array_append_val(list, node);
}

/* Which area of @burn lies across the middle of an edge of the metal. */
static void
touch_across(Loosening *l, guint burn, HfPoint across, guint node)
{
  guint first = l->first_fresh[burn], n = l->first_fresh[burn + 1] - first;
  for (guint i = first; i < first + n; i++)
    if (n == 1 || hf_region_contains(area_of(l, i), across))
      touch(l, i, node);
}

static void
touch_ring(Loosening *l, const HfRing *ring, guint node)
{
  for (guint v = 0; v < ring->n; v++) {
    if (ring->from[v].shape == HF_NO_SHAPE)
      continue;
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    HfPoint along = hf_point_sub(b, a);
    double length = hf_point_length(along);
    HfPoint right = hf_point(along.y * TOUCH_MM / length, -along.x * TOUCH_MM / length);
    touch_across(l, ring->from[v].shape, hf_point_add(hf_point_mix(a, b, 0.5), right), node);
  }
}

static void
touch_pieces(Loosening *l)
{
  const HfRegion *left = l->work->replay->left;
  g_autofree guint *node_of = g_new0(guint, left->rings->len + 1);
  for (guint i = 0; i < l->n_pieces; i++)
    node_of[hf_replay_piece(l->work->replay, i)->ring] = i;
  for (guint i = 0; i < left->rings->len; i++) {
    const HfRing *ring = hf_region_ring(left, i);
    touch_ring(l, ring, node_of[ring->parent < 0 ? i : (guint)ring->parent]);
  }
}

static gboolean
areas_touch(const HfRegion *a, const HfRegion *b)
{
  if (!hf_box_overlaps(hf_box_grow(hf_region_box(a), TOUCH_MM), hf_region_box(b)))
    return FALSE;
  g_autoptr(HfRegion) wide = hf_region_offset(a, TOUCH_MM, TOUCH_MM / 4);
  g_autoptr(HfRegion) both = hf_region_intersect(wide, b);
  return !hf_region_is_empty(both);
}

/* A later burn's areas against those of the earlier ones that it runs into. */
static void
touch_burns(Loosening *l, guint burn)
{
  const GArray *over = (const GArray *)l->work->over->pdata[burn];
  for (guint i = 0; i < over->len; i++) {
    guint earlier = g_array_index(over, guint, i);
    for (guint a = l->first_fresh[burn]; a < l->first_fresh[burn + 1]; a++)
      for (guint b = l->first_fresh[earlier]; b < l->first_fresh[earlier + 1]; b++)
        if (areas_touch(area_of(l, a), area_of(l, b)))
          touch(l, b, l->n_pieces + a);
  }
}

/* ---- backwards ------------------------------------------------------------------------------ */

static void
say_late(Loosening *l, guint burn, guint loosened_by)
{
  HfReplay *replay = l->work->replay;
  const HfBurn *late = hf_replay_burn(replay, burn), *by = hf_replay_burn(replay, loosened_by);
  hf_replay_say(replay, "loose", HF_STOP, late->line_on, hf_replay_point(replay, late->first)->at,
                NAN, "it cuts a piece that has lain loose since line %u; cut this first",
                by->line_off);
}

/* All of the set of @root came loose after @burn. */
static void
loosen(Loosening *l, guint root, guint burn)
{
  for (guint i = 0; i < l->n_pieces; i++)
    if (root_of(l, i) == root)
      hf_replay_piece(l->work->replay, i)->loosened = burn + 1;
  guint last = G_MAXUINT;
  for (guint i = l->first_fresh[burn + 1]; i < l->fresh->len; i++) {
    guint late = g_array_index(l->fresh, Fresh, i).burn;
    if (late != last && root_of(l, l->n_pieces + i) == root)
      say_late(l, last = late, burn);
  }
}

/* Joins what a burn holds together. Its area may hold pieces that hang on the sheet by nothing
 * else: they came loose by it, too. */
static void
join(Loosening *l, guint fresh, guint burn)
{
  guint self = l->n_pieces + fresh;
  const GArray *list = l->touches[fresh];
  gboolean held = FALSE;
  for (guint i = 0; i < list->len; i++)
    held = held || (l->skeleton != G_MAXUINT &&
                    root_of(l, g_array_index(list, guint, i)) == root_of(l, l->skeleton));
  for (guint i = 0; i < list->len; i++) {
    guint root = root_of(l, g_array_index(list, guint, i));
    if (held && root != root_of(l, l->skeleton) && root != self)
      loosen(l, root, burn);
    l->parent[root] = root_of(l, self);
  }
}

static void
run_back(Loosening *l)
{
  for (guint burn = l->work->replay->burns->len; burn-- > 0;)
    for (guint i = l->first_fresh[burn]; i < l->first_fresh[burn + 1]; i++)
      join(l, i, burn);
}

static void
begin(Loosening *l)
{
  HfReplay *replay = l->work->replay;
  guint n_burns = replay->burns->len;
  l->n_pieces = replay->pieces->len;
  l->fresh = g_array_new(FALSE, FALSE, sizeof(Fresh));
  l->first_fresh = g_new0(guint, n_burns + 1);
  for (guint i = 0; i < n_burns; i++)
    add_fresh(l, i);
  l->first_fresh[n_burns] = l->fresh->len;
  l->parent = g_new(guint, l->n_pieces + l->fresh->len);
  for (guint i = 0; i < l->n_pieces + l->fresh->len; i++)
    l->parent[i] = i;
  l->touches = g_new0(GArray *, l->fresh->len + 1);
  for (guint i = 0; i < l->fresh->len; i++)
    l->touches[i] = g_array_new(FALSE, FALSE, sizeof(guint));
  l->skeleton = G_MAXUINT;
  for (guint i = 0; i < l->n_pieces; i++)
    if (hf_replay_piece(replay, i)->kind == HF_PIECE_SKELETON)
      l->skeleton = i;
}

static void
end(Loosening *l)
{
  for (guint i = 0; i < l->fresh->len; i++) {
    hf_region_free(g_array_index(l->fresh, Fresh, i).area);
    g_array_unref(l->touches[i]);
  }
  g_array_unref(l->fresh);
  g_free(l->first_fresh);
  g_free(l->parent);
  g_free(l->touches);
}

gboolean
hf_replay_loosen(HfReplayWork *work, GError **error)
{
  Loosening l = {.work = work};
  begin(&l);
  touch_pieces(&l);
  for (guint burn = 0; burn < work->replay->burns->len; burn++)
    touch_burns(&l, burn);
  run_back(&l);
  end(&l);
  return hf_cancel_check(work->cancel, error);
}
