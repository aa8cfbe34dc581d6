/* SPDX-License-Identifier: GPL-3.0-or-later
 * ring-names.c - what each contour of a sign is called when it is cut.
 */
#include "run/ring-names-private.h"
#include <stdlib.h>
#include <string.h>

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

/* Several of one name, in the order in which they are read, are told apart. */
typedef struct {
  const char *name;
  HfPoint middle;
  guint ring;
} Called;

static int
compare_called(gconstpointer a, gconstpointer b)
{
  const Called *x = a, *y = b;
  int by_name = strcmp(x->name, y->name);
  if (by_name != 0)
    return by_name;
  if (x->middle.x != y->middle.x)
    return x->middle.x < y->middle.x ? -1 : 1;
  if (x->middle.y != y->middle.y)
    return x->middle.y > y->middle.y ? -1 : 1;
  return (x->ring > y->ring) - (x->ring < y->ring);
}

static void
tell_apart(const HfRegion *metal, char **names)
{
  guint n = metal->rings->len;
  g_autofree Called *called = g_new(Called, MAX(n, 1));
  for (guint i = 0; i < n; i++) {
    HfBox box = hf_ring_box(hf_region_ring(metal, i));
    called[i] = (Called){names[i], hf_point_scale(hf_point_add(box.min, box.max), 0.5), i};
  }
  qsort(called, n, sizeof *called, compare_called);
  for (guint first = 0, end = 0; first < n; first = end) {
    while (end < n && strcmp(called[end].name, called[first].name) == 0)
      end++;
    for (guint i = first; i < end && end - first > 1; i++) {
      g_autofree char *name = names[called[i].ring];
      names[called[i].ring] = g_strdup_printf("%s (%u of %u)", name, i - first + 1, end - first);
    }
  }
}

GArray *
hf_ring_makers(const HfSign *sign)
{
  const HfRegion *metal = sign->metal->region;
  GArray *shapes = g_array_new(FALSE, FALSE, sizeof(guint));
  g_autoptr(GHashTable) sums = g_hash_table_new_full(NULL, NULL, NULL, g_free);
  for (guint i = 0; i < metal->rings->len; i++) {
    Makers makers = makers_of(sign, hf_region_ring(metal, i), sums);
    g_array_append_val(shapes, makers.shape[0]);
  }
  return shapes;
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
  tell_apart(metal, names);
  return names;
}
