/* SPDX-License-Identifier: GPL-3.0-or-later
 * index.c - a uniform grid over edges: which of them may come near this box?
 *
 *    +----+----+----+       an edge stands in each cell that its box meets; one longer than two
 *    |  ,-|-o  |    |       cells both ways only in those that its line meets
 *    | o  |    | o--|--     cells lie row by row, each with its edges one after the other: counted
 *    +----+----+----+       first, filed then (counting sort), so nothing grows meanwhile
 *
 * Invariant: first[c] .. first[c + 1] are the edges of cell c, in the order of the region; a query
 * gives each edge once, since its stamp says which query saw it last. What it gives is a superset
 * of what meets the box, never less. There are at most 4 cells an edge and 64 more: a cell that is
 * too fine for the region grows. Limits: no edges, one cell; all in one cell, the query is O(n).
 */
#include "geom/index.h"

#define ALONE_CELLS 4 /* for each edge of a ring: so many its edges ask for one by one */

struct HfIndex {
  const HfRegion *region;
  HfBox box;
  double cell, cells_per_mm;
  double reach; /* mm: edges stand also where what is so near to them may stand */
  guint columns, rows;
  guint *first; /* columns * rows + 1: where each cell's edges begin in `edge` */
  guint *edge;  /* numbers into `id` */
  HfEdgeId *id; /* every edge */
  guint *stamp; /* the query that last gave it out */
  guint query;
};

typedef struct {
  guint x0, x1, y0, y1;
} Cells;

static guint
cell_of(double at, double from, double per_mm, guint n)
{
  return (guint)CLAMP((at - from) * per_mm, 0, n - 1);
}

static Cells
cells_of(const HfIndex *index, HfBox box)
{
  return (Cells){cell_of(box.min.x, index->box.min.x, index->cells_per_mm, index->columns),
                 cell_of(box.max.x, index->box.min.x, index->cells_per_mm, index->columns),
                 cell_of(box.min.y, index->box.min.y, index->cells_per_mm, index->rows),
                 cell_of(box.max.y, index->box.min.y, index->cells_per_mm, index->rows)};
}

/* The columns of row @y that the edge a-b meets, and a hair more. Only for edges that are neither
 * level nor upright; short ones take their box. */
static Cells
cells_in_row(const HfIndex *index, HfPoint a, HfPoint b, Cells c, guint y)
{
  double slope = (b.x - a.x) / (b.y - a.y), hair = index->cell * 1e-6 + index->reach;
  double low = index->box.min.y + y * index->cell - hair, high = low + index->cell + 2 * hair;
  low = CLAMP(low, fmin(a.y, b.y), fmax(a.y, b.y));
  high = CLAMP(high, fmin(a.y, b.y), fmax(a.y, b.y));
  double p = a.x + (low - a.y) * slope, q = a.x + (high - a.y) * slope;
  guint from = cell_of(fmin(p, q) - hair, index->box.min.x, index->cells_per_mm, index->columns);
  guint to = cell_of(fmax(p, q) + hair, index->box.min.x, index->cells_per_mm, index->columns);
  return (Cells){MAX(from, c.x0), MIN(to, c.x1), y, y};
}

static Cells
cells_at(const HfIndex *index, HfPoint p)
{
  if (index->reach > 0)
    return cells_of(index, hf_box_grow((HfBox){p, p}, index->reach));
  guint x = cell_of(p.x, index->box.min.x, index->cells_per_mm, index->columns);
  guint y = cell_of(p.y, index->box.min.y, index->cells_per_mm, index->rows);
  return (Cells){x, x, y, y};
}

/* A cell for each vertex, then for each edge what lies between those of its ends: cell_of() never
 * falls where its argument rises. */
static Cells *
cells_of_edges(const HfIndex *index, guint n)
{
  Cells *all = g_new(Cells, n + 1), *of = all;
  for (guint r = 0; r < index->region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(index->region, r);
    for (guint v = 0; v < ring->n; v++) {
      of[v] = cells_at(index, hf_grid_point(ring->at[v]));
    }
    Cells first = ring->n > 0 ? of[0] : (Cells){0, 0, 0, 0};
    for (guint v = 0; v < ring->n; v++) {
      Cells a = of[v], b = v + 1 < ring->n ? of[v + 1] : first;
      of[v] = (Cells){MIN(a.x0, b.x0), MAX(a.x1, b.x1), MIN(a.y0, b.y0), MAX(a.y1, b.y1)};
    }
    of += ring->n;
  }
  return all;
}

