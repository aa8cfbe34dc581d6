/* SPDX-License-Identifier: GPL-3.0-or-later
 * names.c - which shape and curve made each edge of the metal: traced (geom/trace.h) among the
 * flattened outlines of all shapes. Of several edges at the same place the later entry wins.
 */
#include "geom/trace.h"
#include "metal/names-private.h"

gboolean
hf_metal_name_edges(HfRegion *region, const HfRegion *input, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfTrace) trace = hf_trace_new(input, hf_index_cell(input));
  for (guint r = 0; r < region->rings->len; r++) {
    if (!hf_cancel_check(cancel, error))
      return FALSE;
    hf_trace_ring(trace, hf_region_ring(region, r), HF_TRACE_LATER);
  }
  return TRUE;
}
