/* SPDX-License-Identifier: GPL-3.0-or-later
 * spots.c - which points are near? Points sorted by square cells as wide as the reach: what is
 * within it lies in the cell itself or in the eight round it.
 */
#include "drawing/join-private.h"

typedef struct {
  gint64 column, row;
  guint id;
} Spot;

struct HfSpots {
  Spot *spot;
  HfPoint *at;
  guint n;
  double reach;
};

static Spot
spot_of(HfPoint p, double reach, guint id)
{
  return (Spot){(gint64)floor(p.x / reach), (gint64)floor(p.y / reach), id};
}

static int
compare(gconstpointer a, gconstpointer b)
{
  const Spot *s = (const Spot *)a, *t = (const Spot *)b;
  if (s->column != t->column)
    return s->column < t->column ? -1 : 1;
  if (s->row != t->row)
    return s->row < t->row ? -1 : 1;
  return (s->id > t->id) - (s->id < t->id);
}

HfSpots *
hf_spots_new(const HfPoint *at, guint n, double reach)
{
  HfSpots *spots = g_new0(HfSpots, 1);
  *spots = (HfSpots){g_new(Spot, MAX(n, 1)), g_memdup2(at, n * sizeof *at), n, reach};
  for (guint i = 0; i < n; i++)
    spots->spot[i] = spot_of(at[i], reach, i);
  qsort(spots->spot, n, sizeof(Spot), compare);
  return spots;
}

/* The first spot that is not before @key. */
static guint
first_of(const HfSpots *spots, Spot key)
{
  guint low = 0, high = spots->n;
  while (low < high) {
    guint middle = low + (high - low) / 2;
    if (compare(&spots->spot[middle], &key) < 0)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

void
hf_spots_near(const HfSpots *spots, HfPoint p, guint most, GArray *to)
{
  Spot here = spot_of(p, spots->reach, 0);
  for (gint64 column = here.column - 1; column <= here.column + 1; column++) {
    guint i = first_of(spots, (Spot){column, here.row - 1, 0});
    for (; i < spots->n && to->len < most; i++) {
      const Spot *spot = &spots->spot[i];
      if (spot->column != column || spot->row > here.row + 1)
        break;
      if (hf_point_distance(spots->at[spot->id], p) <= spots->reach)
        g_array_append_val(to, spot->id);
    }
  }
}

void
hf_spots_free(HfSpots *spots)
{
  if (spots == NULL)
    return;
  g_free(spots->spot);
  g_free(spots->at);
  g_free(spots);
}
