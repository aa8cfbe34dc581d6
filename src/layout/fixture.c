/* SPDX-License-Identifier: GPL-3.0-or-later
 * fixture.c - what is fixed to an edge and stands out from it: ear, foot, stake.
 *
 *            .-.                     own frame: 0, 0 on the edge of the carrier, y leads away.
 *           ( o )  ear               The root goes on below the edge, so that ear and carrier run
 *           |   |                    into each other over the whole width, never at a point:
 *      _____|_ _|_____ edge          on a ring or round plate the root is an arc about the same
 *           |___|    root            centre, elsewhere a line deep enough to lie in the metal.
 */
#include "base/text.h"
#include "layout/fixture-private.h"
#include "stock/practice.h"

enum { SAMPLES = 17 };

static const HfSpot default_up = {.kind = HF_SPOT_DIRECTION, .angle = G_PI_2};
static const HfSpot default_down = {.kind = HF_SPOT_DIRECTION, .angle = -G_PI_2};

static gboolean
has_flat_edge(const HfEntry *carrier, gboolean up)
{
  if (carrier->kind == HF_ENTRY_BAR)
    return TRUE;
  if (carrier->kind != HF_ENTRY_PLATE)
    return FALSE;
  switch (carrier->plate.shape) {
  case HF_PLATE_RECTANGLE:
  case HF_PLATE_ROUNDED:
    return TRUE;
  case HF_PLATE_ARCHED:
    return !up;
  case HF_PLATE_SHIELD:
    return up;
  default:
    return FALSE;
  }
}

static double
carrier_corner(const HfEntry *carrier, HfBox own)
{
  double corner = carrier->kind == HF_ENTRY_BAR ? carrier->bar.corner : carrier->plate.corner;
  if (!isnan(corner))
    return MIN(corner, MIN(hf_box_width(own), hf_box_height(own)) / 2);
  gboolean rounded = carrier->kind == HF_ENTRY_PLATE && carrier->plate.shape == HF_PLATE_ROUNDED;
  return rounded ? MIN(hf_box_width(own), hf_box_height(own)) / 8 : 0;
}

/* An end of a bar or flat edge: on its upper (or lower) side, flush with the end. */
static HfLaidSpot
flush_end(const HfLaid *carrier, const HfEntry *entry, gboolean left, double width, gboolean up)
{
  HfMatrix frame = g_array_index(carrier->frames, HfMatrix, 0);
  double in = width / 2 + carrier_corner(entry, carrier->own);
  HfPoint end = {left ? carrier->own.min.x + in : carrier->own.max.x - in,
                 up ? carrier->own.max.y : carrier->own.min.y};
  return (HfLaidSpot){hf_matrix_apply(frame, end),
                      (up ? G_PI_2 : -G_PI_2) + atan2(frame.yx, frame.xx)};
}

static HfLaidSpot
seat_spot(const HfLaying *laying, guint on, HfSpot spot, double width, gboolean up)
{
  const HfEntry *carrier = hf_lay_entry(laying, on);
  gboolean is_end = spot.kind == HF_SPOT_LEFT_END || spot.kind == HF_SPOT_RIGHT_END;
  if (is_end && has_flat_edge(carrier, up))
    return flush_end(&laying->laid[on], carrier, spot.kind == HF_SPOT_LEFT_END, width, up);
  HfLaidSpot found = hf_lay_spot(laying, on, spot, HF_SPOT_ON_EDGE);
  if (spot.kind == HF_SPOT_POINT || spot.kind == HF_SPOT_CENTRE)
    found.outward = up ? G_PI_2 : -G_PI_2;
  else if (!up && !(is_end && carrier->kind == HF_ENTRY_ARCH))
    found.outward = -G_PI_2; /* feet and stakes point at the ground, wherever they are fixed */
  return found;
}

/* All of the root line at depth @depth lies in the carrier's metal. */
static gboolean
root_is_inside(const HfRegion *carrier, HfMatrix frame, double width, double depth)
{
  for (int i = 0; i < SAMPLES; i++) {
    HfPoint own = {(i / (SAMPLES - 1.0) - 0.5) * width, -depth};
    if (!hf_region_contains(carrier, hf_matrix_apply(frame, own)))
      return FALSE;
  }
  return TRUE;
}

static HfRegion *
carrier_region(const HfLaid *laid)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  for (guint i = 0; i < laid->shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(laid->shapes, i);
    if (!shape->opening)
      hf_region_flatten(raw, shape->outline, i, HF_FLATTEN_MM);
  }
  return hf_region_clean(raw);
}

/* The least depth, in steps of a twentieth of the width, at which the root lies inside, and the
 * bite more where there is metal for it. */
static gboolean
straight_root(HfLaying *laying, guint entry, guint on, HfSeat *seat, GError **error)
{
  g_autoptr(HfRegion) region = carrier_region(&laying->laid[on]);
  double step = seat->width / 20, grid = 0.001;
  for (int i = 0; i <= 20; i++) {
    double depth = grid + i * step;
    if (!root_is_inside(region, seat->frame, seat->width - 2 * grid, depth))
      continue;
    seat->depth = depth;
    for (int k = 8; k > 0; k--)
      if (root_is_inside(region, seat->frame, seat->width - 2 * grid, depth + seat->bite * k / 8)) {
        seat->depth = depth + seat->bite * k / 8;
        break;
      }
    return TRUE;
  }
  const HfEntry *e = hf_lay_entry(laying, entry);
  g_autofree char *width = hf_text_mm(seat->width);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM,
                       "make it narrower, or put it where the edge is straighter",
                       "the edge of \"%s\" has no room there for %s, %s wide", e->place.on, e->name,
                       width);
}

