/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_picture.c - any bytes as a picture, and as marks of EXIF. What is read is traced and keeps
 * the promises of raster.h.
 */
#include "drawing/drawing.h"
#include "raster/raster-private.h"
#include <string.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

#define MOST_TRACED 250000 /* dots: a larger one is only read */

static void
check_shape(const HfRaster *raster, const HfTracedShape *shape)
{
  HfBox box = hf_outline_box(shape->outline);
  g_assert(hf_outline_n_contours(shape->outline) > 0);
  g_assert(box.min.x >= -1 && box.min.y >= -1);
  g_assert(box.max.x <= raster->width + 1 && box.max.y <= raster->height + 1);
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  guint turn = hf_exif_turn(data, size);
  g_assert(turn >= 1 && turn <= 8);
  g_autoptr(GError) error = NULL, why = NULL;
  g_autoptr(HfRaster) raster = hf_raster_read("picture", data, size, NULL, &error);
  g_assert((raster == NULL) == (error != NULL));
  if (raster == NULL) {
    g_assert(error->domain == HF_ERROR && error->code != HF_ERROR_BUG);
    return 0;
  }
  g_assert(raster->width > 0 && raster->height > 0 &&
           (gsize)raster->width * raster->height <= HF_RASTER_MOST_DOTS);
  if ((gsize)raster->width * raster->height > MOST_TRACED)
    return 0;
  g_autoptr(HfTraced) traced = hf_raster_trace("picture", raster, 0, 4, NULL, &why);
  g_assert((traced == NULL) == (why != NULL));
  for (guint i = 0; traced != NULL && i < traced->shapes->len; i++)
    check_shape(raster, (const HfTracedShape *)traced->shapes->pdata[i]);
  return 0;
}
