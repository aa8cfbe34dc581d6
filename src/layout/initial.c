/* SPDX-License-Identifier: GPL-3.0-or-later
 * initial.c - one large letter, or two or three interlaced: sized, placed, split.
 *
 *       __                fill: the smallest circle round the letter's ink has its centre in the
 *     /  S \   ring       ring's, and its radius is the window's plus the bite, or less the gap
 *     \ __ /              split by: the words run through a slot across it (split.c)
 */
#include "base/text.h"
#include "layout/initial-private.h"
#include "stock/practice.h"

static void
shape_free(gpointer shape)
{
  hf_shape_free((HfShape *)shape);
}

/* ---- letters in ems -------------------------------------------------------------------------- */

/* Interlaced letters stand closer, every second one lower. */
static HfPoint
letter_at(const HfWording *wording, guint i, HfPoint before, gboolean interlaced)
{
  const HfLetter *letter = hf_wording_letter(wording, i);
  if (!interlaced)
    return hf_point(letter->pen, 0);
  if (i == 0)
    return hf_point(0, 0);
  HfPoint step =
      hf_interlace_step(hf_wording_letter(wording, i - 1), letter, wording->cap, i % 2 == 1);
  return hf_point_add(before, step);
}

static char *
label_of(const HfWording *wording, guint i, const char *text)
{
  const char *letter = hf_wording_letter(wording, i)->text;
  if (wording->letters->len == 1)
    return g_strdup_printf("initial '%s'", letter);
  return g_strdup_printf("initial '%s' of \"%s\"", letter, text);
}

/* The letters as shapes, an em being @size mm. */
static GPtrArray *
letter_shapes(const HfWording *wording, guint entry, const char *text, double size,
              gboolean interlaced)
{
  GPtrArray *shapes = g_ptr_array_new_with_free_func(shape_free);
  HfPoint at = {0, 0};
  for (guint i = 0; i < wording->letters->len; i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    if (letter->outline == NULL)
      continue;
    at = letter_at(wording, i, at, interlaced);
    HfMatrix em = hf_matrix_then(hf_matrix_move(at.x, at.y), hf_matrix_scale(size, size));
    HfOutline *outline = hf_outline_new();
    hf_outline_append(outline, letter->outline, em);
    HfShape *shape = hf_shape_new(outline, label_of(wording, i, text), entry, (gint)i, FALSE);
    shape->em = em;
    if (letter->drawn != NULL) {
      shape->drawn = hf_outline_new();
      hf_outline_append(shape->drawn, letter->drawn, em);
    }
    shape->letter_height = size * wording->cap;
    shape->lean = hf_wording_lean(wording);
    g_ptr_array_add(shapes, shape);
  }
  return shapes;
}

static void
move_all(GPtrArray *shapes, HfMatrix m)
{
  for (guint i = 0; i < shapes->len; i++) {
    HfShape *before = g_ptr_array_index(shapes, i);
    g_ptr_array_index(shapes, i) = hf_shape_moved(before, m);
    hf_shape_free(before);
  }
}

/* ---- size ------------------------------------------------------------------------------------ */

typedef struct {
  HfLaying *laying;
  guint entry;
  const HfInitialEntry *initial;
  const HfPlace *place;
} Own;

/* Radius that the smallest circle round the ink gets. */
static gboolean
window_radius(const Own *own, const HfLaid *ring, double *ret_radius, GError **error)
{
  const HfInitialEntry *initial = own->initial;
  if (!isnan(initial->clear)) {
    *ret_radius = ring->inner - initial->clear;
    if (*ret_radius > 0)
      return TRUE;
    g_autofree char *clear = hf_text_mm(initial->clear), *wide = hf_text_mm(2 * ring->inner);
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, "take a smaller gap",
                         "a letter that stays clear by %s has no room in a window of %s", clear,
                         wide);
  }
  double bite = isnan(initial->bite) ? MAX(own->laying->joint_limit / 2, 1) : initial->bite;
  *ret_radius = ring->inner + bite;
  if (*ret_radius < ring->outer)
    return TRUE;
  g_autofree char *deep = hf_text_mm(bite), *strip = hf_text_mm(ring->outer - ring->inner);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                       "make the ring wider or the bite smaller",
                       "the letter bites by %s and the ring is only %s wide", deep, strip);
}