/* The cell has one more edge: counted when `edge` is NULL, else filed. */
static inline void
put(HfIndex *index, guint cell, guint e)
{
  if (index->edge == NULL)
    index->first[cell + 1]++;
  else
    index->edge[index->first[cell]++] = e;
}

static void
file_edges(HfIndex *index, const Cells *cells, guint n)
{
  for (guint e = 0; e < n; e++) {
    Cells c = cells[e];
    if (c.x0 == c.x1 && c.y0 == c.y1) { /* most of them */
      put(index, c.y0 * index->columns + c.x0, e);
      continue;
    }
    gboolean wide = c.x1 - c.x0 > 1 && c.y1 - c.y0 > 1;
    for (guint y = c.y0; y <= c.y1; y++) {
      Cells row = {c.x0, c.x1, y, y};
      if (wide)
        row = cells_in_row(index, hf_edge_start(index->region, index->id[e]),
                           hf_edge_end(index->region, index->id[e]), c, y);
      for (guint x = row.x0; x <= row.x1; x++)
        put(index, y * index->columns + x, e);
    }
  }
}

static guint
number_edges(HfIndex *index)
{
  guint n = hf_region_n_edges(index->region), e = 0;
  index->id = g_new0(HfEdgeId, n + 1);
  index->stamp = g_new0(guint, n + 1);
  for (guint r = 0; r < index->region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(index->region, r)->n; v++)
      index->id[e++] = (HfEdgeId){r, v};
  return n;
}

double
hf_index_cell(const HfRegion *region)
{
  guint n = hf_region_n_edges(region) + 1;
  HfBox box = hf_region_box(region);
  double usual = hf_region_perimeter(region) / n;
  double share = n == 1 ? 0 : sqrt(hf_box_width(box) * hf_box_height(box) / n);
  return fmax(0.2, fmin(usual, share));
}

HfIndex *
hf_index_new(const HfRegion *region, double cell)
{
  return hf_index_new_reaching(region, cell, 0);
}

HfIndex *
hf_index_new_reaching(const HfRegion *region, double cell, double reach)
{
  g_assert(cell > 0);
  HfIndex *index = g_new0(HfIndex, 1);
  index->region = region;
  index->reach = reach;
  guint n = number_edges(index);
  index->box = n == 0 ? (HfBox){{0, 0}, {0, 0}} : hf_region_box(region);
  double w = hf_box_width(index->box), h = hf_box_height(index->box);
  double most = 4.0 * n + 64;
  while ((w / cell + 1) * (h / cell + 1) > most)
    cell *= 1.5;
  index->cell = cell;
  index->cells_per_mm = 1 / cell;
  index->columns = (guint)(w / cell) + 1;
  index->rows = (guint)(h / cell) + 1;
  guint cells = index->columns * index->rows;
  g_autofree Cells *of_edges = cells_of_edges(index, n);
  index->first = g_new0(guint, cells + 1);
  file_edges(index, of_edges, n);
  for (guint i = 0; i < cells; i++)
    index->first[i + 1] += index->first[i];
  index->edge = g_new(guint, index->first[cells] + 1);
  file_edges(index, of_edges, n);
  /* filing moved each start to its end: shift back */
  for (guint i = cells; i > 0; i--)
    index->first[i] = index->first[i - 1];
  index->first[0] = 0;
  return index;
}

void
hf_index_free(HfIndex *index)
{
  if (index == NULL)
    return;
  g_free(index->first);
  g_free(index->edge);
  g_free(index->id);
  g_free(index->stamp);
  g_free(index);
}

guint
hf_index_n_cells(const HfIndex *index)
{
  return index->columns * index->rows;
}

guint
hf_index_cell_of_rings(const HfIndex *index, guint cell, HfEdgeId *ids)
{
  guint from = index->first[cell], n = index->first[cell + 1] - from;
  if (n < 2)
    return 0;
  guint ring = index->id[index->edge[from]].ring, last = index->id[index->edge[from + n - 1]].ring;
  if (ring == last) /* in the order of the region: then all of them are */
    return 0;
  for (guint i = 0; ids != NULL && i < n; i++)
    ids[i] = index->id[index->edge[from + i]];
  return n;
}

