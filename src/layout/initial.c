/* SPDX-License-Identifier: GPL-3.0-or-later
 * initial.c - one large letter, or two or three of a monogram: placed, split, and where it meets
 * its ring. The letters in their size: initial-letters.c; split by the words that run through a
 * slot across it: split.c.
 */
#include "layout/initial-private.h"

typedef struct {
  HfLaying *laying;
  guint entry;
  const HfInitialEntry *initial;
  const HfPlace *place;
} Own;

/* That of the highest. */
static void
tell_height(const Own *own, const GPtrArray *shapes)
{
  HfSolved solved = {own->entry, HF_SOLVED_LETTER_HEIGHT, 0};
  for (guint i = 0; i < shapes->len; i++)
    solved.value =
        MAX(solved.value, ((const HfShape *)g_ptr_array_index(shapes, i))->letter_height);
  g_array_append_val(own->laying->layout->solved, solved);
}

/* ---- placing --------------------------------------------------------------------------------- */

static gboolean
place_initial(const Own *own, const GPtrArray *shapes, GError **error)
{
  HfLaid *laid = &own->laying->laid[own->entry];
  HfBox box = hf_shapes_box(shapes);
  if (own->initial->fill == NULL)
    return hf_lay_frames(own->laying, own->entry, box, error);
  const HfLaid *ring = hf_lay_named(own->laying, own->initial->fill, NULL);
  HfPoint at = hf_point_add(ring->centre, hf_place_shift(own->place));
  HfMatrix frame =
      hf_matrix_then(hf_matrix_turn(hf_or_zero(own->place->turn)), hf_matrix_move(at.x, at.y));
  g_array_append_val(laid->frames, frame);
  laid->own = box;
  laid->centre = hf_matrix_apply(frame, hf_point(0, 0));
  return TRUE;
}

static HfShape *
placed_copy(const Own *own, const HfShape *shape, HfMatrix frame, guint copy)
{
  gboolean cut_through = hf_lay_entry(own->laying, own->entry)->as == HF_AS_OPENING;
  HfShape *placed = hf_shape_moved(shape, frame);
  placed->entry = own->entry;
  placed->opening = shape->opening != cut_through;
  placed->copy = copy;
  return placed;
}

static gboolean
add_shapes(const Own *own, const GPtrArray *shapes, GError **error)
{
  HfLaid *laid = &own->laying->laid[own->entry];
  for (guint copy = 0; copy < laid->frames->len; copy++) {
    HfMatrix frame = g_array_index(laid->frames, HfMatrix, copy);
    guint first = laid->shapes->len;
    for (guint i = 0; i < shapes->len; i++) {
      const HfShape *shape = (const HfShape *)g_ptr_array_index(shapes, i);
      g_ptr_array_add(laid->shapes, placed_copy(own, shape, frame, copy));
    }
    if (own->initial->split_by != NULL &&
        !hf_split(own->laying, own->entry, laid->shapes, first, error))
      return FALSE;
  }
  return TRUE;
}

/* ---- where it meets the ring ----------------------------------------------------------------- */

enum { PER_CURVE = 64 };

/* Each stretch of a contour that lies beyond the window's edge is a contact; its bite is its
 * deepest point, the letter being round or pointed there. */
static void
contour_bites(const Own *own, guint shape, guint contour, guint ring, const HfLaid *at)
{
  HfLaid *laid = &own->laying->laid[own->entry];
  const HfShape *own_shape = (const HfShape *)g_ptr_array_index(laid->shapes, shape);
  guint n;
  const HfCurve *curve = hf_outline_contour(own_shape->outline, contour, &n);
  g_assert(n > 0); /* a contour of no curve vanishes (geom/outline.h) */
  HfJoint joint = {HF_LAID_SHAPE(own->entry, shape), HF_LAID_SHAPE(ring, 0), at->centre, NAN, 0};
  guint start = 0, total = n * PER_CURVE; /* begin where the contour is inside the window */
  while (start < total && hf_point_distance(hf_curve_point(&curve[start / PER_CURVE],
                                                           (double)(start % PER_CURVE) / PER_CURVE),
                                            at->centre) > at->inner)
    start++;
  g_assert(total > 0);
  for (guint i = 0; i <= total; i++) {
    guint k = (start + i) % total;
    HfPoint p = hf_curve_point(&curve[k / PER_CURVE], (double)(k % PER_CURVE) / PER_CURVE);
    double depth = hf_point_distance(p, at->centre) - at->inner;
    if (depth > joint.bite) {
      joint.bite = depth;
      joint.at = p;
    } else if (depth <= 0 && joint.bite > 0) {
      g_array_append_val(laid->joints, joint);
      joint.bite = 0;
    }
  }
}

static void
tell_bites(const Own *own)
{
  guint ring;
  if (own->initial->fill == NULL || !isnan(own->initial->clear))
    return;
  const HfLaid *at = hf_lay_named(own->laying, own->initial->fill, &ring);
  const GPtrArray *shapes = own->laying->laid[own->entry].shapes;
  for (guint i = 0; i < shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(shapes, i);
    for (guint k = 0; shape->letter >= 0 && k < hf_outline_n_contours(shape->outline); k++)
      contour_bites(own, i, k, ring, at);
  }
}

/* ---- the entry ------------------------------------------------------------------------------- */

gboolean
hf_lay_initial(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  Own own = {laying, entry, &e->initial, &e->place};
  g_autoptr(GPtrArray) lines = g_ptr_array_new();
  g_ptr_array_add(lines, e->initial.text);
  g_autoptr(HfWording) wording =
      hf_wording_new(laying, entry, lines, &e->initial.font, e->initial.set != HF_SET_ALONE, error);
  if (wording == NULL)
    return FALSE;
  g_autoptr(GPtrArray) shapes = hf_initial_letters(laying, entry, wording, error);
  if (shapes == NULL)
    return FALSE;
  if (e->initial.fill != NULL)
    tell_height(&own, shapes);
  if (!place_initial(&own, shapes, error) || !add_shapes(&own, shapes, error))
    return FALSE;
  tell_bites(&own);
  return TRUE;
}
