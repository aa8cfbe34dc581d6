/* SPDX-License-Identifier: GPL-3.0-or-later
 * plate.c - a flat shape of metal that the rest stands on or is cut from.
 *
 * Each shape is drawn about its own middle from true arcs and lines (the oval from cubics); how
 * each is worked out is in docs/maths.md#plates.
 */
#include "base/text.h"
#include "layout/layout-private.h"

typedef gboolean (*DrawFunc)(HfLaying *laying, guint entry, HfOutline *own, GError **error);

static const HfPlateEntry *
plate_of(const HfLaying *laying, guint entry)
{
  return &hf_lay_entry(laying, entry)->plate;
}

static HfBox
plate_box(const HfPlateEntry *plate)
{
  return (HfBox){{-plate->width / 2, -plate->height / 2}, {plate->width / 2, plate->height / 2}};
}

static gboolean
draw_round(HfLaying *laying, guint entry, HfOutline *own, GError **error)
{
  (void)error;
  double radius = plate_of(laying, entry)->diameter / 2;
  hf_outline_add_circle(own, hf_point(0, 0), radius);
  laying->laid[entry].outer = radius;
  return TRUE;
}

static gboolean
draw_rectangle(HfLaying *laying, guint entry, HfOutline *own, GError **error)
{
  (void)error;
  const HfPlateEntry *plate = plate_of(laying, entry);
  double corner = plate->corner;
  if (isnan(corner))
    corner = plate->shape == HF_PLATE_ROUNDED ? MIN(plate->width, plate->height) / 8 : 0;
  hf_outline_add_rectangle(own, plate_box(plate), corner);
  return TRUE;
}

static const DrawFunc draw_shape[] = {
    [HF_PLATE_ROUND] = draw_round,
    [HF_PLATE_RECTANGLE] = draw_rectangle,
    [HF_PLATE_ROUNDED] = draw_rectangle,
    [HF_PLATE_OUTLINE] = NULL,
};

gboolean
hf_lay_plate(HfLaying *laying, guint entry, GError **error)
{
  g_autoptr(HfOutline) own = hf_outline_new();
  DrawFunc draw = draw_shape[plate_of(laying, entry)->shape];
  g_assert(draw != NULL);
  if (!draw(laying, entry, own, error) || !hf_lay_frames(laying, entry, hf_outline_box(own), error))
    return FALSE;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}
