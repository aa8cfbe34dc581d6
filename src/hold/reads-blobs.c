/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-blobs.c - how much a letter's form differs where something is taken off it or laid into it,
 * whatever the form of that: its largest blob, a place where it is nearly as wide as a stroke.
 *
 *      ______             A hair's breadth along an edge, a crumb in a corner and a slim tie are
 *     |__  __|   .-.      no blob: of what differs only that counts which a disc a third of a
 *        |#| <--(   )     stroke in radius reaches (its opening, J. Serra, Image Analysis and
 *        | |     `-'      Mathematical Morphology, 1982; from memory), in squares of the stroke.
 *
 * Of more than one place the largest counts, and half of the others. One square is a caution, two
 * are a stop. Common practice, no source. Cost: two offsets.
 */
#include "hold/reads-private.h"

#define DISC     0.33 /* strokes: radius */
#define COARSE   0.02 /* strokes: its chords */
#define OTHERS   0.5
#define CAUTION  50.0 /* % for the first square */
#define STOP     25.0 /* % for each one more */
#define ONE_MORE 75.0

HfBlob
hf_reading_largest_blob(const HfRegion *differs, double stroke)
{
  HfBlob blob = {0, {0, 0}};
  double all = 0;
  g_autoptr(HfRegion) core = hf_region_offset(differs, -DISC * stroke, COARSE * stroke);
  g_autoptr(HfRegion) grown = hf_region_offset(core, (DISC + COARSE) * stroke, COARSE * stroke);
  g_autoptr(HfRegion) blobs = hf_region_intersect(grown, differs);
  for (guint r = 0; r < blobs->rings->len; r++) {
    if (hf_region_ring(blobs, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(blobs, r);
    double squares = hf_region_area(part) / (stroke * stroke);
    all += squares;
    if (squares > blob.squares)
      blob = (HfBlob){squares, hf_region_centroid(part)};
  }
  blob.squares += OTHERS * (all - blob.squares);
  return blob;
}

double
hf_reading_left_of_blob(double squares)
{
  return CLAMP(fmax(100 - CAUTION * squares, ONE_MORE - STOP * squares), 0, 100);
}
