/* SPDX-License-Identifier: GPL-3.0-or-later
 * tangle.c - do so many edges cross that no boolean would end? Counted in a grid of about as many
 * cells as there are edges, and no further than to the cap.
 */
#include "drawing/settle-private.h"

#define FEW           400      /* edges: no tangle of so few takes long */
#define MOST_CROSSING 300000   /* pairs of edges that cross: some seconds */
#define MOST_ENTRIES  8000000  /* of edges in cells */
#define MOST_PAIRS    60000000 /* that are looked at */

typedef struct {
  HfPoint a, b;
} Edge;

typedef struct {
  GArray *edges; /* Edge */
  HfBox box;
  int n;         /* cells a side */
  guint *starts; /* of each cell's entries; n * n + 1 of them */
  guint32 *entries;
} Grid;

static void
add_edges(Grid *grid, const HfRegion *raw)
{
  for (guint r = 0; r < raw->rings->len; r++) {
    const HfRing *ring = hf_region_ring(raw, r);
    for (guint i = 0; i < ring->n; i++) {
      Edge edge = {hf_grid_point(ring->at[i]), hf_grid_point(ring->at[(i + 1) % ring->n])};
      grid->box = hf_box_add_point(grid->box, edge.a);
      g_array_append_val(grid->edges, edge);
    }
  }
}

static int
cell_of(double at, double from, double size, int n)
{
  return CLAMP((int)((at - from) / size * n), 0, n - 1);
}

/* Calls for each cell that the edge may run through: by columns, over the rows it spans there. */
static gsize
visit(const Grid *grid, guint32 i, guint *fill)
{
  const Edge *e = &g_array_index(grid->edges, Edge, i);
  HfPoint a = e->a.x <= e->b.x ? e->a : e->b, b = e->a.x <= e->b.x ? e->b : e->a;
  double wide = MAX(hf_box_width(grid->box), 1e-6), high = MAX(hf_box_height(grid->box), 1e-6);
  int first = cell_of(a.x, grid->box.min.x, wide, grid->n);
  int last = cell_of(b.x, grid->box.min.x, wide, grid->n);
  double slope = b.x > a.x ? (b.y - a.y) / (b.x - a.x) : 0;
  gsize cells = 0;
  for (int column = first; column <= last; column++) {
    double x0 = grid->box.min.x + wide * column / grid->n, x1 = x0 + wide / grid->n;
    double y0 = column == first ? a.y : a.y + slope * (x0 - a.x);
    double y1 = column == last ? b.y : a.y + slope * (x1 - a.x);
    int low = cell_of(MIN(y0, y1), grid->box.min.y, high, grid->n);
    int top = cell_of(MAX(y0, y1), grid->box.min.y, high, grid->n);
    for (int row = low; row <= top; row++, cells++)
      if (grid->entries != NULL)
        grid->entries[grid->starts[row * grid->n + column] + fill[row * grid->n + column]++] = i;
      else
        fill[row * grid->n + column]++;
  }
  return cells;
}

/* FALSE: the edges run through too many cells. */
static gboolean
fill_cells(Grid *grid)
{
  gsize cells = (gsize)grid->n * (gsize)grid->n, all = 0;
  g_autofree guint *fill = g_new0(guint, cells);
  for (guint32 i = 0; i < grid->edges->len && all <= MOST_ENTRIES; i++)
    all += visit(grid, i, fill);
  if (all > MOST_ENTRIES)
    return FALSE;
  grid->starts = g_new0(guint, cells + 1);
  for (gsize i = 0; i < cells; i++) {
    grid->starts[i + 1] = grid->starts[i] + fill[i];
    fill[i] = 0;
  }
  grid->entries = g_new(guint32, all);
  for (guint32 i = 0; i < grid->edges->len; i++)
    visit(grid, i, fill);
  return TRUE;
}

static gboolean
cross(const Edge *e, const Edge *f)
{
  HfPoint d = hf_point_sub(e->b, e->a), g = hf_point_sub(f->b, f->a);
  double a = hf_point_cross(d, hf_point_sub(f->a, e->a));
  double b = hf_point_cross(d, hf_point_sub(f->b, e->a));
  double c = hf_point_cross(g, hf_point_sub(e->a, f->a));
  double k = hf_point_cross(g, hf_point_sub(e->b, f->a));
  return a * b < 0 && c * k < 0;
}

static gboolean
crosses_too_often(const Grid *grid)
{
  guint64 pairs = 0, crossing = 0;
  const Edge *edges = (const Edge *)(gpointer)grid->edges->data;
  for (int cell = 0; cell < grid->n * grid->n; cell++)
    for (guint i = grid->starts[cell]; i < grid->starts[cell + 1]; i++)
      for (guint j = i + 1; j < grid->starts[cell + 1]; j++) {
        crossing += cross(&edges[grid->entries[i]], &edges[grid->entries[j]]) ? 1 : 0;
        if (crossing > MOST_CROSSING || ++pairs > MOST_PAIRS)
          return crossing > MOST_CROSSING || pairs > MOST_PAIRS;
      }
  return FALSE;
}

gboolean
hf_settle_is_tangled(const HfRegion *raw)
{
  if (hf_region_n_edges(raw) < FEW)
    return FALSE;
  Grid grid = {.edges = g_array_new(FALSE, FALSE, sizeof(Edge)), .box = HF_BOX_EMPTY};
  add_edges(&grid, raw);
  grid.n = CLAMP((int)sqrt(grid.edges->len), 1, 2000);
  gboolean tangled = !fill_cells(&grid) || crosses_too_often(&grid);
  g_array_unref(grid.edges);
  g_free(grid.starts);
  g_free(grid.entries);
  return tangled;
}
