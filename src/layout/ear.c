/* SPDX-License-Identifier: GPL-3.0-or-later
 * ear.c - what a sign hangs by: a tab with a round head and a hole in it.
 *
 *      .--.        width: the hole and, on both sides, 3/4 of it or 1.5 joint limits if more
 *     /  _ \       height: to the top of the head; the hole's middle is half a width below it
 *    |  (_) |
 *    |      |      With a neck as long as half the width, so that hook or screw head clears what
 *   =+======+=     carries the ear (common practice, no source).
 */
#include "base/text.h"
#include "layout/fixture-private.h"

static double
ear_width(const HfLaying *laying, const HfEarEntry *ear)
{
  double wall = MAX(0.75 * ear->hole, 1.5 * laying->joint_limit);
  return isnan(ear->width) ? ear->hole + 2 * wall : ear->width;
}

static gboolean
check_ear(HfLaying *laying, guint entry, double width, double head, GError **error)
{
  const HfEarEntry *ear = &hf_lay_entry(laying, entry)->ear;
  g_autofree char *hole = hf_text_mm(ear->hole);
  if (width < ear->hole + 2 * laying->joint_limit) {
    g_autofree char *given = hf_text_mm(width);
    g_autofree char *least = hf_text_at_least(ear->hole + 2 * laying->joint_limit);
    g_autofree char *fix = g_strdup_printf("make it at least %s wide", least);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM, fix,
                         "an ear %s wide leaves too little metal beside a hole of %s", given, hole);
  }
  if (head < 0) {
    g_autofree char *least = hf_text_at_least(width / 2);
    g_autofree char *fix = g_strdup_printf("make it at least %s high", least);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM, fix,
                         "an ear has a round head as wide as itself, and this one is lower");
  }
  return TRUE;
}

static void
add_ear(HfLaying *laying, guint entry, guint copy, const HfSeat *seat, double head)
{
  double half = seat->width / 2, hole = hf_lay_entry(laying, entry)->ear.hole;
  HfPoint middle = {0, head};
  g_autoptr(HfOutline) tab = hf_outline_new(), round = hf_outline_new();
  hf_seat_begin(seat, tab);
  hf_outline_line_to(tab, hf_point(half, head));
  hf_outline_arc_to(tab, middle, G_PI, hf_point(-half, head));
  hf_outline_close(tab);
  hf_outline_add_circle(round, middle, hole / 2);
  char *label = hf_lay_label(laying, entry, copy);
  char *hole_label = g_strdup_printf("hole of %s", label);
  guint shape = hf_seat_shape(laying, entry, copy, seat, tab, label, FALSE);
  hf_seat_shape(laying, entry, copy, seat, round, hole_label, TRUE);
  HfHang hang = {HF_HANG_HOLE, hf_matrix_apply(seat->frame, middle), hole, shape};
  g_array_append_val(laying->laid[entry].hangs, hang);
}

gboolean
hf_lay_ear(HfLaying *laying, guint entry, GError **error)
{
  const HfEarEntry *ear = &hf_lay_entry(laying, entry)->ear;
  double width = ear_width(laying, ear);
  double head = isnan(ear->height) ? width / 2 : ear->height - width / 2;
  if (!check_ear(laying, entry, width, head, error))
    return FALSE;
  g_autoptr(GArray) seats = hf_lay_seats(laying, entry, width, TRUE, error);
  for (guint i = 0; seats != NULL && i < seats->len; i++)
    add_ear(laying, entry, i, &g_array_index(seats, HfSeat, i), head);
  return seats != NULL;
}
