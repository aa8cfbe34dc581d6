/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-strokes.c - the strokes of a letter that end somewhere: each by the part of its length
 * along which a side of it shows (ink-strokes.c finds them).
 *
 * Letters that join their neighbours lose nothing by it but where strokes end within the neighbour
 * more than where the face itself puts it (reads-melted.c says where that is).
 */
#include "hold/reads-private.h"

#define SHOWN_NATIVELY 0.6 /* of a stroke: neighbours that hide it are not the face's own */

/* Does the stroke show where the face itself puts the neighbours? */
static gboolean
shows_natively(HfReading *reading, const HfInkStroke *stroke)
{
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  guint shows = 0;
  if (reading->native == NULL)
    reading->native = hf_reads_native(reading->check, reading->shape);
  for (guint k = 0; reading->native != NULL && k <= stroke->reach; k++)
    shows +=
        !hf_region_contains(reading->native, ring->spots[(stroke->at + k) % ring->n].at) ||
        !hf_region_contains(reading->native, ring->spots[(stroke->at + ring->n - k) % ring->n].at);
  return shows > SHOWN_NATIVELY * (stroke->reach + 1);
}

/* Where it does not show it lies in the letters that it joins. */
static gboolean
ends_in_neighbour(HfReading *reading, const HfInkStroke *stroke, gboolean letters_only)
{
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  guint hidden = 0, joined = 0;
  for (guint k = 0; k <= stroke->reach; k++)
    for (int side = 0; side < 2; side++) {
      guint i = (stroke->at + (side == 0 ? k : ring->n - k)) % ring->n;
      if (ring->spots[i].ring >= 0)
        continue;
      hidden++;
      joined += hf_reading_in_neighbour(reading, ring->spots[i].at, letters_only) ? 1 : 0;
    }
  return 2 * joined > hidden;
}

/* A tail ends in the bar by leave of the recipe, any stroke in letters as the face has it. */
static gboolean
is_joined(HfReading *reading, const HfInkStroke *stroke)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  gboolean letters_only = !hf_reads_is_below(shape, stroke->tip);
  return (reading->joins || reading->of_words) &&
         ends_in_neighbour(reading, stroke, letters_only) &&
         !(ends_in_neighbour(reading, stroke, TRUE) && shows_natively(reading, stroke));
}

HfWorst
hf_reading_worst_stroke(HfReading *reading)
{
  HfWorst worst = HF_WORST_NONE;
  g_autoptr(GArray) strokes = hf_ink_strokes(reading->ink);
  double limit = reading->check->hold->limits[HF_LAW_CHANGED_LETTER].caution;
  for (guint i = 0; i < strokes->len; i++) {
    const HfInkStroke *stroke = &g_array_index(strokes, HfInkStroke, i);
    double share = 100 * stroke->shows;
    if (share >= limit || share >= worst.share || is_joined(reading, stroke))
      continue;
    hf_worst_keep(&worst, share, stroke->ring, stroke->tip, "does not show");
  }
  return worst;
}
