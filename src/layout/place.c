/* SPDX-License-Identifier: GPL-3.0-or-later
 * place.c - where an entry goes: from its HfPlace to one frame a copy.
 *
 *   own frame --turn--> --move--> sign's frame          above: rail, gap: 4 mm
 *                                                             +-----+
 *   the move: `at` of `on`, then beside another one,          | own |  boxes 4 mm apart,
 *   then `shift`                                              +-----+  middles in line
 *                                                          ===== rail =====
 */
#include "base/text.h"
#include "layout/layout-private.h"

#include <stdarg.h>
#include <string.h>

char *
hf_lay_where(const HfLaying *laying, guint entry)
{
  return hf_recipe_where(laying->recipe, hf_lay_entry(laying, entry)->mark);
}

gboolean
hf_lay_refuse(const HfLaying *laying, guint entry, GError **error, HfErrorKind kind,
              const char *fix, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *what = g_strdup_vprintf(format, args);
  va_end(args);
  g_autofree char *where = hf_lay_where(laying, entry);
  hf_error_set(error, kind, where, fix, "%s", what);
  return FALSE;
}

const HfLaid *
hf_lay_named(const HfLaying *laying, const char *name, guint *ret_entry)
{
  for (guint i = 0; i < laying->recipe->entries->len; i++) {
    if (strcmp(hf_lay_entry(laying, i)->name, name) != 0)
      continue;
    if (ret_entry != NULL)
      *ret_entry = i;
    return &laying->laid[i];
  }
  g_assert_not_reached(); /* reading the recipe refuses names that are not there */
}

static char *
direction_name(double angle)
{
  static const struct {
    double angle;
    const char *name;
  } named[] = {{G_PI / 2, "top"}, {-G_PI / 2, "bottom"}, {G_PI, "left"}, {0, "right"}};
  for (guint i = 0; i < G_N_ELEMENTS(named); i++)
    if (fabs(remainder(angle - named[i].angle, 2 * G_PI)) < 1e-9)
      return g_strdup(named[i].name);
  double hours = remainder(G_PI / 2 - angle, 2 * G_PI) / (G_PI / 6);
  if (fabs(hours - rint(hours)) < 1e-9)
    return g_strdup_printf("%d o'clock", ((int)rint(hours) + 11) % 12 + 1);
  g_autofree char *degrees = hf_text_number(angle * 180 / G_PI, 2);
  return g_strdup_printf("%s deg", degrees);
}

static char *
copy_name(const HfPlace *place, guint copy)
{
  const HfSpot *spot = &g_array_index(place->at, HfSpot, copy);
  switch (spot->kind) {
  case HF_SPOT_LEFT_END:
    return g_strdup("left end");
  case HF_SPOT_RIGHT_END:
    return g_strdup("right end");
  case HF_SPOT_CENTRE:
    return g_strdup("centre");
  case HF_SPOT_DIRECTION:
    return direction_name(spot->angle);
  default:
    return g_strdup_printf("copy %u", copy + 1);
  }
}

char *
hf_lay_label(const HfLaying *laying, guint entry, guint copy)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  g_autofree char *name = hf_entry_is_named(e)
                              ? g_strdup_printf("%s \"%s\"", hf_entry_word(e), e->name)
                              : g_strdup(e->name);
  gboolean listed = e->place.at != NULL && e->place.at->len > 1;
  if (!listed && laying->laid[entry].frames->len > 1)
    return g_strdup_printf("%s (copy %u)", name, copy + 1);
  if (e->place.at == NULL || e->place.at->len < 2 || copy >= e->place.at->len)
    return g_steal_pointer(&name);
  g_autofree char *which = copy_name(&e->place, copy);
  return g_strdup_printf("%s (%s)", name, which);
}

gboolean
hf_place_is_said(const HfPlace *place)
{
  return place->on != NULL || (place->at != NULL && place->at->len > 0) || place->above != NULL ||
         place->below != NULL || place->left_of != NULL || place->right_of != NULL ||
         (place->between != NULL && place->between->len > 0) || hf_or_zero(place->turn) != 0;
}

/* The box of a turned box. */
static HfBox
turned_box(HfBox box, double turn)
{
  HfMatrix m = hf_matrix_turn(turn);
  HfBox turned = HF_BOX_EMPTY;
  for (guint i = 0; i < 4; i++) {
    HfPoint corner = {i & 1 ? box.max.x : box.min.x, i & 2 ? box.max.y : box.min.y};
    turned = hf_box_add_point(turned, hf_matrix_apply(m, corner));
  }
  return turned;
}

/* Moves @at so that @own stands beside those that @place names; an axis that nothing else has set
 * is brought into line with the middle of the last one named. */
static HfPoint
put_beside(const HfLaying *laying, const HfPlace *place, HfBox own, HfPoint at, gboolean is_set)
{
  const char *const names[] = {place->above, place->below, place->left_of, place->right_of};
  HfPoint middle = hf_box_centre(own);
  gboolean set_x = is_set || place->left_of != NULL || place->right_of != NULL;
  gboolean set_y = is_set || place->above != NULL || place->below != NULL;
  for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
    if (names[i] == NULL)
      continue;
    HfBox other = hf_lay_named(laying, names[i], NULL)->box;
    if (hf_box_is_empty(other) || hf_box_is_empty(own))
      continue;
    HfPoint other_middle = hf_box_centre(other);
    if (!set_x)
      at.x = other_middle.x - middle.x;
    if (!set_y)
      at.y = other_middle.y - middle.y;
    if (i == 0)
      at.y = other.max.y + hf_or_zero(place->gap) - own.min.y;
    else if (i == 1)
      at.y = other.min.y - hf_or_zero(place->gap) - own.max.y;
    else if (i == 2)
      at.x = other.min.x - hf_or_zero(place->gap) - own.max.x;
    else
      at.x = other.max.x + hf_or_zero(place->gap) - own.min.x;
  }
  return at;
}

