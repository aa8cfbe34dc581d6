/* SPDX-License-Identifier: GPL-3.0-or-later
 * met.c - which burns run into which, by the edges of what they take, in the cells of one grid.
 */
#include "replay/replay-private.h"

typedef struct {
  const HfReplayWork *work;
  HfRegion *rings; /* of all takes, owned by them */
  GArray *burn_of; /* guint, of each ring */
  HfIndex *index;
  GHashTable *seen; /* pairs */
} Meeting;

static void
add_pair(Meeting *m, guint a, guint b)
{
  guint later = MAX(a, b), earlier = MIN(a, b);
  gint64 pair = ((gint64)later << 32) | earlier;
  if (g_hash_table_contains(m->seen, &pair))
    return;
  g_hash_table_add(m->seen, g_memdup2(&pair, sizeof pair));
  g_array_append_val((GArray *)m->work->over->pdata[later], earlier);
}

static guint
burn_of(const Meeting *m, guint ring)
{
  return g_array_index(m->burn_of, guint, ring);
}

static void
meet_in_cell(Meeting *m, const HfEdgeId *ids, guint n)
{
  for (guint i = 0; i < n; i++)
    for (guint j = i + 1; j < n; j++) {
      guint a = burn_of(m, ids[i].ring), b = burn_of(m, ids[j].ring);
      if (a != b && hf_segment_gap(hf_edge_start(m->rings, ids[i]), hf_edge_end(m->rings, ids[i]),
                                   hf_edge_start(m->rings, ids[j]), hf_edge_end(m->rings, ids[j]),
                                   NULL, NULL) == 0)
        add_pair(m, a, b);
    }
}

/* Wholly within another's: no edges cross. */
static void
meet_about(Meeting *m, guint ring, GArray *ids)
{
  guint self = burn_of(m, ring);
  hf_index_rings_round(m->index, hf_grid_point(hf_region_ring(m->rings, ring)->at[0]), ids);
  for (guint i = 0; i < ids->len; i++) {
    guint other = burn_of(m, g_array_index(ids, HfEdgeId, i).ring);
    gint deep = 0;
    for (guint j = 0; other != self && j < ids->len; j++) {
      guint r = g_array_index(ids, HfEdgeId, j).ring;
      if (burn_of(m, r) == other)
        deep += hf_region_ring(m->rings, r)->parent < 0 ? 1 : -1;
    }
    if (deep > 0)
      add_pair(m, self, other);
  }
}

static void
meet_all(Meeting *m)
{
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint cell = 0; cell < hf_index_n_cells(m->index); cell++) {
    guint n = hf_index_cell_of_rings(m->index, cell, NULL);
    if (n == 0)
      continue;
    g_array_set_size(ids, n);
    HfEdgeId *in_cell = (HfEdgeId *)(gpointer)ids->data;
    meet_in_cell(m, in_cell, hf_index_cell_of_rings(m->index, cell, in_cell));
  }
  for (guint ring = 0; ring < m->rings->rings->len; ring++)
    if (hf_region_ring(m->rings, ring)->parent < 0)
      meet_about(m, ring, ids);
}

static gint
by_number(gconstpointer a, gconstpointer b)
{
  guint p = *(const guint *)a, q = *(const guint *)b;
  return p < q ? -1 : p > q;
}

void
hf_replay_meet(HfReplayWork *work)
{
  HfRegion rings = {g_array_new(FALSE, FALSE, sizeof(HfRing))};
  Meeting m = {.work = work, .rings = &rings, .burn_of = g_array_new(FALSE, FALSE, sizeof(guint))};
  for (guint burn = 0; burn < work->takes->len; burn++) {
    const HfRegion *take = (const HfRegion *)work->takes->pdata[burn];
    g_ptr_array_add(work->over, g_array_new(FALSE, FALSE, sizeof(guint)));
    g_array_append_vals(rings.rings, take->rings->data, take->rings->len);
    for (guint i = 0; i < take->rings->len; i++)
      g_array_append_val(m.burn_of, burn);
  }
  m.index = hf_index_new(&rings, hf_index_cell(&rings));
  m.seen = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
  meet_all(&m);
  for (guint burn = 0; burn < work->over->len; burn++)
    g_array_sort((GArray *)work->over->pdata[burn], by_number);
  g_hash_table_unref(m.seen);
  hf_index_free(m.index);
  g_array_unref(m.burn_of);
  g_array_free(rings.rings, TRUE);
}
