/* SPDX-License-Identifier: GPL-3.0-or-later
 * leeway.c - the design with its edge a little farther out.
 */
#include "replay/leeway.h"

static void
make(HfLeeway *leeway)
{
  if (leeway->wide != NULL)
    return;
  g_autoptr(HfRegion) out =
      hf_region_offset(leeway->design, leeway->kerf / 2 + HF_LEEWAY_MM, 0.001);
  leeway->wide = hf_region_offset(out, -leeway->kerf / 2, 0.001);
  leeway->index = hf_index_new(leeway->wide, hf_index_cell(leeway->wide));
  leeway->trace = hf_trace_new(leeway->wide, hf_index_cell(leeway->wide));
  leeway->ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
}

gboolean
hf_leeway_holds(HfLeeway *leeway, HfPoint p)
{
  make(leeway);
  return hf_index_holds(leeway->index, p, leeway->ids);
}

double
hf_leeway_away(HfLeeway *leeway, HfPoint p, double most)
{
  make(leeway);
  HfEdgeId id;
  double share, away;
  return hf_trace_nearest(leeway->trace, p, most, &id, &share, &away) ? away : most;
}

void
hf_leeway_clear(HfLeeway *leeway)
{
  if (leeway->wide == NULL)
    return;
  hf_trace_free(leeway->trace);
  hf_index_free(leeway->index);
  g_array_free(leeway->ids, TRUE);
  hf_region_free(leeway->wide);
}