static void
give_cell(const HfIndex *index, guint cell, GArray *ids)
{
  guint from = index->first[cell], n = index->first[cell + 1] - from;
  g_array_set_size(ids, n);
  HfEdgeId *out = (HfEdgeId *)(void *)ids->data;
  for (guint i = 0; i < n; i++)
    out[i] = index->id[index->edge[from + i]];
}

void
hf_index_query(HfIndex *index, HfBox box, GArray *ids)
{
  if (hf_box_is_empty(box) || !hf_box_overlaps(box, index->box)) {
    g_array_set_size(ids, 0);
    return;
  }
  Cells c = cells_of(index, box);
  if (c.x0 == c.x1 && c.y0 == c.y1) { /* each edge is there once */
    give_cell(index, c.y0 * index->columns + c.x0, ids);
    return;
  }
  index->query++;
  guint most = 0, n = 0; /* cells of a row lie one after the other, and so do their edges */
  for (guint y = c.y0; y <= c.y1; y++)
    most += index->first[y * index->columns + c.x1 + 1] - index->first[y * index->columns + c.x0];
  g_array_set_size(ids, most);
  HfEdgeId *out = (HfEdgeId *)(void *)ids->data;
  for (guint y = c.y0; y <= c.y1; y++) {
    guint to = index->first[y * index->columns + c.x1 + 1];
    for (guint i = index->first[y * index->columns + c.x0]; i < to; i++) {
      guint e = index->edge[i];
      if (index->stamp[e] == index->query)
        continue;
      index->stamp[e] = index->query;
      out[n++] = index->id[e];
    }
  }
  g_array_set_size(ids, n);
}

const guint *
hf_index_cell_numbers(const HfIndex *index, guint cell, guint *ret_n)
{
  *ret_n = index->first[cell + 1] - index->first[cell];
  return index->edge + index->first[cell];
}

/* Those of cells @from to @to - 1, as many as there is room for, that this query has not given yet.
 */
static guint
give_new(HfIndex *index, guint from, guint to, guint *out)
{
  guint n = 0;
  for (guint i = index->first[from]; i < index->first[to]; i++) {
    guint e = index->edge[i];
    if (index->stamp[e] != index->query)
      out[n++] = e;
    index->stamp[e] = index->query;
  }
  return n;
}

/* A row of cells at once, or cell by cell where not all are wanted. */
static guint
give_row(HfIndex *index, guint from, guint to, HfCellFunc wants, gconstpointer data, guint *out)
{
  guint n = 0;
  if (wants == NULL)
    return give_new(index, from, to, out);
  for (guint cell = from; cell < to; cell++)
    if (index->first[cell] < index->first[cell + 1] && wants(cell, data))
      n += give_new(index, cell, cell + 1, out + n);
  return n;
}

void
hf_index_query_cells(HfIndex *index, HfBox box, HfCellFunc wants, gconstpointer data,
                     GArray *numbers)
{
  g_array_set_size(numbers, 0);
  if (hf_box_is_empty(box) || !hf_box_overlaps(box, index->box))
    return;
  Cells c = cells_of(index, box);
  index->query++;
  guint most = 0, n = 0;
  for (guint y = c.y0; y <= c.y1; y++)
    most += index->first[y * index->columns + c.x1 + 1] - index->first[y * index->columns + c.x0];
  g_array_set_size(numbers, most);
  guint *out = (guint *)(void *)numbers->data;
  for (guint y = c.y0; y <= c.y1; y++)
    n += give_row(index, y * index->columns + c.x0, y * index->columns + c.x1 + 1, wants, data,
                  out + n);
  g_array_set_size(numbers, n);
}

void
hf_index_query_numbers(HfIndex *index, HfBox box, GArray *numbers)
{
  hf_index_query_cells(index, box, NULL, NULL, numbers);
}

gboolean
hf_index_is_alone(HfIndex *index, guint ring, double reach, GArray *ids)
{
  const HfRing *own = hf_region_ring(index->region, ring);
  HfBox box = hf_box_grow(hf_ring_box(own), reach);
  double columns = hf_box_width(box) * index->cells_per_mm + 1;
  double rows = hf_box_height(box) * index->cells_per_mm + 1;
  if (columns * rows > ALONE_CELLS * own->n)
    return FALSE;
  hf_index_query(index, box, ids);
  for (guint i = 0; i < ids->len; i++)
    if (g_array_index(ids, HfEdgeId, i).ring != ring)
      return FALSE;
  return TRUE;
}

