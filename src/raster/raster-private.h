/* SPDX-License-Identifier: GPL-3.0-or-later
 * raster-private.h - what the readers of pictures and the tracer share.
 */
#pragma once
#include "raster/raster.h"

/* What a reader fills, dot by dot from the top. */
typedef struct {
  const char *where;
  const guint8 *bytes;
  gsize length;
  const HfCancel *cancel; /* (nullable) */
  guint width, height;
  guint8 *grey;  /* the paint's own grey */
  guint8 *alpha; /* (nullable) 255: not seen through */
  double dot_mm; /* 0: not said */
  guint turn;    /* of EXIF, 1 to 8 */
  GError *error;
} HfPixels;

/* One format: the rows are in raster.c. */
typedef struct {
  const char *name;
  const char *magic;
  gsize length; /* of magic */
  gboolean (*read)(HfPixels *pixels);
} HfRasterReader;

extern const HfRasterReader hf_raster_png, hf_raster_jpeg;

/** hf_pixels_size: takes the size of a head and makes room; %FALSE with an error: over a cap. */
gboolean hf_pixels_size(HfPixels *pixels, gsize width, gsize height, gboolean has_alpha);
/** hf_pixels_broken: %FALSE, with an error that says @why unless there is one already. */
gboolean hf_pixels_broken(HfPixels *pixels, const char *why);
/** hf_pixels_go_on: for every row: %FALSE with an error when it was asked to stop. */
gboolean hf_pixels_go_on(HfPixels *pixels, guint row);

/** hf_exif_turn: 1 to 8 by the tag Orientation of the TIFF head @bytes; 1 where it says nothing. */
guint hf_exif_turn(const guint8 *bytes, gsize length);
/** hf_raster_turn: puts @raster as EXIF's @turn says that it is looked at. O(dots). */
void hf_raster_turn(HfRaster *raster, guint turn);

/* One bit a dot, 64 to a word, the first the highest; row 0 is the lowest one. */
typedef struct {
  guint width, height, words; /* a row */
  gulong *bits;
} HfBits;

static inline gulong *
hf_bits_row(const HfBits *bits, guint y)
{
  return bits->bits + (gsize)bits->words * y;
}

static inline gboolean
hf_bits_get(const gulong *row, guint x)
{
  return (row[x / 64] >> (63 - x % 64) & 1) != 0;
}

/** hf_raster_otsu: the threshold that parts @raster's greys best; 0: they are all one. */
guint hf_raster_otsu(const HfRaster *raster);
/** hf_raster_scale: 4, 2, 1 or 1/2: bits a dot along a side, so that there are some 16 million at
 *  most. */
double hf_raster_scale(const HfRaster *raster);
/** hf_raster_bits: (transfer full) what is darker than @threshold, @scale bits a dot, with the
 * greys between the dots' middles. */
HfBits hf_raster_bits(const HfRaster *raster, guint threshold, double scale);
/** hf_bits_drop_specks: turns over what hangs together of one colour, also by corners, and is less
 *  than @least bits. Adds to the counts. O(bits). */
void hf_bits_drop_specks(HfBits *bits, double least, guint *ret_dark, guint *ret_light);
/** hf_bits_edges: how often dark and light change along the rows. */
guint64 hf_bits_edges(const HfBits *bits);
