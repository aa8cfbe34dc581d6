/* SPDX-License-Identifier: GPL-3.0-or-later
 * half-kerf.c - the torch's middle: half a kerf to the scrap side of one contour of the metal.
 *
 * Each contour is moved by itself, as what it goes round: an outside grows, an opening shrinks. An
 * outer corner becomes an arc about the corner, so the corner itself comes out sharp; an inside
 * corner stays a corner of the path, and a round kerf leaves some metal there. Where an opening is
 * narrower than the kerf its path falls into several, or vanishes.
 */
#include "geom/bolder.h"
#include "lead/lead-private.h"

static HfOutline *
contour_alone(const HfOutline *outline, guint contour, gboolean turned)
{
  guint n = 0;
  const HfCurve *curves = hf_outline_contour(outline, contour, &n);
  HfOutline *alone = hf_outline_new();
  guint first = 0;
  g_array_append_val(alone->starts, first);
  g_array_append_vals(alone->curves, curves, n);
  if (turned)
    hf_outline_reverse(alone);
  return alone;
}

guint
hf_half_kerf(const HfFit *fit, guint contour, gboolean is_opening, const HfLeadOptions *options,
             HfOutline *to)
{
  g_autoptr(HfOutline) alone = contour_alone(fit->outline, contour, is_opening);
  double half = options->kerf / 2;
  g_autoptr(HfOutline) moved = hf_outline_bolder(alone, is_opening ? -half : half);
  /* Counter-clockwise now; the good side is the right one of travel: an outside goes clockwise. */
  if (is_opening == options->mirrored)
    hf_outline_reverse(moved);
  hf_outline_append(to, moved, HF_MATRIX_IDENTITY);
  return hf_outline_n_contours(moved);
}
