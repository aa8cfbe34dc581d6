/* SPDX-License-Identifier: GPL-3.0-or-later
 * raster.h - a picture of dots: its bytes into one grey a dot, and what is dark in it into outlines
 * of true curves (the door of raster/).
 *
 *   photograph.jpg ─> 3000 x 4000 greys, turned as it is looked at ─> threshold 117
 *                  ─> without 41 specks ─> 3 shapes with their openings, as lines and cubics
 *
 * Frame of what is traced: one dot is one unit, x to the right, y up, the lower left corner of the
 * picture is 0, 0. Paper is what is light; what is seen through is paper. A picture whose figure is
 * light on nothing (no dark, but much that is seen through) is taken by what is not seen through.
 */
#pragma once
#include "base/cancel.h"
#include "geom/outline.h"

#define HF_RASTER_MOST_DOTS 64000000u /* a picture: 64 megapixels */
#define HF_RASTER_MOST_SIDE 32000u    /* dots */
#define HF_RASTER_SPECK     4         /* dots: less is noise, not drawing */

/* Dots by which the edge of what is traced is off the edge that was pictured, at most: what the
 * checks of tests/oracle/test_raster.py hold it to. */
#define HF_RASTER_OFF 0.6

typedef struct {
  guint width, height;
  guint8 *grey;   /* width * height of them, from the top: 0 black, 255 white */
  double dot_mm;  /* as the file says; 0: it says nothing */
  guint turn;     /* of EXIF: 1 as it is, to 8; already done */
  gboolean light; /* by what is not seen through */
} HfRaster;

/* One shape: an edge and its openings. */
typedef struct {
  HfOutline *outline; /* dark on the left of each contour */
  double area;        /* dots */
} HfTracedShape;

typedef struct {
  GPtrArray *shapes;      /* HfTracedShape *, from the top down */
  guint threshold;        /* 1 to 255: darker is dark */
  guint specks, pinholes; /* dark and light ones that were left out */
  gboolean dark_paper;    /* most of the picture's rim is dark */
  double off;             /* dots: HF_RASTER_OFF, more where it was traced from fewer dots */
} HfTraced;

/** hf_raster_is: is it a picture that is read here, by its first bytes: "PNG", "JPEG"; or %NULL. */
const char *hf_raster_is(const void *bytes, gsize length);

/**
 * hf_raster_read:
 * @cancel: (nullable) asked every few rows
 * Returns: (transfer full); or %NULL with %HF_ERROR_BAD_VALUE (no picture that is read here,
 * broken, cut short), %HF_ERROR_TOO_BIG (more dots than the caps: seen in its head, before a dot is
 *   decoded) or %HF_ERROR_CANCELLED. Some 10 ns a dot.
 */
HfRaster *hf_raster_read(const char *where, const void *bytes, gsize length, const HfCancel *cancel,
                         GError **error);
/** hf_raster_free: frees it and all that it owns; %NULL: nothing. */
void hf_raster_free(HfRaster *raster);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfRaster, hf_raster_free)

/**
 * hf_raster_trace:
 * @threshold: 1 to 255; 0: the one by Otsu
 * @speck: dots; dark and light places of less are left out
 * Returns: (transfer full); or %NULL with %HF_ERROR_BAD_VALUE (all of one grey, nothing is dark),
 *   %HF_ERROR_TOO_BIG (more edges than can be a drawing) or %HF_ERROR_CANCELLED. About 100 ns a
 * dot.
 */
HfTraced *hf_raster_trace(const char *where, const HfRaster *raster, guint threshold, double speck,
                          const HfCancel *cancel, GError **error);
/** hf_traced_free: frees it and all that it owns; %NULL: nothing. */
void hf_traced_free(HfTraced *traced);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTraced, hf_traced_free)
