/* SPDX-License-Identifier: GPL-3.0-or-later
 * png-read.c - PNG through libpng: every kind of dot comes as one grey and how far it covers.
 * libpng ends a call that fails by a jump; nothing of ours is on the way.
 */
#include "raster/raster-private.h"
#include <png.h>
#include <string.h>

#define CHUNK_MOST (8u << 20) /* bytes of any chunk but the dots */

typedef struct {
  HfPixels *pixels;
  gsize at;
  guint8
      *both; /* grey, alpha, grey, alpha ... of all rows: a laced picture comes in seven passes */
  gboolean done;
} Reading;

static void
on_error(png_structp png, const char *why)
{
  Reading *reading = (Reading *)png_get_error_ptr(png);
  if (!reading->done)
    hf_pixels_broken(reading->pixels, why);
  png_longjmp(png, 1);
}

static void
on_warning(png_structp png, const char *why)
{
  (void)png;
  (void)why;
}

static void
give_bytes(png_structp png, png_bytep to, size_t n)
{
  Reading *reading = (Reading *)png_get_io_ptr(png);
  if (n > reading->pixels->length - reading->at)
    png_error(png, "it is cut short");
  memcpy(to, reading->pixels->bytes + reading->at, n);
  reading->at += n;
}

static gboolean
read_head(png_structp png, png_infop info, Reading *reading)
{
  HfPixels *pixels = reading->pixels;
  png_uint_32 x = 0, y = 0;
  int unit = PNG_RESOLUTION_UNKNOWN;
  png_read_info(png, info);
  if (!hf_pixels_size(pixels, png_get_image_width(png, info), png_get_image_height(png, info),
                      TRUE))
    return FALSE;
  if (png_get_pHYs(png, info, &x, &y, &unit) != 0 && unit == PNG_RESOLUTION_METER && x == y &&
      x > 0)
    pixels->dot_mm = 1000.0 / x;
  if ((png_get_color_type(png, info) & PNG_COLOR_MASK_COLOR) != 0)
    png_set_rgb_to_gray_fixed(png, PNG_ERROR_ACTION_NONE, -1, -1);
  png_set_scale_16(png);
  png_set_expand(png);
  png_set_add_alpha(png, 255, PNG_FILLER_AFTER);
  return TRUE;
}

static gboolean
read_rows(png_structp png, png_infop info, Reading *reading)
{
  HfPixels *pixels = reading->pixels;
  int passes = png_set_interlace_handling(png);
  gsize stride = 2 * (gsize)pixels->width;
  png_read_update_info(png, info);
  if (png_get_rowbytes(png, info) != stride)
    return hf_pixels_broken(pixels, "its dots are of a kind that is not known");
  reading->both = (guint8 *)g_malloc0(stride * pixels->height);
  for (int pass = 0; pass < passes; pass++)
    for (guint y = 0; y < pixels->height; y++) {
      if (!hf_pixels_go_on(pixels, y))
        return FALSE;
      png_read_row(png, reading->both + y * stride, NULL);
    }
  reading->done = TRUE;
  return TRUE;
}

static void
read_turn(png_structp png, png_infop info, HfPixels *pixels)
{
  png_bytep exif = NULL;
  png_uint_32 length = 0;
  if (png_get_eXIf_1(png, info, &length, &exif) != 0 && exif != NULL)
    pixels->turn = hf_exif_turn(exif, length);
}

/* All that libpng may jump out of. What lies behind the last row (its end, notes) is not missed. */
static gboolean
read_all(png_structp png, png_infop info, Reading *reading)
{
  if (setjmp(png_jmpbuf(png)) != 0)
    return reading->done;
  png_set_read_fn(png, reading, give_bytes);
  png_set_user_limits(png, PNG_UINT_31_MAX, PNG_UINT_31_MAX); /* the caps are our own */
  png_set_chunk_malloc_max(png, CHUNK_MOST);
  png_set_chunk_cache_max(png, 100);
  if (!read_head(png, info, reading) || !read_rows(png, info, reading))
    return FALSE;
  png_read_end(png, info);
  return TRUE;
}

static gboolean
read_png(HfPixels *pixels)
{
  Reading reading = {.pixels = pixels};
  png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, &reading, on_error, on_warning);
  g_assert(png != NULL);
  png_infop info = png_create_info_struct(png);
  gboolean whole = read_all(png, info, &reading);
  if (whole)
    read_turn(png, info, pixels);
  png_destroy_read_struct(&png, &info, NULL);
  gsize n = (gsize)pixels->width * pixels->height;
  for (gsize i = 0; whole && i < n; i++) {
    pixels->grey[i] = reading.both[2 * i];
    pixels->alpha[i] = reading.both[2 * i + 1];
  }
  g_free(reading.both);
  return whole;
}

const HfRasterReader hf_raster_png = {"PNG", "\x89PNG\r\n\x1a\n", 8, read_png};