static HfPoint
mirrored(HfPoint p)
{
  return hf_point(p.y, p.x);
}

void
hf_index_crossed(HfIndex *index, HfPoint p, gboolean up, GArray *ids)
{
  HfBox ray = {p, up ? hf_point(p.x, fmax(p.y, index->box.max.y))
                     : hf_point(fmax(p.x, index->box.max.x), p.y)};
  hf_index_query(index, ray, ids);
  guint kept = 0;
  HfPoint q = up ? mirrored(p) : p;
  for (guint i = 0; i < ids->len; i++) {
    HfEdgeId id = g_array_index(ids, HfEdgeId, i);
    HfPoint a = hf_edge_start(index->region, id), b = hf_edge_end(index->region, id);
    a = up ? mirrored(a) : a;
    b = up ? mirrored(b) : b;
    if ((a.y > q.y) != (b.y > q.y) && q.x - a.x < (b.x - a.x) * (q.y - a.y) / (b.y - a.y))
      g_array_index(ids, HfEdgeId, kept++) = id;
  }
  g_array_set_size(ids, kept);
}

static gint
by_ring(gconstpointer p, gconstpointer q)
{
  const HfEdgeId *a = p, *b = q;
  return (a->ring > b->ring) - (a->ring < b->ring);
}

void
hf_index_round(HfIndex *index, HfPoint p, gboolean up, GArray *ids)
{
  guint kept = 0;
  hf_index_crossed(index, p, up, ids);
  g_array_sort(ids, by_ring);
  for (guint k = 0, next; k < ids->len; k = next) {
    HfEdgeId id = g_array_index(ids, HfEdgeId, k);
    for (next = k + 1; next < ids->len && g_array_index(ids, HfEdgeId, next).ring == id.ring;)
      next++;
    if ((next - k) % 2 == 1)
      g_array_index(ids, HfEdgeId, kept++) = id;
  }
  g_array_set_size(ids, kept);
}

void
hf_index_rings_round(HfIndex *index, HfPoint p, GArray *ids)
{
  hf_index_round(index, p, hf_box_height(index->box) < hf_box_width(index->box), ids);
}

gboolean
hf_index_holds(HfIndex *index, HfPoint p, GArray *ids)
{
  gboolean up = hf_box_height(index->box) < hf_box_width(index->box);
  hf_index_crossed(index, p, up, ids);
  return ids->len % 2 == 1;
}

static gboolean
segments_cross(HfPoint a, HfPoint b, HfPoint c, HfPoint d, HfPoint *ret_at)
{
  HfPoint ab = hf_point_sub(b, a), cd = hf_point_sub(d, c), ac = hf_point_sub(c, a);
  double det = hf_point_cross(ab, cd);
  if (det == 0)
    return FALSE;
  double s = hf_point_cross(ac, cd) / det, t = hf_point_cross(ac, ab) / det;
  *ret_at = hf_point_mix(a, b, s);
  return s >= 0 && s <= 1 && t >= 0 && t <= 1;
}

double
hf_segment_gap(HfPoint a, HfPoint b, HfPoint c, HfPoint d, HfPoint *ret_on_ab, HfPoint *ret_on_cd)
{
  HfPoint cross;
  HfPoint pair[4][2] = {{a, hf_segment_nearest(c, d, a, NULL)},
                        {b, hf_segment_nearest(c, d, b, NULL)},
                        {hf_segment_nearest(a, b, c, NULL), c},
                        {hf_segment_nearest(a, b, d, NULL), d}};
  int best = 0;
  for (int i = 1; i < 4; i++)
    if (hf_point_distance(pair[i][0], pair[i][1]) < hf_point_distance(pair[best][0], pair[best][1]))
      best = i;
  if (segments_cross(a, b, c, d, &cross))
    pair[best][0] = pair[best][1] = cross;
  if (ret_on_ab != NULL)
    *ret_on_ab = pair[best][0];
  if (ret_on_cd != NULL)
    *ret_on_cd = pair[best][1];
  return hf_point_distance(pair[best][0], pair[best][1]);
}