static double
look_turn(HfLook look, const HfSpot *spot, double outward)
{
  if (look == HF_LOOK_UPRIGHT || spot->kind != HF_SPOT_DIRECTION)
    return 0;
  if (look == HF_LOOK_READING && sin(outward) < -1e-9)
    return outward + G_PI / 2;
  return outward - G_PI / 2;
}

static gboolean
find_spot(const HfLaying *laying, guint entry, const HfSpot *spot, HfLaidSpot *ret_spot,
          GError **error)
{
  guint on = 0;
  const char *ground = hf_entry_on(hf_lay_entry(laying, entry));
  if (ground != NULL && hf_lay_named(laying, ground, &on)->done) {
    if (!hf_lay_has_spot(laying, entry, on, *spot, error))
      return FALSE;
    *ret_spot = hf_lay_spot(laying, on, *spot, HF_SPOT_ON_MIDDLE);
    return TRUE;
  }
  if (spot->kind == HF_SPOT_DIRECTION || spot->kind == HF_SPOT_LEFT_END ||
      spot->kind == HF_SPOT_RIGHT_END)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "say on which ring, plate or bar, as in 'on: NAME'",
                         "'at' is a direction or an end, but of what is not said");
  HfPoint at = spot->kind == HF_SPOT_POINT ? spot->point : hf_point(0, 0);
  *ret_spot = (HfLaidSpot){.at = at, .outward = G_PI / 2};
  return TRUE;
}

static gboolean
add_frame(HfLaying *laying, guint entry, const HfSpot *spot, HfLook look, double inset,
          GError **error)
{
  HfLaid *laid = &laying->laid[entry];
  const HfPlace *place = &hf_lay_entry(laying, entry)->place;
  HfLaidSpot found = {0};
  if (!find_spot(laying, entry, spot, &found, error))
    return FALSE;
  gboolean on_edge = spot->kind == HF_SPOT_DIRECTION || spot->kind == HF_SPOT_LEFT_END ||
                     spot->kind == HF_SPOT_RIGHT_END;
  double turn = hf_or_zero(place->turn) + look_turn(look, spot, found.outward);
  HfPoint at = on_edge ? hf_point_polar(found.at, -inset, found.outward) : found.at;
  at = put_beside(laying, place, turned_box(laid->own, turn), at, spot->kind != HF_SPOT_NONE);
  at = hf_point_add(at, hf_place_shift(place));
  HfMatrix frame = hf_matrix_then(hf_matrix_turn(turn), hf_matrix_move(at.x, at.y));
  g_array_append_val(laid->frames, frame);
  return TRUE;
}

static gboolean
add_frames_between(HfLaying *laying, guint entry, GError **error)
{
  HfLaid *laid = &laying->laid[entry];
  const HfPlace *place = &hf_lay_entry(laying, entry)->place;
  double turn = hf_or_zero(place->turn);
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  if (!hf_lay_between(laying, entry, turned_box(laid->own, turn), points, error))
    return FALSE;
  for (guint i = 0; i < points->len; i++) {
    HfPoint at = hf_point_add(g_array_index(points, HfPoint, i), hf_place_shift(place));
    HfMatrix frame = hf_matrix_then(hf_matrix_turn(turn), hf_matrix_move(at.x, at.y));
    g_array_append_val(laid->frames, frame);
  }
  return TRUE;
}

gboolean
hf_lay_frames_looking(HfLaying *laying, guint entry, HfBox own, HfLook look, double inset,
                      GError **error)
{
  static const HfSpot nowhere = {.kind = HF_SPOT_NONE};
  HfLaid *laid = &laying->laid[entry];
  const GArray *at = hf_lay_entry(laying, entry)->place.at;
  guint n = at != NULL ? at->len : 0;
  laid->own = own;
  g_array_set_size(laid->frames, 0);
  gboolean between = hf_lay_is_between(hf_lay_entry(laying, entry));
  if (between && !add_frames_between(laying, entry, error))
    return FALSE;
  for (guint i = 0; !between && i < MAX(n, 1); i++)
    if (!add_frame(laying, entry, n > 0 ? &g_array_index(at, HfSpot, i) : &nowhere, look, inset,
                   error))
      return FALSE;
  laid->centre = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, 0), hf_point(0, 0));
  return TRUE;
}

gboolean
hf_lay_frames(HfLaying *laying, guint entry, HfBox own, GError **error)
{
  return hf_lay_frames_looking(laying, entry, own, HF_LOOK_UPRIGHT, 0, error);
}

void
hf_lay_shape(HfLaying *laying, guint entry, const HfOutline *own, gint letter)
{
  HfLaid *laid = &laying->laid[entry];
  const HfEntry *e = hf_lay_entry(laying, entry);
  gboolean opening = e->as == HF_AS_OPENING || hf_entry_is(e, HF_KIND_OPENS);
  for (guint i = 0; i < laid->frames->len; i++) {
    HfOutline *placed = hf_outline_new();
    hf_outline_append(placed, own, g_array_index(laid->frames, HfMatrix, i));
    HfShape *shape = hf_shape_new(placed, hf_lay_label(laying, entry, i), entry, letter, opening);
    shape->copy = i;
    shape->em = g_array_index(laid->frames, HfMatrix, i);
    g_ptr_array_add(laid->shapes, shape);
  }
}
