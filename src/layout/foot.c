/* SPDX-License-Identifier: GPL-3.0-or-later
 * foot.c - what a sign stands on: a plain strip down from the lower edge.
 */
#include "layout/fixture-private.h"

gboolean
hf_lay_foot(HfLaying *laying, guint entry, GError **error)
{
  const HfFootEntry *foot = &hf_lay_entry(laying, entry)->foot;
  g_autoptr(GArray) seats = hf_lay_seats(laying, entry, foot->width, FALSE, error);
  for (guint i = 0; seats != NULL && i < seats->len; i++) {
    const HfSeat *seat = &g_array_index(seats, HfSeat, i);
    g_autoptr(HfOutline) own = hf_outline_new();
    hf_seat_begin(seat, own);
    hf_outline_line_to(own, hf_point(foot->width / 2, foot->height));
    hf_outline_line_to(own, hf_point(-foot->width / 2, foot->height));
    hf_outline_close(own);
    guint shape = hf_seat_shape(laying, entry, i, seat, own, hf_lay_label(laying, entry, i), FALSE);
    HfPoint end = hf_matrix_apply(seat->frame, hf_point(0, foot->height));
    HfHang hang = {HF_HANG_FOOT, end, 0, shape};
    g_array_append_val(laying->laid[entry].hangs, hang);
  }
  return seats != NULL;
}
