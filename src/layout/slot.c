/* SPDX-License-Identifier: GPL-3.0-or-later
 * slot.c - openings that are no circles and that a screw goes through: slots and keyholes.
 *
 *    slot                    keyhole   .-.
 *      .--------------.                |0|   0: where the screw comes to rest, its own middle;
 *     (   --- 0 ---    )               | |      the slot meets the head's opening at
 *      '--------------'               /   \     y = sqrt(R^2 - r^2) above its middle
 *      |<-- length -->|              (  +  )
 *                                     '---'
 */
#include "layout/hole-private.h"

static void
draw_slot(HfOutline *own, double width, double length)
{
  HfBox box = {{-length / 2, -width / 2}, {length / 2, width / 2}};
  hf_outline_add_rectangle(own, box, width / 2);
}

/* Counter-clockwise from where the slot leaves the head's opening on the right. */
static void
draw_keyhole(HfOutline *own, double head, double shank, double length)
{
  double big = head / 2, small = shank / 2;
  HfPoint middle = {0, -length};
  double meets = -length + sqrt(big * big - small * small);
  HfPoint right = {small, meets}, left = {-small, meets};
  hf_outline_begin(own, right);
  hf_outline_line_to(own, hf_point(small, 0));
  hf_outline_arc_to(own, hf_point(0, 0), G_PI, hf_point(-small, 0));
  hf_outline_line_to(own, left);
  hf_outline_arc_to(own, middle, 2 * G_PI - 2 * asin(small / big), right);
  hf_outline_close(own);
}

static gboolean
lay(HfLaying *laying, guint entry, const HfOutline *own, double across, double hanging,
    double diameter, GError **error)
{
  double inset = hf_hole_inset(laying, hf_lay_entry(laying, entry), across);
  if (!hf_lay_frames_looking(laying, entry, hf_outline_box(own), HF_LOOK_UPRIGHT, inset, error))
    return FALSE;
  hf_lay_shape(laying, entry, own, -1);
  hf_hole_hangs(laying, entry, hanging, diameter);
  return TRUE;
}

gboolean
hf_lay_slot(HfLaying *laying, guint entry, GError **error)
{
  const HfSlotEntry *slot = &hf_lay_entry(laying, entry)->slot;
  double width = hf_bore_mm(&slot->bore);
  g_autoptr(HfOutline) own = hf_outline_new();
  draw_slot(own, width, slot->length);
  return lay(laying, entry, own, slot->length, slot->hanging, width, error);
}

gboolean
hf_lay_keyhole(HfLaying *laying, guint entry, GError **error)
{
  const HfKeyholeEntry *keyhole = &hf_lay_entry(laying, entry)->keyhole;
  g_autoptr(HfOutline) own = hf_outline_new();
  draw_keyhole(own, keyhole->head, keyhole->shank, hf_keyhole_length(keyhole));
  return lay(laying, entry, own, keyhole->head, keyhole->hanging, keyhole->shank, error);
}
