/* SPDX-License-Identifier: GPL-3.0-or-later
 * ring.c - a round strip of metal: two full circles about one centre, wound against each other.
 */
#include "base/text.h"
#include "layout/plate-private.h"

/* The recipe's radii, or those to which a solver has changed them. */
static void
ring_radii(const HfRingEntry *ring, const HfChanged *changed, double *ret_outer, double *ret_inner)
{
  double outer = ring->outer / 2;
  double inner = isnan(ring->inner) ? outer - ring->width : ring->inner / 2;
  *ret_outer = isnan(changed->outer) ? outer : changed->outer;
  *ret_inner = isnan(changed->inner) ? inner : changed->inner;
}

gboolean
hf_lay_ring(HfLaying *laying, guint entry, GError **error)
{
  HfLaid *laid = &laying->laid[entry];
  const HfRingEntry *ring = &hf_lay_entry(laying, entry)->ring;
  gboolean goes_round = ring->around->len > 0;
  double outer, inner;
  if (goes_round) {
    if (!hf_ring_fit(laying, entry, &inner, error))
      return FALSE;
    outer = inner + ring->width;
  } else {
    ring_radii(ring, &laying->changed[entry], &outer, &inner);
  }
  if (!(inner > 0 && outer > inner)) {
    g_autofree char *size = hf_text_mm(2 * outer), *opening = hf_text_mm(2 * inner);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "make it wider outside or narrower inside",
                         "a ring of %s outside and %s inside has no strip", size, opening);
  }
  g_autoptr(HfOutline) own = hf_outline_new();
  hf_outline_add_circle(own, hf_point(0, 0), inner);
  hf_outline_reverse(own);
  hf_outline_add_circle(own, hf_point(0, 0), outer);
  if (!goes_round && !hf_lay_frames(laying, entry, hf_outline_box(own), error))
    return FALSE;
  laid->inner = inner;
  laid->outer = outer;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}
