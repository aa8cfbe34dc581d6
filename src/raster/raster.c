/* SPDX-License-Identifier: GPL-3.0-or-later
 * raster.c - which reader a picture is for, its caps, and greys on white paper.
 */
#include "raster/raster-private.h"
#include <string.h>

#define MEGA 1000000u

static const HfRasterReader *const readers[] = {&hf_raster_png, &hf_raster_jpeg};

static const HfRasterReader *
reader_of(const void *bytes, gsize length)
{
  for (guint i = 0; i < G_N_ELEMENTS(readers); i++)
    if (length >= readers[i]->length && memcmp(bytes, readers[i]->magic, readers[i]->length) == 0)
      return readers[i];
  return NULL;
}

const char *
hf_raster_is(const void *bytes, gsize length)
{
  const HfRasterReader *reader = reader_of(bytes, length);
  return reader != NULL ? reader->name : NULL;
}

/* ---- what readers call ----------------------------------------------------------------------- */

gboolean
hf_pixels_size(HfPixels *pixels, gsize width, gsize height, gboolean has_alpha)
{
  if (width == 0 || height == 0)
    return hf_pixels_broken(pixels, "it has no dots");
  if (width > HF_RASTER_MOST_SIDE || height > HF_RASTER_MOST_SIDE ||
      width * height > HF_RASTER_MOST_DOTS) {
    hf_error_set(&pixels->error, HF_ERROR_TOO_BIG, pixels->where, "save it with fewer dots",
                 "the picture has %" G_GSIZE_FORMAT " by %" G_GSIZE_FORMAT
                 " dots: more than %u million, or than %u along a side",
                 width, height, HF_RASTER_MOST_DOTS / MEGA, HF_RASTER_MOST_SIDE);
    return FALSE;
  }
  pixels->width = (guint)width;
  pixels->height = (guint)height;
  pixels->grey = (guint8 *)g_malloc(width * height);
  pixels->alpha = has_alpha ? (guint8 *)g_malloc(width * height) : NULL;
  return TRUE;
}

gboolean
hf_pixels_broken(HfPixels *pixels, const char *why)
{
  if (pixels->error == NULL)
    hf_error_set(&pixels->error, HF_ERROR_BAD_VALUE, pixels->where,
                 "open it in a picture program and save it again", "the picture is broken: %s",
                 why);
  return FALSE;
}

gboolean
hf_pixels_go_on(HfPixels *pixels, guint row)
{
  return row % 64 != 0 || hf_cancel_check(pixels->cancel, &pixels->error);
}

/* ---- paper ----------------------------------------------------------------------------------- */

static gboolean
has_ink(const guint8 *grey, gsize n)
{
  guint8 least = 255, most = 0;
  for (gsize i = 0; i < n; i++) {
    least = MIN(least, grey[i]);
    most = MAX(most, grey[i]);
  }
  return most - least > 32;
}

/* What is seen through is paper, and paper is white. A white figure on nothing is gone then: what
 * is not seen through is its ink. */
static void
lay_on_paper(HfPixels *pixels, HfRaster *raster)
{
  gsize n = (gsize)raster->width * raster->height;
  for (gsize i = 0; pixels->alpha != NULL && i < n; i++) {
    guint a = pixels->alpha[i];
    raster->grey[i] = (guint8)((raster->grey[i] * a + 255 * (255 - a) + 127) / 255);
  }
  if (pixels->alpha == NULL || has_ink(raster->grey, n) || !has_ink(pixels->alpha, n))
    return;
  raster->light = TRUE;
  for (gsize i = 0; i < n; i++)
    raster->grey[i] = (guint8)(255 - pixels->alpha[i]);
}

HfRaster *
hf_raster_read(const char *where, const void *bytes, gsize length, const HfCancel *cancel,
               GError **error)
{
  const HfRasterReader *reader = reader_of(bytes, length);
  if (reader == NULL) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "save it as PNG or JPEG",
                 "it is no picture of a kind that is read here");
    return NULL;
  }
  HfPixels pixels = {where, (const guint8 *)bytes, length, cancel, .turn = 1};
  HfRaster *raster = NULL;
  if (reader->read(&pixels)) {
    raster = g_new0(HfRaster, 1);
    *raster = (HfRaster){pixels.width,  pixels.height, g_steal_pointer(&pixels.grey),
                         pixels.dot_mm, pixels.turn,   FALSE};
    lay_on_paper(&pixels, raster);
    hf_raster_turn(raster, pixels.turn);
  } else {
    g_propagate_error(error, pixels.error);
  }
  g_free(pixels.grey);
  g_free(pixels.alpha);
  return raster;
}

void
hf_raster_free(HfRaster *raster)
{
  if (raster == NULL)
    return;
  g_free(raster->grey);
  g_free(raster);
}
