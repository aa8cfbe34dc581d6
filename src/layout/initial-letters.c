/* SPDX-License-Identifier: GPL-3.0-or-later
 * initial-letters.c - the letters of an initial in their size, about the middle of their window or
 * of their box.
 *
 *       __                fill: the smallest circle round the letter's ink has its centre in the
 *     /  S \   ring       ring's, and its radius is the window's plus the bite, or less the gap
 *     \ __ /              set as, interlace: monogram.c, interlace.c
 */
#include "base/text.h"
#include "layout/initial-private.h"
#include "stock/practice.h"

/* A joint is aimed at by so much more: it is measured on chords. */
#define JOINT_OVER 1.02
#define LONG_WEB   1.2 /* what stands between two letters runs along them: docs/limits.md */

enum { MOST_TURNS = 12, MOST_WAYS = 36 };

static void
shape_free(gpointer shape)
{
  hf_shape_free((HfShape *)shape);
}

/* How woven letters stand against each other, ems. */
typedef struct {
  HfPoint at[2]; /* the second against the first, the third against the second */
} Woven;

typedef struct {
  HfLaying *laying;
  guint entry;
  const HfInitialEntry *initial;
  Woven woven; /* while `is_woven` */
  gboolean is_woven;
} Own;

/* ---- letters in ems -------------------------------------------------------------------------- */

/* Interlaced letters stand closer, every second one lower; those that are set begin at one place.
 */
static HfPoint
letter_at(const Own *own, const HfWording *wording, guint i, HfPoint before)
{
  const HfLetter *letter = hf_wording_letter(wording, i);
  if (!own->is_woven)
    return hf_point(own->initial->set == HF_SET_ALONE ? letter->pen : 0, 0);
  if (i == 0)
    return hf_point(0, 0);
  return hf_point_add(before, own->woven.at[i - 1]);
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
letter_shapes(const Own *own, const HfWording *wording, double size)
{
  GPtrArray *shapes = g_ptr_array_new_with_free_func(shape_free);
  HfPoint at = {0, 0};
  for (guint i = 0; i < wording->letters->len; i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    if (letter->outline == NULL)
      continue;
    at = letter_at(own, wording, i, at);
    HfMatrix em = hf_matrix_then(hf_matrix_move(at.x, at.y), hf_matrix_scale(size, size));
    HfOutline *outline = hf_outline_new();
    hf_outline_append(outline, letter->outline, em);
    HfShape *shape =
        hf_shape_new(outline, label_of(wording, i, own->initial->text), own->entry, (gint)i, FALSE);
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
  return letter_shapes(own, wording, size);
}

/* ---- set as the trade sets them -------------------------------------------------------------- */

static gboolean
is_drawn_out(const HfInitialEntry *initial)
{
  return initial->set == HF_SET_CIRCLE || initial->set == HF_SET_DIAMOND;
}

static gboolean
can_be_set(const Own *own, const GPtrArray *shapes, GError **error)
{
  const HfInitialEntry *initial = own->initial;
  guint least = initial->set == HF_SET_TALL_MIDDLE ? 3 : 2;
  if (shapes->len >= least && shapes->len <= 3)
    return TRUE;
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                       "write letters that the face does not join into one",
                       "of \"%s\" this face makes %u letters", initial->text, shapes->len);
}

/* The letters @size mm an em, set. What is cut through keeps a web between two, metal is joined. */
static GPtrArray *
set_shapes(const Own *own, HfWording *wording, double size, GError **error)
{
  const HfInitialEntry *initial = own->initial;
  gboolean cut = hf_lay_entry(own->laying, own->entry)->as == HF_AS_OPENING;
  HfMonogram as = {(HfInitialSet)initial->set, size * wording->cap, initial->gap,
                   JOINT_OVER * HF_OVER_LIMIT * own->laying->joint_limit,
                   MAX(own->laying->joint_limit / 2, 1)};
  if (isnan(as.gap) && (cut || is_drawn_out(initial)))
    as.gap = LONG_WEB * as.joint;
  g_autoptr(GPtrArray) shapes = grown_shapes(own, wording, size, size, error);
  if (shapes == NULL || (shapes->len > 0 && !can_be_set(own, shapes, error)))
    return NULL;
  if (shapes->len == 0 || hf_set_monogram(shapes, &as))
    return g_steal_pointer(&shapes);
  hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                "take a smaller gap or a larger monogram",
                "the gaps between the letters take all the room");
  return NULL;
}

/* The gap does not grow with the letters: turn about, until the size stays. */
static GPtrArray *
set_in_window(const Own *own, HfWording *wording, GError **error)
{
  double wanted, size, before = 0;
  if (!window_radius(own, hf_lay_named(own->laying, own->initial->fill, NULL), &wanted, error))
    return NULL;
  g_autoptr(GPtrArray) shapes = NULL;
  size = wanted;
  for (int i = 0; i < MOST_TURNS && fabs(size - before) > 1e-9 * size; i++) {
    HfPoint centre;
    g_clear_pointer(&shapes, g_ptr_array_unref);
    shapes = set_shapes(own, wording, size, error);
    if (shapes == NULL || shapes->len == 0 || !hf_wording_goes_on(wording))
      break;
    before = size;
    size *= wanted / hf_smallest_circle(shapes, &centre);
  }
  return g_steal_pointer(&shapes);
}

/* ---- filling a window ------------------------------------------------------------------------ */

