/* SPDX-License-Identifier: GPL-3.0-or-later
 * apart.c - the union of very many shapes, group by group.
 *
 *     +--+   +--+           +---+
 *     | 0| +-|--|-+         | 3 |      boxes that overlap or touch make a group: {0} {1, 2} {3}
 *     +--+ | +--+ |  ...    +---+
 *          |2    1|                    sorted by their left side, each is compared with those that
 *          +------+                    have not ended yet
 *
 * Invariant: what lies in different groups is at least a grid unit apart, so the union of all is
 * the unions of the groups side by side; its rings stand in the order of each group's first shape.
 */
#include "metal/apart-private.h"

typedef struct {
  HfBox box;
  guint shape, group; /* group: a shape of it with a lower number, or the shape itself */
} Placed;

static guint
head_of(Placed *placed, guint i)
{
  while (placed[i].group != i)
    i = placed[i].group = placed[placed[i].group].group;
  return i;
}

static void
join(Placed *placed, guint a, guint b)
{
  guint x = head_of(placed, a), y = head_of(placed, b);
  placed[MAX(x, y)].group = MIN(x, y);
}

static gint
by_left(gconstpointer p, gconstpointer q)
{
  const Placed *a = *(const Placed *const *)p, *b = *(const Placed *const *)q;
  if (a->box.min.x != b->box.min.x)
    return a->box.min.x < b->box.min.x ? -1 : 1;
  return a->shape < b->shape ? -1 : a->shape > b->shape;
}

/* Empty shapes are in no group: they come to nothing. */
static Placed *
place_all(const GPtrArray *clean, GPtrArray *sorted)
{
  Placed *placed = g_new0(Placed, clean->len + 1);
  for (guint i = 0; i < clean->len; i++) {
    HfBox box = hf_region_box(clean->pdata[i]);
    placed[i] = (Placed){hf_box_grow(box, 1.0 / HF_GRID_PER_MM), i, i};
    if (!hf_region_is_empty(clean->pdata[i]))
      g_ptr_array_add(sorted, &placed[i]);
  }
  g_ptr_array_sort(sorted, by_left);
  return placed;
}

static gboolean
group_all(Placed *placed, const GPtrArray *sorted, const HfCancel *cancel, GError **error)
{
  g_autoptr(GPtrArray) open = g_ptr_array_new(); /* not ended yet */
  for (guint i = 0; i < sorted->len; i++) {
    const Placed *own = sorted->pdata[i];
    if (!hf_cancel_check(cancel, error))
      return FALSE;
    for (guint k = open->len; k-- > 0;) {
      const Placed *other = open->pdata[k];
      if (other->box.max.x < own->box.min.x)
        g_ptr_array_remove_index_fast(open, k);
      else if (other->box.max.y >= own->box.min.y && other->box.min.y <= own->box.max.y)
        join(placed, other->shape, own->shape);
    }
    g_ptr_array_add(open, (gpointer)own);
  }
  return TRUE;
}

/* Takes the rings of @group. */
static void
put_beside(HfRegion *all, HfRegion *group)
{
  gint first = (gint)all->rings->len;
  for (guint r = 0; r < group->rings->len; r++) {
    HfRing *ring = hf_region_ring(group, r);
    hf_region_add_ring(all, ring->at, NULL, ring->n);
    hf_region_ring(all, all->rings->len - 1)->parent =
        ring->parent >= 0 ? first + ring->parent : -1;
  }
}

static void
let_go(gpointer some)
{
  if (some != NULL)
    g_ptr_array_unref(some);
}

/* (element-type GPtrArray, nullable) By head, the shapes of each group in their order. */
static GPtrArray *
members_of(Placed *placed, const GPtrArray *clean)
{
  GPtrArray *members = g_ptr_array_new_full(clean->len, let_go);
  g_ptr_array_set_size(members, (gint)clean->len);
  for (guint i = 0; i < clean->len; i++) {
    guint head = head_of(placed, i);
    if (members->pdata[head] == NULL)
      members->pdata[head] = g_ptr_array_new();
    g_ptr_array_add(members->pdata[head], clean->pdata[i]);
  }
  return members;
}

HfRegion *
hf_metal_union_apart(const GPtrArray *clean, const HfCancel *cancel, GError **error)
{
  g_autoptr(GPtrArray) sorted = g_ptr_array_new();
  g_autofree Placed *placed = place_all(clean, sorted);
  if (!group_all(placed, sorted, cancel, error))
    return NULL;
  g_autoptr(GPtrArray) members = members_of(placed, clean);
  g_autoptr(HfRegion) all = hf_region_new();
  for (guint i = 0; i < members->len; i++) {
    const GPtrArray *some = members->pdata[i];
    if (some == NULL)
      continue;
    if (!hf_cancel_check(cancel, error))
      return NULL;
    g_autoptr(HfRegion) group = hf_region_union((const HfRegion *const *)some->pdata, some->len);
    put_beside(all, group);
  }
  return g_steal_pointer(&all);
}
