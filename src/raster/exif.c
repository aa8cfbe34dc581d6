/* SPDX-License-Identifier: GPL-3.0-or-later
 * exif.c - how a picture is to be turned to be looked at. Source: CIPA DC-008 (Exif 2.32), 4.6.2
 * and the tag Orientation, 274: where row 0 and column 0 of what is stored are seen.
 */
#include "raster/raster-private.h"
#include <string.h>

#define ORIENTATION 0x0112
#define SHORT       3
#define MOST_TAGS   1000

typedef struct {
  const guint8 *bytes;
  gsize length;
  gboolean little;
} Tiff;

static guint32
number(const Tiff *tiff, gsize at, guint size)
{
  guint32 value = 0;
  if (tiff->length < size || at > tiff->length - size)
    return 0;
  for (guint i = 0; i < size; i++)
    value = value << 8 | tiff->bytes[at + (tiff->little ? size - 1 - i : i)];
  return value;
}

guint
hf_exif_turn(const guint8 *bytes, gsize length)
{
  Tiff tiff = {bytes, length, length > 0 && bytes[0] == 'I'};
  if (length < 8 || (memcmp(bytes, "II*\0", 4) != 0 && memcmp(bytes, "MM\0*", 4) != 0))
    return 1;
  gsize at = number(&tiff, 4, 4);
  guint tags = MIN(number(&tiff, at, 2), MOST_TAGS);
  for (guint i = 0; i < tags; i++) {
    gsize tag = at + 2 + 12 * (gsize)i;
    if (number(&tiff, tag, 2) != ORIENTATION || number(&tiff, tag + 2, 2) != SHORT)
      continue;
    guint turn = number(&tiff, tag + 8, 2);
    return turn >= 1 && turn <= 8 ? turn : 1;
  }
  return 1;
}

/* Where what is seen at column x, row y is stored: each as from its start or from its end. */
static const struct {
  gboolean swap, right, bottom; /* x and y change places; then from the right, from the bottom */
} turns[9] = {
    [1] = {FALSE, FALSE, FALSE}, [2] = {FALSE, TRUE, FALSE}, [3] = {FALSE, TRUE, TRUE},
    [4] = {FALSE, FALSE, TRUE},  [5] = {TRUE, FALSE, FALSE}, [6] = {TRUE, FALSE, TRUE},
    [7] = {TRUE, TRUE, TRUE},    [8] = {TRUE, TRUE, FALSE},
};

void
hf_raster_turn(HfRaster *raster, guint turn)
{
  if (turn == 1)
    return;
  guint stored_width = raster->width, stored_height = raster->height;
  if (turns[turn].swap) {
    raster->width = stored_height;
    raster->height = stored_width;
  }
  guint8 *seen = (guint8 *)g_malloc((gsize)raster->width * raster->height);
  for (guint y = 0; y < raster->height; y++)
    for (guint x = 0; x < raster->width; x++) {
      guint column = turns[turn].swap ? y : x, row = turns[turn].swap ? x : y;
      column = turns[turn].right ? stored_width - 1 - column : column;
      row = turns[turn].bottom ? stored_height - 1 - row : row;
      seen[(gsize)y * raster->width + x] = raster->grey[(gsize)row * stored_width + column];
    }
  g_free(raster->grey);
  raster->grey = seen;
}
