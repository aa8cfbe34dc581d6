/* SPDX-License-Identifier: GPL-3.0-or-later
 * bolder.c - an outline grown or shrunk: flattened finely, overlaps resolved, each edge traced to
 * its curve again, and then moved (offset.c).
 */
#include "geom/bolder.h"
#include "geom/offset.h"
#include "geom/trace.h"

#define FINE_MM 0.002 /* chords, old edge and new */

static HfRegion *
clean_with_sources(const HfOutline *outline)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, FINE_MM);
  HfRegion *clean = hf_region_clean(raw);
  if (hf_region_is_empty(clean))
    return clean;
  g_autoptr(HfTrace) trace = hf_trace_new(raw, 1);
  hf_trace_whole(trace, clean, HF_TRACE_CLOSEST);
  return clean;
}

static const HfCurve *
curve_of_outline(const HfEdge *from, gconstpointer outline)
{
  return &g_array_index(((const HfOutline *)outline)->curves, HfCurve, from->curve);
}

HfOutline *
hf_outline_bolder(const HfOutline *outline, double by)
{
  g_autoptr(HfRegion) old = clean_with_sources(outline);
  return hf_region_offset_true(old, by, FINE_MM, curve_of_outline, outline);
}
