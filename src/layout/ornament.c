/* SPDX-License-Identifier: GPL-3.0-or-later
 * ornament.c - a small picture, brought to its size: placed as separators are, or standing on a
 * bar.
 *
 *      _|_                 standing, its foot is let in until the joint is as wide as the joint
 *     \_|_/                limit asks with something to spare; a foot that never is so wide is let
 *    ===v=== rail          in up to a quarter of the ornament
 */
#include "ornament/ornament.h"
#include "base/text.h"
#include "layout/layout-private.h"
#include "stock/practice.h"

#define DEEPEST 0.25 /* of its height: how far a pointed foot is let in */

static const HfOrnamentEntry *
ornament_of(const HfLaying *laying, guint entry)
{
  return &hf_lay_entry(laying, entry)->ornament;
}

static gboolean
is_opening(const HfLaying *laying, guint entry)
{
  return hf_lay_entry(laying, entry)->as == HF_AS_OPENING;
}

static HfOrnament *
drawn(const HfLaying *laying, guint entry)
{
  const HfOrnamentEntry *own = ornament_of(laying, entry);
  return hf_ornament_new((HfOrnamentForm)own->form, is_opening(laying, entry), own->points);
}

/* From its box of height 1 to its size; turned over where it is mirrored. */
static HfMatrix
to_size(const HfOrnamentEntry *own, const HfOrnament *ornament)
{
  double k = own->height;
  if (isnan(k))
    k = own->width / hf_box_width(hf_outline_box(ornament->own));
  return hf_matrix_scale(own->mirror ? -k : k, k);
}

static HfOutline *
moved(const HfOutline *outline, HfMatrix m)
{
  HfOutline *to = hf_outline_new();
  hf_outline_append(to, outline, m);
  return to;
}

/* ---- standing -------------------------------------------------------------------------------- */

static int
compare(gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* The widest metal at height @y. */
static double
widest_at(const HfRegion *region, double y)
{
  g_autoptr(GArray) crossings = g_array_new(FALSE, FALSE, sizeof(double));
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint i = 0; i < ring->n; i++) {
      HfPoint a = hf_grid_point(ring->at[i]), b = hf_grid_point(ring->at[(i + 1) % ring->n]);
      if ((a.y > y) == (b.y > y))
        continue;
      double x = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
      g_array_append_val(crossings, x);
    }
  }
  g_array_sort(crossings, compare);
  double widest = 0;
  for (guint i = 0; i + 1 < crossings->len; i += 2)
    widest =
        fmax(widest, g_array_index(crossings, double, i + 1) - g_array_index(crossings, double, i));
  return widest;
}

/* How deep its foot must be let in for a joint of @joint. */
static double
needed_bite(const HfOutline *own, double joint)
{
  enum { STEPS = 200 };
  HfBox box = hf_outline_box(own);
  g_autoptr(HfRegion) region = hf_region_of_outline(own, HF_NO_SHAPE, HF_FLATTEN_MM);
  double most = DEEPEST * hf_box_height(box);
  for (int i = 1; i < STEPS; i++)
    if (widest_at(region, box.min.y + most * i / STEPS) >= joint)
      return most * i / STEPS;
  return most;
}

static double
bite_of(const HfLaying *laying, guint entry, const HfOutline *own)
{
  double given = ornament_of(laying, entry)->bite, limit = laying->joint_limit;
  return isnan(given) ? fmax(needed_bite(own, HF_OVER_LIMIT * limit), fmax(limit / 2, 1)) : given;
}

/* x of the ornament's middle in the ground's frame. */
static double
along(const HfPlace *place, guint copy, HfBox ground, HfBox box)
{
  double middle = hf_box_centre(ground).x;
  if (place->at == NULL || copy >= place->at->len)
    return middle;
  const HfSpot *spot = &g_array_index(place->at, HfSpot, copy);
  switch (spot->kind) {
  case HF_SPOT_LEFT_END:
    return ground.min.x - box.min.x;
  case HF_SPOT_RIGHT_END:
    return ground.max.x - box.max.x;
  case HF_SPOT_POINT:
    return middle + spot->point.x;
  default:
    return middle;
  }
}

static gboolean
stand(HfLaying *laying, guint entry, const HfOutline *sized, GError **error)
{
  guint on;
  const HfPlace *place = &hf_lay_entry(laying, entry)->place;
  const HfLaid *ground = hf_lay_named(laying, ornament_of(laying, entry)->stand_on, &on);
  HfLaid *laid = &laying->laid[entry];
  if (!hf_lay_has_level_top(hf_lay_entry(laying, on)) || ground->frames->len == 0) {
    g_autofree char *label = hf_lay_label(laying, on, 0);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "stand it on a bar or a rectangular plate",
                         "%s has no straight top for an ornament to stand on", label);
  }
  HfMatrix turned = hf_matrix_turn(hf_or_zero(place->turn));
  g_autoptr(HfOutline) own = moved(sized, turned);
  HfBox box = hf_outline_box(own);
  double bite = bite_of(laying, entry, own), high = hf_box_height(ground->own);
  if (bite >= high) {
    g_autofree char *wanted = hf_text_mm(bite), *has = hf_text_mm(high);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM,
                         "make what it stands on higher, or state a smaller bite",
                         "to be held it bites by %s, and what it stands on is only %s high", wanted,
                         has);
  }
  laid->own = hf_outline_box(sized);
  for (guint i = 0; i < MAX(place->at == NULL ? 0 : place->at->len, 1); i++) {
    HfPoint at = {along(place, i, ground->own, box) + hf_or_zero(place->shift_x),
                  ground->own.max.y - bite - box.min.y + hf_or_zero(place->shift_y)};
    HfMatrix frame = hf_matrix_then(hf_matrix_then(turned, hf_matrix_move(at.x, at.y)),
                                    g_array_index(ground->frames, HfMatrix, 0));
    g_array_append_val(laid->frames, frame);
  }
  laid->centre = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, 0), hf_point(0, 0));
  return TRUE;
}

/* ---- the entry ------------------------------------------------------------------------------- */

static void
add_shape(HfLaying *laying, guint entry, guint copy, const HfOutline *unit, HfMatrix size,
          gboolean opening)
{
  HfLaid *laid = &laying->laid[entry];
  if (hf_outline_n_contours(unit) == 0)
    return;
  HfMatrix frame = g_array_index(laid->frames, HfMatrix, copy);
  HfShape *shape = hf_shape_new(moved(unit, hf_matrix_then(size, frame)),
                                hf_lay_label(laying, entry, copy), entry, -1, opening);
  shape->copy = copy;
  shape->em = frame;
  g_ptr_array_add(laid->shapes, shape);
}

gboolean
hf_lay_ornament(HfLaying *laying, guint entry, GError **error)
{
  g_autoptr(HfOrnament) ornament = drawn(laying, entry);
  HfMatrix size = to_size(ornament_of(laying, entry), ornament);
  g_autoptr(HfOutline) sized = moved(ornament->own, size);
  if (ornament_of(laying, entry)->stand_on != NULL) {
    if (!stand(laying, entry, sized, error))
      return FALSE;
  } else if (!hf_lay_frames_looking(laying, entry, hf_outline_box(sized), HF_LOOK_READING, 0,
                                    error)) {
    return FALSE;
  }
  gboolean opening = is_opening(laying, entry);
  for (guint i = 0; i < laying->laid[entry].frames->len; i++) {
    add_shape(laying, entry, i, ornament->own, size, opening);
    add_shape(laying, entry, i, ornament->cuts, size, TRUE);
    add_shape(laying, entry, i, ornament->bars, size, FALSE);
  }
  return TRUE;
}