/* Letters grow bolder by mm, and an em has as many as fill the window: turn about, until the size
 * stays. */
static GPtrArray *
window_shapes(const Own *own, HfWording *wording, GError **error)
{
  const HfInitialEntry *initial = own->initial;
  double wanted, size = 1;
  if (!window_radius(own, hf_lay_named(own->laying, initial->fill, NULL), &wanted, error))
    return NULL;
  g_autoptr(GPtrArray) shapes = letter_shapes(own, wording, 1);
  for (int i = 0;
       i < MOST_TURNS && shapes->len > 0 && has_bolder(initial) && hf_wording_goes_on(wording);
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
  gboolean set = own->initial->set != HF_SET_ALONE;
  if (own->initial->fill != NULL)
    return set ? set_in_window(own, wording, error) : window_shapes(own, wording, error);
  if (!font_size(own, wording, &size, error))
    return NULL;
  if (set)
    return set_shapes(own, wording, size, error);
  return grown_shapes(own, wording, size, size, error);
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
  return TRUE;
}

/* The letters in their size, about the middle of their window or of their box. */
static GPtrArray *
letters_there(const Own *own, HfWording *wording, GError **error)
{
  g_autoptr(GPtrArray) shapes = letters_in_size(own, wording, error);
  if (shapes == NULL)
    return NULL;
  if (shapes->len == 0) {
    hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE, "write a letter",
                  "the initial \"%s\" has nothing to cut", own->initial->text);
    return NULL;
  }
  HfPoint middle = hf_box_centre(hf_shapes_box(shapes));
  if (own->initial->fill == NULL && !is_drawn_out(own->initial)) /* has its middle already */
    move_all(shapes, hf_matrix_move(-middle.x, -middle.y));
  else if (own->initial->fill != NULL && !fill_window(own, shapes, error))
    return NULL;
  return g_steal_pointer(&shapes);
}

/* ---- woven ------------------------------------------------------------------------------------
 */

/* Ways to stand are tried from the best on, of three letters those first whose two are both good,
 * until one reads. %FALSE: there are no more. */
static gboolean
next_way(guint try, GArray *const *steps, Woven *ret_woven)
{
  guint n = steps[0]->len;
  if (steps[1] == NULL) {
    if (try < n)
      ret_woven->at[0] = g_array_index(steps[0], HfPoint, try);
    return try < n;
  }
  guint sum = 0;
  for (; try > sum; sum++)
    try -= sum + 1;
  ret_woven->at[0] = g_array_index(steps[0], HfPoint, MIN(try, n - 1));
  ret_woven->at[1] = g_array_index(steps[1], HfPoint, MIN(sum - try, n - 1));
  return sum < n;
}

static GPtrArray *
first_that_reads(Own *own, HfWording *wording, GArray *const *steps, char **ret_why, GError **error)
{
  own->is_woven = TRUE;
  for (guint try = 0; try < MOST_WAYS && next_way(try, steps, &own->woven); try++) {
    g_autoptr(GPtrArray) shapes = letters_there(own, wording, error);
    if (shapes == NULL || !hf_cancel_check(own->laying->cancel, error))
      return NULL;
    g_autofree char *why = shapes->len < 2 ? NULL
                                           : hf_interlace(shapes, own->initial->interlace,
                                                          HF_OVER_LIMIT * own->laying->joint_limit);
    if (why == NULL)
      return g_steal_pointer(&shapes);
    if (*ret_why == NULL) /* of the best way */
      *ret_why = g_steal_pointer(&why);
  }
  return NULL;
}

static gboolean
can_be_woven(const Own *own, const HfWording *wording, GError **error)
{
  guint with_ink = 0;
  for (guint i = 0; i < wording->letters->len; i++)
    with_ink += hf_wording_letter(wording, i)->outline != NULL;
  if (with_ink == wording->letters->len && with_ink <= 3)
    return TRUE;
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                       "write two or three letters with nothing between them",
                       "\"%s\" has blanks, and only letters can be woven", own->initial->text);
}

static GPtrArray *
woven_letters(Own *own, HfWording *wording, GError **error)
{
  GArray *steps[2] = {NULL, NULL};
  g_autofree char *why = NULL;
  if (!can_be_woven(own, wording, error))
    return NULL;
  for (guint i = 0; i + 1 < wording->letters->len; i++) {
    const HfLetter *a = hf_wording_letter(wording, i), *b = hf_wording_letter(wording, i + 1);
    steps[i] = hf_interlace_steps(a, b, wording->cap, i % 2 == 0);
  }
  GPtrArray *shapes = first_that_reads(own, wording, steps, &why, error);
  for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
    g_clear_pointer(&steps[i], g_array_unref);
  own->is_woven = FALSE;
  if (shapes == NULL && why != NULL && (error == NULL || *error == NULL))
    hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                  "take a smaller gap, another face or order, or write set as: tall middle or "
                  "stacked instead",
                  "\"%s\" would not read woven: %s", own->initial->text, why);
  return shapes;
}

GPtrArray *
hf_initial_letters(HfLaying *laying, guint entry, HfWording *wording, GError **error)
{
  const HfInitialEntry *initial = &hf_lay_entry(laying, entry)->initial;
  Own own = {laying, entry, initial, {{{0, 0}, {0, 0}}}, FALSE};
  gboolean woven = !isnan(initial->interlace) && wording->letters->len > 1;
  return woven ? woven_letters(&own, wording, error) : letters_there(&own, wording, error);
}