static gboolean
font_size(const Own *own, const HfWording *wording, double *ret_size, GError **error)
{
  const HfFontWish *font = &own->initial->font;
  if (!isnan(font->size))
    *ret_size = font->size;
  else if (!isnan(font->height) && wording->cap > 0)
    *ret_size = font->height / wording->cap;
  else if (hf_recipe_group(own->laying->recipe, own->entry) >= 0)
    *ret_size = HF_FIRST_EM; /* it grows with its group */
  else
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                         "give the letter height, or the ring whose window it fills",
                         "how large the initial is is not said");
  return TRUE;
}

static gboolean
has_bolder(const HfInitialEntry *initial)
{
  return !isnan(initial->font.bolder) && initial->font.bolder != 0;
}

static GPtrArray *
grown_shapes(const Own *own, HfWording *wording, double mm_an_em, double size, GError **error)
{
  const HfInitialEntry *initial = own->initial;
  if (!hf_wording_bolder(own->laying, own->entry, wording, initial->font.bolder, mm_an_em, 1,
                         error))
    return NULL;
  return letter_shapes(wording, own->entry, initial->text, size, !isnan(initial->interlace));
}

/* Letters grow bolder by mm, and an em has as many as fill the window: turn about, until the size
 * stays. */
static GPtrArray *
window_shapes(const Own *own, HfWording *wording, GError **error)
{
  const HfInitialEntry *initial = own->initial;
  double wanted, size = 1;
  if (!window_radius(own, hf_lay_named(own->laying, initial->fill, NULL), &wanted, error))
    return NULL;
  g_autoptr(GPtrArray) shapes =
      letter_shapes(wording, own->entry, initial->text, 1, !isnan(initial->interlace));
  for (int i = 0; i < 12 && shapes->len > 0 && has_bolder(initial) && hf_wording_goes_on(wording);
       i++) {
    HfPoint centre;
    double before = size;
    size = wanted / hf_smallest_circle(shapes, &centre);
    if (fabs(size - before) < 1e-9 * size)
      break;
    g_clear_pointer(&shapes, g_ptr_array_unref);
    shapes = grown_shapes(own, wording, size, 1, error);
    if (shapes == NULL)
      return NULL;
  }
  return g_steal_pointer(&shapes);
}

static GPtrArray *
letters_in_size(const Own *own, HfWording *wording, GError **error)
{
  double size = NAN;
  if (own->initial->fill != NULL)
    return window_shapes(own, wording, error);
  if (!font_size(own, wording, &size, error))
    return NULL;
  return grown_shapes(own, wording, size, size, error);
}

static void
tell_height(const Own *own, const GPtrArray *shapes)
{
  const HfShape *first = (const HfShape *)g_ptr_array_index(shapes, 0);
  HfSolved solved = {own->entry, HF_SOLVED_LETTER_HEIGHT, first->letter_height};
  g_array_append_val(own->laying->layout->solved, solved);
}

/* Brings the smallest circle to its size and its centre to the origin. */
static gboolean
fill_window(const Own *own, GPtrArray *shapes, GError **error)
{
  const HfLaid *ring = hf_lay_named(own->laying, own->initial->fill, NULL);
  double wanted;
  if (!window_radius(own, ring, &wanted, error))
    return FALSE;
  HfPoint centre;
  double radius = hf_smallest_circle(shapes, &centre), k = wanted / radius;
  move_all(shapes, hf_matrix_then(hf_matrix_move(-centre.x, -centre.y), hf_matrix_scale(k, k)));
  tell_height(own, shapes);
  return TRUE;
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
      hf_wording_new(laying, entry, lines, &e->initial.font, FALSE, error);
  if (wording == NULL)
    return FALSE;
  gboolean interlaced = !isnan(e->initial.interlace);
  g_autoptr(GPtrArray) shapes = letters_in_size(&own, wording, error);
  if (shapes == NULL)
    return FALSE;
  if (shapes->len == 0)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "write a letter",
                         "the initial \"%s\" has nothing to cut", e->initial.text);
  if (e->initial.fill != NULL && !fill_window(&own, shapes, error))
    return FALSE;
  HfPoint middle = hf_box_centre(hf_shapes_box(shapes));
  if (e->initial.fill == NULL)
    move_all(shapes, hf_matrix_move(-middle.x, -middle.y));
  if (interlaced && shapes->len > 1)
    hf_interlace(shapes, e->initial.interlace, HF_OVER_LIMIT * laying->joint_limit);
  if (!place_initial(&own, shapes, error) || !add_shapes(&own, shapes, error))
    return FALSE;
  tell_bites(&own);
  return TRUE;
}
