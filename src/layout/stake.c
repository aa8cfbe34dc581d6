/* SPDX-License-Identifier: GPL-3.0-or-later
 * stake.c - what a sign is planted by: a strip that runs down into a point.
 *
 *   =+===+=      length: from the edge to the tip; point: how much of it tapers, left out: one and
 *    |   |       a half times the width
 *     \ /        The tip is round, of a joint limit in radius, at least 3 mm: a needle would burn
 *      U         away, and it goes into the ground as well (common practice, no source).
 */
#include "base/text.h"
#include "layout/fixture-private.h"

/* The taper runs from the shoulder to where it touches the round tip. */
static void
draw_stake(const HfStakeEntry *stake, double point, double tip, const HfSeat *seat, HfOutline *own)
{
  double half = stake->width / 2, shoulder = stake->length - point;
  double radius = MIN(tip, MIN(half, point)), middle = stake->length - radius;
  double far = hypot(half, middle - shoulder);
  double slant = atan2(middle - shoulder, -half) - asin(MIN(radius / far, 1));
  HfPoint touch = hf_point_polar(hf_point(0, middle), radius, slant - G_PI_2);
  hf_seat_begin(seat, own);
  hf_outline_line_to(own, hf_point(half, shoulder));
  hf_outline_line_to(own, touch);
  hf_outline_arc_to(own, hf_point(0, middle), 2 * (G_PI - slant), hf_point(-touch.x, touch.y));
  hf_outline_line_to(own, hf_point(-half, shoulder));
  hf_outline_close(own);
}

static void
add_stake(HfLaying *laying, guint entry, guint copy, const HfSeat *seat, double point)
{
  const HfStakeEntry *stake = &hf_lay_entry(laying, entry)->stake;
  g_autoptr(HfOutline) own = hf_outline_new();
  draw_stake(stake, point, MAX(laying->joint_limit, 3), seat, own);
  guint shape =
      hf_seat_shape(laying, entry, copy, seat, own, hf_lay_label(laying, entry, copy), FALSE);
  HfPoint tip = hf_matrix_apply(seat->frame, hf_point(0, stake->length));
  HfHang hang = {HF_HANG_STAKE, tip, 0, shape};
  g_array_append_val(laying->laid[entry].hangs, hang);
}

gboolean
hf_lay_stake(HfLaying *laying, guint entry, GError **error)
{
  const HfStakeEntry *stake = &hf_lay_entry(laying, entry)->stake;
  double point = isnan(stake->point) ? 1.5 * stake->width : stake->point;
  if (point > stake->length) {
    g_autofree char *length = hf_text_mm(stake->length), *given = hf_text_mm(point);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "make the stake longer or its point shorter",
                         "a stake %s long can't have a point of %s", length, given);
  }
  g_autoptr(GArray) seats = hf_lay_seats(laying, entry, stake->width, FALSE, error);
  for (guint i = 0; seats != NULL && i < seats->len; i++)
    add_stake(laying, entry, i, &g_array_index(seats, HfSeat, i), point);
  return seats != NULL;
}
