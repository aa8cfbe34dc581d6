/* SPDX-License-Identifier: GPL-3.0-or-later
 * ring-names.c - what each contour of a sign is called when it is cut.
 */
#include "run/ring-names-private.h"

/* The shapes that made most and second most of a ring's edge; of equals the first. */
typedef struct {
  guint shape[2];
  double length[2];
} Makers;

static gboolean
is_more(guint shape, double length, const Makers *makers, guint place)
{
  return length > makers->length[place] ||
         (length == makers->length[place] && shape < makers->shape[place]);
}

static void
put_maker(Makers *makers, guint shape, double length)
{
  if (is_more(shape, length, makers, 0)) {
    makers->shape[1] = makers->shape[0];
    makers->length[1] = makers->length[0];
    makers->shape[0] = shape;
    makers->length[0] = length;
  } else if (is_more(shape, length, makers, 1)) {
    makers->shape[1] = shape;
    makers->length[1] = length;
  }
}

static void
add_edge(const HfRing *ring, guint v, GHashTable *sums)
{
  double *sum = g_hash_table_lookup(sums, GUINT_TO_POINTER(ring->from[v].shape));
  if (sum == NULL) {
    sum = g_new0(double, 1);
    g_hash_table_insert(sums, GUINT_TO_POINTER(ring->from[v].shape), sum);
  }
  *sum += hf_point_distance(hf_grid_point(ring->at[v]),
                            hf_grid_point(ring->at[v + 1 < ring->n ? v + 1 : 0]));
}

static Makers
makers_of(const HfSign *sign, const HfRing *ring, GHashTable *sums)
{
  g_hash_table_remove_all(sums);
  for (guint v = 0; ring->from != NULL && v < ring->n; v++)
    if (ring->from[v].shape < sign->layout->shapes->len)
      add_edge(ring, v, sums);
  Makers makers = {{HF_NO_SHAPE, HF_NO_SHAPE}, {0, 0}};
  GHashTableIter iter;
  gpointer key, value;
  g_hash_table_iter_init(&iter, sums);
  while (g_hash_table_iter_next(&iter, &key, &value))
    put_maker(&makers, GPOINTER_TO_UINT(key), *(const double *)value);
  return makers;
}

/* (nullable) */
static const HfShape *
shape_of(const HfSign *sign, guint shape)
{
  return shape == HF_NO_SHAPE ? NULL : hf_layout_shape(sign->layout, shape);
}

static char *
name_of(const HfSign *sign, const Makers *makers, gboolean is_opening)
{
  const HfShape *most = shape_of(sign, makers->shape[0]),
                *second = shape_of(sign, makers->shape[1]);
  if (most == NULL)
    return g_strdup(is_opening ? "opening" : "outside");
  if (!is_opening)
    return g_strconcat("outside of ", most->label, NULL);
  if (most->opening)
    return g_strdup(most->label);
  if (second != NULL && !second->opening && makers->length[1] > makers->length[0] / 4)
    return g_strconcat("between ", most->label, " and ", second->label, NULL);
  return g_strconcat("inside ", most->label, NULL);
}

char **
hf_ring_names(const HfSign *sign)
{
  const HfRegion *metal = sign->metal->region;
  char **names = g_new0(char *, metal->rings->len + 1);
  g_autoptr(GHashTable) sums = g_hash_table_new_full(NULL, NULL, NULL, g_free);
  for (guint i = 0; i < metal->rings->len; i++) {
    const HfRing *ring = hf_region_ring(metal, i);
    Makers makers = makers_of(sign, ring, sums);
    names[i] = name_of(sign, &makers, ring->parent >= 0);
  }
  return names;
}
