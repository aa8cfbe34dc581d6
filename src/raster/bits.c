/* SPDX-License-Identifier: GPL-3.0-or-later
 * bits.c - greys to dark and light.
 *
 * An edge that was drawn smooth is grey in the dots it runs through: by how much, it lies nearer
 * one side. So bits are finer than dots where there is room for it, and each takes the grey that
 * lies between the middles of the four dots round it.
 */
#include "raster/raster-private.h"
#include <math.h>

#define GREYS     256
#define MOST_BITS 16000000.0
#define FINEST    4.0

/* N. Otsu, "A threshold selection method from gray-level histograms", IEEE Trans. SMC 9 (1979)
 * 62-66: the two classes whose means are farthest apart for their sizes. Of thresholds that do it
 * equally well, the middle one. */
guint
hf_raster_otsu(const HfRaster *raster)
{
  gsize n = (gsize)raster->width * raster->height;
  guint64 count[GREYS] = {0};
  double all = 0, below = 0, n_below = 0, best = 0;
  guint first = 0, last = 0;
  for (gsize i = 0; i < n; i++)
    count[raster->grey[i]]++;
  for (guint i = 0; i < GREYS; i++)
    all += (double)count[i] * i;
  for (guint i = 0; i + 1 < GREYS; i++) {
    n_below += (double)count[i];
    below += (double)count[i] * i;
    double n_above = (double)n - n_below;
    if (n_below == 0 || n_above == 0)
      continue;
    double apart = below / n_below - (all - below) / n_above;
    double between = n_below * n_above * apart * apart;
    if (between > best * (1 + 1e-12)) {
      best = between;
      first = i + 1;
    }
    if (between >= best * (1 - 1e-12))
      last = i + 1;
  }
  return (first + last) / 2;
}

double
hf_raster_scale(const HfRaster *raster)
{
  double dots = (double)raster->width * raster->height;
  double scale = FINEST;
  while (scale > 0.5 && dots * scale * scale > MOST_BITS)
    scale /= 2;
  return scale;
}

/* ---- between the dots ------------------------------------------------------------------------ */

typedef struct {
  guint near, far; /* dots along a side that a bit lies between */
  guint share;     /* of the far one, in 256ths */
} Between;

/* The middle of bit @i in dots whose middles are 0, 1, 2 ...; at the rim the dot itself. */
static Between
between(guint i, double scale, guint n)
{
  double at = CLAMP((i + 0.5) / scale - 0.5, 0, n - 1.0);
  guint near = (guint)at;
  return (Between){near, MIN(near + 1, n - 1), (guint)lround((at - near) * 256)};
}

static void
fill_row(const HfRaster *raster, guint threshold, const Between *columns, Between row, guint width,
         gulong *bits)
{
  const guint8 *upper = raster->grey + (gsize)row.near * raster->width;
  const guint8 *lower = raster->grey + (gsize)row.far * raster->width;
  guint limit = threshold << 16;
  for (guint x = 0; x < width; x++) {
    const Between *c = &columns[x];
    guint up = upper[c->near] * (256 - c->share) + upper[c->far] * c->share;
    guint low = lower[c->near] * (256 - c->share) + lower[c->far] * c->share;
    if (up * (256 - row.share) + low * row.share < limit)
      bits[x / 64] |= 1ul << (63 - x % 64);
  }
}

HfBits
hf_raster_bits(const HfRaster *raster, guint threshold, double scale)
{
  HfBits bits = {.width = (guint)MAX(1, raster->width * scale),
                 .height = (guint)MAX(1, raster->height * scale)};
  bits.words = (bits.width + 63) / 64;
  bits.bits = g_new0(gulong, (gsize)bits.words * bits.height);
  g_autofree Between *columns = g_new(Between, bits.width);
  for (guint x = 0; x < bits.width; x++)
    columns[x] = between(x, scale, raster->width);
  for (guint y = 0; y < bits.height; y++)
    fill_row(raster, threshold, columns, between(y, scale, raster->height), bits.width,
             hf_bits_row(&bits, bits.height - 1 - y));
  return bits;
}

guint64
hf_bits_edges(const HfBits *bits)
{
  guint64 edges = 0;
  for (guint y = 0; y < bits->height; y++) {
    const gulong *row = hf_bits_row(bits, y);
    gulong before = 0;
    for (guint w = 0; w < bits->words; w++) {
      gulong shifted = row[w] >> 1 | before << 63;
      edges += (guint64)__builtin_popcountl(row[w] ^ shifted);
      before = row[w] & 1;
    }
  }
  return edges;
}
