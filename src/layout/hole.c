/* SPDX-License-Identifier: GPL-3.0-or-later
 * hole.c - one round hole, or one in each of several places; the sign may hang by it.
 *
 * At a direction or an end of a plate or bar a hole keeps in from the edge: metal as wide as the
 * hole, and at least 1.5 joint limits, which is above every limit for a hole near an edge.
 */
#include "layout/hole-private.h"

double
hf_hole_inset(const HfLaying *laying, const HfEntry *entry, double across)
{
  guint on = 0;
  if (entry->place.on == NULL)
    return 0;
  hf_lay_named(laying, entry->place.on, &on);
  HfEntryKind kind = hf_lay_entry(laying, on)->kind;
  if (kind == HF_ENTRY_RING || kind == HF_ENTRY_ARCH)
    return 0; /* it sits in the middle of the strip */
  return across / 2 + MAX(across, 1.5 * laying->joint_limit);
}

void
hf_hole_hangs(HfLaying *laying, guint entry, double hanging, double diameter)
{
  HfLaid *laid = &laying->laid[entry];
  gboolean hung = isnan(hanging) ? laying->recipe->mount == HF_MOUNT_HOLES : hanging > 0;
  for (guint i = 0; hung && i < laid->frames->len; i++) {
    HfPoint at = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, i), hf_point(0, 0));
    HfHang hang = {HF_HANG_HOLE, at, diameter, i};
    g_array_append_val(laid->hangs, hang);
  }
}

gboolean
hf_lay_hole(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  double diameter = hf_bore_mm(&e->hole.bore);
  g_autoptr(HfOutline) own = hf_outline_new();
  hf_outline_add_circle(own, hf_point(0, 0), diameter / 2);
  HfBox box = hf_outline_box(own);
  if (!(hf_hole_has_pattern(&e->hole)
            ? hf_hole_frames(laying, entry, box, error)
            : hf_lay_frames_looking(laying, entry, box, HF_LOOK_UPRIGHT,
                                    hf_hole_inset(laying, e, diameter), error)))
    return FALSE;
  hf_lay_shape(laying, entry, own, -1);
  hf_hole_hangs(laying, entry, e->hole.hanging, diameter);
  return TRUE;
}
