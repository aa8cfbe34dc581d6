/* SPDX-License-Identifier: GPL-3.0-or-later
 * ties.c - parts that one tie holds alone: far metal on it swings and bends.
 *
 *      body ====tie a==== piece ====tie b==== body        taking a away frees nothing
 *      body ====tie c==== piece                           taking c away frees the piece
 *
 * The metal without any tie falls into pieces; ties join pieces again. A tie holds alone what comes
 * free from the largest group when that tie is left out. Its reach is the farthest metal from it.
 */
#include "hold/hold-private.h"

/* A piece that a tie was cut from lies on the tie's outline, within a few grid units. */
#define TOUCHES 0.002

typedef struct {
  guint shape;
  HfRegion *outline;
  GArray *joins; /* guint: outer rings of the rest that it touches */
} Tie;

typedef struct {
  HfCheck *check;
  GArray *ties;   /* Tie */
  HfRegion *rest; /* the metal without its ties */
} Tied;

static void
tie_clear(gpointer data)
{
  Tie *tie = data;
  hf_region_free(tie->outline);
  g_array_unref(tie->joins);
}

static GArray *
ties_of(const HfCheck *check)
{
  GArray *ties = g_array_new(FALSE, FALSE, sizeof(Tie));
  g_array_set_clear_func(ties, tie_clear);
  for (guint i = 0; i < check->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(check->layout, i);
    const HfEntry *entry = check->recipe->entries->pdata[shape->entry];
    if (entry->kind != HF_ENTRY_TIE && entry->kind != HF_ENTRY_TIES)
      continue;
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, shape->outline, i, HF_FLATTEN_MM);
    Tie tie = {i, hf_region_clean(raw), g_array_new(FALSE, FALSE, sizeof(guint))};
    g_array_append_val(ties, tie);
  }
  return ties;
}

static HfRegion *
without_ties(const HfRegion *metal, const GArray *ties)
{
  g_autofree const HfRegion **outlines = g_new(const HfRegion *, ties->len);
  for (guint i = 0; i < ties->len; i++)
    outlines[i] = g_array_index(ties, Tie, i).outline;
  g_autoptr(HfRegion) all = hf_region_union(outlines, ties->len);
  return hf_region_subtract(metal, all);
}

static guint
root_of(const HfRegion *region, guint ring)
{
  gint parent = hf_region_ring(region, ring)->parent;
  return parent < 0 ? ring : (guint)parent;
}

static void
add_once(GArray *numbers, guint number)
{
  for (guint i = 0; i < numbers->len; i++)
    if (g_array_index(numbers, guint, i) == number)
      return;
  g_array_append_val(numbers, number);
}

/* Which pieces of the rest a tie touches. */
static void
find_joins(const Tie *tie, const HfRegion *rest, HfIndex *index, GArray *ids)
{
  for (guint r = 0; r < tie->outline->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(tie->outline, r)->n; v++) {
      HfEdgeId id = {r, v};
      HfPoint a = hf_edge_start(tie->outline, id), b = hf_edge_end(tie->outline, id);
      HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
      hf_index_query(index, hf_box_grow(box, TOUCHES), ids);
      for (guint i = 0; i < ids->len; i++) {
        HfEdgeId met = g_array_index(ids, HfEdgeId, i);
        HfPoint c = hf_edge_start(rest, met), d = hf_edge_end(rest, met);
        if (hf_segment_gap(a, b, c, d, NULL, NULL) < TOUCHES)
          add_once(tie->joins, root_of(rest, met.ring));
      }
    }
}

/* Groups of pieces, joined by all ties but @out: each piece gets the lowest number of its group. */
static guint *
groups_without(const Tied *tied, guint out)
{
  guint n = tied->rest->rings->len;
  guint *group = g_new(guint, n + 1);
  for (guint i = 0; i < n; i++)
    group[i] = root_of(tied->rest, i);
  for (guint t = 0; t < tied->ties->len; t++) {
    const GArray *joins = g_array_index(tied->ties, Tie, t).joins;
    for (guint k = 1; t != out && k < joins->len; k++) {
      guint a = group[g_array_index(joins, guint, 0)], b = group[g_array_index(joins, guint, k)];
      for (guint i = 0; i < n; i++)
        group[i] = group[i] == MAX(a, b) ? MIN(a, b) : group[i];
    }
  }
  return group;
}

static double
group_area(const HfRegion *rest, const guint *group, guint which)
{
  double area = 0;
  for (guint i = 0; i < rest->rings->len; i++)
    area += group[i] == which ? hf_ring_area(hf_region_ring(rest, i)) : 0;
  return area;
}

/* The farthest metal of a group from a tie. */
static double
reach_of(const HfRegion *rest, const guint *group, guint which, const Tie *tie, HfPoint *ret_at)
{
  double farthest = 0;
  const HfRing *bar = hf_region_ring(tie->outline, 0);
  for (guint r = 0; r < rest->rings->len; r++) {
    const HfRing *ring = hf_region_ring(rest, r);
    for (guint v = 0; group[r] == which && v < ring->n; v++) {
      HfPoint p = hf_grid_point(ring->at[v]);
      double near = INFINITY;
      for (guint e = 0; e < bar->n; e++) {
        HfPoint a = hf_grid_point(bar->at[e]), b = hf_grid_point(bar->at[(e + 1) % bar->n]);
        near = fmin(near, hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)));
      }
      if (near > farthest) {
        farthest = near;
        *ret_at = p;
      }
    }
  }
  return farthest;
}

static void
report(const Tied *tied, const guint *group, guint which, const Tie *tie)
{
  HfCheck *check = tied->check;
  HfPoint at = {0, 0};
  double reach = reach_of(tied->rest, group, which, tie, &at);
  HfFinding *finding = hf_check_add(check, HF_LAW_ONE_TIE, reach, at);
  if (finding == NULL)
    return;
  const HfProcess *process = &check->hold->process;
  finding->reach = reach;
  finding->area = group_area(tied->rest, group, which);
  finding->mass = finding->area * process->thickness * process->density * 1e-9;
  hf_finding_name(check, finding, tie->shape);
}

/* Every group that only this tie joins to the largest. */
static void
check_tie(const Tied *tied, guint t)
{
  const Tie *tie = &g_array_index(tied->ties, Tie, t);
  g_autofree guint *group = groups_without(tied, t);
  g_autoptr(GArray) joined = g_array_new(FALSE, FALSE, sizeof(guint));
  guint largest = 0;
  double area = -1;
  for (guint k = 0; k < tie->joins->len; k++) {
    guint one = group[g_array_index(tie->joins, guint, k)];
    double its = group_area(tied->rest, group, one);
    add_once(joined, one);
    largest = its > area ? one : largest;
    area = fmax(area, its);
  }
  for (guint k = 0; k < joined->len; k++)
    if (g_array_index(joined, guint, k) != largest)
      report(tied, group, g_array_index(joined, guint, k), tie);
}

gboolean
hf_check_ties(HfCheck *check, GError **error)
{
  g_autoptr(GArray) ties = ties_of(check);
  if (ties->len == 0)
    return TRUE;
  g_autoptr(HfRegion) rest = without_ties(check->metal->region, ties);
  g_autoptr(HfIndex) index = hf_index_new(rest, hf_check_widest(check));
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint t = 0; t < ties->len; t++)
    find_joins(&g_array_index(ties, Tie, t), rest, index, ids);
  Tied tied = {check, ties, rest};
  for (guint t = 0; t < ties->len; t++) {
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    check_tie(&tied, t);
  }
  return TRUE;
}
