/* SPDX-License-Identifier: GPL-3.0-or-later
 * taken.c - boxes of a page that something stands in already, by the cell.
 */
#include "out/taken-private.h"

enum { MOST_CELLS = 256 }; /* each way */

struct HfTaken {
  HfBox room;
  double reach, cell; /* half of a box that is asked about; the side of a cell */
  guint columns, rows;
  GArray **cells; /* (nullable, each) HfBox, in the order that they came */
};

HfTaken *
hf_taken_new(HfBox room, double size)
{
  HfTaken *taken = g_new0(HfTaken, 1);
  double longer = fmax(hf_box_width(room), hf_box_height(room));
  taken->room = room;
  taken->reach = size / 2;
  taken->cell = fmax(size, longer / MOST_CELLS);
  taken->columns = 1 + (guint)(hf_box_width(room) / taken->cell);
  taken->rows = 1 + (guint)(hf_box_height(room) / taken->cell);
  taken->cells = g_new0(GArray *, (gsize)taken->columns * taken->rows);
  return taken;
}

void
hf_taken_free(HfTaken *taken)
{
  if (taken == NULL)
    return;
  for (guint i = 0; i < taken->columns * taken->rows; i++)
    if (taken->cells[i] != NULL)
      g_array_unref(taken->cells[i]);
  g_free(taken->cells);
  g_free(taken);
}

/* What lies outside of the room is in the cell that is nearest to it. */
static guint
cell_at(double at, double from, double cell, guint n)
{
  return (guint)CLAMP(floor((at - from) / cell), 0, n - 1);
}

static guint
column_of(const HfTaken *taken, double x)
{
  return cell_at(x, taken->room.min.x, taken->cell, taken->columns);
}

static guint
row_of(const HfTaken *taken, double y)
{
  return cell_at(y, taken->room.min.y, taken->cell, taken->rows);
}

void
hf_taken_add(HfTaken *taken, HfBox box)
{
  HfBox near = hf_box_grow(box, taken->reach);
  guint right = column_of(taken, near.max.x), top = row_of(taken, near.max.y);
  for (guint y = row_of(taken, near.min.y); y <= top; y++)
    for (guint x = column_of(taken, near.min.x); x <= right; x++) {
      GArray **cell = &taken->cells[y * taken->columns + x];
      if (*cell == NULL)
        *cell = g_array_new(FALSE, FALSE, sizeof(HfBox));
      g_array_append_val(*cell, box);
    }
}

/* Without a jump, as what lies here is anybody's guess; fmin() and fmax() would ask about NaN. */
static double
in_common(double min_a, double max_a, double min_b, double max_b)
{
  double end = max_a < max_b ? max_a : max_b;
  double begin = min_a > min_b ? min_a : min_b;
  return end - (begin < end ? begin : end);
}

double
hf_taken_cover(const HfTaken *taken, HfPoint at, double most)
{
  const GArray *cell = taken->cells[row_of(taken, at.y) * taken->columns + column_of(taken, at.x)];
  HfBox box = hf_box_grow((HfBox){at, at}, taken->reach);
  double sum = 0;
  for (guint i = 0; cell != NULL && i < cell->len && sum <= most; i++) {
    HfBox other = g_array_index(cell, HfBox, i);
    double w = in_common(box.min.x, box.max.x, other.min.x, other.max.x);
    double h = in_common(box.min.y, box.max.y, other.min.y, other.max.y);
    sum += w * h;
  }
  return sum;
}
