/* SPDX-License-Identifier: GPL-3.0-or-later
 * jpeg-read.c - JPEG through libjpeg: the brightness it keeps anyway, without its colours. libjpeg
 * ends a call that fails by a jump; nothing of ours is on the way.
 */
#include "raster/raster-private.h"
#include <setjmp.h>
#include <stdio.h>
/* after those: it has need of FILE */
#include <jerror.h>
#include <jpeglib.h>
#include <string.h>

#define MOST_SCANS  200 /* of a picture that comes in waves: each goes over all of it */
#define EXIF_HEAD   6   /* "Exif", 0, 0 */
#define INCH_MM     25.4
#define CM_MM       10.0
#define INK_COLOURS 4 /* cyan, magenta, yellow, black */

typedef struct {
  struct jpeg_error_mgr manager; /* first: libjpeg hands it back */
  struct jpeg_progress_mgr progress;
  HfPixels *pixels;
  jmp_buf out;
  guint8 *inks; /* one row, where it is printed colours */
} Reading;

/* By itself: a jump frees nothing. */
static void
tell(j_common_ptr jpeg)
{
  char why[JMSG_LENGTH_MAX];
  jpeg->err->format_message(jpeg, why);
  g_autofree char *text = g_utf8_make_valid(why, -1);
  hf_pixels_broken(((Reading *)jpeg->err)->pixels, text);
}

static void
leave(j_common_ptr jpeg)
{
  tell(jpeg);
  longjmp(((Reading *)jpeg->err)->out, 1);
}

/* What libjpeg would only warn of and fill up with grey is missing: nothing is made of it. */
static void
on_message(j_common_ptr jpeg, int level)
{
  int code = jpeg->err->msg_code;
  if (level < 0 && code != JWRN_EXTRANEOUS_DATA && code != JWRN_TOO_MUCH_DATA &&
      code != JWRN_ADOBE_XFORM && code != JWRN_JFIF_MAJOR)
    leave(jpeg);
}

static void
on_progress(j_common_ptr jpeg)
{
  Reading *reading = (Reading *)jpeg->err;
  if (jpeg->is_decompressor && ((j_decompress_ptr)jpeg)->input_scan_number > MOST_SCANS)
    hf_pixels_broken(reading->pixels, "it comes in too many scans");
  else if (hf_cancel_check(reading->pixels->cancel, &reading->pixels->error))
    return;
  longjmp(reading->out, 1);
}

static void
read_marks(j_decompress_ptr jpeg, HfPixels *pixels)
{
  static const double unit_mm[] = {0, INCH_MM, CM_MM};
  if (jpeg->saw_JFIF_marker && jpeg->density_unit < G_N_ELEMENTS(unit_mm) &&
      jpeg->X_density == jpeg->Y_density && jpeg->X_density > 1)
    pixels->dot_mm = unit_mm[jpeg->density_unit] / jpeg->X_density;
  for (jpeg_saved_marker_ptr mark = jpeg->marker_list; mark != NULL; mark = mark->next)
    if (mark->data_length > EXIF_HEAD && memcmp(mark->data, "Exif\0", EXIF_HEAD) == 0) {
      pixels->turn = hf_exif_turn(mark->data + EXIF_HEAD, mark->data_length - EXIF_HEAD);
      return;
    }
}

/* Printed colours: light that is left by each ink and by black. Files of Adobe's kind (all that are
 * met) store what is left, not the ink. */
static void
grey_of_inks(const guint8 *inks, guint8 *grey, guint width, gboolean stores_light)
{
  for (guint x = 0; x < width; x++, inks += INK_COLOURS) {
    guint light[INK_COLOURS];
    for (int i = 0; i < INK_COLOURS; i++)
      light[i] = stores_light ? inks[i] : 255u - inks[i];
    /* Rec. ITU-R BT.601 */
    guint colour = (299 * light[0] + 587 * light[1] + 114 * light[2]) / 1000;
    grey[x] = (guint8)(colour * light[3] / 255);
  }
}

static void
read_rows(j_decompress_ptr jpeg, Reading *reading)
{
  HfPixels *pixels = reading->pixels;
  while (jpeg->output_scanline < jpeg->output_height) {
    guint8 *grey = pixels->grey + (gsize)jpeg->output_scanline * pixels->width;
    JSAMPROW row = reading->inks != NULL ? reading->inks : grey;
    jpeg_read_scanlines(jpeg, &row, 1);
    if (reading->inks != NULL)
      grey_of_inks(reading->inks, grey, pixels->width, jpeg->saw_Adobe_marker);
  }
}

/* All that libjpeg may jump out of. */
static gboolean
read_all(j_decompress_ptr jpeg, Reading *reading)
{
  HfPixels *pixels = reading->pixels;
  if (setjmp(reading->out) != 0)
    return FALSE;
  jpeg_create_decompress(jpeg);
  jpeg->progress = &reading->progress;
  jpeg_save_markers(jpeg, JPEG_APP0 + 1, 0xffff);
  jpeg_mem_src(jpeg, pixels->bytes, pixels->length);
  jpeg_read_header(jpeg, TRUE);
  read_marks(jpeg, pixels);
  if (!hf_pixels_size(pixels, jpeg->image_width, jpeg->image_height, FALSE))
    return FALSE;
  gboolean inks = jpeg->jpeg_color_space == JCS_CMYK || jpeg->jpeg_color_space == JCS_YCCK;
  jpeg->out_color_space = inks ? JCS_CMYK : JCS_GRAYSCALE;
  if (inks)
    reading->inks = (guint8 *)g_malloc(INK_COLOURS * (gsize)pixels->width);
  jpeg_start_decompress(jpeg);
  read_rows(jpeg, reading);
  jpeg_finish_decompress(jpeg);
  return TRUE;
}

static gboolean
read_jpeg(HfPixels *pixels)
{
  struct jpeg_decompress_struct jpeg = {0};
  Reading reading = {.pixels = pixels, .progress.progress_monitor = on_progress};
  jpeg.err = jpeg_std_error(&reading.manager);
  reading.manager.error_exit = leave;
  reading.manager.emit_message = on_message;
  gboolean whole = read_all(&jpeg, &reading);
  jpeg_destroy_decompress(&jpeg);
  g_free(reading.inks);
  return whole;
}

const HfRasterReader hf_raster_jpeg = {"JPEG", "\xff\xd8\xff", 3, read_jpeg};
