/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-counters.c - the counters of a letter: by the part of the area that is open (cut through:
 * is metal), and where the letter stands by being closed in.
 */
#include "hold/reads-private.h"

#define NEARLY_ALL 0.97 /* of a counter's edge: nothing lies in it */
#define LOOSE_MM   0.5  /* a counter's ring of the metal may reach out of its box by this */

/* Is the metal's ring no hole, or one that reaches out of the box? */
static gboolean
reaches_out(const HfRegion *metal, guint r, HfBox within)
{
  const HfRing *ring = hf_region_ring(metal, r);
  HfBox box = hf_ring_box(ring);
  return ring->parent < 0 || !hf_box_contains(within, box.min) || !hf_box_contains(within, box.max);
}

/* Its wall is in the air all round: it was cut out with it. Open, unless the hole that took it lies
 * within its piece. */
static gboolean
is_cut_out(const HfReading *reading, const HfInkRing *counter)
{
  const HfRegion *metal = reading->check->metal->region;
  HfBox within = hf_box_grow(reading->ink->rings[counter->piece].box, LOOSE_MM);
  HfPoint at = counter->spots[0].at;
  for (guint i = 0; i < counter->n; i++)
    if (counter->spots[i].ring >= 0 || counter->spots[i].metal)
      return FALSE;
  for (guint r = 0; r < metal->rings->len; r++)
    if (!reaches_out(metal, r, within) && hf_ring_holds(hf_region_ring(metal, r), at))
      return FALSE;
  return TRUE;
}

/* A standing letter's counter is open to what lies outside of it where the metal's ring that bounds
 * it is no hole, or reaches beyond it: however narrow the mouth is, the spots to both sides of it
 * lie on such a ring. */
static gboolean
is_open(const HfReading *reading, const HfInkRing *counter)
{
  HfBox within = hf_box_grow(counter->box, hf_ink_margin(reading->ink) - 1 + LOOSE_MM);
  gint last = -1;
  for (guint i = 0; i < counter->n; i++) {
    gint r = counter->spots[i].ring;
    if (r >= 0 && r != last && reaches_out(reading->check->metal->region, (guint)r, within))
      return TRUE;
    last = r >= 0 ? r : last;
  }
  return is_cut_out(reading, counter);
}

HfWorst
hf_reading_worst_counter(const HfReading *reading)
{
  const HfInk *ink = reading->ink;
  HfWorst worst = HF_WORST_NONE;
  for (guint r = 0; r < ink->n; r++) {
    const HfInkRing *ring = &ink->rings[r];
    if (!ring->counter || hf_reading_is_dust(ink, r))
      continue;
    HfPoint at = hf_box_centre(ring->box);
    if (!ink->opening && !reading->woven && is_open(reading, ring))
      hf_worst_keep(&worst, 0, r, at, "is open to the outside");
    else if (ring->shows <= NEARLY_ALL || ink->bolder > 0) /* what fills it hides its edge */
      hf_worst_keep(&worst, 100 * hf_ink_there(ink, reading->near, r), r, at,
                    ink->opening ? "is cut away" : "is filled");
  }
  return worst;
}