static gboolean
round_root(HfLaying *laying, guint entry, guint on, HfSeat *seat, GError **error)
{
  const HfLaid *carrier = &laying->laid[on];
  double strip = carrier->outer - carrier->inner;
  HfPoint to_centre = hf_point_sub(carrier->centre, hf_point(seat->frame.x0, seat->frame.y0));
  HfMatrix f = seat->frame; /* a turn: its inverse is its transpose */
  seat->round = TRUE;
  seat->radius = carrier->outer - MIN(seat->bite, strip / 2);
  seat->centre =
      hf_point(f.xx * to_centre.x + f.yx * to_centre.y, f.xy * to_centre.x + f.yy * to_centre.y);
  if (fabs(seat->centre.x) + seat->width / 2 < 0.9 * seat->radius)
    return TRUE;
  const HfEntry *e = hf_lay_entry(laying, entry);
  g_autofree char *width = hf_text_mm(seat->width);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM,
                       "make it narrower, or put it nearer to the top or bottom",
                       "\"%s\" has no room there for %s, %s wide", e->place.on, e->name, width);
}

static gboolean
add_seat(HfLaying *laying, guint entry, guint on, HfSpot spot, double width, gboolean up,
         GArray *seats, GError **error)
{
  const HfEntry *carrier = hf_lay_entry(laying, on);
  const HfPlace *place = &hf_lay_entry(laying, entry)->place;
  HfLaidSpot at = seat_spot(laying, on, spot, width, up);
  HfPoint to = hf_point_add(at.at, hf_place_shift(place));
  HfMatrix move = hf_matrix_move(to.x, to.y);
  HfSeat seat = {.width = width, .bite = HF_OVER_LIMIT * laying->joint_limit};
  seat.frame = hf_matrix_then(hf_matrix_turn(at.outward - G_PI_2), move);
  gboolean is_end = spot.kind == HF_SPOT_LEFT_END || spot.kind == HF_SPOT_RIGHT_END;
  gboolean at_leg = carrier->kind == HF_ENTRY_ARCH && is_end;
  gboolean fits = TRUE;
  if (at_leg)
    seat.depth = seat.bite; /* a foot may be wider than the leg that it is under */
  else if (laying->laid[on].outer > 0 && spot.kind != HF_SPOT_POINT)
    fits = round_root(laying, entry, on, &seat, error);
  else
    fits = straight_root(laying, entry, on, &seat, error);
  if (fits)
    g_array_append_val(seats, seat);
  return fits;
}

GArray *
hf_lay_seats(HfLaying *laying, guint entry, double width, gboolean up, GError **error)
{
  const HfPlace *place = &hf_lay_entry(laying, entry)->place;
  guint on = 0;
  if (place->on == NULL) {
    hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                  "say on which ring, plate or bar, as in 'on: NAME'",
                  "what it is fixed to is not said");
    return NULL;
  }
  hf_lay_named(laying, place->on, &on);
  g_autoptr(GArray) seats = g_array_new(FALSE, FALSE, sizeof(HfSeat));
  guint n = place->at != NULL ? place->at->len : 0;
  for (guint i = 0; i < MAX(n, 1); i++) {
    HfSpot spot = n > 0 ? g_array_index(place->at, HfSpot, i) : up ? default_up : default_down;
    if (!hf_lay_has_spot(laying, entry, on, spot, error) ||
        !add_seat(laying, entry, on, spot, width, up, seats, error))
      return NULL;
  }
  HfLaid *laid = &laying->laid[entry];
  for (guint i = 0; i < seats->len; i++)
    g_array_append_val(laid->frames, g_array_index(seats, HfSeat, i).frame);
  laid->centre = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, 0), hf_point(0, 0));
  return g_steal_pointer(&seats);
}

static double
round_root_at(const HfSeat *seat, double x)
{
  double across = x - seat->centre.x;
  return seat->centre.y + sqrt(seat->radius * seat->radius - across * across);
}

HfPoint
hf_seat_begin(const HfSeat *seat, HfOutline *own)
{
  double half = seat->width / 2;
  HfPoint left = {-half, seat->round ? round_root_at(seat, -half) : -seat->depth};
  HfPoint right = {half, seat->round ? round_root_at(seat, half) : -seat->depth};
  hf_outline_begin(own, left);
  if (!seat->round) {
    hf_outline_line_to(own, right);
    return right;
  }
  double from = hf_angle_of(hf_point_sub(left, seat->centre));
  double to = hf_angle_of(hf_point_sub(right, seat->centre));
  hf_outline_arc_to(own, seat->centre, remainder(to - from, 2 * G_PI), right);
  return right;
}

guint
hf_seat_shape(HfLaying *laying, guint entry, guint copy, const HfSeat *seat, const HfOutline *own,
              char *label, gboolean opening)
{
  HfLaid *laid = &laying->laid[entry];
  HfOutline *placed = hf_outline_new();
  hf_outline_append(placed, own, seat->frame);
  HfShape *shape = hf_shape_new(placed, label, entry, -1, opening);
  shape->copy = copy;
  g_ptr_array_add(laid->shapes, shape);
  laid->own = hf_box_union(laid->own, hf_outline_box(own));
  return laid->shapes->len - 1;
}
