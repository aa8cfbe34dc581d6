/* SPDX-License-Identifier: GPL-3.0-or-later
 * settle.c - booleans of outlines, traced back to their curves.
 */
#include "drawing/settle-private.h"
#include "geom/retrace.h"

HfRegion *
hf_settle_region(const HfOutline *outline, gboolean even_odd)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, HF_SETTLE_MM);
  if (hf_settle_is_tangled(raw))
    return NULL;
  return even_odd ? hf_region_clean_even_odd(raw) : hf_region_clean(raw);
}

HfOutline *
hf_settle_curves(HfRegion *region, const HfOutline *const *sources, guint n)
{
  if (n == 1)
    return hf_region_curves_of(region, sources[0], HF_SETTLE_MM);
  g_autoptr(HfOutline) all = hf_outline_new();
  for (guint i = 0; i < n; i++)
    hf_outline_append(all, sources[i], HF_MATRIX_IDENTITY);
  return hf_region_curves_of(region, all, HF_SETTLE_MM);
}
